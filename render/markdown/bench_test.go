package markdown

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"labsite/recipes/source"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
)

// ordinary is a body of about 4 KB such as a lab would write.
var ordinary = strings.Repeat(`## Before the film goes in

Draw {concentrate} of concentrate, add it to about half of the water and *stir until
no strings are left*, then fill to {tank}. Rolls in the tank: {rolls}, each with
{exact / rolls} of concentrate. See [the notes](notes.md) and write the lot down.

{gloves}

- Rinse the tank, the reels and the measuring cylinder with plain water.
- Check that the bath stands at {bath in 0.1 °C}; wait if it does not.
    - Too warm: stand the bottle in cold water.
    - Too cold: stand it in warm water, **never** on a hot plate.

| Film | Time | Remark |
|:-----|-----:|--------|
| Slow | {develop} | none |
| Fast | {develop in 15 s} | see `+"`log.csv`"+` |

1. Pour in and start the clock.
2. Turn the tank over, put it down and tap it once.
3. Pour out ten seconds before the end.

`, 6)[:4096]

func BenchmarkBody(b *testing.B) {
	f, _ := source.New("page.md", []byte(ordinary))
	b.SetBytes(int64(len(f.Text)))
	b.ReportAllocs()
	for b.Loop() {
		d, _ := Parse(f, 0)
		if err := d.Render(io.Discard, RenderOptions{Anchors: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBare is goldmark alone, for comparison with BenchmarkBody.
func BenchmarkBare(b *testing.B) {
	m := goldmark.New(goldmark.WithExtensions(extension.Table))
	b.SetBytes(int64(len(ordinary)))
	b.ReportAllocs()
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := m.Convert([]byte(ordinary), &out); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSameFeatures is goldmark with all the extensions that a body has.
func BenchmarkSameFeatures(b *testing.B) {
	m := goldmark.New(goldmark.WithExtensions(extension.GFM, extension.Footnote, extension.DefinitionList))
	b.SetBytes(int64(len(ordinary)))
	b.ReportAllocs()
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := m.Convert([]byte(ordinary), &out); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTexts(b *testing.B) {
	f, _ := source.New("page.md", []byte(ordinary))
	d, _ := Parse(f, 0)
	b.ReportAllocs()
	for b.Loop() {
		d.Texts()
	}
}
