/* Labels at the values that a reader set. hand.js writes their numbers and code.js their codes;
   this says at the foot of each label what was set, and if the page refuses, it hides every number
   and says so there. Hazards and names stay as they are. */
(function () {
  'use strict';

  const { hand } = globalThis;
  if (!hand) return;
  const all = (selector) => [...document.querySelectorAll('main.paper ' + selector)];
  const numbers = all('[data-number]'), sets = all('.label-set'), refused = all('.label-refused');
  function follow() {
    const { gone, own } = hand;
    numbers.forEach((e) => { e.hidden = gone; });
    refused.forEach((e) => { e.hidden = !gone; });
    sets.forEach((e) => {
      const parts = hand.sheet.changed().filter((n) => !own.troubles.has(n)).map((n) => [own.titleOf(n) + ' ', own.span(hand.result.given[n].shown)]);
      e.hidden = !parts.length;
      e.replaceChildren(...parts.length ? ['At ', ...parts.flatMap((part, i) => [i ? '; ' : '', ...part])] : []);
    });
  }
  follow();
  document.addEventListener('hand', follow);
})();
