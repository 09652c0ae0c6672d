// Tables of results as published (redraw.js rebuilds them), and the arithmetic.

let grids, csvs, workings;
function findTables() {
  grids = all('figure.grid:not(.weighing)').map((figure) => ({
    figure, name: figure.id.slice(6), tested: true,
    parts: ['thead', 'tbody'].map((n) => [n, figure.querySelector(n).cloneNode(true)]), reasons: all('p[id]', figure).map((p) => p.cloneNode(true)),
  }));
  csvs = all('.grid-csv').map((e) => e.appendChild(make('span', { hidden: true }, ', at the tested values')));
  workings = main.querySelector('.workings');
  if (workings) main.querySelector('#Arithmetic > .more').addEventListener('toggle', askWorkings);
}

// The arithmetic: workings.js rewrites it, and is loaded when it is opened. At values other than
// the tested ones it is hidden until then.
function askWorkings({ target }) {
  if (target.open) globalThis.later('figures-further.js').then(() => globalThis.later('workings.js')).catch(() => {
    if (workings) workings.before(notDrawn);
    notDrawn.hidden = isAsMade();
  });
}
function follows() {
  workings.hidden = false;
  workings = null;
}
