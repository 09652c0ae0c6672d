package write

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"labsite/recipes/page"
	"labsite/recipes/script"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/markdown"
	"labsite/render/theme"
	"labsite/render/work"
)

// scriptAddress is where a page's own script stands, beside the page.
func scriptAddress(p *work.Page) string {
	return strings.TrimSuffix(path.Base(p.Address()), ".html") + ".figures.js"
}

// linkScripts links a page, or its card, to the scripts that compute in the reader's browser.
func (p *pager) linkScripts(v *theme.Shell) {
	top := content.Up(p.page.Folder.Path)
	v.Units = p.collect(p.Theme.Units(theme.Units{First: p.Content.Settings.Units}))
	v.Scripts = append(v.Scripts, top+theme.MeasureFile)
	steps := len(p.page.Sheet.Steps) > 0
	if p.page.Script == nil {
		if steps && p.page.Proof != nil {
			v.Styles = append(v.Styles, top+theme.HandStyle, top+theme.ProcessStyle)
			v.Scripts = append(v.Scripts, top+theme.ProcessFile)
		}
		return
	}
	_, stamp, err := p.script()
	if err != nil {
		p.list = append(p.list, source.ScriptFails(err.Error()).At(p.page.File.Span(0, 3)))
		return
	}
	v.Styles = append(v.Styles, top+theme.HandStyle)
	v.Scripts = append(v.Scripts, top+theme.RuntimeFile, content.URLPath(scriptAddress(p.page)), top+theme.HandFile)
	// hand.js compares the stamps, so that a page never works with the script of another version
	v.Head = inHead(v.Head, template.HTML(`<meta name="figures" content="`+stamp+`">`))
}

// written is a page's script and its stamp.
type written struct {
	js    []byte
	stamp string
	err   error
}

// script returns a page's script and its stamp, written once for the page, its card and the file.
func (p *pager) script() (js []byte, stamp string, err error) {
	w, ok := p.scripted[p.page]
	if !ok {
		w.js, w.stamp, w.err = p.writeScript()
		p.scripted[p.page] = w
	}
	return w.js, w.stamp, w.err
}

// writeScript writes the formulas, then what is needed to show them and does not stand in the page's
// HTML.
func (p *pager) writeScript() (js []byte, stamp string, err error) {
	formulas, err := p.page.Script.Formulas()
	if err != nil {
		return nil, "", err
	}
	view := p.handView()
	sum := sha256.New()
	sum.Write(formulas)
	b, err := encode(view)
	if err != nil {
		return nil, "", err
	}
	sum.Write(b)
	sum.Write(runtimeSum())
	view.Stamp = hex.EncodeToString(sum.Sum(nil)[:8])
	if b, err = encode(view); err != nil {
		return nil, "", err
	}
	return append(append(append(slices.Clip(formulas), "var labsitePage = "...), b...), ";\n"...), view.Stamp, nil
}

// runtimeSum stands for the runtime in the stamps of pages.
var runtimeSum = sync.OnceValue(func() []byte {
	sum := sha256.Sum256(script.Runtime())
	return sum[:]
})

func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// handView is what a page's script says besides the formulas.
type handView struct {
	Stamp    string            `json:"stamp"`
	Title    string            `json:"title"`
	Revision string            `json:"revision,omitempty"` // "G-001 revision 3"
	Limits   map[string]string `json:"limits,omitempty"`   // HTML by "0", or "mix#0" for a page drawn on
	Charts   []handChart       `json:"charts,omitempty"`
	// Held says that today stays the day for which the page was made, as in the preview.
	Held bool `json:"held,omitempty"`
}

type handRun struct {
	Given  string    `json:"given"`
	Values []float64 `json:"values"`
}

type handChart struct {
	Name    string   `json:"name"`
	Caption string   `json:"caption,omitempty"` // HTML, if it places anything
	X       string   `json:"x,omitempty"`       // empty: only level lines, which stay as tested
	Y       []string `json:"y,omitempty"`
	Lines   *handRun `json:"lines,omitempty"`
	// Points is empty if no reader can move them.
	Points string `json:"points,omitempty"`
}

