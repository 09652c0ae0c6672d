// Package routes lists the addresses of a site, each with what makes it. A publish goes through all
// of them, the preview looks one up.
//
// It makes nothing itself: package write makes pages, package machine what programs read, and the
// rest comes unchanged from the theme.
//
// # Phases
//
//	Shared      the addresses that belong to no page, for a publish and for the preview
//	Page        a page and the files that accompany it: card, labels, tables, script
//	PageAt,     for the preview: whose address it is
//	FolderAt
package routes
