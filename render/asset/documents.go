package asset

import (
	"archive/zip"
	"bytes"
	"strings"

	"labsite/recipes/source"
)

func asItIs(_, _ string, raw []byte) (File, *Fault) { return File{Bytes: raw}, nil }

// lookText requires UTF-8 without control characters: with anything else a browser guesses what the
// file is.
func lookText(name, _ string, raw []byte) (File, *Fault) {
	if _, list := source.New(name, raw); len(list) > 0 {
		d := list[0]
		return File{}, &Fault{source.TextUnfit(name, d.Line, d.Message, d.Hint), d.Line}
	}
	return File{Bytes: raw}, nil
}

// lookOffice reads the list of parts of an office document, which is a ZIP archive, and refuses
// one with macros. The list is bounded by the size of the file.
func lookOffice(name, is string, raw []byte) (File, *Fault) {
	archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return File{}, fault(source.FileBroken(name, is, err.Error()))
	}
	known := false
	for _, part := range archive.File {
		p := strings.ToLower(part.Name)
		known = known || p == "[content_types].xml" || p == "mimetype"
		if strings.HasPrefix(p, "basic/") || strings.HasPrefix(p, "scripts/") || strings.Contains(p, "vbaproject") {
			return File{}, fault(source.DocumentMacros(name, part.Name))
		}
	}
	if !known {
		return File{}, fault(source.FileNoForm(name, is))
	}
	return File{Bytes: raw}, nil
}
