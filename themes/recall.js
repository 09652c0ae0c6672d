/* Paper that was opened by its code. The code carries number, revision and what the paper was set
   to; the page carries which numbers of earlier revisions have changed, so that it can tell without
   a network. If the paper was set to values of its own, its numbers are worked out with the
   formulas of its revision, which are kept beside the page. later.js loads this if an address
   carries a code, and hands on that address, since other scripts change it. */
(function () {
  'use strict';

  const { address } = document.currentScript.dataset;
  const { search, hash } = new URL(address);
  const box = document.getElementById('Recall');
  const written = /[?&#]paper=([^&#]+)/.exec(address);
  if (!box || !written) return;
  let paper, known;
  try {
    paper = decodeURIComponent(written[1].replace(/\+/g, ' '));
    known = JSON.parse(box.dataset.revisions);
  } catch {
    return;
  }
  const cut = paper.lastIndexOf('.');
  const other = paper.endsWith('~'); // printed at values that the code does not carry
  const number = paper.slice(0, cut), revision = Number(paper.slice(cut + 1).replace('~', ''));
  if (cut < 1 || !Number.isInteger(revision)) return;
  const settings = other || (search.slice(1) + '&' + hash.slice(1)).split('&').some((s) => /^[a-z][a-z0-9_]*=/.test(s) && !s.startsWith('paper='));

  const make = (tag, text) => {
    const e = document.createElement(tag);
    if (text) e.textContent = text;
    return e;
  };
  const say = (grave, title, ...parts) => {
    box.classList.add(grave ? 'recall-grave' : 'recall-holds');
    box.replaceChildren(make('h2', title), ...parts);
    box.hidden = false;
  };
  const change = (x) => {
    const li = make('li', x.label + (x.at ? ' at ' + x.at : '') + ': ');
    const was = make('s', x.before || 'not given');
    li.append(was, ' → ', make('strong', x.after || 'no longer given'));
    return li;
  };
  const list = (all, more) => {
    const ul = make('ul');
    ul.append(...all.map(change));
    if (more) ul.append(make('li', 'and ' + more + ' more'));
    return ul;
  };
  const force = 'Revision ' + known.revision + ' is in force.';

  if (number !== known.number) {
    say(true, 'This is not the page of your paper', make('p', 'Your paper is of ' + number + ', and this page is ' + known.number + '.'));
    return;
  }
  if (revision > known.revision) {
    say(true, 'Your paper is newer than this page', make('p', 'It is of revision ' + revision + ', and this copy of the page is revision ' + known.revision + '. Load the page again where there is a network.'));
    return;
  }
  if (revision === known.revision) {
    if (known.recorded) say(false, 'Your paper still holds', make('p', 'It is of revision ' + revision + ', the one in force: its numbers are those that were approved.'));
    else say(false, 'Your paper is of the revision in force', make('p', 'There is no record of what was approved, so nothing tells whether a number was changed since it was printed. Compare them.'));
    return;
  }
  const then = known.earlier.find((e) => e.revision === revision);
  if (!then) {
    say(true, 'Do not use your paper any more', make('p', 'It is of revision ' + revision + ', of which this page knows no numbers. ' + force + ' Print it again.'));
    return;
  }
  // what the page knows of that revision may be in a script of its own
  async function told() {
    if (!then.script) return then;
    if (!globalThis.labsite) await new Promise((done) => { document.readyState === 'complete' ? done() : addEventListener('load', done); });
    await globalThis.later('figures-further.js');
    await globalThis.later(new URL(then.script, document.baseURI).href);
    return { ...then, ...globalThis.labsiteEarlier.about(revision) };
  }
  told().then(tell, () => {
    say(true, 'Whether your paper still holds cannot be told', make('p', 'It is of revision ' + revision + '. ' + force + ' A part of this page did not load. Load it again.'));
  });

  function tell(then) {
    const { moved: all = [], changed: same = [], more = 0 } = then, moved = settings ? all : [];
    // judged by the numbers that the page knows
    const roughly = () => say(true, 'Print your paper again', make('p', 'It is of revision ' + revision + (settings ? ', at values of its own' : '') + '. ' + force + ' These of its numbers may no longer hold:'),
      list(moved.length ? moved : same, moved.length ? 0 : more));
    if (then.unlike || moved.length) {
      if (other || !settings || !then.script) roughly();
      else exactly(then).catch(roughly);
      return;
    }
    // the paper has the page's own values of that time, or no result has changed at any setting
    if (!same.length) {
      say(false, 'Your paper still holds', make('p', 'It is of revision ' + revision + '. ' + force + ' All numbers on it are the same.'));
      return;
    }
    say(true, 'Numbers on your paper no longer hold', make('p', 'It is of revision ' + revision + '. ' + force + ' On your paper, and now:'), list(same, more), make('p', 'All others on it are the same. Print it again.'));
  }

  // Judged by the formulas of that revision, at the values of the paper.
  async function exactly(then) {
    const set = (search.slice(1) + '&' + hash.slice(1)).split('&').filter((s) => /^[a-z][a-z0-9_]*=/.test(s) && !s.startsWith('paper=')).join('&');
    if (!globalThis.hand) await new Promise((done) => { document.readyState === 'complete' ? done() : addEventListener('load', done); });
    const was = globalThis.labsiteEarlier.sheet(revision), now = globalThis.hand.sheet.copy();
    if (was.take(set).length) throw new Error('that revision does not take these values');
    const before = was.work(), taken = !now.take(set).length, after = taken ? now.work() : null;
    if (before.withdrawn) throw new Error('that revision gives no numbers at these values');
    const shown = (v) => v ? v.shown ?? v.instead ?? '' : '';
    const gives = after && !after.withdrawn;
    const all = (then.labels || []).map(([name, label]) => ({ label, before: shown(before.figures[name]), after: gives ? shown(after.figures[name]) : '' }));
    (then.steps || []).forEach((step, i) => {
      const time = (result) => shown(result && result.process && result.process.steps[i]);
      all.push({ label: 'Time of ' + step, before: time(before), after: gives ? time(after) : '' });
    });
    (then.products || []).forEach(({ label, now: at }, i) => {
      all.push({ label, before: shown(before.placed[i]), after: gives && at >= 0 ? shown(after.placed[at]) : '' });
    });
    const others = all.filter((x) => x.before !== x.after), of = 'It is of revision ' + revision + ', at values of its own. ' + force;
    if (!gives) {
      say(true, 'Do not use your paper any more', make('p', of + ' The page does not give numbers at its values any more: the reason stands with the results.'));
    } else if (others.length) {
      say(true, 'Numbers on your paper no longer hold', make('p', of + ' On your paper, and now:'), list(others.slice(0, 24), Math.max(0, others.length - 24)), make('p', 'All other results on it are the same. Print it again.'));
    } else {
      say(false, 'The results on your paper still hold', make('p', of + ' Results and times are the same at those values. Tables and charts beside them may not be: print it again where you use those.'));
    }
  }
})();
