// Package preview is the live preview: it serves a lab's pages to a browser on the same machine,
// follows the files that they are made of, and shows what changed, or what is wrong, on the open
// pages. It is the only home of fsnotify.
//
// It is not a web server for readers: it listens on the loopback address alone, answers no request
// under another host name, and writes nothing to disk. It prints nothing either; messages go to
// Options.Say.
//
// # Phases
//
//	watch (watch.go)            what the kernel reports, gathered into bursts; or a look every second
//	  └► Followed.Update(paths) reads those files again, and queues the pages whose answers changed
//	       └► hub.refresh       makes each open page again: Followed.Answer (hub.go)
//	            └► live         takes over what differs, and keeps scroll, focus, values set, opened parts
//	background ─► WorkOne       the other pages, those made before first, while nobody waits
//
// In the browser everything that changed on a page is taken over except what its scripts know,
// which start again from the values in the address. kernel_linux_test.go meets real kernel limits
// and failing disks, in a process with namespaces of its own, and is skipped if the machine allows
// none. make bench-proof measures, in Chromium on sites of 100, 2,000 and 10,000 pages, the time to
// the first page, the time from the write of a file to the new number on the screen, and memory
// after 100 and 1,000 edits. It needs a quiet machine.
package preview
