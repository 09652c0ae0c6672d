// Package theme makes HTML files from views, which are plain values that say what is on a page, by
// the templates of the built-in theme or of the lab's own.
//
// It works nothing out and knows no pages: package write fills the views. A lab's templates are
// somebody else's files, so they are bounded, tried on sample views when they are loaded, and
// guarded: it is an error if a template leaves out the cautions, or puts them below the first
// number.
//
// # Phases
//
//	LoadTemplates finds the theme's files and parses its templates (files.go, templates.go)
//	trial         runs each template on a sample view (templates_trial.go), with the guards of
//	              templates_guard.go and the bounds of templates_bounds.go
//	a view        is filled by package write (view*.go), and a method of Templates makes its file
//	Assets        are styles, scripts and pictures as they are published (scripts.go, slim.go)
//
// # Decisions
//
// Scripts and styles are minified by a library (slim.go): no comments, no needless spaces, and short
// names for what a script keeps to itself. It is the minified runtime that publish compares with Go.
// A lab's own scripts are published as they are.
//
// A lab's template is bounded in three ways (templates_bounds.go). Circles and deep nesting are
// refused when it is read, since recursion would overflow the stack and kill the process before the
// engine's own limit of 100,000 levels. Steps and bytes are counted by the writer; an empty text at
// the head of each round and of each template makes sure that the writer is called. And functions
// that make texts make none of more than 1 MiB. The engine cannot be stopped in any other way.
package theme
