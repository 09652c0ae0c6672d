// Package preview is the live preview: it serves a lab's pages to a browser on the same
// machine, follows the files that they are made of, and brings what changed, or what is
// wrong, to the open pages. It is the only home of fsnotify.
//
// It is not a web server for readers: it listens on the loopback address alone, answers
// no request under another host name, and writes nothing to a disk. It prints nothing either;
// messages go to Options.Say.
//
// # Phases
//
//	watch (watch.go)            what the kernel reports, gathered into one burst; or a look every second
//	  └► Followed.Update(paths) reads those files again, and puts pages in line whose answers changed
//	       └► hub.refresh       asks for each open page again: Followed.Answer (hub.go)
//	            └► live         takes in what differs, and keeps scroll, focus, values set, opened parts
//	background ─► WorkOne       the other pages, those made before first, while nobody waits
//
// In the browser everything that changed on a page is taken in except its scripts, which start
// again from the address. kernel_linux_test.go meets full limits and failing disks as the kernel shows
// them, in a process with namespaces of its own, and skips where the machine gives none.
// make bench-proof measures all of it in Chromium on sites of 100, 2,000 and 10,000 pages: the
// first page, from the write of a file to the new number on the screen, memory after 100 and
// 1,000 edits. It needs a quiet machine.
package preview
