/* The button of a page that keeps its records: a press loads the script that makes one, which then
   takes over the button. */
(function () {
  'use strict';

  const button = document.querySelector('.record-desk .button');
  if (!button) return;
  button.addEventListener('click', () => {
    for (const name of ['process.css', 'record.js']) globalThis.later(name).catch(() => { /* the next press asks again */ });
  });
})();
