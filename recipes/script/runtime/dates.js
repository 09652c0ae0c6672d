// Dates: recipes/quantity/date.go, date_forms.go. A date counts seconds from 1970-01-01, 86400 for
// every day; time zones matter only for what day it is now.

const monthNames = "January February March April May June July August September October November December".split(" ");
const dayNames = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split(" ");
const dayLength = 86400;
const dateOf = (year, month, day) => Date.UTC(year, month - 1, day) / 1000;
const firstDay = dateOf(1583, 1, 1), lastDay = dateOf(9999, 12, 31);
const calendar = (base) => {
  const d = new Date(base * 1000);
  return [d.getUTCFullYear(), d.getUTCMonth() + 1, d.getUTCDate()];
};
const onDay = (base) => {
  const d = below(base / dayLength) * dayLength;
  return d >= firstDay && d <= lastDay ? d : NaN;
};
const weekday = (base) => {
  const n = (floor(base / dayLength) + 3) % 7;
  return (n < 0 ? n + 7 : n) + 1;
};
const monthsAfter = (base, months) => {
  const n = nearest(months);
  if (!equal(n, months) || abs(n) > 120000 || Number.isNaN(onDay(base))) return NaN;
  const [year, month, day] = calendar(base);
  const count = year * 12 + month - 1 + n, y = floor(count / 12), m = count - y * 12 + 1;
  return y < 1000 ? NaN : onDay(dateOf(y, m, min(day, lastOf(y, m))));
};
const weekdaysAfter = (base, n) => {
  let at = weekday(base) - 1;
  if (at > 4 && n > 0) {
    base -= (at - 4) * dayLength;
    at = 4;
  } else if (at > 4) {
    base += (7 - at) * dayLength;
    at = 0;
  }
  const weeks = floor((at + n) / 5);
  return base + (weeks * 7 + (at + n - weeks * 5) - at) * dayLength;
};
const workdaysAfter = (base, n, closed) => {
  const count = nearest(n);
  if (!equal(count, n) || abs(count) > 1e7 || Number.isNaN(onDay(base))) return NaN;
  if (count === 0) return base;
  for (let want = count; ;) {
    const to = weekdaysAfter(base, want);
    let passed = 0;
    for (const c of closed) {
      if (count > 0 && c > base && c <= to) passed++;
      else if (count < 0 && c < base && c >= to) passed--;
    }
    if (count + passed === want) return onDay(to);
    want = count + passed;
  }
};
const lastOf = (year, month) => new Date(Date.UTC(year, month, 0)).getUTCDate();

const isoOf = (year, month, day) => String(year).padStart(4, "0") + "-" + String(month).padStart(2, "0") + "-" + String(day).padStart(2, "0");
const isoDate = (base) => isoOf(...calendar(base));
const dateShown = (base) => {
  const [year, month, day] = calendar(base);
  return day + " " + monthNames[month - 1] + " " + year;
};
const weekdayShown = (base) => dayNames[weekday(base) - 1] + ", " + dateShown(base);

// the day on the reader's own calendar
const localDay = () => {
  const now = new Date();
  return dateOf(now.getFullYear(), now.getMonth() + 1, now.getDate());
};
let today = localDay();

const isoForm = /^\d{4}-\d{2}-\d{2}(?![0-9A-SU-Za-su-z_]|-\d)/;
const noSuchDay = (iso) => {
  const [year, month, day] = [iso.slice(0, 4), iso.slice(5, 7), iso.slice(8, 10)].map(Number);
  if (month < 1 || month > 12) return "month " + month;
  if (day < 1) return "day " + day;
  const last = new Date(Date.UTC(2000 + year % 400, month, 0)).getUTCDate();
  if (day === 29 && month === 2 && last === 28) return "29 February " + year;
  if (day > last) return day + " " + monthNames[month - 1];
  return year < 1583 ? "year " + iso.slice(0, 4) + " in this calendar, which begins in 1583" : "";
};
const monthNamed = (word) => {
  word = word.toLowerCase();
  return word === "sept" ? 9 : word.length < 3 ? 0 : monthNames.findIndex((name) => name.toLowerCase().startsWith(word)) + 1;
};
const meantDays = (text) => {
  let m = /^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$/.exec(text);
  const fullYear = (text) => Number(text) + (Number(text) < 100 ? 2000 : 0);
  if (m) return [isoOf(fullYear(m[1]), Number(m[2]), Number(m[3]))];
  m = /^(\d{1,2})([-./])(\d{1,2})[-./](\d{4})$/.exec(text);
  if (m) {
    const a = Number(m[1]), b = Number(m[3]), year = fullYear(m[4]);
    if (m[2] === "." || a > 12 || a === b) return [isoOf(year, b, a)];
    return b > 12 ? [isoOf(year, a, b)] : [isoOf(year, b, a), isoOf(year, a, b)];
  }
  m = /^(\d{1,2})\.? ([A-Za-z]{3,9})\.?,? (\d{4})$/.exec(text);
  const month = m && monthNamed(m[2]);
  return month ? [isoOf(fullYear(m[3]), month, Number(m[1]))] : [];
};
// what looks like a date at the start of a text: its length, and the dates it may stand for
const meantDate = (text) => {
  const whole = (n) => !/^(?:\w|[-./]\d)/.test(text.slice(n));
  let m = /^(?:\d{4}([-./])\d{1,2}([-./])\d{1,2}|\d{1,2}([-./])\d{1,2}([-./])\d{4})/.exec(text);
  if (m && whole(m[0].length) && m[1] === m[2] && m[3] === m[4]) return [m[0].length, meantDays(m[0])];
  m = /^\d{1,2}\.? [A-Za-z]{3,9}\.?,? \d{4}/.exec(text);
  if (m && whole(m[0].length) && meantDays(m[0]).length) return [m[0].length, meantDays(m[0])];
  if (text.slice(0, 4) < "1583") return [0, []];
  m = /^(\d{4})-?W(\d{2})-?([1-7])/.exec(text);
  if (m && whole(m[0].length)) {
    const fourth = dateOf(Number(m[1]), 1, 4);
    return [m[0].length, [isoDate(fourth + (7 * (Number(m[2]) - 1) + Number(m[3]) - weekday(fourth)) * dayLength)]];
  }
  m = /^(\d{4})-(\d{3})/.exec(text);
  if (m && whole(m[0].length)) return [m[0].length, [isoDate(dateOf(Number(m[1]), 1, Number(m[2])))]];
  m = /^\d{4}-(\d{2})/.exec(text);
  return m && whole(m[0].length) && m[1] >= "01" && m[1] <= "12" ? [m[0].length, [m[0] + "-01"]] : [0, []];
};
