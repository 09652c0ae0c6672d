// The sheet itself.

let dialog = null, dim = false, asked = '';
const make = (name, attributes = {}, ...children) => {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v === true ? '' : v);
  e.append(...children);
  return e;
};
const button = (text, does) => {
  const b = make('button', { type: 'button', class: 'button' }, text);
  b.addEventListener('click', does);
  return b;
};

// Two presses for what cannot be taken back.
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

// black from the start of a dark step until somebody presses long, also when its time is
// over: nobody knows when the film is safe but who holds it
const inDark = () => !!run && !!run.black;
const parts = {};
function build() {
  dialog = make('dialog', { class: 'run-sheet', 'aria-labelledby': 'Run-title', closedby: 'none' });
  const p = (name, kind, tag = 'p') => { parts[name] = make(tag, { class: kind }); return parts[name]; };
  parts.title = make('h2', { id: 'Run-title', class: 'run-title' });
  parts.main = button('', () => parts.main.does());
  parts.hold = button('Hold before the next step', () => { run.held = !run.held; save(); paint(); });
  parts.again = button('', sure('again', startStep));
  parts.stop = button('', sure('stop', finish));
  parts.close = button('Show the page', () => dialog.close());
  parts.sound = button('Sound', turnSound);
  parts.buzz = button('Vibration', turnBuzz);
  parts.dim = button('', () => {
    if (run.started !== null && step().dark) run.black = true;
    else dim = !dim;
    save();
    paint();
  });
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
  dialog.append(
    p('of', 'run-of'), parts.title,
    p('caution', 'run-caution'),
    make('p', { class: 'run-left', role: 'timer' }, p('left', '', 'span')),
    p('passed', 'run-passed'), p('now', 'run-now'), p('then', 'run-then'), p('note', 'run-note'), p('next', 'run-next'),
    make('div', { class: 'run-buttons' }, parts.main, parts.hold, parts.again, parts.stop),
    p('notice', 'run-notice'),
    make('div', { class: 'run-options', role: 'group', 'aria-label': 'Signals and display' }, parts.sound, parts.buzz, parts.dim, parts.close),
    p('dimmed', 'run-dimmed'), p('cannot', 'run-kept'), p('kept', 'run-kept'), parts.black, live);
  dialog.addEventListener('close', () => {
    // a browser closes a dialog at the second press of Escape, or of a phone's back button,
    // whatever the page says: no page is lit in the dark
    if (inDark()) {
      dialog.showModal();
    } else {
      try { sessionStorage.removeItem(key); } catch { /* the run is kept elsewhere */ }
    }
    paint();
  });
  dialog.addEventListener('cancel', (e) => { if (inDark()) e.preventDefault(); });
  document.body.append(dialog);
}
function open() {
  if (!dialog) build();
  if (!dialog.open) dialog.showModal();
  try { sessionStorage.setItem(key, 'open'); } catch { /* it is only opened again by hand then */ }
  paint();
  (parts.main.hidden ? parts.hold : parts.main).focus();
}

