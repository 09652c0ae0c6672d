// Style sheets, pictures and the search, when they change under the page.

function swapStyles() {
  for (const l of document.querySelectorAll('head link[rel="stylesheet"]')) {
    const url = new URL(l.href);
    url.searchParams.set('at', String(Date.now()));
    const next = l.cloneNode();
    next.href = url.pathname + url.search;
    next.onload = () => { l.remove(); soon(); };
    next.onerror = () => next.remove();
    l.after(next);
  }
}
function swapPictures(files) {
  const names = files.filter((f) => /\.(png|jpe?g|gif|webp|svg|avif)$/i.test(f));
  for (const img of document.querySelectorAll('main img')) {
    const url = new URL(img.src);
    if (!names.some((n) => decodeURIComponent(url.pathname).endsWith('/' + n))) continue;
    url.searchParams.set('at', String(Date.now()));
    img.src = url.pathname + url.search;
  }
}

// After a save the search box holds old data, which is loaded again when a reader next comes to the
// box.
let staleSearch = false;
addOwn(document, 'focusin', (e) => {
  const box = e.target.closest && e.target.closest('.find');
  if (!staleSearch || !box) return;
  staleSearch = false;
  const loaded = [...document.querySelectorAll('head script[src]')].find((s) => s.src.split('?')[0] === new URL(box.dataset.index, location.href).href);
  if (!loaded) return;
  loaded.remove();
  document.head.append(make('script', { src: box.dataset.index + '?at=' + Date.now() }));
});
