// Fractions of whole numbers of any size, so that 68 °F is 20 °C to the last bit.

const none = BigInt(0), one = BigInt(1), ten = BigInt(10);
const size = (n) => n.toString(16).length * 4;

// the float nearest to n/d
const float = (n, d) => {
  if (n === none) return 0;
  if (n < none) return -float(-n, d);
  const shift = 68 - size(n) + size(d);
  if (shift > 0) n <<= BigInt(shift); else d <<= BigInt(-shift);
  let q = n / d;
  if (q * d !== n) q |= one;
  // through its digits: not every engine converts a large BigInt to a float correctly
  return Number(String(q)) * Math.pow(2, -shift);
};
// a decimal number as a fraction
const decimal = (text) => {
  const [, digits, part = "", exponent = "0"] = /^(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d+))?$/.exec(text);
  const e = Number(exponent) - part.length;
  const n = BigInt(digits + part);
  return e < 0 ? [n, ten ** BigInt(-e)] : [n * ten ** BigInt(e), one];
};
