// What page scripts and the theme's scripts see:
//
//   labsite.page(build)      called by a page's own script, once
//   labsite.use(take)        calls take(sheet) as soon as the page's script has run
//   labsite.on(day)          makes a day, in base units, count as today, for tests
//   labsite.further(add)     calls add with what the second part of the runtime needs
//   labsite.read(text)       reads a quantity as a page writes it: {value} or {problem}

let current = null;
const waiting = [];
const made = (build) => {
  const program = build(helpers);
  (program.counts || []).forEach(countUnit);
  program.given = Object.freeze(program.given.map(ready));
  prepare(program);
  return new Sheet(program);
};
const page = (build) => {
  current = made(build);
  waiting.splice(0).forEach((take) => take(current));
  return current;
};
const use = (take) => { if (current) take(current); else waiting.push(take); };

return Object.freeze({
  page,
  use,
  further: (add) => add({ Sheet, made, attempt, equal, format, isDate, isoDate, ready, run, setRow, shownGiven, total, unitNamed }),
  on: (day) => { today = day; },
  read: (text) => {
    try {
      const v = read(normal(String(text)), false);
      return { value: { base: v.base, text: v.text, unit: v.unit.text, kind: kindName(v.unit) } };
    } catch (p) {
      if (!(p instanceof Problem)) throw p;
      return { problem: p };
    }
  },
});
