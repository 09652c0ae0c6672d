// What the preview lays over the page, and what its script knows.

const at = location.pathname;
const mark = document.querySelector('meta[name="proof"]');
let hash = mark ? mark.content : '';
let last = null;     // the last message
let before = null;   // the page as the server last wrote it, once known
let shownSave = 0;

const make = (name, attributes, ...children) => {
  const e = document.createElement(name);
  for (const [key, value] of Object.entries(attributes || {})) {
    if (value === true) e.setAttribute(key, '');
    else if (value !== false && value != null) e.setAttribute(key, value);
  }
  e.append(...children.filter((c) => c != null && c !== false));
  return e;
};
const host = make('div', { id: 'Proof', class: 'proof-only' });
const root = host.attachShadow({ mode: 'open' });
const sheet = make('section', { class: 'sheet', role: 'alert', 'aria-label': 'What is wrong', hidden: true });
const margin = make('div', { class: 'margin', role: 'list' });
const aside = make('aside', { 'aria-label': 'To look at', hidden: true }, margin);
const panel = make('section', { class: 'panel', 'aria-label': 'Numbers', tabindex: '-1', hidden: true });
const bar = make('nav', { class: 'bar', 'aria-label': 'Preview' });
const spoken = make('p', { class: 'unseen', role: 'status' });
root.append(make('link', { rel: 'stylesheet', href: '/proof/live.css' }), sheet, aside, panel, bar, spoken);
document.body.append(host);

const copy = (text, button) => {
  const done = (ok) => {
    const old = button.textContent;
    button.textContent = ok ? 'Copied' : 'Select and copy it';
    late(() => { button.textContent = old; }, 1500);
  };
  if (!navigator.clipboard) return done(false);
  navigator.clipboard.writeText(text).then(() => done(true), () => done(false));
};

// A place in a file: a click copies it, and a link opens it if an editor is set.
const placeOf = (n) => {
  const button = make('button', { type: 'button', class: 'place', title: 'Copy this place' }, n.place);
  button.addEventListener('click', () => copy(n.place, button));
  return make('span', { class: 'where' }, button, n.open ? make('a', { class: 'open', href: n.open }, 'Open in the editor') : null);
};
