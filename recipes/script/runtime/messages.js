// Messages. Those that the build can give as well come from recipes/source; the others stand where
// they arise.

const fill = (text, args) => text.replace(/⟦(\d)⟧/g, (_, i) => args[i]);
const escaped = (text) => JSON.stringify(text).slice(1, -1);

class Problem {
  constructor(code, message, hint, offers = []) {
    Object.assign(this, { code, message, hint, offers });
  }
}
const problem = (key, ...args) => {
  const [code, message, hint] = data.words[key];
  // a message that quotes its argument escapes it
  return new Problem(code, message.replace(/"⟦(\d)⟧"/g, (_, i) => '"' + escaped(args[i]) + '"').replace(/⟦(\d)⟧/g, (_, i) => args[i]), fill(hint, args));
};
const fail = (key, ...args) => { throw problem(key, ...args); };
const failWith = (p, ...offers) => { throw Object.assign(p, { offers }); };
