// Finds the settings nearest to those of a sheet at which the page gives numbers, for a reader whose
// values it refuses. Given values are tried step by step, one at a time, and, if changing one is not
// enough, two at a time.
//
// sheet.holds() tells whether the page gives numbers. sheet.nearest() is a generator, since this can
// take long: it yields undefined between two trials, so that the caller may pause or stop, and each
// setting as it is found. All of them change one given value, or all of them two:
//
//   set    [[name, base, end]], for one or two given values. If a given has a range, end is the
//          farthest value beyond base, away from where the sheet stands, up to which all that
//          was tried holds as well; otherwise it is base
//   away   how far the change is, as a share of the ranges
//
// sheet.nearest({name, base}) is for a value that a given does not take: it tries only that given,
// starting from that value.
//
// Readings are left out, since nobody can choose what a thermometer shows, and so is a day that
// follows the calendar.

const finest = 2000; // how many values of a range are looked at
const coarsest = 24; // and where two are changed
const mostChoices = 3; // that are told of one given

// the values of a given that are tried, rising or in the order of its choices
const looks = (sheet, g) => {
  const all = sheet.values(g.name);
  if (all.length) return all;
  const step = g.step ? g.step.base : g.whole ? 1 : 0, span = g.to.base - g.from.base, out = [g.from.base];
  if (step) {
    const by = step * Math.ceil(span / step / finest);
    for (let k = 1; k * by < span; k++) out.push(g.from.base + k * by);
  } else if (span > 0) {
    // round numbers in the unit shown
    const { factor, zero } = unitNamed(g.unit), by = 10 ** Math.floor(Math.log10(span / factor / (finest / 10)));
    for (let k = Math.floor((g.from.base - zero) / factor / by) + 1; ; k++) {
      const v = Number((k * by).toPrecision(12)) * factor + zero;
      if (v >= g.to.base) break;
      out.push(v);
    }
  }
  if (span > 0) out.push(g.to.base);
  return out;
};
// one given of a sheet to change: how far its values lie from the present one, and which are tried,
// the nearest first
const wayOf = (sheet, i, from) => {
  const g = sheet.given[i], values = looks(sheet, g);
  const at = values.findIndex((v) => equal(v, from));
  const away = g.choices ? (v) => Math.abs(values.indexOf(v) - at) / values.length : (v) => Math.abs(v - from) / (g.to.base - g.from.base || 1);
  return { g, i, from, values, away, near: values.filter((v) => !equal(v, from)).sort((a, b) => away(a) - away(b)) };
};
// the farthest value up to which all holds, from base on away from where the sheet stands
function* reach(copy, way, base) {
  const { g, i, from, values } = way, on = base < from ? -1 : 1;
  let end = base;
  for (let k = values.indexOf(base) + on; k >= 0 && k < values.length; k += on) {
    // also between two steps, since a reader may type such a value
    const between = g.whole || g.kind === "a date" ? [] : [values[k - on] + (values[k] - values[k - on]) * 0.618];
    for (const v of [...between, values[k]]) {
      copy.base[i] = v;
      if (!copy.holds()) return end;
      yield;
    }
    end = values[k];
  }
  return end;
}
function* alone(copy, way) {
  const { g, i, near, away } = way;
  let found = 0;
  for (const base of near) {
    copy.base[i] = base;
    const holds = copy.holds();
    yield;
    if (!holds) continue;
    found++;
    yield { set: [[g.name, base, g.choices ? base : yield* reach(copy, way, base)]], away: away(base) };
    if (!g.choices || found === mostChoices) return;
  }
}
// the nearest of many values, and some from all over the rest
const thinned = (near) => near.filter((_, k) => k < coarsest / 3 || k % Math.ceil(near.length / coarsest) === 0);
function* together(copy, a, b) {
  let best = null;
  for (const v of thinned(a.near)) {
    if (best && a.away(v) >= best.away) break;
    copy.base[a.i] = v;
    for (const w of thinned(b.near)) {
      if (best && a.away(v) + b.away(w) >= best.away) break;
      copy.base[b.i] = w;
      const holds = copy.holds();
      yield;
      if (holds) best = { v, away: a.away(v) + b.away(w) };
    }
  }
  if (!best) return;
  copy.base[a.i] = best.v;
  for (const w of b.near) {
    copy.base[b.i] = w;
    const holds = copy.holds();
    yield;
    if (!holds) continue;
    yield { set: [[a.g.name, best.v, best.v], [b.g.name, w, w]], away: a.away(best.v) + b.away(w) };
    return;
  }
}
Object.assign(Sheet.prototype, {
  holds() {
    const out = { reasons: [], failed: [], held: [], lacks: [] };
    this.given.forEach((g, i) => { this.slots[g.slot] = this.base[i]; });
    run(this.program, this.slots, "", out);
    return !out.reasons.length && !out.failed.length;
  },
  *nearest(wanted) {
    const ways = this.given.map((g, i) => [g, i])
      .filter(([g]) => g.settable && !g.reading && !g.today && (!wanted || g.name === wanted.name))
      .map(([, i]) => wayOf(this, i, wanted ? wanted.base : this.base[i]));
    let found = false;
    for (const way of ways) {
      for (const x of alone(this.copy(), way)) {
        found = found || !!x;
        yield x;
      }
    }
    if (found) return;
    for (const [k, a] of ways.entries()) for (const b of ways.slice(k + 1)) yield* together(this.copy(), a, b);
  },
});
