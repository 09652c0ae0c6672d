// Where the reader is: the element in focus, by a path that survives a change, and the selection.
function focusNow() {
  const e = document.activeElement;
  if (!e || e === document.body || e === host) return null;
  const box = e.closest('[id], [data-given], [data-figure]') || document.body;
  const path = box.id ? '#' + CSS.escape(box.id) : box.dataset && box.dataset.given ? `[data-given="${CSS.escape(box.dataset.given)}"]` : 'body';
  const index = [...box.querySelectorAll(e.tagName)].indexOf(e);
  let from = null, to = null;
  try { from = e.selectionStart; to = e.selectionEnd; } catch { /* not a text */ }
  return { e, path, tag: e.tagName, index, self: box === e, from, to, text: 'value' in e ? e.value : null };
}
function focusAgain(f) {
  if (!f || document.activeElement === f.e && f.e.isConnected) return;
  const box = document.querySelector(f.path);
  if (!box) return;
  const e = f.self ? box : box.querySelectorAll(f.tag)[f.index];
  if (!e) return;
  e.focus({ preventScroll: true });
  try { if (f.from !== null) e.setSelectionRange(f.from, f.to); } catch { /* not a text */ }
}
