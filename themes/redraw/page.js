/* Redraws tables and charts, and how sure results are, at values other than those that the page
   was published with. hand.js loads it when it is first needed, hides everything that it writes
   until then, and calls what it hands to hand.redrawn after each change.

   The files of this folder are joined and share the names declared outside their functions
   (render/theme/scripts.go says in which order). start.js, the last, starts everything. */

const hand = globalThis.hand, { sheet } = hand;
const { all, make, htmlOf, placed, tested, grids, pageData, isAsMade, holding, limitOf, titleOf, span, valueSpan } = hand.own;
const { set, both } = globalThis.measure;
let result, gone; // as hand.js painted them last
