// Units: recipes/quantity/unit.go. A kind is seven powers (length, mass, time, amount,
// degree, stop, money), its currencies and whether it is a point on a scale.

const plain = { text: "", powers: [0, 0, 0, 0, 0, 0, 0], currency: "", monies: {}, things: {}, point: false, n: one, d: one, zn: none, zd: one, decimals: -1, factor: 1, zero: 0 };
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
      name(code, { ...plain, text: code, powers: [0, 0, 0, 0, 0, 0, 1], currency: code, monies: { [code]: 1 }, decimals: Number(head) });
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
// counted things: recipes/quantity/counts.go
const plurals = new Map(["day", "week", "month", "year"].map((word) => [word, word + "s"]));
const countUnit = ([one, several]) => {
  if (plurals.has(one)) return;
  const unit = { ...plain, text: one, things: { [one]: 1 } };
  name(one, unit);
  name(several, unit);
  plurals.set(one, several);
};
data.counts.forEach(countUnit);
const joinThings = (out, things, sign) => {
  const all = { ...out.things };
  for (const word in things) {
    all[word] = (all[word] || 0) + sign * things[word];
    if (!all[word]) delete all[word];
  }
  out.things = all;
  return Object.values(all).every((p) => abs(p) < 10);
};
const thingsOf = (u) => Object.keys(u.things).map((word) => word + u.things[word]).sort().join(" ");
// a unit after a number: words take the plural unless the number is 1
const inNumber = (number, unit) => {
  const n = nameLength(unit), many = plurals.get(unit.slice(0, n));
  return !many || /^[-+]?1$/.test(number) || n < unit.length && unit[n] !== "/" ? unit : many + unit.slice(n);
};

const dateUnit = { ...plain, powers: [0, 0, 1, 0, 0, 0, 0], point: true };
const kindOf = (u) => u.powers.join() + u.currency + (u.point ? ",p" : "") + thingsOf(u);
const kindName = (u) => data.kinds[kindOf(u)] || (u.powers.every((p) => !p) && /^[a-z_]+1$/.test(thingsOf(u)) && !u.currency ? "a count of " + plurals.get(Object.keys(u.things)[0]) : "") ||
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

// two currencies may stand against one another, as in a rate: USD/GBP
const joinMoney = (out, code, power) => {
  const monies = { ...out.monies, [code]: (out.monies[code] || 0) + power };
  if (!monies[code]) delete monies[code];
  const codes = Object.keys(monies).sort();
  out.monies = monies;
  out.powers[6] = codes.length === 1 ? monies[codes[0]] : 0;
  out.currency = codes.length > 1 ? codes.map((code) => code + monies[code]).join(" ") : codes.join();
  return codes.length < 2 || codes.length === 2 && monies[codes[0]] > 0 !== monies[codes[1]] > 0;
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
      out.powers = out.powers.map((p, k) => p + sign * a.unit.powers[k]);
      if (!joinThings(out, a.unit.things, sign)) return null;
      if (a.unit.currency && !joinMoney(out, a.unit.currency, sign)) return null;
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
