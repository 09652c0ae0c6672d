package content

import (
	"context"
	"io/fs"
	"os"
	"runtime"
	"slices"
	"strings"
	"time"

	"golang.org/x/sync/errgroup"

	"labsite/recipes/formulary"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/regular"
)

// Options say how a folder is read.
type Options struct {
	// Day decides which reviews are overdue.
	Day time.Time
	// Drafts says that draft pages are shown too, which a published site never does.
	Drafts bool
	// LetGo says that the texts of pages are dropped once their heads are read, and read again by
	// PageText: on a large site they are half of the memory used.
	LetGo bool
}

// Content is a lab's folder as it was read.
type Content struct {
	Settings page.Settings
	// Day is the day that counts as today.
	Day time.Time
	Top *Folder
	// Pages are all pages, sorted by path.
	Pages []*Page
	// Substances are the lab's own substances and safety data sheets.
	Substances *hazard.OwnSheets
	// Formulas are the bench formulas, the lab's own among them.
	Formulas *formulary.Set
	// FormulasBroken and SubstancesBroken say that the lab's own have errors, so that some of
	// those that pages name may be missing.
	FormulasBroken, SubstancesBroken bool

	theme  themeFolder
	drafts bool
	letGo  bool
	root   *os.Root
	fsys   fs.FS
	byPath map[string]*Page
	files  map[string]bool // every file that is not a page
	// recorded are the files of records of approved revisions, by path.
	recorded map[string]bool
	records  records
	tables   tables
	placed   placedFiles
	sums     sums
	// errors of files that are not pages, by what reported them
	settingsSaid, walkSaid, formulasSaid, substancesSaid source.List
	stamps                                               map[string]stamp
	links                                                map[string]bool // the symbolic links among the files
	unsaved                                              map[string][]byte
}

// Open reads a folder. The Content is nil only if the folder cannot be read at all, or ctx ends.
// Close releases the folder.
func Open(ctx context.Context, dir string, opt Options) (*Content, source.List) {
	root, err := regular.OpenRoot(dir)
	if err != nil {
		return nil, source.List{source.NoContent(dir, systemError(err)).AtFile(dir)}
	}
	c := &Content{Settings: page.DefaultSettings(), Day: opt.Day, drafts: opt.Drafts, letGo: opt.LetGo, root: root, fsys: regular.Below(root), byPath: map[string]*Page{}, files: map[string]bool{}, stamps: map[string]stamp{}, links: map[string]bool{}, recorded: map[string]bool{}}
	c.readSettings()
	c.chooseTheme()
	paths := c.walk()
	c.readFormulas()
	c.readSubstances()
	c.readPages(ctx, paths)
	if ctx.Err() != nil {
		root.Close()
		return nil, nil
	}
	c.settleRevisions()
	c.arrange()
	c.rememberTheme()
	return c, nil
}

// Close releases the folder.
func (c *Content) Close() error { return c.root.Close() }

// Said lists the errors of what all pages depend on: settings, the folder itself, the lab's own bench
// formulas and substances.
func (c *Content) Said() source.List {
	return slices.Concat(c.settingsSaid, c.walkSaid, c.formulasSaid, c.substancesSaid)
}

// Page finds a page by its path; nil if there is none. A page in a record that was read is found by
// its path there.
func (c *Content) Page(path string) *Page {
	if p := c.byPath[path]; p != nil {
		return p
	}
	return c.recordedPage(path)
}

// Drafts reports whether the folder is shown as it is written, as in the preview: with drafts, and with
// revisions that are not yet in effect.
func (c *Content) Drafts() bool { return c.drafts }

// HasFile reports whether there is a file of this path that is not a page.
func (c *Content) HasFile(path string) bool { return c.files[path] }

// has reports whether there is a file of this path, in the folder or in a record that was read.
func (c *Content) has(path string) bool {
	return c.files[path] || c.recordedLines(path) != nil
}

// Names lists every page and every other file, by path.
func (c *Content) Names() []string {
	out := make([]string, 0, len(c.byPath)+len(c.files))
	for p := range c.byPath {
		out = append(out, p)
	}
	for p := range c.files {
		out = append(out, p)
	}
	slices.Sort(out)
	return out
}

func (c *Content) readPages(ctx context.Context, paths []string) {
	c.Pages = make([]*Page, len(paths))
	Each(ctx, len(paths), func(i int) { c.Pages[i] = c.readPage(paths[i]) })
	c.Pages = slices.DeleteFunc(c.Pages, func(p *Page) bool { return p == nil })
	slices.SortFunc(c.Pages, func(a, b *Page) int { return strings.Compare(a.Path, b.Path) })
	for _, p := range c.Pages {
		c.byPath[p.Path] = p
	}
}

// readPage reads a page's file and its head. If the file cannot be read, its text is empty and Said
// says why.
func (c *Content) readPage(path string) *Page {
	p := &Page{Path: path, drafts: c.drafts}
	raw, problem, ok := c.read(path, page.MostBytes-1)
	if !ok {
		p.File, _ = source.New(path, nil)
		p.Said = source.List{problem.AtFile(path)}
		p.Sum = SumOf("unread", problem.Code, problem.Message)
	} else {
		p.File, p.Said = source.New(path, raw)
		p.Sum = SumOfBytes(raw)
	}
	p.Head, p.Draws = headOf(p)
	if c.letGo && ok && len(p.Said) == 0 {
		p.File, p.letGo = nil, path
	}
	return p
}

// PageText is the text of a page, read again if it was dropped; false if the file has changed since.
func (c *Content) PageText(p *Page) (*source.File, bool) {
	if p.File != nil {
		return p.File, true
	}
	raw, _, ok := c.read(p.letGo, page.MostBytes-1)
	if !ok || SumOfBytes(raw) != p.Sum {
		file, _ := source.New(p.letGo, nil)
		return file, false
	}
	file, _ := source.New(p.letGo, raw)
	return file, true
}

// headOf is the head of a page, and what it draws on. A plain head is read by itself, any other with
// the whole front matter.
func headOf(p *Page) (*page.Sheet, []string) {
	if p.Said.Errors() > 0 {
		return nil, nil
	}
	if head, draws := readHead(p.File); head != nil {
		return head, draws
	}
	full, _ := page.Decode(p.File, nil)
	if full == nil {
		return nil, nil
	}
	return &page.Sheet{File: full.File, Title: full.Title, Summary: full.Summary, Audience: full.Audience, Topics: full.Topics, Season: full.Season,
		Order: full.Order, HasOrder: full.HasOrder, Control: full.Control}, usesOf(full)
}

// Workers is how many goroutines share work that fills the processors.
var Workers = max(1, runtime.GOMAXPROCS(0))

// Each calls do for 0 … n-1 on as many goroutines as there are processors, until ctx ends.
func Each(ctx context.Context, n int, do func(i int)) {
	var g errgroup.Group
	g.SetLimit(min(Workers, max(1, n)))
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		g.Go(func() error {
			do(i)
			return nil
		})
	}
	_ = g.Wait() // the functions return no errors
}
