// Comparing and rounding: recipes/quantity/compare.go.

const { abs, floor, ceil, trunc, sign, max, min, log, exp } = Math;

const equal = (a, b) => {
  if (a === b) return true;
  const d = abs(a - b);
  return d <= 1e-12 || d <= 1e-9 * max(abs(a), abs(b));
};
const less = (a, b) => a < b && !equal(a, b);
const lessOrEqual = (a, b) => a < b || equal(a, b);

// half away from zero
const whole = (x) => {
  const t = trunc(x);
  return abs(x - t) >= 0.5 ? t + sign(x) : t;
};
const snap = (q) => {
  const half = whole(q * 2) / 2;
  return abs(q - half) <= 1e-9 ? half : q;
};
const nearest = (q) => whole(snap(q));
const below = (q) => floor(snap(q));
const above = (q) => ceil(snap(q));
