/* Puts first what visitors come for this month, then what they come for next. A published page does
   not depend on the day it was made, so the order follows the reader's calendar. */
(function () {
  'use strict';

  const list = document.querySelector('.season ul');
  if (!list) return;

  // until is the number of months until a season, 0 if it is now.
  const until = (item, month) => Math.min(...item.dataset.months.split(' ').map((m) => (m - month + 12) % 12));

  function order() {
    const month = new Date().getMonth() + 1;
    const items = [...list.children].sort((a, b) => until(a, month) - until(b, month));
    for (const item of items) {
      item.classList.toggle('now', until(item, month) === 0);
    }
    list.replaceChildren(...items);
    list.classList.add('ordered');
  }

  order();
})();
