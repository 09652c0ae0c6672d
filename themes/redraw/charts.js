// Charts. They are published at the tested values. If other values give other lines, the lines are
// redrawn; if those leave the axis, the axis is stretched. A chart for which neither works says
// that it is at the tested values.

let charts, testedSheet;
function findCharts() {
  testedSheet = sheet.copy();
  testedSheet.reset();
  testedSheet.given.forEach((g, i) => { if (g.today) testedSheet.base[i] = sheet.program.day; });
  charts = (pageData.charts || []).map((spec) => {
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
      const desc = svg.querySelector('desc');
      return {
        svg, plot: numbers('plot'), x: numbers('x'), y: numbers('y'), drawn: numbers('y'),
        size: Number(svg.getAttribute('font-size')), title: svg.querySelector('title'), desc, words: desc && desc.textContent,
        ticks: all('.chart-tick[text-anchor="end"]', svg).map((e) => ({ e, text: e.textContent, value: tickValue(e.textContent) })),
      };
    });
    return { spec, figure, caption, note, drawings, lines: null };
  }).filter(Boolean);
}

// a value on an axis: times in seconds, anything else in the unit shown
const inSeconds = { min: 60, h: 3600, day: 86400, days: 86400, week: 604800 };
const axisValue = (v) => v.value * (inSeconds[v.unit] || 1);
const tenth = (v) => Math.round(v * 10) / 10;
const along = (v, [low, high]) => (v - low) / (high - low);
const across = (d, v) => d.plot[0] + along(v, d.x) * (d.plot[2] - d.plot[0]);
const up = (d, v) => d.plot[3] - along(v, d.y) * (d.plot[3] - d.plot[1]);
const put = (e, values) => e && Object.entries(values).forEach(([k, v]) => e.setAttribute(k, tenth(v)));
const see = (list, seen) => list.forEach((e) => e.setAttribute('visibility', seen ? 'visible' : 'hidden'));

// A chart's lines at the values of a sheet, each a list of points, null where there is no figure.
// Figures come one after another, each with its variants, in the order in which they were drawn.
function course(from, spec, count) {
  const copy = from.copy(), at = copy.place(spec.x), g = copy.given[at];
  const own = spec.lines ? copy.place(spec.lines.given) : -1;
  const variants = spec.lines ? spec.lines.values : [null];
  const lines = spec.y.flatMap(() => variants.map(() => []));
  variants.forEach((variant, v) => {
    if (variant !== null) copy.base[own] = variant;
    for (let i = 0; i <= count; i++) {
      const x = g.from.base + (g.to.base - g.from.base) * i / count;
      copy.base[at] = g.whole ? Math.round(x) : g.show[0] === 'day' ? Math.floor(x / 86400) * 86400 : x;
      const r = copy.work();
      spec.y.forEach((y, k) => lines[k * variants.length + v].push(r.withdrawn || r.figures[y].shown === null || r.given[spec.x].shown === null ? null : [axisValue(r.given[spec.x]), axisValue(r.figures[y])]));
    }
  });
  return lines;
}
const sameLine = (a, b) => a.every((p, i) => p ? b[i] && Math.abs(p[1] - b[i][1]) <= 1e-6 * Math.max(1, Math.abs(p[1])) : !b[i]);
const tone = (d, i, kind) => all('.chart-' + kind + '.chart-tone-' + (i % 6 + 1), d.svg);

// A tick's value: a plain number, a fraction of stops, or a time in seconds; NaN for dates.
const tickValue = (text) => /^[\u2212\d.]+$/.test(text) ? Number(text.replace('\u2212', '-'))
  : /^\u2212?(\d+ )?\d+\/\d+$/.test(text) ? thirds(text)
  : /^([\d.]+ (s|min|h|days?) ?)+$/.test(text) ? [...text.matchAll(/(\S+) ([a-z]+)/g)].reduce((sum, [, n, unit]) => sum + n * (inSeconds[unit] || 1), 0) : NaN;
