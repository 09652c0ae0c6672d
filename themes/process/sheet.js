// The sheet itself: its face, and the buttons, which stay in view.

let dialog = null, dim = false, asked = '';

// Two presses for what cannot be undone.
let lateAsked = 0;
const sure = (what, does) => () => {
  clearTimeout(lateAsked);
  if (asked === what) {
    asked = '';
    does();
    return;
  }
  asked = what;
  paint();
  lateAsked = setTimeout(() => { asked = ''; paint(); }, 5000);
};

// black from the start of a dark step until a long press, even after its time is over: only the
// person holding the film knows when it is safe
const inDark = () => !!run && !!run.black;
const parts = {};
const part = (name, kind, tag = 'p') => { parts[name] = make(tag, { class: kind }); return parts[name]; };
function buildButtons() {
  parts.main = button('', () => parts.main.does());
  parts.pause = button('', pause);
  parts.back = button('Back', back);
  parts.hold = button('Hold before the next step', () => { run.held = !run.held; save(); paint(); });
  parts.follow = button('Steps go on by themselves', () => {
    run.follow = !run.follow;
    did(run.follow ? 'From here on steps go on by themselves when their time is over.' : 'Steps no longer go on by themselves.');
  });
  parts.again = button('', sure('again', startStep));
  parts.stop = button('', sure('stop', stop));
  parts.without = button('', sure('without', without));
  parts.share = button('Share the record', shareRecord);
  parts.end = button('', () => (run.saved ? finish() : sure('end', finish)()));
  parts.close = button('Show the page', () => dialog.close());
  parts.sound = button('Sound', turnSound);
  parts.buzz = button('Vibration', turnBuzz);
  parts.dim = button('', () => {
    if (going() && step().dark) run.black = true;
    else dim = !dim;
    save();
    paint();
  });
}
function buildBlack() {
  parts.black = make('button', { type: 'button', class: 'run-black', 'aria-label': 'A dark step is under way. Press and hold for two seconds to show the run sheet.', hidden: true });
  let press = 0;
  const down = (e) => {
    if (e.type === 'keydown' && (e.repeat || !['Enter', ' '].includes(e.key))) return;
    clearTimeout(press);
    press = setTimeout(() => { run.black = false; save(); paint(); }, 2000);
  };
  const up = () => clearTimeout(press);
  parts.black.addEventListener('pointerdown', down);
  parts.black.addEventListener('keydown', down);
  ['pointerup', 'pointercancel', 'pointerleave', 'keyup', 'blur'].forEach((n) => parts.black.addEventListener(n, up));
  parts.black.addEventListener('contextmenu', (e) => e.preventDefault());
}
function build() {
  dialog = make('dialog', { class: 'run-sheet', 'aria-labelledby': 'Run-title', closedby: 'none' });
  buildButtons();
  buildBlack();
  buildHold();
  buildEnd();
  buildAnew();
  parts.title = make('h2', { id: 'Run-title', class: 'run-title' });
  parts.passedBy = button('', () => answer(true));
  parts.notPassed = button('', () => answer(false));
  parts.question = make('div', { class: 'run-question', role: 'alert' }, part('asks'), parts.passedBy, parts.notPassed);
  dialog.append(
    make('div', { class: 'run-face' },
      parts.anew, part('of', 'run-of'), parts.title, part('caution', 'run-caution'), parts.question,
      make('p', { class: 'run-left', role: 'timer' }, part('left', '', 'span')),
      part('passed', 'run-passed'), part('now', 'run-now'), parts.initials.element, parts.readings, parts.endBox,
      part('then', 'run-then'), part('aim', 'run-aim'), part('note', 'run-note'), part('next', 'run-next'), part('notice', 'run-notice'),
      make('div', { class: 'run-options', role: 'group', 'aria-label': 'Signals and display' }, parts.hold, parts.follow, parts.sound, parts.buzz, parts.dim, parts.close),
      part('dimmed', 'run-dimmed'), part('cannot', 'run-kept'), part('kept', 'run-kept')),
    make('div', { class: 'run-buttons' }, parts.main, parts.share, parts.pause, parts.back, parts.without, parts.again, parts.stop, parts.end),
    parts.black, live);
  dialog.addEventListener('close', () => {
    // a browser closes a dialog at the second press of Escape, or of a phone's back button,
    // whatever the page says; it must open again, since no page may light up in the dark
    if (inDark()) {
      dialog.showModal();
    } else {
      if (run && !run.made) run = null; // nothing has begun
      try { sessionStorage.removeItem(key); } catch { /* the run itself is kept elsewhere */ }
    }
    paint();
  });
  dialog.addEventListener('cancel', (e) => { if (inDark()) e.preventDefault(); });
  document.body.append(dialog);
}
function open() {
  if (!dialog) build();
  if (!dialog.open) dialog.showModal();
  dialog.firstChild.scrollTop = 0;
  try { sessionStorage.setItem(key, 'open'); } catch { /* then it has to be opened again by hand */ }
  paint();
  (parts.main.hidden || parts.main.disabled ? parts.close : parts.main).focus();
}
