// The listeners and timers of other scripts, recorded so that they can be removed before the
// scripts start again on a page that changed.
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
