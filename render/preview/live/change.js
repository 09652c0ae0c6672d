// Making the open page like the one that the server wrote.

const same = (a, b) => a && b && a.isEqualNode(b);
const keyOf = (e) => e.nodeType === 1 ? e.tagName + '#' + (e.id || e.dataset.given || e.dataset.figure || '') : String(e.nodeType);

// change makes a live element like a new one and leaves alone what is the same. was is the element
// as the server last wrote it, if known: what equals it in the new page has not changed, whatever
// scripts and readers have made of it since.
function change(live, now, was) {
  if (was && same(was, now)) return;
  if (!was && same(live, now)) return;
  for (const a of [...now.attributes]) if (live.getAttribute(a.name) !== a.value) live.setAttribute(a.name, a.value);
  for (const a of [...live.attributes]) {
    if (now.hasAttribute(a.name) || a.name === 'open' && live.tagName === 'DETAILS') continue;
    if (was && !was.hasAttribute(a.name)) continue; // a script's own
    live.removeAttribute(a.name);
  }
  changeInside(live, now, was);
}
function changeInside(live, now, was) {
  const olds = [...live.childNodes].filter((n) => n !== host);
  const wases = was ? [...was.childNodes] : null;
  const news = [...now.childNodes];
  const aligned = wases && wases.length === olds.length && wases.every((w, i) => keyOf(w) === keyOf(olds[i]));
  let i = 0, end = olds.length, newEnd = news.length;
  const alike = (o, n, k) => aligned ? same(wases[k], n) : same(o, n);
  while (i < end && i < newEnd && alike(olds[i], news[i], i)) i++;
  while (end > i && newEnd > i && alike(olds[end - 1], news[newEnd - 1], end - 1)) { end--; newEnd--; }
  const left = olds.slice(i, end).map((node, k) => ({ node, was: aligned ? wases[i + k] : null }));
  const next = end < olds.length ? olds[end] : (live === document.body ? host : null);
  const fresh = news.slice(i, newEnd);
  // pair the rest in order, by tag and name
  let from = 0;
  const kept = fresh.map((n) => {
    for (let k = from; k < left.length; k++) {
      if (keyOf(left[k].node) === keyOf(n)) {
        from = k + 1;
        return left[k];
      }
    }
    return null;
  });
  const keptNodes = new Set(kept.filter(Boolean).map((k) => k.node));
  for (const { node } of left) if (!keptNodes.has(node)) node.remove();
  fresh.forEach((n, k) => {
    const pair = kept[k];
    if (!pair) {
      live.insertBefore(document.importNode(n, true), pairAfter(kept, k) || next);
      return;
    }
    if (pair.node.nodeType === 1) change(pair.node, n, pair.was);
    else if (pair.node.data !== n.data) pair.node.data = n.data;
  });
}
const pairAfter = (kept, k) => {
  for (let j = k + 1; j < kept.length; j++) if (kept[j]) return kept[j].node;
  return null;
};
