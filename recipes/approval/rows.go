package approval

import (
	"encoding/csv"
	"path"
	"strings"
)

// mostRows is how many changed rows of a file are named for one number.
const mostRows = 2

// column compares a column of a data file with what it was.
func (t *tracer) column(at *place, d *Data, name string) {
	for _, x := range d.Adds {
		if x.Name != name {
			continue
		}
		if was := added(at.old.data(d.Name), name); was == nil || spelled(was.Formula) != spelled(x.Formula) {
			cause := Cause{What: "formula", Page: at.now.Path, Name: d.Name + "." + name, After: x.Formula}
			if was != nil {
				cause.Before = was.Formula
			}
			t.add(cause)
		}
		t.formula(at, x.Formula)
		return
	}
	was := at.old.data(d.Name)
	if was == nil {
		return
	}
	old, now := t.old.source(was.File), t.now.source(d.File)
	if old == nil || now == nil {
		return
	}
	told := 0
	for _, x := range changedLines(cells(old, name), cells(now, name)) {
		if told++; told > mostRows {
			return
		}
		file := path.Base(d.File)
		key := file + " " + name + " " + x.before + x.after
		if !t.seen[key] {
			t.seen[key] = true
			t.causes = append(t.causes, Cause{What: "row", Page: at.now.Path, Name: file, Before: x.before, After: x.after})
		}
	}
}

func added(d *Data, name string) *Figure {
	if d == nil {
		return nil
	}
	for i := range d.Adds {
		if d.Adds[i].Name == name {
			return &d.Adds[i]
		}
	}
	return nil
}

func (r *Record) source(p string) []string {
	for _, s := range r.Sources {
		if s.Path == p {
			return s.Lines
		}
	}
	return nil
}

// cells are the rows of a file as texts that differ where the cell of one column does, or the
// cells before it, by which the row is found.
func cells(lines []string, column string) (out []string) {
	in := csv.NewReader(strings.NewReader(strings.Join(lines, "\n")))
	in.FieldsPerRecord = -1
	rows, err := in.ReadAll()
	if err != nil || len(rows) == 0 {
		return lines
	}
	at := -1
	for i, head := range rows[0] {
		if name, _, _ := strings.Cut(head, "["); strings.TrimSpace(name) == column {
			at = i
		}
	}
	if at < 0 {
		return nil
	}
	head := strings.TrimSpace(rows[0][at])
	for _, r := range rows[1:] {
		if at >= len(r) {
			continue
		}
		var others []string
		for i, cell := range r {
			if i < at {
				others = append(others, strings.TrimSpace(cell))
			}
		}
		text := head + " " + strings.TrimSpace(r[at])
		if len(others) > 0 {
			text += " at " + strings.Join(others, ", ")
		}
		out = append(out, text)
	}
	return out
}
