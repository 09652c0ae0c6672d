/* If a page refuses what was set, this offers the nearest settings at which it gives numbers, each
   at one press. hand.js loads it at the first refusal; the page's own script says what to try
   (sheet.nearest). It searches in slices, so that the page stays responsive, and starts over at
   every change. */
(function () {
  'use strict';

  const { hand, labsite, later } = globalThis;
  const limits = document.getElementById('Limits');
  if (!hand || !limits || document.querySelector('main.card, main.paper')) return;
  const { sheet } = hand, { make, span, titleOf, troubles } = hand.own;

  const slice = 8, longest = 4000; // milliseconds, for one slice and for all
  const told = 5; // the most offers shown
  const quiet = 150, spoken = 1000; // milliseconds after the last change

  const words = make('div', { class: 'hand-nearest' });
  const aloud = make('p', { class: 'unseen', role: 'status' });
  const box = make('div', { class: 'hand', hidden: true }, words, aloud); // never on paper
  limits.after(box);

  const given = (name) => sheet.given.find((g) => g.name === name);
  const shown = (name, base) => span(sheet.show(name, base).shown);

  // "or more", "up to 900 ml": how far beyond an offered value the page still gives numbers
  function beyond(name, base, end) {
    if (base === end) return [];
    const g = given(name), whole = g.whole && g.kind !== 'a date';
    const more = { 'a date': ['earlier', 'later'], 'a temperature': ['lower', 'higher'] }[g.kind] || [whole ? 'fewer' : 'less', 'more'];
    if (end === g.from.base) return [' or ' + more[0]];
    if (end === g.to.base) return [' or ' + more[1]];
    return [end < base ? ' down to ' : ' up to ', shown(name, end)];
  }
  function take({ set }) {
    const copy = sheet.copy();
    for (const [name, base] of set) copy.put(name, base);
    hand.take(copy.settings());
    const to = document.querySelector('#Figures h2') || document.querySelector('#Given h2');
    if (!to) return;
    to.tabIndex = -1;
    to.focus();
  }
  function paint(offers) {
    const rows = offers.sort((a, b) => a.away - b.away).slice(0, told).map((x) => {
      const set = x.set.flatMap(([name, base], i) => [i ? ' and ' : '', titleOf(name) + ' ', shown(name, base)]);
      const b = make('button', { type: 'button', class: 'button hand-offer' }, ...set);
      b.addEventListener('click', () => take(x));
      return make('p', { role: 'listitem' }, b, ...x.set.length === 1 ? beyond(...x.set[0]) : []);
    });
    words.replaceChildren(make('p', {}, rows.length > 1 ? 'Each of these holds:' : 'This holds:'), make('div', { role: 'list' }, ...rows));
  }
  function none() {
    const tested = sheet.copy();
    tested.reset();
    words.replaceChildren(make('p', {}, 'No change of one or two of these values was found that holds.' + (tested.holds() ? ' The tested values hold.' : '')));
  }

  // the value that a field refused, if it is a number of the right kind
  function typed() {
    const [[name, { text }]] = troubles, g = given(name);
    for (const t of [text, text + ' ' + (g.unit || '')]) {
      const { value } = labsite.read(t.trim());
      if (value && value.kind === g.kind) return { name, base: value.base };
    }
    return null;
  }

  let search = 0, last = '';
  function look() {
    const key = hand.gone ? hand.settings() : '';
    if (key === last) return;
    last = key;
    box.hidden = !hand.gone;
    const own = ++search;
    words.replaceChildren();
    aloud.textContent = '';
    if (!hand.gone || troubles.size > 1) return;
    const wanted = troubles.size ? typed() : undefined;
    if (wanted === null || !troubles.size && !hand.result.withdrawn) return;
    const begun = performance.now(), trials = sheet.nearest(wanted), offers = [];
    let spent = 0;
    const on = () => {
      if (own !== search) return;
      const from = performance.now();
      let step;
      do {
        step = trials.next();
        if (step.value) offers.push(step.value);
      } while (!step.done && performance.now() - from < slice);
      spent += performance.now() - from;
      if (!step.done && spent < longest) return void setTimeout(on, 0);
      if (offers.length) paint(offers);
      else if (!wanted) none();
      setTimeout(() => { if (own === search) aloud.textContent = words.innerText; }, Math.max(0, spoken - (performance.now() - begun)));
    };
    setTimeout(on, quiet);
  }
  later('figures-further.js').then(() => {
    document.addEventListener('hand', look);
    look();
  }).catch(() => {}); // the page works without it
})();
