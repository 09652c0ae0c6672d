// Package work works pages out: it reads a page's front matter and text in full, infers
// kinds, proves checks and limits over all cases, and finds what every placement in its
// texts means.
//
// It writes no HTML and keeps nothing from one run to the next: package write decides how a page
// looks, package build what is kept.
//
// # Phases of a page
//
//	Read      front matter and Markdown are parsed (desk.go)
//	Resolved  kinds are inferred, after those of the pages that it draws on (resolve.go)
//	Made      cases are proved, texts bound, links, substances and reviews checked
//	          (make.go, bind.go, placement.go, links.go, substances.go, reviews.go)
//
// While a page is worked out, whatever it asks for besides its own text is noted with the
// answer (asked.go). If every answer is still the same, so is everything that was worked out.
//
// # Decisions
//
// Nothing that comes from a file with errors is shown. A page is worked out after those that it
// draws on. If one of them, a data file or the lab's own formulas have errors, that is said once,
// and it has no numbers, no script, no card and no preview (Page.Trusted).
//
// An approved revision is checked against its record by recording the page again (record.go) and
// comparing the two records (recipes/approval), so that what is recorded and what is compared
// cannot drift apart. Causes are found from the records alone, by parsing their formulas. For what
// a reader may set, a record holds a digest of each labelled figure over the page's cases; if that
// differs, the recorded page is worked out again from its own files and compared case by case
// (prove.LargestChanges). Its files have paths of their own, approved/G-001/2/…, so that data and
// pages drawn on are those of that time, without any special treatment elsewhere
// (content/records.go). Such a difference does not make the pages that draw on a page fail: each
// reports what differs on itself.
package work
