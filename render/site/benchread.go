package site

import (
	"io/fs"
	"os"

	"labsite/recipes/formulary"
	"labsite/recipes/source"
)

// Formulary reads the bench formulas as pages of a content folder see them, the lab's own
// among them. A folder that is not there has none of its own.
func Formulary(dir string) (*formulary.Set, source.List) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return formulary.Load(), nil
	}
	defer root.Close()
	s := &Site{content: root.FS(), files: map[string]bool{}}
	names, _ := fs.Glob(s.content, "formulary/*.yaml")
	for _, p := range names {
		s.files[p] = true
	}
	s.readFormulary()
	return s.Formulary, s.List
}
