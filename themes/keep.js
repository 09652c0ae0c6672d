/* The service worker of a kept site, after the constant site, which has its version and its list of
   files. Several sites may be on one host, one below another, and share its caches: the names of a
   site's caches begin with its address, and its worker touches no others. A copy is one version of
   everything: each file is checked against its hash before any of it is kept, and a page and what
   it loads come either from one copy or from the network. The parts of a large site's search join
   the copy one by one once the rest is there, since few of them are ever needed; they are checked
   against their hashes too. A page past its review shows no figures from the copy unless the site
   can be reached, and withdrawn pages are removed from the copy. If the site cannot be reached, the
   newest whole copy answers, even one whose worker is still waiting; a page that was since read
   here in a newer version says so and shows no figures, since it must never go back. */
'use strict';
const scope = self.registration.scope;
const own = 'labsite ' + scope + ' ';
const copy = own + site.version;
const nameOf = (url) => {
  const u = new URL(url);
  u.search = u.hash = '';
  const name = u.href.startsWith(scope) ? u.href.slice(scope.length) : null;
  return name === null ? null : name === '' || name.endsWith('/') ? name + 'index.html' : name;
};
const at = (name) => new URL(name, scope).href;
const hashOf = async (bytes) => [...new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))].slice(0, 8).map((b) => b.toString(16).padStart(2, '0')).join('');

// take puts a file into the copy if it is of this version, and returns it.
async function take(cache, name, hash, response) {
  const bytes = await response.arrayBuffer();
  if (!response.ok || await hashOf(bytes) !== hash) throw new Error(name + ' is not of this version');
  const kept = new Response(bytes, { headers: { 'Content-Type': response.headers.get('Content-Type') || 'application/octet-stream' } });
  await cache.put(at(name), kept.clone());
  return kept;
}
// seen notes that at this moment the site is at a version; when returns that moment, or 0 if the
// copy of that version is not whole.
const dayNote = at('as-of');
async function seen(version) {
  await (await caches.open(own + version)).put(dayNote, new Response(String(Date.now())));
}
async function when(version) {
  const noted = await caches.match(dayNote, { cacheName: own + version });
  return noted ? Number(await noted.text()) : 0;
}
const dayOf = (moment) => new Date(moment || Date.now()).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
// The review days are kept with the copy, since the worker of an earlier version may answer from
// it.
const reviewNote = at('reviews');
async function reviewsOf(version) {
  const noted = await caches.match(reviewNote, { cacheName: own + version });
  return noted ? noted.json() : {};
}
async function fetchThese(files, lanes) {
  const cache = await caches.open(copy);
  const queue = [...files];
  const one = async () => {
    for (let file = queue.shift(); file; file = queue.shift()) {
      await take(cache, file[0], file[1], await fetch(at(file[0]), { cache: 'no-store' }));
    }
  };
  await Promise.all(Array.from({ length: lanes }, one));
}
async function fetchAll() {
  try {
    await fetchThese(site.files, 4);
    await (await caches.open(copy)).put(reviewNote, new Response(JSON.stringify(site.reviews)));
    await seen(site.version);
    await takeOver();
  } catch (e) {
    await caches.delete(copy);
    throw e;
  }
}
// takeOver takes parts from earlier copies if this version still has them.
async function takeOver() {
  const cache = await caches.open(copy);
  for (const name of await caches.keys()) {
    if (!name.startsWith(own) || name === copy) continue;
    for (const [part, hash] of site.parts) {
      const had = await caches.match(at(part), { cacheName: name });
      if (had) await take(cache, part, hash, had).catch(() => { /* of another version */ });
    }
  }
}
// partsLeft lists the parts that the copy lacks.
async function partsLeft() {
  if (!site.parts.length) return [];
  const had = new Set((await (await caches.open(copy)).keys()).map((request) => request.url));
  return site.parts.filter(([name]) => !had.has(at(name)));
}
// fetchParts fetches the remaining parts. If one fails, the site is out of reach or has changed,
// and the next page that is opened continues.
let fetching = null;
function fetchParts() {
  if (!fetching) fetching = partsLeft().then((left) => fetchThese(left, 2)).catch(() => { /* later */ }).finally(() => { fetching = null; });
  return fetching;
}
self.addEventListener('install', (e) => e.waitUntil(fetchAll()));
self.addEventListener('activate', (e) => e.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith(own) && name !== copy && name !== notes) await caches.delete(name);
})()));

// Whether the site could be reached at the last request.
let reached = true;

// What was read in versions other than this worker's: for pages read from the network their hash
// and the moment, and for open pages the version from which everything they load must come. It is
// stored, since a worker is stopped and started again while pages stay open.
const notes = own + 'read';
let reads = null;
function readSoFar() {
  if (!reads) reads = caches.match(at('read'), { cacheName: notes }).then((noted) => noted ? noted.json() : { pages: {}, open: {} });
  return reads;
}
async function noteReads() {
  const { pages, open } = await readSoFar(), since = await when(site.version);
  const ids = new Set((await self.clients.matchAll({ includeUncontrolled: true })).map((c) => c.id));
  const some = (of, holds) => Object.fromEntries(Object.entries(of).filter(holds));
  // the page being opened is the last one, and not a client yet
  const last = Object.keys(open).pop();
  const now = { pages: some(pages, ([, read]) => read.at > since), open: some(open, ([id]) => ids.has(id) || id === last) };
  await (await caches.open(notes)).put(at('read'), new Response(JSON.stringify(now)));
}
async function opens(event, version) {
  if (version === site.version) return;
  (await readSoFar()).open[event.resultingClientId] = version;
  await noteReads().catch(() => { /* no space on the device: remembered until the worker ends */ });
}

