// What stands on the page, and what sets all going.

const desk = make('div', { class: 'run-desk' });
const opener = button('', () => (run ? open() : begin()));
const line = make('p', { class: 'run-line' });
function paintDesk() {
  const none = !run && hand && hand.gone;
  opener.textContent = run ? 'Show the run sheet' : 'Run this process';
  opener.disabled = !!none;
  text(line, !run ? '' : run.ended ? 'The process is over.' : run.started === null ? 'It holds before: ' + step().name + '.'
    : 'Running: ' + step().name + (step().seconds === null ? '' : ', ' + clock(Math.ceil(step().seconds - seconds())) + ' left') + '.');
}

function tick() {
  if (run) {
    look();
    remind();
    paint();
  }
}

if (list && 'showModal' in HTMLDialogElement.prototype) {
  desk.append(opener, line);
  list.before(desk);
  load();
  if (run && !run.ended && hand && run.settings !== hand.settings()) hand.take(run.settings);
  look();
  paint();
  try { if (run && sessionStorage.getItem(key)) open(); } catch { /* nothing to open */ }
  setInterval(tick, 250);
  addEventListener('storage', (e) => {
    if (e.key !== key) return;
    load();
    told = run && run.started !== null ? seconds() : -1;
    if (!run) silence();
    if (!run && dialog && dialog.open) dialog.close();
    paint();
  });
  document.addEventListener('visibilitychange', tick);
  document.addEventListener('hand', paintDesk);
}