const thirds = (text) => {
  const [, minus, whole, top, under] = text.match(/^(\u2212?)(?:(\d+) )?(\d+)\/(\d+)$/);
  return (minus ? -1 : 1) * (Number(whole || 0) + top / under);
};
// A tick's text on an axis whose ticks are fractions, or prices.
function likeThem(ticks, v) {
  const under = Math.max(1, ...ticks.map((t) => Number((t.text.match(/\/(\d+)$/) || [])[1] || 1)));
  if (under > 1) {
    const size = Math.abs(v), whole = Math.floor(size + 1e-6), top = Math.round((size - whole) * under);
    const same = [2, 2, 3].reduce(([a, b], f) => a % f || b % f ? [a, b] : [a / f, b / f], [top, under]);
    return (v < -1e-6 ? '\u2212' : '') + [whole || !top ? whole : '', top ? same.join('/') : ''].filter((s) => s !== '').join(' ');
  }
  return ticks.some((t) => /\.\d0$/.test(t.text)) ? v.toFixed(2) : String(+v.toPrecision(9));
}

// stretch sets the axis of a drawing so that it shows some values, and tells whether that worked:
// as drawn, or with the ticks in place and other numbers at them, the same distance apart or a
// round multiple of it. Measured points do not move, so an axis with such points does not either,
// unless they are free to.
function stretch(d, values, free) {
  const low = Math.min(...values), high = Math.max(...values), [first, second] = d.ticks.map((t) => t.value);
  let does = low >= d.drawn[0] && high <= d.drawn[1], now = (t) => t.text;
  d.y = d.drawn;
  if (!does && second > first && (free || !d.svg.querySelector('.chart-mark, .chart-flag'))) {
    const step = second - first, below = (first - d.y[0]) / step, above = (d.y[1] - first) / step;
    for (const k of [1, 2, 5, 10, 20, 50, 100]) {
      const wide = step * k, from = Math.floor(low / wide + below + 1e-9) * wide;
      if (from + above * wide < high) continue;
      // times in the smallest unit that the ticks have, so that they stay short
      const unit = ['s', 'min', 'h', 'day'].find((u) => d.ticks.some((t) => t.text.includes(' ' + u)));
      now = (t) => set(likeThem(d.ticks, (from + (t.value - first) * k) / (inSeconds[unit] || 1)) + (unit ? ' ' + unit : ''));
      if (d.ticks.some((t) => now(t).length * .56 * d.size > d.plot[0] + 6)) {
        now = (t) => t.text; // the new numbers do not fit
        break;
      }
      d.y = [from - below * wide, from + above * wide];
      does = true;
      break;
    }
  }
  d.ticks.forEach((t) => { t.e.textContent = now(t); });
  globalThis.measure.chart(d.svg);
  return does;
}

function paintChart(c) {
  const { spec } = c;
  let does = gone, words = '';
  if (!gone) {
    const shown = (spec.y || []).map((y) => result.figures[y]);
    if (shown.every((y) => y.shown !== null) && (!spec.x || result.given[spec.x].shown !== null)) words = spec.x ? shown[0].shown + ' at ' + result.given[spec.x].shown : shown.map((y, k) => titleOfFigure(spec.y[k]) + ' ' + y.shown).join(', ');
    does = spec.x ? paintCourse(c) : spec.points === 'moved' && !shown.length || paintAcross(c, shown) || isAsMade();
    if (spec.points === 'judged') does = does && isAsMade();
    if (spec.points === 'moved') does = paintPoints(c, does);
  }
  c.note.hidden = !gone && does;
  c.note.textContent = gone ? 'No chart at these values.' : 'This chart is drawn at the tested values.' + (words && both(' At the values set here: ' + words + '.'));
  for (const d of c.drawings) {
    // hidden would not work on the drawing: style sheets choose which of two is shown.
    d.svg.classList.toggle('chart-gone', gone);
    if (d.title && c.caption) d.title.textContent = c.caption.textContent;
    if (!d.desc) continue;
    const told = d.words.replace(/ ?At the values set on this page.*$/s, ''), still = !does || isAsMade();
    // the published words about the lines no longer hold
    const axes = !still && c.points ? told.split('. ').slice(0, 2).join('. ') + '. ' + c.points
      : still || spec.x && !c.moved ? told : spec.x ? told.split('. ').slice(0, 2).join('. ') + '.' : told.replace(/ ?Lines across:.*$/s, '');
    d.desc.textContent = gone ? 'No chart at these values.'
      : both(axes + (does ? '' : ' It is drawn at the tested values.') + (words && ' At the values set on this page: ' + words + '.'));
  }
}

