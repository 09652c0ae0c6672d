package theme

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"labsite/recipes/source"
	"labsite/render/asset"
	"labsite/render/regular"
)

// Bounds of a theme, which is held in memory and sent to every reader.
const (
	mostThemeFiles = 200
	mostThemeBytes = 4 << 20 // a file; fonts are the largest, at some 300 KB
)

// themeEndings are the files that a theme may hold: templates, styles, scripts, pictures and
// fonts. They are compared as written, since a server may not know .HTML for .html.
var themeEndings = []string{".html", ".css", ".js", ".svg", ".png", ".jpg", ".jpeg", ".gif", ".webp",
	".woff2", ".woff", ".ttf", ".otf"}

// ownFiles reads the files of a lab's theme folder, by name. Files whose names begin with a full stop
// are ignored; anything else that a theme may not hold is an error.
func ownFiles(files fs.FS, folder string) (map[string][]byte, source.List) {
	var list source.List
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		return nil, source.List{source.ThemeFolder(plainError(err)).AtFile(folder)}
	}
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return strings.HasPrefix(e.Name(), ".") })
	if len(entries) > mostThemeFiles {
		return nil, source.List{source.ThemeMany(folder, mostThemeFiles).AtFile(folder)}
	}
	out := map[string][]byte{}
	for _, e := range entries {
		where := path.Join(folder, e.Name())
		raw, wrong := ownFile(files, e, where)
		if wrong != nil {
			list = append(list, *wrong)
			continue
		}
		out[e.Name()] = raw
	}
	return out, list
}

// builtInFiles reads the files of the built-in theme, by name, without its folders of parts.
func builtInFiles(files fs.FS, folder string) (map[string][]byte, source.List) {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		return nil, source.List{source.ThemeFolder(plainError(err)).AtFile(folder)}
	}
	out := map[string][]byte{}
	for _, e := range entries {
		if e.IsDir() {
			continue
		}
		raw, err := fs.ReadFile(files, e.Name())
		if err != nil {
			return nil, source.List{source.ThemeFolder(plainError(err)).AtFile(path.Join(folder, e.Name()))}
		}
		out[e.Name()] = raw
	}
	return out, nil
}

// ownFile reads one file of a lab's theme, or says why it may not be there.
func ownFile(files fs.FS, e fs.DirEntry, where string) ([]byte, *source.Diagnostic) {
	name := e.Name()
	if problem := notOfTheme(e); problem != nil {
		return nil, new(problem.AtFile(where))
	}
	raw, err := regular.Read(files, name, mostOf(name))
	if err != nil {
		return nil, new(regular.Problem(name, err).AtFile(where))
	}
	switch path.Ext(name) {
	case ".html", ".css", ".js":
		return raw, nil
	}
	file, fault := asset.Look(name, raw)
	if fault != nil {
		return nil, new(atLine(fault, where, raw))
	}
	return file.Bytes, nil
}

// atLine reports a fault of a file at its line, if it has one.
func atLine(fault *asset.Fault, where string, raw []byte) source.Diagnostic {
	if fault.Line == 0 {
		return fault.AtFile(where)
	}
	f, _ := source.New(where, raw)
	start := 0
	for range fault.Line - 1 {
		start += strings.IndexByte(f.Text[start:], '\n') + 1
	}
	return fault.At(f.Span(start, start+len(f.Line(fault.Line))))
}

// notOfTheme says why a file or folder may not be in a theme's folder; nil if it may.
func notOfTheme(e fs.DirEntry) *source.Problem {
	name := e.Name()
	switch {
	case e.Type()&fs.ModeSymlink != 0:
		return new(source.ThemeFileLinked(name))
	case e.IsDir():
		return new(source.ThemeSubfolder(name))
	case name == safetyFile:
		return new(source.ThemeFixed(name))
	case renamedFiles[name] != "":
		return new(source.ThemeRenamed(name, renamedFiles[name]))
	case !e.Type().IsRegular() || !slices.Contains(themeEndings, path.Ext(name)):
		return new(source.ThemeHolds(name, strings.Join(themeEndings, " ")))
	}
	return nil
}

// mostTemplate bounds a template, in bytes: its parser recurses as deep as the template nests.
const mostTemplate = 256 << 10

func mostOf(name string) int64 {
	if path.Ext(name) == ".html" {
		return mostTemplate
	}
	return mostThemeBytes
}
