// Package formulary holds the bench formulas: small named formulas of the trade, written
// in the language of recipes/formula as embedded data, each with its kinds, its valid
// range, its source and its own checks. A shop adds its own in the same format, as files
// of the folder formulary/ in its content.
//
// It knows no pages and no HTML. It has no default for anything that a shop must own:
// such a constant is always a parameter, marked owned.
//
// # Phases
//
//   - Built-in entries are found in their files without reading them, and read on first use
//     (builtin.go).
//   - A file is read into entries, a part of an entry in a file each: read.go, read_params.go,
//     read_range.go, read_masses.go, read_checks.go, kind.go.
//   - Entries are put in the order of their calls (set.go) and inferred with every kind of
//     argument that they take (infer.go, scope.go), so that no page runs into a fault of
//     one.
//   - Their checks are worked out (prove.go), those of the built-in ones in the tests;
//     outside.go compares the formulas with standards and worked examples.
//
// # The format
//
// A file has a group, and formulas: a name for each, of a–z, digits and _.
//
//	group: mixing and dilution
//	formulas:
//	  concentrate_in:
//	    sentence: The concentrate in a working solution of a given strength.
//	    takes:
//	      volume: {label: Working solution, kind: volume, above: 0 ml}
//	      strength: {label: Dilution, kind: number, above: 0, to: 1}
//	    gives: volume
//	    formula: volume * strength
//	    show: usual
//	    source: {class: published, text: question and answer thread on ratio notation}
//	    checks:
//	      - at: {volume: 1 l, strength: 1+100}
//	        expect: 9.9 ml ± 0.01 ml
//	        source: common practice, no source
//
// takes lists the parameters in the order of a call. Each has a label (what a refusal
// calls it) and a kind, and may have:
//
//   - from, to (ends included), above, below (ends not): its valid range. above: 0 and
//     from: 0 stand for zero of any kind.
//   - whole: true, for whole numbers only
//   - tested: [lowest, highest], two later parameters between which it must lie
//   - owned: true, for a constant that the shop must own: a page may pass only a given
//     with source and owner, a column of its data, or a figure made of such
//
// A kind is a unit (ml, g/l, /min), one of the words of [KindWords], money or money per
// something (money/ml; any currency, one in a call), any (any quantity), any but
// temperature, "like x" (the kind of the parameter x before it) or "difference of x".
//
// outside lists further ends of the valid range: which (the parameter), when (a yes/no
// formula that holds outside) and reason (for the reader). Outside its range a bench
// formula refuses the case and says which parameter and why.
//
// not_when is a text or a list: when the formula must not be used at all. show is how
// the result is customarily rounded, in the words of a page's show. It is advice; a page
// shows a figure as it says itself.
//
// masses names molar masses by chemical formula for use in the formula. swap: {asked,
// weighed} makes a whole entry that turns the mass of one form of a chemical into the
// mass of another, and refuses two forms that do not hold the same salt.
//
// source is the text of one of the classes of [Class]: "common practice, no source",
// "from memory" or "measured here" and the date, or {class: published, text: …}. Every
// entry has a source and at least one check, every check a source. A check sets all
// parameters (at) and expects a value, with a tolerance or as show displays it, or
// "refused".
package formulary
