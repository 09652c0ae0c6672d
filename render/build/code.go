package build

import (
	"encoding/binary"
	"errors"
	"strings"
	"time"

	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
	"labsite/render/write"
)

// coder writes values one after another, or reads them back. One method for each type serves both
// directions, so that the two cannot disagree. Texts that are read share the memory of the input.
type coder struct {
	reading bool
	out     []byte
	in      string
	bad     bool // the input does not encode such a value
	// texts, if set, collects the bytes of all texts, and out holds the rest; apart is where such
	// texts are read back from.
	texts *strings.Builder
	apart string
}

var errCode = errors.New("not written by this program")

func (c *coder) number(n *int) {
	if !c.reading {
		c.out = binary.AppendVarint(c.out, int64(*n))
		return
	}
	var v uint64
	for i := 0; i < len(c.in) && i < binary.MaxVarintLen64; i++ {
		v |= uint64(c.in[i]&0x7f) << (7 * i)
		if c.in[i] < 0x80 {
			c.in = c.in[i+1:]
			*n = int(int64(v>>1) ^ -int64(v&1))
			return
		}
	}
	c.fail()
}

func (c *coder) fail() { c.bad, c.in = true, "" }

// many codes the length of a list. A length that exceeds what is left of the input is refused, so
// that a damaged file cannot ask for any amount of memory.
func (c *coder) many(n int) int {
	c.number(&n)
	if c.reading && (n < 0 || n > len(c.in)) {
		c.fail()
		return 0
	}
	return n
}

func (c *coder) bytes(n int) string {
	if n > len(c.in) {
		c.fail()
		return ""
	}
	text := c.in[:n]
	c.in = c.in[n:]
	return text
}

func (c *coder) text(s *string) {
	switch {
	case c.texts != nil:
		n := len(*s)
		c.number(&n)
		c.texts.WriteString(*s)
	case c.apart != "":
		n := 0
		if c.number(&n); n < 0 || n > len(c.apart) {
			c.fail()
			return
		}
		*s, c.apart = c.apart[:n], c.apart[n:]
	case c.reading:
		*s = c.bytes(c.many(0))
	default:
		c.many(len(*s))
		c.out = append(c.out, *s...)
	}
}

func (c *coder) flag(b *bool) {
	n := 0
	if *b {
		n = 1
	}
	c.number(&n)
	*b = n == 1
}

func (c *coder) sum(s *content.Sum) {
	if c.reading {
		copy(s[:], c.bytes(len(s)))
	} else {
		c.out = append(c.out, s[:]...)
	}
}

func (c *coder) digest(d *Digest) {
	if c.reading {
		copy(d[:], c.bytes(len(d)))
	} else {
		c.out = append(c.out, d[:]...)
	}
}

func (c *coder) moment(t *time.Time) {
	text := ""
	if !c.reading && !t.IsZero() {
		text = t.Format(time.RFC3339Nano)
	}
	c.text(&text)
	if c.reading && text != "" {
		at, err := time.Parse(time.RFC3339Nano, text)
		if *t = at; err != nil {
			c.fail()
		}
	}
}

// each codes a list.
func each[T any](c *coder, list *[]T, one func(*T)) {
	n := c.many(len(*list))
	if c.reading {
		*list = nil
		if n > 0 {
			*list = make([]T, n)
		}
	}
	for i := range *list {
		if c.bad {
			return
		}
		one(&(*list)[i])
	}
}

func (c *coder) diagnostics(list *source.List) {
	each(c, (*[]source.Diagnostic)(list), func(d *source.Diagnostic) {
		text, width, related := d.Kept()
		severity := string(d.Severity)
		for _, s := range []*string{&d.File, &severity, &d.Code, &d.Message, &d.Hint, &d.Repairs, &text, &related} {
			c.text(s)
		}
		for _, n := range []*int{&d.Line, &d.Column, &width} {
			c.number(n)
		}
		d.Severity = source.Severity(severity)
		*d = d.Restored(text, width, related)
	})
}

func (c *coder) verdict(v *work.Verdict) {
	c.sum(&v.Page)
	each(c, &v.Asked, func(a *work.Answer) {
		what := int(a.What)
		c.number(&what)
		a.What = work.What(what)
		c.text(&a.Name)
		c.sum(&a.Sum)
	})
	c.sum(&v.Sum)
	c.diagnostics(&v.List)
	c.flag(&v.Wrong)
	c.flag(&v.Unlisted)
	c.flag(&v.Trusted)
	c.sum(&v.Anchors)
	each(c, &v.Dues, c.moment)
	each(c, &v.Words.Bits, func(w *uint64) {
		n := int(*w)
		c.number(&n)
		*w = uint64(n)
	})
}

func (c *coder) listed(t *write.Listed) {
	each(c, &t.Calls, c.text)
	each(c, &t.Constants, func(x *write.Constant) {
		for _, s := range []*string{&x.Label, &x.Source, &x.Owner, &x.Kind, &x.Shown.Text} {
			c.text(s)
		}
		c.moment(&x.Due)
		c.number(&x.Line)
		bits := int(x.Bits)
		c.number(&bits)
		x.Bits = uint64(bits)
	})
	each(c, &t.Measured, func(x *write.Measured) {
		c.text(&x.File)
		c.number(&x.Line)
		c.text(&x.Said)
	})
	c.flag(&t.Guarded)
	c.flag(&t.HasCard)
	c.number(&t.Mutations.Noticed)
	c.number(&t.Mutations.Counted)
}

func (c *coder) trial(t *Trial) {
	for _, n := range []*int{&t.Figures, &t.Cases, &t.Refused} {
		c.number(n)
	}
	c.flag(&t.Sample)
	c.flag(&t.Proved)
	c.flag(&t.Readable)
	each(c, &t.Verdicts, func(v *Tried) {
		for _, s := range []*string{&v.Case, &v.What, &v.Expected, &v.Found, &v.Source} {
			c.text(s)
		}
		c.flag(&v.OK)
	})
}

// result codes what a publish or a check needs of a result. Only the preview compares numbers, so
// they are left out.
func (c *coder) result(r *Result) {
	c.verdict(&r.Verdict)
	c.listed(&r.Listed)
	c.text(&r.found)
	c.trial(&r.Trial)
	c.diagnostics(&r.Advice)
	c.diagnostics(&r.DataSaid)
	each(c, &r.Placings, c.text)
	c.flag(&r.mutationsTried)
	c.sum(&r.scriptSum)
	each(c, &r.written, c.written)
}

// compact copies a result so that its texts share a block of memory with nothing else in it. The
// originals are slices of the page's text and would keep all of that in memory.
func (r *Result) compact() *Result {
	var texts strings.Builder
	to := &coder{texts: &texts}
	to.result(r)
	from := &coder{reading: true, in: string(to.out), apart: texts.String()}
	out := &Result{Path: r.Path}
	if from.result(out); from.bad {
		return r
	}
	return out
}

func (c *coder) written(w *written) {
	c.text(&w.audience)
	c.sum(&w.key)
	each(c, &w.files, func(f *File) {
		c.text(&f.Address)
		c.digest(&f.Digest)
	})
}
