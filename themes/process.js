/* The steps of a page as a run sheet with a clock. It reads the steps from the page (see
   steps.html for their data attributes), keeps what it needs of a run in the browser's
   store, and counts from stored moments: a locked screen, a closed tab or a page loaded
   again cost it nothing. A clock that is set back is noticed and made up for.

   It never begins by itself. Steps follow one another, for film in a bath does not wait;
   it holds before a step where the reader or the page says so, before and after darkness,
   and at steps without a time. There is no pause within a step. */
(function () {
  'use strict';

  const section = document.getElementById('Steps');
  const list = section && section.querySelector('ol.steps');
  if (!list || !('showModal' in HTMLDialogElement.prototype)) return;
  const rows = () => [...list.querySelectorAll('.step')];
  const key = 'labsite-run ' + location.pathname;
  const hand = globalThis.hand;
  const store = (() => {
    try {
      localStorage.setItem('labsite-try', '1');
      localStorage.removeItem('labsite-try');
      return localStorage;
    } catch {
      const kept = new Map();
      return { getItem: (k) => kept.get(k) ?? null, setItem: (k, v) => kept.set(k, v), removeItem: (k) => kept.delete(k) };
    }
  })();

  const make = (name, attributes = {}, ...children) => {
    const e = document.createElement(name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v === true ? '' : v);
    e.append(...children);
    return e;
  };
  const button = (text, does, kind = '') => {
    const b = make('button', { type: 'button', class: 'button ' + kind }, text);
    b.addEventListener('click', does);
    return b;
  };
  const clock = (seconds) => {
    const n = Math.max(0, seconds), h = Math.floor(n / 3600), m = Math.floor(n / 60) % 60, s = Math.floor(n) % 60;
    const two = (v) => String(v).padStart(2, '0');
    return (h ? h + ':' + two(m) : m) + ':' + two(s);
  };
  const words = (e) => e ? e.textContent.replace(/\s+/g, ' ').trim() : '';
  const revision = [...document.querySelectorAll('.control-line li')].slice(0, 2).map(words).filter((t) => /\d/.test(t)).join(', ');

  // A run is {settings, revision, steps, at, started, held, last, notice, ended}: started is
  // the moment at which step number at began, null while it waits to be begun; last is the
  // latest moment seen. Moments are milliseconds of the device's clock, all else seconds.

  let run = null, dialog = null, dim = false, sound = null, buzz = false, wake = null, shownDark = false, asked = '';

  const load = () => {
    try { run = JSON.parse(store.getItem(key)); } catch { run = null; }
    if (run && !(Array.isArray(run.steps) && run.steps[run.at] || run && run.ended)) run = null;
  };
  const save = () => {
    if (run) store.setItem(key, JSON.stringify(run));
    else store.removeItem(key);
  };

  const read = () => rows().map((li) => {
    const d = li.dataset, caution = li.querySelector('.safety');
    const numbers = (text) => text ? text.split(' ').map(Number) : [];
    return {
      name: words(li.querySelector('.step-do strong')),
      seconds: d.seconds ? Number(d.seconds) : null,
      first: Number(d.first || 0), moments: numbers(d.moments), pour: d.pour ? Number(d.pour) : null,
      how: d.inversions ? d.inversions + (d.inversions === '1' ? ' inversion' : ' inversions') : d.turning ? 'turn for ' + d.turning + ' s' : 'again',
      turning: Number(d.turning || 0),
      said: d.moments || d.first ? '' : words(li.querySelector('.step-agitate')),
      note: words(li.querySelector('.step-note')), aim: words(li.querySelector('.step-aim')),
      caution: caution ? words(caution.querySelector('.safety-word')) + ': ' + words(caution.querySelector('.safety-text')) : '',
      hold: d.hold || '', dark: 'dark' in d,
    };
  });

  const seconds = () => (run.last - run.started) / 1000;
  const step = () => run.steps[run.at];

  // Counting. Steps that ended since the last look are gone through one by one, each
  // begun when the one before it ended.
  let lastNow = 0, lastTick = 0;
  function look() {
    if (!run || run.ended) return;
    const now = Date.now(), tick = performance.now();
    if (now < run.last - 1000) {
      const back = run.last - now;
      if (run.started !== null) run.started -= back;
      run.notice = 'The clock of this device was set back by ' + clock(Math.round(back / 1000)) + '. The run went on counting; compare it with another clock.';
    } else if (lastTick && tick - lastTick < 5000 && now - lastNow - (tick - lastTick) > 5000) {
      run.notice = 'The clock of this device went forward by ' + clock(Math.round((now - lastNow) / 1000)) + ' at once: it slept, or it was set. Compare the run with another clock.';
    }
    run.last = now;
    lastNow = now;
    lastTick = tick;
    while (run.started !== null && step().seconds !== null && seconds() >= step().seconds) {
      const end = run.started + step().seconds * 1000;
      const before = step();
      if (run.at + 1 >= run.steps.length) {
        run.ended = end;
        run.started = null;
        tell('The last step is over.', true);
        break;
      }
      run.at++;
      const waits = run.held || before.hold || before.dark || step().dark || step().seconds === null;
      run.started = waits ? null : end;
      run.held = false;
      tell(waits ? 'Over: ' + before.name + '. It holds before ' + step().name + '.' : 'Now: ' + step().name + '.', true);
      told = -1;
    }
    save();
  }

  // What is told at a moment of a step: aloud by a screen reader, by sound and vibration
  // where they were asked for.
  let told = -1;
  const signals = (s) => [
    ...(s.first ? [[0, 'Move the tank without pause for ' + clock(s.first) + '.'], [s.first, 'Leave the tank alone.']] : []),
    ...s.moments.map((m) => [m, 'Move the tank: ' + s.how + '.']),
    ...(s.pour !== null && s.pour < s.seconds ? [[s.pour, 'Start pouring out.']] : []),
  ].sort((a, b) => a[0] - b[0]);
  function remind() {
    if (!run || run.started === null) return;
    const at = seconds();
    if (told < 0) told = at < 1 ? -.5 : at;
    for (const [when, text] of signals(step())) {
      if (when > told && when <= at && at - when < 3) tell(text, false);
    }
    told = Math.max(told, at);
  }
  const live = make('p', { class: 'unseen', role: 'status' });
  function tell(text, strong) {
    live.textContent = text;
    if (sound) {
      for (let i = 0; i < (strong ? 3 : 1); i++) {
        const tone = sound.createOscillator(), level = sound.createGain(), at = sound.currentTime + i * .35;
        tone.frequency.value = strong ? 880 : 660;
        level.gain.setValueAtTime(.0001, at);
        level.gain.exponentialRampToValueAtTime(.4, at + .02);
        level.gain.exponentialRampToValueAtTime(.0001, at + .28);
        tone.connect(level).connect(sound.destination);
        tone.start(at);
        tone.stop(at + .3);
      }
    }
    if (buzz && navigator.vibrate) navigator.vibrate(strong ? [300, 150, 300] : 200);
  }

  async function stayAwake() {
    const wanted = run && !run.ended && dialog && dialog.open && !inDark() && document.visibilityState === 'visible';
    if (wanted && !wake && navigator.wakeLock) {
      try {
        wake = await navigator.wakeLock.request('screen');
        wake.addEventListener('release', () => { wake = null; });
      } catch { wake = null; }
    } else if (!wanted && wake) {
      wake.release();
      wake = null;
    }
  }

  // What a reader can do.

  function begin() {
    if (hand && hand.gone) return;
    run = { settings: hand ? hand.settings() : '', revision, steps: read(), at: 0, started: null, held: false, last: Date.now(), notice: '', ended: 0 };
    if (!run.steps[0].dark) run.started = run.last;
    told = -1;
    save();
    open();
  }
  function startStep() {
    look();
    run.started = run.last = Date.now();
    run.held = false;
    told = -1;
    shownDark = false;
    asked = '';
    save();
    paint();
  }
  function next() {
    look();
    if (run.at + 1 >= run.steps.length) {
      run.ended = run.last;
      run.started = null;
    } else {
      const before = step();
      run.at++;
      run.started = before.hold || before.dark || step().dark ? null : run.last;
      told = -1;
    }
    asked = '';
    save();
    paint();
  }
  function finish() {
    run = null;
    asked = '';
    save();
    if (dialog) dialog.close();
    paint();
  }
  // Two presses for what cannot be taken back.
  const sure = (what, does) => () => {
    if (asked === what) {
      asked = '';
      does();
      return;
    }
    asked = what;
    paint();
    clearTimeout(sure.late);
    sure.late = setTimeout(() => { asked = ''; paint(); }, 5000);
  };

  // The sheet.

  const inDark = () => run && !run.ended && run.started !== null && step().dark && !shownDark;
  const parts = {};
  function build() {
    dialog = make('dialog', { class: 'run-sheet', 'aria-labelledby': 'Run-title' });
    const p = (name, kind, tag = 'p') => { parts[name] = make(tag, { class: kind }); return parts[name]; };
    parts.title = make('h2', { id: 'Run-title', class: 'run-title' });
    parts.main = button('', () => parts.main.does());
    parts.hold = button('Hold before the next step', () => { run.held = !run.held; save(); paint(); });
    parts.again = button('', sure('again', startStep));
    parts.stop = button('', sure('stop', finish));
    parts.close = button('Show the page', () => dialog.close());
    parts.sound = button('Sound', () => {
      if (sound) { sound.close(); sound = null; } else { sound = new AudioContext(); tell('Sound is on.', false); }
      paint();
    });
    parts.buzz = button('Vibration', () => { buzz = !buzz; if (buzz) tell('Vibration is on.', false); paint(); });
    parts.dim = button('Dim display', () => { dim = !dim; paint(); });
    if (!navigator.vibrate) parts.buzz.hidden = true;
    parts.black = make('button', { type: 'button', class: 'run-black', 'aria-label': 'A dark step is under way. Press and hold for two seconds to show the run sheet.', hidden: true });
    let press = 0;
    const down = (e) => {
      if (e.type === 'keydown' && (e.repeat || !['Enter', ' '].includes(e.key))) return;
      clearTimeout(press);
      press = setTimeout(() => { shownDark = true; paint(); }, 2000);
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
      p('dimmed', 'run-dimmed'), p('kept', 'run-kept'), parts.black, live);
    dialog.addEventListener('close', () => {
      try { sessionStorage.removeItem(key); } catch { /* the run is kept elsewhere */ }
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
      now = 'Do not go on before the ' + run.steps[run.at - 1].hold + ' has initialled.';
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
    parts.sound.setAttribute('aria-pressed', !!sound);
    parts.buzz.setAttribute('aria-pressed', buzz);
    parts.dim.setAttribute('aria-pressed', dim);
    text(parts.dimmed, dim ? 'Dimmer, for eyes used to the dark. It is no safelight: any screen fogs film and paper.' : '');
    text(parts.kept, (run.revision ? 'This run keeps ' + run.revision + (run.revision !== revision ? '; the page is ' + revision + ' by now' : '') + '. ' : '') +
      (run.settings ? 'Changed from the tested values: ' + decodeURIComponent(run.settings.replace(/&/g, ', ').replace(/=/g, ' ')) + '.' : ''));
  }

  // What stands on the page itself.

  const desk = make('div', { class: 'run-desk' });
  const opener = button('', () => (run ? open() : begin()));
  const line = make('p', { class: 'run-line' });
  desk.append(opener, line);
  list.before(desk);
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
    if (!run && dialog && dialog.open) dialog.close();
    paint();
  });
  document.addEventListener('visibilitychange', tick);
  document.addEventListener('hand', paintDesk);
})();
