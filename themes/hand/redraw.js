// Tables, charts and how sure results are come with the page as they are at its own values.
// What rebuilds them (redraw.js) is loaded at the first change, or where the reader has
// chosen other units. Until then they are hidden: a number that does not belong to the
// values set stands nowhere.

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
// jobs are [element, what paints it] each
function takeRedrawn(jobs) {
  redrawn = true;
  slow = jobs;
  notDrawn.remove();
  main.classList.remove('behind');
  paint();
}
