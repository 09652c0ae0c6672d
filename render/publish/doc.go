// Package publish turns files, handed in one by one, into a published folder, all or
// nothing: whoever reads the folder finds the old site or the new one, and a
// publish that fails, is stopped or is killed leaves the old one whole.
//
// It knows nothing of pages: it is handed paths and bytes, and keeps no bytes. It does
// not upload, does not serve, and never touches a file that it did not write itself.
//
// # How it is done
//
// Begin takes a lock, clears up after a killed publish, and reads the list that the last publish
// left in the folder. Put and Keep compare each file with the old one. Finish exchanges the
// folders.
//
// The new folder is built beside the old one, under a hidden name in the same parent, and only once
// a first file differs: if nothing has changed, the old folder stays as it is, with all its dates.
// A new or changed file is written when it is handed in; a journal names it first, so that whatever
// a kill leaves can be recognised as ours. A file whose bytes did not change is only noted, and
// linked from the old folder at the end, so that it takes no space and keeps its date. When the new
// folder is complete and on the disk, the two folders change places in one step (renameat2 with
// RENAME_EXCHANGE on Linux, renamex_np with RENAME_SWAP on macOS). Where the system or the file
// system cannot do that, one rename follows another, and between them there is no folder at that
// path: a reader may find nothing then, but never a mixture. A publish killed in that moment is put
// right by the next one, or by Restore, which every command calls for the usual folders. Then the
// old folder is taken apart, file by file as its own list names them.
//
// A reader who opens the folder once and reads through that handle sees one site for as long as the
// files last; one who opens two paths may open one before the exchange and one after it.
//
// # What is read of the old site
//
// An old file that the new site replaces or drops is read before it goes: one whose bytes are not
// those of the list was changed by hand, and is somebody's work. One that stays is read only if its
// times leave a doubt. On Linux a file is untouched if both its times, of the last write and of the
// last change of any kind, are before those of the list, which is written after every file and
// touched once more at the end. Nobody can set the second time, so a file copied in with an old
// date is read too. Times cannot show that a disk has lost bytes, or that the clock was set back
// while somebody edited a file and kept its length; that file stays as it is, and is not lost.
// ReadAll reads them all. Off Linux all are read, since there a power cut may change a file's bytes
// and not its date.
//
// Just before the exchange everything is looked at again, by names and dates. If somebody has
// worked in the folder meanwhile, the publish stops; what is done in the moment after that is moved
// to its place in the new folder (Result.Returned) or stays beside it (Result.Left).
//
// # What is flushed, and why not every file
//
// If only the program dies, all or nothing needs no flush at all: the exchange is one step in the
// kernel. If the power fails, the order matters: contents first, then the exchange, then the
// removal. On Linux one syncfs call makes the whole staged folder durable before the exchange: one
// wait for the disk instead of one for each file. (On the virtual disk it was measured on,
// BenchmarkFlush shows both within the noise of no flush at all; what makes 2,000 files slow there
// is making them, and a publish takes as long as plain writes do.) Elsewhere each file is flushed.
// The next publish recognises what a power cut may leave all the same, an empty file or one of zero
// bytes, and writes it again.
package publish
