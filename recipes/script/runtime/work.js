// Working out: recipes/prove/work.go. s holds all values by slot; of is the name of the page drawn
// on, "" for this page.
const trouble = (out, of, fault, name) => {
  if (fault.reason === null) out.failed.push(name);
  else out.reasons.push({ of, limit: null, text: fault.reason });
};
// what depends on something that failed fails as well, but only the first is reported
const known = (s, reads) => !reads || !reads.some((slot) => Number.isNaN(s[slot]));
const attempt = (work, s) => {
  try {
    return +work(s);
  } catch (fault) {
    if (fault instanceof Fault || fault instanceof Lack) return fault;
    throw fault;
  }
};
// puts the cells of a row into their slots
const setRow = (row, places, s) => {
  for (const [slot, cells] of places) s[slot] = typeof cells === "number" ? s[cells + row] : cells[row];
};
// a column whose cells depend on given values; the slot after them, its state, is NaN if a row failed
const column = (step, s, of, out) => {
  const state = step.column + step.count;
  s[state] = 0;
  for (let row = 0; row < step.count; row++) {
    setRow(row, step.row, s);
    const v = attempt(step.work, s);
    const holds = typeof v === "number";
    if (v instanceof Lack) {
      if (s[state] === 0) {
        s[state] = undefined;
        out.lacks[state] = out.lacks[v.slot];
      }
      s[step.column + row] = undefined;
      continue;
    }
    if (!holds) {
      if (s[state] === 0 && known(s, step.reads)) trouble(out, of, v, "");
      s[state] = NaN;
    }
    s[step.column + row] = holds ? v : NaN;
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
    if (step.column !== undefined) {
      column(step, s, of, out);
      continue;
    }
    const v = attempt(step.work, s);
    if (typeof v === "number") {
      s[step.slot] = v;
      continue;
    }
    const lack = v instanceof Lack, instead = !lack && step.instead && v.reason !== null && known(s, step.reads);
    if (lack || instead) {
      s[step.slot] = undefined;
      out.lacks[step.slot] = lack ? out.lacks[v.slot] : step.instead;
      continue;
    }
    if (known(s, step.reads)) trouble(out, of, v, step.name);
    s[step.slot] = NaN;
  }
  for (let index = 0; index < limits.length; index++) {
    const limit = limits[index];
    const holds = attempt(limit.when, s);
    // while the condition waits for a reading, the limit does not hold
    if (holds instanceof Lack) continue;
    if (typeof holds !== "number") {
      if (holds.reason !== null || out.failed.length === failedBefore) trouble(out, of, holds, "");
    } else if (holds) {
      out.held.push({ of, index, kind: limit.kind });
      if (limit.kind === "refuse") out.reasons.push({ of, limit: index, text: "" });
    }
  }
};

// a page drawn on: recipes/prove/parts.go
const draw = (use, s, of, out) => {
  const name = of ? of + "." + use.use : use.use;
  const withdraw = () => {
    for (let i = 0; i < use.count; i++) s[use.first + i] = NaN;
  };
  for (const [slot, own, reading] of use.own) s[slot] = own === null ? today : reading && !out.examples ? undefined : own;
  for (const set of use.sets) {
    const v = attempt(set.work, s), g = set.given;
    if (v instanceof Lack) {
      s[g.slot] = undefined;
      out.lacks[g.slot] = out.lacks[v.slot];
      continue;
    }
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
