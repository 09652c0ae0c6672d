//go:build !unix

package regular

// withoutWaiting is not needed here: pipes are not in folders.
const withoutWaiting = 0
