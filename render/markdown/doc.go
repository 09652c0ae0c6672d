// Package markdown reads the body of a page, or a short text of its front matter, and writes it as
// HTML: CommonMark 0.31.2 with tables, strikethrough, task lists, autolinks, footnotes, definition
// lists and heading anchors, and with placements in braces. It is the only home of goldmark.
//
// It does not know what a placement means. Parse returns the placements, the caller fills them in,
// and Render writes the whole. It opens no file and follows no link: links and pictures are returned
// with their places, and the caller, who knows the content folder, sets where they lead.
//
// Parser state lasts for one call, so several goroutines may use all functions at once; a Document is
// for one goroutine at a time.
//
// # Phases
//
//	Parse, ParseText  goldmark reads the text, within bounds (parse.go, engine.go, bounds.go)
//	collect.go        collects headings, links, pictures and placements, each with its place
//	the caller        sets what the placements become and where the links lead
//	Render            writes the HTML (render.go)
package markdown
