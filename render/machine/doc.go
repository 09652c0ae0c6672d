// Package machine writes what programs read: the feed, the site map, robots.txt, what
// the search finds pages by, and the list by which a reader's device keeps a site.
//
// What machines are told leaves out amounts wherever a page handles anything that can hurt,
// because they show it without the cautions around it. The package works nothing out: it reads
// heads of pages, and what package write tells of them.
//
// # Decisions
//
// A kept copy is one version. The service worker holds each file to a hash and takes all or
// nothing; it asks the site for its version before each page, and serves a page with all its
// parts from the copy or all from the network. The parts of a large search join the copy
// afterwards, each held to its hash. Sites may be below one another under one host: each
// names its caches by its address and touches no others, and a page looks at the scope of the
// worker that it is offered, since a browser offers that of the site around it. The preview has
// no worker.
package machine
