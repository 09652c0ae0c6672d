// Charts: the lines are those of the tested values. Where they are still the right
// ones, the mark moves along them; else the drawing says that it stands still.
let charts, testedSheet;
function findCharts() {
  testedSheet = sheet.copy();
  testedSheet.reset();
  charts = (leaf.charts || []).map((spec) => {
    const figure = document.getElementById('Chart-' + spec.name);
    if (!figure) return null;
    const caption = figure.querySelector('figcaption');
    if (spec.caption && caption) {
      caption.replaceChildren(htmlOf(spec.caption));
      all('.q', caption).forEach((e) => { placed.push(e); tested.set(e, e.textContent); });
    }
    const note = make('p', { class: 'chart-note', hidden: true });
    figure.append(note);
    const drawings = all('svg[data-plot]', figure).map((svg) => {
      const numbers = (name) => svg.dataset[name].split(' ').map(Number);
      return { svg, plot: numbers('plot'), x: numbers('x'), y: numbers('y'), desc: svg.querySelector('desc'), title: svg.querySelector('title') };
    });
    return { spec, figure, caption, note, drawings, lines: null };
  }).filter(Boolean);
}
const axisValue = (v) => v.unit === 'day' ? v.value * 86400 : v.value;
// A chart's lines at the values of a sheet: of each the points, null where there is no
// figure. Figures come one after another, each with its variants, as they were drawn.
function course(from, spec, count) {
  const copy = from.copy(), at = copy.place(spec.x), g = copy.given[at];
  const own = spec.lines ? copy.place(spec.lines.given) : -1;
  const variants = spec.lines ? spec.lines.values : [null];
  const lines = spec.y.flatMap(() => variants.map(() => []));
  variants.forEach((variant, v) => {
    if (variant !== null) copy.base[own] = variant;
    for (let i = 0; i <= count; i++) {
      const x = g.from.base + (g.to.base - g.from.base) * i / count;
      copy.base[at] = g.whole ? Math.round(x) : x;
      const r = copy.work();
      spec.y.forEach((y, k) => lines[k * variants.length + v].push(r.withdrawn ? null : [axisValue(r.given[spec.x]), axisValue(r.figures[y])]));
    }
  });
  return lines;
}
const sameLine = (a, b) => a.every((p, i) => p ? b[i] && Math.abs(p[1] - b[i][1]) <= 1e-6 * Math.max(1, Math.abs(p[1])) : !b[i]);
const tone = (d, i, kind) => all('.chart-' + kind + '.chart-tone-' + (i % 6 + 1), d.svg);
function paintChart(c) {
  const { spec } = c;
  if (!spec.x || !spec.y) {
    c.note.hidden = !gone && isTested();
    c.note.textContent = gone ? 'No chart at these values.' : 'This chart is drawn at the tested values.';
    for (const d of c.drawings) d.svg.classList.toggle('chart-gone', gone);
    return;
  }
  const unmoved = gone || sheet.changed().every((n) => n === spec.x || spec.lines && n === spec.lines.given);
  // Where nothing else was changed the lines are those that were drawn.
  let lines = null, fits = true;
  if (!unmoved || c.moved) {
    c.lines ??= course(testedSheet, spec, 8);
    const now = unmoved ? c.lines : course(sheet, spec, 8);
    const differ = now.map((line, i) => !sameLine(c.lines[i], line));
    if (differ.some(Boolean) || c.moved) {
      const full = differ.some(Boolean) ? course(sheet, spec, 32) : c.lines;
      const [low, high] = c.drawings[0].y;
      fits = full.flat().every((p) => !p || p[1] >= low && p[1] <= high);
      lines = { full, differ };
    }
  }
  const x = result.given[spec.x], y = gone ? null : result.figures[spec.y[0]];
  const words = gone ? '' : y.shown + ' at ' + x.shown;
  c.note.hidden = !gone && fits;
  c.note.textContent = gone ? 'No chart at these values.' : 'The lines are drawn at the tested values. At the values set here: ' + words + '.';
  c.moved = !!lines && lines.differ.some(Boolean) && fits;
  for (const d of c.drawings) {
    // The drawing itself cannot be hidden: style sheets choose between the two.
    d.svg.classList.toggle('chart-gone', gone);
    all('.chart-own, .chart-own-guide, .chart-own-sample, .chart-key', d.svg).forEach((e) => { e.setAttribute('visibility', gone || !fits ? 'hidden' : 'visible'); });
    if (d.title && c.caption) d.title.textContent = c.caption.textContent;
    if (d.desc) {
      d.words ??= d.desc.textContent;
      const rest = d.words.replace(/At the values set on this page.*$/s, '');
      const told = c.moved ? rest.split('. ').slice(0, 2).join('. ') + '. ' : rest;
      d.desc.textContent = gone ? 'No chart at these values.' : told + (fits ? '' : 'The lines are drawn at the tested values. ') + 'At the values set on this page: ' + words + '.';
    }
    if (gone) continue;
    const [left, top, right, bottom] = d.plot;
    const part = (v, [low, high]) => (v - low) / (high - low);
    const across = (v) => left + part(v, d.x) * (right - left), up = (v) => bottom - part(v, d.y) * (bottom - top);
    const tenth = (v) => Math.round(v * 10) / 10;
    if (lines) lines.full.forEach((line, i) => redraw(d, i, lines.differ[i] && fits ? line : null));
    if (!fits) continue;
    const px = across(axisValue(x)), py = up(axisValue(y));
    const own = d.svg.querySelector('.chart-own');
    if (!own || !Number.isFinite(px + py)) continue;
    const to = (e, values) => e && Object.entries(values).forEach(([k, v]) => e.setAttribute(k, tenth(v)));
    own.setAttribute('transform', 'translate(' + tenth(px) + ' ' + tenth(py) + ')');
    to(d.svg.querySelector('.chart-own-down'), { x1: px, y1: py, x2: px, y2: bottom });
    to(d.svg.querySelector('.chart-own-left'), { x1: px, y1: py, x2: left, y2: py });
    // The label goes where the line does not: above to the right of one that falls.
    const size = Number(d.svg.getAttribute('font-size')) || 14;
    const falls = slope(spec) <= 0;
    let end = !falls, line = -2;
    if (falls && px > right - 7 * size) [end, line] = [true, 1];
    if (!falls && px < left + 7 * size) [end, line] = [false, 1];
    if (line < 0 && py < top + 3.5 * size) [end, line] = [!end, 1];
    [['.chart-own-value', y.shown, 0], ['.chart-own-where', 'at ' + x.shown, 1]].forEach(([selector, text, k]) => {
      const e = own.querySelector(selector);
      if (!e || e.textContent === text && isTested()) return;
      e.textContent = text;
      e.setAttribute('text-anchor', end ? 'end' : 'start');
      to(e, { x: end ? -12 : 12, y: (line + k) * 1.25 * size + (line < 0 ? .9 : .6) * size });
    });
    function redraw(d, i, line) {
      for (const [k, path] of tone(d, i, 'line').entries()) {
        path.drawn ??= path.getAttribute('d');
        let pen = 'M';
        path.setAttribute('d', !line ? path.drawn : k ? 'M0 0' : line.map((p) => {
          if (!p) { pen = 'M'; return ''; }
          const out = pen + tenth(across(p[0])) + ' ' + tenth(up(p[1]));
          pen = 'L';
          return out;
        }).join('') || 'M0 0');
      }
      tone(d, i, 'line-mark').forEach((e) => e.setAttribute('visibility', line ? 'hidden' : 'visible'));
      tone(d, i, 'leader').forEach((e) => e.setAttribute('visibility', line ? 'hidden' : 'visible'));
      const name = all('.chart-name', d.svg)[i];
      if (!name) return;
      name.at ??= [name.getAttribute('x'), name.getAttribute('y')];
      const last = line && line.filter(Boolean).pop();
      name.setAttribute('visibility', line && !last ? 'hidden' : 'visible');
      name.setAttribute('y', last ? tenth(up(last[1]) + 5) : name.at[1]);
    }
  }
}
// whether the marked line falls or rises there
function slope(spec) {
  const copy = sheet.copy(), at = copy.place(spec.x), g = copy.given[at];
  const y = (x) => {
    copy.base[at] = Math.min(g.to.base, Math.max(g.from.base, x));
    const r = copy.work();
    return r.withdrawn ? NaN : r.figures[spec.y[0]].value;
  };
  const by = (g.to.base - g.from.base) / 50;
  return y(copy.base[at] + by) - y(sheet.base[at]) || y(sheet.base[at]) - y(sheet.base[at] - by) || 0;
}
