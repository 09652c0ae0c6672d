// Package content is the demo shop, Brindle Weir Film Lab, whose pages stand in this folder,
// and the pages that a new lab begins with. The shop and all its data are invented.
//
// The pages of the demo are read from the disk like those of any lab; embedded is only what
// the command lays down elsewhere. It stands in a folder with a full stop before its name,
// so that it is no part of the demo's site.
package content

import (
	"embed"
	"io/fs"
)

//go:embed .starter
var starter embed.FS

// Lab is a small lab to begin with: three pages and the settings, as they are laid down.
func Lab() fs.FS { return within("lab") }

// Pages are the patterns of single pages, guide.md and procedure.md. Where TITLE stands in
// one, its title goes, as a value of YAML.
func Pages() fs.FS { return within("pages") }

func within(name string) fs.FS {
	sub, err := fs.Sub(starter, ".starter/"+name)
	if err != nil {
		return embed.FS{} // cannot be: the names are those above
	}
	return sub
}
