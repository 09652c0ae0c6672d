/* What was done, as a file for the lab: settings, readings, figures as shown, steps with their
   begin and end, initials. The device's own functions save and share it, and it is sent nowhere.
   `labsite record` reads it (recipes/record says what is in it).

   globalThis.bench is for the run sheet, which is joined with this: bench.values(),
   bench.moment(ms), bench.record(parts), bench.save(record), bench.share(record),
   bench.canShare and bench.initials(changed). */

const about = document.querySelector('article[data-page]');
const make = (name, attributes = {}, ...children) => {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v === true ? '' : v);
  e.append(...children);
  return e;
};
const button = (text, does) => {
  const b = make('button', { type: 'button', class: 'button' }, text);
  b.addEventListener('click', does);
  return b;
};

// The values on the page, as it shows them. What waits for a reading is left out.
function values() {
  const out = { settings: {}, readings: {}, figures: {} }, hand = globalThis.hand;
  if (!hand) return out;
  for (const g of hand.sheet.given) {
    const { text } = hand.sheet.get(g.name);
    if (g.settable && text !== '') out[g.reading ? 'readings' : 'settings'][g.name] = text;
  }
  for (const e of document.querySelectorAll('.figure[data-figure]')) {
    const v = hand.result.figures[e.dataset.figure], text = v && (v.shown ?? v.instead);
    if (text) out.figures[e.dataset.figure] = text;
  }
  return out;
}

// A moment by the device's clock with its offset, in the form of RFC 3339.
const two = (n) => String(Math.floor(n)).padStart(2, '0');
function moment(ms) {
  const off = -Math.round(new Date(ms).getTimezoneOffset());
  return new Date(ms + off * 60000).toISOString().slice(0, 23) + (off < 0 ? '-' : '+') + two(Math.abs(off) / 60) + ':' + two(Math.abs(off) % 60);
}

// parts are what the record holds besides what the page says of itself.
function record(parts) {
  const d = about ? about.dataset : {};
  return { record: 1, lab: d.lab, page: d.page, number: d.number || '', revision: Number(d.revision || 0), ...parts, saved: moment(Math.max(Date.now(), Date.parse(parts.made))) };
}

const nameOf = (r) => 'record-' + r.page.replace(/[^a-z0-9]+/gi, '-') + '-' + r.made.slice(0, 19).replace(/[-:]/g, '') + '.json';
const textOf = (r) => JSON.stringify(r, null, 1) + '\n';
function save(r) {
  const a = make('a', { href: URL.createObjectURL(new Blob([textOf(r)], { type: 'application/json' })), download: nameOf(r) });
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 60000);
}

// Some browsers do not share JSON but do share the same file as plain text; some share no file,
// only a text.
const canShare = typeof navigator.share === 'function';
function share(r) {
  const file = (type, ending) => ({ files: [new File([textOf(r)], nameOf(r) + ending, { type })] });
  const form = [file('application/json', ''), file('text/plain', '.txt')].find((f) => navigator.canShare && navigator.canShare(f));
  return navigator.share({ title: nameOf(r), ...(form || { text: textOf(r) }) });
}
