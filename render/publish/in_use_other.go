//go:build !windows

package publish

// isInUse is always false: only Windows refuses to rename a folder for an open file in it.
func isInUse(error) bool { return false }