async function ask() {
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), 4000);
  try {
    const response = await fetch(at('offline.json'), { cache: 'no-store', signal: stop.signal });
    return response.ok ? await response.json() : null;
  } catch {
    return null;
  } finally {
    clearTimeout(late);
  }
}
async function empty(names) {
  const cache = await caches.open(copy);
  for (const name of names) {
    const stem = at(name).replace(/\.html$/, '');
    for (const request of await cache.keys()) {
      if (request.url === stem + '.html' || request.url.startsWith(stem + '.')) await cache.delete(request);
    }
  }
}
const escaped = (text) => text.replace(/[&<>"]/g, (c) => '&#' + c.charCodeAt(0) + ';');
const said = (title, text) => new Response('<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>' + escaped(title) +
  '</title><link rel="stylesheet" href="' + at('lab.css') + '"></head><body><main id="Content"><header class="opening"><h1>' + escaped(title) + '</h1><p class="summary">' + escaped(text) +
  '</p></header><p><a href="' + at('index.html') + '">To the front page</a></p></main></body></html>', { headers: { 'Content-Type': 'text/html; charset=utf-8' } });

// readNewer returns a page of another version from the network. It leaves the update to the page,
// since a browser delays one that a worker asks for.
async function readNewer(event, name, version) {
  const response = await fetch(event.request.url, { cache: 'no-store' });
  const hash = await hashOf(await response.clone().arrayBuffer());
  // an error of the server says nothing about the page
  if (response.status < 500) (await readSoFar()).pages[name] = { version, hash, at: Date.now() };
  await opens(event, version);
  if (await when(version)) event.waitUntil(seen(version));
  return response;
}
// newest is the version of the whole copy that was last known to match the site.
async function newest() {
  let best = site.version, moment = await when(best);
  for (const name of await caches.keys()) {
    if (!name.startsWith(own)) continue;
    const version = name.slice(own.length), its = await when(version);
    if (its > moment) [best, moment] = [version, its];
  }
  return best;
}
// readSince returns when a page, its card or its labels were last read in a form that the copy of a
// version does not have; 0 if it has them as read.
async function readSince(name, version, moment) {
  const stem = (n) => n.replace(/\.[^/]*$/, '');
  let last = 0;
  for (const [n, read] of Object.entries((await readSoFar()).pages)) {
    if (stem(n) !== stem(name) || read.version === version || read.at <= moment) continue;
    const kept = await caches.match(at(n), { cacheName: own + version });
    if (!kept || await hashOf(await kept.arrayBuffer()) !== read.hash) last = Math.max(last, read.at);
  }
  return last;
}
async function fromCopy(event, name) {
  const version = await newest(), moment = await when(version), day = dayOf(moment);
  const review = (await reviewsOf(version))[name];
  if (review && new Date().toISOString().slice(0, 10) >= review[0]) {
    return said(review[1], 'This kept copy, as of ' + day + ', is past its review of ' + review[0] + ', so it shows no figures. Open the page again where the site can be reached.');
  }
  const read = await readSince(name, version, moment);
  if (read) {
    return said('This page has changed', 'A newer version of it was read on this device on ' + dayOf(read) + '. The copy kept here, as of ' + day + ', is older, so it shows no figures. Open the page again where the site can be reached.');
  }
  const kept = await caches.match(at(name), { cacheName: own + version });
  if (!kept) return said('Not in the kept copy', 'The site cannot be reached, and this page is not in the copy kept on this device, as of ' + day + '.');
  await opens(event, version);
  return kept;
}
async function page(event, name) {
  const now = await ask();
  reached = !!now;
  if (now && now.version !== site.version) {
    if (now.gone) event.waitUntil(empty(now.gone));
    try {
      return await readNewer(event, name, now.version);
    } catch {
      reached = false; // lost on the way
    }
  }
  if (!reached) return fromCopy(event, name);
  event.waitUntil(seen(site.version));
  return await caches.match(at(name), { cacheName: copy }) || fetch(event.request);
}
async function part(event, name) {
  const version = (await readSoFar()).open[event.clientId] || site.version;
  const kept = await caches.match(at(name), { cacheName: own + version });
  if (kept) return kept;
  if (version !== site.version) return fetch(event.request.url, { cache: 'no-cache' });
  const known = site.parts.find((p) => p[0] === name);
  if (!known) return fetch(event.request);
  return take(await caches.open(copy), name, known[1], await fetch(at(name), { cache: 'no-store' }));
}
self.addEventListener('fetch', (event) => {
  const name = nameOf(event.request.url);
  if (event.request.method !== 'GET' || name === null || name === 'offline.json' || name === 'offline-worker.js') return;
  event.respondWith(event.request.mode === 'navigate' ? page(event, name) : part(event, name));
});
self.addEventListener('message', (event) => {
  if (event.data === 'state') event.waitUntil((async () => {
    const version = (await readSoFar()).open[event.source.id] || site.version, moment = await when(version);
    event.ports[0].postMessage({ made: dayOf(moment || await when(site.version)), reached, newer: version !== site.version && !!moment, left: (await partsLeft()).length });
    if (reached) await fetchParts();
  })());
  if (event.data === 'use') self.skipWaiting();
});
