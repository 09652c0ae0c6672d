// A page that is republished during its run. The run keeps its revision: its steps and results stay
// in the browser's store, and later readings are worked out with the formulas of that revision,
// which the site keeps beside the page for every recorded revision (render/write/recall.go). If
// they are gone, readings are only noted, and the sheet says so.

// whether the page in this tab is not the one that the run began with
const other = () => !!run && (run.stamp !== stamp || run.revision !== revised);

let former = null; // the sheet of the run's revision, at the run's values
let lookedFor = false; // whether it was looked for

// what the page knows of its revisions
const known = (() => {
  try { return JSON.parse(document.getElementById('Recall').dataset.revisions); } catch { return { earlier: [] }; }
})();

const sameStep = ['name', 'seconds', 'first', 'pour', 'how', 'said', 'note', 'aim', 'caution', 'hold', 'dark'];
// differsFrom returns the first step that is different now, -1 for none, null if that cannot be
// told.
function differsFrom() {
  const is = read();
  if (!is.length) return 0;
  if (hand && (hand.gone || hand.settings() !== run.settings)) return null;
  const most = Math.max(is.length, run.steps.length);
  for (let i = 0; i < most; i++) {
    const a = is[i], b = run.steps[i];
    if (!a || !b || sameStep.some((k) => a[k] !== b[k]) || String(a.moments) !== String(b.moments)) return i;
  }
  return -1;
}
function differsInWords() {
  if (!list) return 'Its steps are not on this page any more.';
  const i = run.differs ?? null;
  if (i === null) return 'From which step on it differs is not known, since it does not take the values of this run.';
  if (i < 0) return 'Its steps are the same at the values of this run.';
  return 'It differs from step ' + (i + 1) + (run.steps[i] ? ', ' + run.steps[i].name + ',' : '') + ' on.';
}
const newRevision = () => run.revision === revised ? 'The page was published anew during this run, as the same revision. '
  : (revised ? revised + ' was published' : 'The page was published anew, without a revision,') + ' during this run. ';

// publishedAnew notes each new revision once.
function publishedAnew() {
  if (!run || !run.made || !other()) return;
  const is = revised + ' ' + stamp;
  if (run.anew !== is && !run.saved) {
    run.anew = is;
    run.differs = differsFrom();
    happened(newRevision() + differsInWords() + ' The run keeps ' + (run.revision || 'what it began with') + '.');
    save();
  }
  findFormer();
}

// findFormer looks for the formulas of the run's revision. An approved revision has one set of
// formulas; others are used only if they give the results that the run has.
function findFormer() {
  const ready = (sheet, same) => {
    lookedFor = true;
    if (sheet && !sheet.take(run.settings).length) {
      const { figures } = valuesOf(sheet, sheet.work());
      if (same || Object.entries(run.values.figures).every(([name, shown]) => figures[name] === shown)) former = sheet;
    }
    paint();
  };
  const then = number === run.number && known.earlier.find((e) => e.revision === run.revisionNumber);
  if (then && then.script) {
    globalThis.later('figures-further.js').then(() => globalThis.later(new URL(then.script, document.baseURI).href))
      .then(() => ready(run && globalThis.labsiteEarlier.sheet(run.revisionNumber)), () => ready(null));
  } else {
    ready(run.revision === revised && hand ? hand.sheet.copy() : null, known.recorded);
  }
}

// valuesOf is what a record holds of a sheet, like bench.values() for the page.
function valuesOf(sheet, result) {
  const out = { settings: {}, readings: {}, figures: {} };
  for (const g of sheet.given) {
    const { text } = sheet.get(g.name);
    if (g.settable && text !== '') out[g.reading ? 'readings' : 'settings'][g.name] = text;
  }
  for (const [name] of run.labels || []) {
    const v = result.figures[name], shown = v && (v.shown ?? v.instead);
    if (shown) out.figures[name] = shown;
  }
  return out;
}