// paintPoints redraws points that follow the values set, in a group of their own, and hides the
// published ones. It tells whether all of them lie within the axes.
function paintPoints(c, does) {
  const { spec } = c, alone = !spec.x && !(spec.y || []).length;
  const shown = does && !isAsMade() ? sheet.points(spec.name) : null;
  let points = shown && shown.map(([x, y]) => ({ x: axisValue(x), y: axisValue(y), hint: both(y.text) + ' at ' + both(x.text) }));
  const stretched = (values) => !alone || c.drawings.map((d) => stretch(d, values, true)).every(Boolean);
  const within = (v, [low, high]) => v >= low && v <= high;
  if (!stretched((points || []).map((p) => p.y)) || points && !c.drawings.every((d) => points.every((p) => within(p.x, d.x) && within(p.y, d.y)))) {
    stretched([]);
    points = null;
    does = false;
  }
  c.drawings.forEach((d) => drawPoints(d, points));
  c.points = points && points.length + ' measured points, worked out at these values' + (points.length ? ', from ' + shown.map((p) => p[1]).reduce((a, b) => a.value <= b.value ? a : b).text + ' to ' + shown.map((p) => p[1]).reduce((a, b) => a.value >= b.value ? a : b).text : '') + '.';
  return does;
}
function drawPoints(d, points) {
  // but not those of the key, which is below the axes
  const drawn = all('.chart-mark, .chart-join', d.svg).filter((e) => !e.closest('.chart-moved') && /^M\S+ (\S+?)[a-zA-Z]/.exec(e.getAttribute('d'))?.[1] <= d.plot[3]);
  see(drawn, !points);
  d.svg.querySelector('.chart-moved')?.remove();
  if (!points) return;
  const draw = (name, values, inside) => {
    const e = document.createElementNS(d.svg.namespaceURI, name);
    Object.entries(values).forEach(([k, v]) => e.setAttribute(k, v));
    inside.append(e);
    return e;
  };
  const group = draw('g', { class: 'chart-moved' }, d.svg), mark = drawn.find((e) => e.matches('.chart-mark'));
  if (mark) mark.before(group); // below the lines' names, as they were
  const at = (p) => [tenth(across(d, p.x)), tenth(up(d, p.y))];
  if (drawn.some((e) => e.matches('.chart-join'))) {
    draw('path', { class: 'chart-join', fill: 'none', stroke: 'currentColor', 'stroke-opacity': .6, d: 'M' + points.slice().sort((a, b) => a.x - b.x).map((p) => at(p).join(' ')).join('L') }, group);
  }
  for (const p of points) {
    const [x, y] = at(p);
    draw('title', {}, draw('path', { class: mark ? mark.getAttribute('class') : 'chart-mark chart-tone-1', fill: 'none', stroke: 'currentColor', 'stroke-width': 1.5, d: 'M' + (x - 4.3) + ' ' + y + 'a4.3 4.3 0 1 0 8.6 0a4.3 4.3 0 1 0-8.6 0z' }, group)).textContent = p.hint;
  }
}
const titleOfFigure = (name) => all('.figure[data-figure="' + name + '"] dt')[0]?.textContent || name;

