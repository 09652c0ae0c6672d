package site

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"labsite/recipes/script"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/markdown"
	"labsite/themes"
)

// Files of the scripts. Those of the theme are its assets.
const (
	runtimeFile = "figures.js" // works formulas out
	handFile    = "hand.js"    // controls, and everything that follows them; the run sheet
	handStyle   = "hand.css"   // their look
	processFile = "process.js" // run sheet of a page without controls
	measureFile = "measure.js" // metric and US units
)

// Scripts that are written in parts, a file an idea, in a folder of the theme: readers load
// one script. The parts of a folder share the names outside their functions.
var scriptParts = map[string][]string{
	"hand":    {"page.js", "texts.js", "steps.js", "tables.js", "charts.js", "address.js", "controls.js", "start.js"},
	"process": {"run.js", "sheet.js", "signals.js", "start.js"},
}

// joinedScripts are made of those folders. A page that computes has its run sheet in the
// same file, which compresses to less than two; a page with steps alone has no hand.
var joinedScripts = map[string][]string{
	handFile:    {"hand", "process"},
	processFile: {"process"},
}

// joinedScript joins the parts, those of a folder in a function that keeps their names from
// other scripts.
func joinedScript(name string) ([]byte, error) {
	var out []byte
	for _, folder := range joinedScripts[name] {
		out = append(out, "(function () {\n'use strict';\n"...)
		for _, part := range scriptParts[folder] {
			b, err := themes.Files.ReadFile(path.Join(folder, part))
			if err != nil {
				return nil, err
			}
			out = append(append(out, b...), '\n')
		}
		out = append(out, "})();\n"...)
	}
	return out, nil
}

// scriptAddress is where a page's own script stands, beside it.
func scriptAddress(t *Topic) string {
	return strings.TrimSuffix(path.Base(t.Address()), ".html") + ".figures.js"
}

// handled gives a page, or its card, what makes it compute in the reader's browser.
func (p *pager) handled(v *Shell) {
	top := up(p.topic.Folder.Path)
	v.Units = p.keep(p.site.templates.Units(Units{First: p.site.Settings.Units}))
	v.Scripts = append(v.Scripts, top+measureFile)
	steps := len(p.topic.Sheet.Steps) > 0
	if p.topic.leaf == nil {
		if steps && p.topic.Proof != nil {
			v.Styles = append(v.Styles, top+handStyle)
			v.Scripts = append(v.Scripts, top+processFile)
		}
		return
	}
	_, stamp, err := p.script()
	if err != nil {
		p.list = append(p.list, source.ScriptFails(err.Error()).At(p.topic.File.Span(0, 3)))
		return
	}
	v.Styles = append(v.Styles, top+handStyle)
	v.Scripts = append(v.Scripts, top+runtimeFile, urlPath(scriptAddress(p.topic)), top+handFile)
	// A page and a script of two versions never work together: hand.js compares the stamps.
	v.Head = inHead(v.Head, template.HTML(`<meta name="figures" content="`+stamp+`">`))
}

// written is a page's script and its stamp.
type written struct {
	js    []byte
	stamp string
	err   error
}

// script gives a page's script and its stamp: once for the page, its card and the file.
func (p *pager) script() (js []byte, stamp string, err error) {
	found, ok := p.renderer.scripted.Load(p.topic)
	if !ok {
		var w written
		w.js, w.stamp, w.err = p.writeScript()
		p.renderer.scripted.Store(p.topic, w)
		return w.js, w.stamp, w.err
	}
	w := found.(written)
	return w.js, w.stamp, w.err
}

// writeScript writes the formulas, then what the page shows of them that its HTML does
// not say.
func (p *pager) writeScript() (js []byte, stamp string, err error) {
	formulas, err := p.topic.leaf.formulas(p.topic)
	if err != nil {
		return nil, "", err
	}
	view := p.leafView()
	sum := sha256.New()
	sum.Write(formulas)
	b, err := encode(view)
	if err != nil {
		return nil, "", err
	}
	sum.Write(b)
	sum.Write(script.Runtime)
	view.Stamp = hex.EncodeToString(sum.Sum(nil)[:8])
	if b, err = encode(view); err != nil {
		return nil, "", err
	}
	return append(append(append(slices.Clip(formulas), "var labsitePage = "...), b...), ";\n"...), view.Stamp, nil
}

func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// page is what the topic's script is written from; its leaf is not nil.
func (t *Topic) page() script.Page { return script.Page{Sheet: t.Sheet, Placed: t.leaf.placed} }

// leafView is what a page's script says beside the formulas.
type leafView struct {
	Stamp    string            `json:"stamp"`
	Title    string            `json:"title"`
	Revision string            `json:"revision,omitempty"` // "G-001 revision 3"
	Limits   map[string]string `json:"limits,omitempty"`   // HTML by "0", or "mix#0" for a page drawn on
	Charts   []leafChart       `json:"charts,omitempty"`
}

type leafRun struct {
	Given  string    `json:"given"`
	Values []float64 `json:"values"`
}

type leafChart struct {
	Name    string   `json:"name"`
	Caption string   `json:"caption,omitempty"` // HTML, where it places anything
	X       string   `json:"x,omitempty"`       // empty: lines across alone, which stay as tested
	Y       []string `json:"y,omitempty"`
	Lines   *leafRun `json:"lines,omitempty"`
}

