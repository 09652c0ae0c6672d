// Initials, typed or drawn. A drawing is kept as an SVG path on a grid of 240 by 80; a mere tap
// does not count.

const mostInitials = 12, longestDrawing = 900, leastDrawn = 40;
const pathOf = (lines) => lines.map((line) => line.map(([x, y], i) => (i ? 'L' : 'M') + x + ' ' + y).join('')).join('');

// every second point is dropped until a drawing is short enough for a record
function drawing(lines) {
  let all = lines.filter((l) => l.length > 1);
  while (pathOf(all).length > longestDrawing) all = all.map((l) => l.filter((_, i) => i % 2 === 0 || i === l.length - 1));
  return pathOf(all);
}
const lengthOf = (lines) => lines.reduce((sum, l) => sum + l.slice(1).reduce((n, [x, y], i) => n + Math.hypot(x - l[i][0], y - l[i][1]), 0), 0);

function pad(changed) {
  const ns = 'http://www.w3.org/2000/svg';
  const svg = document.createElementNS(ns, 'svg'), path = document.createElementNS(ns, 'path');
  svg.setAttribute('viewBox', '0 0 240 80');
  svg.setAttribute('class', 'initials-pad');
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', 'Draw initials here with a finger or a pen');
  svg.append(path);
  let lines = [], line = null;
  const point = (e) => {
    const b = svg.getBoundingClientRect();
    const to = (v, most) => Math.max(0, Math.min(most, Math.round(v)));
    return [to((e.clientX - b.left) / b.width * 240, 240), to((e.clientY - b.top) / b.height * 80, 80)];
  };
  const show = () => { path.setAttribute('d', pathOf(lines)); };
  svg.addEventListener('pointerdown', (e) => {
    e.preventDefault();
    if (lines.length >= 20) return;
    try { svg.setPointerCapture(e.pointerId); } catch { /* then a line ends at the edge */ }
    lines.push(line = [point(e)]);
  });
  svg.addEventListener('pointermove', (e) => {
    if (!line) return;
    const p = point(e), [x, y] = line[line.length - 1];
    if (Math.hypot(p[0] - x, p[1] - y) < 3) return;
    line.push(p);
    show();
  });
  const end = () => {
    if (!line) return;
    line = null;
    changed();
  };
  ['pointerup', 'pointercancel', 'lostpointercapture'].forEach((n) => svg.addEventListener(n, end));
  return {
    element: svg,
    get path() { return lengthOf(lines) < leastDrawn ? '' : drawing(lines); },
    clear() { lines = []; line = null; show(); },
  };
}

// initials makes the field and the pad. what is {by, drawn}, with by "" while both are empty.
let count = 0;
function initials(changed) {
  const id = 'Initials-' + ++count, hint = make('p', { class: 'initials-or' }, 'or draw them:');
  const field = make('input', { id, class: 'initials-field', type: 'text', maxlength: mostInitials, autocomplete: 'off', autocapitalize: 'characters', spellcheck: 'false', enterkeyhint: 'done' });
  const label = make('label', { for: id }, 'Initials, typed');
  const p = pad(() => {
    if (p.path) field.value = '';
    changed();
  });
  const wipe = button('Clear', () => {
    clear();
    changed();
    field.focus();
  });
  const clear = () => {
    field.value = '';
    p.clear();
  };
  field.addEventListener('input', () => {
    p.clear();
    changed();
  });
  return {
    element: make('div', { class: 'initials-form' }, label, field, hint, p.element, wipe), label, field, clear,
    get what() {
      const typed = field.value.trim().replace(/\s+/g, ' ');
      if (/\p{L}/u.test(typed)) return { by: typed };
      return p.path ? { by: 'drawn', drawn: p.path } : { by: '' };
    },
  };
}
