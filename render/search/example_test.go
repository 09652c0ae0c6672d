package search_test

import (
	"fmt"

	"labsite/render/search"
)

// A small site's search is one script.
func ExampleIndex() {
	x := search.NewIndex("en", nil, func(name string, b []byte) {
		fmt.Println(name, len(b) > 0)
	})
	x.Add(search.Page{Address: "wash.html", Title: "Washing film", Where: "Bench", Passages: []search.Passage{
		{Field: search.Summary, Text: "How long to wash, and in how much water."},
		{Field: search.Heading, Anchor: "the-last-water", Text: "The last water"},
	}})
	x.Close()
	fmt.Println(search.File)
	// Output:
	// find-words.js true
	// find-words.js
}
