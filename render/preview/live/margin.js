// What to look at, in the margin beside its place.

function target(n) {
  if (n.given) return document.querySelector(`main [data-given="${CSS.escape(n.given)}"]`);
  if (n.figure) {
    return document.querySelector(`main .figure[data-figure="${CSS.escape(n.figure)}"]`) || document.querySelector(`main [data-working="${CSS.escape(n.figure)}"]`) ||
      document.querySelector(`main [data-figure="${CSS.escape(n.figure)}"]`);
  }
  let best = null;
  for (const e of document.querySelectorAll('main [data-line]')) {
    if (+e.dataset.line <= n.line) best = e;
    else break;
  }
  return best;
}

const open = new Set(); // notes that the reader opened, where the margin is narrow
function paintMargin() {
  const notes = last ? last.notes : [];
  const main = document.querySelector('main');
  aside.hidden = !notes.length || !main;
  if (aside.hidden) {
    document.body.style.paddingRight = '';
    return margin.replaceChildren();
  }
  // If the window is wide but the margin is not, the page makes room.
  const room = innerWidth - main.getBoundingClientRect().right - (parseFloat(document.body.style.paddingRight) || 0);
  const wide = innerWidth >= 1000;
  document.body.style.paddingRight = wide && room < 260 ? '260px' : '';
  margin.classList.toggle('narrow', !wide);
  margin.style.setProperty('--width', Math.min(300, Math.max(244, room - 24)) + 'px');
  const items = notes.map((n) => {
    const e = target(n);
    const visible = e && e.getClientRects().length ? e : e && e.closest('section, article, main');
    const box = (visible || main).getBoundingClientRect();
    return { n, top: box.top + scrollY };
  }).sort((a, b) => a.top - b.top);
  let free = 0;
  margin.replaceChildren(...items.map(({ n, top }) => {
    const key = n.place + n.code;
    const isOpen = wide || open.has(key);
    const body = [make('p', {}, (n.advice ? 'Advice: ' : '') + n.message.charAt(0).toUpperCase() + n.message.slice(1) + '.'), n.hint ? make('p', { class: 'mend' }, n.hint) : null, placeOf(n)];
    const item = make('div', { role: 'listitem', class: isOpen ? 'note open' : 'note' });
    if (!wide) {
      const b = make('button', { type: 'button', class: 'dot', 'aria-expanded': String(isOpen), 'aria-label': 'To look at: ' + n.message }, '?');
      b.addEventListener('click', () => { if (open.has(key)) open.delete(key); else open.add(key); paintMargin(); });
      item.append(b);
    }
    if (isOpen) item.append(make('div', { class: 'words' }, ...body));
    item.dataset.top = top;
    return item;
  }));
  for (const item of margin.children) {
    const top = Math.max(+item.dataset.top, free);
    item.style.top = top + 'px';
    free = top + item.offsetHeight + 6;
  }
}
let later = 0;
const soon = () => {
  cancelAnimationFrame(later);
  later = requestAnimationFrame(paintMargin);
};
new ResizeObserver(soon).observe(document.documentElement);
addOwn(window, 'resize', soon);
addOwn(document, 'toggle', soon, true);
