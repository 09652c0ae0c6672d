// The bar at the foot of the page.

function paintBar() {
  const parts = [];
  const here = at.split('/')[1], rest = at.slice(here.length + 1);
  parts.push(make('span', { class: 'views' }, ...['staff', 'customers'].map((v) =>
    make('a', { href: '/' + v + rest + location.hash, 'aria-current': v === here ? 'true' : null }, v === 'staff' ? 'Staff' : 'Customers'))));
  if (last) {
    if (last.save) {
      let n = 0;
      last.save.pages.forEach((p) => { n += p.numbers.length; });
      const b = make('button', { type: 'button', 'aria-pressed': String(view === 'save') }, n === 1 ? '1 number changed' : n + ' numbers changed');
      b.addEventListener('click', () => {
        if (view === 'save') hide();
        else { view = 'save'; show(paintSave()); panel.focus({ preventScroll: true }); }
        paintBar();
      });
      parts.push(b);
    }
    if (last.guarded) parts.push(make('span', { title: 'Changes tried on this page that its checks notice; labsite guard lists the others' }, 'guarded ' + last.guarded));
    if (last.notes.length) parts.push(make('span', {}, last.notes.length + ' to look at'));
    if (last.others.length) {
      const list = make('ul', {}, ...last.others.map((o) => make('li', {}, o.address ? make('a', { href: o.address }, o.file) : o.file, ' (' + o.errors + ')')));
      parts.push(make('details', { class: 'others' }, make('summary', {}, last.others.length === 1 ? 'Errors in 1 other file' : 'Errors in ' + last.others.length + ' other files'), list));
    }
  } else parts.push(make('span', {}, 'Waiting for the preview'));
  const wasOpen = !!bar.querySelector('details[open]');
  bar.replaceChildren(...parts);
  const details = bar.querySelector('details');
  if (details) details.open = wasOpen;
}
