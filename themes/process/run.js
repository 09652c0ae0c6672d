/* The steps of a page as a run sheet with a clock. It reads the steps from the page (see
   steps.html for their data attributes), keeps what it needs of a run in the browser's
   store, and counts from stored moments: a locked screen, a closed tab or a page loaded
   again cost it nothing. A clock that is set back is noticed and made up for.

   It never begins by itself. Steps follow one another, for film in a bath does not wait;
   it holds before a step where the reader or the page says so, before and after darkness,
   and at steps without a time. There is no pause within a step.

   The files of this folder are joined and share the names declared outside their functions
   (render/site/scripts.go says in which order). This one holds the run and counts it. */

const list = document.querySelector('#Steps ol.steps');
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
const clock = (seconds) => {
  const n = Math.max(0, seconds), h = Math.floor(n / 3600), m = Math.floor(n / 60) % 60, s = Math.floor(n) % 60;
  const two = (v) => String(v).padStart(2, '0');
  return (h ? h + ':' + two(m) : m) + ':' + two(s);
};
const words = (e) => e ? e.textContent.replace(/\s+/g, ' ').trim() : '';
const revision = [...document.querySelectorAll('.control-line li')].slice(0, 2).map(words).filter((t) => /\d/.test(t)).join(', ');

// A run is {settings, changed, revision, steps, at, started, held, last, notice, ended, black, loud}:
// changed is settings in words; started is the moment at which step number at began, null while it waits to be begun;
// last is the latest moment seen; black says that the screen shows nothing; loud names the
// signals that were asked for. Moments are milliseconds of the device's clock, all else
// seconds.
let run = null;
const load = () => {
  try { run = JSON.parse(store.getItem(key)); } catch { run = null; }
  if (run && !(Array.isArray(run.steps) && run.steps[run.at] || run.ended)) run = null;
};
const save = () => {
  if (run) store.setItem(key, JSON.stringify(run));
  else store.removeItem(key);
};

const read = () => [...list.querySelectorAll('.step')].map((li) => {
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
  let news = '';
  while (run.started !== null && step().seconds !== null && seconds() >= step().seconds) {
    const end = run.started + step().seconds * 1000;
    const before = step();
    if (run.at + 1 >= run.steps.length) {
      run.ended = end;
      run.started = null;
      news = 'The last step is over.';
      break;
    }
    run.at++;
    const waits = run.held || before.hold || before.dark || step().dark || step().seconds === null;
    run.started = waits ? null : end;
    run.held = false;
    news = waits ? 'Over: ' + before.name + '. It holds before ' + step().name + '.' : 'Now: ' + step().name + '.';
    told = -1;
  }
  if (news) tell(news, true);
  save();
}

// What is told at a moment of a step.
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
    if (when > told && when <= at && at - when < 10) tell(text, false); // later it would mislead
  }
  told = Math.max(told, at);
}

// What a reader can do.

function begin() {
  if (hand && hand.gone) return;
  const said = document.querySelector('.changed:not([hidden])')?.cloneNode(true);
  if (said) said.querySelector('.changed-revision')?.remove();
  run = { settings: hand ? hand.settings() : '', changed: words(said), revision, steps: read(), at: 0, started: null, held: false, last: Date.now(), notice: '', ended: 0 };
  if (!run.steps[0].dark) run.started = run.last;
  told = -1;
  save();
  open();
}
function startStep() {
  look();
  run.started = run.last = Date.now();
  run.held = false;
  run.black = step().dark;
  told = -1;
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
  silence();
  save();
  if (dialog) dialog.close();
  paint();
}
