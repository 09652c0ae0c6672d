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
    if (card) history.replaceState(null, '', location.pathname + (s ? '?' + s : '') + location.hash);
    else if (s || location.hash.includes('=')) history.replaceState(null, '', s ? '#' + s : location.pathname + location.search);
  } catch { /* some browsers refuse it on a disk; the page works without */ }
  links(s);
}
// The ways from a page to its papers, and back, take the settings along.
const ways = [...document.querySelectorAll(card ? '.desk > a' : '.papers a[href*=".card.html"]')].map((a) => [a, a.getAttribute('href')]);
function links(s) {
  for (const [a, href] of ways) {
    const [file, size] = href.split('#');
    a.setAttribute('href', !s ? href : card ? file + '#' + s : file + '?' + s + (size ? '#' + size : ''));
  }
}
function sync() {
  const text = card ? location.search.slice(1) : location.hash.includes('=') ? location.hash.slice(1) : '';
  forgive();
  const raw = new Map(text.split('&').map((pair) => {
    const cut = pair.indexOf('=');
    const plain = (t) => { try { return decodeURIComponent(t); } catch { return t; } };
    return [plain(pair.slice(0, cut)), plain(pair.slice(cut + 1))];
  }));
  for (const { name, problem } of sheet.take(text)) {
    if (controls.has(name) || card && sheet.given.some((g) => g.settable && g.name === name)) troubles.set(name, { text: raw.get(name) || '', problem });
    else strange.push({ name, problem });
  }
  for (const c of controls.values()) c.show();
  paint();
  links(settings());
}