// A reading of the run, entered on its sheet: "" if it is taken, else why it is not.
function enter(name, typed) {
  const t = typed.trim();
  if (!former) {
    if (t) run.values.readings[name] = t;
    else delete run.values.readings[name];
  } else {
    const trial = former.copy();
    if (t) {
      const got = trial.set(name, t);
      if (!got.ok) return got.problem.message + (got.problem.hint ? '. ' + got.problem.hint : '');
    } else {
      trial.reset(name);
    }
    const result = trial.work();
    if (result.withdrawn) return 'With this reading ' + (run.revision || 'the page as it was') + ' gives no numbers' + (result.reasons.length ? ': ' + result.reasons.map((r) => r.text).filter(Boolean).join('; ') : '');
    former = trial;
    run.settings = trial.settings();
    run.values = valuesOf(trial, result);
    if (result.process) {
      newTimes(result.process.steps.map((t) => (t && !t.missing ? { seconds: t.length, pour: t.pour < t.length ? t.pour : null, moments: t.moments } : { seconds: null, pour: null, moments: [] })));
    }
    // the page below follows, and may show that this reading changes a step
    if (hand && under()) hand.take(run.settings);
    const differs = differsFrom();
    if (differs !== run.differs) {
      run.differs = differs;
      happened('With the reading that was entered: ' + differsInWords());
    }
  }
  run.saved = false;
  save();
  return '';
}

// newTimes sets the times of steps after a reading.
function newTimes(times) {
  times.forEach((s, i) => {
    const t = run.steps[i];
    if (!t) return;
    if (t.begin && t.seconds !== s.seconds) happened('A reading changed the time of ' + t.name + ' after it began: ' + (t.seconds === null ? 'none' : clock(t.seconds)) + ' before, ' + (s.seconds === null ? 'none' : clock(s.seconds)) + ' now.');
    Object.assign(t, s, { begin: t.begin, end: t.end, idle: t.idle, by: t.by, drawn: t.drawn, open: t.open });
  });
}

function buildAnew() {
  parts.anew = make('p', { class: 'run-anew', role: 'status', hidden: true });
  parts.results = make('dl', { class: 'run-results' });
  parts.fields = make('div', {});
  parts.readings = make('section', { class: 'run-readings', 'aria-label': 'Readings of this run', hidden: true }, make('h3', {}, 'Readings of this run'), parts.fields, parts.results);
}
let fieldsOf = null;
function buildFields() {
  fieldsOf = run.made;
  parts.fields.replaceChildren(...(run.readings || []).map(([name, title], i) => {
    const field = make('input', { id: 'Run-reading-' + i, type: 'text', autocomplete: 'off', autocapitalize: 'none', spellcheck: 'false', 'aria-describedby': 'Run-trouble-' + i });
    const trouble = make('p', { id: 'Run-trouble-' + i, class: 'run-trouble', role: 'status' });
    field.value = run.values.readings[name] || '';
    field.addEventListener('change', () => {
      trouble.textContent = enter(name, field.value);
      field.setAttribute('aria-invalid', trouble.textContent !== '');
      if (!trouble.textContent && former) field.value = run.values.readings[name] || '';
      paint();
    });
    return make('div', { class: 'run-reading' }, make('label', { for: field.id }, title), field, trouble);
  }));
}
function paintAnew() {
  const anew = other() && !!run.made, readings = anew && !!(run.readings || []).length;
  text(parts.anew, !anew ? '' : newRevision() + differsInWords() + ' This run keeps ' + (run.revision || 'what it began with') + ': its steps and results are those that it began with.' +
    (readings && lookedFor && !former ? ' Its formulas are not to be had any more: what is read from here on stands in the record, and nothing is worked out from it.' : ''));
  parts.readings.hidden = !readings || !!held() || !lookedFor;
  if (parts.readings.hidden) return;
  if (fieldsOf !== run.made) buildFields();
  const rows = (run.labels || []).map(([name, label]) => [label, run.values.figures[name]]).filter(([, shown]) => shown);
  const shown = JSON.stringify(rows);
  if (parts.results.dataset.shown === shown) return;
  parts.results.dataset.shown = shown;
  parts.results.replaceChildren(...rows.map(([label, value]) => make('div', {}, make('dt', {}, label), make('dd', {}, value))));
}
