package content

import (
	"errors"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"labsite/recipes/approval"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// records are the lab's records of approved revisions, each read once until it changes, and the
// pages as they were in those revisions.
type records struct {
	mu   sync.Mutex
	read map[string]readRecord // by path
	as   map[string]*Page      // pages of a record, by their path inside it
}

type readRecord struct {
	record  *approval.Record
	problem source.Problem
}

// isRecord tells whether a file lies where records lie. None of it is a page, a section or a
// file that pages may place.
func isRecord(p string) bool { return strings.HasPrefix(p, approval.Folder+"/") }

// Revisions lists the revisions of a number of which there are records, the first one first.
func (c *Content) Revisions(number string) []int {
	var out []int
	for p := range c.recorded {
		if folder, revision, ok := approval.Of(p); ok && approval.IsFor(folder, number) {
			out = append(out, revision)
		}
	}
	slices.Sort(out)
	return out
}

// RevisionBefore is the last recorded revision of a number before one; ok is false if there
// is none.
func (c *Content) RevisionBefore(number string, revision int) (before int, ok bool) {
	for _, r := range c.Revisions(number) {
		if r < revision {
			before, ok = r, true
		}
	}
	return before, ok
}

// Record gives the record of a revision. It is nil if there is none, with an empty problem,
// and where it cannot be taken for what it says, with the problem that says why.
func (c *Content) Record(number string, revision int) (*approval.Record, source.Problem) {
	p := approval.Path(number, revision)
	if !c.recorded[p] {
		return nil, source.Problem{}
	}
	c.records.mu.Lock()
	defer c.records.mu.Unlock()
	if r, ok := c.records.read[p]; ok {
		return r.record, r.problem
	}
	r := c.readRecord(p, number, revision)
	if c.records.read == nil {
		c.records.read = map[string]readRecord{}
	}
	c.records.read[p] = r
	return r.record, r.problem
}

func (c *Content) readRecord(p, number string, revision int) readRecord {
	raw, problem, ok := c.read(p, approval.MostBytes)
	if !ok {
		return readRecord{problem: problem}
	}
	r, err := approval.Decode(raw)
	switch {
	case errors.Is(err, approval.ErrEdited):
		return readRecord{problem: source.RecordEdited(p)}
	case err != nil:
		return readRecord{problem: source.RecordBroken(p)}
	case r.Number != number || r.Revision != revision:
		return readRecord{problem: source.RecordElsewhere(p, r.Number, r.Revision)}
	}
	return readRecord{record: r}
}

// RecordSum is the sum of all records of a number.
func (c *Content) RecordSum(number string) Sum {
	s := NewSummer(number)
	for _, r := range c.Revisions(number) {
		p := approval.Path(number, r)
		s.Add(p)
		s.AddSum(c.FileSum(p))
	}
	return s.Sum()
}

// forget lets go of what was read of a file.
func (r *records) forget(p string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	delete(r.read, p)
	within := strings.TrimSuffix(p, ".json") + "/"
	for name := range r.as {
		if strings.HasPrefix(name, within) {
			delete(r.as, name)
		}
	}
}

// forgetRecord lets go of what was read of a record and of the files in it.
func (c *Content) forgetRecord(p string) {
	c.records.forget(p)
	within := strings.TrimSuffix(p, ".json") + "/"
	c.sums.forgetWithin(within)
	c.tables.forgetWithin(within)
}

// inRecord is where a file of a revision stands: below the name of its record, so that
// everything that it takes from other files is found in the record as well.
func inRecord(number string, revision int, p string) string {
	return path.Join(strings.TrimSuffix(approval.Path(number, revision), ".json"), p)
}

// Outside is the path that a file of a record has in the content folder; every other path is
// what it was.
func Outside(p string) string { return approval.Outside(p) }

// Printed gives a page as it was in a recorded revision, under a path of its own; nil where
// there is no record that holds.
func (c *Content) Printed(number string, revision int) *Page {
	r, _ := c.Record(number, revision)
	if r == nil {
		return nil
	}
	return c.Page(inRecord(number, revision, r.Page))
}

// recordedText is the text of a file of a record, by its path inside it.
func (c *Content) recordedText(p string) (string, bool) {
	lines := c.recordedLines(p)
	return strings.Join(lines, "\n"), lines != nil
}

// recordedLines are the lines of a file of a record; nil if it has no such file.
func (c *Content) recordedLines(p string) []string {
	if !isRecord(p) {
		return nil
	}
	folder, rest, _ := strings.Cut(strings.TrimPrefix(p, approval.Folder+"/"), "/")
	number, inside, is := strings.Cut(rest, "/")
	revision, err := strconv.Atoi(number)
	if !is || err != nil {
		return nil
	}
	file := approval.Folder + "/" + folder + "/" + number + ".json"
	c.records.mu.Lock()
	r, ok := c.records.read[file]
	c.records.mu.Unlock()
	if !ok || r.record == nil || r.record.Revision != revision {
		return nil // only records that were read have pages
	}
	for _, s := range r.record.Sources {
		if s.Path == inside {
			return s.Lines
		}
	}
	return nil
}

// recordedPage is a page of a record by its path inside it, nil if there is none.
func (c *Content) recordedPage(p string) *Page {
	if !isRecord(p) || !strings.HasSuffix(p, ".md") {
		return nil
	}
	c.records.mu.Lock()
	known := c.records.as[p]
	c.records.mu.Unlock()
	if known != nil {
		return known
	}
	text, ok := c.recordedText(p)
	if !ok {
		return nil
	}
	made := c.pageOf(p, p, text)
	made.Folder = c.folderOf(Outside(p))
	c.records.mu.Lock()
	defer c.records.mu.Unlock()
	if known := c.records.as[p]; known != nil {
		return known
	}
	if c.records.as == nil {
		c.records.as = map[string]*Page{}
	}
	c.records.as[p] = made
	return made
}

// pageOf makes a page of a text: where it is on the site, and where the files it names are looked for.
func (c *Content) pageOf(at, file, text string) *Page {
	p := &Page{Path: at, drafts: c.drafts}
	p.File, p.Said = source.New(file, []byte(text))
	p.Sum = SumOf("recorded", file, text)
	p.Head, p.Draws = headOf(p)
	return p
}

// folderOf is the folder that a path lies in, or the nearest above it.
func (c *Content) folderOf(p string) *Folder {
	at := c.Top
	for at != nil {
		next := slices.IndexFunc(at.Folders, func(f *Folder) bool { return Within(path.Dir(p), f.Path) })
		if next < 0 {
			break
		}
		at = at.Folders[next]
	}
	return at
}

// Waiting lists the pages that wait for their day, as the folder has them, so that they can be
// checked before it; each under a path of its own, since that of the page is the one in force.
func (c *Content) Waiting() []*Page {
	var out []*Page
	for _, p := range c.Pages {
		if p.Waiting != nil {
			w := *p.Waiting
			w.Path += "@" + strconv.Itoa(w.Head.Control.Revision)
			w.Folder = p.Folder
			out = append(out, &w)
		}
	}
	return out
}

// Text is the text of a data file, of the folder or of a record that was read.
func (c *Content) Text(p string) (string, bool) {
	raw, _, ok := c.readAny(p)
	if !ok {
		return "", false
	}
	f, _ := source.New(p, raw)
	return f.Text, true
}

// dateOf is a day of the calendar as pages write one.
func dateOf(day time.Time) time.Time {
	y, m, d := day.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// Past tells whether a day is over: what is due on it is late from the next one on. It is the one
// rule for reviews of pages, values and safety data sheets.
func (c *Content) Past(day time.Time) bool { return dateOf(c.Day).After(dateOf(day)) }

// Waits tells whether a page is approved for a day that is still to come.
func (c *Content) Waits(p *Page) bool {
	if p.Head == nil || p.Head.Control == nil {
		return false
	}
	k := p.Head.Control
	return k.Status == page.Approved && k.Effective.After(dateOf(c.Day))
}

// settleRevisions puts the revision in force in place of each page whose own revision waits
// for its day: the one before, as its record has it. The preview shows what is written.
func (c *Content) settleRevisions() {
	for i, p := range c.Pages {
		own := p
		if p.Waiting != nil {
			own = p.Waiting
		}
		now := own
		if held := c.inForce(own); held != nil {
			now = held
			if p.Waiting == own && p.Sum == held.Sum {
				now = p
			}
		}
		if now != p {
			c.Pages[i], c.byPath[own.Path] = now, now
		}
	}
}

// inForce is the recorded revision that holds while a page's own one waits, nil for none.
func (c *Content) inForce(own *Page) *Page {
	if c.drafts || !c.Waits(own) {
		return nil
	}
	k := own.Head.Control
	before, ok := c.RevisionBefore(k.Number, k.Revision)
	if !ok {
		return nil
	}
	r, _ := c.Record(k.Number, before)
	if r == nil || r.Page != own.Path {
		return nil
	}
	file := inRecord(k.Number, before, r.Page)
	text, ok := c.recordedText(file)
	if !ok {
		return nil
	}
	held := c.pageOf(own.Path, file, text)
	held.Waiting = own
	return held
}
