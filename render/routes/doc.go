// Package routes lists the addresses of a site, each with who makes what is there. A
// publish goes through all of them, the preview looks one up.
//
// It makes nothing itself: pages are package write's, what programs read is package
// machine's, and the rest is the theme's as it is.
//
// # Phases
//
//	Shared      the addresses that belong to no page, for a publish and for the preview
//	Page        a page, and what stands beside it: card, labels, tables, script
//	PageAt,     for the preview: whose address is asked for
//	FolderAt
package routes
