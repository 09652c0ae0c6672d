package page_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"labsite/recipes/page"
)

// Every key of a page is in the README's table, in its own row or with others, and the example in its
// entry makes a page without errors.
func TestKeys(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Join(regexp.MustCompile("(?m)^\\| `[^|]*\\|").FindAllString(string(readme), -1), "\n")
	for _, k := range page.Keys() {
		t.Run(k.Name, func(t *testing.T) {
			if !strings.Contains(rows, "`"+k.Name+"`") {
				t.Errorf("the README has no row for %s", k.Name)
			}
			if !strings.HasPrefix(k.Example, k.Name+":") {
				t.Errorf("the example is of another key: %q", k.Example)
			}
			front := k.Example
			for _, needed := range []string{"title: T", "audience: staff"} {
				if !strings.HasPrefix(needed, k.Name+":") {
					front = needed + "\n" + front
				}
			}
			_, _, list := buildWith("---\n"+front+"\n---\nBody.\n", exampleFiles, page.World{})
			for _, d := range list {
				if k.Name != "draws_on" || d.Code != "link-nowhere" { // there is no other page here
					t.Errorf("%s: %s", k.Example, d)
				}
			}
		})
	}
}
