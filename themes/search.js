/* The search box. What a reader types is answered from the site's own entries, a script
   that is loaded when the box is first used; nothing is sent anywhere, and it works from a
   disk. The box is a combobox with a list of options as WAI-ARIA 1.2 describes it: the
   focus stays in the field, and arrows move through the list. */
(function () {
  'use strict';

  const most = 8; // pages shown
  const pause = 500; // ms without typing before the number of pages is said aloud

  document.documentElement.classList.add('scripted');
  const box = document.querySelector('.find');
  if (!box) return;
  const field = box.querySelector('.find-field');
  const sheet = box.querySelector('.found');
  const list = box.querySelector('.found-list');
  const nothing = box.querySelector('.found-none');
  const status = box.querySelector('.found-count');
  const row = box.querySelector('template').content.firstElementChild;

  let state = 'new'; // then loading, ready, or failed
  let rows = [];
  let at = -1; // the row that is chosen
  let goOn = false; // Enter was pressed before there was an answer
  let saying = 0;

  const linkIn = element => element.matches('a') ? element : element.querySelector('a');

  function load() {
    if (state === 'loading' || state === 'ready') return;
    state = 'loading';
    const script = document.createElement('script');
    script.addEventListener('load', () => {
      state = 'ready';
      if (document.activeElement === field) answer();
    });
    script.addEventListener('error', () => {
      state = 'failed';
      script.remove();
      if (document.activeElement === field) answer();
    });
    script.src = box.dataset.index;
    document.head.append(script);
  }

  function open(is) {
    sheet.hidden = !is;
    field.setAttribute('aria-expanded', String(is && rows.length > 0));
    if (!is) choose(-1);
  }

  function choose(to) {
    if (rows[at]) rows[at].setAttribute('aria-selected', 'false');
    at = to;
    if (!rows[at]) {
      field.removeAttribute('aria-activedescendant');
      return;
    }
    rows[at].setAttribute('aria-selected', 'true');
    rows[at].scrollIntoView({block: 'nearest'});
    field.setAttribute('aria-activedescendant', rows[at].id);
  }

  // say waits until the reader rests, so that not every letter is answered aloud.
  function say(text) {
    clearTimeout(saying);
    saying = setTimeout(() => { status.textContent = text; }, pause);
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

  function rowOf(page, number) {
    const made = row.cloneNode(true);
    made.id = 'Found-' + (number + 1);
    linkIn(made).href = box.dataset.top + page.address;
    write(made.querySelector('.find-title'), page.title);
    made.querySelector('.find-where').textContent = page.where;
    write(made.querySelector('.find-words'), page.passage);
    return made;
  }

  function note(text) {
    nothing.textContent = text;
    nothing.hidden = !text;
  }

  function answer() {
    choose(-1);
    const typed = field.value;
    if (!typed.trim()) {
      rows = [];
      list.replaceChildren();
      open(false);
      say('');
      return;
    }
    if (state !== 'ready') {
      if (state === 'new') load();
      rows = [];
      list.replaceChildren();
      note(state === 'failed' ? 'The list of what can be found did not load.' : 'One moment.');
      open(true);
      if (state === 'failed') say(nothing.textContent);
      return;
    }
    const found = globalThis.findPages(typed, most);
    rows = found.pages.map(rowOf);
    list.replaceChildren(...rows);
    sheet.scrollTop = 0;
    const pages = found.count === 1 ? '1 page' : found.count + ' pages';
    let text = '';
    if (!found.count) text = 'Nothing found. Try a shorter word.';
    else if (!found.all) text = 'No page has all of these words. ' + (found.count === 1 ? '1 page has' : pages + ' have') + ' some of them.';
    else if (found.count > rows.length) text = 'The first ' + rows.length + ' of ' + pages + '.';
    note(text);
    open(true);
    say(text || pages + ' found.');
    if (goOn && rows.length) linkIn(rows[0]).click();
    goOn = false;
  }

  field.addEventListener('focus', () => {
    load();
    if (field.value.trim() && sheet.hidden) answer();
  });
  field.addEventListener('input', () => {
    goOn = false;
    answer();
  });
  field.addEventListener('keydown', event => {
    if (event.isComposing || event.altKey || event.ctrlKey || event.metaKey) return;
    switch (event.key) {
      case 'ArrowDown':
      case 'ArrowUp': {
        event.preventDefault();
        if (sheet.hidden) {
          answer();
          if (sheet.hidden) return;
        }
        // Before the first and after the last is the field itself, where none is chosen.
        const step = event.key === 'ArrowDown' ? 1 : -1;
        const places = rows.length + 1;
        choose((at + 1 + step + places) % places - 1);
        return;
      }
      case 'Enter': {
        event.preventDefault();
        const chosen = rows[at] || !sheet.hidden && rows[0];
        if (chosen) linkIn(chosen).click();
        else if (state === 'loading') goOn = true;
        else if (sheet.hidden) answer();
        return;
      }
      case 'Escape':
        // The first closes the list, the next empties the field, as the browser does by itself.
        if (!sheet.hidden) {
          event.preventDefault();
          open(false);
          say('');
        }
    }
  });
  box.addEventListener('focusout', event => {
    if (!box.contains(event.relatedTarget)) open(false);
  });
  list.addEventListener('mousedown', event => {
    if (event.button === 0) event.preventDefault(); // the focus stays in the field
  });
  // A link to a place on this very page leaves it open, so the list must close.
  list.addEventListener('click', () => { open(false); });
})();
