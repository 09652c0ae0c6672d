// What formulas call: recipes/formula. Each operation brings its own helper; all of them are put in
// at the end, and may use what is defined before.
//
// A fault without a reason is a result that is not finite; one with a reason refuses the case.

class Fault {
  constructor(reason) { this.reason = reason; }
}
const finite = (v) => {
  if (Number.isFinite(v)) return v;
  throw new Fault(null);
};
const refuse = (reason) => { throw new Fault(reason); };

// A missing value: a reading that was not entered, or a figure in whose place a text stands. What
// depends on it is missing as well.
class Lack {
  constructor(slot) { this.slot = slot; }
}
const present = (s, slot) => {
  if (s[slot] === undefined) throw new Lack(slot);
  return s[slot];
};

// A search is [file, result cells, [[key name, cells, show], …]].
const unfound = (key, search, values) => {
  const where = search[2].map((k, i) => k[0] + " " + format(k[2], values[i]).text);
  refuse(fill(data.words[key][1], [search[0], where.join(", ")]));
};
// whether a row's keys, beginning with number from, are the values
const met = (search, row, values, from) => {
  const keys = search[2];
  for (let i = from; i < keys.length; i++) {
    if (!equal(keys[i][1][row], values[i])) return false;
  }
  return true;
};
// the row whose keys are the values, -1 for none
const chosenBy = (search, values) => {
  for (let row = 0; row < search[1].length; row++) {
    if (met(search, row, values, 0)) return row;
  }
  return -1;
};
const lacking = (key, search, values) => unfound(key + (values.length ? "of" : ""), search, values);
// what functions over rows make of their cells: recipes/formula/statistics.go
const total = (cells) => {
  let sum = 0, lost = 0;
  for (const x of cells) {
    const t = sum + x;
    lost += abs(sum) >= abs(x) ? sum - t + x : x - t + sum;
    sum = t;
  }
  return abs(sum) === 1 / 0 ? sum : sum + lost;
};
const meanParts = (cells) => {
  const mean = total(cells) / cells.length;
  return [mean, total(cells.map((x) => x - mean)) / cells.length];
};
const overRows = {
  sum: total,
  mean: (cells) => {
    const [mean, rest] = meanParts(cells);
    return mean + rest;
  },
  median: (cells) => {
    const sorted = cells.slice().sort((a, b) => a - b), half = floor(sorted.length / 2);
    return sorted.length % 2 ? sorted[half] : sorted[half - 1] + (sorted[half] - sorted[half - 1]) / 2;
  },
  smallest: (cells) => min(...cells),
  largest: (cells) => max(...cells),
  count: (cells) => cells.length,
  deviation: (cells) => {
    const [mean, rest] = meanParts(cells);
    return Math.sqrt(total(cells.map((x) => (x - mean - rest) ** 2)) / (cells.length - 1));
  },
  first: (cells) => cells[0],
  last: (cells) => cells[cells.length - 1],
};
// a search whose result lies in the frame, with the cells of the case
const cellsNow = (s, search) => {
  present(s, search[1] + search[3]);
  return [search[0], s.slice(search[1], search[1] + search[3]), search[2]];
};
const between = (search, values, curve) => {
  const ys = search[1], xs = search[2][0][1], x = values[0];
  let low = -1, high = -1;
  for (let row = 0; row < xs.length; row++) {
    if (!met(search, row, values, 1)) continue;
    const v = xs[row];
    if (equal(v, x)) return ys[row];
    if (v < x && (low < 0 || v > xs[low])) low = row;
    if (v > x && (high < 0 || v < xs[high])) high = row;
  }
  if (low < 0 || high < 0) return unfound(low === high ? "norow" : "beyond", search, values);
  return finite(curve(ys[low], ys[high], xs[low], xs[high], x));
};
// the slope of the piece to the right of x; at the last point, of the piece to its left
const incline = (search, values, slope) => {
  const ys = search[1], xs = search[2][0][1], x = values[0];
  const rows = xs.map((_, row) => row).filter((row) => met(search, row, values, 1)).sort((a, b) => xs[a] - xs[b]);
  if (rows.length < 2) return 0;
  let i = rows.findIndex((row) => xs[row] > x);
  i = i < 0 ? rows.length - 1 : Math.max(1, i);
  return slope(ys[rows[i - 1]], ys[rows[i]], xs[rows[i - 1]], xs[rows[i]]);
};
const helpers = {$HELPERS};
