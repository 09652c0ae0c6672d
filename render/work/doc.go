// Package work works pages out: it reads a page's front matter and text in full, infers
// kinds, proves checks and limits over all cases, and finds what every placement in its
// texts means.
//
// It writes no HTML and remembers nothing from one run to the next: how a page looks is
// package write's business, what is kept package build's.
//
// # Phases of a page
//
//	Read      front matter and Markdown are parsed (desk.go)
//	Resolved  kinds are inferred, after those of the pages that it draws on (resolve.go)
//	Made      cases are proved, texts bound, links, substances and reviews checked
//	          (make.go, bind.go, placement.go, links.go, substances.go, reviews.go)
//
// While a page is worked out, whatever it asks for beside its own text is noted with the
// answer (asked.go). Where every answer is still the same, so is all that was worked out.
package work
