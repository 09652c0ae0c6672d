// The clock of a run is the device's, corrected by run.shift. While the page is open it is compared
// with the count of milliseconds since the page was loaded, which nobody can set: if the two
// diverge, the device slept or its clock was set, and the reader is asked which. Until then the
// time in question is not counted. While the page is closed there is no such count; that time is
// counted, and the reader may take it out. Either way it is in the record.

const now = () => Date.now() + (run ? run.shift : 0);
const jumpsFrom = 2000, closedFrom = 5000; // milliseconds; less is a clock being adjusted, or a page being reloaded
let base = null;

function seen() {
  if (under()) store.setItem(seenKey, String(Date.now()));
  else store.removeItem(seenKey);
}

// watch notices a jump while the page is open.
function watch() {
  const wall = Date.now(), tick = performance.now();
  const jump = base ? wall - base.wall - (tick - base.tick) : 0;
  base = { wall, tick };
  if (!under() || Math.abs(jump) < jumpsFrom) return;
  const before = run.question && !run.question.closed ? run.question.jump : 0;
  run.shift -= jump;
  run.question = Math.abs(before + jump) < jumpsFrom ? null : { jump: before + jump };
  happened('The clock of the device ' + leap(jump) + ' at once; it was not counted.');
  save();
}
const leap = (jump) => jump > 0 ? 'went forward by ' + clock(Math.round(jump / 1000)) : 'went back by ' + clock(Math.round(-jump / 1000));

// returned notices how long the page was closed.
function returned() {
  const last = Number(store.getItem(seenKey));
  if (!under() || !last) return;
  const gap = Date.now() - last;
  if (gap < -jumpsFrom) {
    run.shift -= gap;
    run.question = { jump: gap, closed: true };
    happened('The page was closed, and meanwhile the clock of the device went back by ' + clock(Math.round(-gap / 1000)) + ' or more. How long it was closed is not known and was not counted.');
  } else if (gap > closedFrom) {
    run.question = { jump: gap, closed: true };
    happened('The page was closed for ' + clock(Math.round(gap / 1000)) + ' by the clock of the device; that was counted.');
  }
  save();
}

// The question in words, with its two answers: [words, button to count it, button not to].
function asks({ jump, closed }) {
  if (closed && jump > 0) {
    return ['The page was closed for ' + clock(Math.round(jump / 1000)) + ' by the clock of this device, and the run counted on. Was that so?',
      'Yes, ' + clock(Math.round(jump / 1000)) + ' passed', 'No, leave that time out'];
  }
  if (closed) return ['While the page was closed the clock of this device was set back. The run goes on from where it was seen last; how long that is ago is not known. Compare it with another clock.', '', 'I have compared it'];
  if (jump < 0) return ['The clock of this device was set back by ' + clock(Math.round(-jump / 1000)) + '. The run counts on as before.', '', 'Understood'];
  const two = going() && !run.paused ? ' The step has run for ' + clock(seconds()) + ' if the clock was set, and for ' + clock(seconds() + jump / 1000) + ' if the device slept.' : '';
  return ['The clock of this device went forward by ' + clock(Math.round(jump / 1000)) + ' at once. Did the device sleep, or was the clock set?' + two,
    'It slept: ' + clock(Math.round(jump / 1000)) + ' passed', 'The clock was set: do not count it'];
}
function answer(passed) {
  const { jump, closed } = run.question;
  if (passed && !closed) run.shift += jump;
  if (!passed && closed && jump > 0) run.shift -= jump;
  happened('Asked about the clock: ' + (passed ? 'the time in question passed, and is counted.' : jump > 0 ? 'the time in question is not counted.' : 'it was compared.'));
  run.question = null;
  told = -1;
  save();
  paint();
}
