/* "How it was worked out" at the values set: each formula with its numbers put in, and the result.
   hand.js loads it when the block is first opened, and until then hides the numbers if they are of
   other values. They are in the page's own units, like the numbers in the formulas themselves; a
   result is also in the units that the reader chose. */
(function () {
  'use strict';

  const hand = globalThis.hand, list = document.querySelector('.workings'), more = document.querySelector('#Arithmetic > .more');
  if (!hand || !list || !more) return;
  const { all, make, span, writeValue, isAsMade } = hand.own;
  const { sheet } = hand;

  const line = (name) => make('p', { class: 'working-line working-' + name, hidden: true });
  const rows = all('[data-working]', list).map((li) => {
    const [formula] = all('.working-line', li);
    const numbers = li.querySelector('.working-numbers') || line('numbers'), result = li.querySelector('.working-result') || line('result');
    if (!numbers.parentNode) formula.after(numbers);
    if (!result.parentNode) numbers.after(result);
    return { name: li.dataset.working, formula: formula.firstElementChild, numbers, result };
  });

  // A number in a formula does not break, and is coloured as in the published page.
  const value = (text) => make('span', { class: 'code-value' }, text.replace(/ (?!\d)/g, '\u00a0'));
  const sign = (text) => make('span', { class: 'code-sign' }, text);
  function put(text) {
    const [, part, added] = /^dilution\((.+), (.+)\)$/.exec(text) || [];
    if (part) return [make('span', { class: 'code-call' }, 'dilution'), sign('('), value(part), sign(','), ' ', value(added), sign(')')];
    return [/^[-+]?\d/.test(text) ? value(text) : text];
  }

  // The formula with names replaced by numbers: those of given values and figures of this page, or
  // of one that it draws on (mix.water). Names that the formula binds itself stay, as do columns of
  // data files.
  function withNumbers(code, exact) {
    const pieces = [...code.childNodes].flatMap((n) => n.nodeType === 3 ? n.data.split(/([A-Za-z]\w*)/) : [n.cloneNode(true)]).filter((p) => p !== '');
    const textOf = (p) => p === undefined ? '' : (p.textContent ?? p).trim();
    const bound = new Set(), out = [];
    let before = '';
    for (let i = 0; i < pieces.length; i++) {
      const piece = pieces[i];
      if (typeof piece !== 'string' || !/^[A-Za-z]/.test(piece)) {
        out.push(piece);
        before = textOf(piece) || before;
        continue;
      }
      if (before === 'let') bound.add(piece);
      const further = textOf(pieces[i + 1]) === '.';
      const text = before === 'let' || bound.has(piece) ? null : exact(further ? piece + '.' + textOf(pieces[i + 2]) : piece);
      if (text !== null) out.push(...put(text));
      else out.push(...pieces.slice(i, further ? i + 3 : i + 1));
      if (further) i += 2;
      before = '';
    }
    return make('code', {}, ...out);
  }

  let touched = false; // the lines that came with the page stay until values first change
  function paint() {
    touched = touched || !isAsMade();
    if (!more.open || !touched) return;
    const exact = hand.gone ? null : sheet.exact();
    for (const { name, formula, numbers, result } of rows) {
      numbers.hidden = result.hidden = hand.gone;
      if (hand.gone) continue;
      const q = make('span', { class: 'q' }), figure = hand.result.figures[name], full = exact(name);
      writeValue(q, figure);
      numbers.replaceChildren(withNumbers(formula, exact));
      result.replaceChildren(make('strong', {}, q));
      if (figure.shown !== null && full !== figure.shown) result.append(' ', make('span', { class: 'unrounded' }, 'unrounded ', span(full)));
    }
  }
  document.addEventListener('hand', paint);
  more.addEventListener('toggle', paint);
  hand.own.follows();
  paint();
})();
