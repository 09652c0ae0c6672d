package tree

// Entry is what may be written at a place in a YAML file. One table of entries serves the decoder,
// which learns the keys from it, the schema and editors.
type Entry struct {
	// Name is the key; Chosen for a name that the writer chooses.
	Name string
	// Says is a sentence for the writer.
	Says string
	// Reads is how a text here is read; Nowhere if it may not be a text.
	Reads Reads
	// Words are the only texts that may be here; nil for any.
	Words []string
	// Keys are those that a set of keys here may have, Item what each item of a list here is;
	// nil if it may not be one.
	Keys []Entry
	Item *Entry
	// Names says what kind of name the writer chooses, if Name is Chosen.
	Names Reads
	// Needed says that a set of keys without it is an error.
	Needed bool
}

// Chosen is the Name of an entry whose name the writer chooses.
const Chosen = "*"

// Reads is how a text is read.
type Reads uint8

// How texts are read.
const (
	Nowhere  Reads = iota
	Plain          // words for readers, or for the register
	Prose          // words for readers, with placements in braces
	Formula        // of the formula language
	Quantity       // a number and its unit
	Values         // one value, or a range of them
	Form           // how a value is shown
	Whole          // a whole number
	YesNo          // true or false
	Date           // an ISO 8601 date
	Period         // 12 months
	Path           // of a file, from the one at hand
	NewName        // gives something of the page its name
	Given          // names a given value
	Figure         // names a figure, or a given value where a check expects it
	Drawn          // names a given value of the page drawn on
	DataFile       // names a data file of the page
	Column         // names a column of the data file at hand, perhaps with - before it
	Cells          // names a column of any data file: times.film
	Warning        // names a caution of the page or a standing one, or says one
	Chemical       // names a substance of the hazard list
)

// Key finds the entry for a key among those of a set of keys; nil if there is none.
func (e *Entry) Key(name string) *Entry {
	var chosen *Entry
	for i := range e.Keys {
		switch e.Keys[i].Name {
		case name:
			return &e.Keys[i]
		case Chosen:
			chosen = &e.Keys[i]
		}
	}
	return chosen
}

// Under finds the entry at the end of a path of keys, where "" stands for each item of a list;
// nil if there is none.
func (e *Entry) Under(path ...string) *Entry {
	for _, name := range path {
		if e == nil {
			return nil
		}
		if name == "" {
			e = e.Item
		} else {
			e = e.Key(name)
		}
	}
	return e
}

// Known lists the keys that an entry's set of keys may have, chosen ones left out.
func (e *Entry) Known() []string {
	var out []string
	for _, k := range e.Keys {
		if k.Name != Chosen {
			out = append(out, k.Name)
		}
	}
	return out
}
