// Placements of any text, what holds at the values set, and the line that tells what was
// changed.

const tested = new Map(); // placements: what stood there when the page came
let placed, limits;
function findTexts() {
  // reasons below a table are the table's to write
  placed = all('.q[data-figure], .q[data-given-value], .q[data-placed], .q[data-tested]').filter((e) => !e.closest('figure.grid p[id]'));
  placed.forEach((e) => tested.set(e, e.textContent));
  limits = document.getElementById('Limits') || home.appendChild(make('div', { class: 'limits', id: 'Limits' }));
}

const piece = document.createElement('template');
const htmlOf = (html) => {
  piece.innerHTML = html;
  return piece.content.cloneNode(true);
};

// In place of numbers elsewhere: where the reason stands.
const stead = (what) => (before) => {
  const p = make('p', { class: 'stead', hidden: true }, what + ' at these values. ', make('a', { href: '#Limits' }, 'See why.'));
  before.before(p);
  return p;
};

// fill writes placements from what was worked out.
function fill(spans, from, none, restore) {
  for (const e of spans) {
    const { givenValue, figure, placed: number } = e.dataset;
    let text = null;
    if (restore && tested.has(e)) {
      text = read(tested.get(e));
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

const changed = make('p', { class: 'changed', hidden: true });
const back = make('button', { type: 'button', class: 'button back', hidden: true }, 'Back to tested values');
const spoken = make('p', { class: 'unseen', role: 'status' });
function placeChanged() {
  if (home) {
    home.querySelector('h2').after(changed);
    home.append(spoken);
    if (!card) home.querySelector('dl').after(back);
  } else {
    main.prepend(changed, spoken);
  }
  back.addEventListener('click', () => {
    sheet.reset();
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
  const say = names.map((n) => [titleOf(n) + ' ', span(result.given[n].shown), ', tested at ', span(sheet.given.find((g) => g.name === n).text)])
    .concat([...troubles.keys()].map((n) => [titleOf(n) + ' is not set']));
  changed.replaceChildren(make('strong', {}, 'Changed from the tested values'), ...say.flatMap((part, i) => [i ? '; ' : ': ', ...part]),
    '. ', leaf.revision ? make('span', { class: 'changed-revision' }, leaf.revision + '. ') : '',
    card && card.querySelector('.card-code') ? 'The code leads to the tested values.' : '');
}
