// What is wrong, on a sheet over the page.

let folded = false;
function paintSheet() {
  const errors = last ? last.errors : [];
  sheet.hidden = !errors.length;
  sheet.classList.toggle('folded', folded);
  if (!errors.length) {
    folded = false;
    return sheet.replaceChildren();
  }
  const fold = make('button', { type: 'button', class: 'fold', 'aria-expanded': String(!folded) }, folded ? 'Unfold' : 'Fold');
  fold.addEventListener('click', () => { folded = !folded; paintSheet(); });
  const title = errors.length === 1 ? 'One thing to mend' : errors.length + ' things to mend';
  const below = last.found && document.querySelector('main:not([data-instead]) h1') ? 'Below is the page as it was when it was last right.' : '';
  const files = new Map();
  for (const n of errors) files.set(n.file, [...(files.get(n.file) || []), n]);
  const list = make('div', { class: 'wrongs' });
  for (const [file, notes] of files) {
    list.append(make('h2', {}, file));
    for (const n of notes) {
      const item = make('article', { class: 'wrong' }, make('p', { class: 'said' }, n.message.charAt(0).toUpperCase() + n.message.slice(1) + '.'));
      if (n.text) {
        const from = n.mark.indexOf('^'), to = n.mark.lastIndexOf('^') + 1;
        const letters = [...n.text];
        item.append(make('pre', { tabindex: '0' }, make('span', { class: 'number' }, String(n.line)),
          letters.slice(0, from).join(''), make('mark', {}, letters.slice(from, to).join('') || ' '), letters.slice(to).join('')));
      }
      if (n.hint) item.append(make('p', { class: 'mend' }, make('b', {}, 'To mend it: '), n.hint));
      item.append(placeOf(n));
      list.append(item);
    }
  }
  sheet.replaceChildren(make('div', { class: 'top' }, make('h1', {}, title), below ? make('p', {}, below) : null, fold), list);
}
