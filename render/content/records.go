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

// isRecord reports whether a file is in the folder of records, where nothing is a page, a section or a
// file that pages may show or link to.
func isRecord(p string) bool { return strings.HasPrefix(p, approval.Folder+"/") }

// Revisions lists the recorded revisions of a number, in rising order.
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

// RevisionBefore is the last recorded revision of a number before a given one; ok is false if there is
// none.
func (c *Content) RevisionBefore(number string, revision int) (before int, ok bool) {
	for _, r := range c.Revisions(number) {
		if r < revision {
			before, ok = r, true
		}
	}
	return before, ok
}

// Record returns the record of a revision. It is nil with an empty problem if there is none, and nil
// with a problem that says why if it cannot be used.
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

// forget drops what was read of a file.
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

// forgetRecord drops what was read of a record and of the files in it.
func (c *Content) forgetRecord(p string) {
	c.records.forget(p)
	within := strings.TrimSuffix(p, ".json") + "/"
	c.sums.forgetWithin(within)
	c.tables.forgetWithin(within)
}

// inRecord is the path of a file in a record: below the name of the record, so that the files to which
// it refers are found in the same record.
func inRecord(number string, revision int, p string) string {
	return path.Join(strings.TrimSuffix(approval.Path(number, revision), ".json"), p)
}

// Outside is the path that a file in a record has in the content folder; any other path stays as it is.
func Outside(p string) string { return approval.Outside(p) }

// Printed returns a page as it was in a recorded revision, with its path in the record; nil if there is
// no usable record.
func (c *Content) Printed(number string, revision int) *Page {
	r, _ := c.Record(number, revision)
	if r == nil {
		return nil
	}
	return c.Page(inRecord(number, revision, r.Page))
}

// recordedText is the text of a file in a record, by its path there.
func (c *Content) recordedText(p string) (string, bool) {
	lines := c.recordedLines(p)
	return strings.Join(lines, "\n"), lines != nil
}

// recordedLines are the lines of a file in a record; nil if there is no such file.
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
		return nil // files are found only in records that were read
	}
	for _, s := range r.record.Sources {
		if s.Path == inside {
			return s.Lines
		}
	}
	return nil
}

// recordedPage is a page in a record, by its path there; nil if there is none.
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

// pageOf makes a page of a text: at is its path on the site, and file the one from which the files that
// it names are looked for.
func (c *Content) pageOf(at, file, text string) *Page {
	p := &Page{Path: at, drafts: c.drafts}
	p.File, p.Said = source.New(file, []byte(text))
	p.Sum = SumOf("recorded", file, text)
	p.Head, p.Draws = headOf(p)
	return p
}

// folderOf is the folder that a path is in, or the nearest one above it that exists.
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

// Waiting lists the revisions that are not yet in effect, as they are in the folder, so that they can be
// checked beforehand. Each has a path of its own, since the page's path is that of the one in force.
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

// Text is the text of a data file, in the folder or in a record that was read.
func (c *Content) Text(p string) (string, bool) {
	raw, _, ok := c.readAny(p)
	if !ok {
		return "", false
	}
	f, _ := source.New(p, raw)
	return f.Text, true
}

// dateOf is the date of a moment, as pages write one: in UTC, without a time.
func dateOf(day time.Time) time.Time {
	y, m, d := day.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// Past reports whether a day is over, so that what was due on it is overdue. All reviews go by it, of
// pages, values and safety data sheets.
func (c *Content) Past(day time.Time) bool { return dateOf(c.Day).After(dateOf(day)) }

// Waits reports whether a page is approved but not yet in effect.
func (c *Content) Waits(p *Page) bool {
	if p.Head == nil || p.Head.Control == nil {
		return false
	}
	k := p.Head.Control
	return k.Status == page.Approved && k.Effective.After(dateOf(c.Day))
}

// settleRevisions replaces each page whose revision is not yet in effect by the one in force: the
// revision before, from its record. The preview shows what is written.
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

// inForce is the recorded revision that is in force while a page's own one waits; nil if the page does
// not wait, or there is none.
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
