package source

// What pages stand on: data files and pages drawn on.

// DataBroken is said of a page that reads a data file with errors.
func DataBroken(file string) Problem {
	return fault("data-broken", file+" has errors of its own", "Mend that file first.")
}
