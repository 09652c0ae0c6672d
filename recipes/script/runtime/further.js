// What tables, charts, sureness and the arithmetic ask of a sheet. It is in a separate script,
// with nearest.js, which pages load at the first change of a value or at a refusal.
Object.assign(Sheet.prototype, {
  grid(name) {
    const g = this.program.grids.find((g) => g.name === name);
    const values = (run) => run[1].map(([base, text]) => ({ base, text }));
    const columns = g.columns ? values(g.columns) : [{ base: 0, text: "" }];
    const at = (run) => run && this.place(run[0]);
    const across = at(g.columns), down = at(g.rows);
    const rows = values(g.rows).map((row) => {
      row.cells = columns.map((column) => {
        const sheet = this.copy();
        sheet.given.forEach((g, i) => { if (sheet.base[i] === undefined) sheet.base[i] = g.own; });
        let own = equal(row.base, this.base[down]);
        sheet.base[down] = row.base;
        if (g.columns) {
          own = own && equal(column.base, this.base[across]);
          sheet.base[across] = column.base;
        }
        const result = sheet.work(true);
        return { figures: g.cells.map((name) => result.figures[name]), own, result };
      });
      return row;
    });
    return { rows, columns };
  },
  // a table of a file's rows: recipes/prove/row_table.go. Gives its texts, a list for each row,
  // with the totals last; null if it does not depend on values that can be set
  rowTable(name) {
    const t = (this.program.rowTables || []).find((t) => t.name === name), s = this.slots;
    if (!t) return null;
    this.work();
    const at = (cells, row) => typeof cells === "number" ? s[cells + row] : cells[row];
    const rows = t.rows.filter((row) => {
      if (!t.where) return true;
      setRow(row, t.row, s);
      const v = attempt(t.where, s);
      return typeof v !== "number" || v !== 0;
    });
    if (t.order) {
      const [cells, falling, words] = t.order;
      const key = (row) => words ? words[at(cells, row)] : at(cells, row);
      const by = (a, b) => a < b ? -1 : a > b ? 1 : 0;
      rows.sort((a, b) => (falling ? -1 : 1) * by(key(a), key(b)));
    }
    const texts = rows.map((row) => t.columns.map(([cells, how]) => typeof cells === "number" ? format(how, at(cells, row)).text : how[row]));
    if (rows.length && t.columns.some((c) => c[2])) {
      texts.push(t.columns.map(([cells, , show], i) => show ? format(show, total(rows.map((row) => at(cells, row)))).text : i ? "" : "Total"));
    }
    return texts;
  },
  // the points of a chart that depend on the values set, each [x, y] as shown; null if it has none
  points(name) {
    const t = (this.program.points || []).find((t) => t.name === name), s = this.slots;
    if (!t) return null;
    this.work();
    const at = ([cells, show], row) => {
      const v = typeof cells === "number" ? s[cells + row] : cells[row];
      return Number.isFinite(v) ? format(show, v) : null;
    };
    return Array.from({ length: t.count }, (_, row) => [at(t.x, row), at(t.y, row)]).filter(([x, y]) => x && y);
  },
  // the arithmetic at the values set: recipes/prove/exact.go. Gives a function from a name in a
  // formula, such as tank or mix.water, to its value with all digits as a text; null if the name
  // is neither a given value's nor a figure's
  exact() {
    const { program, slots: s } = this, out = { reasons: [], failed: [], held: [], lacks: [] };
    this.given.forEach((g, i) => { s[g.slot] = this.base[i]; });
    run(program, s, "", out);
    return (name) => {
      const other = (program.outside || []).find((o) => o.of === name);
      const given = other && other.given ? ready(other.given) : this.given.find((g) => g.name === name);
      const from = given || other || program.steps.find((f) => f.name === name);
      if (!from) return null;
      const base = s[from.slot];
      if (base === undefined) return out.lacks[from.slot] || "\u2026";
      return given ? givenInFull(given, base) : inFull(from.show, base);
    };
  },
  // how sure the figures are, at the values last worked out: [{name, shown, most, unknown,
  // straight, standard}]; shown is what follows the ±, null if no number is to be shown
  sureness() {
    const { sure } = this.program;
    return sure ? sureOf(sure, this.slots) : [];
  },
});

const givenInFull = (g, base) => {
  const text = isDate(g) ? isoDate(base) : shownGiven(g, base).text, [part, more] = text.split("+");
  return g.show[0] === "added" && more ? "dilution(" + part + ", " + more + ")" : text; // 1+100 would be a sum
};
const inFull = (show, base) => {
  const { text } = format(show, base);
  if (["truth", "choice", "day", "weekday"].includes(show[0])) return text;
  const back = labsite.read(text).value;
  return back && equal(back.base, base) ? text : format(["written", show[0] === "signed" ? show[2][1] : show[1]], base).text;
};

// labsiteEarlier: earlier revisions of the page. Their scripts are loaded after this one, and
// register themselves: take(revision, build), tell(revision, about). sheet(revision) is such a
// revision at its own values, null if its script has not run; about(revision) is what it told.
const before = new Map(), told = new Map();
return Object.freeze({
  take(revision, build) { before.set(revision, made(build)); },
  tell(revision, about) { told.set(revision, about); },
  sheet(revision) { return before.has(revision) ? before.get(revision).copy() : null; },
  about(revision) { return told.get(revision) || {}; },
});
