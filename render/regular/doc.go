// Package regular reads regular files, and nothing that could block: a named pipe without a
// writer, a device or a socket would hold a command up for ever, and no signal ends a blocked
// open. Every file is limited in size, so that none fills the memory.
//
// A file is looked at before it is opened, since merely opening some devices sets them going; it is
// opened without waiting, and looked at again once it is open, since another may have taken its
// place in between. Symbolic links are followed and judged by where they lead.
//
// It knows nothing of what the files are for.
package regular
