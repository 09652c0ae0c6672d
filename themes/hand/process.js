// The run sheet is loaded on request, or if a run of this page is on, in this tab or another. Until
// then its button is here; process.js replaces it by its own.

function offerProcess() {
  const list = document.querySelector('#Steps ol.steps');
  if (!list || !('showModal' in HTMLDialogElement.prototype)) return;
  const opener = make('button', { type: 'button', class: 'button' }, 'Run this process');
  const line = make('p', { class: 'run-line', role: 'status' });
  const desk = make('div', { class: 'run-desk' }, opener, line);
  const follow = () => { opener.disabled = gone; };
  const load = (opened) => Promise.all(['process.css', 'process.js'].map((name) => globalThis.later(name))).then(() => {
    desk.remove();
    document.removeEventListener('hand', follow);
    const own = document.querySelector('.run-desk .button');
    if (!opened || !own) return;
    own.focus(); // the focus returns here when the sheet is closed
    own.click();
  }, () => { line.textContent = 'The run sheet did not load. Try again.'; });
  opener.addEventListener('click', () => load(true));
  document.addEventListener('hand', follow);
  follow();
  list.before(desk);
  const look = () => { if (globalThis.later.run) load(); };
  look();
  addEventListener('storage', look);
}
