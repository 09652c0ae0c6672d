// Rules for the HTML of a published page: those that html-validate recommends, but for one.
// The table of checks states the roles of its parts, since some browsers drop them when a
// style sheet changes how its rows are displayed on a phone.
module.exports = {
  root: true,
  extends: ["html-validate:recommended"],
  rules: { "no-redundant-role": "off" },
};
