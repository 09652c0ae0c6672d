package molar_test

import (
	"fmt"

	"labsite/recipes/molar"
)

func ExampleMass() {
	anhydrous, _ := molar.Mass("Na2S2O3")
	crystals, _ := molar.Mass("Na2S2O3·5H2O")
	fmt.Printf("%.2f g/mol, %.2f g/mol\n", anhydrous, crystals)
	// Output: 158.10 g/mol, 248.17 g/mol
}
