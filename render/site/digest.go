package site

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"io"
	"slices"
	"strings"
	"time"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/render/search"
)

// digest is what the whole site's pages (search, register, bench formulas, feed, site map)
// tell of one page. A site that follows its folder keeps it of every page, and holds only a
// few pages in full.
type digest struct {
	calls     []string // the bench formulas that its figures call, whether there are such or not
	constants []constant
	guarded   bool
	found     []byte // what it is found by, packed
}

// constant is a value that the lab owns and no reader can set.
type constant struct {
	label, source, owner string
	shown                quantity.Shown
	due                  time.Time // zero where it is never reviewed
}

// digestOf gives the digest of a page, and makes it where there is none yet.
func (s *Site) digestOf(t *Topic) *digest {
	if s.open == nil {
		return s.makeDigest(t, false)
	}
	if t.state.digest == nil {
		s.ready(t)
		made := &digest{}
		t.guarded(func() { made = s.makeDigest(t, true) })
		t.state.digest = made
		s.trim()
	}
	return t.state.digest
}

// makeDigest reads the digest off a page that is held in full; one with errors may have
// little to tell.
func (s *Site) makeDigest(t *Topic, find bool) *digest {
	d := &digest{}
	if t.Sheet == nil || t.values == nil {
		return d
	}
	for _, f := range t.Sheet.Figures {
		if f.Formula == nil {
			continue
		}
		for _, x := range f.Formula.Tokens() {
			if name := f.Formula.Normal()[x.Start:x.End]; x.Kind == formula.Function && !slices.Contains(d.calls, name) {
				d.calls = append(d.calls, strings.Clone(name))
			}
		}
	}
	for _, g := range t.Sheet.Given {
		if g.Owner == "" || g.Settable() || !g.Known() {
			continue
		}
		due, _ := s.constantDue(t, g)
		d.constants = append(d.constants, constant{labelOf(g.Label, g.Name), g.Source, g.Owner, g.Shown(g.Own), due})
	}
	d.guarded = guarded(t)
	if find {
		r := &renderer{site: s, audience: sheet.Staff}
		d.found = s.open.packer.pack(r.entry(t))
	}
	return d
}

// packer packs what pages are found by: a large site has a great deal of it, and it is read
// only when somebody searches.
type packer struct {
	out bytes.Buffer
	to  *flate.Writer
}

func (k *packer) pack(p search.Page) []byte {
	k.out.Reset()
	if k.to == nil {
		k.to, _ = flate.NewWriter(&k.out, flate.BestSpeed)
	} else {
		k.to.Reset(&k.out)
	}
	var head []byte
	for _, x := range p.Passages {
		head = append(head[:0], byte(x.Field))
		head = binary.AppendUvarint(head, uint64(len(x.Anchor)))
		head = binary.AppendUvarint(head, uint64(len(x.Text)))
		k.to.Write(head) // into memory: it cannot fail
		io.WriteString(k.to, x.Anchor)
		io.WriteString(k.to, x.Text)
	}
	k.to.Close()
	return bytes.Clone(k.out.Bytes())
}

func unpack(packed []byte) (out []search.Passage) {
	raw, _ := io.ReadAll(flate.NewReader(bytes.NewReader(packed)))
	text := string(raw)
	for len(raw) > 0 {
		x := search.Passage{Field: search.Field(raw[0])}
		anchor, a := binary.Uvarint(raw[1:])
		words, b := binary.Uvarint(raw[1+a:])
		at := 1 + a + b
		x.Anchor, x.Text = text[at:at+int(anchor)], text[at+int(anchor):at+int(anchor)+int(words)]
		at += int(anchor) + int(words)
		raw, text = raw[at:], text[at:]
		out = append(out, x)
	}
	return out
}

// OfAll tells whether what stands at an address tells of all pages, so that it can take a
// while on a large site.
func OfAll(address string) bool {
	return address == registerFile || address == searchEntries || address == feedFile || strings.HasPrefix(address, "sitemap") || within(address, benchFolder)
}

// digestAll makes what digests are missing, page by page, so that nobody waits for more
// than one of them. It gives up when the site is closed.
func (s *Site) digestAll() {
	s.open.mu.Lock()
	todo := slices.DeleteFunc(slices.Clone(s.Topics), func(t *Topic) bool { return t.state.digest != nil })
	s.open.mu.Unlock()
	one := func(t *Topic) (goOn bool) {
		s.open.mu.Lock()
		defer s.open.mu.Unlock()
		if !s.open.closed && s.byPath[t.Path] == t {
			s.digestOf(t)
		}
		return !s.open.closed
	}
	for _, t := range todo {
		if !one(t) {
			return
		}
	}
}

// searchable makes the search entries of the whole site. They take a second where there are
// ten thousand pages, so the site can be used meanwhile.
func (s *Site) searchable(a sheet.Audience, live bool) (out Answer) {
	o := s.open
	key := shelfKey{a, searchEntries, live}
	var packed [][]byte
	gather := func() (pages []search.Page, language string, done bool) {
		o.mu.Lock()
		defer o.mu.Unlock()
		if out, done = o.shelf[key]; done {
			return nil, "", true
		}
		r := s.writer(a, live)
		pages = r.found(func(t *Topic) search.Page {
			packed = append(packed, s.digestOf(t).found)
			return search.Page{Address: urlPath(t.Address()), Title: t.Title(), Where: r.where(t)}
		})
		out.Version = o.version
		return pages, s.Settings.Language, false
	}
	pages, language, done := gather()
	if done {
		return out
	}
	for i, b := range packed {
		pages[i].Passages = unpack(b)
	}
	out.Bytes = search.Script(pages, language)
	if len(out.Bytes) < mostShelved {
		o.mu.Lock()
		if o.version == out.Version {
			o.shelf[key] = out
		}
		o.mu.Unlock()
	}
	return out
}

// mostShelved is how long search entries may be, in bytes, and still be kept for the next
// who asks.
const mostShelved = 4 << 20
