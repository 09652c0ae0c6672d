/* The switch between metric and US customary units. Every quantity of the page follows, rounded
   as its unit is read, and the value as the page writes it, which is the one that was tested,
   stays beside it in brackets. Nothing is worked out from a rounded value.

   globalThis.measure is for the other scripts, and comes before them: write(span, text) writes a
   quantity, both(text) converts those in a text, chart(svg) those at the axes of a drawing,
   set(text) formats one as pages do, read(text) undoes that, field(text) returns what a field
   shows, turned tells whether other units than the page's were ever shown, typed(text, shown)
   returns what a reader meant by a number typed without a unit. */
(function () {
  'use strict';

  const key = 'labsite-units';
  const box = document.querySelector('.unit-switch');
  const fields = box ? [...box.querySelectorAll('input')] : [];
  const main = document.querySelector('main');
  let chosen = null;
  try { chosen = localStorage.getItem(key); } catch { /* then the choice lasts for this page */ }
  const first = (fields.find((f) => f.defaultChecked) || {}).value || 'metric';
  const mode = () => chosen || first;

  // For each system, the units of the other system that it replaces: a unit's size and zero in base
  // units, and the units to choose from, each with the least amount that it is used for. Filled in
  // from the table of units when a site is published.
  const systems = { us: new Map(), metric: new Map() };
  for (const [system, from, to] of $EXCHANGES) for (const [name, size, zero] of from) systems[system].set(name, [size, zero, to]);
  const lengths = new Set(['mm', 'cm', 'm', 'inch', 'ft']);

  const trim = (text) => text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  const digits = (v) => {
    const a = Math.abs(v);
    return a === 0 ? '0' : a >= 100 ? String(Math.round(v)) : trim(v.toFixed(Math.min(6, Math.max(0, 2 - Math.floor(Math.log10(a))))));
  };
  // other returns the unit to show in place of a unit, and a function that writes a value in it;
  // null if the unit is of the chosen system. most is the largest value to be written.
  function other(unit, most) {
    // a page's own US units stay unless the reader chose metric ones
    const found = (mode() === 'us' || chosen) && systems[mode()].get(unit);
    if (!found) return null;
    const [size, zero, units] = found;
    const [name, factor, its] = [...units].reverse().find(([, , , least]) => Math.abs(most * size) >= least);
    return [name, (v) => {
      const at = (v * size + zero - its) / factor;
      // temperatures to a tenth, halves away from zero as everywhere
      return zero === its ? digits(at) : trim((at + Math.sign(at) * 1e-9).toFixed(1));
    }];
  }
  // the text of a quantity in the other system, "" if it is already in the chosen one
  function convert(text) {
    const [, v, unit] = /^([-+]?\d+(?:\.\d+)?) (\S+)$/.exec(text) || [];
    const found = unit && other(unit, v);
    return found ? (v[0] === '+' ? '+' : '') + found[1](v) + ' ' + found[0] : '';
  }
  // A small dose is drawn with a syringe, so millilitres come first.
  const beside = (text, other) => /^0\S* fl_oz$/.test(other) ? [text, other] : [other, text];
  const both = (text) => text.replace(/-?\d+(?:\.\d+)? [^\s,;:.()]+/g, (part) => {
    const found = convert(part);
    if (!found) return part;
    const [first, second] = beside(part, found);
    return set(first) + ' (' + set(second) + ')';
  });

  // The axes of a chart are written by axes.js, which few readers need.
  function chart(svg) {
    if (painted) globalThis.later('axes.js').then(() => globalThis.measure.axes(svg, other), () => {});
  }

  // set formats a value as pages do: a real minus sign, non-breaking spaces beside numbers, except
  // between the parts of a duration and after a weekday, and fl oz without the underscore that
  // joins a unit's words. read undoes it.
  const set = (text) => text.split(' ').map((part, i, parts) =>
    (!i ? '' : /\d/.test(parts[i - 1]) || /^\d/.test(part) && !/^(days?|h|min)$|,$/.test(parts[i - 1]) ? '\u00a0' : ' ') + part.replace(/^-(?=.)/, '\u2212')).join('').replace(/(imp|fl|oz|sq)_(?=[a-z])/g, '$1\u00a0');
  const read = (text) => text.replace(/\u00a0/g, ' ').replace(/\u2212/g, '-').replace(/\b(imp|fl|oz|sq) (?=[a-z])/g, '$1_');
  const plain = (e) => read(e.textContent);
  const original = new WeakMap();
  function write(span, text) {
    original.set(span, text);
    // a size that is a name ({35 mm} film) is not converted
    const name = span.dataset.literal !== undefined && lengths.has(text.split(' ')[1]);
    const other = name ? '' : convert(text);
    // the whole part aligns a row of a ledger at the decimal point; a date has none
    const [first, second] = other ? beside(text, other) : [text];
    if (span.dataset.whole) span.dataset.whole = /^([-+]?\d+)(?=[. ]|$)(?! [A-Z][a-z]{2})|/.exec(first)[0].length;
    span.textContent = set(first);
    if (!second) return;
    const small = document.createElement('small');
    small.className = 'metric';
    small.textContent = '(' + set(second) + ')';
    span.append(' ', small);
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
    field: (text) => (convert(text) || text).replace(/_/g, mode() === 'us' ? ' ' : '_'),
    get turned() { return painted; },
    converted: (text) => convert(text) !== '',
    typed(text, shown) {
      const other = convert(shown);
      if (other && /^\s*-?\d+(?:[.,]\d+)?\s*$/.test(text)) return text + ' ' + other.split(' ')[1];
      // a reader who chose US units means those, not imperial ones
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
