// What a save changed.

function paintSave() {
  const save = last && last.save;
  const parts = [make('h1', {}, 'What this save changed')];
  if (!save) parts.push(make('p', {}, 'Nothing has been saved since the preview began.'));
  else {
    parts.push(make('p', { class: 'files' }, save.files.join(', ')));
    const own = save.pages.filter((p) => p.page === last.page), rest = save.pages.filter((p) => p.page !== last.page);
    if (!save.pages.length) parts.push(make('p', {}, 'No number of a page or table differs from before, or from what was approved. What readers may set is compared on pages looked at lately.'));
    const table = (numbers, p, was) => {
      const body = make('tbody');
      for (const n of numbers) {
        const name = make('button', { type: 'button', class: 'name' }, n.label || n.name);
        if (n.cases) name.append(make('small', {}, ', the most of ' + n.moved + ' cases in ' + n.cases + ' that a reader can set'));
        if (n.because) name.append(make('small', {}, ', because ' + n.because));
        name.addEventListener('click', () => tree(n.cell ? { page: p.page, ...n.cell } : { page: p.page, name: n.name }));
        body.append(make('tr', {}, make('th', { scope: 'row' }, name,
          n.guards && n.guards.length
            ? make('ul', { class: 'guards' }, ...n.guards.map((g) => make('li', {}, g)))
            : make('p', { class: 'unguarded' }, 'No check guards it.')),
        make('td', {}, value(n.before)), make('td', {}, value(n.after))));
      }
      return make('table', {}, make('thead', {}, make('tr', {}, make('th', { scope: 'col' }, 'Figure'), make('th', { scope: 'col' }, was), make('th', { scope: 'col' }, 'After'))), body);
    };
    // compared with the last correct state, then with what was approved
    const tables = (p) => {
      const out = p.numbers.length ? [table(p.numbers, p, 'Before')] : [];
      if (p.approved) out.push(make('p', {}, 'Approved in revision ' + p.revision + ':'), table(p.approved, p, 'Approved'));
      else if (p.revision) out.push(make('p', {}, 'All numbers are those approved in revision ' + p.revision + '.'));
      return out;
    };
    for (const p of own) parts.push(make('h2', {}, 'The numbers here'), ...tables(p));
    if (rest.length) parts.push(make('h2', {}, 'The numbers elsewhere'));
    for (const p of rest) parts.push(make('h3', {}, make('a', { href: p.address }, p.title)), ...tables(p));
  }
  return parts;
}
