package asset

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// What a drawing may hold. A shape counts each time that it is drawn: in a chain of ten that each
// use the next one twice, the last is drawn 512 times.
const (
	mostElements = 50_000
	mostDepth    = 256
	mostDrawn    = 200_000
)

const nameOfSVG = "http://www.w3.org/2000/svg"

// shapesOfSVG are the elements that a drawing needs for shapes and text; all others are refused, so
// that no script, style sheet or outside address comes in with it.
var shapesOfSVG = map[string]bool{"svg": true, "g": true, "path": true, "rect": true, "circle": true, "ellipse": true,
	"line": true, "polyline": true, "polygon": true, "text": true, "tspan": true, "title": true, "desc": true,
	"defs": true, "linearGradient": true, "radialGradient": true, "stop": true, "clipPath": true, "mask": true,
	"marker": true, "pattern": true, "symbol": true, "use": true}

// lookSVG judges a drawing. Comments and metadata, which show nothing and often name a person or a
// folder, are cut out; the rest is judged again, as it will be published.
func lookSVG(name, _ string, raw []byte) (File, *Fault) {
	first := judgeOf(name, raw, true)
	if first.wrong != nil {
		return File{}, first.wrong
	}
	if len(first.cuts) == 0 {
		return File{raw, first.width, first.height}, nil
	}
	var out []byte
	at := int64(0)
	for _, c := range first.cuts {
		out = append(out, raw[at:c[0]]...)
		at = c[1]
	}
	out = append(out, raw[at:]...)
	second := judgeOf(name, out, false)
	if second.wrong != nil {
		return File{}, second.wrong
	}
	return File{out, second.width, second.height}, nil
}

// svgJudge goes through a drawing once.
type svgJudge struct {
	name          string
	raw           []byte
	decoder       *xml.Decoder
	mayCut        bool
	cuts          [][2]int64 // parts of raw to leave out, in order
	hidden        int        // how many elements deep in metadata
	from          int64      // where the outermost metadata begins
	at            int64      // where the token begins
	open          []*shape
	elements      int
	root          *shape
	byID          map[string]*shape
	width, height int
	wrong         *Fault
}

// shape is an element, with what is inside it and what it refers to.
type shape struct {
	inside []*shape
	refers []string
	drawn  int // how many elements it draws, once known; -1 while it is counted
}

func judgeOf(name string, raw []byte, mayCut bool) *svgJudge {
	j := &svgJudge{name: name, raw: raw, decoder: xml.NewDecoder(bytes.NewReader(raw)), mayCut: mayCut, byID: map[string]*shape{}}
	for j.wrong == nil {
		j.at = j.decoder.InputOffset()
		token, err := j.decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			j.broken(err)
			break
		}
		j.token(token)
	}
	if j.wrong == nil && j.root == nil {
		j.refuse(source.FileNoForm(name, "SVG"))
	}
	if j.wrong == nil && j.count(j.root) > mostDrawn {
		j.refuse(source.PictureUnsafe(name, "references that draw more than 200,000 shapes, or draw themselves", 0))
		j.wrong.Line = 1
	}
	return j
}

// broken reports an error of the XML reader, at the line that it names.
func (j *svgJudge) broken(err error) {
	line, why := j.line(), strings.TrimPrefix(err.Error(), "xml: ")
	if e, ok := errors.AsType[*xml.SyntaxError](err); ok {
		line, why = e.Line, e.Msg+" (line "+strconv.Itoa(e.Line)+")"
	}
	j.wrong = &Fault{source.FileBroken(j.name, "SVG", why), line}
}

func (j *svgJudge) line() int { return 1 + bytes.Count(j.raw[:j.at], []byte("\n")) }

func (j *svgJudge) refuse(p source.Problem) { j.wrong = &Fault{p, j.line()} }

func (j *svgJudge) unsafe(what string) {
	j.refuse(source.PictureUnsafe(j.name, what, j.line()))
}

func (j *svgJudge) token(token xml.Token) {
	switch e := token.(type) {
	case xml.ProcInst:
		if e.Target != "xml" {
			j.unsafe("an instruction <?" + e.Target)
		}
	case xml.Directive:
		j.unsafe("a document type or entity (<!" + firstWord(string(e)) + ")")
	case xml.Comment:
		if j.hidden == 0 {
			j.cut(j.at)
		}
	case xml.StartElement:
		j.start(e)
	case xml.EndElement:
		if j.hidden > 0 {
			if j.hidden--; j.hidden == 0 {
				j.cut(j.from)
			}
			return
		}
		j.open = j.open[:len(j.open)-1]
	}
}

// cut leaves out everything from an offset to where the reader is.
func (j *svgJudge) cut(from int64) {
	if !j.mayCut {
		j.refuse(source.FileBroken(j.name, "SVG", errStructure.Error()))
		return
	}
	j.cuts = append(j.cuts, [2]int64{from, j.decoder.InputOffset()})
}

