// Placements in any text, limits that apply at the values set, and the line that tells what was
// changed.

const tested = new Map(); // placement: its text in the published page
let placed, limits;
function findTexts() {
  // the table writes the reasons below it
  placed = all('.q[data-figure], .q[data-given-value], .q[data-placed], .q[data-tested]').filter((e) => !e.closest('figure.grid p[id]'));
  placed.forEach((e) => tested.set(e, e.textContent));
  // what was published blank, or with something in its place, is always written from results
  all('.q-blank, .q-instead').forEach((e) => tested.delete(e));
  limits = document.getElementById('Limits') || home.appendChild(make('div', { class: 'limits', id: 'Limits' }));
}

const piece = document.createElement('template');
const htmlOf = (html) => {
  piece.innerHTML = html;
  return piece.content.cloneNode(true);
};

// In place of numbers elsewhere: a link to the reason.
const stead = (what) => (before) => {
  const p = make('p', { class: 'stead', hidden: true }, what + ' at these values. ', make('a', { href: '#Limits' }, 'See why.'));
  before.before(p);
  return p;
};

// A typed value is used as it was typed, and stays so in its field. A sentence rounds it: a
// temperature to a tenth, anything else to four figures, and whole numbers not at all.
function roundly(text) {
  const [, number, , decimals, rest] = /^(-?(\d+)\.(\d+))(.*)$/.exec(text) || [];
  if (!number) return text;
  const least = / °[CF]$/.test(text) ? 1 : Math.max(0, 4 - String(Math.floor(Math.abs(number)) || '').length);
  return decimals.length <= least ? text : String(+Number(number).toFixed(least)) + rest;
}

// fill writes placements from results.
function fill(spans, from, none, restore) {
  for (const e of spans) {
    const { givenValue, figure, placed: number } = e.dataset;
    let v = { shown: null };
    if (restore && tested.has(e)) {
      v = { shown: read(tested.get(e)) };
    } else if (givenValue) {
      if (!troubles.has(givenValue)) v = number && from.placed[number].shown !== null ? from.placed[number] : from.given[givenValue];
      if (v.shown && !number) v = { ...v, shown: roundly(v.shown) };
    } else if (!none && figure) {
      v = from.figures[figure];
    } else if (number && !Number.isNaN(from.placed[number].value)) {
      // a given value is shown even if the page refuses
      if (!(none && from === result && (troubles.size || strange.length))) v = from.placed[number];
    }
    writeValue(e, v);
  }
}

// The limits that apply to a result: [key of the text, words of its own].
function holding(from) {
  const key = (l) => (l.of ? l.of + '#' : '') + (l.limit ?? l.index);
  if (!from.withdrawn) return from.limits.map((l) => [key(l), '']);
  const out = from.limits.filter((l) => l.kind === 'refuse').map((l) => [key(l), '']);
  from.reasons.forEach((r) => { if (r.limit === null) out.push(['refused', capital(r.text)]); });
  if (!out.length) out.push(['refused', 'The formulas give no finite number at these values.']);
  return out;
}
function limitOf([key, words], from) {
  const made = htmlOf(pageData.limits[key] || pageData.limits.refused);
  if (words) made.querySelector('[data-reason]').textContent = words;
  fill(all('.q[data-figure], .q[data-given-value], .q[data-placed], .q[data-tested]', made), from, from.withdrawn);
  return made;
}

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
const sentence = (p) => both(capital(p.message) + (/[.?!]$/.test(p.message) ? ' ' : '. ') + (p.hint ? capital(p.hint) + (/[.?!]$/.test(p.hint) ? '' : '.') : ''));
const advice = (name, p, of) => (name ? titleOf(name) + ': ' : of ? 'In the address, ' + of + ': ' : '') + sentence(p);

// the page's own value of a given, which for one that follows the calendar changes every day
const testedText = (g) => g.today ? sheet.show(g.name, g.own).shown : g.text;

const testedAt = (name) => {
  const g = sheet.given.find((g) => g.name === name);
  return g.reading ? [] : [', tested at ', span(testedText(g))];
};
const changed = make('p', { class: 'changed', hidden: true });
const back = make('button', { type: 'button', class: 'button back', hidden: true }, 'Back to tested values');
const spoken = make('p', { class: 'unseen', role: 'status' });
function placeChanged() {
  if (home) {
    // below the results, so that nothing moves under the finger
    const need = document.getElementById('Figures');
    if (paper) home.querySelector('h2').after(changed);
    else if (need && home.parentNode === need.parentNode) need.append(changed, back);
    else home.querySelector('dl').after(changed, back);
    home.append(spoken);
  } else {
    (document.getElementById('Said') || main).prepend(changed, spoken);
  }
  back.addEventListener('click', () => {
    sheet.reset();
    lastSet = '';
    forgive();
    touch(true);
    const first = controls.values().next().value;
    if (first) first.focus();
  });
}
function paintChanged() {
  const names = sheet.changed().filter((n) => !troubles.has(n));
  const plain = isTested();
  changed.hidden = back.hidden = plain;
  if (plain) return;
  const say = names.map((n) => [titleOf(n) + ' ', span(roundly(result.given[n].shown)), ...testedAt(n)])
    .concat([...troubles.keys()].map((n) => [titleOf(n) + ' is not set']));
  changed.replaceChildren(make('strong', {}, 'Changed from the tested values'), ...say.flatMap((part, i) => [i ? '; ' : ': ', ...part]),
    '. ', pageData.revision ? make('span', { class: 'changed-revision' }, pageData.revision + '. ') : '');
}
