// Listening to the preview's messages.

const words = (n, one, many) => n + ' ' + (n === 1 ? one : many);
function take(m) {
  const old = last;
  last = m;
  if (m.html) takeIn(m.html, m.hash);
  if (m.style) swapStyles();
  if (m.save && m.save.count !== shownSave) {
    if (shownSave) {
      swapPictures(m.save.files);
      staleSearch = true;
    }
    shownSave = m.save.count;
  }
  paintSheet();
  soon();
  if (view === 'save') show(paintSave());
  else if (view && (m.html || m.save && (!old || !old.save || old.save.count !== m.save.count))) tree(view, true);
  paintBar();
  if (m.errors.length && (!old || old.errors.length !== m.errors.length)) spoken.textContent = words(m.errors.length, 'thing to mend', 'things to mend');
  else if (old && old.errors.length && !m.errors.length) spoken.textContent = 'Mended';
  document.documentElement.dispatchEvent(new CustomEvent('proof', { detail: { hash: m.hash } }));
}

let events = null;
// A hidden page stops listening: a browser allows few connections to one address, and a writer has
// many pages open.
function listen() {
  if (events) events.close();
  if (document.hidden) return;
  events = new EventSource('/proof/changes?' + new URLSearchParams({ at, have: hash }));
  events.onmessage = (e) => take(JSON.parse(e.data));
  events.onerror = () => {
    events.close();
    last = null;
    paintBar();
    late(listen, 700);
  };
}
addOwn(window, 'pagehide', () => { if (events) events.close(); });
addOwn(document, 'visibilitychange', listen);
addOwn(window, 'pageshow', (e) => { if (e.persisted) listen(); });
paintBar();
listen();
// The page as the server wrote it, to compare with when it changes. A change that arrives sooner is
// compared with the document.
fetch(at, { headers: { Accept: 'text/html' } }).then((r) => r.text()).then((text) => {
  if (before) return;
  const doc = new DOMParser().parseFromString(text, 'text/html');
  const m = doc.querySelector('meta[name="proof"]');
  if (m && m.content === hash) before = doc;
}).catch(() => {});
