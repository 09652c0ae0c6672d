/* The search box, until a reader comes to it: then it loads the script that answers (finding.js)
   and its style sheet (finding.css). */
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
