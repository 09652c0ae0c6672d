package main

import (
	"os"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// TestOtherSystems type-checks the program and its tests for Windows and macOS. It does not
// compile: that would take minutes of processor time for two more systems, and find no more faults
// in the files that Linux leaves out.
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
