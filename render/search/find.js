/* Finds pages by words. script.go writes this function and calls it with the entries of a
   site, which are described there. It knows nothing of the browser, only texts. */
(function (data) {
  'use strict';

  // What a word counts in a title, a heading, a summary, a label and a text. These weights
  // and those below have no source: they were chosen by trying over questions to the
  // demo's pages.
  const fieldWeights = [9, 5, 4, 2.5, 1];
  const pageOf = []; // passage → page
  const passages = []; // [field, text, anchor]
  data.pages.forEach((page, number) => {
    passages.push([0, page[1], '']);
    pageOf.push(number);
    for (const passage of page[3]) {
      passages.push(passage);
      pageOf.push(number);
    }
  });
  const stemOf = new Map(); // word → number of its stem
  const stemNumber = new Map();
  const skip = new Set(data.skip.split(' '));
  data.stems.forEach(([stem, forms], number) => {
    stemNumber.set(stem, number);
    for (const word of forms.split(' ')) stemOf.set(word, number);
  });
  const vocabulary = [...stemOf.keys()].sort();

  const wordsOf = text => text.match(/[\p{L}\p{M}\p{N}]+(?:['’][\p{L}\p{M}\p{N}]+)*/gu) || [];
  const fold = word => word.normalize('NFD').replace(/\p{M}/gu, '').replace(/’/g, "'").toLowerCase().replace(/ς/g, 'σ');

  // beginning gives the words of the vocabulary that begin so.
  const beginning = start => {
    let low = 0, high = vocabulary.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (vocabulary[middle] < start) low = middle + 1; else high = middle;
    }
    const found = [];
    while (low < vocabulary.length && vocabulary[low].startsWith(start)) found.push(vocabulary[low++]);
    return found;
  };

  // nearly tells whether one letter put in, left out, changed or two exchanged makes a of b.
  const nearly = (a, b) => {
    if (Math.abs(a.length - b.length) > 1) return false;
    let i = 0;
    while (i < a.length && i < b.length && a[i] === b[i]) i++;
    const rest = (x, y) => a.slice(i + x) === b.slice(i + y);
    return rest(1, 1) || rest(1, 0) || rest(0, 1) ||
      a[i] === b[i + 1] && a[i + 1] === b[i] && rest(2, 2);
  };

  // stemsFor finds the stems that a typed word means, each with how sure that is. The
  // word in hand may be one that is not typed to its end.
  const stemsFor = (word, inHand) => {
    const stems = new Map();
    const take = (number, sure) => {
      if (number !== undefined && !(stems.get(number) >= sure)) stems.set(number, sure);
    };
    take(stemOf.get(word), 1);
    if (inHand || !stems.size && word.length > 2) {
      for (const longer of beginning(word)) take(stemOf.get(longer), .3 + .5 * word.length / longer.length);
    }
    // A form of a word that no page has: its stem begins it.
    for (let n = word.length; !stems.size && n >= 4 && word.length - n <= 4; n--) take(stemNumber.get(word.slice(0, n)), .6);
    if (!stems.size && word.length >= 5) {
      for (const other of vocabulary) if (nearly(word, other)) take(stemOf.get(other), .4);
    }
    return stems;
  };

  // rarity gives more to a stem that few pages have.
  const rarities = new Map();
  const postings = new Map();
  const passagesWith = number => {
    let at = postings.get(number);
    if (!at) {
      let sum = 0;
      at = data.stems[number][2].map(step => sum += step);
      postings.set(number, at);
      rarities.set(number, Math.log(1 + data.pages.length / new Set(at.map(p => pageOf[p])).size));
    }
    return at;
  };

  // marked cuts a text into parts, each [text, whether it was looked for], around the first
  // word that was: no more than most signs, whole words.
  const marked = (text, stems, most) => {
    const hits = [];
    let from = 0;
    for (const word of wordsOf(text)) {
      const start = text.indexOf(word, from);
      from = start + word.length;
      if (stems.has(stemOf.get(fold(word)))) hits.push([start, from]);
    }
    let start = 0, end = text.length;
    if (end > most) {
      const first = hits.length ? hits[0][0] : 0;
      start = Math.max(0, Math.min(first - Math.floor(most / 3), end - most));
      if (start > 0) start = Math.min(text.indexOf(' ', start) + 1 || start, first);
      end = Math.min(end, start + most);
      if (end < text.length && text.lastIndexOf(' ', end) > Math.max(start, hits.length ? hits[0][1] : 0)) end = text.lastIndexOf(' ', end);
    }
    const parts = [];
    const add = (part, hit) => { if (part) parts.push([part, hit]); };
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
    return parts;
  };

  /* The function that pages use. Gives {all, count, pages}: whether the pages have every
     word that was typed, or only as many as any page has; how many they are; and the best
     of them, each {address, title, where, passage}, where title and passage are parts. */
  return (typed, most) => {
    const raw = wordsOf(typed).map(fold);
    const inHand = /[\p{L}\p{M}\p{N}]$/u.test(typed);
    // Alone, any word is looked for as the beginning of another; among others not one of a
    // letter or two that is not typed on and that no page has.
    const last = raw.length - 1;
    const words = raw.filter((word, i) => !last ||
      !skip.has(word) && (word.length > 2 || stemOf.has(word) || inHand && i === last && word.length > 1));
    const meant = words.map((word, i) => stemsFor(word, inHand && i === words.length - 1 && word === raw[raw.length - 1]));
    const looked = new Set(meant.flatMap(stems => [...stems.keys()]));
    const found = new Map(); // page → what each word counts at best; passage → [how many words, what they count]
    meant.forEach((stems, i) => {
      const best = new Map(); // passage → what this word counts there
      for (const [number, sure] of stems) {
        for (const p of passagesWith(number)) {
          const [field, text] = passages[p];
          const counts = sure * rarities.get(number) * fieldWeights[field] / (1 + text.length / 400);
          if (!(best.get(p) >= counts)) best.set(p, counts);
        }
      }
      for (const [p, counts] of best) {
        let page = found.get(pageOf[p]);
        if (!page) found.set(pageOf[p], page = {words: words.map(() => 0), sums: new Map(), number: pageOf[p]});
        page.words[i] = Math.max(page.words[i], counts);
        const [had, sum] = page.sums.get(p) || [0, 0];
        page.sums.set(p, [had + 1, sum + counts]);
      }
    });
    const pages = [...found.values()];
    for (const page of pages) {
      page.has = page.words.filter(counts => counts > 0).length;
      const sums = [...page.sums.values()];
      page.score = page.words.reduce((a, b) => a + b, 0) + .5 * Math.max(...sums.map(([, sum]) => sum));
      // Words that stand together are more likely what is meant than the same ones far apart.
      if (words.length > 1) page.score *= 1 + 2 * (Math.max(...sums.map(([had]) => had)) - 1) / (words.length - 1);
    }
    const mostHad = pages.reduce((n, page) => Math.max(n, page.has), 0);
    const right = pages.filter(page => page.has === mostHad).sort((a, b) => b.score - a.score || a.number - b.number);
    return {
      all: mostHad === words.length,
      count: right.length,
      pages: right.slice(0, most).map(page => {
        const [address, title, where, own] = data.pages[page.number];
        let shown = null, had = 0, sum = 0, inTitle = 0;
        for (const [p, [n, counts]] of page.sums) {
          if (!passages[p][0]) inTitle = n;
          else if (n > had || n === had && counts > sum) [shown, had, sum] = [passages[p], n, counts];
        }
        // A title that has as many of the words leads to the top, with what the page is about.
        let anchor = shown && shown[2];
        if (inTitle >= had) [shown, anchor] = [own.find(passage => passage[0] === 2) || shown || own[0], ''];
        return {
          address: anchor ? address + '#' + encodeURIComponent(anchor) : address,
          title: marked(title, looked, 200),
          where,
          passage: shown ? marked(shown[1], looked, 150) : [],
        };
      }),
    };
  };
})
