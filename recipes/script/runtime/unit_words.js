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
