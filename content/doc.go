// Package content is the demo shop, Brindle Weir Film Lab, whose pages are in this folder,
// and the pages that a new lab begins with. The shop and all its data are invented.
//
// The pages of the demo are read from the disk like those of any lab. They are embedded as
// well, for they are the shelf from which another lab takes what it needs; what is laid down
// beside them is in a folder with a full stop before its name, so that it is not part of
// the demo's site.
package content
