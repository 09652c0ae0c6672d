// Tables, charts and how sure results are come with the page at its own values. The script that
// rebuilds them (redraw.js) is loaded at the first change, or if the reader has chosen other units.
// After a change they are hidden until it is there: a number that does not belong to the values set
// stands nowhere.

let redrawn = false;
const notDrawn = make('p', { class: 'stead', hidden: true, role: 'status' }, 'A part of this page did not load. Load it again.');
function askRedraw() {
  if (redrawn || !(grids.length || pageData.charts || document.getElementById('Sureness'))) return;
  const other = !isAsMade();
  main.classList.toggle('behind', other);
  if (!other) notDrawn.hidden = true;
  if (!other && !globalThis.measure.turned) return;
  globalThis.later('figures-further.js').then(() => globalThis.later('redraw.js')).catch(() => {
    changed.after(notDrawn);
    notDrawn.hidden = isAsMade();
  });
}
// each of jobs is [element, function that paints it]
function takeRedrawn(jobs) {
  redrawn = true;
  slow = jobs;
  notDrawn.remove();
  main.classList.remove('behind');
  paint();
}
