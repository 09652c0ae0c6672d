// Package machine writes what is read by programs: the feed, the site map, robots.txt, what
// the search finds pages by, and the list by which a reader's device keeps a site.
//
// What machines are told leaves amounts out wherever a page handles anything that can hurt,
// since they show it without the cautions around it. The package works nothing out: it reads
// heads of pages, and what package write tells of them.
package machine
