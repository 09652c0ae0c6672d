// The value set last, and the first sentence of a refusal's text.
let lastSet = '';
const firstSentence = (e) => (e ? e.textContent.trim().match(/^.*?[.!?](?=\s|$)/s) || [e.textContent.trim()] : ['No numbers at this value.'])[0];

// One control. show() writes the current value into its fields, except one that is being typed in;
// paint() writes only what depends on the value.

function control(g) {
  const row = home.querySelector('.setting[data-given="' + g.name + '"]');
  if (!row) return;
  const title = row.querySelector('dt');
  title.id = 'Set-' + g.name;
  const range = row.querySelector('.setting-range');
  const trouble = make('p', { class: 'hand-trouble', id: 'Trouble-' + g.name, hidden: true });
  const was = make('p', { class: 'hand-tested', hidden: true });
  const box = make('dd', { class: 'hand' });
  if (range) range.id = 'Range-' + g.name;
  const about = (range && !g.choices ? range.id + ' ' : '') + trouble.id;
  const c = { row, reading: g.reading, show() {}, focus() {} };
  const accept = () => {
    troubles.delete(g.name);
    strange = [];
  };
  const refuse = (text, problem) => troubles.set(g.name, { text, problem });
  const set1 = (r, text) => {
    lastSet = g.name;
    r.ok ? accept() : refuse(text, r.problem);
  };

  if (g.choices) {
    // a few short ones stand in the row of the value, others in a list
    const short = g.choices.length <= 3 && g.choices.reduce((n, x) => n + x.text.length + 2, 0) <= 20;
    if (short) {
      const group = make('div', { class: 'hand-choices', role: 'radiogroup', 'aria-labelledby': title.id, 'aria-describedby': trouble.id });
      const inputs = g.choices.map((x) => {
        const input = make('input', { type: 'radio', name: 'Set-' + g.name, value: x.base, autocomplete: 'off' });
        input.addEventListener('change', () => {
          set1(sheet.put(g.name, x.base), x.text);
          touch(true);
        });
        group.append(make('label', { class: 'hand-choice' }, input, make('span', {}, span(x.text))));
        return input;
      });
      box.append(group);
      c.show = () => inputs.forEach((i) => { i.checked = !troubles.has(g.name) && Number(i.value) === sheet.get(g.name).base; });
      c.focus = () => (inputs.find((i) => i.checked) || inputs[0]).focus();
      c.lock = (on) => inputs.forEach((i) => { i.disabled = on; });
    } else {
      const list = make('select', { class: 'hand-list', 'aria-labelledby': title.id, 'aria-describedby': trouble.id, autocomplete: 'off' });
      list.append(...g.choices.map((x) => make('option', { value: x.base }, set(x.text))));
      list.addEventListener('change', () => {
        set1(sheet.put(g.name, Number(list.value)), list.value);
        touch(true);
      });
      box.append(list);
      c.show = () => {
        list.value = '';
        if (!troubles.has(g.name)) list.value = String(sheet.get(g.name).base);
      };
      c.focus = () => list.focus();
      c.lock = (on) => { list.disabled = on; };
    }
  } else if (g.kind === 'a date') {
    // the browser's own date field, which steps from day to day itself
    const field = make('input', { class: 'hand-field hand-date', type: 'date', min: g.from.text, max: g.to.text, step: g.step.base / 86400,
      autocomplete: 'off', 'aria-labelledby': title.id, 'aria-describedby': about });
    field.addEventListener('input', () => {
      set1(sheet.set(g.name, field.value), field.value);
      touch();
    });
    field.addEventListener('change', () => touch(true));
    box.append(make('div', { class: 'hand-line' }, field));
    c.show = () => {
      const t = troubles.get(g.name);
      if (!t || document.activeElement !== field) field.value = t ? t.text : sheet.get(g.name).text;
    };
    c.focus = () => field.focus();
    c.lock = (on) => { field.disabled = on; };
    c.ends = () => field.setAttribute('aria-invalid', troubles.has(g.name));
  } else {
    const field = make('input', { class: 'hand-field', type: 'text', autocomplete: 'off', autocapitalize: 'none', autocorrect: 'off', spellcheck: 'false',
      enterkeyhint: 'done', inputmode: g.unit ? 'text' : g.whole ? 'numeric' : 'decimal', 'aria-labelledby': title.id, 'aria-describedby': about });
    const step = (sign, word, by) => {
      const b = make('button', { type: 'button', class: 'hand-step', 'aria-label': word + ': ' + title.textContent }, sign);
      const go = () => {
        set1(sheet.move(g.name, by), field.value);
        touch(true);
      };
      let wait = 0, ran = false;
      const stop = () => clearTimeout(wait);
      const again = () => {
        ran = true;
        go();
        wait = setTimeout(again, 130);
      };
      b.addEventListener('pointerdown', (e) => {
        ran = false;
        if (e.button === 0 && !b.disabled) wait = setTimeout(again, 500);
      });
      ['pointerup', 'pointerleave', 'pointercancel', 'blur'].forEach((n) => b.addEventListener(n, stop));
      b.addEventListener('contextmenu', (e) => e.preventDefault());
      b.addEventListener('click', () => {
        stop();
        if (!ran) go();
        ran = false;
      });
      return b;
    };
    const less = step('\u2212', 'Less', -1), more = step('+', 'More', 1);
    // a reading is not entered with buttons
    const line = make('div', { class: 'hand-line' }, ...g.reading ? [field] : [less, field, more]);
    box.append(line);
    const stops = g.reading ? [] : sheet.values(g.name);
    let slide = null;
    if (stops.length > 2 && stops.length <= 60) {
      slide = make('input', { class: 'hand-slide', type: 'range', min: 0, max: stops.length - 1, step: 1, autocomplete: 'off', 'aria-labelledby': title.id });
      slide.addEventListener('input', () => {
        set1(sheet.put(g.name, stops[slide.value]), field.value);
        touch();
        c.show();
      });
      slide.addEventListener('change', () => touch(true));
      box.append(slide);
    }
    // What is typed counts at once, so that a field and a figure never disagree.
    let typing = false;
    const type = () => {
      typing = true;
      if (g.reading && !field.value.trim()) { // the reading was removed
        sheet.reset(g.name);
        accept();
      } else {
        const text = globalThis.measure.typed(field.value, sheet.get(g.name).shown);
        set1(sheet.set(g.name, text), field.value);
      }
      touch();
      if (slide) slideTo();
    };
    const done = () => {
      if (!typing) return;
      typing = false;
      touch(true);
    };
    field.addEventListener('input', type);
    field.addEventListener('change', done);
    field.addEventListener('blur', done);
    field.addEventListener('focus', () => {
      for (const o of controls.values()) o.row.classList.toggle('open', o === c);
      field.select();
    });
    field.addEventListener('keydown', (e) => {
      if (e.isComposing || e.altKey || e.ctrlKey || e.metaKey) return;
      if ((e.key === 'ArrowUp' || e.key === 'ArrowDown') && !g.reading) {
        e.preventDefault();
        typing = false;
        set1(sheet.move(g.name, e.key === 'ArrowUp' ? 1 : -1), field.value);
        touch(true);
        field.select();
      } else if (e.key === 'Enter') {
        e.preventDefault();
        done();
        field.select();
      } else if (e.key === 'Escape' && troubles.has(g.name)) {
        typing = false;
        accept();
        touch(true);
      }
    });
    const slideTo = () => {
      const base = sheet.get(g.name).base;
      let best = 0;
      stops.forEach((v, i) => { if (Math.abs(v - base) < Math.abs(stops[best] - base)) best = i; });
      slide.value = best;
      slide.setAttribute('aria-valuetext', sheet.get(g.name).shown);
    };
    c.show = () => {
      if (typing) return;
      const t = troubles.get(g.name);
      const text = t ? t.text : sheet.get(g.name).text;
      field.value = t ? text : globalThis.measure.field(text);
      field.classList.toggle('long', field.value.length > 7);
      if (field.value.length > 10) row.classList.add('broad');
      if (slide) slideTo();
    };
    c.focus = () => field.focus();
    c.lock = (on) => [field, less, more, slide].forEach((e) => { if (e) e.disabled = on; });
    c.ends = () => {
      const { base } = sheet.get(g.name), bad = !trouble.hidden;
      less.setAttribute('aria-disabled', !troubles.has(g.name) && base <= g.from.base);
      more.setAttribute('aria-disabled', !troubles.has(g.name) && base >= g.to.base);
      field.setAttribute('aria-invalid', bad);
    };
  }
  box.append(trouble, was);
  title.after(box);
  row.classList.add('handled');
  c.paint = () => {
    const t = troubles.get(g.name);
    const offers = t && t.problem.offers || [];
    // a refusal by the page also stands beside the value that caused it
    const blamed = !t && gone && !troubles.size && !strange.length && (lastSet ? lastSet === g.name : !sheet.get(g.name).own);
    const words = blamed ? firstSentence(limits.querySelector('.limit-text')) : !t ? '' : offers.length ? both(capital(t.problem.message)) + '. Which is meant? ' : sentence(t.problem);
    if (trouble.dataset.words !== words + offers) {
      trouble.dataset.words = words + offers;
      trouble.hidden = !words;
      trouble.replaceChildren(words, ...offers.map((offer) => {
        const b = make('button', { type: 'button', class: 'button hand-offer' }, set(offer));
        b.addEventListener('click', () => {
          set1(sheet.set(g.name, offer), offer);
          touch(true);
          c.focus();
        });
        return b;
      }));
    }
    const own = !t && sheet.get(g.name).own;
    // a value shown in other units stands here as it is worked with
    const shown = sheet.get(g.name).shown, now = !t && !g.choices && globalThis.measure.converted(shown);
    was.hidden = own && !now;
    if (g.reading && !now) was.hidden = true;
    was.replaceChildren(...now ? ['Set to ' + set(shown) + (own ? ', as tested' : '. ')] : [], ...own || g.reading ? [] : ['Tested at ', span(testedText(g))]);
    row.classList.toggle('set-otherwise', !own && !g.reading);
    if (c.ends) c.ends();
  };
  controls.set(g.name, c);
}
