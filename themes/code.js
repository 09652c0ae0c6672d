/* The code of a card or a label that is set to values other than the page's own: it carries the
   address of the page at those values, with number and revision of the paper. A QR code by ISO/IEC
   18004: bytes, medium correction (level M), versions 1 to 20, which is up to 666 bytes. If that is
   not enough, or a value is refused, a "~" after the revision says only that the values are other
   ones. */
(function () {
  'use strict';

  // For level M, by version: the correction codewords in each block, and the number of blocks.
  const correction = [10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26];
  const blocksOf = [1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16];

  const centres = (version) => {
    if (version === 1) return [];
    const n = Math.floor(version / 7) + 2, last = version * 4 + 10, step = Math.ceil((version * 4 + 4) / (n * 2 - 2)) * 2;
    return Array.from({ length: n }, (_, i) => i ? last - (n - 1 - i) * step : 6);
  };
  // how many modules of a version hold data and correction
  function room(version) {
    let n = (16 * version + 128) * version + 64;
    if (version > 1) {
      const k = Math.floor(version / 7) + 2;
      n -= (25 * k - 10) * k - 55;
      if (version > 6) n -= 36;
    }
    return Math.floor(n / 8);
  }
  const holds = (version) => room(version) - correction[version - 1] * blocksOf[version - 1];

  // The field of 256 elements modulo x^8 + x^4 + x^3 + x^2 + 1.
  const power = [], log = [];
  for (let i = 0, x = 1; i < 255; i++) {
    power[i] = x;
    log[x] = i;
    x = x << 1 ^ (x > 127 ? 285 : 0);
  }
  const times = (a, b) => a && b ? power[(log[a] + log[b]) % 255] : 0;
  function divisor(degree) {
    let out = [1];
    for (let i = 0; i < degree; i++) {
      const next = [...out, 0];
      out.forEach((c, k) => { next[k + 1] ^= times(c, power[i]); });
      out = next;
    }
    return out.slice(1);
  }
  function remainder(data, by) {
    const out = by.map(() => 0);
    for (const b of data) {
      const factor = b ^ out.shift();
      out.push(0);
      by.forEach((c, i) => { out[i] ^= times(c, factor); });
    }
    return out;
  }

  // The bytes of a text with head, terminator and padding, in interleaved blocks.
  function codewords(bytes, version) {
    const bits = [];
    const put = (value, n) => { for (let i = n - 1; i >= 0; i--) bits.push(value >> i & 1); };
    put(4, 4);
    put(bytes.length, version < 10 ? 8 : 16);
    bytes.forEach((b) => put(b, 8));
    const all = holds(version) * 8;
    put(0, Math.min(4, all - bits.length));
    put(0, (8 - bits.length % 8) % 8);
    for (let i = 0; bits.length < all; i++) put(i % 2 ? 17 : 236, 8);
    const data = Array.from({ length: all / 8 }, (_, i) => parseInt(bits.slice(i * 8, i * 8 + 8).join(''), 2));
    const n = blocksOf[version - 1], short = Math.floor(data.length / n), longer = data.length % n;
    const by = divisor(correction[version - 1]), blocks = [];
    for (let i = 0, at = 0; i < n; i++) {
      const size = short + (i < n - longer ? 0 : 1), part = data.slice(at, at += size);
      blocks.push([part, remainder(part, by)]);
    }
    const turns = (k, size) => Array.from({ length: size }, (_, i) => blocks.map((b) => b[k][i])).flat().filter((b) => b !== undefined);
    return [...turns(0, short + 1), ...turns(1, by.length)];
  }

  // The fixed modules that every code of a version has.
  function frame(version) {
    const size = version * 4 + 17, dark = Array.from({ length: size }, () => []), at = centres(version);
    const put = (x, y, on) => { if (x >= 0 && y >= 0 && x < size && y < size) dark[y][x] = +on; };
    for (let i = 0; i < size; i++) {
      put(6, i, i % 2 === 0);
      put(i, 6, i % 2 === 0);
    }
    for (const [cx, cy] of [[3, 3], [size - 4, 3], [3, size - 4]]) {
      for (let y = -4; y < 5; y++) for (let x = -4; x < 5; x++) {
        const d = Math.max(Math.abs(x), Math.abs(y));
        put(cx + x, cy + y, d !== 2 && d !== 4);
      }
    }
    for (const cy of at) for (const cx of at) {
      if (cx === 6 && (cy === 6 || cy === size - 7) || cy === 6 && cx === size - 7) continue;
      for (let y = -2; y < 3; y++) for (let x = -2; x < 3; x++) put(cx + x, cy + y, Math.max(Math.abs(x), Math.abs(y)) !== 1);
    }
    if (version > 6) {
      let rest = version;
      for (let i = 0; i < 12; i++) rest = rest << 1 ^ (rest >> 11) * 7973;
      for (let i = 0; i < 18; i++) {
        const on = (version << 12 | rest) >> i & 1, a = size - 11 + i % 3, b = Math.floor(i / 3);
        put(a, b, on);
        put(b, a, on);
      }
    }
    format(put, size, 0);
    return { size, dark, put };
  }
  function format(put, size, mask) {
    let rest = mask; // level M is 00
    for (let i = 0; i < 10; i++) rest = rest << 1 ^ (rest >> 9) * 1335;
    const bits = (mask << 10 | rest) ^ 21522, bit = (i) => bits >> i & 1;
    for (let i = 0; i < 6; i++) put(8, i, bit(i));
    put(8, 7, bit(6));
    put(8, 8, bit(7));
    put(7, 8, bit(8));
    for (let i = 9; i < 15; i++) put(14 - i, 8, bit(i));
    for (let i = 0; i < 8; i++) put(size - 1 - i, 8, bit(i));
    for (let i = 8; i < 15; i++) put(8, size - 15 + i, bit(i));
    put(8, size - 8, 1);
  }
  const masks = [(x, y) => (x + y) % 2, (x, y) => y % 2, (x) => x % 3, (x, y) => (x + y) % 3, (x, y) => (Math.floor(x / 3) + Math.floor(y / 2)) % 2,
    (x, y) => x * y % 2 + x * y % 3, (x, y) => (x * y % 2 + x * y % 3) % 2, (x, y) => ((x + y) % 2 + x * y % 3) % 2];

  // How hard a code is to read: runs, squares, what looks like a corner, and the balance.
  function penalty(dark) {
    const size = dark.length, across = dark.map((_, x) => dark.map((row) => row[x]));
    let sum = 0, on = 0;
    for (const lines of [dark, across]) for (const line of lines) {
      const text = line.join('');
      for (const run of text.match(/0+|1+/g)) if (run.length > 4) sum += run.length - 2;
      for (let i = 0; i + 7 <= size; i++) {
        if (text.substr(i, 7) !== '1011101') continue;
        if (/^0*$/.test(text.slice(Math.max(0, i - 4), i)) || /^0*$/.test(text.slice(i + 7, i + 11))) sum += 40;
      }
    }
    for (let y = 0; y < size; y++) for (let x = 0; x < size; x++) {
      on += dark[y][x];
      if (x && y && dark[y][x] === dark[y - 1][x] && dark[y][x] === dark[y][x - 1] && dark[y][x] === dark[y - 1][x - 1]) sum += 3;
    }
    return sum + Math.floor(Math.abs(on * 20 - size * size * 10) / (size * size)) * 10;
  }

  // code returns the rows of a text's code, 1 for a dark module; null if the text is too long.
  function code(text) {
    const bytes = [...new TextEncoder().encode(text)];
    let version = 1;
    while (version <= 20 && bytes.length + (version < 10 ? 2 : 3) > holds(version)) version++;
    if (version > 20) return null;
    const words = codewords(bytes, version), { size, dark, put } = frame(version);
    const free = []; // in the order in which they are filled
    for (let right = size - 1; right > 0; right -= 2) {
      if (right === 6) right = 5;
      for (let k = 0; k < size; k++) for (const x of [right, right - 1]) {
        const y = (right + 1 & 2) === 0 ? size - 1 - k : k;
        if (dark[y][x] === undefined) free.push([x, y]);
      }
    }
    let best = null, least = Infinity;
    masks.forEach((mask, m) => {
      free.forEach(([x, y], i) => { dark[y][x] = ((words[i >> 3] || 0) >> (7 - (i & 7)) & 1) ^ (mask(x, y) === 0); });
      format(put, size, m);
      const bad = penalty(dark);
      if (bad < least) [best, least] = [dark.map((row) => row.slice()), bad];
    });
    return best;
  }
  globalThis.codeOf = code; // for tests

  // A sheet of labels has the same code on each of them.
  const places = typeof document === 'object' ? [...document.querySelectorAll('[data-code="tested"][data-address]')].map((tested) => {
    const changed = document.createElement('div');
    changed.dataset.code = 'changed';
    changed.hidden = true;
    tested.after(changed);
    return { tested, changed };
  }) : [];
  function draw(rows) {
    const ns = 'http://www.w3.org/2000/svg', svg = document.createElementNS(ns, 'svg'), n = rows.length + 8;
    const part = (fill, d) => {
      const path = document.createElementNS(ns, 'path');
      path.setAttribute('fill', fill);
      path.setAttribute('d', d);
      svg.append(path);
    };
    for (const [k, v] of Object.entries({ class: 'code', role: 'img', viewBox: '0 0 ' + n + ' ' + n, 'shape-rendering': 'crispEdges' })) svg.setAttribute(k, v);
    part('#fff', 'M0 0h' + n + 'v' + n + 'H0z');
    part('#000', rows.map((row, y) => row.map((on, x) => on ? 'M' + (x + 4) + ' ' + (y + 4) + 'h1v1h-1z' : '').join('')).join(''));
    return svg;
  }
  let drawn = null, carries = false;
  function follow() {
    const { hand } = globalThis, plain = hand.own.isAsMade(), settings = hand.settings();
    for (const { changed, tested } of places) {
      tested.hidden = !plain;
      changed.hidden = plain;
    }
    if (plain) return;
    const { address, paper } = places[0].tested.dataset;
    const text = settings && !hand.gone ? address + '#' + settings + (paper ? '&paper=' + paper : '') : '';
    const said = document.querySelector('.changed');
    if (text !== drawn) {
      drawn = text;
      const rows = text && code(text), plainer = rows || code(address + (paper ? '#paper=' + paper + '~' : ''));
      const svg = plainer && draw(plainer);
      carries = !!rows;
      if (svg) svg.setAttribute('aria-label', carries ? 'QR code of the page at these values' : 'QR code of the page at its tested values');
      for (const { changed } of places) changed.replaceChildren(...svg ? [svg.cloneNode(true)] : []);
    }
    if (said) said.append(carries ? 'The code leads to these values.' : 'The code leads to the tested values.');
  }
  if (places.length && globalThis.hand) {
    follow();
    document.addEventListener('hand', follow);
  }
})();
