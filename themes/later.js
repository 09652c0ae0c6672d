/* Loads scripts of the theme that not every reader needs when they are needed, so that a
   phone fetches less at first. A script element does so from a disk as well, where a page may
   fetch nothing.

   globalThis.later(name, data) is for the other scripts, and comes before them: it loads a
   script that stands beside this one, once, with data as the data attributes of its element,
   and promises when it has run. So with a style sheet. What failed may be
   asked for again. later.asked holds the
   promises. */
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

  // A run that is on is told of on every page; later.run says that it is this page's own.
  const key = 'labsite-run '; // as run.js keeps it
  const on = () => {
    try {
      later.run = key + location.pathname in localStorage;
      if (Object.keys(localStorage).some((k) => k.startsWith(key + top.pathname))) later('under-way.js').catch(() => {});
    } catch { /* no run is kept where nothing can be */ }
  };
  on();
  addEventListener('storage', on);

  // Paper that is opened by its code: others take what is in the address meanwhile.
  const box = document.getElementById('Recall'), address = location.href;
  if (box && /[?&#]paper=[^&#]/.test(address)) {
    later('recall.css').catch(() => {});
    later('recall.js', { address }).catch(() => {
      box.textContent = 'Whether your paper still holds cannot be told: a part of this page did not load. Load it again.';
      box.hidden = false;
    });
  }
})();
