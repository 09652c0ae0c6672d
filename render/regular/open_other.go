//go:build !unix

package regular

// withoutWaiting is nothing here: a pipe has no name in a folder.
const withoutWaiting = 0
