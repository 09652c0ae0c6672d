package asset

import (
	"labsite/recipes/source"
)

// File is a file as it is published.
type File struct {
	Bytes []byte
	// Width and Height are those of a picture in CSS pixels, as it stands upright; 0 for other
	// files and for drawings that do not say.
	Width, Height int
}

// Fault is why a file is not handed out, and the line of the file at which that is seen, from
// 1; 0 if the file is not a text.
type Fault struct {
	source.Problem
	Line int
}

func fault(p source.Problem) *Fault { return &Fault{Problem: p} }

// Bound is how many bytes a file of this name may have; ok is false if its ending is none
// that a page may link to.
func Bound(name string) (most int64, ok bool) {
	f := formOf(name)
	return f.most, f.look != nil && f.handedOut()
}

// Shows tells whether a file of this name is one that a page can show as a picture.
func Shows(name string) bool { return formOf(name).group == pictures }

// Look judges a file by its name and its bytes, of which there are at most as many as Bound
// says; fonts, which a theme holds and no page links to, are judged as well. The bytes are
// those to publish, and share the ones given where nothing had to be left out. Every name and
// all bytes are answered, with a file or with a fault.
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
