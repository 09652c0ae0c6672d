// Tables of results. At the tested values they are put back as published.

const signOf = (n) => n < 26 ? String.fromCharCode(97 + n) : signOf(Math.floor(n / 26) - 1) + signOf(n % 26);
const ownWord = () => make('span', { class: 'own-word' }, 'set here');
function markHead(th, own) {
  const word = th.querySelector('.own-word');
  if (own && !word) th.append(' ', ownWord());
  else if (!own && word) {
    word.previousSibling && word.previousSibling.nodeType === 3 && word.previousSibling.remove();
    word.remove();
  }
}
function paintGrid(own) {
  const { figure, name } = own;
  const isOwn = isAsMade();
  if (isOwn && own.tested) return;
  own.tested = isOwn;
  all('.grid-example', figure).forEach((e) => { e.hidden = !sheet.blank().length; });
  if (isOwn) {
    all('p[id]', figure).forEach((p) => p.remove());
    for (const [n, part] of own.parts) figure.querySelector(n).replaceWith(part.cloneNode(true));
    const into = figure.querySelector('.grid-key');
    if (into) into.prepend(...own.reasons.map((p) => p.cloneNode(true)));
    return;
  }
  const rows = all('tbody tr', figure);
  const heads = all('thead tr:nth-child(2) th', figure);
  const names = figure.matches('.stacked') ? all('thead th', figure).slice(1).map((th) => th.textContent) : [];
  const key = figure.querySelector('.grid-key');
  all('p[id]', figure).forEach((p) => p.remove());
  if (!gone && !runOf(name)) return paintRows(own);
  const grid = gone ? null : sheet.grid(name);
  const reasons = new Map(), sorts = sortsOf(figure);
  rows.forEach((tr, i) => {
    const row = grid && grid.rows[i], th = tr.querySelector('th');
    const own = !!row && row.cells.some((c) => c.own || rowIsOwn(name, row.base));
    tr.classList.toggle('own', own);
    markHead(th, own);
    if (!row) {
      all('td', tr).forEach((td) => { td.replaceChildren('–'); td.classList.remove('own'); });
      return;
    }
    const several = row.cells[0].figures.length > 1;
    const cells = row.cells.flatMap((c, j) => {
      const classes = (k) => sorts[k] + (several && !k ? ' first' : '') + (c.own ? ' own' : '');
      if (!c.result.withdrawn) {
        return c.figures.map((f, k) => make('td', { class: classes(k), 'data-of': names[k] }, valueSpan(f)));
      }
      const [why] = holding(c.result);
      const id = why.join(' ');
      let reason = reasons.get(id);
      if (!reason) {
        const run = runOf(name), at = (r, base) => titleOf(r[0]) + ' ' + set(sheet.show(r[0], base).shown);
        const where = at(run.rows, row.base) + (run.columns ? ', ' + at(run.columns, grid.columns[j].base) : '');
        reasons.set(id, reason = { sign: signOf(reasons.size), why, from: c.result, count: 0, where });
      }
      reason.count++;
      // only the first of a reason links to it, so that the Tab key stops once
      const link = reason.count > 1 ? reason.sign : make('a', { href: '#' + figure.id + '-' + reason.sign, 'aria-label': 'no number, reason ' + reason.sign }, reason.sign);
      return make('td', { class: classes(0) + ' refused', colspan: several ? c.figures.length : null }, '–', make('sup', {}, link));
    });
    all('td', tr).forEach((td) => td.remove());
    tr.append(...cells);
  });
  if (grid && grid.columns[0].text) {
    heads.forEach((th, j) => {
      const own = grid.rows.length > 0 && columnIsOwn(name, grid.columns[j]?.base);
      th.classList.toggle('own', own);
      markHead(th, own);
    });
  } else if (!grid) {
    heads.forEach((th) => { th.classList.remove('own'); markHead(th, false); });
  }
  if (reasons.size) {
    const into = key || figure.appendChild(make('figcaption', { class: 'grid-key' }));
    into.prepend(...[...reasons.values()].map((r) => {
      const p = make('p', { id: figure.id + '-' + r.sign }, make('sup', {}, r.sign), ' ');
      if (r.count > 1) p.append('For example at ' + r.where + ': ');
      const text = limitOf(r.why, r.from).querySelector('.limit-text');
      all('.origin', text).forEach((e) => e.remove());
      const sole = text.children.length === 1 && text.firstElementChild.localName === 'p' ? text.firstElementChild : text;
      p.append(...sole.childNodes);
      return p;
    }));
  }
}
// whether each column has numbers or words: the class of its head
const sortsOf = (figure) => all('thead tr:last-child th[class]', figure).map((e) => e.classList[0]);
// the rows of a data file: rebuilt if they follow the values set, else as published
function paintRows({ figure, name, parts }) {
  const body = parts[1][1].cloneNode(true), texts = sheet.rowTable(name);
  if (texts) {
    const sorts = sortsOf(figure);
    const lines = texts.length ? texts : [['none', ...all('thead th', figure).slice(1).map(() => '')]];
    body.replaceChildren(...lines.map(([head, ...rest]) => make('tr', {}, make('th', { scope: 'row' }, span(head)),
      ...rest.map((text, i) => make('td', { class: sorts[i] + (rest.length > 1 && !i ? ' first' : '') }, span(text))))));
  }
  figure.querySelector('tbody').replaceWith(body);
}
const runOf = (name) => (sheet.program.grids || []).find((g) => g.name === name);
const same = (a, b) => Math.abs(a - b) < 1e-9;
const rowIsOwn = (name, base) => same(base, sheet.get(runOf(name).rows[0]).base);
const columnIsOwn = (name, base) => base !== undefined && same(base, sheet.get(runOf(name).columns[0]).base);
