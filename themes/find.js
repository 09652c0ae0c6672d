/* The search box, until a reader comes to it: then it loads what answers it (finding.js) and
   how its answers look (finding.css). */
(function () {
  'use strict';

  document.documentElement.classList.add('scripted');
  const box = document.querySelector('.find');
  if (!box) return;
  box.querySelector('.find-field').addEventListener('focus', () => {
    globalThis.later('finding.css').catch(() => {});
    globalThis.later('finding.js').catch(() => {
      box.querySelector('.found-count').textContent = 'The search did not load. Come to the field again to try once more.';
      box.querySelector('.found').hidden = false;
    });
  });
})();
