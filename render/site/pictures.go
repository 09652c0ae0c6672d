package site

import (
	"bytes"
	"encoding/xml"
	"image"
	_ "image/gif"  // measured, not shown
	_ "image/jpeg" // measured, not shown
	_ "image/png"  // measured, not shown
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/source"
	"labsite/render/markdown"
)

// picture is a picture or other file that pages place.
type picture struct {
	bytes         []byte
	width, height int
	uses          []use
	measured      bool
	unread, unfit *source.Problem // why it cannot be read, or not be shown
}

type use struct {
	topic *Topic
	at    source.Span
	shows bool // as a picture, not by a link
}

func (s *Site) checkPicture(t *Topic, p *markdown.Picture, report func(source.Problem, source.Span)) {
	if elsewhere(p.Destination) {
		report(source.PictureElsewhere(), p.Span)
		return
	}
	full, _, ok := t.target(p.Destination, p.Span, report)
	if ok {
		s.took(t, full, takesPlace)
	}
	if !ok || !s.checkFile(t, full, p.Span, report) {
		return
	}
	s.place(full, use{t, p.Span, true})
}

// place remembers that a file is placed by a page.
func (s *Site) place(full string, u use) {
	s.pictureMu.Lock()
	defer s.pictureMu.Unlock()
	p := s.pictures[full]
	if p == nil {
		p = &picture{}
		s.pictures[full] = p
	}
	p.uses = append(p.uses, u)
	if s.open != nil {
		if u.topic.state.placed == nil {
			u.topic.state.placed = map[string]bool{}
		}
		u.topic.state.placed[full] = true
	}
}

// readPictures reads the files that pages place and measures the pictures among them.
func (s *Site) readPictures() {
	for full, p := range s.pictures {
		s.readPicture(full, p)
		for _, u := range p.uses {
			p.tell(u)
		}
	}
}

// readPicture reads a placed file and, where a page shows it, measures it.
func (s *Site) readPicture(full string, p *picture) {
	if p.bytes == nil && p.unread == nil {
		raw, err := fs.ReadFile(s.content, full)
		if err != nil {
			problem := source.CannotRead(systemError(err))
			p.unread = &problem
			return
		}
		p.bytes = raw
	}
	shows := slices.ContainsFunc(p.uses, func(u use) bool { return u.shows })
	if shows && !p.measured && p.unread == nil {
		p.measured = true
		if problem, bad := p.measure(full); bad {
			p.unfit = &problem
		}
	}
}

// tell says to the page of a use what is wrong with the file.
func (p *picture) tell(u use) {
	switch {
	case p.unread != nil:
		u.topic.list = append(u.topic.list, p.unread.At(u.at))
	case p.unfit != nil && u.shows:
		u.topic.list = append(u.topic.list, p.unfit.At(u.at))
	}
}

// measure finds a picture's size in CSS pixels and refuses an SVG that does more than
// show itself.
func (p *picture) measure(full string) (source.Problem, bool) {
	if strings.EqualFold(path.Ext(full), ".svg") {
		return p.measureSVG(full)
	}
	c, _, err := image.DecodeConfig(bytes.NewReader(p.bytes))
	if err != nil {
		return source.PictureKind(full), true
	}
	p.width, p.height = c.Width, c.Height
	return source.Problem{}, false
}

// Elements that an SVG needs for shapes and text; all else is refused, so that no script,
// no style sheet and no address from elsewhere comes in with a picture.
var shapesOfSVG = map[string]bool{"svg": true, "g": true, "path": true, "rect": true, "circle": true, "ellipse": true,
	"line": true, "polyline": true, "polygon": true, "text": true, "tspan": true, "title": true, "desc": true,
	"defs": true, "linearGradient": true, "radialGradient": true, "stop": true, "clipPath": true, "mask": true,
	"marker": true, "pattern": true, "symbol": true, "use": true, "metadata": true}

func (p *picture) measureSVG(full string) (source.Problem, bool) {
	d := xml.NewDecoder(bytes.NewReader(p.bytes))
	d.Strict = true
	first := true
	for {
		token, err := d.Token()
		if token == nil && err != nil {
			if first || err.Error() != "EOF" {
				return source.PictureKind(full), true
			}
			return source.Problem{}, false
		}
		switch e := token.(type) {
		case xml.ProcInst:
			if e.Target != "xml" {
				return source.PictureUnsafe(full, "an instruction <?"+e.Target), true
			}
		case xml.Directive:
			return source.PictureUnsafe(full, "a document type or entity"), true
		case xml.StartElement:
			if first && e.Name.Local != "svg" {
				return source.PictureKind(full), true
			}
			if !shapesOfSVG[e.Name.Local] {
				return source.PictureUnsafe(full, "the element "+e.Name.Local), true
			}
			for _, a := range e.Attr {
				name := strings.ToLower(a.Name.Local)
				value := strings.ToLower(strings.TrimSpace(a.Value))
				switch {
				case strings.HasPrefix(name, "on"):
					return source.PictureUnsafe(full, "the script "+a.Name.Local), true
				case name == "href" && !strings.HasPrefix(value, "#"), name == "src":
					return source.PictureUnsafe(full, "an address, "+a.Value), true
				case strings.Contains(value, "url(") && !strings.Contains(value, "url(#"), strings.Contains(value, "javascript:"):
					return source.PictureUnsafe(full, "an address in "+a.Name.Local), true
				}
			}
			if first {
				p.width, p.height = svgSize(e)
			}
			first = false
		}
	}
}

func svgSize(e xml.StartElement) (width, height int) {
	number := func(text string) int {
		v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(text), "px"), 64)
		if err != nil || v <= 0 || v > 100000 {
			return 0
		}
		return int(v + 0.5)
	}
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "width":
			width = number(a.Value)
		case "height":
			height = number(a.Value)
		}
	}
	if width > 0 && height > 0 {
		return width, height
	}
	for _, a := range e.Attr {
		if a.Name.Local != "viewBox" {
			continue
		}
		if f := strings.FieldsFunc(a.Value, func(r rune) bool { return r == ' ' || r == ',' }); len(f) == 4 {
			return number(f[2]), number(f[3])
		}
	}
	return 0, 0
}
