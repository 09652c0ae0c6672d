// Package approve writes the records of approved revisions into a lab's folder, and tells their
// history. Approving goes in phases: a page is read off into a record (Propose), what it
// changes is shown and asked about by the caller, and the record is written (Write), all of it
// or nothing. It changes no page, and an approval is not a signature: it says which role approved,
// as the one who typed it says.
package approve
