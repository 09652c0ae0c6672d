package hazard_test

import (
	"fmt"

	"labsite/recipes/hazard"
)

// What a page must say follows from the substances that it declares; nil says that the shop
// has no file of its own.
func ExampleBlockFor() {
	b := hazard.BlockFor([]hazard.Use{{Name: "sulfuric acid"}, {Name: "sodium sulfite"}}, nil)
	for _, clash := range b.Meet {
		fmt.Println(clash.Word, clash.Happens)
	}
	// Output: WARNING Gives off sulfur dioxide, at once with metabisulfite or strong acid.
}
