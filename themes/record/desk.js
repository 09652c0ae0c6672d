// A page that keeps its records offers to make one without a run, for readings and for work done
// away from the device.

globalThis.bench = { values, moment, record, save, share, canShare, initials, make, button, about };

// why no record can be made now, "" if one can
function lacking(hand) {
  if (hand.gone) return 'There are no numbers at these values, so there is nothing to record. The reason stands with the results.';
  const missing = hand.sheet.given.filter((g) => g.reading && hand.sheet.get(g.name).text === '').map((g) => g.title);
  return missing.length ? 'Not read yet: ' + missing.join(', ') + '.' : '';
}

// offerRecord has the button on the page open a form.
function offerRecord(desk) {
  const say = make('p', { class: 'record-said', role: 'status' });
  const form = make('div', { class: 'record-form', hidden: true });
  const who = initials(() => {});
  const note = make('textarea', { id: 'Record-note', maxlength: 300, rows: 2 });
  const steps = !!document.querySelector('#Steps .step');
  who.label.textContent = 'Your initials, typed';
  const made = () => {
    const why = globalThis.hand ? lacking(globalThis.hand) : '';
    say.textContent = why;
    return why ? null : record({ made: moment(Date.now()), ...values(), ...who.what, note: note.value.replace(/\s+/g, ' ').trim() });
  };
  const done = (what) => { say.textContent = what + ' Hand the file to whoever keeps the records.'; };
  const keep = button('Save as a file', () => {
    const r = made();
    if (r) { save(r); done('Saved.'); }
  });
  const pass = button('Share', () => {
    const r = made();
    if (r) share(r).then(() => done('Shared.'), (e) => { if (e.name !== 'AbortError') say.textContent = 'This device did not share it: save it as a file.'; });
  });
  pass.hidden = !canShare;
  form.append(make('p', {}, 'Settings, readings and results as they stand on the page. Nothing is sent anywhere. ' +
    (steps ? 'The steps are not in it: your initials then stand for its holds, and without them it is kept as unfinished. A run of the process ends in a record with its steps.' : '')),
    who.element, make('label', { for: 'Record-note' }, 'Note'), note, make('div', { class: 'record-buttons' }, keep, pass));
  const opener = desk.querySelector('.button');
  const turn = () => {
    form.hidden = !form.hidden;
    opener.setAttribute('aria-expanded', !form.hidden);
    say.textContent = form.hidden || !globalThis.hand ? '' : lacking(globalThis.hand);
  };
  opener.setAttribute('aria-expanded', false);
  opener.addEventListener('click', turn);
  desk.append(form, say);
  return turn;
}
const recordDesk = document.querySelector('.record-desk');
if (recordDesk && !recordDesk.dataset.ready) {
  recordDesk.dataset.ready = '';
  const turn = offerRecord(recordDesk);
  if (/\/record\.js$/.test(document.currentScript.src)) turn(); // it was loaded by that button
}
