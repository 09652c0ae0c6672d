package machine_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
	"labsite/render/machine"
)

// kept is what a site's worker says it keeps.
type kept struct {
	Version string
	Files   [][2]string
	Reviews map[string][2]string
}

func keptOf(t *testing.T, files map[string][]byte) (k kept) {
	t.Helper()
	text, _, ok := strings.Cut(strings.TrimPrefix(string(files[machine.KeeperFile]), "const site = "), ";\n")
	if err := json.Unmarshal([]byte(text), &k); err != nil || !ok {
		t.Fatalf("the worker's list does not read: %v", err)
	}
	return k
}

// TestKeptSite compares the list of a kept site with the published files.
func TestKeptSite(t *testing.T) {
	files := buildtest.Demo(t, page.Customers)
	k := keptOf(t, files)
	seen := map[string]bool{}
	for _, f := range k.Files {
		seen[f[0]] = true
		b, there := files[f[0]]
		if sum := sha256.Sum256(b); !there || f[1] != hex.EncodeToString(sum[:8]) {
			t.Errorf("%s is kept as %s, which is not what is published", f[0], f[1])
		}
	}
	for _, want := range []string{"index.html", "figures.js", "hand.js", "later.js", "figures-further.js", "process.js", "process.css", "finding.js", "redraw.js", "recall.js", "developing/one-shot-developer.html", "developing/one-shot-developer.figures.js", "developing/one-shot-developer.card.html"} {
		if !seen[want] {
			t.Errorf("%s is not kept", want)
		}
	}
	if r := k.Reviews["developing/one-shot-developer.html"]; r[0] != "2027-11-28" {
		t.Errorf("the guide's review is said to be due on %q", r[0])
	}
	if files["keep.js"] != nil {
		t.Error("the worker without its list is published")
	}
}

// The same site has the same version, a changed one another, and the file that the worker fetches
// has the version of the worker's list.
func TestVersionOfAKeptSite(t *testing.T) {
	version := func(text string) string {
		t.Helper()
		files := buildtest.Sited(t, map[string]string{"index.md": "---\ntitle: Lab\naudience: customers\n---\n\n" + text + "\n"}, page.Customers)
		var v struct{ Version string }
		if err := json.Unmarshal(files[machine.VersionFile], &v); err != nil || v.Version == "" {
			t.Fatalf("%v in %s", err, files[machine.VersionFile])
		}
		if k := keptOf(t, files); k.Version != v.Version {
			t.Errorf("the worker keeps version %s, the site says %s", k.Version, v.Version)
		}
		return v.Version
	}
	first, again, changed := version("Text."), version("Text."), version("Text!")
	if first != again {
		t.Error("the same site has another version")
	}
	if first == changed {
		t.Error("a changed site has the version of the old one")
	}
}
