package theme

import (
	"errors"
	"html/template"
	"io/fs"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// The engine reports errors as text: where, and what. These patterns take the text apart; a text that
// matches none is passed on as it is.
var (
	engineError   = regexp.MustCompile(`(?s)^(?:html/)?template: ?([^:\s]+):(\d+)(?::(\d+))?: (.*)$`)
	executing     = regexp.MustCompile(`(?s)^executing ".*?" at <(.*?)>: (.*)$`)
	noFunction    = regexp.MustCompile(`^function "(.*)" not defined$`)
	noField       = regexp.MustCompile(`^can't evaluate field (\S+) in type (\S+)$`)
	nilPointer    = regexp.MustCompile(`^nil pointer evaluating \S+?\.(\S+)$`)
	noTemplate    = regexp.MustCompile(`^(?:no such template "(.*)"|template "(.*)" not defined)$`)
	engineBuiltIn = []string{"and", "call", "eq", "ge", "gt", "html", "index", "js", "le", "len", "lt", "ne", "not", "or", "print", "printf", "println", "slice", "urlquery"}
)

// tooMuch is the code of the error of a template that was stopped.
var tooMuch = source.ThemeTooMuch("").Code

// explain turns an error of the template engine into a diagnostic at its place. name is the template
// that was to be filled; the error may lie in one that it calls.
func (t *Templates) explain(name string, err error) source.Diagnostic {
	text := err.Error()
	file := t.files[name]
	var over *overspent
	if errors.As(err, &over) {
		return source.ThemeTooMuch(over.what).At(over.in)
	}
	line, column := 0, -1
	if m := engineError.FindStringSubmatch(text); m != nil {
		if f := t.files[m[1]]; f != nil {
			file = f
		}
		line, _ = strconv.Atoi(m[2])
		if m[3] != "" {
			column, _ = strconv.Atoi(m[3])
		}
		text = m[4]
	}
	var unsafe *template.Error
	if errors.As(err, &unsafe) && unsafe.ErrorCode != template.ErrNoSuchTemplate {
		if f := t.files[unsafe.Name]; f != nil {
			file = f
		}
		if unsafe.Line > 0 {
			line = unsafe.Line
		}
		return source.ThemeUnsafe(unsafe.Description).At(place(file, line, column))
	}
	if m := executing.FindStringSubmatch(text); m != nil {
		return t.runProblem(m[1], m[2]).At(place(file, line, column))
	}
	if m := noFunction.FindStringSubmatch(text); m != nil {
		return source.ThemeFunction(m[1], source.Nearest(m[1], engineBuiltIn)).At(placeOf(file, line, m[1]))
	}
	return source.ThemeSyntax(text).At(place(file, line, column))
}

func (t *Templates) runProblem(action, text string) source.Problem {
	if m := noField.FindStringSubmatch(text); m != nil {
		view := m[2][strings.LastIndexAny(m[2], ".*")+1:]
		fields := fieldsOf(view)
		meant := renamedField(m[1], fields)
		if meant == "" {
			meant = source.Nearest(m[1], fields)
		}
		return source.ThemeField("."+m[1], view, dotted(meant))
	}
	if m := nilPointer.FindStringSubmatch(text); m != nil {
		return source.ThemeEmpty("." + m[1])
	}
	if m := noTemplate.FindStringSubmatch(text); m != nil {
		return source.ThemeTemplate(m[1]+m[2], t.nearest(m[1]+m[2]))
	}
	return source.ThemeRun(text + " at " + action)
}

// place is the span of the word at a column, in bytes counted from 0, or of the whole line if the
// column is -1.
func place(file *source.File, line, column int) source.Span {
	if line < 1 {
		return file.Span(0, 0)
	}
	start := file.Offset(line)
	end := start + len(file.Line(line))
	if column < 0 {
		return file.Span(start, end)
	}
	at := min(start+column, end)
	word := at
	for word < end && (file.Text[word] == '.' || file.Text[word] == '_' || isWord(file.Text[word])) {
		word++
	}
	return file.Span(at, max(word, min(at+1, len(file.Text))))
}

func placeOf(file *source.File, line int, word string) source.Span {
	whole := place(file, line, -1)
	if i := strings.Index(file.Text[whole.Start:whole.End], word); i >= 0 {
		return file.Span(whole.Start+i, whole.Start+i+len(word))
	}
	return whole
}

func isWord(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9'
}

func dotted(name string) string {
	if name == "" {
		return ""
	}
	return "." + name
}

// fieldsOf lists the fields and methods of the view with a name.
func fieldsOf(view string) []string {
	var names []string
	seen := map[reflect.Type]bool{}
	var look func(reflect.Type)
	look = func(r reflect.Type) {
		for r.Kind() == reflect.Pointer || r.Kind() == reflect.Slice {
			r = r.Elem()
		}
		if r.Kind() != reflect.Struct || seen[r] {
			return
		}
		seen[r] = true
		if r.Name() == view {
			for _, f := range reflect.VisibleFields(r) {
				names = append(names, f.Name)
			}
			for i := range r.NumMethod() {
				names = append(names, r.Method(i).Name)
			}
		}
		for i := range r.NumField() {
			look(r.Field(i).Type)
		}
	}
	for _, v := range topViews {
		look(reflect.TypeOf(v.data))
	}
	return names
}

// plainError is the reason of a file error without the path, which the diagnostic already has.
func plainError(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}
