// Package hazard holds the list of substances that a small film lab handles, the
// statements that the law attaches to them, what must not meet, and the rules
// that turn these into what a page says.
//
// It is neither a safety data sheet nor legal advice. It classifies no mixture:
// what a mixture is comes from the sheet of whoever supplies it, written down in
// the shop's own file, and is never worked out from its parts. If the list does
// not know something it says so, and it never calls anything safe. Nothing in it has been
// reviewed by a qualified person until a role and a date sign it.
//
// The data are YAML files in the folder data, with sources and provenance beside
// every value. The program reads packed.json, once and on first use; a test keeps it
// equal to them, except for provenance that no page shows, and go generate writes it
// after a change.
//
// # The shop's own file
//
// hazards.yaml at the top of the content folder adds a shop's own substances and
// mixtures, and signs rows of the list. Every key is optional unless it says
// otherwise:
//
//	precautionary: clp           # or un-rev-10: which set of P statements is law here
//	reviewed:                    # rows of the built-in list that a qualified person has checked
//	  - name: pyrogallol         # required
//	    by: process lead         # required, a role
//	    date: 2026-10-01         # required
//	substances:
//	  - name: Two-bath developer, part A   # required
//	    synonyms: [bath A]
//	    cas: 123-31-9            # check digit is tested
//	    ec: 204-617-8
//	    formula: C6H6O2
//	    molar_mass: 110.11       # g/mol; needs the formula and is tested against it
//	    roles: [developer]
//	    contains: [hydroquinone, sodium sulfite]   # for what must not meet, never to classify
//	    statements: [H317, H318, H412]   # required: H and EUH codes of the sheet; [] where it has none
//	    signal_word: Danger      # Danger, Warning or none, as on the sheet
//	    pictograms: [GHS05, GHS07]
//	    precautionary: [P261, P280]      # P codes of the sheet, instead of those of the statements
//	    advice: {gloves: nitrile, eyes: goggles, ventilation: general, dust: "", heat: "", sensitiser: "", pregnancy: ""}
//	    remarks: [Never heat it.]
//	    keep_apart: [acids]      # what section 10 of the sheet names, in words
//	    waste: organic-developer # one of the waste kinds of the list
//	    note: Ours since 2024.
//	    sheet:                   # required: the supplier's safety data sheet
//	      author: Example Supplies   # required: who issued it
//	      date: 2025-06-30       # required
//	      edition: 3
//	      review: 24 months      # counted from date; an overdue sheet is reported
//	    reviewed: {by: process lead, date: 2026-10-01}
//
// A name of the shop's own takes precedence over the same name of the list, so that the
// sheet of what is on the shelf overrules the list.
package hazard
