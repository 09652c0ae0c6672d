// Tables of results as they came (redraw.js writes them anew), and the working below them.

let grids, csvs, workings;
function findTables() {
  grids = all('figure.grid:not(.weighing)').map((figure) => ({
    figure, name: figure.id.slice(6), tested: true,
    parts: ['thead', 'tbody'].map((n) => [n, figure.querySelector(n).cloneNode(true)]), reasons: all('p[id]', figure).map((p) => p.cloneNode(true)),
  }));
  csvs = all('.grid-csv').map((e) => e.appendChild(make('span', { hidden: true }, ', at the tested values')));
  workings = all('[data-working]');
}

function paintWorkings() {
  const isChanged = !isAsMade();
  for (const li of workings) {
    all('.working-numbers, .unrounded', li).forEach((e) => { e.hidden = isChanged; });
    const line = li.querySelector('.working-result');
    if (!line) continue;
    line.hidden = gone;
    if (!gone) writeValue(line.querySelector('.q'), result.figures[li.dataset.working]);
  }
}
