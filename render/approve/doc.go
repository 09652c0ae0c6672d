// Package approve writes the records of approved revisions into a lab's folder, and lists their
// history. Approving has phases: Propose makes a record of a page, the caller shows what it changes
// and asks, and Write writes the record, all of it or nothing. It changes no page, and an approval
// is not a signature: it says which role approved only because somebody typed it.
package approve
