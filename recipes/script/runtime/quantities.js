// Reading quantities: recipes/quantity/parse.go, value.go, duration.go, fraction.go, dilution.go.

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
    if (/^f\/\d/.test(this.rest)) return this.fNumber();
    const plus = /^\+\d/.test(this.rest);
    if (plus) this.pos++;
    const negative = this.at(0) === "-";
    if (negative) this.pos++;
    const date = this.date(negative || plus);
    if (date) return date;
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

  fNumber() {
    this.pos += 2;
    const n = number(this.rest, true), text = this.rest.slice(0, n);
    this.pos += n;
    return { base: Number(text), unit: plain, form: "lens", text: "f/" + text };
  }

  date(signed) {
    const text = this.rest, iso = isoForm.exec(text);
    if (iso) {
      const day = iso[0], no = noSuchDay(day), rest = text.slice(day.length);
      if (no) fail("noday", no);
      if (signed) fail("datesign", day);
      if (/^[Tt]/.test(rest)) failWith(problem("datetime", day), day);
      this.pos += day.length;
      return { base: dateOf(...day.split("-").map(Number)), unit: dateUnit, form: "", text: day };
    }
    const [n, days] = meantDate(text);
    if (!n) return null;
    const no = days.length === 1 && noSuchDay(days[0]);
    if (no) fail("noday", no);
    return failWith(problem("dateform", text.slice(0, n), days.join(" or ")), ...days);
  }

  made(text, negative, unit, word) {
    let base;
    if (unit.factor === 1 && unit.zero === 0) {
      base = negative ? -Number(text) : Number(text);
    } else {
      base = scaled(decimal(text), negative, unit);
    }
    let shown = (negative ? "-" : "") + text;
    if (unit.text) {
      const plural = word === unit.text + "s" || word === unit.text + "es";
      shown += " " + (plural && !unit.text.includes("/") && inNumber("", unit.text) === unit.text ? word : inNumber(shown, unit.text));
    }
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
    let total = Number(text) * rankSeconds[rank], shown = text + " " + inNumber(text, rankNames[rank]);
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
