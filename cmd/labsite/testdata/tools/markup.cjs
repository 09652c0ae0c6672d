// Rules for the HTML of a published page: those that html-validate recommends,
// with no exception.
module.exports = {
  root: true,
  extends: ["html-validate:recommended"],
};
