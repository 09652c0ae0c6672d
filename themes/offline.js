/* Lets a reader keep the site on the device, if it is served over http and only on request: a
   service worker (offline-worker.js) then answers from a copy. The foot of the page says that the
   site is kept and as of when; a newer version replaces it as a whole, when the reader says so or
   when no page of the old one is open. */
(function () {
  'use strict';

  const workers = navigator.serviceWorker;
  const foot = document.querySelector('.lab-foot');
  const policy = document.querySelector('meta[http-equiv="Content-Security-Policy"]');
  // a preview, which allows connections, is not to be kept
  if (!workers || !foot || !/^https?:$/.test(location.protocol) || policy && /connect-src/.test(policy.content)) return;
  const top = new URL('.', document.currentScript.src);
  const address = new URL('offline-worker.js', top);

  const line = document.createElement('div');
  line.className = 'kept';
  const words = document.createElement('p');
  words.setAttribute('role', 'status');
  const button = (text, does) => {
    const b = document.createElement('button');
    b.type = 'button';
    b.className = 'button';
    b.textContent = text;
    b.hidden = true;
    b.addEventListener('click', does);
    return b;
  };
  const keep = button('Keep this site on this device', () => {
    keep.disabled = true;
    words.textContent = 'One moment: the site is being copied.';
    workers.register(address, { scope: top, updateViaCache: 'none' }).then(watch, failed);
  });
  const use = button('Use the newer version', () => waiting && waiting.postMessage('use'));
  const drop = button('Remove the copy', async () => {
    const r = await ours();
    if (r) await r.unregister();
    for (const name of await caches.keys()) if (name.startsWith('labsite ' + top + ' ')) await caches.delete(name);
    words.textContent = 'The copy was removed.';
    show(null);
  });
  line.append(words, keep, use, drop);
  foot.append(line);

  // Several sites may be on one host, one below another. If a site has no worker of its own, a
  // browser returns that of the outer site.
  const ours = async () => {
    const r = await workers.getRegistration(top);
    return r && r.scope === top.href ? r : undefined;
  };
  const served = () => !!workers.controller && workers.controller.scriptURL === address.href;
  let waiting = null;
  const failed = () => {
    keep.disabled = false;
    words.textContent = 'The site could not be copied. Try again later.';
  };
  function show(registration) {
    const active = registration && registration.active;
    keep.hidden = !!active;
    drop.hidden = !active;
    waiting = registration && registration.waiting;
    use.hidden = !waiting || !active;
    if (!active) return;
    const channel = new MessageChannel();
    channel.port1.onmessage = ({ data }) => {
      const late = served() && !data.reached;
      words.textContent = (late ? 'The site cannot be reached: this is the copy kept for offline, as of ' : 'Kept for offline, as of ') + data.made + '.' +
        (data.left ? ' Its search is still being copied.' : '') +
        (waiting ? late && data.newer ? ' It is the newer version.' : ' A newer version is ready.' : '');
      line.classList.toggle('from-copy', !!late || !!waiting);
      // a waiting version is whole, and is offered where it will be seen
      if (late || waiting) document.querySelector('main').prepend(line);
    };
    active.postMessage('state', [channel.port2]);
  }
  function watch(registration) {
    show(registration);
    const follow = (worker) => worker && worker.addEventListener('statechange', () => {
      if (worker.state === 'redundant' && !registration.active) failed();
      show(registration);
    });
    follow(registration.installing);
    registration.addEventListener('updatefound', () => follow(registration.installing));
  }
  const had = served();
  workers.addEventListener('controllerchange', () => { if (had) location.reload(); });
  ours().then((registration) => {
    if (!registration) {
      keep.hidden = false;
      return;
    }
    watch(registration);
    registration.update().catch(() => { /* the site is out of reach */ });
  });
})();
