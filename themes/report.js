/* The sheet for a customer: the part of the page from its mark up to the next heading of the same
   level, under the lab's name and the day, with the page's safety messages. Only pages with such a
   mark load it. */
(function () {
  'use strict';

  const mark = document.getElementById('Report');
  if (!mark) return;
  const level = (e) => /^H[1-6]$/.test(e.tagName) ? Number(e.tagName[1]) : 7;
  let own = 1;
  for (let e = mark.previousElementSibling; e && own === 1; e = e.previousElementSibling) if (level(e) < 7) own = level(e);
  const part = [mark];
  for (let e = mark.nextElementSibling; e && level(e) > own; e = e.nextElementSibling) part.push(e);
  const root = document.documentElement;
  const done = () => {
    root.classList.remove('report-sheet');
    part.forEach((e) => e.classList.remove('in-report'));
  };
  mark.querySelector('.report-print').addEventListener('click', async () => {
    await globalThis.later('report.css').catch(() => {});
    mark.querySelector('.report-day').textContent = new Date().toLocaleDateString(root.lang || undefined, { dateStyle: 'long' });
    part.forEach((e) => e.classList.add('in-report'));
    root.classList.add('report-sheet');
    addEventListener('afterprint', done, { once: true });
    print();
  });
})();
