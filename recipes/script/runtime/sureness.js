// How sure the figures are: recipes/prove/sureness.go, which explains it. The draws are the same.
const draws = 256;
const primes = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97];
const halton = (i, k) => {
  const base = primes[k % primes.length];
  i += 409 * Math.floor(k / primes.length);
  let share = 0, f = 1;
  for (; i > 0; i = Math.floor(i / base)) {
    f /= base;
    share += f * (i % base);
  }
  return share;
};
const twoDigits = (base, factor) => {
  const v = Math.abs(base / factor);
  if (!(v > 0) || !Number.isFinite(v)) return 0;
  const step = Math.pow(10, Math.floor(Math.log10(v)) - 1);
  return Math.round(v / step) * step * factor;
};
const sureOf = (sure, own) => {
  const { sources, steps, figures } = sure;
  const s = own.slice();
  s.e = sources.map(() => 0);
  const half = sources.map((x) => {
    if (!x.step) return x.half;
    const v = attempt(x.step, s);
    return typeof v === "number" ? Math.abs(v) / 2 : NaN;
  });
  const work = (shares) => {
    for (let i = 0; i < own.length; i++) s[i] = own[i];
    sources.forEach((x, i) => {
      const off = shares ? shares[i] * half[i] : 0;
      s.e[i] = x.slots.length ? 0 : off;
      for (const slot of x.slots) s[slot] += off;
    });
    for (const step of steps) {
      const v = attempt(step.work, s);
      s[step.slot] = typeof v === "number" && Number.isFinite(v) ? v : NaN;
    }
  };
  const slopes = new Map(), unknown = new Set();
  sources.forEach((x, i) => x.slots.forEach((slot) => slopes.set(slot, sources.map((_, k) => i === k ? 1 : 0))));
  work(null);
  for (const step of steps) {
    const row = sources.map(() => 0);
    if (step.unknown || step.by.some(([of]) => unknown.has(of))) unknown.add(step.slot);
    const slope = (at) => {
      const v = attempt(at, s);
      if (typeof v === "number" && Number.isFinite(v)) return v;
      unknown.add(step.slot);
      return NaN;
    };
    for (const [of, at] of step.by) {
      const v = slope(at);
      (slopes.get(of) || []).forEach((g, i) => { row[i] += v * g; });
    }
    for (const [of, at] of step.own) row[of] += slope(at);
    slopes.set(step.slot, row);
  }
  const out = figures.map((f) => {
    let square = 0, largest = 0, most = null;
    slopes.get(f.slot).forEach((g, i) => {
      const u = g * half[i] / Math.sqrt(3);
      square += u * u;
      if (u * u > largest) {
        largest = u * u;
        most = sources[i];
      }
    });
    const standard = Math.sqrt(square);
    return { f, value: s[f.slot], standard, most, share: square > 0 ? largest / square : 0, unknown: unknown.has(f.slot) || !Number.isFinite(standard), count: 0, sum: 0, squares: 0 };
  });
  for (let i = 0; i < draws; i++) {
    work(sources.map((_, k) => 2 * halton(i + 1, k) - 1));
    for (const o of out) {
      const d = s[o.f.slot] - o.value;
      if (d !== d) continue;
      o.count++;
      o.sum += d;
      o.squares += d * d;
    }
  }
  return out.map((o) => {
    const count = o.count, mean = o.sum / count, spread = Math.sqrt(Math.max(0, o.squares / count - mean * mean));
    const isUnknown = o.unknown || count < draws / 2;
    const straight = Math.abs(spread - o.standard) < 0.1 * o.standard && Math.abs(mean) < 0.1 * o.standard || o.standard === 0;
    const told = !isUnknown && straight;
    return {
      name: o.f.name, standard: o.standard, unknown: isUnknown, straight,
      shown: told ? format(o.f.show, twoDigits(2 * o.standard, o.f.factor)).text : null,
      most: o.most && o.standard ? (o.share >= 0.9 ? "nearly all" : o.share >= 0.5 ? "most" : "the largest part") + " from " + o.most.label : "",
    };
  });
};
