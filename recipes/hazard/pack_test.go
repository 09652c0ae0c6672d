package hazard

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"testing"

	"github.com/goccy/go-yaml"
)

var update = flag.Bool("update", false, "write the files that tests hold anew")

// packed.json is what the YAML files say, in the form that the program reads.
// After a change of the data: go test ./recipes/hazard -run TestPacked -update
func TestPackedIsTheData(t *testing.T) {
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
				t.Errorf("%s stands in two files", k)
			}
			all[k] = v
		}
	}
	loose, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	var list List
	read := json.NewDecoder(bytes.NewReader(loose))
	read.DisallowUnknownFields() // a key that nothing reads is a typing error
	if err := read.Decode(&list); err != nil {
		t.Fatal(err)
	}
	want, err := json.Marshal(&list)
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
		t.Errorf("packed.json is not what data says; run this test with -update")
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
