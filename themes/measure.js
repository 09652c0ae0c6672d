/* The switch between metric and US customary units. Every quantity of the page follows,
   rounded as its unit is read, and the value as the page writes it, which is the one that
   was tested, stays beside it in brackets. Nothing is worked out from a rounded value.

   Factors are exact: NIST SP 811, appendix B (from memory). globalThis.measure is for the
   other scripts, and comes before them: write(span, text) sets a quantity, both(text) turns
   those in a text, chart(svg) those at the axes of a drawing, set(text) writes one as pages
   do, read(text) reads one back, field(text) gives what a field shows, typed(text, shown)
   what a reader meant who typed a number without a unit. */
(function () {
  'use strict';

  const key = 'labsite-units';
  const box = document.querySelector('.unit-switch');
  const fields = box ? [...box.querySelectorAll('input')] : [];
  const main = document.querySelector('main');
  let chosen = null;
  try { chosen = localStorage.getItem(key); } catch { /* the choice lasts for this page then */ }
  const first = (fields.find((f) => f.defaultChecked) || {}).value || 'metric';
  const mode = () => chosen || first;

  // of a unit: its size in a common one, and the units to choose from in the other system,
  // each with the least amount in the common one from which it is used
  const volume = [['fl_oz', 29.5735295625, 0], ['quart', 946.352946, 1892.7], ['gal', 3785.411784, 3785.3]];
  const mass = [['grain', .06479891, 0], ['oz_av', 28.349523125, 14], ['lb', 453.59237, 907]];
  const length = [['inch', 25.4, 0], ['ft', 304.8, 1800]];
  const area = [['sq_inch', 645.16, 0], ['sq_ft', 92903.04, 92903]];
  const us = {
    ml: [1, volume], cl: [10, volume], dl: [100, volume], L: [1000, volume], l: [1000, volume],
    mg: [.001, mass], g: [1, mass], kg: [1000, mass],
    mm: [1, length], cm: [10, length], m: [1000, length],
    'mm²': [1, area], 'cm²': [100, area], 'm²': [1e6, area], mm2: [1, area], cm2: [100, area], m2: [1e6, area],
    kPa: [1, [['psi', 6.894757293168, 0]]], bar: [100, [['psi', 6.894757293168, 0]]],
    K: [1, [['Δ°F', 5 / 9, 0]]], 'Δ°C': [1, [['Δ°F', 5 / 9, 0]]],
    'g/L': [1, [['oz_av/gal', 28.349523125 / 3.785411784, 0]]], 'g/l': [1, [['oz_av/gal', 28.349523125 / 3.785411784, 0]]],
    'ml/min': [1, [['fl_oz/min', 29.5735295625, 0]]], 'L/min': [1, [['gal/min', 3.785411784, 0]]], 'l/min': [1, [['gal/min', 3.785411784, 0]]],
    'cm/min': [1, [['inch/min', 2.54, 0]]], 'm/min': [1, [['ft/min', .3048, 0]]],
  };
  const metricVolume = [['ml', 1, 0], ['L', 1000, 2000]], metricMass = [['g', 1, 0], ['kg', 1000, 1000]];
  const metricLength = [['mm', 1, 0], ['cm', 10, 100], ['m', 1000, 2000]], metricArea = [['cm²', 100, 0], ['m²', 1e6, 1e5]];
  const metric = {
    tsp: [4.92892159375, metricVolume], tbsp: [14.78676478125, metricVolume], fl_oz: [29.5735295625, metricVolume], cup: [236.5882365, metricVolume],
    pint: [473.176473, metricVolume], quart: [946.352946, metricVolume], gal: [3785.411784, metricVolume],
    grain: [.06479891, metricMass], oz_av: [28.349523125, metricMass], lb: [453.59237, metricMass],
    inch: [25.4, metricLength], ft: [304.8, metricLength], sq_inch: [645.16, metricArea], sq_ft: [92903.04, metricArea],
    psi: [6.894757293168, [['kPa', 1, 0]]], 'Δ°F': [5 / 9, [['K', 1, 0]]],
  };
  const lengths = new Set(['mm', 'cm', 'm', 'inch', 'ft']);

  const trim = (text) => text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  const digits = (v) => {
    const a = Math.abs(v);
    return a === 0 ? '0' : a >= 100 ? String(Math.round(v)) : trim(v.toFixed(Math.min(6, Math.max(0, 2 - Math.floor(Math.log10(a))))));
  };
  // of a unit: the one in the other system, and how a value is written in it; null where
  // the unit is of the system that is chosen. most is the largest value to be written.
  function other(unit, most) {
    const turned = (name, to) => [name, (v) => trim(to(v).toFixed(1))];
    if (mode() === 'us') {
      if (unit === '°C') return turned('°F', (v) => v * 1.8 + 32);
    } else {
      // a page's own US units stand unless the reader asked for metric ones
      if (!chosen) return null;
      if (unit === '°F') return turned('°C', (v) => (v - 32) / 1.8);
    }
    const found = (mode() === 'us' ? us : metric)[unit];
    if (!found) return null;
    const [size, units] = found;
    const [name, factor] = [...units].reverse().find(([, , least]) => Math.abs(most * size) >= least);
    return [name, (v) => digits(v * size / factor)];
  }
  // the text of a quantity in the other system, "" where it is in the one that is chosen
  function convert(text) {
    const [, v, unit] = /^(-?\d+(?:\.\d+)?) (\S+)$/.exec(text) || [];
    const found = unit && other(unit, v);
    return found ? found[1](v) + ' ' + found[0] : '';
  }
  const both = (text) => text.replace(/-?\d+(?:\.\d+)? [^\s,;:.()]+/g, (part) => {
    const found = convert(part);
    return found ? set(found) + ' (' + part + ')' : part;
  });

  // The axes of a chart: the other unit's value at each tick, inside the frame.
  function chart(svg) {
    if (!painted) return;
    for (const e of svg.querySelectorAll('.chart-us')) e.remove();
    const [left, , right, bottom] = svg.dataset.plot.split(' ').map(Number), size = Number(svg.getAttribute('font-size'));
    let beside = false;
    for (const title of [...svg.querySelectorAll('.chart-title')].reverse()) {
      const text = title.dataset.text = title.dataset.text ?? title.textContent;
      title.textContent = text;
      const unit = /^(?:.*\()?([^\s()]+)\)?$/.exec(text), below = Number(title.getAttribute('y')) > bottom;
      const ticks = [...svg.querySelectorAll('.chart-tick:not(.chart-us)')].filter((e) => (e.getAttribute('text-anchor') === 'middle') === below);
      const values = ticks.map((e) => Number(e.textContent.replace('\u2212', '-')));
      const found = unit && values.every((v) => v === v) && other(unit[1], Math.max(...values.map(Math.abs)));
      if (!found) continue;
      title.textContent = text.replace(/\)?$/, (text.endsWith(')') ? '; inside: ' : ' (inside: ') + set(found[0]) + ')');
      let taken = 0; // up to where labels of the axis below stand
      ticks.forEach((tick, i) => {
        const x = Number(tick.getAttribute('x')), y = Number(tick.getAttribute('y')) - size * .35;
        // in the corner stands the value of the axis below
        if (!below && beside && y > bottom - 2 * size) return;
        const e = tick.cloneNode(), words = set(found[1](values[i])), half = words.length * size / 4;
        // above its tick, and at the ends of the axis inside the frame
        const at = !below ? 'start' : x - half < left ? 'start' : x + half > right ? 'end' : 'middle';
        const from = at === 'start' ? x : at === 'end' ? right - 2 * half : x - half;
        if (below && from < taken) return;
        taken = from + 2 * half + 4;
        for (const [k, v] of Object.entries({
          class: 'chart-tick chart-own-where chart-us', 'font-size': size * .85, 'font-style': 'italic', 'text-anchor': at,
          x: !below || at === 'start' ? left + 4 : at === 'end' ? right - 4 : x, y: below ? bottom - 5 : y - 4,
        })) e.setAttribute(k, v);
        e.textContent = words;
        svg.append(e);
      });
      beside = below;
    }
  }

  // A quantity as pages set it: a real minus, blanks that do not break but between the parts
  // of a duration, and fl oz without the line that joins a unit's words. read undoes it.
  const set = (text) => text.split(' ').map((part, i, parts) =>
    (!i ? '' : i % 2 === 0 && /^(days?|h|min)$/.test(parts[i - 1]) ? ' ' : '\u00a0') + part.replace(/^-(?=.)/, '\u2212')).join('').replace(/(imp|fl|oz|sq)_(?=[a-z])/g, '$1\u00a0');
  const read = (text) => text.replace(/\u00a0/g, ' ').replace(/\u2212/g, '-').replace(/\b(imp|fl|oz|sq) (?=[a-z])/g, '$1_');
  const plain = (e) => read(e.textContent);
  const original = new WeakMap();
  function write(span, text) {
    original.set(span, text);
    // a size that is a name ({35 mm} film) stays one
    const name = span.dataset.literal !== undefined && lengths.has(text.split(' ')[1]);
    const other = name ? '' : convert(text);
    if (!other) {
      span.textContent = set(text);
      return;
    }
    const small = document.createElement('small');
    small.className = 'metric';
    small.textContent = '(' + set(text) + ')';
    span.replaceChildren(set(other), ' ', small);
  }

  const quantities = () => [...main.querySelectorAll('.q')].filter((e) => !e.closest('#Checks'));
  let painted = false;
  function apply() {
    const any = mode() === 'us' || chosen;
    if (!any && !painted) return;
    painted = true;
    for (const e of quantities()) {
      const was = original.get(e);
      if (was === undefined) write(e, plain(e));
      else if (was !== 'no number') write(e, was);
    }
    for (const svg of main.querySelectorAll('svg[data-plot]')) chart(svg);
  }

  globalThis.measure = {
    write, both, chart, set, read,
    field: (text) => convert(text) || text,
    converted: (text) => convert(text) !== '',
    typed(text, shown) {
      const other = convert(shown);
      if (other && /^\s*-?\d+(?:[.,]\d+)?\s*$/.test(text)) return text + ' ' + other.split(' ')[1];
      // who chose US units means those of the US
      return mode() === 'us' ? text.replace(/(\d\s*)(?=fl|gal|p(in)?t|q(uar)?t)/i, '$1US ') : text;
    },
  };

  const turn = () => {
    for (const f of fields) f.checked = f.value === mode();
    apply();
    document.dispatchEvent(new Event('units'));
  };
  if (box) {
    const probe = chosen;
    chosen = 'us';
    const some = quantities().some((e) => convert(plain(e)));
    chosen = 'metric';
    box.hidden = !some && !quantities().some((e) => convert(plain(e)));
    chosen = probe;
  }
  for (const f of fields) {
    f.addEventListener('change', () => {
      if (!f.checked) return;
      chosen = f.value;
      try { localStorage.setItem(key, chosen); } catch { /* as above */ }
      turn();
    });
  }
  document.addEventListener('hand', apply);
  addEventListener('DOMContentLoaded', turn);
  addEventListener('storage', (e) => {
    if (e.key !== key) return;
    chosen = e.newValue;
    turn();
  });
})();
