/* The button of a page that keeps its records: the script that makes one is loaded when it is
   asked for. It then has the button do the rest. */
(function () {
  'use strict';

  const button = document.querySelector('.record-desk .button');
  if (!button) return;
  button.addEventListener('click', () => {
    for (const name of ['process.css', 'record.js']) globalThis.later(name).catch(() => { /* the next press asks again */ });
  });
})();
