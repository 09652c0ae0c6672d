/* The axes of a chart in the units that the reader chose: the value in the other unit at each tick,
   inside the frame. measure.js loads it for a reader who chose units other than the page's, and
   hands it the drawing and a function that converts a unit (other). */
(function () {
  'use strict';

  const { set } = globalThis.measure;
  globalThis.measure.axes = (svg, other) => {
    for (const e of svg.querySelectorAll('.chart-us')) e.remove();
    const [left, , right, bottom] = svg.dataset.plot.split(' ').map(Number), size = Number(svg.getAttribute('font-size'));
    let beside = false;
    for (const title of [...svg.querySelectorAll('.chart-title')].reverse()) {
      const text = title.dataset.text = title.dataset.text ?? title.textContent;
      title.textContent = text;
      const unit = /^(?:.*\()?([^\s()]+)\)?$/.exec(text), below = Number(title.getAttribute('y')) > bottom;
      const ticks = [...svg.querySelectorAll('.chart-tick:not(.chart-us)')].filter((e) => (e.getAttribute('text-anchor') === 'middle') === below);
      const values = ticks.map((e) => Number(e.textContent.replace('\u2212', '-')));
      const found = unit && values.every((v) => v === v) && other(unit[1], Math.max(...values.map(Math.abs)));
      if (!found) continue;
      title.textContent = text.replace(/\)?$/, (text.endsWith(')') ? '; inside: ' : ' (inside: ') + set(found[0]) + ')');
      let taken = 0; // the right end of the last label on the axis below
      ticks.forEach((tick, i) => {
        const x = Number(tick.getAttribute('x')), y = Number(tick.getAttribute('y')) - size * .35;
        // the corner belongs to the value of the axis below
        if (!below && beside && y > bottom - 2 * size) return;
        const e = tick.cloneNode(), words = set(found[1](values[i])), half = words.length * size / 4;
        // above its tick, and at the ends of the axis inside the frame
        const at = !below ? 'start' : x - half < left ? 'start' : x + half > right ? 'end' : 'middle';
        const from = at === 'start' ? x : at === 'end' ? right - 2 * half : x - half;
        if (below && from < taken) return;
        taken = from + 2 * half + 4;
        for (const [k, v] of Object.entries({
          class: 'chart-tick chart-own-where chart-us', 'font-size': size * .85, 'font-style': 'italic', 'text-anchor': at,
          x: !below || at === 'start' ? left + 4 : at === 'end' ? right - 4 : x, y: below ? bottom - 5 : y - 4,
        })) e.setAttribute(k, v);
        e.textContent = words;
        svg.append(e);
      });
      beside = below;
    }
  };
})();
