// The values set, in the address.

function settings() {
  const good = sheet.given.filter((g) => !troubles.has(g.name) && sheet.changed().includes(g.name))
    .map((g) => encodeURIComponent(g.name) + '=' + encodeURIComponent(sheet.get(g.name).text));
  const bad = [...troubles].map(([name, t]) => encodeURIComponent(name) + '=' + encodeURIComponent(t.text));
  return [...good, ...bad].join('&');
}
let lateAddress = 0;
function address() {
  clearTimeout(lateAddress);
  lateAddress = 0;
  const s = settings();
  try {
    const hash = location.hash.includes('=') ? '' : location.hash;
    if (paper) history.replaceState(null, '', location.pathname + (s ? '?' + s : '') + hash);
    else if (s || location.hash.includes('=') || location.search.includes('=')) history.replaceState(null, '', location.pathname + (s ? '#' + s : hash));
  } catch { /* some browsers refuse it for pages on a disk; the page works without */ }
  links(s);
}
// Links from a page to its papers, and back, carry the settings.
const ways = [...document.querySelectorAll(paper ? '.desk > a' : '.papers a[href$=".html"]')].map((a) => [a, a.getAttribute('href')]);
function links(s) {
  for (const [a, href] of ways) {
    const [file, size] = href.split('#');
    a.setAttribute('href', !s ? href : paper ? file + '#' + s : file + '?' + s + (size ? '#' + size : ''));
  }
}
// Pages and papers read both forms of the address, first the form that they write themselves.
// Parameters that other sites add to track visitors are not settings, nor is the paper that the
// page was opened from.
const counting = /^(utm|mc|ga|pk|hsa|mtm)_|clid$|^(ref|igsh|si|cmp|campaign|paper)$/i;
function inAddress() {
  const pairs = (text) => text.slice(1).split('&').filter((pair) => pair.includes('=') && !counting.test(pair.split('=')[0])).join('&');
  const search = pairs(location.search), hash = location.hash.includes('=') ? pairs(location.hash) : '';
  return paper ? search || hash : hash || search;
}
// A value typed just before the page is loaded again is not in the address yet.
const lateKey = 'labsite-late';
function keepLate() {
  if (!lateAddress) return;
  address();
  try { sessionStorage.setItem(lateKey, location.pathname + '#' + settings()); } catch { /* in most browsers the address has it */ }
}
function takeLate() {
  try {
    const late = sessionStorage.getItem(lateKey);
    sessionStorage.removeItem(lateKey);
    const [at, s] = (late || '').split('#');
    if (s && at === location.pathname && performance.getEntriesByType('navigation')[0]?.type === 'reload') history.replaceState(null, '', paper ? '?' + s + location.hash : '#' + s);
  } catch { /* as above */ }
}
function sync() {
  const text = inAddress();
  forgive();
  const raw = new Map(text.split('&').map((pair) => {
    const cut = pair.indexOf('=');
    const plain = (t) => { try { return decodeURIComponent(t); } catch { return t; } };
    return [plain(pair.slice(0, cut)), plain(pair.slice(cut + 1))];
  }));
  for (const { name, problem } of sheet.take(text)) {
    if (controls.has(name) || paper && sheet.given.some((g) => g.settable && g.name === name)) troubles.set(name, { text: raw.get(name) || '', problem });
    else strange.push({ name, problem });
  }
  for (const c of controls.values()) c.show();
  paint();
  links(settings());
}
