/* Fills in what depends on today: the day on which a sheet is printed, and which reviews are
   overdue. A published page does not depend on the day it was made, so that the same pages are the
   same bytes on every day. */
(function () {
  'use strict';

  function fill() {
    const now = new Date();
    const two = (n) => String(n).padStart(2, '0');
    const day = now.getFullYear() + '-' + two(now.getMonth() + 1) + '-' + two(now.getDate());
    for (const line of document.querySelectorAll('[data-today]')) {
      const time = line.querySelector('time');
      time.dateTime = day;
      time.textContent = now.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
      line.hidden = false;
    }
    markOverdue(day);
  }

  function markOverdue(day) {
    const late = [...document.querySelectorAll('[data-due]')].filter((mark) => {
      mark.hidden = mark.dataset.due >= day;
      return !mark.hidden;
    });
    const count = document.querySelector('[data-overdue]');
    if (!count || !late.length) return;
    count.textContent = late.length + ' overdue for review';
    count.hidden = false;
    for (const mark of late.reverse()) { // overdue rows come first, in the same order
      const row = mark.closest('tr');
      row.classList.add('late');
      row.parentNode.prepend(row);
    }
  }

  fill();
  addEventListener('beforeprint', fill);
  document.addEventListener('visibilitychange', fill);
})();
