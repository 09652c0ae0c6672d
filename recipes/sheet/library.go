package sheet

import (
	"path"
	"strings"

	"labsite/recipes/source"
)

// Library finds what a page takes from other files.
type Library interface {
	// Table gives a data file by its path in the content folder; nil and false where there
	// is no such file, nil and true where it has errors, which are reported with the file.
	Table(path string) (*Table, bool)
	// Files lists the data files, for the nearest name.
	Files() []string
}

// inContent turns a reference of a page into a path of the content folder; ok is false
// where it leads out.
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
	// Table is nil where the file has errors of its own.
	Table *Table
	Span  source.Span
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
		reference := d.text(v.Items[i], "data")
		file := &DataFile{Name: k.Text, Span: v.Items[i].Span}
		d.sheet.Data = append(d.sheet.Data, file)
		if reference == "" {
			continue
		}
		full, ok := inContent(d.file.Path, reference)
		if !ok {
			d.report(source.PathOutside(reference), v.Items[i].Span)
			continue
		}
		if d.library == nil {
			d.report(source.LinkNowhere(reference, ""), v.Items[i].Span)
			continue
		}
		found := false
		for _, candidate := range candidates(d.file.Path, reference, full) {
			if file.Table, found = d.library.Table(candidate); found {
				file.Path = candidate
				break
			}
		}
		if !found {
			near := source.Nearest(full, d.library.Files())
			if near != "" {
				near = path.Base(near)
			}
			d.report(source.LinkNowhere(reference, near), v.Items[i].Span)
		} else if file.Table == nil {
			d.report(source.DataBroken(path.Base(file.Path)), v.Items[i].Span)
		}
	}
}

// candidates are the places where a data file is sought: beside the page, and for a bare
// name in the folders above, nearest first.
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
