//go:build !unix

package publish

func isReadOnly(error) bool   { return false }
func isMountPoint(error) bool { return false }
