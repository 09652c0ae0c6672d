package hazard

import (
	"bytes"
	"encoding/json"
	"flag"
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/goccy/go-yaml"
)

var update = flag.Bool("update", false, "rewrite the files that tests compare with")

// written is everything in the YAML files.
func written(t *testing.T) map[string]any {
	t.Helper()
	all := map[string]any{}
	for _, name := range []string{"sources", "statements", "substances", "incompatibilities", "cautions"} {
		raw, err := os.ReadFile("data/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		part := map[string]any{}
		if err := yaml.Unmarshal(raw, &part); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for k, v := range part {
			if _, twice := all[k]; twice {
				t.Errorf("%s is in two files", k)
			}
			all[k] = v
		}
	}
	return all
}

// listOf reads data as a list.
func listOf(t *testing.T, data map[string]any) *List {
	t.Helper()
	loose, err := json.Marshal(data)
	if err != nil {
		t.Fatal(err)
	}
	list := new(List)
	read := json.NewDecoder(bytes.NewReader(loose))
	read.DisallowUnknownFields() // a key that nothing reads is a typo
	if err := read.Decode(list); err != nil {
		t.Fatal(err)
	}
	return list
}

// packed.json has the contents of the YAML files, in the form that the program reads.
// After a change of the data: go test ./recipes/hazard -run TestPacked -update
func TestPackedIsTheData(t *testing.T) {
	data := written(t)
	forget(data)
	want, err := json.Marshal(listOf(t, data))
	if err != nil {
		t.Fatal(err)
	}
	want = append(bytes.ReplaceAll(want, []byte(`},{"`), []byte("},\n{\"")), '\n')
	if *update {
		if err := os.WriteFile("packed.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("packed.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("packed.json differs from the data files; run this test with -update")
	}
}

// shown are the values whose provenance the program shows. That of all others stays in the data
// files, since it took a third of the time to read the list.
var shown = []string{"classification", "rule", "effect"}

// forget removes from data the provenance that is never shown.
func forget(data any) {
	switch x := data.(type) {
	case map[string]any:
		if from, is := x["provenance"].(map[string]any); is {
			maps.DeleteFunc(from, func(value string, _ any) bool { return !slices.Contains(shown, value) })
			if len(from) == 0 {
				delete(x, "provenance")
			}
		}
		for _, v := range x {
			forget(v)
		}
	case []any:
		for _, v := range x {
			forget(v)
		}
	}
}

func BenchmarkBuilt(b *testing.B) {
	for b.Loop() {
		list := new(List)
		if err := json.Unmarshal(packed, list); err != nil {
			b.Fatal(err)
		}
		list.index()
	}
}
