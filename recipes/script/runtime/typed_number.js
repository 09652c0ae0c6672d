// Reading numbers: recipes/quantity/number.go.

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

// the length of an unsigned number at the start of a text; with comma, a decimal comma in it is
// reported, otherwise a comma ends it
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
