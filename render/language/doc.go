// Package language answers editors: it is a server of the Language Server Protocol 3.17 for
// the files of a lab's folder. Editors start it and talk to it over a pipe, so that whoever
// writes a page is told of mistakes while typing, in the words of every other command.
//
// It stands on the followed site of package build, as the preview does, and puts the text of
// an editor in the place of the file's own. It works no number out by itself, reads inside
// the content folder alone, and writes to no disk: what changes, the editor changes.
//
// # Phases
//
//	wire.go      messages are read off the pipe, within bounds
//	server.go    each is handed to its method, one after another where they change something
//	documents.go texts of the editor go into the site; what is wrong is told (tell.go)
//	walk.go      what stands where in a file, by the tables that decode it
//	the others   one question of the protocol each
//
// The JSON-RPC library knows nothing of this protocol, and the libraries that list its types
// are older than 3.17, so the few types that are used stand in protocol.go.
package language
