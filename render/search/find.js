/* Finds pages by words. script.go writes this function and a call with the data of the first file;
   the Go code that writes the parts describes them. It knows nothing of the browser, only texts: if
   it lacks a part it says so, and is asked again when the part has been loaded. */
(function (data) {
  'use strict';

  // How much a word counts in a title, a heading, a summary, a label and a text. These weights and
  // those below have no source: they were chosen by trying questions on the demo's pages.
  const fieldWeights = [9, 5, 4, 2.5, 1];
  const levelStep = .787; // how much a level of a list counts, relative to the one before it
  const mostLists = 125e3; // bytes of lists that one question may load
  const leastMistyped = 5; // letters
  const leastBones = 4; // letters left of a mistyped word without its vowels
  const mostNear = 8; // the most words that a mistyped one is taken for
  const alikeCounts = .7; // how much another word for the same thing counts, relative to the one typed
  const termCounts = 1; // the same if several words were typed that form a term
  const anyRatioCounts = .3; // how much a page with other dilutions counts, relative to one with the dilution typed
  const useCounts = [1, .5, .1]; // how much a page counts that is read, that leads to others, that is looked up

  const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
  const signs = new Uint8Array(128);
  for (let i = 0; i < 64; i++) signs[alphabet.charCodeAt(i)] = i;

  const wordsOf = text => text.match(/[\p{L}\p{M}\p{N}]+(?:['’][\p{L}\p{M}\p{N}]+)*/gu) || [];
  const fold = word => word.normalize('NFD').replace(/\p{M}/gu, '').replace(/’/g, "'").toLowerCase().replace(/ς/g, 'σ');
  const hashOf = (text, begun = 2166136261) => {
    let h = begun | 0;
    for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 16777619);
    return h >>> 0;
  };
  const nameOf = (kind, text) => kind + hashOf(text).toString(36);
  // bonesOf is a word without vowels and doubled letters; near.go does the same.
  const bonesOf = word => word.replace(/ph/g, 'f').replace(/(?!^)[aeiouy]/g, '').replace(/(.)\1+/gu, '$1');

  const skip = new Set(data.skip.split(' '));
  const starts = new Set(data.starts.split(' '));
  const parts = new Map(); // name → contents of the part
  let missing; // names of the parts that the current question lacks
  const part = name => {
    if (!parts.has(name)) missing.add(name);
    return parts.get(name);
  };

  // readWords reads a part of the vocabulary: {words, entries, stems}, where words are sorted,
  // entries are by word, and stems are entries by stem. An entry is {stem, words, list}; or has
  // outside, the number of its pages, if the list is a part of its own; or is just {elsewhere}, the
  // word's stem, whose entry is in another part.
  const readWords = text => {
    const entries = new Map(), stems = new Map();
    for (const line of text.split(';')) {
      if (!line) continue;
      const [stem, forms, list] = line.split(',');
      if (forms[0] === '>') {
        entries.set(stem, {elsewhere: forms.slice(1)});
        continue;
      }
      const entry = {stem, words: forms ? forms.split(' ').map(f => stem.slice(0, signs[f.charCodeAt(0)]) + f.slice(1)) : []};
      if (list[0] === '.') entry.outside = +list.slice(1);
      else entry.list = list;
      stems.set(stem, entry);
      for (const word of entry.words) entries.set(word, entry);
    }
    return {words: [...entries.keys()].sort(), entries, stems};
  };
  const firsts = data.firsts.split(' '); // the first stem of each part of the vocabulary
  const whole = data.whole && readWords(data.words);
  if (whole) parts.set(nameOf('words-', firsts[0]), whole);
  const firstPages = [0]; // the first page of each part, and the number of pages
  for (const sign of data.chunks) firstPages.push(firstPages[firstPages.length - 1] + signs[sign.charCodeAt(0)]);
  if (data.whole) data.whole.forEach((page, number) => parts.set(number, page));

  // place counts the items of a sorted list that come before something, or with itToo are equal to
  // it.
  const place = (list, it, itToo) => {
    let low = 0, high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (list[middle] < it || itToo && list[middle] === it) low = middle + 1; else high = middle;
    }
    return low;
  };

  // vocabulary returns its parts with the words and stems from least to greatest.
  const vocabulary = (least, greatest) => {
    const found = [];
    for (let i = Math.max(0, place(firsts, least, true) - 1); i < firsts.length && (!i || firsts[i] <= greatest); i++) found.push(part(nameOf('words-', firsts[i])));
    return found.filter(Boolean);
  };
  const entryOfStem = stem => vocabulary(stem, stem).map(p => p.stems.get(stem))[0];
  // settled returns the entry of a word, which may be in another part with its stem.
  const settled = entry => entry && entry.elsewhere ? entryOfStem(entry.elsewhere) : entry;
  const entryOf = word => settled(vocabulary(word, word).map(p => p.entries.get(word))[0]);

  // beginning returns the words of the vocabulary with a beginning, each with its entry.
  const beginning = start => {
    const found = [];
    for (const {words, entries} of vocabulary(start, start + '\uffff')) {
      for (let i = place(words, start); i < words.length && words[i].startsWith(start); i++) found.push([words[i], settled(entries.get(words[i]))]);
    }
    return found;
  };

  // nearly tells whether a and b differ by one letter inserted, left out or changed, or by two
  // exchanged.
  const nearly = (a, b) => {
    if (Math.abs(a.length - b.length) > 1) return false;
    let i = 0;
    while (i < a.length && i < b.length && a[i] === b[i]) i++;
    const rest = (x, y) => a.slice(i + x) === b.slice(i + y);
    return rest(1, 1) || rest(1, 0) || rest(0, 1) ||
      a[i] === b[i + 1] && a[i + 1] === b[i] && rest(2, 2);
  };

  // nearWords returns the words that a mistyped one may mean; near.go says where they are.
  const nearWords = word => {
    let among = [];
    const skeleton = bonesOf(word);
    if (whole) {
      among = whole.words;
    } else {
      const first = (word.length - 1) >> 1;
      const halves = new Set([hashOf('<' + word.slice(0, first)) % data.near, hashOf('>' + word.slice(first + 1)) % data.near]);
      if (skeleton.length >= leastBones) halves.add(hashOf('=' + skeleton) % data.near);
      for (const half of halves) among = among.concat((part('near-' + half) || '').split(' '));
    }
    const inOrder = words => [...new Set(words)].sort();
    const byLetter = inOrder(among.filter(other => nearly(word, other)));
    if (byLetter.length || skeleton.length < leastBones) return byLetter.slice(0, mostNear);
    return inOrder(among.filter(other => Math.abs(other.length - word.length) < 3 && bonesOf(other) === skeleton)).slice(0, mostNear);
  };

  // stemsFor finds the stems that a typed word means, each with how sure that is. The word in hand
  // may be unfinished. Words that a mistyped one was taken for are added to taken. The result means
  // nothing if a part was missing.
  const stemsFor = (word, inHand, taken) => {
    const stems = new Map();
    const take = (entry, sure) => {
      if (entry && !(stems.get(entry) >= sure)) stems.set(entry, sure);
    };
    const lacked = missing.size;
    take(entryOf(word), 1);
    if (inHand || !stems.size && word.length > 2) {
      if (starts.has(word)) return new Map([[startOf(word), 1]]);
      for (const [longer, entry] of beginning(word)) take(entry, .3 + .5 * word.length / longer.length);
    }
    // A form that no page has of a word: it begins with the stem.
    for (let n = word.length; !stems.size && n >= 4 && word.length - n <= 4; n--) take(entryOfStem(word.slice(0, n)), .6);
    if (!stems.size && missing.size === lacked && word.length >= leastMistyped) {
      for (const other of nearWords(word)) {
        const entry = entryOf(other);
        if (entry) taken.push(other);
        take(entry, .4);
      }
    }
    return stems;
  };

  // The groups of words that mean one thing: members, as in the data, by their first word, each
  // with its group; see alike.go. A member in which several words count may also be typed without
  // those that do not, or with others of those in between.
  const members = new Map();
  const groups = data.alike.map(([name, all, forms]) => ({name, forms: forms ? forms.split(',').map(form => form.split(' ')) : [], all}));
  for (const group of groups) {
    for (const text of group.all.split(',')) {
      const all = text.split(' '), counting = all.filter(part => part[0] !== '=');
      const member = counting.length > 1 ? counting : all;
      if (!members.has(member[0])) members.set(member[0], []);
      members.get(member[0]).push([member, group]);
    }
  }
  // takeAlike adds to typed words what else means the same. Each of them is {counts, stems, said},
  // where counts tells whether it is looked for by itself, and said has the names that it may have
  // in members, with how sure each is.
  const takeAlike = words => {
    const counting = words.filter(word => word.counts);
    const saysAt = (list, at, member) => at + member.length <= list.length && member.every((part, i) => list[at + i].said.has(part));
    for (const list of [words, counting]) {
      list.forEach((first, at) => {
        for (const name of first.said.keys()) {
          for (const [member, group] of members.get(name) || []) {
            const entry = saysAt(list, at, member) && entryOfStem(group.name);
            if (!entry || !entry.outside && !entry.list) continue;
            entry.group = group;
            let sure = member.length > 1 ? termCounts : alikeCounts;
            const typed = list.slice(at, at + member.length);
            typed.forEach((word, i) => sure = Math.min(sure, sure * word.said.get(member[i])));
            for (const {stems} of typed) if (!(stems.get(entry) >= sure)) stems.set(entry, sure);
          }
        }
      });
    }
  };

  // A dilution is looked for by its name in ratio.go: pages that have the one typed, or if there
  // are none, those that have any. 1:100 may also mean one part in a hundred, and 1 in 100 does
  // mean that.
  const ratio = /(^|[^\p{L}\p{N}.,])(\d+(?:\.\d+)?)(\s*[+:]\s*|\s+(?:in|to)\s+)(\d+(?:\.\d+)?)(?![\p{L}\p{N}])/gu;
  const ratioStems = (a, sign, b) => {
    const added = sign === 'in' ? [] : [[+b, 1]]; // [how much is added to a parts, how sure that is]
    if (sign !== '+' && +b > +a) added.push([b - a, added.length ? .6 : 1]);
    const stems = new Map();
    for (const [n, sure] of added) {
      const entry = entryOfStem(nameOf('~', +a + '+' + n));
      if (entry) stems.set(entry, sure);
    }
    const any = !stems.size && entryOfStem('~');
    if (any) stems.set(any, anyRatioCounts);
    return {stems, other: !!any};
  };
  // startOf returns the entry of all words with a beginning, which starts.go has merged.
  const startEntries = new Map();
  const startOf = start => {
    if (!startEntries.has(start)) startEntries.set(start, {start, words: [], outside: data.pages});
    return startEntries.get(start);
  };

  /* pagesOf reads the list of an entry: {pages, counts, marks}, for each page its number, the
     most that the stem counts in any passage of it, and bits that stand for the passages in
     which it counts most. A stem that few pages have counts more. */
  const pagesOf = entry => {
    if (entry.read) return entry.read;
    let text = entry.list, top = 0;
    if (entry.outside) {
      text = part(entry.start ? nameOf('start-', entry.start) : nameOf('list-', entry.stem));
      if (text === undefined) return null;
    }
    let at = 0;
    if (entry.start) {
      at = text.indexOf(' ') + 1;
      top = +text.slice(0, at);
    }
    const pages = [], levels = [], marks = [];
    for (let page = -1; at < text.length;) {
      const sign = signs[text.charCodeAt(at++)];
      let step = sign >> 4;
      if (!step) {
        step = 4;
        for (let shift = 0, more = 32; more >= 32; shift += 5) {
          more = signs[text.charCodeAt(at++)];
          step += (more & 31) << shift;
        }
      }
      pages.push(page += step);
      levels.push(sign & 15);
      let bits = 0, mark = 32;
      while (mark >= 32) {
        mark = signs[text.charCodeAt(at++)];
        bits |= 1 << (mark & 31);
      }
      marks.push(bits);
    }
    if (!entry.start) top = fieldWeights[0] * Math.log(1 + data.pages / Math.max(1, pages.length));
    return entry.read = {pages, counts: levels.map(level => top * levelStep ** level), marks};
  };

  // affordable leaves out the words that most pages have if all lists together would be too much to
  // load: such words distinguish pages the least. Other words for the same thing are dropped first.
  const costOf = entry => entry.read ? 0 : (entry.outside || 0) * 4;
  const affordable = meant => {
    const sumOf = stems => [...stems.keys()].reduce((sum, entry) => sum + costOf(entry), 0);
    if (meant.reduce((sum, stems) => sum + sumOf(stems), 0) > mostLists) {
      meant = meant.map(stems => new Map([...stems].filter(([entry]) => !entry.group || stems.size === 1 || !entry.outside)));
    }
    const costs = meant.map(sumOf);
    const kept = new Set();
    let sum = 0;
    for (const i of costs.map((_, i) => i).sort((a, b) => costs[a] - costs[b] || a - b)) {
      sum += costs[i];
      if (!kept.size || sum <= mostLists) kept.add(i);
    }
    return meant.filter((_, i) => kept.has(i));
  };

  // together is the greatest number of words that share a passage.
  const together = marks => {
    let most = 1;
    const all = marks.reduce((a, b) => a | b, 0);
    for (let bit = 0; bit < 32; bit++) {
      if (all >> bit & 1) most = Math.max(most, marks.reduce((n, bits) => n + (bits >> bit & 1), 0));
    }
    return most;
  };

  const useOf = number => (data.uses.find(([first, pages]) => number >= first && number < first + pages) || [0, 0, 0])[2];

  // ranked returns the pages that have most of the words, {number, has, score}, the best first;
  // nothing if lists are missing.
  const ranked = meant => {
    const found = new Map();
    meant.forEach((stems, i) => {
      for (const [entry, sure] of stems) {
        const list = pagesOf(entry);
        if (!list) continue;
        list.pages.forEach((number, k) => {
          let page = found.get(number);
          if (!page) found.set(number, page = {number, counts: meant.map(() => 0), marks: meant.map(() => 0)});
          page.counts[i] = Math.max(page.counts[i], sure * list.counts[k]);
          page.marks[i] |= list.marks[k];
        });
      }
    });
    if (missing.size) return [];
    let mostHad = 0;
    for (const page of found.values()) mostHad = Math.max(mostHad, page.has = page.counts.filter(counts => counts > 0).length);
    const right = [...found.values()].filter(page => page.has === mostHad);
    for (const page of right) {
      page.score = page.counts.reduce((a, b) => a + b, 0);
      // Words that stand together are more likely meant than the same ones far apart.
      if (meant.length > 1) page.score *= 1 + 2 * (together(page.marks) - 1) / (meant.length - 1);
      page.score *= useCounts[useOf(page.number)];
    }
    return right.sort((a, b) => b.score - a.score || a.number - b.number);
  };

  // textOf returns the texts of a page, [address, title, section, passages].
  const textOf = number => {
    if (data.whole) return parts.get(number);
    const at = place(firstPages, number, true) - 1;
    const pages = part('pages-' + at);
    return pages && pages[number - firstPages[at]];
  };

  // lookedFor returns a function that tells which of the words looked for are at a place of a text,
  // given as folded words: for each [which, how much it counts, how many words it takes].
  const lookedFor = meant => {
    const counts = new Map(), beginnings = [];
    meant.forEach((stems, i) => {
      for (const [entry, sure] of stems) {
        if (entry.start) beginnings.push([entry.start, i]);
        const counting = sure * (entry.start ? 1 : Math.log(1 + data.pages / Math.max(1, pagesOf(entry).pages.length)));
        for (const form of entry.group ? entry.group.forms : entry.words.map(word => [word])) {
          if (!counts.has(form[0])) counts.set(form[0], []);
          counts.get(form[0]).push([i, counting, form]);
        }
      }
    });
    return (words, at) => {
      const word = words[at];
      const hits = (counts.get(word) || []).filter(([, , form]) => form.every((part, k) => words[at + k] === part)).map(([i, counting, form]) => [i, counting, form.length]);
      const begun = beginnings.filter(([start]) => !skip.has(word) && word.startsWith(start)).map(([, i]) => [i, 1, 1]);
      return begun.length ? hits.concat(begun) : hits;
    };
  };

  // marked cuts a text into parts, each [text, whether it was looked for], around the first word
  // that was: at most most characters, in whole words.
  const marked = (text, looked, most) => {
    const hits = [];
    const words = wordsOf(text), folded = words.map(fold);
    let from = 0, more = 0; // how many words the last hit still covers
    words.forEach((word, at) => {
      const start = text.indexOf(word, from);
      from = start + word.length;
      more = Math.max(more - 1, ...looked(folded, at).map(([, , n]) => n));
      if (more > 0) hits.push([start, from]);
    });
    let start = 0, end = text.length;
    if (end > most) {
      const first = hits.length ? hits[0][0] : 0;
      start = Math.max(0, Math.min(first - Math.floor(most / 3), end - most));
      if (start > 0) start = Math.min(text.indexOf(' ', start) + 1 || start, first);
      end = Math.min(end, start + most);
      if (end < text.length && text.lastIndexOf(' ', end) > Math.max(start, hits.length ? hits[0][1] : 0)) end = text.lastIndexOf(' ', end);
    }
    const cut = [];
    const add = (piece, hit) => { if (piece) cut.push([piece, hit]); };
    let at = start;
    if (start > 0) add('… ', false);
    for (const [a, b] of hits) {
      if (a < at || b > end) continue;
      add(text.slice(at, a), false);
      add(text.slice(a, b), true);
      at = b;
    }
    add(text.slice(at, end), false);
    if (end < text.length) add(' …', false);
    return cut;
  };

  // weigh returns how many of the words a text has and how much they count.
  const weigh = ([field, text], looked) => {
    const best = new Map();
    const words = wordsOf(text).map(fold);
    words.forEach((_, at) => {
      for (const [i, counting] of looked(words, at)) best.set(i, Math.max(best.get(i) || 0, counting));
    });
    let sum = 0;
    for (const counting of best.values()) sum += counting;
    return [best.size, sum * fieldWeights[field] / (1 + text.length / 400)];
  };

  // shown returns a page as a list of results shows it: {address, title, where, passage}.
  const shown = ([address, title, where, passages], looked) => {
    let best = null, had = 0, sum = 0;
    for (const passage of passages) {
      const [n, counts] = weigh(passage, looked);
      if (n && (n > had || n === had && counts > sum)) [best, had, sum] = [passage, n, counts];
    }
    let anchor = best && best[2];
    // If the title has as many of the words, the result leads to the top, with the page's summary;
    // so does a page found by what it does not show.
    if (weigh([0, title], looked)[0] >= had) [best, anchor] = [passages.find(passage => passage[0] === 2) || best || passages[0], ''];
    return {
      address: anchor ? address + '#' + encodeURIComponent(anchor) : address,
      title: marked(title, looked, 200),
      where,
      passage: best ? marked(best[1], looked, 150) : [],
    };
  };

  // saidBy returns the names that a typed word may have in members of groups.
  const saidBy = (word, stems) => {
    const said = new Map([['=' + word, 1]]);
    const own = entryOf(word);
    if (own) said.set(own.stem, 1);
    if (word.length > 2) {
      for (const [entry, sure] of stems) if (entry.stem && !(said.get(entry.stem) >= sure)) said.set(entry.stem, sure);
    }
    return said;
  };

  // meaning interprets what is typed: {meant, other, instead}. meant are the stems of the words
  // that count; other tells whether a dilution was typed that no page has; instead lists mistyped
  // words with those that they were taken for.
  const meaning = typed => {
    const ratios = [];
    const rest = typed.replace(ratio, (_, before, a, sign, b) => {
      ratios.push(ratioStems(a, sign.trim(), b));
      return before + ' ';
    });
    const raw = wordsOf(rest).map(fold);
    const inHand = /[\p{L}\p{M}\p{N}]$/u.test(rest);
    // A single word always counts, even as the beginning of others; among other words one of a
    // letter or two does not, unless a page has it or it is still being typed.
    const last = raw.length - 1, alone = !last && !ratios.length;
    const instead = [];
    const words = raw.map((word, i) => {
      const typing = inHand && i === last, taken = [];
      const counts = alone || !skip.has(word) && (word.length > 2 || !!entryOf(word) || typing && word.length > 1);
      const stems = counts ? stemsFor(word, typing, taken) : new Map();
      if (taken.length) instead.push([word, taken]);
      return {counts, stems, said: saidBy(word, stems)};
    });
    takeAlike(words);
    return {
      meant: words.filter(word => word.counts).concat(ratios).map(word => word.stems),
      other: ratios.some(ratio => ratio.other),
      instead,
    };
  };

  /* The function that pages call. It returns {missing}, the names of the parts to load before
     there is an answer; or {all, instead, count, pages}. all is false if no page has every word
     that was typed, so that those with the most of them were found; instead lists words that no
     page has with those looked for in their place, [word, [others]]; count is the number of
     pages found; and pages are the best of them, {address, title, where, passage}, with title
     and passage in parts as marked cuts them. */
  const find = (typed, most) => {
    missing = new Set();
    const lacks = () => ({missing: [...missing]});
    const {meant: all, other, instead} = meaning(typed);
    if (missing.size) return lacks();
    const meant = affordable(all);
    const right = ranked(meant);
    if (missing.size) return lacks();
    const best = right.slice(0, most);
    const texts = best.map(page => textOf(page.number));
    if (missing.size) return lacks();
    const looked = lookedFor(meant);
    return {all: !best.length ? !meant.length : best[0].has === meant.length && !other, instead, count: right.length, pages: texts.map(text => shown(text, looked))};
  };

  /* take is called by each part as it is loaded. A part of another version of the site, which
     numbers pages differently, is ignored and stays missing. */
  find.take = (stamp, name, content) => {
    const [kind, number] = name.split('-');
    if (kind === 'pages') {
      const first = firstPages[+number];
      if (stamp === first + '+' + (firstPages[+number + 1] - first)) parts.set(name, content);
    } else if (stamp === data.stamp) {
      parts.set(name, kind === 'words' ? readWords(content) : content);
    }
  };
  return find;
})
