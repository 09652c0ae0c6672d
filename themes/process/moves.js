// What a reader can do with a run, and what it does by itself.

function ready() {
  if (hand && hand.gone) return;
  const said = document.querySelector('.changed:not([hidden])')?.cloneNode(true);
  if (said) said.querySelector('.changed-revision')?.remove();
  const readings = hand ? hand.sheet.given.filter((g) => g.reading).map((g) => [g.name, g.title]) : [];
  const labels = [...document.querySelectorAll('.figure[data-figure]')].map((e) => [e.dataset.figure, words(e.querySelector('dt'))]);
  run = { form: formOf, lab, page, readings, labels, title: words(document.querySelector('h1')), settings: hand ? hand.settings() : '', changed: words(said), values: bench.values(), revision: revised, number: number || '', revisionNumber: Number(revision || 0), stamp,
    steps: read(), at: 0, made: 0, ended: 0, stopped: false, saved: false, held: false, follow: false, paused: 0, shift: 0, question: null, events: [], notice: '', black: false, loud: '', note: '', asking: -1 };
  told = -1;
  open();
}

const did = (what) => {
  if (what) happened(what);
  told = -1;
  asked = '';
  save();
  seen();
  paint();
};

// Moving on accepts what the clock said about the time when the page was closed.
function move() {
  watch();
  if (run.question && run.question.closed) run.question = null;
}
function startStep() {
  move();
  const s = step(), again = s.begin;
  s.begin = now();
  s.end = s.idle = run.paused = 0;
  s.by = s.drawn = '';
  s.open = run.held = false;
  if (!run.made) run.made = s.begin;
  run.black = s.dark;
  did(again ? 'Again: ' + s.name + ' from 0:00.' : '');
}
// stands says how far a step has got, for the record
const stands = (s) => s.name + ' at ' + clock(seconds()) + (s.seconds === null ? '' : ' of ' + clock(s.seconds));
function next() {
  move();
  const s = step(), what = 'Next: from ' + stands(s) + '.';
  goOn();
  s.end = now();
  if (s.hold) did(what);
  else advance(what);
}
function advance(what) {
  const s = step();
  if (run.at + 1 >= run.steps.length) {
    run.ended = now();
    run.black = false;
    silence();
  } else {
    run.at++;
    const t = step();
    t.end = t.idle = 0;
    t.begin = run.held || s.hold || s.dark || t.dark ? 0 : Math.max(s.end, now());
    run.held = false;
  }
  did(what);
}
function initial({ by, drawn }) {
  move();
  const s = held();
  s.by = by;
  s.drawn = drawn || '';
  s.open = false;
  if (run.ended) {
    run.asking = -1;
    run.saved = false;
    did('Initialled at the end: ' + s.name + '.');
  } else {
    advance('');
  }
}
function without() {
  move();
  const s = held();
  if (run.ended) {
    run.asking = -1;
    did('');
    return;
  }
  s.open = true;
  advance('Went on from ' + s.name + ' without initials of: ' + s.hold + '.');
}
function pause() {
  move();
  if (run.paused) {
    const what = 'Went on with ' + step().name + ' after a pause of ' + clock((now() - run.paused) / 1000) + '.';
    goOn();
    did(what);
  } else {
    const what = 'Paused: ' + stands(step()) + '.';
    run.paused = now();
    did(what);
  }
}
function goOn() {
  if (!run.paused) return;
  step().idle += now() - run.paused;
  run.paused = 0;
}
// back undoes the last move: the step before goes on counting from its own start.
function back() {
  move();
  const s = step();
  if (run.ended) {
    run.ended = 0;
    run.stopped = run.saved = false;
    run.asking = -1;
    if (!s.end) { // it was stopped in the middle
      did('Back: to ' + s.name + '.');
      return;
    }
  } else if (!held()) {
    const was = s.begin ? stands(s) : s.name + ', not begun';
    s.begin = s.end = s.idle = run.paused = 0;
    s.open = false;
    if (run.at === 0) {
      did('Back: from ' + was + ' to before its start.');
      return;
    }
    run.at--;
    happened('Back: from ' + was + ' to ' + step().name + '.');
  }
  const t = step();
  if (t.by) happened('The initials ' + t.by + ' of ' + t.name + ' no longer count.');
  t.end = 0;
  t.by = t.drawn = '';
  t.open = false;
  run.black = false;
  did(s === t ? 'Back: to ' + t.name + '.' : '');
}
function stop() {
  move();
  const what = 'Stopped' + (going() ? ' in ' + stands(step()) : ' before ' + step().name) + '.';
  goOn();
  run.ended = now();
  run.stopped = true;
  run.black = false;
  silence();
  did(what);
}
function finish() {
  run = null;
  asked = '';
  silence();
  save();
  seen();
  if (dialog) dialog.close();
  paint();
}

// When its time is over, a step may go on by itself if the reader wants that: only while the sheet
// is watching the clock, never past a hold, never into darkness or out of it, and never across time
// that it did not watch.
let lastLook = 0;
function look() {
  watch();
  seen();
  const t = now(), watched = t - lastLook < 3000;
  lastLook = t;
  if (!going() || run.paused || !run.follow || !watched) return;
  const s = step(), after = run.steps[run.at + 1];
  const end = s.begin + s.idle + s.seconds * 1000;
  if (s.seconds === null || t < end || t - end > 3000 || s.hold || s.dark || run.held || !after || after.dark || after.seconds === null) return;
  s.end = end;
  advance('By itself: from ' + s.name + ' to ' + after.name + '.');
  after.begin = end;
  tell('Over: ' + s.name + '. Now: ' + after.name + '.', true);
  save();
}

// A reading entered on the page during a run joins the run, and the times of steps that depend on
// it follow. If the page was republished, the run has fields of its own (anew.js).
function takeReadings() {
  if (!run || run.saved || other() || !hand || hand.gone || hand.settings() === run.settings) return;
  run.settings = hand.settings();
  run.values = bench.values();
  newTimes(read());
  save();
}
