/* Paper that is opened by its code. The code carries number, revision and what the paper was
   set to; the page carries which numbers of earlier revisions are others now, so that it can
   tell without a network. later.js loads it where an address bears a code, and hands that
   address on, for other scripts take what stands in it. */
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
  const other = paper.endsWith('~'); // printed at other values than the page's own
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
  const moved = settings ? then.moved : [];
  if (then.unlike || settings && then.moved.length) {
    say(true, 'Print your paper again', make('p', 'It is of revision ' + revision + (settings ? ', at values of its own' : '') + '. ' + force + ' These of its numbers may no longer hold:'),
      list(moved.length ? moved : then.changed, moved.length ? 0 : then.more));
    return;
  }
  // at the page's own values of that time, or where no result moves whatever is set
  const changed = then.changed;
  if (!changed.length) {
    say(false, 'Your paper still holds', make('p', 'It is of revision ' + revision + '. ' + force + ' All numbers on it are the same.'));
    return;
  }
  say(true, 'Numbers on your paper no longer hold', make('p', 'It is of revision ' + revision + '. ' + force + ' On your paper, and now:'), list(changed, then.more), make('p', 'All others on it are the same. Print it again.'));
})();
