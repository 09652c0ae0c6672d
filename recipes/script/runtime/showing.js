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
    if (k > 0) out.push(fixed(k, 0) + " " + inNumber(fixed(k, 0), name));
  };
  if (v >= 172800) take(86400, "day");
  take(3600, "h");
  take(60, "min");
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
  const days = significant(base / 86400, 3);
  return { text: days + " " + inNumber(days, "day"), value: base / 86400, unit: "day" };
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

// A show is [style, unit, step or the like, step as written]; "signed" has another show as its step.
// It caches what it wrote last, since most values stay the same from one change to the next.
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
    case "lens": return { text: "f/" + significant(base, step || 2), value: base, unit: "" };
    case "signed": {
      const s = formatted(step, base);
      return base > 0 && /[1-9]/.test(s.text.split(" ")[0]) ? { ...s, text: "+" + s.text } : s;
    }
    case "day": return { text: dateShown(base), value: base / dayLength, unit: "" };
    case "weekday": return { text: weekdayShown(base), value: base / dayLength, unit: "" };
    case "over": return { text: overOne(base), value: base, unit: "s" };
    case "usual": return usual(base, unit);
    case "part": return { text: parts(base, step) + " " + unit, value: base, unit };
  }
  const u = unitNamed(unit);
  const v = (base - u.zero) / u.factor;
  const text = style === "steps" ? multiple(v, step, stepText) : significant(v, style === "written" ? 10 : 3);
  return { text: unit ? text + " " + inNumber(text, unit) : text, value: v, unit };
};