const text = (e, t) => {
  if (e.textContent !== t) e.textContent = t;
  e.hidden = t === '';
};
function paint() {
  paintDesk();
  if (hand) hand.lock(run && !run.ended ? 'A process is running with these values. Stop it before you change them.' : '');
  stayAwake();
  if (!dialog) return;
  dialog.classList.toggle('dim', dim);
  document.documentElement.classList.toggle('run-open', dialog.open);
  if (!dialog.open || !run) return;
  const dark = inDark();
  parts.black.hidden = !dark;
  if (dark) {
    if (document.activeElement !== parts.black) parts.black.focus();
    return;
  }
  const s = run.ended ? null : step(), going = s && run.started !== null, at = going ? seconds() : 0;
  text(parts.of, run.ended ? '' : 'Step ' + (run.at + 1) + ' of ' + run.steps.length);
  text(parts.title, run.ended ? 'The process is over' : (going ? '' : 'Hold before: ') + s.name);
  text(parts.caution, s ? s.caution : '');
  text(parts.left, !s ? '' : going ? (s.seconds === null ? clock(at) : clock(Math.ceil(s.seconds - at))) : s.seconds === null ? '' : clock(s.seconds));
  text(parts.passed, !going ? '' : s.seconds === null ? 'since it began; this step has no time of its own' : 'left; ' + clock(at) + ' of ' + clock(s.seconds) + ' have passed');
  const events = s ? signals(s) : [];
  const soon = events.find(([when]) => when > at);
  let now = '';
  if (going) {
    if (s.pour !== null && at >= s.pour && s.pour < s.seconds) now = 'Pour out now';
    else if (s.first && at < s.first) now = 'Move the tank without pause, until ' + clock(s.first);
    else if (s.moments.some((m) => at >= m && at < m + Math.max(s.turning, 10))) now = 'Move the tank: ' + s.how;
    else now = s.said || (s.moments.length || s.first ? 'Leave the tank alone' : '');
  } else if (s && s.dark) {
    now = 'Darkness ahead. Read this through, lay out what you need, and leave this device outside: any screen fogs film and paper. When you start the step the screen shows nothing. Afterwards press the dark screen for two seconds.';
  } else if (s && run.at && run.steps[run.at - 1].hold) {
    now = 'Do not go on before the last step is initialled. Initials of: ' + run.steps[run.at - 1].hold + '.';
  }
  text(parts.now, now);
  text(parts.then, going && soon ? 'At ' + clock(soon[0]) + ', in ' + clock(Math.ceil(soon[0] - at)) + ': ' + soon[1] : '');
  text(parts.note, s ? [s.aim, s.note].filter(Boolean).join(' ') : '');
  const after = s && run.steps[run.at + 1];
  text(parts.next, !s ? '' : after ? 'Next: ' + after.name + (after.seconds === null ? '' : ', ' + clock(after.seconds)) + (run.held || s.hold || s.dark || after.dark ? '. It holds first.' : '') : 'This is the last step.');
  const say = (e, label, does) => { e.textContent = label; e.hidden = label === ''; e.does = does; };
  if (run.ended) say(parts.main, 'Close this run', finish);
  else if (!going) say(parts.main, s.dark ? 'Start the dark step: the screen goes black' : 'Start: ' + s.name, startStep);
  else say(parts.main, s.seconds === null || s.dark ? (after ? 'Done: on to ' + after.name : 'Done') : '', next);
  parts.hold.hidden = !going || !after || s.seconds === null;
  parts.hold.setAttribute('aria-pressed', !!run.held);
  parts.again.hidden = !going;
  parts.again.textContent = asked === 'again' ? 'Press again: this step from 0:00' : 'Start this step again';
  parts.stop.hidden = !!run.ended;
  parts.stop.textContent = asked === 'stop' ? 'Press again: the run is given up' : 'Stop the run';
  text(parts.notice, run.notice);
  parts.sound.hidden = deaf;
  parts.buzz.hidden = still;
  parts.sound.setAttribute('aria-pressed', !!sound);
  parts.buzz.setAttribute('aria-pressed', buzz);
  parts.dim.textContent = going && s.dark ? 'Black screen' : 'Dim display';
  parts.dim.setAttribute('aria-pressed', dim);
  text(parts.dimmed, dim ? 'Dimmer, for eyes used to the dark. It is no safelight: any screen fogs film and paper.' : '');
  text(parts.cannot, cannot());
  text(parts.kept, (run.revision ? 'This run keeps ' + run.revision + (run.revision !== revision ? '; the page is ' + revision + ' by now' : '') + '. ' : '') +
    (run.changed || ''));
  // a button that went away leaves no reader with a keyboard behind
  if (document.activeElement === document.body) [parts.main, parts.hold, parts.again, parts.close].find((b) => !b.hidden).focus();
}
