// Package markdown reads the body of a page, or a short text of its front
// matter, and writes it as HTML: CommonMark 0.31.2 with tables, strikethrough,
// task lists, autolinks, footnotes, definition lists and heading anchors, and
// with placements in braces. It is the only home of goldmark.
//
// It does not know what a placement means. Parse hands out the placements,
// others say what each of them becomes, and Render writes the whole. It opens
// no file and follows no link: links and pictures are handed out with their
// places, and whoever knows the content folder sets where they lead.
//
// Parser state lives for one call, so that all functions may be used by several
// goroutines at once; a Document is for one goroutine at a time.
//
// # Phases
//
//	Parse, ParseText  goldmark reads the text, within bounds (parse.go, engine.go, bounds.go)
//	collect.go        gathers headings, links, pictures and placements, each with its place
//	the caller        sets what the placements become and where the links lead
//	Render            writes the HTML (render.go)
package markdown
