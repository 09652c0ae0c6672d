package record

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"labsite/recipes/source"
)

// The keys of a record and of a step in it, in the order in which they are written.
var (
	recordKeys = []string{"record", "lab", "page", "number", "revision", "made", "saved", "settings", "readings", "figures", "steps", "events", "by", "drawn", "note"}
	stepKeys   = []string{"do", "planned", "begin", "end", "hold", "by", "drawn"}
)

// Drawn stands for initials that were drawn and not typed.
const Drawn = "drawn"

// drawing is what a drawing of initials may be: the path of an SVG, of straight lines only.
var drawing = regexp.MustCompile(`^(M\d{1,3} \d{1,3}(L\d{1,3} \d{1,3})+)+$`)

// MostSteps bounds the steps of a record.
const MostSteps = 500

// ahead is how far the clock of a device may be ahead of this machine's.
const ahead = 10 * time.Minute

// MostInitials is the most characters that initials may have.
const MostInitials = 12

// Read reads a record, whose moments may be at most ahead of now. The record is nil if the list
// holds an error.
func Read(f *source.File, now time.Time) (*Record, source.List) {
	if len(f.Text) > MostBytes {
		return nil, source.List{source.RecordTooLarge(MostBytes).AtFile(f.Path)}
	}
	top, wrong := parse(f)
	if wrong != nil {
		return nil, source.List{*wrong}
	}
	d := &decoder{file: f, now: now}
	r := d.record(top)
	if d.list.Errors() > 0 {
		return nil, d.list
	}
	return r, d.list
}

type decoder struct {
	file *source.File
	now  time.Time
	list source.List
}

func (d *decoder) report(p source.Problem, at source.Span) { d.list = append(d.list, p.At(at)) }

func (d *decoder) known(n *node, keys []string) {
	for i, k := range n.keys {
		if !slices.Contains(keys, k) {
			d.report(source.UnknownKey(k, source.Nearest(k, keys), keys), n.items[i].span)
		}
	}
}

func (d *decoder) record(n *node) *Record {
	d.known(n, recordKeys)
	start := d.file.Span(0, min(1, len(d.file.Text)))
	for _, key := range []string{"record", "page", "revision", "made", "settings"} {
		if x := n.get(key); x == nil || x.null {
			d.report(source.RecordLacks(key), start)
		}
	}
	if form := n.get("record"); form != nil && form.text != "1" {
		d.report(source.RecordNotRead("it is in form "+plain(form.text)+", and this program knows only form 1"), form.span)
	}
	if d.list.Errors() > 0 {
		return nil
	}
	r := &Record{At: start, Lab: d.text(n, "lab"), Page: d.text(n, "page"), Number: d.text(n, "number"), By: d.initials(n, "by"), Note: d.text(n, "note")}
	at := n.get("revision")
	whole, err := strconv.Atoi(at.text)
	if err != nil || whole < 0 {
		d.report(source.RecordNotRead("its revision is not a whole number"), at.span)
	}
	r.Revision = whole
	r.Made, r.Saved = d.moment(n, "made"), d.moment(n, "saved")
	r.Settings, r.Readings, r.Figures = d.named(n, "settings"), d.named(n, "readings"), d.named(n, "figures")
	d.steps(n, r)
	d.events(n)
	if !r.Saved.IsZero() && r.Saved.Before(r.Made.Time) {
		d.report(source.RecordTimes("it was saved at "+r.Saved.Value+",", "before it began"), r.Saved.Span)
	}
	return r
}

// text is the text of a key, on one line, without invisible characters.
func (d *decoder) text(n *node, key string) Text {
	x := n.get(key)
	switch {
	case x == nil || x.null:
		return Text{Span: n.span}
	case x.shape != '"':
		d.report(source.RecordNotRead(key+" is not a text"), x.span)
		return Text{Span: x.span}
	}
	return Text{plain(x.text), x.span}
}

func (d *decoder) initials(n *node, key string) Text {
	t := d.text(n, key)
	if utf8.RuneCountInString(t.Value) > MostInitials {
		d.report(source.RecordNotRead("initials have at most "+strconv.Itoa(MostInitials)+" characters"), t.Span)
	}
	if d.drawn(n) != (t.Value == Drawn) {
		d.report(source.RecordNotRead("initials are typed or drawn, and these are neither or both"), t.Span)
	}
	return t
}

