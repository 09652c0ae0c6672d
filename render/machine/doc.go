// Package machine writes what programs read: the feed, the site map, robots.txt, the texts of the
// search, and the list by which a reader's device keeps a site.
//
// It leaves out amounts wherever a page handles anything that can hurt, because programs show texts
// without the cautions around them. The package works nothing out: it reads the heads of pages, and
// what package write says of them.
//
// # Decisions
//
// A kept copy is one version. The service worker checks each file against a hash and keeps all or
// nothing; it asks the site for its version before each page, and serves a page with all its parts
// either from the copy or from the network. The parts of a large search join the copy afterwards,
// each checked against its hash. One site may lie below another on the same host: each names its
// caches by its address and touches no others, and a page checks the scope of the worker it gets,
// since a browser may offer that of the outer site. The preview has no worker.
package machine
