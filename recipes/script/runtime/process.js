// Process: recipes/prove/process.go, recipes/page/steps.go
// a time in seconds as it is written, since that is what a reader goes by
const readBack = (text, exact) => {
  try {
    return read(text).base;
  } catch (p) {
    if (p instanceof Problem) return exact;
    throw p;
  }
};
const timed = (steps, s, lacks) => {
  const out = [];
  let total = 0;
  for (const step of steps) {
    if (!step.work) {
      out.push(null);
      continue;
    }
    const v = attempt(step.work, s);
    if (v instanceof Lack) {
      out.push({ missing: true, shown: lacks[v.slot] || "" });
      total = NaN;
      continue;
    }
    if (typeof v !== "number" || less(v, 0)) return null;
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
