/* The search box. What a reader types is answered from the site's own entries, a script
   that is loaded when the box is first used; nothing is sent anywhere, and it works from a
   disk. What is found is a list of links below the field: arrows move the focus between
   the field and the links, Enter in the field opens the first, Escape closes the list. */
(function () {
  'use strict';

  const most = 8; // pages shown
  const pause = 400; // ms without typing before what was found is said aloud

  document.documentElement.classList.add('scripted');
  const box = document.querySelector('.find');
  if (!box) return;
  const field = box.querySelector('.find-field');
  const panel = box.querySelector('.found');
  const list = box.querySelector('.found-list');
  const count = box.querySelector('.found-count');
  const row = box.querySelector('template').content.firstElementChild;

  // Screen readers miss a text that comes into sight together with its element, as the
  // one in the panel does. So one that is always there says it.
  count.removeAttribute('role');
  const spoken = document.createElement('p');
  spoken.className = 'unseen';
  spoken.setAttribute('role', 'status');
  box.append(spoken);

  let state = 'new'; // then loading, ready, or failed
  let links = [];
  let goOn = false; // Enter was pressed before there was an answer
  let saying = 0;

  function load() {
    if (state === 'loading' || state === 'ready') return;
    state = 'loading';
    const script = document.createElement('script');
    const done = how => () => {
      state = how;
      if (how === 'failed') script.remove();
      if (box.contains(document.activeElement)) answer();
    };
    script.addEventListener('load', done('ready'));
    script.addEventListener('error', done('failed'));
    script.src = box.dataset.index;
    document.head.append(script);
  }

  function close() {
    panel.hidden = true;
    goOn = false;
    say('');
  }

  function say(text) {
    clearTimeout(saying);
    saying = setTimeout(() => { spoken.textContent = text; }, pause);
  }

  // write puts parts, [text, whether it was looked for], into an element.
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

  // show opens the panel with what was found and what is said of it.
  function show(rows, text, aloud) {
    list.replaceChildren(...rows);
    links = rows.map(r => r.querySelector('.find-link'));
    if (links.length) links[0].classList.add('first');
    count.textContent = text;
    panel.hidden = false;
    panel.scrollTop = 0;
    say(aloud);
  }

  function answer() {
    const typed = field.value;
    if (!typed.trim()) {
      close();
      return;
    }
    if (state === 'new') load();
    if (state === 'loading') {
      show([], 'One moment.', '');
      return;
    }
    if (state === 'failed') {
      const text = 'The list of what can be found did not load.';
      show([], text, text);
      return;
    }
    const found = globalThis.findPages(typed, most);
    const pages = found.count === 1 ? '1 page' : found.count + ' pages';
    let text = pages;
    if (!found.count) text = 'Nothing found. Try a shorter word.';
    else if (!found.all) text = 'No page has all of these words; ' + pages + (found.count === 1 ? ' has' : ' have') + ' some of them';
    if (found.count > most) text += '; the first ' + most + ' are shown';
    show(found.pages.map(rowOf), text, text);
    if (goOn && links.length) links[0].click();
    goOn = false;
  }

  field.addEventListener('focus', () => {
    load();
    if (panel.hidden) answer();
  });
  field.addEventListener('input', () => {
    goOn = false;
    answer();
  });
  box.addEventListener('keydown', event => {
    if (event.isComposing || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const at = [field, ...links].indexOf(document.activeElement);
    switch (event.key) {
      case 'ArrowDown':
      case 'ArrowUp': {
        event.preventDefault();
        if (panel.hidden) answer();
        if (panel.hidden) return;
        const step = event.key === 'ArrowDown' ? 1 : -1;
        const stops = [field, ...links];
        stops[(Math.max(at, 0) + step + stops.length) % stops.length].focus();
        return;
      }
      case 'Enter':
        if (at > 0) return; // a link opens by itself
        event.preventDefault();
        if (state === 'loading') goOn = true;
        else if (panel.hidden) answer();
        else if (links.length) links[0].click();
        return;
      case 'Escape':
        // The first closes the list; the browser empties the field at the next.
        if (panel.hidden) return;
        event.preventDefault();
        field.focus();
        close();
    }
  });
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