// drawn reports whether there is a drawing of initials, and checks its form.
func (d *decoder) drawn(n *node) bool {
	x := n.get("drawn")
	if x == nil || x.null {
		return false
	}
	if x.shape != '"' || !drawing.MatchString(x.text) {
		d.report(source.RecordNotRead("a drawing of initials may hold only straight lines"), x.span)
	}
	return true
}

func plain(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(c rune) rune {
		if unicode.IsControl(c) || unicode.Is(unicode.Cf, c) {
			return ' '
		}
		return c
	}, text)), " ")
}

func (d *decoder) moment(n *node, key string) Moment {
	t := d.text(n, key)
	if t.Value == "" {
		return Moment{Text: t}
	}
	m, err := time.Parse(time.RFC3339Nano, t.Value)
	switch {
	case err != nil || m.Year() < 2000:
		d.report(source.RecordTimes(key+" is "+t.Value+",", "which is not a moment like 2026-11-28T14:05:09+01:00"), t.Span)
		return Moment{Text: t}
	case m.After(d.now.Add(ahead)):
		d.report(source.RecordTimes(key+" is "+t.Value+",", "which is still to come"), t.Span)
	}
	return Moment{m, t}
}

func (d *decoder) named(n *node, key string) (out []Named) {
	x := n.get(key)
	if x == nil || x.null {
		return nil
	}
	if x.shape != '{' {
		d.report(source.RecordNotRead(key+" is not a set of named values"), x.span)
		return nil
	}
	for i, name := range x.keys {
		if item := x.items[i]; item.shape == '"' {
			out = append(out, Named{name, Text{plain(item.text), item.span}})
		} else {
			d.report(source.RecordNotRead(name+" is not a value"), item.span)
		}
	}
	return out
}

func (d *decoder) steps(n *node, r *Record) {
	x := n.get("steps")
	if x == nil || x.null {
		return
	}
	if x.shape != '[' || len(x.items) > MostSteps {
		d.report(source.RecordNotRead("its steps are not a list of at most "+strconv.Itoa(MostSteps)), x.span)
		return
	}
	last := r.Made
	for _, item := range x.items {
		if item.shape != '{' {
			d.report(source.RecordNotRead("one of its steps is not a set of keys"), item.span)
			return
		}
		d.known(item, stepKeys)
		s := Step{Do: d.text(item, "do"), Planned: -1, Begin: d.moment(item, "begin"), End: d.moment(item, "end"), Hold: d.text(item, "hold").Value, By: d.initials(item, "by").Value, At: item.span}
		if p := item.get("planned"); p != nil && !p.null {
			v, err := strconv.ParseFloat(p.text, 64)
			if err != nil || v < 0 || math.IsInf(v, 0) || math.IsNaN(v) {
				d.report(source.RecordNotRead("how long a step should take is not a number of seconds"), p.span)
			}
			s.Planned = v
		}
		last = d.follows(s, last)
		r.Steps = append(r.Steps, s)
	}
}

// follows checks that the moments of a step do not come before earlier ones, and gives the latest.
func (d *decoder) follows(s Step, last Moment) Moment {
	switch {
	case !s.Begin.IsZero() && s.Begin.Before(last.Time):
		d.report(source.RecordTimes(s.Do.Value+" began at "+s.Begin.Value+",", "earlier than the moment before it, "+last.Value), s.Begin.Span)
	case s.Begin.IsZero() && !s.End.IsZero():
		d.report(source.RecordTimes(s.Do.Value+" ended at "+s.End.Value+",", "but never began"), s.End.Span)
	case !s.End.IsZero() && s.End.Before(s.Begin.Time):
		d.report(source.RecordTimes(s.Do.Value+" ended at "+s.End.Value+",", "before it began"), s.End.Span)
	}
	for _, m := range []Moment{s.Begin, s.End} {
		if m.After(last.Time) {
			last = m
		}
	}
	return last
}

// events checks what happened besides the steps: pauses, a changed clock. It is only checked,
// since the file that the page keeps has no place for it.
func (d *decoder) events(n *node) {
	x := n.get("events")
	if x == nil || x.null {
		return
	}
	if x.shape != '[' {
		d.report(source.RecordNotRead("its events are not a list"), x.span)
		return
	}
	for _, item := range x.items {
		if item.shape != '{' {
			d.report(source.RecordNotRead("one of its events is not a set of keys"), item.span)
			return
		}
		d.known(item, []string{"at", "what"})
		d.moment(item, "at")
		d.text(item, "what")
	}
}
