// What stands on the page, and starting everything.

const desk = make('div', { class: 'run-desk' });
const opener = button('', () => (run ? open() : ready()));
const line = make('p', { class: 'run-line' });
function paintDesk() {
  desk.hidden = !list && !run;
  const none = !run && hand && hand.gone;
  opener.textContent = run ? 'Show the run sheet' : 'Run this process';
  opener.disabled = !!none;
  const on = run && run.made;
  text(line, !on ? '' : run.ended ? (run.saved ? 'The process is over.' : 'The process is over, and its record is not saved yet.') : !going() ? (held() ? 'It holds after: ' : 'It holds before: ') + step().name + '.'
    : (run.paused ? 'Paused: ' : 'Running: ') + step().name + (step().seconds === null ? '' : ', ' + (seconds() >= step().seconds ? 'over' : clock(Math.ceil(step().seconds - seconds())) + ' left')) + '.');
}

function tick() {
  if (run && run.made) {
    look();
    remind();
  }
  if (run) paint();
}
// take sets the page to the values of the run.
function take() {
  if (under() && hand && !other() && run.settings !== hand.settings()) hand.take(run.settings);
}

function start() {
  desk.append(opener, line);
  // if the page no longer has steps, the run must still be ended
  if (list) list.before(desk);
  else document.querySelector('main').prepend(desk);
  load();
  if (under() && hand && run.settings !== hand.settings()) hand.take(run.settings);
  publishedAnew();
  returned();
  look();
  paint();
  try { if (run && sessionStorage.getItem(key)) open(); } catch { /* nothing to open */ }
  setInterval(tick, 250);
  addEventListener('storage', (e) => {
    if (e.key !== key) return;
    const ready = run && !run.made;
    if (ready && e.newValue === null) return;
    load();
    take();
    publishedAnew();
    told = going() ? seconds() : -1;
    if (!run) silence();
    if (!run && dialog && dialog.open) dialog.close();
    paint();
  });
  document.addEventListener('visibilitychange', tick);
  document.addEventListener('hand', () => {
    takeReadings();
    paintDesk();
  });
  // the line that leads here from every page (under-way.js)
  addEventListener('click', (e) => {
    if (run && run.made && e.target.closest && e.target.closest('.run-bar a[href="#Steps"]')) open();
  });
}
load();
if ((list || run) && 'showModal' in HTMLDialogElement.prototype) start();
