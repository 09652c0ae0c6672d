// Painting, and starting everything.

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

// What is out of sight and slow is painted a moment later, one part after another, so that a finger
// on a button never waits for it. If numbers are withdrawn nothing waits.
let slow = []; // [element, function that paints it]; from redraw.js
const waiting = new Set();
let nextTurn = 0;
function paintWaiting(all) {
  clearTimeout(nextTurn);
  nextTurn = 0;
  for (const job of waiting) {
    waiting.delete(job);
    job();
    if (!all) break;
  }
  if (waiting.size) nextTurn = setTimeout(paintWaiting, 0);
}

// paint updates everything that shows a value of this page.
function paint() {
  const inSight = slow.map(([e]) => {
    const box = e.getBoundingClientRect();
    return box.bottom > -100 && box.top < innerHeight + 100;
  });
  result = sheet.work();
  gone = troubles.size > 0 || strange.length > 0 || result.withdrawn;
  const restore = isAsMade();
  fill(placed, result, gone, restore);
  for (const [name, e] of figures) if (e) gone ? write(e, null) : writeValue(e, result.figures[name]);
  lists.forEach((e) => { e.hidden = gone; });
  for (const [name, e] of weighed) if (e) e.replaceChildren(gone ? '–' : valueSpan(result.figures[name]));
  for (const [name, e] of values) {
    const bad = troubles.has(name);
    bad ? write(e, 'not set') : writeValue(e, result.given[name]);
    // on paper the choices stand beside the value
    const { choices } = sheet.given.find((g) => g.name === name);
    all('.choice', e.closest('[data-given]')).forEach((c, i) => c.classList.toggle('chosen', !bad && choices[i].base === sheet.get(name).base));
  }
  askRedraw();
  // offers settings that hold; the page works without it
  if (gone) globalThis.later('nearest.js').catch(() => {});
  paintFoot();
  paintLimits();
  paintSteps();
  slow.forEach(([, job], i) => {
    waiting.delete(job);
    if (gone || inSight[i]) job();
    else waiting.add(job);
  });
  if (waiting.size && !nextTurn) nextTurn = setTimeout(paintWaiting, 0);
  paintChanged();
  steads.forEach((e) => { e.hidden = !gone; });
  csvs.forEach((e) => { e.hidden = restore; });
  if (workings) workings.hidden = !restore;
  main.classList.toggle('no-numbers', gone);
  for (const c of controls.values()) c.paint();
  document.dispatchEvent(new Event('hand'));
}

// The foot of each printed sheet says what the page is set to, and the address that carries it.
const foot = document.querySelector('.foot-set'), footAddress = document.querySelector('.foot-address');
const ownAddress = footAddress && footAddress.textContent;
function paintFoot() {
  if (!foot || paper) return;
  for (const e of all('[data-set]', foot)) {
    const name = e.dataset.set, q = e.querySelector('.q');
    troubles.has(name) ? write(q, null) : writeValue(q, result.given[name]);
  }
  foot.querySelector('.foot-tested').hidden = !isTested();
  const s = settings();
  if (footAddress) footAddress.textContent = ownAddress + (s ? '#' + s : '');
}

// touch paints after a change, and announces the result a little later.
let lateWords = 0;
function touch(now) {
  paint();
  // browsers are slow to change an address
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

// A page left open past midnight follows the calendar, even if the device slept until the morning.
// A run keeps the day on which it began.
let midnight = 0;
function followDay() {
  clearTimeout(midnight);
  if (!sheet.program.day || pageData.held) return;
  if (!locked && sheet.follow()) touch(true);
  const now = new Date();
  midnight = setTimeout(followDay, new Date(now.getFullYear(), now.getMonth(), now.getDate() + 1) - now + 10);
}

const lockLine = make('p', { class: 'changed', hidden: true });
function start() {
  result = sheet.work();
  findTexts();
  findValues();
  findSteps();
  findTables();
  placeChanged();
  if (home && !paper) {
    sheet.given.filter((g) => g.settable).forEach(control);
    home.querySelector('h2').after(lockLine);
  }
  globalThis.hand = {
    sheet, settings,
    get result() { return result; },
    get gone() { return gone; },
    redrawn: takeRedrawn,
    own: { all, make, htmlOf, placed, tested, grids, pageData, isAsMade, holding, limitOf, titleOf, span, valueSpan, writeValue, troubles, follows },
    // readings stay open unless whole says that nothing on the page counts any more
    lock(why, whole) {
      locked = why;
      lockLine.hidden = !locked;
      lockLine.textContent = locked;
      back.disabled = !!locked;
      for (const c of controls.values()) c.lock(!!locked && (whole || !c.reading));
      followDay();
    },
    take(text) {
      sheet.take(text);
      forgive();
      touch(true);
    },
  };
  if (home && !paper && controls.size && figures.length) addEventListener('scroll', () => { globalThis.later('strip.js').catch(() => {}); }, { once: true, passive: true });
  document.documentElement.classList.add('handed');
  takeLate();
  sync();
  addEventListener('beforeprint', () => paintWaiting(true));
  addEventListener('pagehide', keepLate);
  addEventListener('hashchange', () => {
    if (paper) return;
    // A plain anchor does not change the values, which go back into the address.
    if (location.hash && !location.hash.includes('=')) {
      if (!isTested()) setTimeout(address, 0);
    } else if (locked) address();
    else sync();
  });
  addEventListener('pageshow', () => { if (!locked) sync(); });
  for (const e of ['pageshow', 'focus', 'visibilitychange']) (e === 'visibilitychange' ? document : window).addEventListener(e, followDay);
  followDay();
  document.addEventListener('units', () => {
    for (const c of controls.values()) c.show();
    paint();
  });
}

const stamp = document.querySelector('meta[name="figures"]');
if (pageData && runtime && stamp) {
  if (pageData.stamp === stamp.content) {
    runtime.use((made) => {
      sheet = made;
      if (pageData.held) {
        runtime.on(sheet.program.day);
        sheet.reset();
      }
      start();
    });
  } else {
    (home || main).prepend(make('p', { class: 'changed', role: 'status' },
      'This page and its formulas are of two versions, so that its values cannot be changed. Load the page again.'));
  }
}
offerProcess();
