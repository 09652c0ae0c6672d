// Signals. Screen readers always get them; sound and vibration must be turned on, each by itself,
// and end with the run. The screen is kept on while the sheet is open. The sheet says what a device
// cannot do, or refuses.

// The signals of a step: [moment, words, whether it is strong].
let told = -1;
const overFrom = [0, 15, 30, 45, 60]; // seconds after its end
const signals = (s) => [
  ...(s.first ? [[0, 'Move the tank without pause for ' + clock(s.first) + '.'], [s.first, 'Leave the tank alone.']] : []),
  ...s.moments.map((m) => [m, 'Move the tank: ' + s.how + '.']),
  ...(s.pour !== null && s.pour < s.seconds ? [[s.pour, 'Start pouring out.']] : []),
  ...(s.seconds === null ? [] : overFrom.map((m) => [s.seconds + m, 'Over: ' + s.name + '.', true])),
].sort((a, b) => a[0] - b[0]);
function remind() {
  if (!going() || run.paused) return;
  const at = seconds();
  if (told < 0) told = at < 1 ? -.5 : at;
  for (const [when, words, strong] of signals(step())) {
    if (when > told && when <= at && at - when < 10) tell(words, !!strong); // a late signal would mislead
  }
  told = Math.max(told, at);
}

let sound = null, buzz = false, wake = null, asking = false, asleep = false;
const live = make('p', { class: 'unseen', role: 'status' });
const Context = globalThis.AudioContext || globalThis.webkitAudioContext;

function tell(text, strong) {
  live.textContent = text;
  if (sound) {
    // a phone call or a locked screen suspends it
    if (sound.state !== 'running') Promise.resolve(sound.resume()).catch(() => { /* it stays silent */ });
    for (let i = 0; i < (strong ? 3 : 1); i++) {
      const tone = sound.createOscillator(), level = sound.createGain(), at = sound.currentTime + i * .35;
      tone.frequency.value = strong ? 880 : 660;
      level.gain.setValueAtTime(.0001, at);
      level.gain.exponentialRampToValueAtTime(.4, at + .02);
      level.gain.exponentialRampToValueAtTime(.0001, at + .28);
      tone.connect(level).connect(sound.destination);
      tone.start(at);
      tone.stop(at + .3);
    }
  }
  if (buzz) navigator.vibrate(strong ? [300, 150, 300] : 200);
}

let deaf = !Context, still = !navigator.vibrate;
function turnSound() {
  if (sound) {
    sound.close();
    sound = null;
  } else {
    try { sound = new Context(); } catch { deaf = true; }
    if (sound) tell('Sound is on.', false);
  }
  keepLoud();
}
function turnBuzz() {
  buzz = !buzz && !(still = !navigator.vibrate(200));
  if (buzz) live.textContent = 'Vibration is on.';
  keepLoud();
}
// A reloaded page is silent, since browsers allow no sound before it is touched, so the run
// remembers to say so.
function keepLoud() {
  if (!run) return;
  run.loud = [sound && 'sound', buzz && 'vibration'].filter(Boolean).join(' and ');
  save();
  paint();
}
function silence() {
  if (sound) sound.close();
  if (buzz) navigator.vibrate(0);
  sound = null;
  buzz = false;
}

async function stayAwake() {
  const wanted = () => run && !run.ended && dialog && dialog.open && !inDark() && document.visibilityState === 'visible';
  if (!wanted()) {
    if (wake) wake.release();
    wake = null;
    asleep = false; // to ask again when the page is visible again
  } else if (!wake && !asking && !asleep && navigator.wakeLock) {
    asking = true;
    try {
      const got = await navigator.wakeLock.request('screen');
      got.addEventListener('release', () => { if (wake === got) wake = null; });
      wake = got;
    } catch { asleep = true; }
    asking = false;
    if (!wanted()) stayAwake();
    else if (asleep) paint();
  }
}

// What this device cannot do, in words.
const cannot = () => [
  deaf && 'This device gives a page no sound.',
  still && 'This device does not vibrate.',
  (asleep || !navigator.wakeLock) && 'The page cannot keep the screen of this device on. When it turns off, the run counts on.',
  run && run.loud && !sound && !buzz && 'Before the page was loaded again, ' + run.loud + ' had been asked for. Ask once more: no page may begin with it.',
].filter(Boolean).join(' ');
