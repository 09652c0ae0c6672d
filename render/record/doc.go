// Package record adds records of what was done at the bench to the file in which a page keeps them.
//
// It works in phases. Each record is worked out again by the page at the record's own revision
// (verify.go): the page as it is if it has that revision, otherwise what was approved as that
// revision. A record that agrees becomes a row (row.go). Then all rows are added to their files
// under a lock, by writing each file afresh next to the old one and renaming it (write.go): nothing
// is renamed unless every file could be written, a file is at every moment the old one or the new
// one, and if one cannot be renamed, those before it are put back.
//
// It changes no page and draws no charts: a page that keeps records uses the file as its data.
//
// # Decisions
//
// A file of records is rewritten, not appended to, so that a full disk or a kill between two bytes
// leaves the old one. Before it is written, the new text is checked to be readable. The lock is on
// a file of its own, since the file itself is replaced (write.go).
package record
