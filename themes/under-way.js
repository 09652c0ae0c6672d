/* Says on every page of the site that a run is on, and links back to it. later.js loads it if the
   browser's store has a run (themes/process/run.js says what is in it). */
(function () {
  'use strict';

  const top = new URL('.', document.currentScript.src).pathname, first = 'labsite-run ' + top;
  const clock = (seconds) => {
    const n = Math.max(0, Math.floor(seconds)), two = (v) => String(v).padStart(2, '0');
    return (n >= 3600 ? Math.floor(n / 3600) + ':' + two(Math.floor(n / 60) % 60) : Math.floor(n / 60)) + ':' + two(n % 60);
  };
  const bar = document.createElement('aside');
  bar.className = 'run-bar';
  bar.setAttribute('aria-label', 'Runs that are on');
  const lines = new Map(); // address of a page: [line, words]

  function runs() {
    const out = [];
    try {
      for (let i = 0; i < localStorage.length; i++) {
        const key = localStorage.key(i);
        if (!key.startsWith(first)) continue;
        const run = JSON.parse(localStorage.getItem(key));
        if (run && run.form === 2 && run.steps[run.at] && !(run.ended && run.saved)) out.push([key.slice('labsite-run '.length), run]);
      }
    } catch { /* if it cannot be read, it is no run */ }
    return out;
  }
  function where(run) {
    const s = run.steps[run.at], now = Date.now() + run.shift;
    if (run.ended) return 'it is over, and its record is not saved yet';
    if (!s.begin) return 'it holds before ' + s.name;
    if (s.end) return 'it holds after ' + s.name;
    const at = ((run.paused || now) - s.begin - s.idle) / 1000;
    const left = s.seconds === null ? clock(at) + ' since it began' : at < s.seconds ? clock(Math.ceil(s.seconds - at)) + ' left' : 'over since ' + clock(at - s.seconds);
    return s.name + ', ' + left + (run.paused ? ', paused' : '');
  }
  function paint() {
    const on = runs();
    for (const [path, [line]] of lines) {
      if (on.some(([p]) => p === path)) continue;
      line.remove();
      lines.delete(path);
    }
    for (const [path, run] of on) {
      if (!lines.has(path)) {
        const line = document.createElement('p'), words = document.createElement('span'), a = document.createElement('a');
        a.href = path === location.pathname ? '#Steps' : path + '#Steps';
        a.textContent = 'Back to the run';
        line.append(words, ' ', a);
        // a page that no longer has steps: its run must still be ended
        if (path === location.pathname && !document.querySelector('#Steps ol.steps')) globalThis.later('process.js').catch(() => { /* the next page asks again */ });
        bar.append(line);
        lines.set(path, [line, words]);
      }
      const said = 'A run is on. ' + run.title + ': ' + where(run) + '.';
      const words = lines.get(path)[1];
      if (words.textContent !== said) words.textContent = said;
    }
    bar.hidden = on.length === 0;
  }
  globalThis.later('process.css').catch(() => { /* it is plain text then */ });
  const skip = document.querySelector('.skip'); // the skip link must stay first
  if (skip) skip.after(bar);
  else document.body.prepend(bar);
  paint();
  setInterval(paint, 1000);
})();
