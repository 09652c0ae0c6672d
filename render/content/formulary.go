package content

import (
	"io/fs"

	"labsite/recipes/formulary"
	"labsite/recipes/source"
	"labsite/render/regular"
)

// Formulary reads the bench formulas of a folder, built-in ones and the lab's own. A folder that does
// not exist has none of its own.
func Formulary(dir string) (*formulary.Set, source.List) {
	root, err := regular.OpenRoot(dir)
	if err != nil {
		return formulary.Load(), nil
	}
	defer root.Close()
	c := &Content{root: root, fsys: regular.Below(root), files: map[string]bool{}}
	names, _ := fs.Glob(c.fsys, formulasFolder+"/*.yaml")
	for _, p := range names {
		c.files[p] = true
	}
	c.readFormulas()
	return c.Formulas, c.formulasSaid
}
