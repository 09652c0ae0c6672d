// Package preview is the live preview: it serves a lab's pages to a browser on the same
// machine, follows the files that they are made of, and brings what changed, or what is
// wrong, to the open pages. It is the only home of fsnotify.
//
// It is not a web server for readers: it listens on the loopback address alone, answers
// nobody who came by another name, and writes nothing to a disk. It prints nothing either;
// what there is to say goes to Options.Say.
//
// # Phases
//
//	watch (watch.go)            what the kernel tells, gathered into one burst; or a look every second
//	  └► Followed.Update(paths) reads those files again, and puts pages in line whose answers changed
//	       └► hub.refresh       asks for each open page again: Followed.Answer (hub.go)
//	            └► live         takes in what differs, and keeps scroll, focus, values set, opened parts
//	background ─► WorkOne       the other pages, those made before first, while nobody waits
//
// In the browser everything of a page that changed is taken in but its scripts, which begin again
// from the address. kernel_linux_test.go meets full limits and failing disks as the kernel shows
// them, in a process with namespaces of its own, and skips where the machine gives none.
// make bench-proof measures all of it in Chromium on sites of 100, 2,000 and 10,000 pages: the
// first page, from the write of a file to the new number on the screen, memory after 100 and
// 1,000 edits. It wants a quiet machine.
package preview
