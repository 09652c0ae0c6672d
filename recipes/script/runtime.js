// The runtime of a page's formulas. It defines one name:
//
//   labsite.page(build)      called by a page's own script, once
//   labsite.use(take)        calls take(sheet) as soon as the page's script has run
//   labsite.read(text)       reads a quantity as a page writes it: {value} or {problem}
//
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
//   sheet.put(name, base)    the same for a number in base units, from a control; it is held
//                            to the given's range, and to nothing else
//   sheet.move(name, count)  goes some steps up or down within the range or the choices
//   sheet.get(name)          {name, base, text, shown, value, unit, own}: text reads back as
//                            the value and suits a field, shown is how the page writes it
//   sheet.values(name)       the values that a control goes through, in base units; empty
//                            where it has no steps
//   sheet.reset(name)        back to the tested value; of all given values without a name
//   sheet.changed()          names of the given values that are not the page's own
//   sheet.work()             works everything out; see below
//   sheet.show(name, base)   how the page writes a value of a given or a figure
//   sheet.settings()         what was changed, for an address: tank=600%20ml&rolls=2
//   sheet.take(fragment)     sets what such a text says, with or without its #, and all
//                            other values to the page's own; gives the problems, with names
//   sheet.grid(name)         a table: {rows, columns}; see below
//   sheet.copy()             another sheet at the same values, for tables and charts
//
// sheet.work() gives
//
//   given      {name: {shown, value, unit, own}}
//   figures    {name: {shown, value, unit}}, in working order
//   placed     [{shown, value, unit}], formulas outside the figures, by number; given values
//              among them stand even where all else is withdrawn
//   limits     [{of, index, kind}] that hold: index counts the limits of the page, or of the
//              page drawn on that of names ("" for this page, "mix.stock" for one further)
//   refused    whether the page refuses these values
//   reasons    [{of, limit, text}] why: the index of a limit, or a text of the formula's own
//   failed     names of figures that gave no finite number; "" for a limit
//   withdrawn  refused or failed: no number may be shown; shown, value, unit are then null
//   process    null where there are no times, else {steps, total}: of each step null, or
//              {shown, length, start, pour, moments}: its time as written and the same in
//              seconds, when it begins on the running clock, and, from its own start, when
//              pouring out begins and when the tank is moved again
//
// sheet.grid(name) gives the table at this sheet's values:
//
//   rows       [{base, text, cells}], a cell for each column
//   columns    [{base, text}]; one without a text where the table has no columns
//   cells      [{figures: [{shown, value, unit}], own, result}]: own says that the cell
//              stands at this sheet's values, result is that of work()
//
// Values are unrounded numbers in the unit shown. Everything that a page computes here it
// computes in Go as well (recipes/formula, recipes/quantity), to the same tolerances and
// the same characters; tests hold the two together.
var labsite = (() => {
"use strict";
const data = $DATA;
const { abs, floor, ceil, trunc, sign, max, min, log, exp } = Math;

// Numbers: recipes/quantity/compare.go.

const equal = (a, b) => {
  if (a === b) return true;
  const d = abs(a - b);
  return d <= 1e-12 || d <= 1e-9 * max(abs(a), abs(b));
};
const less = (a, b) => a < b && !equal(a, b);
const lessOrEqual = (a, b) => a < b || equal(a, b);

// half away from zero
const whole = (x) => {
  const t = trunc(x);
  return abs(x - t) >= 0.5 ? t + sign(x) : t;
};
const snap = (q) => {
  const half = whole(q * 2) / 2;
  return abs(q - half) <= 1e-9 ? half : q;
};
const nearest = (q) => whole(snap(q));
const below = (q) => floor(snap(q));
const above = (q) => ceil(snap(q));

// What a formula needs: recipes/formula/eval.go. A fault without a reason is a result that
// is not finite; one with a reason refuses the case.

class Fault {
  constructor(reason) { this.reason = reason; }
}
const finite = (v) => {
  if (Number.isFinite(v)) return v;
  throw new Fault(null);
};
const refuse = (reason) => { throw new Fault(reason); };

// A search is [file, result cells, [[key name, cells, show], …]].
const unfound = (key, search, values) => {
  const where = search[2].map((k, i) => k[0] + " " + format(k[2], values[i]).text);
  refuse(fill(data.words[key][1], [search[0], where.join(", ")]));
};
// whether a row's keys, from one on, are the values
const met = (search, row, values, from) => {
  const keys = search[2];
  for (let i = from; i < keys.length; i++) {
    if (!equal(keys[i][1][row], values[i])) return false;
  }
  return true;
};
const lookup = (search, ...values) => {
  const cells = search[1];
  for (let row = 0; row < cells.length; row++) {
    if (met(search, row, values, 0)) return cells[row];
  }
  return unfound("norow", search, values);
};
const between = (search, values, curve) => {
  const ys = search[1], xs = search[2][0][1], x = values[0];
  let low = -1, high = -1;
  for (let row = 0; row < xs.length; row++) {
    if (!met(search, row, values, 1)) continue;
    const v = xs[row];
    if (equal(v, x)) return ys[row];
    if (v < x && (low < 0 || v > xs[low])) low = row;
    if (v > x && (high < 0 || v < xs[high])) high = row;
  }
  if (low < 0 || high < 0) return unfound(low === high ? "norow" : "beyond", search, values);
  return finite(curve(ys[low], ys[high], xs[low], xs[high], x));
};
const helpers = {
  f: finite,
  e: equal,
  l: (a, b, turned) => turned ? less(b, a) : less(a, b),
  m: (a, b, turned) => turned ? lessOrEqual(b, a) : lessOrEqual(a, b),
  r: (a, b, zero = 0) => zero + nearest((a - zero) / b) * b,
  u: (a, b, zero = 0) => zero + above((a - zero) / b) * b,
  d: (a, b, zero = 0) => zero + below((a - zero) / b) * b,
  g: below,
  c: above,
  o: (a, b) => a / (a + b),
  q: refuse,
  x: lookup,
  i: (search, ...values) => between(search, values, (y0, y1, x0, x1, x) => y0 + (y1 - y0) * ((x - x0) / (x1 - x0))),
  j: (search, ...values) => between(search, values, (y0, y1, x0, x1, x) =>
    exp(log(y0) + (log(y1) - log(y0)) * ((log(x) - log(x0)) / (log(x1) - log(x0))))),
};

// Fractions of whole numbers of any size, so that 68 °F is 20 °C to the last bit.

const none = BigInt(0), one = BigInt(1), ten = BigInt(10);
const size = (n) => n.toString(16).length * 4;

// the float nearest to n/d
const float = (n, d) => {
  if (n === none) return 0;
  if (n < none) return -float(-n, d);
  const shift = 68 - size(n) + size(d);
  if (shift > 0) n <<= BigInt(shift); else d <<= BigInt(-shift);
  let q = n / d;
  if (q * d !== n) q |= one;
  // by way of its digits: not every engine makes a float of a large whole number rightly
  return Number(String(q)) * Math.pow(2, -shift);
};
// a decimal number as a fraction
const decimal = (text) => {
  const [, digits, part = "", exponent = "0"] = /^(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d+))?$/.exec(text);
  const e = Number(exponent) - part.length;
  const n = BigInt(digits + part);
  return e < 0 ? [n, ten ** BigInt(-e)] : [n * ten ** BigInt(e), one];
};

// Units: recipes/quantity/unit.go. A kind is seven powers (length, mass, time, amount,
// degree, stop, money), a currency and whether it is a point on a scale.

const plain = { text: "", powers: [0, 0, 0, 0, 0, 0, 0], currency: "", point: false, n: one, d: one, zn: none, zd: one, decimals: -1, factor: 1, zero: 0 };
const byName = new Map(), byLower = new Map();
const name = (text, unit) => {
  byName.set(text, unit);
  const low = text.toLowerCase();
  if (!byLower.has(low)) byLower.set(low, text);
};
const ratio = (text) => {
  const [n, d = "1"] = text.split("/");
  return [BigInt(n), BigInt(d)];
};
for (const line of data.units.split("\n")) {
  const [head, rest] = line.split(":");
  if (!head.includes(",")) {
    for (const code of rest.split(" ").flatMap((codes) => codes.match(/\B../g).map((end) => codes[0] + end))) {
      name(code, { ...plain, text: code, powers: [0, 0, 0, 0, 0, 0, 1], currency: code, decimals: Number(head) });
    }
    continue;
  }
  const powers = head.split(",");
  const point = powers.length > 7;
  for (const unit of rest.split(";")) {
    const [names, exactly] = unit.split("=");
    const [factor, zero = "0"] = exactly.split(" ");
    const [n, d] = ratio(factor), [zn, zd] = ratio(zero);
    const u = { ...plain, powers: powers.slice(0, 7).map(Number), point, n, d, zn, zd, factor: float(n, d), zero: float(zn, zd) };
    const all = names.split(",");
    u.text = all[0];
    all.forEach((text) => name(text, u));
  }
}
const kindOf = (u) => u.powers.join() + u.currency + (u.point ? ",p" : "");
const kindName = (u) => data.kinds[kindOf(u)] ||
  (u.powers.join() === "0,0,0,0,0,0,1" ? "money in " + u.currency : "a quantity in " + u.text);

const nameLength = (text) => /^(?:%|[a-zA-Z_°µΔ℃℉][a-zA-Z0-9_°µΔ℃℉]*|)/.exec(text)[0].length;

// one name and its power
const atom = (text) => {
  let n = nameLength(text), power = 1;
  if (!n) return null;
  let word = text.slice(0, n);
  if (/[1-9]$/.test(word)) {
    power = Number(word.slice(-1));
    word = word.slice(0, -1);
  }
  const unit = byName.get(word);
  if (!unit) return null;
  if (power === 1 && (text[n] === "²" || text[n] === "³")) power = text[n++] === "²" ? 2 : 3;
  return text[n] === "(" ? null : { unit, power, n };
};

// a unit, single or joined, from the start of a text: {unit, n} or null
const readUnit = (text) => {
  let sign = 1, pos = 0, shown = "", out = null, first = true, n = 0;
  if (text[0] === "/") {
    sign = -1;
    pos = 1;
    shown = "/";
  }
  for (;;) {
    const a = atom(text.slice(pos));
    if (!a) break;
    if (first && sign > 0 && a.power === 1 && (!/^[/*]./s.test(text.slice(pos + a.n)) || a.unit.point)) {
      return { unit: a.unit, n: a.n };
    }
    if (a.unit.point) break;
    if (first) out = { ...plain, powers: [...plain.powers] };
    for (let i = 0; i < a.power; i++) {
      if (out.powers[6] && a.unit.powers[6] && out.currency !== a.unit.currency) return null;
      out.powers = out.powers.map((p, k) => p + sign * a.unit.powers[k]);
      out.currency = out.powers[6] ? out.currency || a.unit.currency : "";
      if (out.powers.some((p) => p < -9 || p > 9) || abs(out.powers[5]) > 1) return null;
      const [un, ud] = sign > 0 ? [a.unit.n, a.unit.d] : [a.unit.d, a.unit.n];
      out.n *= un;
      out.d *= ud;
    }
    shown += a.unit.text + ["", "", "²", "³"][a.power < 4 ? a.power : 0] + (a.power > 3 ? a.power : "");
    pos += a.n;
    n = pos;
    first = false;
    if (text[pos] !== "/" && text[pos] !== "*") break;
    sign = text[pos] === "/" ? -1 : 1;
    if (!atom(text.slice(pos + 1))) break;
    shown += text[pos++];
  }
  if (!out) return null;
  out.text = shown;
  out.factor = float(out.n, out.d);
  return { unit: out, n };
};
const unitsNamed = new Map([["", plain]]);
const unitNamed = (text) => {
  let u = unitsNamed.get(text);
  if (!u) unitsNamed.set(text, u = readUnit(text).unit);
  return u;
};

// Messages. What readers can meet of the program's own comes from recipes/source; the
// others are at the fields below.

const fill = (text, args) => text.replace(/⟦(\d)⟧/g, (_, i) => args[i]);
const escaped = (text) => JSON.stringify(text).slice(1, -1);

class Problem {
  constructor(code, message, hint, offers = []) {
    Object.assign(this, { code, message, hint, offers });
  }
}
const problem = (key, ...args) => {
  const [code, message, hint] = data.words[key];
  // a message that quotes its argument escapes it
  return new Problem(code, message.replace(/"⟦(\d)⟧"/g, (_, i) => '"' + escaped(args[i]) + '"').replace(/⟦(\d)⟧/g, (_, i) => args[i]), fill(hint, args));
};
const fail = (key, ...args) => { throw problem(key, ...args); };
const failWith = (p, ...offers) => { throw Object.assign(p, { offers }); };

// Reading: recipes/quantity/parse.go, value.go, number.go.

const normal = (text) => text
  .replace(/μ/g, "µ").replace(/[º˚]/g, "°").replace(/℃/g, "°C").replace(/℉/g, "°F").replace(/∆/g, "Δ").replace(/−/g, "-")
  .replace(/[\t\v\f\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]/g, " ");
const bare = (text) => text.replace(/^[ \n]+|[ \n]+$/g, "");

const digits = (text) => /^\d*/.exec(text)[0].length;
const isDigit = (c) => c >= "0" && c <= "9" && c.length === 1;
const unpadded = (text) => {
  const t = text.replace(/^0+/, "");
  return /^\d/.test(t) ? t : "0" + t;
};

// the length of an unsigned number at the start of a text; commas are an argument's end
// where parts of a duration follow one another
const number = (text, comma) => {
  let n = digits(text);
  if (!n) {
    if (/^\.\d/.test(text)) fail("point", "0." + /^\.(\d+)/.exec(text)[1]);
    const end = text.search(/[ \n,;()]/);
    return text ? fail("number", end > 0 ? text.slice(0, end) : text) : fail("missing");
  }
  const count = n;
  if (text[n] === "." && digits(text.slice(n + 1))) n += 1 + digits(text.slice(n + 1));
  else if (text[n] === "." && text[n + 1] !== ".") fail("point", text.slice(0, n));
  const e = /^[eE][+-]?(\d+)/.exec(text.slice(n));
  if (e) {
    n += e[0].length;
    if (Number(e[1]) > 99) fail("long");
  }
  if (count > 1 && text[0] === "0") fail("zeros", text.slice(0, n), unpadded(text.slice(0, n)));
  if (text[n] === "_" && isDigit(text[n + 1] || "")) {
    fail("underscore", text.slice(0, n) + /^[_\d]*/.exec(text.slice(n))[0].replace(/_/g, ""));
  }
  if (n === 1 && /^0[xX]/.test(text)) {
    const hex = /^[0-9a-fA-F]*/.exec(text.slice(2))[0];
    return hex && hex.replace(/^0+/, "").length <= 16 ? fail("hex", BigInt("0x" + hex).toString()) : fail("hexlong");
  }
  if (n > 40) fail("long");
  if (comma && (text[n] === "," || text[n] === "." && n > count) && isDigit(text[n + 1] || "")) {
    const all = text.slice(0, n) + /^(?:[,\d]|\.(?!\.))*/.exec(text.slice(n))[0].replace(/[.,]+$/, "");
    parted(all, asParted(all));
  }
  return n;
};
const asParted = (text) => {
  const grouped = /^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(text);
  if (/^\d+,\d+$/.test(text)) return [text.replace(",", "."), ...grouped ? [text.replace(",", "")] : []];
  if (grouped) return [text.replace(/,/g, "")];
  return /^[1-9]\d{0,2}(\.\d{3})+(,\d+)?$/.test(text) ? [text.replace(/\./g, "").replace(",", ".")] : [];
};
const parted = (text, readings, offers = readings) => {
  const key = readings[1] ? "eithercomma" : !readings[0] ? "nogroups" : /^\d+,\d+$/.test(text) ? "comma" : "groups";
  failWith(problem(key, ...readings), ...offers);
};

// Words for units: recipes/quantity/unknown.go.

const { Meant, Sayings, Measures } = data.meant;
const meantWords = new Map(Object.entries(Meant));
const meantBy = (word) => {
  const listed = (word) => meantWords.get(word);
  const one = /..s$/.test(word) && word.slice(0, -1);
  return listed(word) || one && (byName.has(one) ? one : listed(one));
};
// the length of a unit in several words, and the units that it can stand for
let sayings;
const spelled = (text) => {
  sayings = sayings || Sayings.map(([words, ...units]) => [new RegExp("^(?:" + words + ")"), units]);
  const low = text.replace(/[A-Z]/g, (c) => c.toLowerCase());
  for (const [words, units] of sayings) {
    const m = words.exec(low);
    if (m && !/^\w/.test(text.slice(m[0].length))) return [m[0].length, units];
  }
  return [0, []];
};
const unknownUnit = (text, before) => {
  let [n, units] = spelled(text), word = text.slice(0, n);
  if (!n) {
    word = withoutDigits(text.slice(0, nameLength(text)));
    units = [meantBy(word) || byLower.get(word.toLowerCase())].filter((unit) => unit);
  }
  unsure(word, before, units, units.map((unit) => before + unit));
};
const unsure = (word, before, units, offers) => {
  const m = units[1] && Measures[units[0]];
  failWith(units[3] ? problem("ounce", before) : m ? problem("measure", m[0], before, units[0], m[1], m[2]) : units[0] ?
    problem("unit", word, offers.join(" or ")) : problem("nounit", word), ...offers);
};
const withoutDigits = (word) => word.replace(/\d+$/, "");
const joinedLength = (text) => {
  let n = nameLength(text);
  while (n < text.length && /[/*]/.test(text[n]) && nameLength(text.slice(n + 1))) n += 1 + nameLength(text.slice(n + 1));
  return n;
};

const ranks = { day: 1, days: 1, h: 2, min: 3, s: 4 };
const rankSeconds = [0, 86400, 3600, 60, 1], rankNames = ["", "day", "h", "min", "s"];

class Reader {
  constructor(text, difference) {
    this.text = text;
    this.pos = 0;
    this.difference = difference;
  }
  get rest() { return this.text.slice(this.pos); }
  at(i) { return this.text[this.pos + i] || ""; }
  blanks() {
    const n = /^[ \n]*/.exec(this.rest)[0].length;
    this.pos += n;
    return n > 0;
  }
  word() { return this.rest.slice(0, nameLength(this.rest)); }

  quantity() {
    const negative = this.at(0) === "-";
    if (negative) this.pos++;
    this.clockOrRatio();
    const dilution = negative ? null : this.dilution();
    if (dilution) return dilution;
    const n = number(this.rest, true);
    const text = this.rest.slice(0, n);
    this.pos += n;
    const fraction = this.fraction(text, negative);
    if (fraction) return fraction;
    const after = this.pos;
    if (this.word()) fail("blank", text, this.word());
    if (!this.blanks()) return this.made(text, negative, plain, "");
    const { unit, word } = this.unit(text);
    if (!word) {
      this.pos = after;
      return this.made(text, negative, plain, "");
    }
    const rank = ranks[word];
    if (rank < 4) {
      const duration = this.duration(text, negative, rank);
      if (duration) return duration;
    }
    return this.made(text, negative, unit, word);
  }

  made(text, negative, unit, word) {
    let base;
    if (unit.factor === 1 && unit.zero === 0) {
      base = negative ? -Number(text) : Number(text);
    } else {
      base = scaled(decimal(text), negative, unit);
    }
    let shown = (negative ? "-" : "") + text;
    if (unit.text) shown += " " + (word === unit.text + "s" || word === unit.text + "es" ? word : unit.text);
    return { base, unit, form: "", text: shown };
  }

  unit(before) {
    const rest = this.rest;
    const found = readUnit(rest);
    if (!found) {
      if (rest[0] === "/") {
        if (!/^\/[a-zA-Z_]/.test(rest)) return { word: "" };
        unknownUnit(rest.slice(1), before + " /");
      }
      const n = nameLength(rest), word = rest.slice(0, n);
      if (!n || word === "by" || rest[n] === "(") return { word: "" };
      if (byName.has(withoutDigits(word))) fail("join", rest.slice(0, joinedLength(rest)));
      unknownUnit(rest, before + " ");
    }
    let { unit, n } = found;
    if (/[/*]/.test(rest[n] || "")) {
      const next = atom(rest.slice(n + 1));
      if (next && (unit.point || next.unit.point)) {
        const all = rest.slice(0, joinedLength(rest));
        fail(unit.point ? "scalefirst" : "scale", before + " " + all.replace(/°C|°F|ΔK|ΔΔ/g, (u) => ({ "°C": "K", "°F": "Δ°F", "ΔK": "K", "ΔΔ": "Δ" })[u]));
      }
      if (nameLength(rest.slice(n + 1))) unknownUnit(rest.slice(n + 1), before + " " + rest.slice(0, n + 1));
    }
    const word = rest.slice(0, n);
    if (this.difference && unit.point) unit = unitNamed(word === "°F" ? "Δ°F" : "K");
    this.pos += n;
    return { unit, word };
  }

  duration(text, negative, rank) {
    let save = this.pos;
    if (!this.blanks() || !isDigit(this.at(0))) {
      this.pos = save;
      return null;
    }
    if (/[.eE]/.test(text)) fail("whole", text + " " + rankNames[rank]);
    let total = Number(text) * rankSeconds[rank], shown = text + " " + rankNames[rank];
    while (rank < 4 && isDigit(this.at(0))) {
      const start = this.pos;
      const n = number(this.rest, false);
      const part = this.rest.slice(0, n);
      this.pos += n;
      const hadBlank = this.blanks();
      const found = readUnit(this.rest);
      const word = found ? this.rest.slice(0, found.n) : "";
      const next = ranks[word] || 0;
      if (!hadBlank || next <= rank) {
        if (!hadBlank && this.word()) fail("blank", part, this.word());
        if (!found) fail("part", part, rankNames[rank + 1]);
        if (kindOf(found.unit) === kindOf(unitNamed("s"))) fail("order");
        fail("operator", bare(this.text.slice(start, max(this.pos + found.n, start + n))));
      }
      this.pos += found.n;
      if (next < 4 && /[.eE]/.test(part) || /[eE]/.test(part)) fail("whole", part + " " + word);
      const most = rankSeconds[rank] / rankSeconds[next];
      if (Number(part) >= most) fail("below", part + " " + word, most - 1, rankNames[next], rankNames[rank]);
      total += Number(part) * rankSeconds[next];
      shown += " " + part + " " + rankNames[next];
      rank = next;
      save = this.pos;
      this.blanks();
    }
    this.pos = save;
    return { base: negative ? -total : total, unit: unitNamed("s"), form: "duration", text: (negative ? "-" : "") + shown };
  }

  fraction(text, negative) {
    const save = this.pos;
    const back = () => {
      this.pos = save;
      return null;
    };
    if (/[.eE]/.test(text)) return null;
    let count = "", over = text;
    if (this.blanks()) {
      const n = digits(this.rest);
      if (!n || this.at(n) !== "/") return back();
      count = text;
      over = this.rest.slice(0, n);
      this.pos += n;
    }
    if (this.at(0) !== "/") return back();
    const n = digits(this.text.slice(this.pos + 1));
    if (!n || n > 9 || over.length > 9 || count.length > 9) return back();
    const under = this.text.slice(this.pos + 1, this.pos + 1 + n);
    this.pos += 1 + n;
    const end = this.pos;
    if (unpadded(under) !== under) fail("zeros", under, unpadded(under));
    if (this.word()) fail("blank", bare(count + " " + over + "/" + under), this.word());
    let unit = plain, word = "";
    if (this.blanks()) ({ unit, word } = this.unit(over + "/" + under));
    if (!word) {
      unit = plain;
      this.pos = end;
    }
    if (!Number(under)) fail("byzero");
    let shown = over + "/" + under, n1 = BigInt(over);
    const d1 = BigInt(under);
    if (count) {
      if (n1 >= d1) fail("large", count + " " + shown);
      n1 += BigInt(count) * d1;
      shown = count + " " + shown;
    }
    shown = (negative ? "-" : "") + shown;
    return { base: scaled([n1, d1], negative, unit), unit, form: "fraction", text: unit.text ? shown + " " + unit.text : shown };
  }

  partLength(i) {
    const text = this.rest.slice(i);
    let n = digits(text);
    if (n && text[n] === "." && isDigit(text[n + 1] || "")) n += 1 + digits(text.slice(n + 1));
    return n > 40 ? 0 : n;
  }

  dilution() {
    const first = this.partLength(0);
    if (!first) return null;
    let i = first, inWhole = false;
    if (this.at(i) === "+" && isDigit(this.at(i + 1))) i++;
    else if (/^ in \d/.test(this.rest.slice(i))) {
      i += 4;
      inWhole = true;
    } else if (/^ \+ \d/.test(this.rest.slice(i))) {
      const n = this.partLength(i + 3);
      fail("blanks", this.rest.slice(0, first) + "+" + this.rest.slice(i + 3, i + 3 + n));
    } else return null;
    const second = this.partLength(i);
    if (!second) return null;
    const a = this.rest.slice(0, first), b = this.rest.slice(i, i + second);
    for (const x of [a, b]) if (unpadded(x) !== x) fail("zeros", x, unpadded(x));
    if (!inWhole && this.at(i + second) === "+" && isDigit(this.at(i + second + 1))) {
      fail("three", /^[\d.+]*/.exec(this.rest)[0]);
    }
    this.pos += i + second;
    const [an, ad] = decimal(a), [bn, bd] = decimal(b);
    const part = an * bd, all = bn * ad + (inWhole ? none : part);
    const shown = a + (inWhole ? " in " : "+") + b;
    if (all === none || part > all) fail("empty", shown);
    return { base: float(part, all), unit: plain, form: "dilution", text: shown };
  }

  clockOrRatio() {
    const m = /^(\d+):(\d+)/.exec(this.rest);
    if (!m) return;
    const [, a, b] = m;
    const time = b.length === 2 && b < "60", short = b.replace(/^0(?=\d)/, "");
    const p = problem(!time ? "ratio" : a === "1" ? "either" : "clock", a, b);
    p.hint = p.hint.replace(/\b1 parts/g, "1 part");
    if (time) p.hint = p.hint.replace(a + " min " + b, a + " min " + short).replace(a + " h " + b, a + " h " + short);
    failWith(p, ...time ? [a + " min " + short + " s", a + " h " + short + " min"] : [], a + "+" + b, a + " in " + b);
  }
}
const scaled = ([n, d], negative, unit) => {
  if (negative) n = -n;
  return float(n * unit.n * unit.zd + unit.zn * d * unit.d, d * unit.d * unit.zd);
};
const read = (text, difference) => {
  const r = new Reader(text, difference);
  r.blanks();
  const v = r.quantity();
  r.blanks();
  if (r.rest) fail("after", r.rest.replace(/[ \n]+$/, ""));
  return v;
};

// Showing: recipes/quantity/format.go.

const fixed = (n, decimals) => {
  const minus = n < 0 ? "-" : "";
  n = abs(n);
  let text = n >= 1e15 && n < Infinity ? BigInt(n).toString() : String(n);
  if (decimals <= 0) return minus + text;
  if (text.length <= decimals) text = text.padStart(decimals + 1, "0");
  return minus + text.slice(0, -decimals) + "." + text.slice(-decimals);
};
const trimDecimals = (text) => text.includes(".") ? text.replace(/\.?0*$/, "") : text;
const stepDecimals = (text) => {
  const [mantissa, exponent = "0"] = text.toLowerCase().split("e");
  const point = mantissa.indexOf(".");
  return max(0, (point < 0 ? 0 : mantissa.length - point - 1) - Number(exponent));
};
const pow10 = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
const decimalsOf = new Map();
const multiple = (v, step, stepText) => {
  let decimals = decimalsOf.get(stepText);
  if (decimals === undefined) decimalsOf.set(stepText, decimals = min(stepDecimals(stepText), 15));
  return fixed(nearest(v / step) * whole(step * pow10[decimals]), decimals);
};
const significant = (v, count) => {
  const a = abs(v);
  if (a === 0) return "0";
  let decimals = count - 1;
  for (let x = a; x >= 10 && decimals > 0; x /= 10) decimals--;
  for (let x = a; x < 1 - 1e-12 && decimals < 15; x *= 10) decimals++;
  let n = nearest(a * pow10[decimals]);
  if (decimals > 0 && decimals < 15 && n >= pow10[count]) {
    decimals--;
    n = nearest(a * pow10[decimals]);
  }
  if (n === 0) return "0";
  return trimDecimals(fixed(v < 0 ? -n : n, decimals));
};
const parts = (base, of) => {
  let n = nearest(base * of), k = of, minus = "";
  if (n < 0) {
    minus = "-";
    n = -n;
  }
  const count = floor(n / k);
  let rest = n - count * k;
  if (rest === 0) return (count ? minus : "") + fixed(count, 0);
  let common = k, other = rest;
  while (other) [common, other] = [other, common % other];
  const text = fixed(rest / common, 0) + "/" + fixed(k / common, 0);
  return minus + (count > 0 ? fixed(count, 0) + " " + text : text);
};
const added = (base) => base <= 0 || base > 1 + 1e-9 ? significant(base, 3) : "1+" + significant(max(0, 1 / base - 1), 3);
const overOne = (base) => base <= 0 || base >= 0.4 - 1e-12 ? fixed(nearest(base * 10), 1) + " s" : "1/" + fixed(nearest(1 / base), 0) + " s";

const compound = (v, decimals) => {
  const scale = pow10[decimals];
  let n = whole(v * scale);
  const out = [];
  const take = (unit, name) => {
    const k = floor(n / (unit * scale));
    n -= k * unit * scale;
    if (k > 0) out.push(fixed(k, 0) + name);
  };
  if (v >= 172800) take(86400, " day");
  take(3600, " h");
  take(60, " min");
  if (n > 0 || !out.length) out.push(fixed(n, decimals) + " s");
  return out.join(" ");
};
const clock = (base, step, stepText) => {
  const a = abs(base), minus = base < 0 ? "-" : "";
  const seconds = (text) => ({ text: (/^[0.]*$/.test(text) ? "" : minus) + text + " s", value: base, unit: "s" });
  if (step > 0) {
    const text = multiple(a, step, stepText);
    if (Number(text) < 60) return seconds(text);
    const point = text.indexOf(".");
    return { text: minus + compound(Number(text), point < 0 ? 0 : text.length - point - 1), value: base, unit: "s" };
  }
  if (a < 60) {
    const text = significant(a, 3);
    if (Number(text) < 60) return seconds(text);
  }
  const v = nearest(a);
  if (v < 172800) return { text: minus + compound(v, 0), value: base, unit: "s" };
  return { text: significant(base / 86400, 3) + " day", value: base / 86400, unit: "day" };
};
const usual = (base, unit) => {
  const a = abs(base);
  const step = (size, text) => ({ text: multiple(base, size, text) + " " + unit, value: base, unit });
  if (unit === "ml") {
    if (lessOrEqual(a, 1)) return step(0.01, "0.01");
    if (lessOrEqual(a, 10)) return step(0.1, "0.1");
    if (lessOrEqual(a, 100)) return step(1, "1");
    return lessOrEqual(a, 1000) ? step(5, "5") : step(10, "10");
  }
  if (unit === "g") return less(a, 1) ? step(0.01, "0.01") : step(0.1, "0.1");
  return less(a, 300) ? clock(base, 5, "5") : clock(base, 15, "15");
};

// A show is [style, unit, step or more, step as written].
// A show remembers what it wrote last: from one set of given values to the next most
// values are the same.
const format = (show, base) => {
  if (!show.last || show.last[0] !== base) show.last = [base, formatted(show, base)];
  return show.last[1];
};
const formatted = (show, base) => {
  const style = show[0], unit = show[1], step = show[2], stepText = show[3];
  if (base === 0) base = 0;
  switch (style) {
    case "truth": return { text: base ? "yes" : "no", value: base, unit: "" };
    case "choice": return { text: step[trunc(base)] || "", value: base, unit: "" };
    case "clock": return clock(base, step, stepText);
    case "added": return { text: added(base), value: base, unit: "" };
    case "lens": return { text: "f/" + significant(base, 2), value: base, unit: "" };
    case "over": return { text: overOne(base), value: base, unit: "s" };
    case "usual": return usual(base, unit);
    case "part": return { text: parts(base, step) + " " + unit, value: base, unit };
  }
  const u = unitNamed(unit);
  const v = (base - u.zero) / u.factor;
  const text = style === "steps" ? multiple(v, step, stepText) : significant(v, style === "written" ? 10 : 3);
  return { text: unit ? text + " " + unit : text, value: v, unit };
};

// Fields: what a reader types for a given. Beyond what a page may write, a field takes the
// usual words for units of its own kind, a number without its blank or its unit, and a
// decimal comma.

const typed = (g, text, sure) => {
  let t = bare(normal(text));
  if (!t) fail("missing");
  for (const run of t.match(/\d+(?:[.,]\d+)+/g) || []) {
    const as = asParted(run);
    if (as[0] && !as[1] && /^\d+,\d+$/.test(run)) t = t.replace(run, as[0]);
    else if (!/^\d+\.\d+$/.test(run)) parted(run, as, offered(g, as.map((number) => t.replace(run, number))));
  }
  // 500ml, 68F, 10min30s
  t = t.replace(/(^|[^A-Za-z0-9_.°µΔ])(\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)(?=[A-Za-z_°µΔ%])/g, "$1$2 ");
  if (g.kindKey === timeKind) {
    for (let last = ""; last !== t;) {
      last = t;
      t = t.replace(/(\d +(?:days?|h|min|s))(\d+(?:\.\d+)?) ?(?=[A-Za-z]|$)/, "$1 $2 ");
    }
    t = bare(t);
  }
  t = inWords(g, t, sure);
  t = t.replace(/[A-Za-z_°]+/g, (word) => {
    const meant = !byName.has(word) && meantBy(word), unit = byName.get(meant);
    return unit && (kindOf(unit) === g.kindKey || unit.point && g.kindKey === degreeKind) ? meant : word;
  });
  let v;
  try {
    v = read(t, g.kindKey === degreeKind);
  } catch (p) {
    throw p instanceof Problem ? advised(g, p) : p;
  }
  if (kindOf(v.unit) === kindOf(plain) && !v.unit.text && v.form !== "dilution" && (g.kindKey !== kindOf(plain) || g.unit)) {
    if (g.ownForm === "duration" && v.form === "") {
      failWith(problem("needs", g.title, v.text, "min"), ...offered(g, [v.text + " min", v.text + " s"]));
    }
    v = read(v.text + " " + g.unit, g.kindKey === degreeKind);
    v.bare = true;
  }
  if (kindOf(v.unit) !== g.kindKey) {
    const p = problem("kind", g.title, g.kind, kindName(v.unit));
    p.hint = unitsHint(g);
    throw p;
  }
  return v;
};

// 20 fl oz, 2 US gal, 68 degrees F; and what a page takes for a measure of the US, a reader
// may have meant for the imperial one
const inWords = (g, text, sure) => {
  const [, number, rest] = /^(.*?\d +)([A-Za-z°].*)$/s.exec(text) || [];
  if (!rest) return text;
  const word = /^\w*/.exec(rest)[0], known = readUnit(rest);
  let [n, units] = spelled(rest);
  if (known && (g.kindKey !== volumeKind || sure || word.includes("_"))) return text;
  if (Measures[units[0]] && Measures[g.unit]) units = units.slice(0, 1);
  if (units[1] && Measures[units[0]]) {
    unsure(word, number, units, offered(g, units.map((unit) => number + (/^imp/.test(unit) ? "" : "US ") + unit + rest.slice(n))));
  }
  return units[0] && !units[1] ? number + units[0] + rest.slice(n) : text;
};

// only texts that the field would take are offered; what is tried offers nothing itself
let trying = false;
const offered = (g, texts) => {
  if (trying) return [];
  trying = true;
  try {
    return texts.filter((text) => {
      try {
        held(g, typed(g, text));
        return true;
      } catch (p) {
        if (p instanceof Problem) return false;
        throw p;
      }
    });
  } finally {
    trying = false;
  }
};

// a problem in a field, with what may have been meant
const advised = (g, p) => {
  p.offers = offered(g, p.offers);
  if (p.code === "unknown-unit") p.hint = unitsHint(g);
  return p;
};
const unitsHint = (g) => {
  const all = [...new Set([...byName.values()].filter((u) => kindOf(u) === g.kindKey && !u.powers[6]).map((u) => u.text))];
  if (g.kindKey === kindOf(plain)) return g.unit ? "Write a number in " + g.unit + "." : "Write a number without a unit.";
  return all.length ? "The units here are " + all.join(", ") + "." : "Write it in " + g.unit + ".";
};

// hold: recipes/sheet/given.go
const held = (g, v) => {
  if (g.choices) {
    const hit = g.choices.find((c) => equal(c.base, v.base));
    return hit ? hit.base : notAmong(g, v.text);
  }
  if (!g.from) {
    return equal(v.base, g.own) ? g.own : fail("fixed", g.title, g.text);
  }
  if (less(v.base, g.from.base) || less(g.to.base, v.base)) {
    const p = problem("range", g.title, v.text, g.from.text, g.to.text);
    if (v.bare && g.kindKey === scaleKind) {
      const other = v.text.replace(/°[CF]/, (u) => u === "°C" ? "°F" : "°C");
      p.offers = offered(g, [other]);
    }
    throw p;
  }
  if (g.whole && !equal(v.base, whole(v.base))) fail("wholes", g.title, v.text);
  return v.base;
};
const notAmong = (g, text) => {
  fail("choice", text, listed(g.choices.map((c) => c.text)));
};
const listed = (words) => words.slice(0, 12).join(", ") + (words.length > 12 ? " and " + (words.length - 12) + " more" : "");

const chosen = (g, text) => {
  const t = bare(normal(text));
  const exact = g.choices.find((c) => c.text === t) ||
    g.show[0] === "truth" && g.choices[{ no: 0, false: 0, yes: 1, true: 1 }[t.toLowerCase()]];
  if (exact) return exact;
  const like = g.choices.filter((c) => c.text.toLowerCase() === t.toLowerCase());
  if (like.length === 1) return like[0];
  return g.show[0] === "truth" ? fail("oneof", g.title, t) : notAmong(g, t);
};

const timeKind = kindOf(unitNamed("s")), degreeKind = kindOf(unitNamed("K")), scaleKind = kindOf(unitNamed("°C")), volumeKind = kindOf(unitNamed("l"));

// A given as the page's script describes it, made ready.
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
  g.settable = !!(g.from || g.choices);
  g.kindKey = style === "truth" || style === "choice" ? style : kindOf(unitNamed(g.unit));
  g.ownForm = style === "clock" && /\d .*\d/.test(g.text) ? "duration" : "";
  return Object.freeze(g);
};

// Shown: recipes/sheet/sheet.go
const shownGiven = (g, base) => {
  const s = format(g.show, base);
  if (g.show[0] === "truth" || g.show[0] === "choice") return s;
  if (base === g.own) return { ...s, text: g.text };
  const c = g.choices && g.choices.find((c) => equal(c.base, base));
  if (c) return c.ownUnit ? s : { ...s, text: c.text };
  return !["part", "over", "clock"].includes(g.show[0]) || readsAs(g, s.text, base) ? s : exactly(g, base);
};
// a form that rounds is not taken for what was set
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

// takes: recipes/sheet/uses.go
const takes = (g, base) => {
  if (g.show[0] === "truth") return base === 0 || base === 1;
  if (g.choices) return g.choices.some((c) => equal(c.base, base));
  if (!g.from) return equal(base, g.own);
  return !less(base, g.from.base) && !less(g.to.base, base) && (!g.whole || equal(base, nearest(base)));
};

// Working out: recipes/sheet/work.go. s holds all values by slot; of names the page drawn
// on, "" for this one.
const trouble = (out, of, fault, name) => {
  if (fault.reason === null) out.failed.push(name);
  else out.reasons.push({ of, limit: null, text: fault.reason });
};
// what depends on something that failed fails as well; the first is told
const known = (s, reads) => !reads || !reads.some((slot) => Number.isNaN(s[slot]));
const attempt = (work, s) => {
  try {
    return +work(s);
  } catch (fault) {
    if (fault instanceof Fault) return fault;
    throw fault;
  }
};
const run = (program, s, of, out) => {
  const { steps, limits } = program;
  const failedBefore = out.failed.length;
  for (let i = 0; i < steps.length; i++) {
    const step = steps[i];
    if (step.use !== undefined) {
      draw(step, s, of, out);
      continue;
    }
    const v = attempt(step.work, s);
    if (typeof v === "number") {
      s[step.slot] = v;
      continue;
    }
    if (known(s, step.reads)) trouble(out, of, v, step.name);
    s[step.slot] = NaN;
  }
  for (let index = 0; index < limits.length; index++) {
    const limit = limits[index];
    const holds = attempt(limit.when, s);
    if (typeof holds !== "number") {
      if (holds.reason !== null || out.failed.length === failedBefore) trouble(out, of, holds, "");
    } else if (holds) {
      out.held.push({ of, index, kind: limit.kind });
      if (limit.kind === "refuse") out.reasons.push({ of, limit: index, text: "" });
    }
  }
};

// a page drawn on: recipes/sheet/uses.go
const draw = (use, s, of, out) => {
  const name = of ? of + "." + use.use : use.use;
  const withdraw = () => {
    for (let i = 0; i < use.count; i++) s[use.first + i] = NaN;
  };
  for (const [slot, own] of use.own) s[slot] = own;
  for (const set of use.sets) {
    const v = attempt(set.work, s), g = set.given;
    if (typeof v !== "number") {
      if (known(s, set.reads)) trouble(out, of, v, "");
      return withdraw();
    }
    if (!takes(g, v)) {
      out.reasons.push({ of: name, limit: null, text: fill(data.words.outside[1], [g.title, format(g.show, v).text, use.title]) });
      return withdraw();
    }
    s[g.slot] = v;
  }
  return run(use, s, name, out);
};

const prepare = (program) => {
  for (const step of program.steps) {
    if (step.use === undefined) continue;
    step.sets.forEach((set) => { set.given = ready(set.given); });
    prepare(step);
  }
};

// Process: recipes/sheet/process.go, steps.go
// how long a time is as it is written, which is what a reader goes by
const readBack = (text, exact) => {
  try {
    return read(text).base;
  } catch (p) {
    if (p instanceof Problem) return exact;
    throw p;
  }
};
const timed = (steps, s) => {
  const out = [];
  let total = 0;
  for (const step of steps) {
    if (!step.work) {
      out.push(null);
      continue;
    }
    const v = attempt(step.work, s);
    if (typeof v !== "number" || v < 0) return null;
    const w = format(step.show, v);
    if (w.length === undefined) w.length = readBack(w.text, v);
    const { drain = 0, first = 0, every = 0, turning = 0 } = step;
    const { length } = w, moments = [], end = length - drain;
    for (let k = 1; every > 0 && moments.length < 1000; k++) {
      const at = k * every;
      if (!lessOrEqual(at + turning, end) || lessOrEqual(end, at)) break;
      if (!less(at, first)) moments.push(at);
    }
    out.push({ shown: w.text, length, start: total, pour: max(0, end), moments });
    total += length;
  }
  return out.length ? { steps: out, total } : null;
};

const said = (s) => s ? { shown: s.text, value: s.value, unit: s.unit } : { shown: null, value: null, unit: null };

class Sheet {
  constructor(program, from) {
    this.program = program;
    this.given = program.given;
    this.base = from ? from.base.slice() : this.given.map((g) => g.own);
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
  // sure: the text is the program's own, or stood there before
  set(name, text, sure) {
    return this.attempt(name, (g, i) => {
      if (g.show[0] === "truth" || g.show[0] === "choice") {
        const c = chosen(g, String(text));
        if (!g.settable) fail("fixed", g.title, g.text);
        return [c.base, ""];
      }
      const v = typed(g, String(text), sure || String(text) === this.text[i]);
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
    const s = shownGiven(g, base);
    return { name, base, text: this.text[i] && base !== g.own ? this.text[i] : written(g, base, s.text), shown: s.text, value: s.value, unit: s.unit, own: base === g.own };
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
      this.base[i] = g.own;
      this.text[i] = "";
    });
  }
  changed() { return this.given.filter((g, i) => this.base[i] !== g.own).map((g) => g.name); }
  show(name, base) {
    const g = this.given.find((g) => g.name === name);
    return said(g ? shownGiven(g, base) : format(this.program.steps.find((f) => f.name === name).show, base));
  }
  work() {
    const { program, slots: s, base } = this;
    const out = { reasons: [], failed: [], held: [] };
    const n = this.given.length;
    for (let i = 0; i < n; i++) s[this.given[i].slot] = base[i];
    run(program, s, "", out);
    const refused = out.reasons.length > 0;
    const withdrawn = refused || out.failed.length > 0;
    const given = {}, figures = {};
    for (let i = 0; i < n; i++) {
      const g = this.given[i], v = said(shownGiven(g, base[i]));
      v.own = base[i] === g.own;
      given[g.name] = v;
    }
    for (let i = 0; i < program.steps.length; i++) {
      const f = program.steps[i];
      if (f.use === undefined) figures[f.name] = said(withdrawn ? null : format(f.show, s[f.slot]));
    }
    const placed = (program.placed || []).map((p) => {
      const v = withdrawn && !p.given ? null : attempt(p.work, s);
      return said(typeof v === "number" ? format(p.show, v) : null);
    });
    // this page's own first, then those of pages drawn on, in their order
    const limits = out.held.filter((h) => !h.of).concat(out.held.filter((h) => h.of));
    const process = withdrawn ? null : timed(program.process || [], s);
    return { given, figures, placed, limits, refused, reasons: out.reasons, failed: out.failed, withdrawn, process };
  }
  grid(name) {
    const g = this.program.grids.find((g) => g.name === name);
    const values = (run) => run[1].map(([base, text]) => ({ base, text }));
    const columns = g.columns ? values(g.columns) : [{ base: 0, text: "" }];
    const at = (run) => run && this.place(run[0]);
    const across = at(g.columns), down = at(g.rows);
    const rows = values(g.rows).map((row) => {
      row.cells = columns.map((column) => {
        const sheet = this.copy();
        let own = equal(row.base, this.base[down]);
        sheet.base[down] = row.base;
        if (g.columns) {
          own = own && equal(column.base, this.base[across]);
          sheet.base[across] = column.base;
        }
        const result = sheet.work();
        return { figures: g.cells.map((name) => result.figures[name]), own, result };
      });
      return row;
    });
    return { rows, columns };
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

// A value as a text that reads back as the value: as shown where that does, else with all
// its digits.
const written = (g, base, shown) => {
  if (g.show[0] === "truth" || g.show[0] === "choice") return shown;
  for (const text of g.steps ? [format(g.steps, base).text, shown] : [shown]) {
    if (readsAs(g, text, base)) return text;
  }
  const u = unitNamed(g.unit);
  return plainDigits((base - u.zero) / u.factor) + (g.unit ? " " + g.unit : "");
};
// never 1e-7, which a field takes too, but nobody reads
const plainDigits = (v) => {
  const text = String(v);
  return /e/.test(text) ? v.toFixed(20).replace(/\.?0+$/, "") : text;
};

let current = null;
const waiting = [];
const page = (build) => {
  const program = build(helpers);
  program.given = Object.freeze(program.given.map(ready));
  prepare(program);
  current = new Sheet(program);
  waiting.splice(0).forEach((take) => take(current));
  return current;
};
const use = (take) => { if (current) take(current); else waiting.push(take); };

return Object.freeze({
  page,
  use,
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
})();
