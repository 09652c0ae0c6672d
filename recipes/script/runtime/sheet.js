// A sheet is the page at given values. It starts at the page's own:
//
//   sheet.given              its given values, in the page's order; each has name, label,
//                            kind ("a volume"), unit, settable, own, text (the page's own
//                            value), from, to, step ({base, text} or null), whole, choices
//                            ([{base, text}], for texts and yes/no as well) or null
//   sheet.set(name, text)    takes what a reader typed. {ok: true, base, text} or
//                            {ok: false, problem: {code, message, hint, offers}}; offers are
//                            texts that would be taken, to choose among. After a problem the
//                            old value stands.
//   sheet.put(name, base)    the same for a number in base units, from a control
//   sheet.move(name, count)  goes some steps up or down within the range or the choices
//   sheet.get(name)          {name, base, text, shown, value, unit, own}: text reads back as
//                            the value and suits a field, shown is how the page writes it
//   sheet.values(name)       the values that a control goes through, in base units; empty if
//                            there are no steps
//   sheet.reset(name)        back to the tested value; of all given values without a name
//   sheet.blank()            names of the readings that have no value yet
//   sheet.changed()          names of the given values that are not the page's own
//   sheet.work()             works everything out; see below
//   sheet.show(name, base)   how the page writes a value of a given or a figure
//   sheet.settings()         what was changed, for an address: tank=600%20ml&rolls=2
//   sheet.take(fragment)     sets what such a text says, with or without its #, and all
//                            other values to the page's own; returns the problems, with names
//   sheet.grid(name)         a table: {rows, columns}; see below
//   sheet.follow()           updates today if the reader's calendar shows another day, and tells
//                            whether it did; only for a page that follows the calendar
//   sheet.moved()            whether today is not the day for which the page was made
//   sheet.copy()             another sheet at the same values, for tables and charts
//
// sheet.work() gives
//
//   given      {name: {shown, value, unit, own}}
//   figures    {name: {shown, value, unit}}, in working order
//   placed     [{shown, value, unit}], formulas outside the figures, by number; given values
//              among them stay even if all else is withdrawn.
//              If a value is missing, shown, value and unit are null, and instead is what stands
//              in its place: "" if it waits for a reading
//   limits     [{of, index, kind}] that hold: index is the number of the limit on this page, or
//              on the page drawn on that of names ("" for this page, "mix.stock" for one that
//              mix draws on)
//   refused    whether the page refuses these values
//   reasons    [{of, limit, text}] why: the index of a limit, or a text of the formula's own
//   failed     names of figures that gave no finite number; "" for a limit
//   withdrawn  refused or failed: no number may be shown; shown, value, unit are then null
//   process    null if there are no times, else {steps, total}: of each step null, or
//              {shown, length, start, pour, moments}: its time as written and the same in
//              seconds, when it begins on the running clock, and, from its own start, when
//              pouring out begins and when the tank is moved again
//
// sheet.grid(name) gives the table at this sheet's values:
//
//   rows       [{base, text, cells}], a cell for each column
//   columns    [{base, text}]; one without a text if the table has no columns
//   cells      [{figures: [{shown, value, unit}], own, result}]: own says that the cell
//              is at this sheet's values, result is that of work()
//
// Values are unrounded numbers in the unit shown. Whatever is computed here is computed in Go as
// well (recipes/formula, recipes/quantity), with the same tolerances and the same texts; tests
// compare the two.

// at first a reading has no value: undefined
const first = (g) => g.reading ? undefined : g.own;
const said = (s) => s ? { shown: s.text, value: s.value, unit: s.unit } : { shown: null, value: null, unit: null };

