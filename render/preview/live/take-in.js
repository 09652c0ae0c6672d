// Taking over a page that changed.

let loading = true;   // the scripts of the page are loading
let following = null; // the page that arrived meanwhile
function loaded() {
  loading = false;
  if (!following) return;
  const next = following;
  following = null;
  takeIn(...next);
}
if (document.readyState === 'complete') loading = false;
else addOwn(document, 'DOMContentLoaded', loaded);

// scrollBack returns a function that scrolls the window back to where it is now.
const scrollBack = () => window.scrollTo.bind(window, { left: scrollX, top: scrollY, behavior: 'instant' });

function takeIn(html, newHash) {
  if (loading) {
    following = [html, newHash];
    return;
  }
  const now = new DOMParser().parseFromString(html, 'text/html');
  const was = before;
  before = now.cloneNode(true);
  // If scripts have changed the page, it is put back to what the server wrote and they start again,
  // since they refer to elements that are gone.
  const scripts = scriptsOf(now), figures = figuresOf(now);
  const again = !!(figures || figuresOf(document)) || scripts.join() !== scriptsOf(document).join();
  const focus = focusNow();
  if (again) letGo();
  const scroll = scrollBack();
  takeInHead(now);
  const main = document.querySelector('main');
  if (again && main) {
    main.style.minHeight = main.offsetHeight + 'px';
    if (location.hash.includes('=')) main.style.visibility = 'hidden'; // its numbers are not yet those of the values set
  }
  change(document.body, now.body, again || !was ? null : was.body);
  hash = newHash;
  const finish = () => {
    if (again) beginAgain();
    const m = document.querySelector('main');
    if (m) m.style.minHeight = m.style.visibility = '';
    focusAgain(focus);
    scroll();
    soon();
    loaded();
  };
  if (again && scripts.length) {
    loading = true;
    loadScripts(scripts, figures, finish);
    focusAgain(focus);
    scroll();
  } else finish();
  for (const t of document.querySelectorAll('meta[name="proof"]')) t.content = newHash;
}

// What of the head matters: title, language, style sheets, and the number that the address of the
// page's script must carry.
function takeInHead(now) {
  document.title = now.title;
  document.documentElement.lang = now.documentElement.lang;
  const styles = [...linksOf(now)].map(pathOf);
  for (const link of linksOf(document)) if (!styles.includes(pathOf(link))) link.remove();
  const there = [...linksOf(document)].map(pathOf);
  for (const s of styles) if (!there.includes(s)) document.head.append(make('link', { rel: 'stylesheet', href: s }));
  const figures = figuresOf(now), old = figuresOf(document);
  if (old && figures) old.content = figures.content;
  else if (old) old.remove();
  else if (figures) document.head.append(document.importNode(figures, true));
}

const linksOf = (doc) => doc.querySelectorAll('head link[rel="stylesheet"]');
const pathOf = (link) => new URL(link.getAttribute('href'), location.href).pathname;
const figuresOf = (doc) => doc.querySelector('meta[name="figures"]');
