/* The service worker of a kept site; the constant site, with its version and its list of
   files, stands before this. Several sites may stand under one host, one below another, and
   share its caches: the names of a site's caches begin with its address, and its worker
   touches no other. A copy is one version of everything: each file is held to
   its hash before any of it is kept, and a page and what it loads come from one copy, or
   all from the network. The parts of a large site's search join the copy one by one when
   the rest is there, since few of them are ever asked for; they are held to their hashes
   too. A page past its review shows no figures from the copy before the
   site has been reached, and what was withdrawn is taken out of the copy. */
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
// seen notes that the site is what the copy holds, today; asOf gives that day in words.
const dayNote = at('as-of');
async function seen() {
  await (await caches.open(copy)).put(dayNote, new Response(String(Date.now())));
}
async function asOf() {
  const noted = await caches.match(dayNote, { cacheName: copy });
  return new Date(noted ? Number(await noted.text()) : Date.now()).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
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
    await seen();
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
  for (const name of await caches.keys()) if (name.startsWith(own) && name !== copy) await caches.delete(name);
})()));

// Which pages came from the network, and whether the site was reached when last asked.
const live = new Set();
let reached = true;

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

async function page(event, name) {
  const now = await ask();
  reached = !!now;
  if (now && now.version !== site.version) {
    if (now.gone) event.waitUntil(empty(now.gone));
    // the page asks for the update: one that a worker asks for itself is put off
    live.add(event.resultingClientId);
    return fetch(event.request.url, { cache: 'no-store' });
  }
  if (now) event.waitUntil(seen());
  const review = site.reviews[name];
  if (!now && review && new Date().toISOString().slice(0, 10) >= review[0]) {
    return said(review[1], 'This kept copy, as of ' + await asOf() + ', is past its review of ' + review[0] + ', so it shows no figures. Open the page again where the site can be reached.');
  }
  const kept = await caches.match(at(name), { cacheName: copy });
  if (kept) return kept;
  if (now) return fetch(event.request);
  return said('Not in the kept copy', 'The site cannot be reached, and this page is not in the copy kept on this device, as of ' + await asOf() + '.');
}
async function part(event, name) {
  if (live.has(event.clientId)) return fetch(event.request.url, { cache: 'no-cache' });
  const kept = await caches.match(at(name), { cacheName: copy });
  if (kept) return kept;
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
    event.ports[0].postMessage({ made: await asOf(), reached, live: live.has(event.source.id), left: (await partsLeft()).length });
    if (reached) await fetchParts();
  })());
  if (event.data === 'use') self.skipWaiting();
});