func (j *svgJudge) start(e xml.StartElement) {
	if j.elements++; j.elements > mostElements || len(j.open)+j.hidden > mostDepth {
		j.unsafe("more than 50,000 elements, or more than 256 within one another")
		return
	}
	if j.hidden > 0 {
		j.hidden++
		return
	}
	inSVG := e.Name.Space == nameOfSVG
	switch {
	case j.root == nil && e.Name.Local == "svg" && !inSVG:
		j.refuse(source.PictureNameless(j.name, j.line()))
		return
	case j.root == nil && e.Name.Local != "svg":
		j.refuse(source.FileNoForm(j.name, "SVG"))
		return
	case j.root != nil && len(j.open) == 0:
		j.refuse(source.FileBroken(j.name, "SVG", "there is more after its end"))
		return
	case inSVG && e.Name.Local == "metadata" && len(j.open) > 0:
		j.hidden, j.from = 1, j.at
		return
	case !inSVG || !shapesOfSVG[e.Name.Local]:
		j.unsafe("the element " + e.Name.Local)
		return
	}
	s := &shape{}
	for _, a := range e.Attr {
		if what := s.attribute(a); what != "" {
			j.unsafe(what)
			return
		}
		if a.Name.Local == "id" {
			j.byID[a.Value] = s
		}
	}
	if j.root == nil {
		j.root = s
		j.width, j.height = svgSize(e)
	} else {
		over := j.open[len(j.open)-1]
		over.inside = append(over.inside, s)
	}
	j.open = append(j.open, s)
}

// attribute notes what an attribute refers to within the drawing, and says what is unsafe about it;
// "" if nothing is.
func (s *shape) attribute(a xml.Attr) string {
	local := strings.ToLower(a.Name.Local)
	switch a.Name.Space {
	case "xmlns", "": // declaring a namespace does nothing by itself
		if a.Name.Space == "xmlns" || local == "xmlns" {
			return ""
		}
	case "http://www.w3.org/1999/xlink", "http://www.w3.org/XML/1998/namespace":
	default:
		return "the attribute " + a.Name.Local + " of the program that made it"
	}
	switch {
	case strings.HasPrefix(local, "on"):
		return "the script " + a.Name.Local
	case local == "href":
		id, inside := strings.CutPrefix(strings.TrimSpace(a.Value), "#")
		if !inside {
			return "an address, " + shortened(a.Value)
		}
		s.refers = append(s.refers, id)
	case local == "src" || local == "base":
		return "an address, " + shortened(a.Value)
	case !s.staysWithin(a.Value):
		return "an address in " + a.Name.Local
	}
	return ""
}

// loading lists what loads something from a style, or from an attribute that is read as one.
var loading = []string{"javascript:", "data:", "image(", "image-set(", "src(", "cross-fade(", "element(", "paint(", "expression(", "@import", "-moz-binding", "behavior:"}

// staysWithin reports whether a value refers to nothing outside the drawing, and notes what it does
// refer to. A backslash is refused, since a style can spell any of these words with it.
func (s *shape) staysWithin(value string) bool {
	low := asciiLower(value) // of the same length, so that offsets agree
	if strings.Contains(low, `\`) || slices.ContainsFunc(loading, func(word string) bool { return strings.Contains(low, word) }) {
		return false
	}
	for {
		i := strings.Index(low, "url(")
		if i < 0 {
			return true
		}
		low, value = low[i+4:], value[i+4:]
		id, inside := strings.CutPrefix(strings.TrimLeft(value, " \t\r\n'\""), "#")
		if !inside {
			return false
		}
		if end := strings.IndexAny(id, "'\") \t\r\n"); end >= 0 {
			id = id[:end]
		}
		s.refers = append(s.refers, id)
	}
}

func asciiLower(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return r + 'a' - 'A'
		}
		return r
	}, text)
}

// count is how many elements a shape draws, with those that it refers to, at most one more than
// mostDrawn. One that draws itself counts as that many.
func (j *svgJudge) count(s *shape) int {
	switch {
	case s == nil:
		return 0
	case s.drawn < 0:
		return mostDrawn + 1
	case s.drawn > 0:
		return s.drawn
	}
	s.drawn = -1
	n := 1
	for _, in := range s.inside {
		n = min(mostDrawn+1, n+j.count(in))
	}
	for _, id := range s.refers {
		n = min(mostDrawn+1, n+j.count(j.byID[id]))
	}
	s.drawn = n
	return n
}

func firstWord(text string) string {
	word, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	return shortened(word)
}

// shortened keeps a message short, whatever a file holds.
func shortened(text string) string {
	if runes := []rune(text); len(runes) > 60 {
		return string(runes[:60]) + "…"
	}
	return text
}

// svgSize is the size that a drawing states, in CSS pixels; 0 if it states none.
func svgSize(e xml.StartElement) (width, height int) {
	number := func(text string) int {
		v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(text), "px"), 64)
		if err != nil || v <= 0 || v > 100000 {
			return 0
		}
		return int(v + 0.5)
	}
	of := func(name string) string {
		for _, a := range e.Attr {
			if a.Name.Space == "" && a.Name.Local == name {
				return a.Value
			}
		}
		return ""
	}
	width, height = number(of("width")), number(of("height"))
	if width > 0 && height > 0 {
		return width, height
	}
	if f := strings.FieldsFunc(of("viewBox"), func(r rune) bool { return r == ' ' || r == ',' }); len(f) == 4 {
		return number(f[2]), number(f[3])
	}
	return 0, 0
}
