// Painting, and what sets all going.

let figures, lists, weighed, values, steads;
function findValues() {
  figures = all('.figure[data-figure]').map((e) => [e.dataset.figure, e.querySelector('.figure-value .q')]);
  lists = all('dl.figures');
  weighed = all('tr[data-figure]').map((e) => [e.dataset.figure, e.querySelector('td.number')]);
  values = all('[data-given] .setting-value .q').map((e) => [e.closest('[data-given]').dataset.given, e]);
  steads = [
    ...all('#Steps > ol').map(stead('No times')),
    ...all('figure.grid > .wide').map(stead('No numbers')),
    ...all('.workings').map(stead('No results')),
  ];
}

// What is out of sight and takes long follows a moment later, one part after another,
// so that a finger on a button never waits for it. Where numbers are withdrawn nothing
// waits.
let slow; // [element, what paints it]
const owed = new Set();
let owing = 0;
function pay(all) {
  clearTimeout(owing);
  owing = 0;
  for (const job of owed) {
    owed.delete(job);
    job();
    if (!all) break;
  }
  if (owed.size) owing = setTimeout(pay, 0);
}

// paint sets everything that shows a value of this page, at once.
function paint() {
  const inSight = slow.map(([e]) => {
    const box = e.getBoundingClientRect();
    return box.bottom > -100 && box.top < innerHeight + 100;
  });
  result = sheet.work();
  gone = troubles.size > 0 || strange.length > 0 || result.withdrawn;
  const restore = isTested();
  fill(placed, result, gone, restore);
  for (const [name, e] of figures) if (e) write(e, gone ? null : result.figures[name].shown);
  lists.forEach((e) => { e.hidden = gone; });
  for (const [name, e] of weighed) if (e) e.replaceChildren(gone ? '–' : span(result.figures[name].shown));
  for (const [name, e] of values) {
    const bad = troubles.has(name);
    write(e, bad ? 'not set' : result.given[name].shown);
    // on paper the choices stand beside
    const { choices } = sheet.given.find((g) => g.name === name);
    all('.choice', e.closest('[data-given]')).forEach((c, i) => c.classList.toggle('chosen', !bad && choices[i].base === sheet.get(name).base));
  }
  paintLimits();
  paintSteps();
  paintWorkings();
  slow.forEach(([, job], i) => {
    owed.delete(job);
    if (gone || inSight[i]) job();
    else owed.add(job);
  });
  if (owed.size && !owing) owing = setTimeout(pay, 0);
  paintChanged();
  steads.forEach((e) => { e.hidden = !gone; });
  csvs.forEach((e) => { e.hidden = restore; });
  main.classList.toggle('no-numbers', gone);
  for (const c of controls.values()) c.paint();
  document.dispatchEvent(new Event('hand'));
}

// touch paints after a change, and says it aloud a little later.
let lateWords = 0;
function touch(now) {
  paint();
  // a browser takes its time over an address
  clearTimeout(lateAddress);
  lateAddress = setTimeout(address, now ? 30 : 150);
  clearTimeout(lateWords);
  lateWords = setTimeout(say, 700);
  if (now) for (const c of controls.values()) c.show();
}
function say() {
  const words = gone ? 'No numbers. ' + [...limits.querySelectorAll('.limit-text')].map((e) => e.textContent.trim()).join(' ')
    : all('.figure').map((e) => e.querySelector('dt').textContent + ' ' + e.querySelector('.figure-value').textContent).join('; ') +
      [...limits.querySelectorAll('.limit')].map((e) => '. ' + e.textContent.trim()).join('');
  spoken.textContent = isTested() ? 'Tested values. ' + words : words;
}

const lockLine = make('p', { class: 'changed', hidden: true });
function start() {
  result = sheet.work();
  findTexts();
  findValues();
  findSteps();
  findTables();
  findCharts();
  slow = [...grids.map((g) => [g.figure, () => paintGrid(g)]), ...charts.map((c) => [c.figure, () => paintChart(c)])];
  placeChanged();
  if (home && !card) {
    sheet.given.filter((g) => g.settable).forEach(control);
    home.querySelector('h2').after(lockLine);
  }
  globalThis.hand = {
    sheet, settings,
    get result() { return result; },
    get gone() { return gone; },
    lock(why) {
      locked = why;
      lockLine.hidden = !locked;
      lockLine.textContent = locked;
      back.disabled = !!locked;
      for (const c of controls.values()) c.lock(!!locked);
    },
    take(text) {
      sheet.take(text);
      forgive();
      touch(true);
    },
  };
  document.documentElement.classList.add('handed');
  sync();
  addEventListener('beforeprint', () => pay(true));
  addEventListener('pagehide', () => { if (lateAddress) address(); });
  addEventListener('hashchange', () => {
    if (card) return;
    // A plain anchor leaves the values as they are, and they stay in the address.
    if (location.hash && !location.hash.includes('=')) {
      if (!isTested()) setTimeout(address, 0);
    } else if (locked) address();
    else sync();
  });
  addEventListener('pageshow', () => { if (!locked) sync(); });
  document.addEventListener('units', () => {
    for (const c of controls.values()) c.show();
    paint();
  });
}

const stamp = document.querySelector('meta[name="figures"]');
if (leaf && runtime && stamp) {
  if (leaf.stamp === stamp.content) {
    runtime.use((made) => {
      sheet = made;
      start();
    });
  } else {
    (home || main).prepend(make('p', { class: 'changed', role: 'status' },
      'This page and its formulas are of two versions, so that its values cannot be changed. Load the page again.'));
  }
}
