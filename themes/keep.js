/* The service worker of a kept site; the constant site, with its version and its list of
   files, stands before this. A copy is one version of everything: each file is held to
   its hash before any of it is kept, and a page and what it loads come from one copy, or
   all from the network. A page past its review shows no figures from the copy before the
   site has been reached, and what was withdrawn is taken out of the copy. */
'use strict';
const copy = 'labsite ' + site.version;
const scope = self.registration.scope;
const nameOf = (url) => {
  const u = new URL(url);
  u.search = u.hash = '';
  const name = u.href.startsWith(scope) ? u.href.slice(scope.length) : null;
  return name === null ? null : name === '' || name.endsWith('/') ? name + 'index.html' : name;
};
const at = (name) => new URL(name, scope).href;
const hashOf = async (bytes) => [...new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))].slice(0, 8).map((b) => b.toString(16).padStart(2, '0')).join('');

async function fetchAll() {
  const cache = await caches.open(copy);
  const queue = [...site.files];
  const one = async () => {
    for (let file = queue.shift(); file; file = queue.shift()) {
      const [name, hash] = file;
      const response = await fetch(at(name), { cache: 'no-store' });
      const bytes = await response.clone().arrayBuffer();
      if (!response.ok || await hashOf(bytes) !== hash) throw new Error(name + ' is not of this version');
      await cache.put(at(name), new Response(bytes, { headers: { 'Content-Type': response.headers.get('Content-Type') || 'application/octet-stream' } }));
    }
  };
  try {
    await Promise.all([one(), one(), one(), one()]);
  } catch (e) {
    await caches.delete(copy);
    throw e;
  }
}
self.addEventListener('install', (e) => e.waitUntil(fetchAll()));
self.addEventListener('activate', (e) => e.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith('labsite ') && name !== copy) await caches.delete(name);
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
  const review = site.reviews[name];
  if (!now && review && new Date().toISOString().slice(0, 10) >= review[0]) {
    return said(review[1], 'This kept copy, as of ' + site.made + ', is past its review of ' + review[0] + ', so it shows no figures. Open the page again where the site can be reached.');
  }
  const kept = await caches.match(at(name), { cacheName: copy });
  if (kept) return kept;
  if (now) return fetch(event.request);
  return said('Not in the kept copy', 'The site cannot be reached, and this page is not in the copy kept on this device, as of ' + site.made + '.');
}
async function part(event, name) {
  if (live.has(event.clientId)) return fetch(event.request.url, { cache: 'no-cache' });
  return await caches.match(at(name), { cacheName: copy }) || fetch(event.request);
}
self.addEventListener('fetch', (event) => {
  const name = nameOf(event.request.url);
  if (event.request.method !== 'GET' || name === null || name === 'offline.json' || name === 'offline-worker.js') return;
  event.respondWith(event.request.mode === 'navigate' ? page(event, name) : part(event, name));
});
self.addEventListener('message', (event) => {
  if (event.data === 'state') event.ports[0].postMessage({ made: site.made, reached, live: live.has(event.source.id) });
  if (event.data === 'use') self.skipWaiting();
});
