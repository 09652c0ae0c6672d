// The other scripts of the page, which start again when it changed.

const liveScript = '/proof/live.js';
const sourceOf = (script) => new URL(script.getAttribute('src'), location.href).pathname;
const scriptsOf = (doc) => [...doc.querySelectorAll('head script[src]')].map(sourceOf).filter((s) => s !== liveScript);

// letGo stops them before they are loaded again. Their pagehide listeners put a value that was just
// set into the address.
function letGo() {
  const leaving = heard.filter(([target, type]) => target === window && type === 'pagehide');
  for (const [, , take] of leaving) take.call(window, new Event('pagehide'));
  for (const [target, type, take, options] of heard.splice(0)) EventTarget.prototype.removeEventListener.call(target, type, take, options);
  for (const id of timers) clearTimeout(id);
  timers.clear();
  for (const name of ['hand', 'measure', 'labsite', 'labsitePage']) Reflect.deleteProperty(globalThis, name);
  document.documentElement.classList.remove('handed');
}

function loadScripts(scripts, figures, finish) {
  let waiting = scripts.length;
  const done = () => { if (!--waiting) finish(); };
  for (const s of document.querySelectorAll('head script[src]')) if (sourceOf(s) !== liveScript) s.remove();
  for (const s of scripts) {
    const e = document.createElement('script');
    e.async = false;
    e.src = /\.figures\.js$/.test(s) && figures ? s + '?' + figures.content : s;
    e.onload = e.onerror = done;
    document.head.append(e);
  }
}

// beginAgain starts them once loaded, since the document was ready long before.
function beginAgain() {
  for (const [target, type, take] of heard.slice()) if (type === 'DOMContentLoaded') take.call(target, new Event(type));
}
