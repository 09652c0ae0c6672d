package page

import "labsite/recipes/source/tree"

// value is a piece of front matter with its place.
type value = tree.Value

const (
	scalar  = tree.Scalar
	list    = tree.List
	mapping = tree.Mapping
	nothing = tree.Nothing
)
