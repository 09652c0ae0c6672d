// Package language answers editors: it is a server of the Language Server Protocol 3.17 for
// the files of a lab's folder. Editors start it and talk to it over a pipe, so that whoever
// writes a page sees mistakes while typing, in the same words as from every other command.
//
// It uses the followed site of package build, as the preview does, and has an editor's text replace
// the file's own. It computes no numbers itself, reads only inside the content folder, and never
// writes to disk: the editor makes all changes.
//
// # Phases
//
//	wire.go      messages are read from the pipe, within bounds
//	server.go    each is handed to its method, one after another
//	documents.go the editor's texts go into the site; what is wrong is reported (tell.go)
//	walk.go      what is where in a file, by the tables that decode it
//	the others   one question of the protocol each
//
// The JSON-RPC library knows nothing of this protocol, and the libraries that list its types
// are older than 3.17, so the few types that are used are in protocol.go.
//
// # Decisions
//
// Messages take one token in turn; a worker makes the page being edited first, then what depends on
// it, and reports what differs. What is where on a page is found from its text alone (walk.go);
// where the cursor is in unfinished YAML, from lines and indents (yaml_place.go).
//
// A message offers repairs as data (source.Problem.Repairs); each is tried on a copy of the text
// before an editor is offered it. The other places of a message are kept as text
// (source.Problem.Also), so that problems can be compared. A rename is tried on the site before it
// is handed out, and links to a renamed file follow it (moves.go). While nobody types, open pages
// are changed on purpose for the lenses (guards.go); every keystroke cuts that short. labsite where
// uses the same lookup (where.go).
//
// go.lsp.dev/protocol (last released in 2022, before inlay hints) and tliron/glsp (2024,
// incomplete for 3.17) were considered. creachadair/jrpc2 is maintained and does JSON-RPC; the reader
// of the pipe is our own, since the library's allocates whatever a header claims.
//
// Neovim from Debian, with the README's configuration, is one of the scripts of cmd/labsite
// (neovim.txtar); make tools installs it, and without it the script is skipped.
package language
