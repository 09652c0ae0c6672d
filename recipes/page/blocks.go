package page

import "slices"

// Block is a part of a page that stands in its usual place, or where the page's text names it
// in braces. render/write makes what it shows, by a maker of the same name.
type Block struct {
	Name string
	// Title is its heading, and Anchor the id of its element; empty if it has none.
	Title, Anchor string
	// Stands is where it goes if the text does not place it.
	Stands Stand
	// Numbers says that it shows numbers, so that the cautions must stand above it.
	Numbers bool
	// Main says that readers come for it, so that the page links to it from the top.
	Main bool
	// Has reports whether a page has anything to show in it.
	Has func(s *Sheet) bool
	// Told lists its labels for the search; nil if it has none besides its texts.
	Told func(s *Sheet) []string
}

// Stand is a place on a page, in order from the top.
type Stand uint8

const (
	AtTop     Stand = iota // with the cautions, above all numbers
	AtNumbers              // in the panel of values and results
	AfterNumbers
	AfterText
	// WherePlaced stands nowhere else.
	WherePlaced
)

// blocks are in the order in which they are on a page that places none of them.
var blocks = []Block{
	{Name: "cautions", Stands: AtTop, Has: func(s *Sheet) bool { return len(s.Cautions) > 0 }},
	{Name: "given", Title: "Set these", Anchor: "Given", Stands: AtNumbers, Numbers: true, Main: true,
		Has: func(s *Sheet) bool { return len(s.Given) > 0 }, Told: (*Sheet).settableLabels},
	{Name: "figures", Title: "You need", Anchor: "Figures", Stands: AtNumbers, Numbers: true, Main: true,
		Has: (*Sheet).hasResults, Told: (*Sheet).figureLabels},
	{Name: "steps", Title: "Step by step", Anchor: "Steps", Stands: AfterNumbers, Numbers: true, Main: true,
		Has: func(s *Sheet) bool { return len(s.Steps) > 0 }},
	{Name: "sureness", Title: "How sure", Anchor: "Sureness", Stands: WherePlaced, Numbers: true,
		Has: func(s *Sheet) bool { return len(s.Figures) > 0 }},
	{Name: "arithmetic", Title: "How it was worked out", Anchor: "Arithmetic", Stands: AfterText, Numbers: true,
		Has: func(s *Sheet) bool { return len(s.Figures) > 0 }},
	{Name: "checks", Title: "Tested against", Anchor: "Checks", Stands: AfterText, Numbers: true,
		Has: func(s *Sheet) bool { return len(s.Checks) > 0 }},
	{Name: "report", Anchor: "Report", Stands: WherePlaced, Has: func(s *Sheet) bool { return len(s.Figures) > 0 }},
}

// Blocks lists the blocks of a page, in the order in which they are on one that places none.
// The caller must not change the list.
func Blocks() []Block { return blocks }

// BlockNamed finds a block by its name.
func BlockNamed(name string) (Block, bool) {
	i := slices.IndexFunc(blocks, func(b Block) bool { return b.Name == name })
	if i < 0 {
		return Block{}, false
	}
	return blocks[i], true
}

// BlockNames are the names of all blocks.
func BlockNames() []string {
	names := make([]string, len(blocks))
	for i, b := range blocks {
		names[i] = b.Name
	}
	return names
}

func isBlock(name string) bool { _, is := BlockNamed(name); return is }

// hasResults reports whether there is anything to list under "You need".
func (s *Sheet) hasResults() bool { return len(s.figureLabels()) > 0 || len(s.Limits) > 0 }

func (s *Sheet) settableLabels() (out []string) {
	for _, g := range s.Given {
		if g.Label != "" && g.Settable() {
			out = append(out, g.Label)
		}
	}
	return out
}

func (s *Sheet) figureLabels() (out []string) {
	for _, f := range s.Figures {
		if f.Label != "" {
			out = append(out, f.Label)
		}
	}
	return out
}
