/* Makes a page compute for its reader: controls for the given values, and everything that
   follows them. Formulas, reading and showing belong to the runtime (labsite, figures.js) and to
   the page's script (NAME.figures.js); nothing is worked out here.

   The files of this folder are joined and share the names declared outside their functions
   (render/theme/scripts.go says in which order). This one has what is on the page and what has
   been set; start.js, the last, starts everything.

   What the controls show is what is computed. A refused value withdraws every figure; a number
   that does not belong to the values set stands nowhere, not even on paper. The values set are
   in the address, after # on a page and after ? on what is printed from it, since a card's # is
   the size of its sheet.

   globalThis.hand is for the other scripts: hand.sheet, hand.result (of the last
   painting), hand.gone, hand.settings(), hand.take(settings), hand.lock(why), and the
   event "hand" on the document after each painting. hand.redrawn is for redraw.js only, and
   hand.own for the theme's other scripts. */

const pageData = globalThis.labsitePage, runtime = globalThis.labsite;
const main = document.querySelector('main');
const paper = document.querySelector('main.card, main.paper'); // a card, or a sheet of labels
const home = document.getElementById('Given');

// What has been set. sheet is the runtime's; result is what it worked out last; gone says that no
// number may stand; locked is why nothing can be changed, or "".
let sheet, result, gone = false, locked = '';
const troubles = new Map(); // name: {text, problem}, of a field or the address
let strange = []; // problems of the address that belong to no field
const controls = new Map();
const forgive = () => {
  troubles.clear();
  strange = [];
};
const isTested = () => !troubles.size && !strange.length && !sheet.changed().length;

// Whether everything is as the page was published: on another day a page that follows the calendar
// is not, even if nothing was set.
const isAsMade = () => isTested() && !sheet.moved();

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

// set formats a quantity as pages do, read undoes it, and both converts a text's quantities to the
// units that the reader chose (measure.js).
const { set, read, both } = globalThis.measure;
const written = new WeakMap();
// A text of null means that there is no number, "" a reading that is not entered.
const write = (span, text, instead = false) => {
  if (written.get(span) === text) return;
  written.set(span, text);
  span.classList.toggle('q-none', text === null);
  span.classList.toggle('q-blank', text === '');
  span.classList.toggle('q-instead', instead);
  globalThis.measure.write(span, text === null ? 'no number' : text);
  if (instead) span.textContent = text;
};
// writes a value that was worked out, or what replaces it
const writeValue = (span, v) => write(span, v.shown ?? v.instead ?? null, !!v.instead);
const valueSpan = (v) => {
  const e = make('span', { class: 'q' });
  writeValue(e, v);
  return e;
};
const span = (text) => {
  const e = make('span', { class: 'q' });
  write(e, text);
  return e;
};
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
