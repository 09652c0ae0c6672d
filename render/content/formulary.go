package content

import (
	"io/fs"

	"labsite/recipes/formulary"
	"labsite/recipes/source"
	"labsite/render/regular"
)

// Formulary reads the bench formulas as pages of a folder see them, the lab's own among them.
// A folder that is not there has none of its own.
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
