// The end of a run: what is still missing, and the record.

function buildEnd() {
  parts.runNote = make('textarea', { id: 'Run-note', maxlength: 300, rows: 2 });
  parts.runNote.addEventListener('input', () => {
    run.note = parts.runNote.value;
    run.saved = false;
    save();
    paint();
  });
  parts.said = make('p', { class: 'record-said', role: 'status' });
  parts.open = make('div', { class: 'run-open-holds' });
  parts.endBox = make('div', { class: 'run-end' }, parts.open, make('label', { for: 'Run-note' }, 'Note to the record'), parts.runNote, parts.said);
}

// what is missing for the record to be finished, as in recipes/record
const openHolds = () => run.steps.filter((s) => s.hold && !s.by && s.end);
function wanting() {
  const missing = (run.readings || []).filter(([name]) => run.values.readings[name] === undefined).map(([, title]) => title);
  return [
    ...run.steps.filter((s) => !s.end).map((s) => s.name + ' did not end.'),
    ...openHolds().map((s) => 'No initials for ' + s.name + ' of: ' + s.hold + '.'),
    ...missing.length ? ['Not read yet: ' + missing.join(', ') + '. ' + (other() ? 'Enter them here' : 'Show the page and enter them') + ' first, since a record without them is not taken.'] : [],
    ...hand && hand.gone && !other() ? ['The page shows no numbers at the values that stand there, and a record of such values is not taken.'] : [],
  ];
}

// The moments in a record are by the device's clock as it is when the record is first saved, so
// that none lies in the future if the clock was set back.
function runRecord() {
  if (run.written === undefined) run.written = run.shift;
  const at = (ms) => bench.moment(ms - run.written);
  return bench.record({
    lab: run.lab || lab, page: run.page || page, number: run.number, revision: run.revisionNumber,
    made: at(run.made), ...run.values,
    steps: run.steps.map((s) => ({
      do: s.name, ...s.seconds === null ? {} : { planned: s.seconds }, ...s.begin ? { begin: at(s.begin) } : {}, ...s.end ? { end: at(s.end) } : {},
      ...s.hold ? { hold: s.hold, by: s.by } : {}, ...s.drawn ? { drawn: s.drawn } : {},
    })),
    events: run.events.map((e) => ({ at: at(e.at), what: e.what })),
    note: run.note.replace(/\s+/g, ' ').trim(),
  });
}
const handed = (how) => {
  run.saved = true;
  parts.said.textContent = how + ' Hand the file to whoever keeps the records.';
  save();
  paint();
};
function saveRecord() {
  bench.save(runRecord());
  handed('Saved.');
}
function shareRecord() {
  bench.share(runRecord()).then(() => handed('Shared.'), (e) => {
    if (e.name !== 'AbortError') parts.said.textContent = 'This device did not share it: save it as a file.';
  });
}

let openShown = '';
function paintEnd() {
  parts.endBox.hidden = !run.ended || !!held();
  if (!run.ended) return;
  if (document.activeElement !== parts.runNote) parts.runNote.value = run.note;
  const list = wanting(), shown = list.join('\n');
  if (shown === openShown && parts.open.childElementCount) return;
  openShown = shown;
  parts.open.replaceChildren(...list.length ? [make('p', {}, make('strong', {}, 'The record is unfinished. '), list.join(' ')),
    ...openHolds().map((s) => button('Initial: ' + s.name, () => { run.asking = run.steps.indexOf(s); paint(); parts.initials.field.focus(); }))]
    : [make('p', {}, 'The record is complete.')]);
}
