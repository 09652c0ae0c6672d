// A given value: how it is made from the page's script, how it is shown, what it takes.

const timeKind = kindOf(unitNamed("s")), degreeKind = kindOf(unitNamed("K")), scaleKind = kindOf(unitNamed("°C")), volumeKind = kindOf(unitNamed("l"));
const dateKind = kindOf(dateUnit), isDate = (g) => g.kindKey === dateKind;

// a given, from its description in the page's script
const ready = (spec) => {
  const style = spec.show[0];
  const g = { label: spec.name, unit: "", from: null, to: null, step: null, whole: false, choices: null, ...spec };
  g.title = spec.label || spec.name;
  const ends = (x) => x && { base: x[0], text: x[1] };
  g.from = ends(g.from);
  g.to = ends(g.to);
  g.step = ends(g.step);
  if (style === "truth") g.choices = ["no", "yes"].map((text, base) => ({ base, text }));
  else if (style === "choice") g.choices = spec.show[2].map((text, base) => ({ base, text }));
  else if (g.choices) g.choices = g.choices.map(([base, text, ownUnit]) => ({ base, text, ownUnit: !!ownUnit }));
  g.settable = !!(g.from || g.choices || g.reading);
  if (spec.today) Object.defineProperty(g, "own", { get: () => today });
  g.kindKey = style === "day" || style === "weekday" ? dateKind : style === "truth" || style === "choice" ? style : kindOf(unitNamed(g.unit));
  g.ownForm = style === "clock" && /\d .*\d/.test(g.text) ? "duration" : "";
  return Object.freeze(g);
};

// Shown: recipes/page/sheet.go
const shownGiven = (g, base) => {
  const s = format(g.show, base);
  if (g.show[0] === "truth" || g.show[0] === "choice") return s;
  if (isDate(g)) return s;
  if (base === g.own) return { ...s, text: g.text };
  const c = g.choices && g.choices.find((c) => equal(c.base, base));
  if (c) return c.ownUnit ? s : { ...s, text: c.text };
  return !["part", "over", "clock"].includes(g.show[0]) || readsAs(g, s.text, base) ? s : exactly(g, base);
};
// a form that would round what was set is not used
const exactly = (g, base) => {
  const s = g.steps && format(g.steps, base);
  return s && readsAs(g, s.text, base) ? s : format(["written", g.show[1]], base);
};
const readsAs = (g, text, base) => {
  try {
    return equal(read(text, g.kindKey === degreeKind).base, base);
  } catch (p) {
    if (!(p instanceof Problem)) throw p;
    return false;
  }
};

// takes: recipes/page/uses.go
const takes = (g, base) => {
  if (g.show[0] === "truth") return base === 0 || base === 1;
  if (g.choices) return g.choices.some((c) => equal(c.base, base));
  if (!g.from) return g.today || equal(base, g.own);
  return !less(base, g.from.base) && !less(g.to.base, base) && (!g.whole || equal(base, nearest(base)));
};