class Sheet {
  constructor(program, from) {
    this.program = program;
    this.given = program.given;
    this.base = from ? from.base.slice() : this.given.map(first);
    this.text = from ? from.text.slice() : this.given.map(() => "");
    this.slots = [];
    Object.freeze(this);
  }
  // the place of a given among the others
  place(name) {
    const i = this.given.findIndex((g) => g.name === name);
    if (i < 0) throw new Problem("unknown-given", "there is no given value " + name, "Only given values can be set.");
    return i;
  }
  attempt(name, change) {
    try {
      const i = this.place(name);
      const [base, text] = change(this.given[i], i);
      this.base[i] = base;
      this.text[i] = text;
      const { text: now } = this.get(name);
      return { ok: true, base, text: now };
    } catch (p) {
      if (!(p instanceof Problem)) throw p;
      return { ok: false, problem: p };
    }
  }
  // trusted: the text was written by the program, or stood in the field before
  set(name, text, trusted) {
    return this.attempt(name, (g, i) => {
      if (g.show[0] === "truth" || g.show[0] === "choice") {
        const c = chosen(g, String(text));
        if (!g.settable) fail("fixed", g.title, g.text);
        return [c.base, ""];
      }
      const v = typed(g, String(text), trusted || String(text) === this.text[i]);
      return [held(g, v), v.text];
    });
  }
  put(name, base) {
    return this.attempt(name, (g) => {
      const v = g.show[0] === "truth" || g.show[0] === "choice" ? { base, text: String(base) } : { base, text: shownGiven(g, base).text };
      return [held(g, v), ""];
    });
  }
  move(name, count) {
    return this.attempt(name, (g, i) => {
      // a reading that was not entered
      if (this.base[i] === undefined) fail("missing");
      if (g.choices) {
        const at = g.choices.findIndex((c) => equal(c.base, this.base[i]));
        return [g.choices[max(0, min(g.choices.length - 1, at + count))].base, ""];
      }
      if (!g.from) fail("fixed", g.title, g.text);
      const step = g.step ? g.step.base : g.whole ? 1 : (g.to.base - g.from.base) / 20;
      // from a value between steps to the next step
      const at = (this.base[i] - g.from.base) / step;
      const to = g.from.base + (count > 0 ? below(at) + count : above(at) + count) * step;
      const base = less(to, g.from.base) ? g.from.base : less(g.to.base, to) ? g.to.base : to;
      return [equal(base, g.own) ? g.own : equal(base, g.to.base) ? g.to.base : base, ""];
    });
  }
  get(name) {
    const i = this.place(name), g = this.given[i], base = this.base[i];
    if (base === undefined) return { name, base, text: "", shown: "", value: null, unit: "", own: true };
    const s = shownGiven(g, base);
    return { name, base, text: this.text[i] && base !== first(g) ? this.text[i] : written(g, base, s.text), shown: s.text, value: s.value, unit: s.unit, own: base === first(g) };
  }
  values(name) {
    const g = this.given[this.place(name)];
    if (g.choices) return g.choices.map((c) => c.base);
    const step = g.step ? g.step.base : g.whole ? 1 : 0;
    if (!g.from || !step || (g.to.base - g.from.base) / step >= 4096) return [];
    const out = [];
    const n = below((g.to.base - g.from.base) / step);
    for (let i = 0; i <= n; i++) out.push(g.from.base + i * step);
    if (equal(out[n], g.to.base)) out[n] = g.to.base;
    else out.push(g.to.base);
    return out;
  }
  reset(name) {
    this.given.forEach((g, i) => {
      if (name !== undefined && g.name !== name) return;
      this.base[i] = first(g);
      this.text[i] = "";
    });
  }
  follow() {
    const was = today, now = localDay();
    if (was === now || !this.program.day) return false;
    today = now;
    this.given.forEach((g, i) => { if (g.today && this.base[i] === was) this.base[i] = now; });
    return true;
  }
  moved() { return !!this.program.day && this.program.day !== today; }
  changed() { return this.given.filter((g, i) => this.base[i] !== first(g)).map((g) => g.name); }
  blank() { return this.given.filter((g, i) => this.base[i] === undefined).map((g) => g.name); }
  show(name, base) {
    const g = this.given.find((g) => g.name === name);
    return said(g ? shownGiven(g, base) : format(this.program.steps.find((f) => f.name === name).show, base));
  }
  // examples: readings of pages drawn on have their examples, as in tables and checks
  work(examples) {
    const { program, slots: s, base } = this;
    const out = { reasons: [], failed: [], held: [], lacks: [], examples };
    // what replaces a missing value
    const lacked = (slot) => ({ shown: null, value: null, unit: null, instead: out.lacks[slot] || "" });
    const n = this.given.length;
    for (let i = 0; i < n; i++) s[this.given[i].slot] = base[i];
    run(program, s, "", out);
    const refused = out.reasons.length > 0;
    const withdrawn = refused || out.failed.length > 0;
    const given = {}, figures = {};
    for (let i = 0; i < n; i++) {
      const g = this.given[i], v = base[i] === undefined ? lacked(g.slot) : said(shownGiven(g, base[i]));
      v.own = base[i] === first(g);
      given[g.name] = v;
    }
    for (let i = 0; i < program.steps.length; i++) {
      const f = program.steps[i];
      if (f.name !== undefined) figures[f.name] = !withdrawn && s[f.slot] === undefined ? lacked(f.slot) : said(withdrawn ? null : format(f.show, s[f.slot]));
    }
    const placed = (program.placed || []).map((p) => {
      const v = withdrawn && !p.given ? null : attempt(p.work, s);
      return v instanceof Lack ? lacked(v.slot) : said(typeof v === "number" ? format(p.show, v) : null);
    });
    // this page's own first, then those of pages drawn on, in their order
    const limits = out.held.filter((h) => !h.of).concat(out.held.filter((h) => h.of));
    const process = withdrawn ? null : timed(program.process || [], s, out.lacks);
    return { given, figures, placed, limits, refused, reasons: out.reasons, failed: out.failed, withdrawn, process };
  }
  settings() {
    return this.changed().map((name) => encodeURIComponent(name) + "=" + encodeURIComponent(this.get(name).text)).join("&");
  }
  take(fragment) {
    this.reset();
    const problems = [];
    for (const pair of String(fragment).replace(/^#/, "").split("&")) {
      if (!pair.includes("=")) continue;
      const cut = pair.indexOf("=");
      let name, text;
      try {
        name = decodeURIComponent(pair.slice(0, cut));
        text = decodeURIComponent(pair.slice(cut + 1));
      } catch {
        problems.push({ name: pair.slice(0, cut), problem: new Problem("bad-address", "this part of the address cannot be read", "Set the value again.") });
        continue;
      }
      const r = this.set(name, text, true);
      if (!r.ok) problems.push({ name, problem: r.problem });
    }
    return problems;
  }
  copy() { return new Sheet(this.program, this); }
}

// a value as a text that reads back as the value: as it is shown, or else with all its digits
const written = (g, base, shown) => {
  if (g.show[0] === "truth" || g.show[0] === "choice") return shown;
  if (isDate(g)) return isoDate(base);
  for (const text of g.steps ? [format(g.steps, base).text, shown] : [shown]) {
    if (readsAs(g, text, base)) return text;
  }
  const u = unitNamed(g.unit);
  const number = plainDigits((base - u.zero) / u.factor);
  return number + (g.unit ? " " + inNumber(number, g.unit) : "");
};
// never 1e-7: a field takes it, but it is hard to read
const plainDigits = (v) => {
  const text = String(v);
  return /e/.test(text) ? v.toFixed(20).replace(/\.?0+$/, "") : text;
};
