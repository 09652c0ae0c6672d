package script

import (
	"embed"
	"path"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

//go:embed runtime/*.js
var runtimeFiles embed.FS

// runtimeParts are the parts of the runtime in the order in which they are joined: each uses those
// before it.
var runtimeParts = []string{
	"numbers", "dates", "operations", "fractions", "units", "messages", "typed_number", "unit_words", "quantities",
	"showing", "fields", "given", "work", "process", "sheet", "page",
}

// furtherParts are those that only tables, sureness, the arithmetic and the way out of a refusal
// need. The last one returns labsiteEarlier.
var furtherParts = []string{"sureness", "nearest", "further"}

// Core is the script that every page with figures loads before its own: the parts of the runtime in
// one function, without comments, with the units, the names of kinds, the messages and the
// operations' helpers put in. It defines one name, labsite.
var Core = sync.OnceValue(assemble)

// Further is the script that a page loads when tables, sureness or arithmetic must be worked out
// again, or when it refuses what a reader set.
var Further = sync.OnceValue(func() []byte {
	return []byte("var labsiteEarlier = labsite.further((core) => {\n\"use strict\";\nconst { Sheet, made, attempt, equal, format, isDate, isoDate, ready, run, setRow, shownGiven, total, unitNamed } = core;\n" + parts(furtherParts) + "});\n")
})

// Runtime is both together.
var Runtime = sync.OnceValue(func() []byte { return slices.Concat(Core(), Further()) })

func assemble() []byte {
	data := quoted(map[string]any{"units": units(), "kinds": kinds(), "counts": countWords(quantity.Counts()), "words": wording(), "meant": quantity.Meant()})
	put := strings.NewReplacer("$HELPERS", helpers())
	var b strings.Builder
	b.WriteString("var labsite = (() => {\n\"use strict\";\nconst data = " + data + ";\n")
	b.WriteString(put.Replace(parts(runtimeParts)))
	b.WriteString("})();\n")
	return []byte(b.String())
}

// parts joins files of the folder runtime, without their comments.
func parts(names []string) string {
	var b strings.Builder
	for _, name := range names {
		text, err := runtimeFiles.ReadFile(path.Join("runtime", name+".js"))
		if err != nil {
			panic(err) // the file is one of the program's own
		}
		for line := range strings.Lines(string(text)) {
			line = strings.TrimSpace(line)
			if line == "" || strings.HasPrefix(line, "//") {
				continue
			}
			b.WriteString(line)
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// helpers writes the functions that page scripts call, as properties of an object.
func helpers() string {
	parts := []string{finite.Name + ": " + finite.Text, present.Name + ": " + present.Text}
	for _, h := range formula.Helpers() {
		parts = append(parts, h.Name+": "+h.Text)
	}
	return strings.Join(parts, ",\n")
}
