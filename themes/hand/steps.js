// The steps and their times, for the reader and for the run sheet.

let steps, totals;
function findSteps() {
  steps = all('#Steps .step');
  totals = all('.steps-total .q');
}

const clock = (seconds) => {
  if (Number.isNaN(seconds)) return ''; // it follows a step whose time waits for a reading
  const n = Math.round(seconds * 10);
  const two = (v) => String(v).padStart(2, '0');
  const h = Math.floor(n / 36000), m = Math.floor(n / 600) % 60, s = Math.floor(n / 10) % 60;
  return (h ? h + ':' + two(m) : m) + ':' + two(s) + (n % 10 ? '.' + n % 10 : '');
};

function paintSteps() {
  const process = gone ? null : result.process;
  steps.forEach((li, i) => {
    const found = process && process.steps[i], lack = found && found.missing ? found : null;
    const t = lack ? null : found;
    const put = (selector, text) => all(selector, li).forEach((e) => {
      e.hidden = text === null;
      if (text !== null) all('.q', e).forEach((q) => write(q, text));
    });
    if (li.querySelector('.step-time')) put('.step-time', t ? t.shown : lack ? lack.shown : null);
    put('.step-clock', t ? clock(t.start) : process && nextStart(process, i));
    put('.step-pour', t ? clock(t.pour) : null);
    // for the run sheet
    const data = { seconds: t && t.length, starts: t && !Number.isNaN(t.start) ? t.start : null, pour: t && t.pour < t.length ? t.pour : null, moments: t && t.moments.length ? t.moments.join(' ') : null };
    for (const [name, v] of Object.entries(data)) {
      if (v === null) delete li.dataset[name];
      else li.dataset[name] = v;
    }
    for (const e of all('.step-moments', li)) {
      const moments = t ? t.moments : [];
      if (moments.length) {
        e.replaceChildren('at ', ...moments.flatMap((m, k) => [k ? ', ' : '', span(clock(m))]), e.dataset.of || '');
      } else {
        e.replaceChildren('every ', span(e.dataset.every));
      }
    }
  });
  all('.steps-total').forEach((e) => { e.hidden = !process; });
  if (process && totals.length > 1) {
    write(totals[0], Number.isNaN(process.total) ? '' : duration(process.total));
    write(totals[1], clock(process.total));
  }
}
const nextStart = (process, i) => clock(process.steps.slice(0, i).reduce((sum, t) => sum + (t ? t.missing ? NaN : t.length : 0), 0));
// a duration as the page writes a total
function duration(seconds) {
  const n = Math.round(seconds * 1000) / 1000, out = [];
  if (n < 60) return +n.toPrecision(3) + ' s';
  let rest = Math.round(n);
  if (rest >= 172800) return +(rest / 86400).toPrecision(3) + ' day';
  for (const [unit, name] of [[3600, ' h'], [60, ' min'], [1, ' s']]) {
    const k = Math.floor(rest / unit);
    rest -= k * unit;
    if (k) out.push(k + name);
  }
  return out.join(' ');
}
