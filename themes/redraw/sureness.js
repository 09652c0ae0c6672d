// How sure the results are: what to give or take of each, at the values set.

let sureRows, sureList;
function findSureness() {
  sureList = document.querySelector('#Sureness dl.sureness');
  sureRows = sureList ? new Map(all('[data-sure]', sureList).map((e) => [e.dataset.sure, e.querySelector('dd')])) : new Map();
}

function paintSureness() {
  if (!sureList) return;
  sureList.hidden = gone;
  if (gone) return;
  for (const x of sheet.sureness()) {
    const dd = sureRows.get(x.name);
    if (!dd) continue;
    if (result.figures[x.name].shown === null) dd.replaceChildren('waits for a reading');
    else if (x.shown === null) dd.replaceChildren(x.unknown ? sureList.dataset.unknown : sureList.dataset.bends);
    else dd.replaceChildren(span(result.figures[x.name].shown), ', give or take ', span(x.shown), x.most ? ', ' + x.most : '');
  }
}
