package page

import (
	"path"
	"strings"

	"labsite/recipes/approval"
	"labsite/recipes/source"
)

// Library finds what a page takes from other files.
type Library interface {
	// Table gives a data file by its path in the content folder; nil and false if there
	// is no such file, nil and true if it has errors, which are reported with the file.
	Table(path string) (*Table, bool)
	// Files lists the data files, for the nearest name.
	Files() []string
}

// inContent turns a reference on a page into a path in the content folder; ok is false if it
// leads out of the folder.
func inContent(page, reference string) (string, bool) {
	if strings.HasPrefix(reference, "/") || strings.Contains(reference, `\`) {
		return "", false
	}
	full := path.Join(path.Dir(page), reference)
	return full, full != ".." && !strings.HasPrefix(full, "../")
}

// DataFile is a data file that a page names.
type DataFile struct {
	Name string
	Path string
	// Table is nil if the file has errors of its own.
	Table *Table
	Span  source.Span
	// Source says where its rows come from; "" if the page does not say.
	Source string
	// Adds are the columns that the page adds, Row the columns that its formulas over rows
	// use by their bare names.
	Adds []*Added
	Row  []RowName
}

func (d *decoder) data(v *value) {
	if v = d.mapping(v, "data"); v == nil {
		return
	}
	for i, k := range v.Keys {
		if !d.claimDotted(k) {
			d.sheet.misnamedData[k.Text] = true
			continue
		}
		file, said, adds := d.dataFile(k, v.Items[i])
		d.sheet.Data = append(d.sheet.Data, file)
		if said == nil {
			continue
		}
		reference := d.text(said, "data")
		if reference == "" {
			continue
		}
		full, ok := inContent(d.file.Path, reference)
		if !ok {
			d.report(source.PathOutside(reference), said.Span)
			continue
		}
		if d.library == nil {
			d.report(source.LinkNowhere(reference, ""), said.Span)
			continue
		}
		if d.sheet.Keeps != nil && approval.Outside(full) == d.sheet.Keeps.Path {
			full = d.sheet.Keeps.Path
		}
		found := false
		for _, candidate := range candidates(d.file.Path, reference, full) {
			if file.Table, found = d.library.Table(candidate); found {
				file.Path = candidate
				break
			}
		}
		if !found && d.sheet.Keeps != nil && full == d.sheet.Keeps.Path {
			file.Path, file.Table = full, d.sheet.Keeps.none
			d.adds(file, adds)
			continue
		}
		if !found {
			near := source.Nearest(full, d.library.Files())
			if near != "" {
				near = path.Base(near)
			}
			d.report(source.LinkNowhere(reference, near), said.Span)
		} else if file.Table == nil {
			d.report(source.DataBroken(path.Base(file.Path)), said.Span)
		}
		d.adds(file, adds)
	}
}

// candidates are the paths where a data file is looked for: beside the page and, for a bare
// name, in the folders above, nearest first.
func candidates(page, reference, full string) []string {
	out := []string{full}
	if strings.Contains(reference, "/") {
		return out
	}
	for dir := path.Dir(page); dir != "."; {
		dir = path.Dir(dir)
		out = append(out, path.Join(dir, reference))
	}
	return out
}

func (s *Sheet) dataNamed(name string) *DataFile {
	for _, d := range s.Data {
		if d.Name == name {
			return d
		}
	}
	return nil
}
