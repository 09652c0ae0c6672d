/* What makes a page compute in the reader's hand: controls for the given values, and
   everything that follows them. Formulas, reading and showing are the runtime's (labsite,
   figures.js) and the page's own (NAME.figures.js); nothing is worked out here.

   What the controls show is what is computed. A value that is refused withdraws every
   figure; a number that does not belong to the values set stands nowhere, on paper
   neither. The values set stand in the address, after # on a page and after ? on a card,
   whose # is the size of its sheet.

   globalThis.hand is for the other scripts: hand.sheet, hand.result (of the last
   painting), hand.gone, hand.lock(whether, why), hand.settings(), hand.titles(), and the
   event "hand" on the document after each painting. */
(function () {
  'use strict';

  const leaf = globalThis.labsitePage, runtime = globalThis.labsite;
  const stamp = document.querySelector('meta[name="figures"]');
  if (!leaf || !runtime || !stamp) return;
  const card = document.querySelector('main.card');
  const main = document.querySelector('main');
  const home = document.getElementById('Given');
  const all = (selector, from = main) => [...from.querySelectorAll(selector)];

  const make = (name, attributes = {}, ...children) => {
    const e = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (value === true) e.setAttribute(key, '');
      else if (value !== false && value != null) e.setAttribute(key, value);
    }
    e.append(...children);
    return e;
  };

  if (leaf.stamp !== stamp.content) {
    (home || main).prepend(make('p', { class: 'changed', role: 'status' },
      'This page and its formulas are of two versions, so that its values cannot be changed. Load the page again.'));
    return;
  }

  // A quantity as pages set it: a real minus, and blanks that do not break but between
  // the parts of a duration.
  const set = (text) => text.split(' ').map((part, i, parts) =>
    (!i ? '' : i % 2 === 0 && /^(days?|h|min)$/.test(parts[i - 1]) ? ' ' : '\u00a0') + part.replace(/^-(?=.)/, '\u2212')).join('');
  const written = new WeakMap();
  const write = (span, text) => {
    if (written.get(span) === text) return;
    written.set(span, text);
    span.classList.toggle('q-none', text === null);
    if (globalThis.measure) globalThis.measure.write(span, text === null ? 'no number' : text);
    else span.textContent = text === null ? 'no number' : set(text);
  };
  const span = (text) => {
    const e = make('span', { class: 'q' });
    write(e, text);
    return e;
  };
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const clock = (seconds) => {
    const n = Math.round(seconds * 10);
    const two = (v) => String(v).padStart(2, '0');
    const h = Math.floor(n / 36000), m = Math.floor(n / 600) % 60, s = Math.floor(n / 10) % 60;
    return (h ? h + ':' + two(m) : m) + ':' + two(s) + (n % 10 ? '.' + n % 10 : '');
  };

  runtime.use((sheet) => {
    const settable = sheet.given.filter((g) => g.settable);
    const troubles = new Map(); // name: {text, problem}, of a field or the address
    let strange = []; // problems of the address that belong to no field
    let result = sheet.work(), gone = false, locked = '';
    const controls = new Map();

    // What the page is painted from, found once.

    const tested = new Map(); // what stood there when the page came
    const placed = all('.q[data-figure], .q[data-given-value], .q[data-placed], .q[data-tested]');
    placed.forEach((e) => tested.set(e, e.textContent));
    const figures = all('.figure[data-figure]').map((e) => [e.dataset.figure, e.querySelector('.figure-value .q')]);
    const lists = all('dl.figures');
    const weighed = all('tr[data-figure]').map((e) => [e.dataset.figure, e.querySelector('td.number')]);
    const values = all('[data-given] .setting-value .q').map((e) => [e.closest('[data-given]').dataset.given, e]);
    const steps = all('#Steps .step');
    const totals = all('.steps-total .q');
    const workings = all('[data-working]');
    // tables as they came, to stand again at the tested values
    const grids = all('figure.grid:not(.weighing)').map((figure) => ({
      figure, name: figure.id.slice(6),
      parts: ['thead', 'tbody'].map((n) => [n, figure.querySelector(n).cloneNode(true)]), reasons: all('p[id]', figure).map((p) => p.cloneNode(true)), tested: true,
    }));
    const limits = document.getElementById('Limits') || home.appendChild(make('div', { class: 'limits', id: 'Limits' }));
    const piece = document.createElement('template');
    const htmlOf = (html) => {
      piece.innerHTML = html;
      return piece.content.cloneNode(true);
    };
    // In place of numbers elsewhere: where the reason stands.
    const stead = (before, what) => {
      const p = make('p', { class: 'stead', hidden: true }, what + ' at these values. ', make('a', { href: '#Limits' }, 'See why.'));
      before.before(p);
      return p;
    };
    const steads = [
      ...all('#Steps > ol').map((e) => stead(e, 'No times')),
      ...all('figure.grid > .wide').map((e) => stead(e, 'No numbers')),
      ...all('.workings').map((e) => stead(e, 'No results')),
    ];

    const csvs = all('.grid-csv').map((e) => e.appendChild(make('span', { hidden: true }, ', at the tested values')));

    // The line that says what was changed, and the way back.

    const changed = make('p', { class: 'changed', hidden: true });
    const back = make('button', { type: 'button', class: 'button back', hidden: true }, 'Back to tested values');
    const spoken = make('p', { class: 'unseen', role: 'status' });
    if (home) {
      home.querySelector('h2').after(changed);
      home.append(spoken);
      if (!card) home.querySelector('dl').after(back);
    } else {
      main.prepend(changed, spoken);
    }
    back.addEventListener('click', () => {
      sheet.reset();
      troubles.clear();
      strange = [];
      touch(true);
      const first = controls.values().next().value;
      if (first) first.focus();
    });

    // Placements of any text, filled from what was worked out.

    function fill(spans, from, none, restore) {
      for (const e of spans) {
        const { givenValue, figure, placed: number } = e.dataset;
        let text = null;
        if (restore && tested.has(e)) {
          text = tested.get(e).replace(/\u00a0/g, ' ').replace(/\u2212/g, '-');
        } else if (givenValue) {
          if (!troubles.has(givenValue)) text = (number && from.placed[number].shown !== null ? from.placed[number] : from.given[givenValue]).shown;
        } else if (!none && figure) {
          text = from.figures[figure].shown;
        } else if (number && !Number.isNaN(from.placed[number].value)) {
          // a given value stands where the page refuses as well
          text = none && from === result && (troubles.size || strange.length) ? null : from.placed[number].shown;
        }
        write(e, text);
      }
    }

    // What holds at the values of a result: [key of the text, words of its own].
    function holding(from) {
      const key = (l) => (l.of ? l.of + '#' : '') + (l.limit ?? l.index);
      if (!from.withdrawn) return from.limits.map((l) => [key(l), '']);
      const out = from.limits.filter((l) => l.kind === 'refuse').map((l) => [key(l), '']);
      from.reasons.forEach((r) => { if (r.limit === null) out.push(['refused', capital(r.text)]); });
      if (!out.length) out.push(['refused', 'The formulas give no finite number at these values.']);
      return out;
    }
    function limitOf([key, words], from) {
      const made = htmlOf(leaf.limits[key] || leaf.limits.refused);
      if (words) made.querySelector('[data-reason]').textContent = words;
      fill(all('.q[data-figure], .q[data-given-value], .q[data-placed], .q[data-tested]', made), from, from.withdrawn);
      return made;
    }

    // Painting. Everything that shows a value of this page is set here, at once.

    let lastLimits = null;
    function paintLimits() {
      const bad = [...[...troubles].map(([name, t]) => [name, t.problem]), ...strange.map((t) => ['', t.problem, t.name])];
      const holds = bad.length ? bad.map(([name, p, of]) => ['refused', advice(name, p, of)]) : holding(result);
      const key = JSON.stringify([holds, result.given]);
      if (key === lastLimits) return;
      lastLimits = key;
      limits.replaceChildren(...holds.map((h) => limitOf(h, bad.length ? { ...result, withdrawn: true } : result)));
    }
    const titleOf = (name) => {
      const g = sheet.given.find((g) => g.name === name);
      return g ? all('[data-given="' + name + '"] dt')[0]?.textContent || g.title : name;
    };
    const sentence = (p) => capital(p.message) + (/[.?!]$/.test(p.message) ? ' ' : '. ') + (p.hint ? capital(p.hint) + (/[.?!]$/.test(p.hint) ? '' : '.') : '');
    const advice = (name, p, of) => (name ? titleOf(name) + ': ' : of ? 'In the address, ' + of + ': ' : '') + sentence(p);

    function paintSteps() {
      const process = gone ? null : result.process;
      steps.forEach((li, i) => {
        const t = process && process.steps[i];
        const put = (selector, text) => all(selector, li).forEach((e) => {
          e.hidden = text === null;
          if (text !== null) all('.q', e).forEach((q) => write(q, text));
        });
        if (li.querySelector('.step-time')) put('.step-time', t ? t.shown : null);
        put('.step-clock', t ? clock(t.start) : process && nextStart(process, i));
        put('.step-pour', t ? clock(t.pour) : null);
        // the run sheet reads these
        const data = { seconds: t && t.length, starts: t && t.start, pour: t && t.pour < t.length ? t.pour : null, moments: t && t.moments.length ? t.moments.join(' ') : null };
        for (const [name, v] of Object.entries(data)) {
          if (v === null) delete li.dataset[name];
          else li.dataset[name] = v;
        }
        for (const e of all('.step-moments', li)) {
          const moments = t ? t.moments : [];
          if (moments.length) {
            e.replaceChildren('at ', ...moments.flatMap((m, k) => [k ? ', ' : '', span(clock(m))]), e.dataset.of || '');
          } else {
            e.replaceChildren('every ', span(e.dataset.every));
          }
        }
      });
      all('.steps-total').forEach((e) => { e.hidden = !process; });
      if (process && totals.length > 1) {
        write(totals[0], duration(process.total));
        write(totals[1], clock(process.total));
      }
    }
    const nextStart = (process, i) => clock(process.steps.slice(0, i).reduce((sum, t) => sum + (t ? t.length : 0), 0));
    // whole times as the page writes a total
    function duration(seconds) {
      const n = Math.round(seconds * 1000) / 1000, out = [];
      if (n < 60) return +n.toPrecision(3) + ' s';
      let rest = Math.round(n);
      if (rest >= 172800) return +(rest / 86400).toPrecision(3) + ' day';
      for (const [unit, name] of [[3600, ' h'], [60, ' min'], [1, ' s']]) {
        const k = Math.floor(rest / unit);
        rest -= k * unit;
        if (k) out.push(k + name);
      }
      return out.join(' ');
    }

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
      const isOwn = isTested();
      if (isOwn && own.tested) return;
      own.tested = isOwn;
      if (isOwn) {
        all('p[id]', figure).forEach((p) => p.remove());
        for (const [n, part] of own.parts) figure.querySelector(n).replaceWith(part.cloneNode(true));
        const into = figure.querySelector('.grid-key');
        if (into) into.prepend(...own.reasons.map((p) => p.cloneNode(true)));
        return;
      }
      const rows = all('tbody tr', figure);
      const heads = all('thead tr:nth-child(2) th', figure);
      const key = figure.querySelector('.grid-key');
      all('p[id]', figure).forEach((p) => p.remove());
      const grid = gone ? null : sheet.grid(name);
      const reasons = new Map();
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
          const classes = (first) => 'number' + (several && first ? ' first' : '') + (c.own ? ' own' : '');
          if (!c.result.withdrawn) {
            return c.figures.map((f, k) => make('td', { class: classes(!k) }, span(f.shown)));
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
          const link = make('a', { href: '#' + figure.id + '-' + reason.sign, 'aria-label': 'no number, reason ' + reason.sign }, reason.sign);
          return make('td', { class: classes(true) + ' refused', colspan: several ? c.figures.length : null }, '–', make('sup', {}, link));
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
          const sole = text.children.length === 1 && text.firstElementChild.localName === 'p' ? text.firstElementChild : text;
          p.append(...sole.childNodes);
          return p;
        }));
      }
    }
    const runOf = (name) => sheet.program.grids.find((g) => g.name === name);
    const same = (a, b) => Math.abs(a - b) < 1e-9;
    const rowIsOwn = (name, base) => same(base, sheet.get(runOf(name).rows[0]).base);
    const columnIsOwn = (name, base) => base !== undefined && same(base, sheet.get(runOf(name).columns[0]).base);

    function paintWorkings() {
      const isChanged = !isTested();
      for (const li of workings) {
        all('.working-numbers, .unrounded', li).forEach((e) => { e.hidden = isChanged; });
        const line = li.querySelector('.working-result');
        if (!line) continue;
        line.hidden = gone;
        if (!gone) write(line.querySelector('.q'), result.figures[li.dataset.working].shown);
      }
    }

    // Charts: the lines are those of the tested values. Where they are still the right
    // ones, the mark moves along them; else the drawing says that it stands still.
    const charts = (leaf.charts || []).map((spec) => {
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
    const testedSheet = sheet.copy();
    testedSheet.reset();
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

    const isTested = () => !troubles.size && !strange.length && !sheet.changed().length;
    function paintChanged() {
      const names = sheet.changed().filter((n) => !troubles.has(n));
      const plain = isTested();
      changed.hidden = back.hidden = plain;
      if (plain) return;
      const parts = names.map((n) => titleOf(n) + ' ' + set(result.given[n].shown) + ' (tested at ' + set(sheet.given.find((g) => g.name === n).text) + ')');
      const bad = [...troubles.keys()].map((n) => titleOf(n) + ' is not set');
      changed.replaceChildren(make('strong', {}, 'Changed from the tested values'), parts.length || bad.length ? ': ' + [...parts, ...bad].join('; ') : '',
        '. ', leaf.revision ? make('span', { class: 'changed-revision' }, leaf.revision + '. ') : '',
        card && card.querySelector('.card-code') ? 'The code leads to the tested values.' : '');
    }

    // What is out of sight and takes long follows a moment later, one part after another,
    // so that a finger on a button never waits for it. Where numbers are withdrawn nothing
    // waits.
    const slow = [...grids.map((g) => [g.figure, () => paintGrid(g)]), ...charts.map((c) => [c.figure, () => paintChart(c)])];
    const owed = new Set();
    let owing = 0;
    function pay(all) {
      clearTimeout(owing);
      owing = 0;
      for (const job of owed) {
        owed.delete(job);
        job();
        if (!all) break;
      }
      if (owed.size) owing = setTimeout(pay, 0);
    }
    addEventListener('beforeprint', () => pay(true));

    function paint() {
      const inSight = slow.map(([e]) => {
        const box = e.getBoundingClientRect();
        return box.bottom > -100 && box.top < innerHeight + 100;
      });
      result = sheet.work();
      gone = troubles.size > 0 || strange.length > 0 || result.withdrawn;
      const restore = isTested();
      fill(placed, result, gone, restore);
      for (const [name, e] of figures) if (e) write(e, gone ? null : result.figures[name].shown);
      lists.forEach((e) => { e.hidden = gone; });
      for (const [name, e] of weighed) if (e) e.replaceChildren(gone ? '–' : span(result.figures[name].shown));
      for (const [name, e] of values) write(e, troubles.has(name) ? 'not set' : result.given[name].shown);
      paintLimits();
      paintSteps();
      paintWorkings();
      slow.forEach(([, job], i) => {
        owed.delete(job);
        if (gone || inSight[i]) job();
        else owed.add(job);
      });
      if (owed.size && !owing) owing = setTimeout(pay, 0);
      paintChanged();
      steads.forEach((e) => { e.hidden = !gone; });
      csvs.forEach((e) => { e.hidden = restore; });
      main.classList.toggle('no-numbers', gone);
      for (const c of controls.values()) c.paint();
      document.dispatchEvent(new Event('hand'));
    }

    // The address.

    function settings() {
      const good = sheet.given.filter((g) => !troubles.has(g.name) && sheet.changed().includes(g.name))
        .map((g) => encodeURIComponent(g.name) + '=' + encodeURIComponent(sheet.get(g.name).text));
      const bad = [...troubles].map(([name, t]) => encodeURIComponent(name) + '=' + encodeURIComponent(t.text));
      return [...good, ...bad].join('&');
    }
    let lateAddress = 0;
    function address() {
      clearTimeout(lateAddress);
      lateAddress = 0;
      const s = settings();
      try {
        if (card) history.replaceState(null, '', location.pathname + (s ? '?' + s : '') + location.hash);
        else if (s || location.hash.includes('=')) history.replaceState(null, '', s ? '#' + s : location.pathname + location.search);
      } catch { /* some browsers refuse it on a disk; the page works without */ }
      links(s);
    }
    // The ways from a page to its papers, and back, take the settings along.
    const ways = [...document.querySelectorAll(card ? '.desk > a' : '.papers a[href*=".card.html"]')].map((a) => [a, a.getAttribute('href')]);
    function links(s) {
      for (const [a, href] of ways) {
        const [file, size] = href.split('#');
        a.setAttribute('href', !s ? href : card ? file + '#' + s : file + '?' + s + (size ? '#' + size : ''));
      }
    }
    function sync() {
      const text = card ? location.search.slice(1) : location.hash.includes('=') ? location.hash.slice(1) : '';
      troubles.clear();
      strange = [];
      const raw = new Map(text.split('&').map((pair) => {
        const cut = pair.indexOf('=');
        const plain = (t) => { try { return decodeURIComponent(t); } catch { return t; } };
        return [plain(pair.slice(0, cut)), plain(pair.slice(cut + 1))];
      }));
      for (const { name, problem } of sheet.take(text)) {
        if (controls.has(name) || card && settable.some((g) => g.name === name)) troubles.set(name, { text: raw.get(name) || '', problem });
        else strange.push({ name, problem });
      }
      for (const c of controls.values()) c.show();
      paint();
      links(settings());
    }
    // touch paints after a change, and says it aloud a little later.
    let lateWords = 0;
    function touch(now) {
      paint();
      // a browser takes its time over an address
      clearTimeout(lateAddress);
      lateAddress = setTimeout(address, now ? 30 : 150);
      clearTimeout(lateWords);
      lateWords = setTimeout(say, 700);
      if (now) for (const c of controls.values()) c.show();
    }
    function say() {
      const words = gone ? 'No numbers. ' + [...limits.querySelectorAll('.limit-text')].map((e) => e.textContent.trim()).join(' ')
        : all('.figure').map((e) => e.querySelector('dt').textContent + ' ' + e.querySelector('.figure-value').textContent).join('; ') +
          [...limits.querySelectorAll('.limit')].map((e) => '. ' + e.textContent.trim()).join('');
      spoken.textContent = isTested() ? 'Tested values. ' + words : words;
    }

    // One control. show() writes the value that stands into its fields, paint() only what
    // follows it; a field that is being typed in is left alone.

    function control(g) {
      const row = home.querySelector('.setting[data-given="' + g.name + '"]');
      if (!row) return;
      const title = row.querySelector('dt');
      title.id = 'Set-' + g.name;
      const range = row.querySelector('.setting-range');
      const trouble = make('p', { class: 'hand-trouble', id: 'Trouble-' + g.name, hidden: true });
      const was = make('p', { class: 'hand-tested', hidden: true });
      const box = make('dd', { class: 'hand' });
      if (range) range.id = 'Range-' + g.name;
      const about = (range && !g.choices ? range.id + ' ' : '') + trouble.id;
      const c = { row, show() {}, focus() {} };
      const accept = () => {
        troubles.delete(g.name);
        strange = [];
      };
      const refuse = (text, problem) => troubles.set(g.name, { text, problem });
      const set1 = (r, text) => r.ok ? accept() : refuse(text, r.problem);

      if (g.choices) {
        const short = g.choices.length <= 6 && g.choices.reduce((n, x) => n + x.text.length + 3, 0) < 64;
        if (short) {
          const group = make('div', { class: 'hand-choices', role: 'radiogroup', 'aria-labelledby': title.id, 'aria-describedby': trouble.id });
          const inputs = g.choices.map((x) => {
            const input = make('input', { type: 'radio', name: 'Set-' + g.name, value: x.base, autocomplete: 'off' });
            input.addEventListener('change', () => {
              set1(sheet.put(g.name, x.base), x.text);
              touch(true);
            });
            group.append(make('label', { class: 'hand-choice' }, input, make('span', {}, span(x.text))));
            return input;
          });
          box.append(group);
          c.show = () => inputs.forEach((i) => { i.checked = !troubles.has(g.name) && Number(i.value) === sheet.get(g.name).base; });
          c.focus = () => (inputs.find((i) => i.checked) || inputs[0]).focus();
          c.lock = (on) => inputs.forEach((i) => { i.disabled = on; });
        } else {
          const list = make('select', { class: 'hand-list', 'aria-labelledby': title.id, 'aria-describedby': trouble.id, autocomplete: 'off' });
          list.append(...g.choices.map((x) => make('option', { value: x.base }, set(x.text))));
          list.addEventListener('change', () => {
            set1(sheet.put(g.name, Number(list.value)), list.value);
            touch(true);
          });
          box.append(list);
          c.show = () => {
            list.value = '';
            if (!troubles.has(g.name)) list.value = String(sheet.get(g.name).base);
          };
          c.focus = () => list.focus();
          c.lock = (on) => { list.disabled = on; };
        }
      } else {
        const field = make('input', { class: 'hand-field', type: 'text', autocomplete: 'off', autocapitalize: 'none', autocorrect: 'off', spellcheck: 'false',
          enterkeyhint: 'done', inputmode: g.unit ? 'text' : g.whole ? 'numeric' : 'decimal', 'aria-labelledby': title.id, 'aria-describedby': about });
        const step = (sign, word, by) => {
          const b = make('button', { type: 'button', class: 'hand-step', 'aria-label': word + ': ' + title.textContent }, sign);
          const go = () => {
            set1(sheet.move(g.name, by), field.value);
            touch(true);
          };
          let wait = 0, ran = false;
          const stop = () => clearTimeout(wait);
          const again = () => {
            ran = true;
            go();
            wait = setTimeout(again, 130);
          };
          b.addEventListener('pointerdown', (e) => {
            ran = false;
            if (e.button === 0 && !b.disabled) wait = setTimeout(again, 500);
          });
          ['pointerup', 'pointerleave', 'pointercancel', 'blur'].forEach((n) => b.addEventListener(n, stop));
          b.addEventListener('contextmenu', (e) => e.preventDefault());
          b.addEventListener('click', () => {
            stop();
            if (!ran) go();
            ran = false;
          });
          return b;
        };
        const less = step('\u2212', 'Less', -1), more = step('+', 'More', 1);
        const line = make('div', { class: 'hand-line' }, less, field, more);
        box.append(line);
        const stops = sheet.values(g.name);
        let slide = null;
        if (stops.length > 2 && stops.length <= 60) {
          slide = make('input', { class: 'hand-slide', type: 'range', min: 0, max: stops.length - 1, step: 1, autocomplete: 'off', 'aria-labelledby': title.id });
          slide.addEventListener('input', () => {
            set1(sheet.put(g.name, stops[slide.value]), field.value);
            touch();
            c.show();
          });
          slide.addEventListener('change', () => touch(true));
          box.append(slide);
        }
        // What is typed counts at once: a field and a figure never disagree.
        let typing = false;
        const type = () => {
          typing = true;
          const text = globalThis.measure ? globalThis.measure.typed(field.value, sheet.get(g.name).shown) : field.value;
          set1(sheet.set(g.name, text), field.value);
          touch();
          if (slide) slideTo();
        };
        const done = () => {
          if (!typing) return;
          typing = false;
          touch(true);
        };
        field.addEventListener('input', type);
        field.addEventListener('change', done);
        field.addEventListener('blur', done);
        field.addEventListener('focus', () => field.select());
        field.addEventListener('keydown', (e) => {
          if (e.isComposing || e.altKey || e.ctrlKey || e.metaKey) return;
          if (e.key === 'ArrowUp' || e.key === 'ArrowDown') {
            e.preventDefault();
            typing = false;
            set1(sheet.move(g.name, e.key === 'ArrowUp' ? 1 : -1), field.value);
            touch(true);
          } else if (e.key === 'Enter') {
            e.preventDefault();
            done();
            field.select();
          } else if (e.key === 'Escape' && troubles.has(g.name)) {
            typing = false;
            accept();
            touch(true);
          }
        });
        const slideTo = () => {
          const base = sheet.get(g.name).base;
          let best = 0;
          stops.forEach((v, i) => { if (Math.abs(v - base) < Math.abs(stops[best] - base)) best = i; });
          slide.value = best;
          slide.setAttribute('aria-valuetext', sheet.get(g.name).shown);
        };
        c.show = () => {
          if (typing) return;
          const t = troubles.get(g.name);
          const text = t ? t.text : sheet.get(g.name).text;
          field.value = !t && globalThis.measure ? globalThis.measure.field(text) : text;
          if (slide) slideTo();
        };
        c.focus = () => field.focus();
        c.lock = (on) => [field, less, more, slide].forEach((e) => { if (e) e.disabled = on; });
        c.ends = () => {
          const { base } = sheet.get(g.name), bad = troubles.has(g.name);
          less.setAttribute('aria-disabled', !bad && base <= g.from.base);
          more.setAttribute('aria-disabled', !bad && base >= g.to.base);
          field.setAttribute('aria-invalid', bad);
        };
      }
      box.append(trouble, was);
      title.after(box);
      row.classList.add('handled');
      c.paint = () => {
        const t = troubles.get(g.name);
        const offers = t && t.problem.offers || [];
        const words = !t ? '' : offers.length ? capital(t.problem.message) + '. Which is meant? ' : sentence(t.problem);
        if (trouble.dataset.words !== words) {
          trouble.dataset.words = words;
          trouble.hidden = !t;
          trouble.replaceChildren(words, ...offers.map((offer) => {
            const b = make('button', { type: 'button', class: 'button hand-offer' }, set(offer));
            b.addEventListener('click', () => {
              set1(sheet.set(g.name, offer), offer);
              touch(true);
              c.focus();
            });
            return b;
          }));
        }
        const own = !t && sheet.get(g.name).own;
        // a value shown in other units stands here as it is worked with
        const now = !t && globalThis.measure && !g.choices && globalThis.measure.converted(sheet.get(g.name).shown) ? 'Set to ' + set(sheet.get(g.name).shown) + (own ? ', as tested' : '. ') : '';
        was.hidden = own && !now;
        was.textContent = now + (own ? '' : 'Tested at ' + set(g.text));
        row.classList.toggle('set-otherwise', !own);
        if (c.ends) c.ends();
      };
      controls.set(g.name, c);
    }

    if (home && !card) settable.forEach(control);
    const lockLine = make('p', { class: 'changed', hidden: true });
    if (home && !card) home.querySelector('h2').after(lockLine);
    globalThis.hand = {
      sheet, settings, clock, make,
      get result() { return result; },
      get gone() { return gone; },
      get locked() { return locked !== ''; },
      lock(why) {
        locked = why || '';
        lockLine.hidden = !locked;
        lockLine.textContent = locked;
        back.disabled = !!locked;
        for (const c of controls.values()) c.lock(!!locked);
      },
      take(text) {
        sheet.take(text);
        troubles.clear();
        strange = [];
        touch(true);
      },
      leaf,
    };

    addEventListener('pagehide', () => { if (lateAddress) address(); });
    document.documentElement.classList.add('handed');
    sync();
    addEventListener('hashchange', () => {
      if (card) return;
      // A plain anchor leaves the values as they are, and they stay in the address.
      if (location.hash && !location.hash.includes('=')) {
        if (!isTested()) setTimeout(address, 0);
      } else if (locked) address();
      else sync();
    });
    addEventListener('pageshow', () => { if (!locked) sync(); });
    document.addEventListener('units', () => {
      for (const c of controls.values()) c.show();
      paint();
    });
  });
})();