func (p *pager) leafView() leafView {
	t := p.topic
	v := leafView{Title: t.Title(), Limits: map[string]string{}}
	if c := t.Sheet.Control; c != nil {
		v.Revision = c.Number + " revision " + revision(c)
	}
	said := func(h template.HTML) string { return string(h) }
	limit := func(key string, x Limit) {
		v.Limits[key] = said(p.keep(p.site.templates.Limits([]Limit{x})))
	}
	kind := func(l *sheet.Limit) string {
		if l.Kind == sheet.Refuse {
			return "refused"
		}
		return string(l.Kind)
	}
	for i, l := range t.Sheet.Limits {
		limit(strconv.Itoa(i), Limit{Kind: kind(l), Text: p.fill.html(p.b.limits[i], markdown.RenderOptions{})})
	}
	everyUse(t.Sheet, func(u *sheet.Use, name string, base int) {
		run := insideAt(p.fill.run, base)
		if run == nil {
			return
		}
		for i, l := range u.Sheet.Limits {
			limit(name+"#"+strconv.Itoa(i), Limit{Kind: kind(l), Text: p.elsewhere(run, l.Text), From: p.linkTo(u)})
		}
	})
	// a refusal that no limit speaks of; the script puts the reason in
	limit("refused", Limit{Kind: "refused", Text: "<p data-reason></p>"})
	run := func(r *sheet.Run) *leafRun {
		if r == nil {
			return nil
		}
		out := &leafRun{Given: r.Given.Name}
		for _, x := range r.Values {
			out.Values = append(out.Values, x.Base)
		}
		return out
	}
	for _, c := range t.Sheet.Charts {
		if len(c.Y) == 0 && !limitsMove(t.Sheet, c.Limits) {
			continue // measured points, and limits that no reader can change
		}
		x := leafChart{Name: c.Name, Lines: run(c.Lines)}
		if c.X != nil {
			x.X = c.X.Name
		}
		for _, f := range c.Y {
			x.Y = append(x.Y, f.Name)
		}
		if caption := p.b.captions[c.Name]; len(caption.bound) > 0 {
			x.Caption = said(p.fill.html(caption, markdown.RenderOptions{}))
		}
		v.Charts = append(v.Charts, x)
	}
	return v
}

// limitsMove tells whether limits of measured points follow a value that a reader can set.
func limitsMove(s *sheet.Sheet, l *sheet.ChartLimits) bool {
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

// insideAt is the case of the page drawn on whose values begin at base; nil for none.
func insideAt(c *sheet.Case, base int) *sheet.Case {
	for _, u := range c.Sheet.Uses {
		inner := c.Inside(u)
		if inner == nil || base < u.Base || base >= u.Base+u.Slots {
			continue
		}
		if base == u.Base {
			return inner
		}
		return insideAt(inner, base-u.Base)
	}
	return nil
}

// scripts puts a page's own script beside it.
func (r *renderer) scripts(t *Topic, put func(name string, b []byte, l source.List)) {
	if t == nil || t.leaf == nil || t.Status() == sheet.Withdrawn {
		return
	}
	p := r.pager(t)
	b, _, err := p.script()
	if err != nil {
		return // told where the page was made
	}
	put(path.Join(path.Dir(t.Address()), scriptAddress(t)), b, p.list)
}

// formulaRuntime is the runtime as it is published.
var formulaRuntime = sync.OnceValue(func() []byte { return slim(runtimeFile, script.Runtime) })

// engine is the runtime that readers load, for the referees of Agree.
var engine = sync.OnceValues(func() (script.Engine, error) { return script.Compile(formulaRuntime()) })

// Agree runs the script of every page of the audience at the page's own values and at
// those of its checks, and reports where it differs from what was worked out here: what a
// reader's browser computes is what was tested.
func (s *Site) Agree(ctx context.Context, a sheet.Audience) source.List {
	var topics []*Topic
	for _, t := range s.Topics {
		if t.leaf != nil && t.shownTo(a) && t.Status() != sheet.Withdrawn {
			topics = append(topics, t)
		}
	}
	if len(topics) == 0 {
		return nil
	}
	var mu sync.Mutex
	var list source.List
	report := func(l source.List) {
		mu.Lock()
		defer mu.Unlock()
		list = append(list, l...)
	}
	// An engine takes as long to start as a few pages take to run, so a small site has one.
	engines := min(workers, 1+len(topics)/16)
	var next atomic.Int32
	each(ctx, engines, func(int) {
		var referee *script.Referee
		e, err := engine()
		if err == nil {
			referee, err = e.Referee()
		}
		for {
			i := int(next.Add(1)) - 1 // one page takes ten times as long as another
			if i >= len(topics) || ctx.Err() != nil {
				return
			}
			t := topics[i]
			var js []byte
			if err == nil {
				js, err = t.leaf.formulas(t)
			}
			if err != nil {
				report(source.List{source.ScriptFails(err.Error()).At(t.File.Span(0, 3))})
				return
			}
			report(referee.Agree(t.page(), js))
		}
	})
	return list.Sorted()
}
