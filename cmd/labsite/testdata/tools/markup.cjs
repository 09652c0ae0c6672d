// Rules for the HTML of a published page: those that html-validate recommends,
// with one exception: the table of checks says the roles of its parts, which some
// browsers forget where a style sheet lays its rows out anew for a phone.
module.exports = {
  root: true,
  extends: ["html-validate:recommended"],
  rules: { "no-redundant-role": "off" },
};
