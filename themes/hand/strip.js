// The slim line at the foot of a phone, once values and results are scrolled past: the main
// results, the way back to the values, and the way to the steps. It comes only after all that
// keeps a person safe has been scrolled past as well, since it shows numbers.

let strip = null;
const mostInStrip = 3; // results
function makeStrip() {
  const need = document.getElementById('Figures');
  if (!home || paper || !need || !controls.size) return;
  const results = make('dl', { class: 'strip-results' }), why = make('p', { class: 'strip-why', hidden: true });
  const rows = figures.slice(0, mostInStrip).map(([name, e]) => {
    const value = valueSpan(result.figures[name]);
    results.append(make('div', {}, make('dt', {}, e.closest('.figure').querySelector('dt').textContent), make('dd', {}, value)));
    return [name, value];
  });
  why.append('No numbers. ', make('a', { href: '#Limits' }, 'See why'));
  const bar = make('section', { class: 'strip', hidden: true, 'aria-label': 'At these values' }, results, why, make('a', { href: '#Given' }, 'Set'));
  const steps = document.getElementById('Steps');
  if (steps) bar.append(make('a', { href: '#Steps' }, 'Steps'));
  main.append(bar);
  strip = { rows, results, why };
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
  paintStrip();
}
function paintStrip() {
  if (!strip) return;
  strip.results.hidden = gone;
  strip.why.hidden = !gone;
  if (!gone) for (const [name, e] of strip.rows) writeValue(e, result.figures[name]);
}
