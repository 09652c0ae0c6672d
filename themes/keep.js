/* The service worker of a kept site; the constant site, with its version and its list of
   files, stands before this. Several sites may stand under one host, one below another, and
   share its caches: the names of a site's caches begin with its address, and its worker
   touches no other. A copy is one version of everything: each file is held to
   its hash before any of it is kept, and a page and what it loads come from one copy, or
   all from the network. The parts of a large site's search join the copy one by one when
   the rest is there, since few of them are ever asked for; they are held to their hashes
   too. A page past its review shows no figures from the copy before the
   site has been reached, and what was withdrawn is taken out of the copy. Where the site
   is out of reach the newest whole copy answers, also one whose worker still waits; a page
   that was read here since in yet another version says so, and shows no figures: it
   never goes back. */
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

// take puts a file into the copy if it is of this version, and gives it.
async function take(cache, name, hash, response) {
  const bytes = await response.arrayBuffer();
  if (!response.ok || await hashOf(bytes) !== hash) throw new Error(name + ' is not of this version');
  const kept = new Response(bytes, { headers: { 'Content-Type': response.headers.get('Content-Type') || 'application/octet-stream' } });
  await cache.put(at(name), kept.clone());
  return kept;
}
// seen notes that the site is what the copy of a version holds, at this moment; when gives
// the moment, and 0 if that copy is not whole.
const dayNote = at('as-of');
async function seen(version) {
  await (await caches.open(own + version)).put(dayNote, new Response(String(Date.now())));
}
async function when(version) {
  const noted = await caches.match(dayNote, { cacheName: own + version });
  return noted ? Number(await noted.text()) : 0;
}
const dayOf = (moment) => new Date(moment || Date.now()).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
// The days of review stay with the copy, for the worker of an earlier version to heed.
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
// takeOver takes what an earlier copy has of the parts and this version still has.
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
// fetchParts goes on with the parts. Where one fails, the site is out of reach or has
// changed, and the next page that is opened goes on.
let fetching = null;
function fetchParts() {
  if (!fetching) fetching = partsLeft().then((left) => fetchThese(left, 2)).catch(() => { /* later */ }).finally(() => { fetching = null; });
  return fetching;
}
self.addEventListener('install', (e) => e.waitUntil(fetchAll()));
self.addEventListener('activate', (e) => e.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith(own) && name !== copy && name !== notes) await caches.delete(name);
})()));

// Whether the site was reached when last asked.
let reached = true;

// What was read in another version than this one's: of pages read from the network the hash
// and the moment, and of open pages the version, which all that they load has to be of. It
// is written down, since a worker is ended and started again while pages stay open.
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
  // the page that is being opened is the last, and no client yet
  const last = Object.keys(open).pop();
  const now = { pages: some(pages, ([, read]) => read.at > since), open: some(open, ([id]) => ids.has(id) || id === last) };
  await (await caches.open(notes)).put(at('read'), new Response(JSON.stringify(now)));
}
async function opens(event, version) {
  if (version === site.version) return;
  (await readSoFar()).open[event.resultingClientId] = version;
  await noteReads().catch(() => { /* no room on the device: known until the worker ends */ });
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

// readNewer gives a page of another version from the network. The page asks for the update:
// one that a worker asks for itself is put off.
async function readNewer(event, name, version) {
  const response = await fetch(event.request.url, { cache: 'no-store' });
  const hash = await hashOf(await response.clone().arrayBuffer());
  // a server in trouble says nothing of the page
  if (response.status < 500) (await readSoFar()).pages[name] = { version, hash, at: Date.now() };
  await opens(event, version);
  if (await when(version)) event.waitUntil(seen(version));
  return response;
}
// newest is the version of the whole copy that was last known to be what the site is.
async function newest() {
  let best = site.version, moment = await when(best);
  for (const name of await caches.keys()) {
    if (!name.startsWith(own)) continue;
    const version = name.slice(own.length), its = await when(version);
    if (its > moment) [best, moment] = [version, its];
  }
  return best;
}
// readSince tells when a page, its card or its labels were last read as they are not in the
// copy of a version: 0 if the copy has what was read.
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