func (p *pager) handView() handView {
	t := p.page
	v := handView{Title: t.Title(), Limits: map[string]string{}, Held: p.Preview && t.Follows()}
	if c := t.Sheet.Control; c != nil {
		v.Revision = c.Number + " revision " + Revision(c)
	}
	said := func(h template.HTML) string { return string(h) }
	limit := func(key string, x theme.Limit) {
		v.Limits[key] = said(p.collect(p.Theme.Limits([]theme.Limit{x})))
	}
	kind := func(l *page.Limit) string {
		if l.Kind == page.Refuse {
			return "refused"
		}
		return string(l.Kind)
	}
	for i, l := range t.Sheet.Limits {
		limit(strconv.Itoa(i), theme.Limit{Kind: kind(l), Text: p.filler.html(p.texts.Limits[i], markdown.RenderOptions{})})
	}
	for _, part := range t.Sheet.Parts() {
		run := p.filler.run.At(part)
		if run == nil {
			continue
		}
		for i, l := range part.Sheet.Limits {
			limit(part.Name+"#"+strconv.Itoa(i), theme.Limit{Kind: kind(l), Text: p.elsewhere(run, l.Text), From: p.linkTo(part.Use)})
		}
	}
	// a refusal by a formula; the script puts the reason in
	v.Limits["refused"] = said(p.collect(p.refusal()))
	for _, c := range t.Sheet.Charts {
		live := c.Points != nil && c.Points.Live()
		if len(c.Y) > 0 || live || limitsMove(t.Sheet, c.Limits) { // otherwise no reader can change it
			v.Charts = append(v.Charts, p.handChart(c, live))
		}
	}
	return v
}

// handChart is what the script knows of a chart; live says that its points depend on what a reader
// sets.
func (p *pager) handChart(c *page.Chart, live bool) handChart {
	x := handChart{Name: c.Name, Lines: handRunOf(c.Lines)}
	if live {
		x.Points = "moved"
		if c.Limits != nil {
			x.Points = "judged" // the drawing stays that of the tested values
		}
	}
	if c.X != nil {
		x.X = c.X.Name
	}
	for _, f := range c.Y {
		x.Y = append(x.Y, f.Name)
	}
	caption := p.texts.Captions[c.Name]
	plain := p.filler.html(caption, markdown.RenderOptions{})
	if full := p.captionOf(plain, c.Y); len(caption.Bound) > 0 || full != plain {
		x.Caption = string(full)
	}
	return x
}

// handRunOf is a given and the values that it runs through; nil for no run.
func handRunOf(r *page.Run) *handRun {
	if r == nil {
		return nil
	}
	out := &handRun{Given: r.Given.Name}
	for _, x := range r.Values {
		out.Values = append(out.Values, x.Base)
	}
	return out
}

// refusal makes the limit that a script fills, once for all pages.
func (s *Site) refusal() (template.HTML, source.List) {
	s.refusing.Do(func() {
		s.refused, s.refusedSaid = s.Theme.Limits([]theme.Limit{{Kind: "refused", Text: "<p data-reason></p>"}})
	})
	return s.refused, s.refusedSaid
}

// limitsMove reports whether limits of measured points depend on a value that a reader can set.
func limitsMove(s *page.Sheet, l *page.ChartLimits) bool {
	if l == nil || l.Method != "" {
		return false // none, or worked out from the points themselves
	}
	for _, name := range []string{l.Aim, l.Action, l.Control} {
		if g := s.GivenNamed(name); g == nil || g.Settable() {
			return true
		}
	}
	return false
}

// Scripts puts a page's own script beside it, and those of its earlier revisions.
func (w *Writer) Scripts(full *work.Page, put Put) {
	if full == nil || full.Status() == page.Withdrawn || full.Sheet == nil {
		return
	}
	p := w.pager(full)
	p.earlierScripts(put)
	if full.Script == nil {
		return
	}
	b, _, err := p.script()
	if err != nil {
		return // reported where the page was made
	}
	put(path.Join(path.Dir(full.Address()), scriptAddress(full)), b, p.list)
}
