package main

import (
	"os"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// TestOtherSystems reads the program and its tests as the compilers for Windows and macOS would.
// Only types are looked at: to compile everything for two more systems takes minutes of a
// processor, and finds no more of what goes wrong in files that Linux leaves out.
func TestOtherSystems(t *testing.T) {
	if os.Getenv("OTHER_SYSTEMS") == "" {
		t.Skip("make tidy sets OTHER_SYSTEMS and asks for this: it reads all libraries from their source")
	}
	for _, system := range []string{"windows", "darwin"} {
		t.Run(system, func(t *testing.T) {
			t.Parallel()
			loaded, err := packages.Load(&packages.Config{
				Mode:    packages.NeedName | packages.NeedFiles | packages.NeedImports | packages.NeedDeps | packages.NeedTypes | packages.NeedSyntax,
				Context: t.Context(),
				Tests:   true,
				Env:     append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0"),
			}, "labsite/...")
			if err != nil {
				t.Fatal(err)
			}
			own := 0
			for _, p := range loaded {
				if strings.HasPrefix(p.PkgPath, "labsite/") {
					own++
				}
				for _, e := range p.Errors {
					t.Error(e)
				}
			}
			if own == 0 {
				t.Fatal("no package of the program was read")
			}
		})
	}
}
