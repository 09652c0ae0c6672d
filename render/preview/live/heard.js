// What other scripts ask to be told of the window and the document, and when, so that it
// can be let go of when they are started again for a page that changed.
const heard = [];
const late = window.setTimeout.bind(window);
const timers = new Set();
window.setTimeout = (run, wait, ...rest) => {
  const id = late(() => {
    timers.delete(id);
    run(...rest);
  }, wait);
  timers.add(id);
  return id;
};
const often = window.setInterval.bind(window);
window.setInterval = (...rest) => {
  const id = often(...rest);
  timers.add(id);
  return id;
};
for (const target of [window, document]) {
  const add = target.addEventListener;
  target.addEventListener = function (type, take, options) {
    heard.push([target, type, take, options]);
    return add.call(target, type, take, options);
  };
}
const addOwn = (target, ...rest) => EventTarget.prototype.addEventListener.call(target, ...rest);
