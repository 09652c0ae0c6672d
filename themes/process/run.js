/* The steps of a page as a run sheet with a clock. It reads the steps from the page (see
   steps.html for their data attributes), keeps what it needs of a run in the browser's store,
   and counts from stored moments, so that a locked screen, a closed tab or a reload costs it
   nothing.

   A run is ready before its clock starts. A step ends when somebody says so; until then it goes
   on counting, even past its time, and so does a hold that waits for initials. Every step can be
   paused, ended early and gone back from, and all of that is in the record with which a run ends
   (end.js, and bench, which is joined before this).

   The files of this folder are joined and share the names declared outside their functions
   (render/theme/scripts.go says in which order). This one holds the run. */

const list = document.querySelector('#Steps ol.steps');
const key = 'labsite-run ' + location.pathname, seenKey = 'labsite-seen ' + location.pathname;
const hand = globalThis.hand, bench = globalThis.bench;
const { make, button } = bench;
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
const { lab, page, number, revision } = bench.about ? bench.about.dataset : {};
const stamp = document.querySelector('meta[name="figures"]')?.content || '';
const revised = number ? number + ', Revision ' + revision : '';

// A run is {title, lab, page, settings, changed, values, readings, labels, revision, number,
// revisionNumber, stamp, anew, differs, steps, at, made, ended, stopped, saved, held, follow,
// paused, shift, question, events, notice, black, loud, note}. Moments are milliseconds of the
// device's clock corrected by shift (clock.js), everything else seconds. settings is as in an
// address, changed is the same in words, values is what the record holds of them; readings and
// labels list [name, words] of the readings and the labelled figures. anew says which state of the
// page was published during the run, and differs the first step that is different in it (anew.js).
// Besides what is read from the page, a step has begin, end, idle (milliseconds of its pauses), by
// and drawn (initials), open (gone on without them). Nothing of a run is stored before its clock
// has started.
let run = null;
const formOf = 2; // version of what is stored
const load = () => {
  try { run = JSON.parse(store.getItem(key)); } catch { run = null; }
  if (run && !(run.form === formOf && Array.isArray(run.steps) && run.steps[run.at])) run = null;
};
const save = () => {
  if (run && run.made) store.setItem(key, JSON.stringify(run));
  else if (!run) store.removeItem(key);
};

const read = () => [...list ? list.querySelectorAll('.step') : []].map((li) => {
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
    begin: 0, end: 0, idle: 0, by: '', drawn: '', open: false,
  };
});

const step = () => run.steps[run.at];
const under = () => !!run && !!run.made && !run.ended; // a run is on
const going = () => under() && !!step().begin && !step().end;
// the step whose initials are asked for, or null
const held = () => {
  if (!run) return null;
  if (run.ended) return run.steps[run.asking] || null;
  const s = step();
  return s.end && s.hold && !s.by && !s.open ? s : null;
};
const seconds = () => ((run.paused || now()) - step().begin - step().idle) / 1000;

// What happens besides the steps, for the record.
const mostEvents = 1000;
function happened(what) {
  if (run.events.length < mostEvents) run.events.push({ at: now(), what });
  else if (run.events.length === mostEvents) run.events.push({ at: now(), what: 'More happened than is noted here.' });
}
