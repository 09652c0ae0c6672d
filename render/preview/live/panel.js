// The panel of numbers: what a save changed, or how a number came about.

let view = null; // 'save', or how the number shown is asked for
const value = (text) => text === '' ? make('i', {}, 'none') : make('span', { class: 'value' }, text);

function show(parts) {
  const close = make('button', { type: 'button', class: 'close' }, 'Close');
  close.addEventListener('click', hide);
  const top = panel.scrollTop;
  panel.replaceChildren(close, ...parts);
  panel.hidden = false;
  panel.scrollTop = top;
}
function hide() {
  view = null;
  panel.hidden = true;
  panel.replaceChildren();
}
addOwn(document, 'keydown', (e) => { if (e.key === 'Escape' && view) hide(); });
panel.addEventListener('keydown', (e) => { if (e.key === 'Escape') hide(); });
