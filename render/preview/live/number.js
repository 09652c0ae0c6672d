// How a number came about.

function branch(b, depth) {
  const head = make('span', { class: 'head' }, make('b', {}, b.label || b.name), ' ', b.kind === 'data' ? null : value(b.shown));
  const body = make('div', { class: 'about' });
  if (b.formula && b.name !== b.formula) body.append(make('p', {}, make('code', {}, b.name + ' = ' + b.formula)));
  if (b.numbers && b.numbers !== b.formula) body.append(make('p', {}, make('code', { class: 'numbers' }, '= ' + b.numbers)));
  if (b.kind === 'set') body.append(make('p', {}, 'Set here, where that page is drawn on.'));
  if (b.kind === 'given') body.append(make('p', {}, b.source ? 'Source: ' + b.source + (b.owner ? '. Owner: ' + b.owner : '') + '.' : 'Given, without a source.'));
  if (b.kind === 'data') body.append(make('p', {}, 'Read from the data file.'));
  if (b.text) body.append(make('pre', { tabindex: '0' }, make('span', { class: 'number' }, String(b.line)), b.text));
  body.append(placeOf(b));
  if (b.guards && b.guards.length) body.append(make('p', { class: 'guarded' }, 'Guarded by'), make('ul', { class: 'guards' }, ...b.guards.map((g) => make('li', {}, g))));
  else if (b.kind === 'figure' && !depth) body.append(make('p', { class: 'unguarded' }, 'No check guards it.'));
  for (const input of b.inputs || []) body.append(branch(input, depth + 1));
  return make('details', { open: depth < 1, class: b.kind }, make('summary', {}, head), body);
}

let asked = 0;
async function tree(ask, quietly) {
  const mine = ++asked;
  view = ask;
  const parts = [make('h1', {}, 'How it came about')];
  if (location.hash.includes('=')) parts.push(make('p', {}, 'This is the number at the page’s own values, not at those set now.'));
  try {
    const r = await fetch('/proof/number?' + new URLSearchParams(ask));
    parts.push(r.ok ? branch(await r.json(), 0) : make('p', {}, await r.text()));
  } catch {
    return;
  }
  if (mine !== asked) return;
  const opened = [...panel.querySelectorAll('details')].map((d) => d.open);
  show(parts);
  if (quietly) [...panel.querySelectorAll('details')].forEach((d, i) => { if (i in opened) d.open = opened[i]; });
  else panel.focus({ preventScroll: true });
}

addOwn(document, 'click', (e) => {
  const q = e.target.closest && e.target.closest('main .q');
  if (!q || e.target.closest('a, button, input, select, label, summary') || !last || !last.page) return;
  const ask = asks(q);
  if (ask) tree({ page: last.page, ...ask });
});

// asks says how to ask the server for a number of the page: by where it was written, its name, its
// cell of a table, or its step; null if there is no way.
function asks(q) {
  if (q.dataset.written) return { written: q.dataset.written, ...(q.dataset.drawn ? { drawn: q.dataset.drawn } : {}) };
  const holder = q.closest('[data-figure], [data-working]');
  const name = q.dataset.figure || q.dataset.givenValue || (holder && (holder.dataset.figure || holder.dataset.working)) ||
    (q.closest('[data-given]') || { dataset: {} }).dataset.given;
  if (name) return { name };
  const cell = q.closest('figure[id^="Table-"] tbody td'), time = q.closest('.step-time');
  if (cell) {
    // a refused cell spans all figures of its column
    const figures = cell.closest('table').querySelectorAll('thead tr:last-child th.number');
    const columns = cell.closest('table').querySelectorAll('thead th[scope="colgroup"].number').length;
    const each = columns ? figures.length / columns : cell.closest('table').querySelector('thead th.across') ? 1 : figures.length;
    let at = 0;
    for (let before = cell.previousElementSibling; before && before.tagName === 'TD'; before = before.previousElementSibling) at += before.colSpan;
    return { table: cell.closest('figure').id.slice(6), row: cell.parentElement.sectionRowIndex, column: Math.floor(at / each), figure: at % each };
  }
  if (time) return { step: time.closest('[id^="Step-"]').id.slice(5) };
  return null;
}