// paintCourse draws lines over a given value and marks where the page is on them. It tells whether
// the drawing is right for the values set.
function paintCourse(c) {
  const { spec } = c;
  let lines = null, differ = [];
  // If only the marked value was changed, the lines are the published ones.
  const unmoved = sheet.changed().every((n) => n === spec.x || spec.lines && n === spec.lines.given);
  if (!unmoved || c.moved) {
    c.lines = c.lines ?? course(testedSheet, spec, 8);
    const now = unmoved ? c.lines : course(sheet, spec, 8);
    differ = now.map((line, i) => !sameLine(c.lines[i], line));
    lines = differ.some(Boolean) ? course(sheet, spec, 32) : c.lines;
  }
  const moved = differ.some(Boolean), values = moved ? lines.flat().filter(Boolean).map((p) => p[1]) : [];
  const does = c.drawings.map((d) => stretch(d, values)).every(Boolean);
  if (!does) c.drawings.forEach((d) => stretch(d, []));
  c.moved = moved && does;
  for (const d of c.drawings) {
    see(all('.chart-own, .chart-own-guide, .chart-own-sample, .chart-key', d.svg).filter((e) => !e.matches('.chart-key') || /^values set/.test(e.textContent)), does);
    if (lines) {
      lines.forEach((line, i) => redraw(d, i, c.moved && (differ[i] || d.y !== d.drawn) ? line : null));
      see(all('.chart-without, .chart-without-name', d.svg), !c.moved);
    }
    if (does) markOwn(d, spec);
  }
  return does;
}
function redraw(d, i, line) {
  for (const [k, path] of tone(d, i, 'line').entries()) {
    path.drawn = path.drawn ?? path.getAttribute('d');
    let pen = 'M';
    path.setAttribute('d', !line ? path.drawn : k ? 'M0 0' : line.map((p) => {
      if (!p) { pen = 'M'; return ''; }
      const out = pen + tenth(across(d, p[0])) + ' ' + tenth(up(d, p[1]));
      pen = 'L';
      return out;
    }).join('') || 'M0 0');
  }
  see([...tone(d, i, 'line-mark'), ...tone(d, i, 'leader')], !line);
  const name = all('.chart-name', d.svg)[i];
  if (!name) return;
  name.at = name.at ?? name.getAttribute('y');
  const last = line && line.filter(Boolean).pop();
  see([name], !line || last);
  name.setAttribute('y', last ? tenth(up(d, last[1]) + 5) : name.at);
}
function markOwn(d, spec) {
  const x = result.given[spec.x], y = result.figures[spec.y[0]];
  const [left, top, right, bottom] = d.plot, px = across(d, axisValue(x)), py = up(d, axisValue(y));
  const own = d.svg.querySelector('.chart-own');
  if (!own || x.value === null || y.value === null || !Number.isFinite(px + py)) return;
  own.setAttribute('transform', 'translate(' + tenth(px) + ' ' + tenth(py) + ')');
  put(d.svg.querySelector('.chart-own-down'), { x1: px, y1: py, x2: px, y2: bottom });
  put(d.svg.querySelector('.chart-own-left'), { x1: px, y1: py, x2: left, y2: py });
  // The label goes where the line does not: above and to the right of a falling one.
  const words = [both(y.shown), 'at ' + both(x.shown)], room = Math.max(7, words[1].length * .6) * d.size;
  const falls = slope(spec) <= 0;
  let end = !falls, line = -2;
  if (falls && px > right - room) [end, line] = [true, 1];
  if (!falls && px < left + room) [end, line] = [false, 1];
  if (line < 0 && py < top + 3.5 * d.size) [end, line] = [!end, 1];
  all('text', own).forEach((e, k) => {
    if (e.textContent === words[k] && isAsMade()) return;
    e.textContent = words[k];
    e.setAttribute('text-anchor', end ? 'end' : 'start');
    put(e, { x: end ? -12 : 12, y: (line + k) * 1.25 * d.size + (line < 0 ? .9 : .6) * d.size });
  });
}
// whether the line falls or rises at the mark
function slope(spec) {
  const copy = sheet.copy(), at = copy.place(spec.x), g = copy.given[at];
  const y = (x) => {
    copy.base[at] = Math.min(g.to.base, Math.max(g.from.base, x));
    const r = copy.work();
    return r.withdrawn || r.figures[spec.y[0]].shown === null ? NaN : r.figures[spec.y[0]].value;
  };
  const by = g.show[0] === 'day' ? Math.ceil((g.to.base - g.from.base) / 50 / 86400) * 86400 : (g.to.base - g.from.base) / 50;
  return y(copy.base[at] + by) - y(sheet.base[at]) || y(sheet.base[at]) - y(sheet.base[at] - by) || 0;
}

// paintAcross moves horizontal lines, each with its name, and tells whether it could. Limits worked
// out from measured points are not among them.
function paintAcross(c, shown) {
  const parts = c.drawings.map((d) => ({
    lines: all('.chart-limit', d.svg), names: all('.chart-limit-name', d.svg), leaders: all('.chart-leader:not([class*=tone])', d.svg),
    to: shown.map((y) => up(d, axisValue(y))),
    holds: (y) => y >= d.plot[1] && y <= d.plot[3],
  }));
  const does = shown.length > 0 && parts.every((p) => p.names.length === p.leaders.length && p.lines.length >= shown.length && p.to.every(p.holds));
  for (const p of parts) {
    p.to.forEach((y, k) => {
      const from = /^M\S+ (\S+)H/.exec(p.lines[k]?.getAttribute('d'));
      for (const e of [p.lines[k], p.names[k], p.leaders[k]]) if (e && from) e.setAttribute('transform', 'translate(0 ' + (does ? tenth(y - from[1]) : 0) + ')');
    });
  }
  return does;
}
