package build

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"labsite/recipes/hazard"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/work"
	"labsite/render/write"
)

// fact is a number that a lab states in one place: a value that somebody owns, or a cell of a data
// file.
type fact struct {
	name, shown string
	value       float64
	file        string
	line        int
}

// Disagreeing advises where one fact has two values. Owned values of one kind on two pages are one
// fact if their labels are the same, or name the same substance and are otherwise the same, or
// share a word and a source. Cells of two data files are one fact if the files have the same name,
// the column is the same and the texts of the row are the same. An owned value that is kept twice
// with the same number is reported too, since sooner or later somebody changes only one of the two.
// Where values differ, each place names the other.
func (s *Site) Disagreeing() source.List {
	var list source.List
	first := map[string]fact{}
	said := map[[2]place]bool{}
	meet := func(key string, f fact, alsoAlike bool) {
		before, known := first[key]
		pair := [2]place{before.at(), f.at()}
		switch {
		case !known:
			first[key] = f
		case before.file == f.file || said[pair]:
		case !quantity.Equal(before.value, f.value):
			said[pair] = true
			list = append(list, twice(source.FactTwoValues, f, before), twice(source.FactTwoValues, before, f))
		case alsoAlike:
			said[pair] = true
			list = append(list, twice(source.FactKeptTwice, f, before))
		}
	}
	files := map[string]bool{}
	substances := hazard.NewLookout(nil, s.Content.Substances)
	for _, r := range s.Results() {
		for _, c := range r.Listed.Constants {
			for _, key := range factKeys(c, substances) {
				meet(key, fact{c.Label, c.Shown.Text, math.Float64frombits(c.Bits), r.Path, c.Line}, true)
			}
		}
		for _, a := range r.Asked {
			if a.What == work.Data && !files[a.Name] {
				files[a.Name] = true
				s.cells(a.Name, func(key string, f fact) { meet(key, f, false) })
			}
		}
	}
	return list.Sorted()
}

// place is where a fact is kept.
type place struct {
	file string
	line int
}

func (f fact) at() place { return place{f.file, f.line} }

// factKeys lists the keys of an owned value: two values that share one are one fact.
func factKeys(c write.Constant, substances *hazard.Lookout) []string {
	label := strings.ToLower(c.Label)
	keys := []string{"value\x00" + c.Kind + "\x00" + label}
	for _, m := range substances.NamedInText(label) {
		rest := telling(label[:m.Start] + " " + label[m.End:])
		slices.Sort(rest)
		keys = append(keys, "substance\x00"+c.Kind+"\x00"+m.Substance.ID+"\x00"+strings.Join(rest, " "))
	}
	if source := strings.ToLower(strings.TrimSpace(c.Source)); canBeLookedUp(source) {
		for _, word := range telling(label) {
			keys = append(keys, "source\x00"+c.Kind+"\x00"+source+"\x00"+word)
		}
	}
	return keys
}

// telling lists the words of a label that say what it is about; short ones, such as of and for, do
// not.
func telling(label string) []string {
	words := strings.FieldsFunc(label, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return slices.DeleteFunc(words, func(w string) bool { return utf8.RuneCountInString(w) < 4 })
}

// canBeLookedUp reports whether a source is something to look up, so that two values from it ought to
// agree. Two values that were measured, remembered or are common practice need not.
func canBeLookedUp(source string) bool {
	for _, own := range []string{"measured here", "common practice", "from memory", "arithmetic", "definition", "this page", "read off"} {
		if strings.HasPrefix(source, own) {
			return false
		}
	}
	return source != ""
}

// mostCompared is the most rows that a file may have to be compared with others.
const mostCompared = 2000

// cells lists the cells of a data file, if the texts in a row tell each row from the others.
func (s *Site) cells(file string, meet func(key string, f fact)) {
	t, ok := s.Content.Table(file)
	if !ok || t == nil || len(t.Columns) == 0 || len(t.Columns[0].Cells) > mostCompared {
		return
	}
	rows := make([]string, len(t.Columns[0].Cells))
	seen := map[string]bool{}
	for row := range rows {
		for i := range t.Columns {
			if c := &t.Columns[i]; c.Kind.Sort == quantity.Word {
				rows[row] += c.Name + "\x00" + c.Words[int(c.Cells[row])] + "\x00"
			}
		}
		if rows[row] == "" || seen[rows[row]] {
			return // the texts do not say which row it is
		}
		seen[rows[row]] = true
	}
	for i := range t.Columns {
		c := &t.Columns[i]
		if c.Kind.Sort == quantity.Word {
			continue
		}
		for row, v := range c.Cells {
			text := c.Show().Format(v).Text
			words := strings.Fields(strings.ReplaceAll(rows[row], "\x00", " "))
			name := fmt.Sprintf("%s of %s", c.Name, strings.Join(words[1:], " "))
			meet("cell\x00"+path.Base(file)+"\x00"+c.Name+"\x00"+c.Kind.Name()+"\x00"+rows[row], fact{name, text, v, file, c.Lines[row]})
		}
	}
}

func twice(say func(name, here, there, file string, line int) source.Problem, here, there fact) source.Diagnostic {
	d := say(here.name, here.shown, there.shown, there.file, there.line).AtFile(here.file)
	d.Line = max(1, here.line)
	return d
}
