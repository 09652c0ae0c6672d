/* The strip at the foot of a phone once values and results are scrolled past: the main results, a
   link back to the values and one to the steps. Since it shows numbers, it appears only after
   everything about safety has been scrolled past as well. hand.js loads it when the page is first
   scrolled. */
(function () {
  'use strict';

  const hand = globalThis.hand, home = document.getElementById('Given'), need = document.getElementById('Figures');
  if (!hand || !home || !need) return;
  const { all, make, valueSpan, writeValue } = hand.own;
  const mostInStrip = 3; // results

  const results = make('dl', { class: 'strip-results' }), why = make('p', { class: 'strip-why', hidden: true });
  const rows = all('.figure[data-figure]', need).slice(0, mostInStrip).map((e) => {
    const name = e.dataset.figure, value = valueSpan(hand.result.figures[name]);
    results.append(make('div', {}, make('dt', {}, e.querySelector('dt').textContent), make('dd', {}, value)));
    return [name, value];
  });
  why.append('No numbers. ', make('a', { href: '#Limits' }, 'See why'));
  const bar = make('section', { class: 'strip', hidden: true, 'aria-label': 'At these values' }, results, why, make('a', { href: '#Given' }, 'Set'));
  if (document.getElementById('Steps')) bar.append(make('a', { href: '#Steps' }, 'Steps'));
  document.body.append(bar);

  const list = need.querySelector('dl') || need;
  let below = false, seen = false;
  const show = () => { bar.hidden = !below || seen; };
  new IntersectionObserver(([e]) => {
    below = e.isIntersecting || e.boundingClientRect.bottom < 0;
    show();
  }, { rootMargin: '0px 0px -50% 0px' }).observe(home);
  new IntersectionObserver(([e]) => {
    seen = e.isIntersecting;
    show();
  }, { rootMargin: '0px 0px -56px 0px' }).observe(list.hidden ? need : list);

  function paint() {
    results.hidden = hand.gone;
    why.hidden = !hand.gone;
    if (!hand.gone) for (const [name, e] of rows) writeValue(e, hand.result.figures[name]);
  }
  document.addEventListener('hand', paint);
  paint();
})();
