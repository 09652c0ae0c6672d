// Fields: what a reader types for a given. Besides what a page may write, a field takes the usual
// words for units of its own kind, a number without its space or its unit, and a decimal comma.

const typed = (g, text, trusted) => {
  let t = bare(normal(text));
  if (!t) fail(isDate(g) ? "nodate" : "missing");
  if (isDate(g)) return typedDate(g, t);
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
  t = inWords(g, t, trusted);
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

// the browser's own date field gives 2026-11-28; without one, a date is typed
const typedDate = (g, text) => {
  let v;
  try {
    v = read(text);
  } catch (p) {
    throw p instanceof Problem ? advised(g, p) : p;
  }
  if (kindOf(v.unit) !== g.kindKey) fail("kind", g.title, g.kind, kindName(v.unit));
  return v;
};

// 20 fl oz, 2 US gal, 68 degrees F; a measure that on a page is the US one may, from a reader, also
// be the imperial one
const inWords = (g, text, trusted) => {
  const [, number, rest] = /^(.*?\d +)([A-Za-z°].*)$/s.exec(text) || [];
  if (!rest) return text;
  const word = /^\w*/.exec(rest)[0], known = readUnit(rest);
  let [n, units] = spelled(rest);
  if (known && (g.kindKey !== volumeKind || trusted || word.includes("_"))) return text;
  if (Measures[units[0]] && Measures[g.unit]) units = units.slice(0, 1);
  if (units[1] && Measures[units[0]]) {
    unsure(word, number, units, offered(g, units.map((unit) => number + (/^imp/.test(unit) ? "" : "US ") + unit + rest.slice(n))));
  }
  return units[0] && !units[1] ? number + units[0] + rest.slice(n) : text;
};

// only texts that the field would take are offered; while one is tried, nothing else is offered
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

// a problem in a field: of its offers, only what the field would take
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

// hold: recipes/page/given.go
const held = (g, v) => {
  if (g.choices) {
    const hit = g.choices.find((c) => equal(c.base, v.base));
    return hit ? hit.base : notAmong(g, v.text);
  }
  if (!g.from) {
    if (g.reading) return v.base;
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
