/* What an open page of the preview does beside being read: it takes in what changed without
   losing its place, and it shows what is wrong, what is to be looked at, and what a save
   changed in numbers.

   Everything of its own stands in one element with a shadow root, so that the lab's theme
   does not reach it and it does not reach the lab's page. */
(function () {
  'use strict';

  // What other scripts ask to be told of the window and the document, and when, so that it
  // can be let go of when they are started again for a page that changed.
  const heard = [];
  const late = window.setTimeout.bind(window);
  const timers = new Set();
  window.setTimeout = (run, wait, ...rest) => {
    const id = late(() => {
      timers.delete(id);
      run(...rest);
    }, wait);
    timers.add(id);
    return id;
  };
  const often = window.setInterval.bind(window);
  window.setInterval = (...rest) => {
    const id = often(...rest);
    timers.add(id);
    return id;
  };
  for (const target of [window, document]) {
    const add = target.addEventListener;
    target.addEventListener = function (type, take, options) {
      heard.push([target, type, take, options]);
      return add.call(target, type, take, options);
    };
  }
  const addOwn = (target, ...rest) => EventTarget.prototype.addEventListener.call(target, ...rest);

  const at = location.pathname;
  const mark = document.querySelector('meta[name="proof"]');
  let hash = mark ? mark.content : '';
  let last = null;     // the last message
  let before = null;   // the page as the server wrote it last, where it is known
  let shownSave = 0;

  // The page's own things

  const make = (name, attributes, ...children) => {
    const e = document.createElement(name);
    for (const [key, value] of Object.entries(attributes || {})) {
      if (value === true) e.setAttribute(key, '');
      else if (value !== false && value != null) e.setAttribute(key, value);
    }
    e.append(...children.filter((c) => c != null && c !== false));
    return e;
  };
  const host = make('div', { id: 'Proof', class: 'proof-only' });
  const root = host.attachShadow({ mode: 'open' });
  const sheet = make('section', { class: 'sheet', role: 'alert', 'aria-label': 'What is wrong', hidden: true });
  const margin = make('div', { class: 'margin', role: 'list' });
  const aside = make('aside', { 'aria-label': 'To look at', hidden: true }, margin);
  const panel = make('section', { class: 'panel', 'aria-label': 'Numbers', tabindex: '-1', hidden: true });
  const bar = make('nav', { class: 'bar', 'aria-label': 'Preview' });
  const spoken = make('p', { class: 'unseen', role: 'status' });
  root.append(make('link', { rel: 'stylesheet', href: '/proof/live.css' }), sheet, aside, panel, bar, spoken);
  document.body.append(host);

  const copy = (text, button) => {
    const done = (ok) => {
      const old = button.textContent;
      button.textContent = ok ? 'Copied' : 'Select and copy it';
      late(() => { button.textContent = old; }, 1500);
    };
    if (!navigator.clipboard) return done(false);
    navigator.clipboard.writeText(text).then(() => done(true), () => done(false));
  };

  // A place in a file: it is copied at a press, and opened where an editor is known.
  const placeOf = (n) => {
    const button = make('button', { type: 'button', class: 'place', title: 'Copy this place' }, n.place);
    button.addEventListener('click', () => copy(n.place, button));
    return make('span', { class: 'where' }, button, n.open ? make('a', { class: 'open', href: n.open }, 'Open in the editor') : null);
  };

  // What is wrong, as a sheet over the page

  let folded = false;
  function paintSheet() {
    const errors = last ? last.errors : [];
    sheet.hidden = !errors.length;
    sheet.classList.toggle('folded', folded);
    if (!errors.length) {
      folded = false;
      return sheet.replaceChildren();
    }
    const fold = make('button', { type: 'button', class: 'fold', 'aria-expanded': String(!folded) }, folded ? 'Unfold' : 'Fold');
    fold.addEventListener('click', () => { folded = !folded; paintSheet(); });
    const title = errors.length === 1 ? 'One thing to mend' : errors.length + ' things to mend';
    const below = last.found && document.querySelector('main:not([data-instead]) h1') ? 'Below is the page as it was when it was last right.' : '';
    const files = new Map();
    for (const n of errors) files.set(n.file, [...(files.get(n.file) || []), n]);
    const list = make('div', { class: 'wrongs' });
    for (const [file, notes] of files) {
      list.append(make('h2', {}, file));
      for (const n of notes) {
        const item = make('article', { class: 'wrong' }, make('p', { class: 'said' }, n.message.charAt(0).toUpperCase() + n.message.slice(1) + '.'));
        if (n.text) {
          const from = n.mark.indexOf('^'), to = n.mark.lastIndexOf('^') + 1;
          const letters = [...n.text];
          item.append(make('pre', { tabindex: '0' }, make('span', { class: 'number' }, String(n.line)),
            letters.slice(0, from).join(''), make('mark', {}, letters.slice(from, to).join('') || ' '), letters.slice(to).join('')));
        }
        if (n.hint) item.append(make('p', { class: 'mend' }, make('b', {}, 'To mend it: '), n.hint));
        item.append(placeOf(n));
        list.append(item);
      }
    }
    sheet.replaceChildren(make('div', { class: 'top' }, make('h1', {}, title), below ? make('p', {}, below) : null, fold), list);
  }

  // What is to be looked at, in the margin beside its place

  function target(n) {
    if (n.given) return document.querySelector(`main [data-given="${CSS.escape(n.given)}"]`);
    if (n.figure) {
      return document.querySelector(`main .figure[data-figure="${CSS.escape(n.figure)}"]`) || document.querySelector(`main [data-working="${CSS.escape(n.figure)}"]`) ||
        document.querySelector(`main [data-figure="${CSS.escape(n.figure)}"]`);
    }
    let best = null;
    for (const e of document.querySelectorAll('main [data-line]')) {
      if (+e.dataset.line <= n.line) best = e;
      else break;
    }
    return best;
  }

  const open = new Set(); // notes that were opened where there is no room for them
  function paintMargin() {
    const notes = last ? last.notes : [];
    const main = document.querySelector('main');
    aside.hidden = !notes.length || !main;
    if (aside.hidden) {
      document.body.style.paddingRight = '';
      return margin.replaceChildren();
    }
    // Where the window is wide and the margin is not, the page makes room.
    const room = innerWidth - main.getBoundingClientRect().right - (parseFloat(document.body.style.paddingRight) || 0);
    const wide = innerWidth >= 1000;
    document.body.style.paddingRight = wide && room < 260 ? '260px' : '';
    margin.classList.toggle('narrow', !wide);
    margin.style.setProperty('--width', Math.min(300, Math.max(244, room - 24)) + 'px');
    const items = notes.map((n) => {
      const e = target(n);
      const visible = e && e.getClientRects().length ? e : e && e.closest('section, article, main');
      const box = (visible || main).getBoundingClientRect();
      return { n, top: box.top + scrollY };
    }).sort((a, b) => a.top - b.top);
    let free = 0;
    margin.replaceChildren(...items.map(({ n, top }) => {
      const key = n.place + n.code;
      const isOpen = wide || open.has(key);
      const body = [make('p', {}, (n.advice ? 'Advice: ' : '') + n.message.charAt(0).toUpperCase() + n.message.slice(1) + '.'), n.hint ? make('p', { class: 'mend' }, n.hint) : null, placeOf(n)];
      const item = make('div', { role: 'listitem', class: isOpen ? 'note open' : 'note' });
      if (!wide) {
        const b = make('button', { type: 'button', class: 'dot', 'aria-expanded': String(isOpen), 'aria-label': 'To look at: ' + n.message }, '?');
        b.addEventListener('click', () => { if (open.has(key)) open.delete(key); else open.add(key); paintMargin(); });
        item.append(b);
      }
      if (isOpen) item.append(make('div', { class: 'words' }, ...body));
      item.dataset.top = top;
      return item;
    }));
    for (const item of margin.children) {
      const top = Math.max(+item.dataset.top, free);
      item.style.top = top + 'px';
      free = top + item.offsetHeight + 6;
    }
  }
  let later = 0;
  const soon = () => {
    cancelAnimationFrame(later);
    later = requestAnimationFrame(paintMargin);
  };
  new ResizeObserver(soon).observe(document.documentElement);
  addOwn(window, 'resize', soon);
  addOwn(document, 'toggle', soon, true);

  // What a save changed, and how a number came about

  let view = null; // 'save', or what the number on show is asked for by
  const value = (text) => text === '' ? make('i', {}, 'none') : make('span', { class: 'value' }, text);

  function paintSave() {
    const save = last && last.save;
    const parts = [make('h1', {}, 'What this save changed')];
    if (!save) parts.push(make('p', {}, 'Nothing has been saved since the preview began.'));
    else {
      parts.push(make('p', { class: 'files' }, save.files.join(', ')));
      const own = save.pages.filter((p) => p.page === last.page), rest = save.pages.filter((p) => p.page !== last.page);
      if (!save.pages.length) parts.push(make('p', {}, 'No number of a page or table differs from before, or from what was approved. What readers may set is compared on pages looked at lately.'));
      const table = (numbers, p, was) => {
        const body = make('tbody');
        for (const n of numbers) {
          const name = make('button', { type: 'button', class: 'name' }, n.label || n.name);
          if (n.cases) name.append(make('small', {}, ', the most of ' + n.moved + ' cases in ' + n.cases + ' that a reader can set'));
          if (n.because) name.append(make('small', {}, ', because ' + n.because));
          name.addEventListener('click', () => tree(n.cell ? { page: p.page, ...n.cell } : { page: p.page, name: n.name }));
          body.append(make('tr', {}, make('th', { scope: 'row' }, name,
            n.guards && n.guards.length
              ? make('ul', { class: 'guards' }, ...n.guards.map((g) => make('li', {}, g)))
              : make('p', { class: 'unguarded' }, 'No check guards it.')),
          make('td', {}, value(n.before)), make('td', {}, value(n.after))));
        }
        return make('table', {}, make('thead', {}, make('tr', {}, make('th', { scope: 'col' }, 'Figure'), make('th', { scope: 'col' }, was), make('th', { scope: 'col' }, 'After'))), body);
      };
      // with the last state that held, then with what was approved
      const tables = (p) => {
        const out = p.numbers.length ? [table(p.numbers, p, 'Before')] : [];
        if (p.approved) out.push(make('p', {}, 'Approved in revision ' + p.revision + ':'), table(p.approved, p, 'Approved'));
        else if (p.revision) out.push(make('p', {}, 'All numbers are those approved in revision ' + p.revision + '.'));
        return out;
      };
      for (const p of own) parts.push(make('h2', {}, 'The numbers here'), ...tables(p));
      if (rest.length) parts.push(make('h2', {}, 'The numbers elsewhere'));
      for (const p of rest) parts.push(make('h3', {}, make('a', { href: p.address }, p.title)), ...tables(p));
    }
    return parts;
  }

  function branch(b, depth) {
    const head = make('span', { class: 'head' }, make('b', {}, b.label || b.name), ' ', b.kind === 'data' ? null : value(b.shown));
    const body = make('div', { class: 'about' });
    if (b.formula && b.name !== b.formula) body.append(make('p', {}, make('code', {}, b.name + ' = ' + b.formula)));
    if (b.numbers && b.numbers !== b.formula) body.append(make('p', {}, make('code', { class: 'numbers' }, '= ' + b.numbers)));
    if (b.kind === 'set') body.append(make('p', {}, 'Set here, where that page is drawn on.'));
    if (b.kind === 'given') body.append(make('p', {}, b.source ? 'Source: ' + b.source + (b.owner ? '. Owner: ' + b.owner : '') + '.' : 'Given, without a source.'));
    if (b.kind === 'data') body.append(make('p', {}, 'Read from the data file.'));
    if (b.text) body.append(make('pre', { tabindex: '0' }, make('span', { class: 'number' }, String(b.line)), b.text));
    body.append(placeOf(b));
    if (b.guards && b.guards.length) body.append(make('p', { class: 'guarded' }, 'Guarded by'), make('ul', { class: 'guards' }, ...b.guards.map((g) => make('li', {}, g))));
    else if (b.kind === 'figure' && !depth) body.append(make('p', { class: 'unguarded' }, 'No check guards it.'));
    for (const input of b.inputs || []) body.append(branch(input, depth + 1));
    return make('details', { open: depth < 1, class: b.kind }, make('summary', {}, head), body);
  }

  let asked = 0;
  async function tree(ask, quietly) {
    const mine = ++asked;
    view = ask;
    const parts = [make('h1', {}, 'How it came about')];
    if (location.hash.includes('=')) parts.push(make('p', {}, 'This is the number at the page’s own values, not at those set now.'));
    try {
      const r = await fetch('/proof/number?' + new URLSearchParams(ask));
      parts.push(r.ok ? branch(await r.json(), 0) : make('p', {}, await r.text()));
    } catch {
      return;
    }
    if (mine !== asked) return;
    const opened = [...panel.querySelectorAll('details')].map((d) => d.open);
    show(parts);
    if (quietly) [...panel.querySelectorAll('details')].forEach((d, i) => { if (i in opened) d.open = opened[i]; });
    else panel.focus({ preventScroll: true });
  }

  function show(parts) {
    const close = make('button', { type: 'button', class: 'close' }, 'Close');
    close.addEventListener('click', hide);
    const top = panel.scrollTop;
    panel.replaceChildren(close, ...parts);
    panel.hidden = false;
    panel.scrollTop = top;
  }
  function hide() {
    view = null;
    panel.hidden = true;
    panel.replaceChildren();
  }
  addOwn(document, 'keydown', (e) => { if (e.key === 'Escape' && view) hide(); });
  panel.addEventListener('keydown', (e) => { if (e.key === 'Escape') hide(); });

  addOwn(document, 'click', (e) => {
    const q = e.target.closest && e.target.closest('main .q');
    if (!q || e.target.closest('a, button, input, select, label, summary') || !last || !last.page) return;
    const ask = asks(q);
    if (ask) tree({ page: last.page, ...ask });
  });

  // asks is what a number of the page is asked for by: where it was written, its name, its
  // cell of a table, or its step; null where there is nothing to ask.
  function asks(q) {
    if (q.dataset.written) return { written: q.dataset.written, ...(q.dataset.drawn ? { drawn: q.dataset.drawn } : {}) };
    const holder = q.closest('[data-figure], [data-working]');
    const name = q.dataset.figure || q.dataset.givenValue || (holder && (holder.dataset.figure || holder.dataset.working)) ||
      (q.closest('[data-given]') || { dataset: {} }).dataset.given;
    if (name) return { name };
    const cell = q.closest('figure[id^="Table-"] tbody td'), time = q.closest('.step-time');
    if (cell) {
      // a cell that is refused stands for all figures of its column
      const figures = cell.closest('table').querySelectorAll('thead tr:last-child th.number');
      const columns = cell.closest('table').querySelectorAll('thead th[scope="colgroup"].number').length;
      const each = columns ? figures.length / columns : cell.closest('table').querySelector('thead th.across') ? 1 : figures.length;
      let at = 0;
      for (let before = cell.previousElementSibling; before && before.tagName === 'TD'; before = before.previousElementSibling) at += before.colSpan;
      return { table: cell.closest('figure').id.slice(6), row: cell.parentElement.sectionRowIndex, column: Math.floor(at / each), figure: at % each };
    }
    if (time) return { step: time.closest('[id^="Step-"]').id.slice(5) };
    return null;
  }

  // The bar

  function paintBar() {
    const parts = [];
    const here = at.split('/')[1], rest = at.slice(here.length + 1);
    parts.push(make('span', { class: 'views' }, ...['staff', 'customers'].map((v) =>
      make('a', { href: '/' + v + rest + location.hash, 'aria-current': v === here ? 'true' : null }, v === 'staff' ? 'Staff' : 'Customers'))));
    if (last) {
      if (last.save) {
        let n = 0;
        last.save.pages.forEach((p) => { n += p.numbers.length; });
        const b = make('button', { type: 'button', 'aria-pressed': String(view === 'save') }, n === 1 ? '1 number changed' : n + ' numbers changed');
        b.addEventListener('click', () => {
          if (view === 'save') hide();
          else { view = 'save'; show(paintSave()); panel.focus({ preventScroll: true }); }
          paintBar();
        });
        parts.push(b);
      }
      if (last.guarded) parts.push(make('span', { title: 'Changes tried on this page that its checks notice; labsite guard lists the others' }, 'guarded ' + last.guarded));
      if (last.notes.length) parts.push(make('span', {}, last.notes.length + ' to look at'));
      if (last.others.length) {
        const list = make('ul', {}, ...last.others.map((o) => make('li', {}, o.address ? make('a', { href: o.address }, o.file) : o.file, ' (' + o.errors + ')')));
        parts.push(make('details', { class: 'others' }, make('summary', {}, last.others.length === 1 ? 'Errors in 1 other file' : 'Errors in ' + last.others.length + ' other files'), list));
      }
    } else parts.push(make('span', {}, 'Waiting for the preview'));
    const wasOpen = !!bar.querySelector('details[open]');
    bar.replaceChildren(...parts);
    const details = bar.querySelector('details');
    if (details) details.open = wasOpen;
  }

  // Taking in a page that changed

  const same = (a, b) => a && b && a.isEqualNode(b);
  const keyOf = (e) => e.nodeType === 1 ? e.tagName + '#' + (e.id || e.dataset.given || e.dataset.figure || '') : String(e.nodeType);

  // change makes a live element like a new one and touches nothing that is alike. was is the
  // element as the server wrote it before, where that is known: what equals it in the new
  // page has not changed, whatever scripts and readers made of it since.
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
    const tail = [];
    const alike = (o, n, k) => aligned ? same(wases[k], n) : same(o, n);
    while (i < end && i < newEnd && alike(olds[i], news[i], i)) i++;
    while (end > i && newEnd > i && alike(olds[end - 1], news[newEnd - 1], end - 1)) { end--; newEnd--; tail.push(1); }
    const left = olds.slice(i, end).map((node, k) => ({ node, was: aligned ? wases[i + k] : null }));
    let next = end < olds.length ? olds[end] : (live === document.body ? host : null);
    const fresh = news.slice(i, newEnd);
    // pair what is left in order, by what it is
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
    let cursor = i > 0 ? olds[i - 1].nextSibling : live.firstChild;
    fresh.forEach((n, k) => {
      const pair = kept[k];
      if (!pair) {
        live.insertBefore(document.importNode(n, true), pairAfter(kept, k) || next);
        return;
      }
      if (pair.node.nodeType === 1) change(pair.node, n, pair.was);
      else if (pair.node.data !== n.data) pair.node.data = n.data;
    });
    void cursor;
  }
  const pairAfter = (kept, k) => {
    for (let j = k + 1; j < kept.length; j++) if (kept[j]) return kept[j].node;
    return null;
  };

  // Where the reader is: the element in focus, by what leads to it, and what is selected.
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

  function stylesOf(doc) { return [...doc.querySelectorAll('head link[rel="stylesheet"]')].map((l) => new URL(l.getAttribute('href'), location.href).pathname); }
  function scriptsOf(doc) { return [...doc.querySelectorAll('head script[src]')].map((l) => new URL(l.getAttribute('src'), location.href).pathname); }

  // The other scripts of the page, before they are started again: a value that was set a
  // moment ago is put into the address, and nothing of theirs goes on.
  function letGo() {
    const leaving = heard.filter(([target, type]) => target === window && type === 'pagehide');
    for (const [, , take] of leaving) take.call(window, new Event('pagehide'));
    for (const [target, type, take, options] of heard.splice(0)) EventTarget.prototype.removeEventListener.call(target, type, take, options);
    for (const id of timers) clearTimeout(id);
    timers.clear();
    for (const name of ['hand', 'measure', 'labsite', 'labsitePage']) Reflect.deleteProperty(globalThis, name);
    document.documentElement.classList.remove('handed');
  }

  let loading = true;   // the scripts of the page are on their way
  let following = null; // the page that came meanwhile
  function loaded() {
    loading = false;
    if (!following) return;
    const next = following;
    following = null;
    takeIn(...next);
  }
  if (document.readyState === 'complete') loading = false;
  else addOwn(document, 'DOMContentLoaded', loaded);
  function takeIn(html, newHash) {
    if (loading) {
      following = [html, newHash];
      return;
    }
    const now = new DOMParser().parseFromString(html, 'text/html');
    const was = before;
    before = now.cloneNode(true);
    const scripts = scriptsOf(now).filter((s) => s !== '/proof/live.js');
    const figures = now.querySelector('meta[name="figures"]'), oldFigures = document.querySelector('meta[name="figures"]');
    const again = !!(figures || oldFigures) || scripts.join() !== scriptsOf(document).filter((s) => s !== '/proof/live.js').join();
    const focus = focusNow();
    if (again) letGo();
    const { scrollX: x, scrollY: y } = window;
    document.title = now.title;
    for (const [name, value] of [['lang', now.documentElement.lang]]) document.documentElement.setAttribute(name, value);
    const styles = stylesOf(now);
    stylesOf(document).forEach((s, i) => { if (!styles.includes(s)) document.querySelectorAll('head link[rel="stylesheet"]')[i].remove(); });
    for (const s of styles) if (!stylesOf(document).includes(s)) document.head.append(make('link', { rel: 'stylesheet', href: s }));
    if (!figures && oldFigures) oldFigures.remove();
    if (figures) {
      if (oldFigures) oldFigures.content = figures.content;
      else document.head.append(document.importNode(figures, true));
    }
    // Where a script has made controls of the page, it is put back to what the server wrote
    // and the scripts begin again: what they know of the page is of elements gone by.
    const settings = again && location.hash.includes('=');
    const main = document.querySelector('main');
    if (again && main) {
      main.style.minHeight = main.offsetHeight + 'px';
      if (settings) main.style.visibility = 'hidden'; // its numbers are not those of the values set
    }
    change(document.body, now.body, again || !was ? null : was.body);
    hash = newHash;
    const finish = () => {
      if (again) {
        for (const [target, type, take] of heard.slice()) if (type === 'DOMContentLoaded') take.call(target, new Event(type));
      }
      const m = document.querySelector('main');
      if (m) m.style.minHeight = m.style.visibility = '';
      focusAgain(focus);
      window.scrollTo({ left: x, top: y, behavior: 'instant' });
      soon();
      loaded();
    };
    if (again && scripts.length) {
      loading = true;
      let waiting = scripts.length;
      const done = () => { if (!--waiting) finish(); };
      const known = document.querySelectorAll('head script[src]');
      for (const s of known) if (new URL(s.src).pathname !== '/proof/live.js') s.remove();
      for (const s of scripts) {
        const e = document.createElement('script');
        e.async = false;
        e.src = /\.figures\.js$/.test(s) && figures ? s + '?' + figures.content : s;
        e.onload = e.onerror = done;
        document.head.append(e);
      }
      focusAgain(focus);
      window.scrollTo({ left: x, top: y, behavior: 'instant' });
    } else finish();
    for (const t of document.querySelectorAll('meta[name="proof"]')) t.content = newHash;
  }

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

  // What the search box has loaded is of the time before a save; it is loaded anew when a
  // reader comes to the box again.
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

  // Listening

  const words = (n, one, many) => n + ' ' + (n === 1 ? one : many);
  function take(m) {
    const old = last;
    last = m;
    if (m.html) takeIn(m.html, m.hash);
    if (m.style) swapStyles();
    if (m.save && m.save.count !== shownSave) {
      if (shownSave) {
        swapPictures(m.save.files);
        staleSearch = true;
      }
      shownSave = m.save.count;
    }
    paintSheet();
    soon();
    if (view === 'save') show(paintSave());
    else if (view && (m.html || m.save && (!old || !old.save || old.save.count !== m.save.count))) tree(view, true);
    paintBar();
    if (m.errors.length && (!old || old.errors.length !== m.errors.length)) spoken.textContent = words(m.errors.length, 'thing to mend', 'things to mend');
    else if (old && old.errors.length && !m.errors.length) spoken.textContent = 'Mended';
    document.documentElement.dispatchEvent(new CustomEvent('proof', { detail: { hash: m.hash } }));
  }

  let events = null;
  // A page out of sight listens no more: a browser keeps few connections to one address, and
  // a writer many pages.
  function listen() {
    if (events) events.close();
    if (document.hidden) return;
    events = new EventSource('/proof/changes?' + new URLSearchParams({ at, have: hash }));
    events.onmessage = (e) => take(JSON.parse(e.data));
    events.onerror = () => {
      events.close();
      last = null;
      paintBar();
      late(listen, 700);
    };
  }
  addOwn(window, 'pagehide', () => { if (events) events.close(); });
  addOwn(document, 'visibilitychange', listen);
  addOwn(window, 'pageshow', (e) => { if (e.persisted) listen(); });
  paintBar();
  listen();
  // The page as it came, for comparing when it changes; whatever comes before it is compared
  // with what stands in the document.
  fetch(at, { headers: { Accept: 'text/html' } }).then((r) => r.text()).then((text) => {
    if (before) return;
    const doc = new DOMParser().parseFromString(text, 'text/html');
    const m = doc.querySelector('meta[name="proof"]');
    if (m && m.content === hash) before = doc;
  }).catch(() => {});
}());
