package script

import (
	_ "embed"
	"strings"

	"labsite/recipes/quantity"
)

//go:embed runtime.js
var runtimeText string

// Runtime is the script that every page with figures loads before its own: runtime.js
// without its comments, with the units, the kinds' names and the messages put in. It
// defines one name, labsite.
var Runtime = assemble()

func assemble() []byte {
	data := quoted(map[string]any{"units": units(), "kinds": kinds(), "words": wording(), "meant": quantity.Meant()})
	var b strings.Builder
	for line := range strings.Lines(runtimeText) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "//") {
			continue
		}
		b.WriteString(strings.Replace(line, "$DATA", data, 1))
		b.WriteByte('\n')
	}
	return []byte(b.String())
}
