// Package record reads the file in which a run sheet, or a page with readings, passes on what was
// done: settings, readings, figures as they were shown, steps with their begin and end, initials.
//
// It knows no pages. Reading goes in two phases: the file becomes a tree in which every text has
// its place (tree.go), bounded in size, depth and number; the tree is decoded into a Record
// (decode.go), and checked as far as that is possible without its page: moments in order, known
// keys. Whether the record agrees with its page is for others to say.
package record
