package asset

import (
	"labsite/recipes/source"
)

// File is a file as it is published.
type File struct {
	Bytes []byte
	// Width and Height are the size of an upright picture in CSS pixels; 0 for other files and for
	// drawings that do not state theirs.
	Width, Height int
}

// Fault is why a file is not handed out, and the line that shows it, from 1; 0 if the file is not a
// text.
type Fault struct {
	source.Problem
	Line int
}

func fault(p source.Problem) *Fault { return &Fault{Problem: p} }

// Bound is how many bytes a file of this name may have; ok is false if a page may not link to files
// with its ending.
func Bound(name string) (most int64, ok bool) {
	f := formOf(name)
	return f.most, f.look != nil && f.handedOut()
}

// Shows reports whether a page can show a file of this name as a picture.
func Shows(name string) bool { return formOf(name).group == pictures }

// Look judges a file by its name and its bytes; it judges fonts too, which a theme holds and no
// page links to. The bytes of the result are those to publish, the given ones if nothing had to be
// left out. It takes any name and any bytes, and returns a file or a fault.
func Look(name string, raw []byte) (File, *Fault) {
	f := formOf(name)
	if f.look == nil {
		return File{}, fault(source.LinkKind(name, Listed()))
	}
	if int64(len(raw)) > f.most {
		return File{}, fault(source.FileTooLarge(name, int64(len(raw)), f.most))
	}
	if f.begins != nil && !f.begins(raw) {
		if other := formByBytes(raw); other.name != "" {
			return File{}, fault(source.FileOtherForm(name, f.name, other.name, other.endings[0]))
		}
		return File{}, fault(source.FileNoForm(name, f.name))
	}
	return f.look(name, f.name, raw)
}
