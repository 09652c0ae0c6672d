/* Answers the search box, once find.js has loaded it, from the site's own files: nothing is sent
   anywhere, and it works from a disk. The first file, a script, is loaded when a reader comes to
   the box. On a large site it names the parts that an answer needs, which are loaded when the
   typing pauses; the last results stay until the next answer is whole. Results are a list of links
   below the field: arrows move the focus between the field and the links, Enter in the field opens
   the first, Escape closes the list. */
(function () {
  'use strict';

  const most = 8; // pages shown
  const pause = 400; // ms without typing before the results are announced
  const rest = 150; // ms without typing before parts are loaded
  const patience = 400; // ms before a reader is told that the next answer takes a while

  const box = document.querySelector('.find');
  if (!box) return;
  const field = box.querySelector('.find-field');
  const panel = box.querySelector('.found');
  const list = box.querySelector('.found-list');
  const count = box.querySelector('.found-count');
  const row = box.querySelector('template').content.firstElementChild;

  // Screen readers miss a text that appears together with its element, as the one in the panel
  // does, so an element that is always there announces it.
  count.removeAttribute('role');
  const spoken = document.createElement('p');
  spoken.className = 'unseen';
  spoken.setAttribute('role', 'status');
  box.append(spoken);

  let links = [];
  let goOn = false; // Enter was pressed before there was an answer
  let needed = []; // addresses of scripts that the answer waits for
  let saying = 0, asking = 0, telling = 0; // timers

  const index = box.dataset.index;
  const addressOf = part => index.replace(/\.js$/, '/') + part + '.js';
  const scripts = new Map(); // address → loading, ready or failed
  const are = how => needed.some(address => scripts.get(address) === how);

  function load(address) {
    if (scripts.has(address)) return;
    scripts.set(address, 'loading');
    const script = document.createElement('script');
    const done = how => () => {
      scripts.set(address, how);
      script.remove();
      if (needed.includes(address) && !are('loading')) answer(false);
    };
    script.addEventListener('load', done('ready'));
    script.addEventListener('error', done('failed'));
    script.src = address;
    document.head.append(script);
  }

  // retry lets scripts that failed be loaded again.
  function retry() {
    for (const [address, how] of scripts) if (how === 'failed') scripts.delete(address);
  }

  // wait loads what an answer needs, and keeps the last results meanwhile.
  function wait(typing) {
    if (panel.hidden || !links.length) show([], 'One moment.', '');
    else if (!telling) telling = setTimeout(() => { count.textContent = 'One moment.'; }, patience);
    clearTimeout(asking);
    const ask = () => needed.forEach(load);
    if (typing) asking = setTimeout(ask, rest);
    else ask();
  }

  function settle() {
    needed = [];
    clearTimeout(asking);
    clearTimeout(telling);
    telling = 0;
  }

  function close() {
    panel.hidden = true;
    goOn = false;
    settle();
    say('');
  }

  function say(text) {
    clearTimeout(saying);
    saying = setTimeout(() => { spoken.textContent = text; }, pause);
  }

  // write puts parts, [text, whether it matches], into an element.
  function write(element, parts) {
    element.replaceChildren(...parts.map(([text, hit]) => {
      if (!hit) return text;
      const mark = document.createElement('mark');
      mark.textContent = text;
      return mark;
    }));
  }

  function rowOf(page) {
    const made = row.cloneNode(true);
    made.querySelector('.find-link').href = box.dataset.top + page.address;
    write(made.querySelector('.find-title'), page.title);
    made.querySelector('.find-where').textContent = page.where;
    write(made.querySelector('.find-words'), page.passage);
    return made;
  }

  // show opens the panel with rows and a text.
  function show(rows, text, aloud) {
    if (list.contains(document.activeElement)) field.focus(); // the focused link is about to go
    list.replaceChildren(...rows);
    links = rows.map(r => r.querySelector('.find-link'));
    if (links.length) links[0].classList.add('first');
    count.textContent = text;
    panel.hidden = false;
    panel.scrollTop = 0;
    say(aloud);
  }

  function fail(text) {
    settle();
    goOn = false;
    show([], text, text);
  }

  // answer shows what the text in the field finds, or loads what that takes, after a moment if
  // somebody is typing.
  function answer(typing) {
    const typed = field.value;
    if (!typed.trim()) {
      close();
      return;
    }
    const found = scripts.get(index) === 'ready' ? globalThis.findPages(typed, most) : null;
    needed = found ? (found.missing || []).map(addressOf) : [index];
    if (are('failed')) {
      fail(found ? 'A part of what can be found did not load, so there is no answer. Try again when the site can be reached.' : 'The list of what can be found did not load.');
    } else if (are('ready')) { // loaded, but refused: another version of the site numbers its pages differently
      fail('The site has changed since this page was opened. Open the page anew to search it.');
    } else if (needed.length) {
      wait(typing && !!found);
    } else {
      tell(found);
    }
  }

  function tell(found) {
    settle();
    const pages = found.count === 1 ? '1 page' : found.count + ' pages';
    let text = pages;
    if (!found.count) text = 'Nothing found. Try a shorter word.';
    else if (!found.all) text = 'No page has all of these words; ' + pages + (found.count === 1 ? ' has' : ' have') + ' some of them';
    if (found.count > most) text += '; the first ' + most + ' are shown';
    // For a mistyped word similar ones were looked for, and the text says so.
    const instead = found.instead.map(([typed, others]) => 'No page says ' + typed + '; looked for ' + others.join(', ') + ' instead. ').join('');
    if (found.count) text = instead + text;
    show(found.pages.map(rowOf), text, text);
    if (goOn && links.length) links[0].click();
    goOn = false;
  }

  field.addEventListener('focus', () => {
    if (!panel.hidden) return;
    retry();
    load(index);
    answer(false);
  });
  field.addEventListener('input', () => {
    goOn = false;
    retry();
    answer(true);
  });
  box.addEventListener('keydown', event => {
    if (event.isComposing || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const at = [field, ...links].indexOf(document.activeElement);
    switch (event.key) {
      case 'ArrowDown':
      case 'ArrowUp': {
        event.preventDefault();
        if (panel.hidden) answer(false);
        if (panel.hidden || needed.length) return; // the results shown are about to go
        const step = event.key === 'ArrowDown' ? 1 : -1;
        const stops = [field, ...links];
        stops[(Math.max(at, 0) + step + stops.length) % stops.length].focus();
        return;
      }
      case 'Enter':
        if (at > 0) return; // a link opens by itself
        event.preventDefault();
        if (needed.length) {
          goOn = true;
          answer(false); // at once: the typing has ended
        } else if (panel.hidden) answer(false);
        else if (links.length) links[0].click();
        return;
      case 'Escape':
        // The first press closes the list; at the second the browser empties the field.
        if (panel.hidden) return;
        event.preventDefault();
        field.focus();
        close();
    }
  });
  // The field got the focus before this script was loaded.
  if (document.activeElement === field) {
    load(index);
    answer(false);
  }
  // The link that Enter would open is marked while the focus is in the field.
  box.addEventListener('focusin', () => {
    if (links.length) links[0].classList.toggle('first', document.activeElement === field);
  });
  box.addEventListener('focusout', event => {
    if (!box.contains(event.relatedTarget)) close();
  });
  // The focus stays in the field while a link is pressed, or the list would close under it.
  list.addEventListener('mousedown', event => {
    if (event.button === 0) event.preventDefault();
  });
  // A link to a place on this very page leaves it open, so the list must close.
  list.addEventListener('click', close);
})();
