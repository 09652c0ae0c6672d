package search

import "testing"

// Whatever is in place of an entry, checking it ends, and what passes can be added.
func FuzzEntry(f *testing.F) {
	whole := Ready("Washing film", []Passage{{Field: Heading, Anchor: "How", Text: "How long to wash"}, {Field: Text, Text: "Wash film < 5 times."}})
	f.Add(string(whole))
	for n := range whole {
		f.Add(string(whole[:n]))
	}
	f.Add("\x00\x03abc\x01\x00\x03\x01\x00\x00\x01\x00")
	f.Fuzz(func(t *testing.T, text string) {
		x := NewIndex("en", nil, func(string, []byte) {})
		passes := Entry(text).Check() == nil
		x.Add(Page{Address: "wash.html", Title: "Wash", Entry: Entry(text)})
		if !passes && text != "" && (x.words["Wash"] == nil || x.words["Wash"].pages != 1) {
			t.Error("a page that has no entry should be found by its title")
		}
		x.Close()
	})
}

// An entry that is cut off, or longer by a byte, is refused.
func TestEntryCut(t *testing.T) {
	whole := Ready("Washing film", []Passage{{Field: Text, Text: "Wash film \u2028 5 times, \"film\"."}})
	if err := whole.Check(); err != nil {
		t.Fatal(err)
	}
	for n := range whole {
		if whole[:n].Check() == nil {
			t.Errorf("the first %d bytes pass", n)
		}
	}
	if (whole + "\x00").Check() == nil {
		t.Error("a byte more passes")
	}
}
