// Package record takes what was done at the bench into the file in which a page keeps its records.
//
// It works in phases. Each record is worked out again by the page at the record's own revision
// (verify.go): what was approved as that revision, or the page as it is where it is of that
// revision. A record that agrees becomes a row (row.go). Then all rows are added to their files
// under a lock, by writing each file afresh next to the old one and renaming it (write.go): all of
// them or none, and a file is at every moment the old one or the new one.
//
// It changes no page and charts nothing: a page that keeps records uses the file as its data.
//
// # Decisions
//
// Records are rewritten, not appended to. A file of records is written afresh next to the old one
// and renamed, under a lock on a file of its own, so that a full disk or a kill between two
// bytes leaves the old one; that it can be read is checked first (write.go).
package record
