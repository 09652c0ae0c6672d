/* Loads scripts of the theme that not every reader needs, once they are needed, so that a phone
   fetches less at first. Script elements work from a disk as well, where a page may not fetch.

   globalThis.later(name, data) is for the other scripts, and comes before them: it loads a script
   or a style sheet from beside this one, once, with data as the data attributes of its element,
   and returns a promise that is kept when the script has run. After a failure it tries again.
   later.asked holds the promises. */
(function () {
  'use strict';

  const top = new URL('.', document.currentScript.src);
  const asked = new Map();
  const later = (name, data) => {
    if (!asked.has(name)) {
      asked.set(name, new Promise((done, failed) => {
        const look = name.endsWith('.css');
        const e = document.createElement(look ? 'link' : 'script');
        Object.assign(e.dataset, data);
        e.addEventListener('load', done);
        e.addEventListener('error', () => {
          asked.delete(name);
          failed(new Error(name + ' did not load'));
        });
        if (look) e.rel = 'stylesheet';
        e[look ? 'href' : 'src'] = new URL(name, top);
        document.head.append(e);
      }));
    }
    return asked.get(name);
  };
  later.asked = asked;
  globalThis.later = later;

  // Every page says that a run is on; later.run says that one is of this page.
  const key = 'labsite-run '; // as run.js keeps it
  const on = () => {
    try {
      later.run = key + location.pathname in localStorage;
      if (Object.keys(localStorage).some((k) => k.startsWith(key + top.pathname))) later('under-way.js').catch(() => {});
    } catch { /* without a store no run is kept */ }
  };
  on();
  addEventListener('storage', on);

  // Paper that was opened by its code. The address is read now, since other scripts change it.
  const box = document.getElementById('Recall'), address = location.href;
  if (box && /[?&#]paper=[^&#]/.test(address)) {
    later('recall.css').catch(() => {});
    later('recall.js', { address }).catch(() => {
      box.textContent = 'Whether your paper still holds cannot be told: a part of this page did not load. Load it again.';
      box.hidden = false;
    });
  }
})();
