package content

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Folder is a folder of the content that holds pages, a section of the site.
type Folder struct {
	Path    string // "" for the top
	Parent  *Folder
	Index   *Page // its index.md, or nil
	Pages   []*Page
	Folders []*Folder
	Staff   bool // everything in it is for staff

	count map[page.Audience]int // pages, those of its folders included
}

// arrange builds the tree of folders and settles audiences, numbers and addresses.
func (c *Content) arrange() {
	folders := map[string]*Folder{}
	c.Top = folderAt(folders, "")
	addresses := map[string]*Page{}
	numbers := map[string]*Page{}
	spelled, told := map[string]string{}, map[string]bool{}
	for _, p := range c.Pages {
		p.Clash, p.linked = nil, false
		p.sorted = strings.ToLower(p.Title())
		p.Folder = folderAt(folders, path.Dir(p.Path))
		if path.Base(p.Path) == "index.md" {
			p.Folder.Index = p
		} else {
			p.Folder.Pages = append(p.Folder.Pages, p)
		}
		if x, ok := NameProblem(p.Path); !ok {
			p.Clash = append(p.Clash, x.AtFile(p.Path))
		}
		if other, clash := clashingFolder(spelled, p.Path); clash && !told[other] {
			told[other] = true
			p.Clash = append(p.Clash, source.SameFolder(path.Dir(p.Path), other).AtFile(p.Path))
		}
		key := sameName(p.Address())
		if other, taken := addresses[key]; taken {
			p.Clash = append(p.Clash, source.SameAddress(other.Path).AtFile(p.Path))
		} else {
			addresses[key] = p
		}
		if p.Head == nil || p.Head.Control == nil || p.Head.Control.Number == "" {
			continue
		}
		control := p.Head.Control
		if other, taken := numbers[control.Number]; taken {
			p.Clash = append(p.Clash, source.SameNumber(control.Number, other.Path).At(control.Span))
		} else {
			numbers[control.Number] = p
		}
	}
	c.Top.settle(false)
	for p := range c.links {
		if to := c.byPath[p]; to != nil {
			to.linked = c.IsStaffFile(p)
		}
	}
	c.settleLevels()
}

// folderAt finds a folder by its path, or makes it with those around it.
func folderAt(folders map[string]*Folder, p string) *Folder {
	if p == "." {
		p = ""
	}
	if f, ok := folders[p]; ok {
		return f
	}
	f := &Folder{Path: p}
	folders[p] = f
	if p != "" {
		f.Parent = folderAt(folders, path.Dir(p))
		f.Parent.Folders = append(f.Parent.Folders, f)
	}
	return f
}

// settle passes the staff's audience down to subfolders and sorts what is in a folder.
func (f *Folder) settle(staff bool) {
	f.Staff = staff || f.Index != nil && f.Index.Head != nil && f.Index.Head.Audience == page.Staff
	slices.SortStableFunc(f.Pages, compareOrder)
	slices.SortStableFunc(f.Folders, func(a, b *Folder) int {
		return cmp.Or(compareOrder(a.Index, b.Index), strings.Compare(a.Path, b.Path))
	})
	for _, sub := range f.Folders {
		sub.settle(f.Staff)
	}
	f.count = map[page.Audience]int{page.Customers: f.counted(page.Customers), page.Staff: f.counted(page.Staff)}
}

// compareOrder sorts by order, smaller first, then by title; pages without an order come
// after those with one.
func compareOrder(a, b *Page) int {
	hasA, hasB := a != nil && a.Head != nil && a.Head.HasOrder, b != nil && b.Head != nil && b.Head.HasOrder
	switch {
	case hasA && !hasB:
		return -1
	case hasB && !hasA:
		return 1
	case hasA && hasB && a.Head.Order != b.Head.Order:
		return cmp.Compare(a.Head.Order, b.Head.Order)
	}
	return strings.Compare(a.sortKey(), b.sortKey())
}

// sortKey is the key by which lists are sorted.
func (p *Page) sortKey() string {
	if p == nil {
		return ""
	}
	return p.sorted
}

// Folders lists all folders, the top first.
func (c *Content) Folders() []*Folder {
	var out []*Folder
	var walk func(f *Folder)
	walk = func(f *Folder) {
		out = append(out, f)
		for _, sub := range f.Folders {
			walk(sub)
		}
	}
	walk(c.Top)
	return out
}

// ShownTo reports whether a folder has pages for the audience, and so a page of its own; the top always
// has one.
func (f *Folder) ShownTo(a page.Audience) bool { return f.Path == "" || f.Count(a) > 0 }

// Count is how many pages of the audience the folder holds, those of its folders included.
func (f *Folder) Count(a page.Audience) int { return f.count[a] }

func (f *Folder) counted(a page.Audience) int {
	n := 0
	if f.Index != nil && f.Index.ShownTo(a) {
		n++
	}
	for _, p := range f.Pages {
		if p.ShownTo(a) {
			n++
		}
	}
	for _, sub := range f.Folders {
		n += sub.count[a]
	}
	return n
}

// Title is a section's name: its index page's title, or the folder's name in words, or siteName for
// the top.
func (f *Folder) Title(siteName string, a page.Audience) string {
	if f.Index != nil && f.Index.ShownTo(a) {
		return f.Index.Title()
	}
	if f.Path == "" {
		return siteName
	}
	name := strings.NewReplacer("-", " ", "_", " ").Replace(path.Base(f.Path))
	return strings.ToUpper(name[:1]) + name[1:]
}

// Address is where the folder's own page stands.
func (f *Folder) Address() string { return path.Join(f.Path, "index.html") }

// IsStaffFile reports whether a file is in a folder for staff, or is a symbolic link into one.
func (c *Content) IsStaffFile(full string) bool {
	if c.inStaffFolder(full) {
		return true
	}
	return c.links[full] && c.inStaffFolder(c.realPath(full))
}

func (c *Content) inStaffFolder(full string) bool {
	dir := path.Dir(full)
	staff := false
	var look func(f *Folder)
	look = func(f *Folder) {
		if f.Path == "" || Within(dir, f.Path) {
			staff = staff || f.Staff
			for _, sub := range f.Folders {
				look(sub)
			}
		}
	}
	look(c.Top)
	return staff
}
