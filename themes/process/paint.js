const text = (e, t) => {
  if (e.textContent !== t) e.textContent = t;
  e.hidden = t === '';
};
const say = (e, label, does) => {
  text(e, label);
  e.does = does;
};
function paint() {
  paintDesk();
  if (hand) hand.lock(!under() ? '' : other() ? 'A run of ' + (run.revision || 'this page as it was') + ' is on. What it reads is entered on its sheet.' : 'A process is running with these values. Stop it before you change them.', other());
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
  const s = run.ended ? null : step(), runs = going(), at = runs ? seconds() : 0, hold = held();
  paintAnew();
  paintFace(s, runs, at, hold);
  paintMoves(s, runs, at);
  const what = paintHold(hold);
  paintEnd();
  paintButtons(s, runs, at, hold, what);
  paintOptions(s, runs);
  // if the focused button went away, keyboard readers need another
  if (document.activeElement === document.body) [parts.main, parts.back, parts.close].find((b) => !b.hidden && !b.disabled).focus();
}

// sinceEnd is what to count from while no step runs: [moment, what ended then].
function sinceEnd() {
  if (run.ended) return [run.ended, run.stopped ? 'the run was stopped' : 'the process was over'];
  const s = step(), before = run.steps[run.at - 1];
  if (s.end) return [s.end, s.name + ' ended'];
  return before && before.end ? [before.end, before.name + ' ended'] : null;
}
function paintFace(s, runs, at, hold) {
  const over = runs && s.seconds !== null && at >= s.seconds, since = runs ? null : sinceEnd();
  text(parts.of, s ? 'Step ' + (run.at + 1) + ' of ' + run.steps.length : '');
  text(parts.title, hold ? 'Hold: ' + hold.name : run.ended ? (run.stopped ? 'The run was stopped' : 'The process is over')
    : runs ? (run.paused ? 'Paused: ' : '') + s.name : (run.made ? 'Hold before: ' : 'Ready: ') + s.name);
  text(parts.caution, s ? s.caution : '');
  text(parts.left, runs ? (s.seconds === null ? clock(at) : over ? '+' + clock(at - s.seconds) : clock(Math.ceil(s.seconds - at)))
    : since ? '+' + clock((now() - since[0]) / 1000) : s && s.seconds !== null ? clock(s.seconds) : '');
  text(parts.passed, runs ? (s.seconds === null ? 'since it began; this step has no time of its own'
    : over ? 'over; ' + clock(at) + ' have passed, and ' + clock(s.seconds) + ' were planned' : 'left; ' + clock(at) + ' of ' + clock(s.seconds) + ' have passed')
    + (run.paused ? '; paused for ' + clock((now() - run.paused) / 1000) + ', and no bath waits' : '')
    : since ? 'since ' + since[1] : s && s.seconds !== null ? 'its clock starts when you say so' : '');
  parts.question.hidden = !run.question;
  if (run.question) {
    const [ask, yes, no] = asks(run.question);
    text(parts.asks, ask);
    text(parts.passedBy, yes);
    text(parts.notPassed, no);
  }
}
function paintMoves(s, runs, at) {
  const soon = runs ? signals(s).find(([when]) => when > at) : null, after = s && run.steps[run.at + 1];
  let what = '';
  if (runs) {
    if (s.seconds !== null && at >= s.seconds) what = 'Over: ' + (after ? 'on to ' + after.name : 'this was the last step');
    else if (s.pour !== null && at >= s.pour && s.pour < s.seconds) what = 'Pour out now';
    else if (s.first && at < s.first) what = 'Move the tank without pause, until ' + clock(s.first);
    else if (s.moments.some((m) => at >= m && at < m + Math.max(s.turning, 10))) what = 'Move the tank: ' + s.how;
    else what = s.said || (s.moments.length || s.first ? 'Leave the tank alone' : '');
  } else if (held()) {
    what = 'Do not go on before this step is initialled. Initials of: ' + held().hold + '.';
  } else if (s && s.dark) {
    what = 'Darkness ahead. Read this through, lay out what you need, and leave this device outside: any screen fogs film and paper. When you start the step the screen shows nothing. Afterwards press the dark screen for two seconds.';
  }
  text(parts.now, what);
  text(parts.then, soon && soon[0] < s.seconds ? 'At ' + clock(soon[0]) + ', in ' + clock(Math.ceil(soon[0] - at)) + ': ' + soon[1] : '');
  text(parts.aim, s && s.aim || '');
  text(parts.note, s && s.note || '');
  text(parts.next, !s ? '' : after ? 'Next: ' + after.name + (after.seconds === null ? '' : ', ' + clock(after.seconds)) + (run.held || s.hold || s.dark || after.dark ? '. It holds first.' : '') : 'This is the last step.');
}
function paintButtons(s, runs, at, hold, what) {
  const after = s && run.steps[run.at + 1], m = parts.main;
  m.disabled = false;
  if (hold) {
    say(m, 'Initialled' + (run.ended || !after ? '' : ': on to ' + after.name), () => initial(parts.initials.what));
    m.disabled = !what.by;
  } else if (run.ended) {
    say(m, run.saved ? 'Save the record again' : 'Save the record', saveRecord);
  } else if (!runs) {
    say(m, s.dark ? 'Start the dark step: the screen goes black' : 'Start: ' + s.name, startStep);
  } else {
    say(m, (s.seconds === null || at >= s.seconds ? '' : 'End early. ') + (s.hold ? 'Done: initials next' : after ? 'Next: ' + after.name : 'Done'), next);
  }
  parts.share.hidden = !run.ended || !!hold || !bench.canShare;
  text(parts.pause, !runs ? '' : run.paused ? 'Go on' : 'Pause');
  parts.back.hidden = !run.made || !!run.ended && !!hold || !run.ended && run.at === 0 && !s.begin;
  text(parts.again, !runs ? '' : asked === 'again' ? 'Press again: this step from 0:00' : 'Start this step again');
  text(parts.stop, run.ended || !run.made ? '' : asked === 'stop' ? 'Press again: the run is stopped' : 'Stop the run');
  text(parts.end, !run.ended || hold ? '' : run.saved ? 'Close this run' : asked === 'end' ? 'Press again: the record is lost' : 'Close without a record');
}
function paintOptions(s, runs) {
  const after = s && run.steps[run.at + 1];
  parts.hold.hidden = !runs || !after || s.hold !== '';
  parts.hold.setAttribute('aria-pressed', !!run.held);
  parts.follow.hidden = !s || !after;
  parts.follow.setAttribute('aria-pressed', !!run.follow);
  text(parts.notice, run.notice);
  parts.sound.hidden = deaf || !!run.ended;
  parts.buzz.hidden = still || !!run.ended;
  parts.sound.setAttribute('aria-pressed', !!sound);
  parts.buzz.setAttribute('aria-pressed', buzz);
  parts.dim.textContent = runs && s.dark ? 'Black screen' : 'Dim display';
  parts.dim.setAttribute('aria-pressed', dim);
  text(parts.dimmed, dim ? 'Dimmer, for eyes used to the dark. It is no safelight: any screen fogs film and paper.' : '');
  text(parts.cannot, cannot());
  text(parts.kept, (run.revision ? 'This run keeps ' + run.revision + '. ' : '') + (run.changed || ''));
}
