// Package theme makes HTML files from views: plain values that say what is on a page,
// put into the templates of the built-in theme or of the lab's own.
//
// It works nothing out and knows no pages: package write fills the views. Templates of a lab
// are somebody else's files, so they are bounded, tried on sample views when they are loaded,
// and guarded: a template that leaves the cautions out, or sets them below the first number,
// is an error.
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
// Scripts and styles are published slim (slim.go, by a library): without comments and spaces,
// with short names for what a script keeps to itself. publish holds these very bytes to Go. A
// lab's own scripts are published as they are.
//
// A lab's template is bounded in three ways (templates_bounds.go): circles and deep nesting are
// refused as it is read, since the stack that recursion takes up kills the process before the
// engine's own depth of 100,000; steps and bytes are counted by the writer, to which an empty
// text at the head of each round and of each template leads; and functions that make texts make
// none of more than 1 MiB. The engine has no other way to be stopped.
package theme
