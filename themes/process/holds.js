// Initials of a hold: typed or drawn, never a tap alone.

function buildHold() {
  parts.initials = bench.initials(() => paint());
}
// The form is cleared when another step asks, so that the last initials are not left in it.
let askedOf = null;
function paintHold(s) {
  const { element, label, clear, what } = parts.initials;
  const of = s ? run.steps.indexOf(s) + ' ' + s.begin : null;
  if (of !== askedOf) {
    askedOf = of;
    clear();
  }
  element.hidden = !s;
  text(parts.without, !s ? '' : asked === 'without' ? 'Press again: the record stays unfinished' : run.ended ? 'Not now' : 'Go on without initials');
  if (!s) return;
  label.textContent = 'Initials of: ' + s.hold + ', typed';
  return what;
}
