package build

import (
	"crypto/sha256"
	"maps"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/machine"
	"labsite/render/routes"
	"labsite/render/theme"
	"labsite/render/write"
)

// Digest is the SHA-256 of a file's bytes.
type Digest = [sha256.Size]byte

// File is a file of a site, without its bytes.
type File struct {
	Address string
	Digest  Digest
}

// output is the site of one audience while it is handed to a target.
type output struct {
	site *routes.Site
	to   Target // nil for a check, which writes nothing
	// key is the sum of what all files of the site depend on.
	key content.Sum

	mu    sync.Mutex
	files map[string]Digest
	taken map[string]bool // in lower case, since some disks ignore case
}

func (s *Site) output(a page.Audience, to Target) *output {
	o := &output{to: to, files: map[string]Digest{}, taken: map[string]bool{}}
	nothing := &Result{}
	o.site = s.routed(a, false, func(p *content.Page) *Result {
		if r := s.Memory.Stale(p.Path); r != nil {
			return r
		}
		return nothing
	})
	key := content.NewSummer(string(a), s.themeKey())
	for _, file := range []string{page.SettingsFile, "hazards.yaml"} {
		key.AddSum(s.Content.FileSum(file))
	}
	key.Add(map[bool]string{true: "feed"}[o.site.Feed])
	o.key = key.Sum()
	return o
}

func (s *Site) themeKey() string {
	if s.Theme == nil {
		return ""
	}
	return s.Theme.Key()
}

// pageKey is the sum of all that a page's files are written from.
func (o *output) pageKey(r *Result, p *content.Page) content.Sum {
	key := content.NewSummer()
	o.site.Around(p, key)
	key.AddSum(o.key)
	key.AddSum(r.Sum)
	return key.Sum()
}

// claim reserves an address, and reports one that is taken already.
func (o *output) claim(address string, digest Digest) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	small := strings.ToLower(address)
	if o.taken[small] {
		return false
	}
	o.taken[small], o.files[address] = true, digest
	return true
}

// fileAt is the content file that is published at an address, or the address itself if it
// belongs to no file.
func (o *output) fileAt(address string) string {
	for _, p := range o.site.Content.Pages {
		if strings.EqualFold(p.Address(), address) {
			return p.Path
		}
	}
	return address
}

// put hands a file to the target.
func (o *output) put(r *run, f File, b []byte) {
	if !o.claim(f.Address, f.Digest) {
		r.say(source.List{source.OwnFile(f.Address).AtFile(o.fileAt(f.Address))})
		return
	}
	if o.to != nil && !r.wrong.Load() {
		r.fail(o.to.Put(f.Address, b))
	}
}

// keep tells the target which files are unchanged. all is false if there are none, or if one of
// them must be written after all; kept names those that the target has, which must not be handed to
// it twice.
func (o *output) keep(r *run, files []File) (kept map[string]bool, all bool) {
	kept = map[string]bool{}
	for _, f := range files {
		if !o.claim(f.Address, f.Digest) {
			r.say(source.List{source.OwnFile(f.Address).AtFile(o.fileAt(f.Address))})
			continue
		}
		if o.to != nil {
			there, err := o.to.Keep(f.Address, f.Digest)
			r.fail(err)
			if !there {
				o.release(f.Address)
				return kept, false
			}
		}
		kept[f.Address] = true
	}
	return kept, files != nil
}

// release gives up a claim.
func (o *output) release(address string) {
	o.mu.Lock()
	defer o.mu.Unlock()
	delete(o.taken, strings.ToLower(address))
	delete(o.files, address)
}

// shared makes what belongs to no single page, group by group. A group whose inputs are unchanged
// is kept.
func (r *run) shared(o *output) {
	r.group(o, ofTheme, o.key, r.makeTheme)
	if !r.wrong.Load() {
		r.group(o, ofAll, r.sharedKey(o), r.makeShared)
	}
}

func (r *run) group(o *output, g group, key content.Sum, make func(o *output, put write.Put)) {
	m := r.site.Memory
	kept, all := o.keep(r, m.sharedFiles(g, o.site.Audience, key))
	if all {
		return
	}
	var mu sync.Mutex
	var files []File
	make(o, func(address string, b []byte, list source.List) {
		r.say(list)
		if b == nil {
			return
		}
		f := File{address, sha256.Sum256(b)}
		if !kept[address] {
			o.put(r, f, b)
		}
		mu.Lock()
		defer mu.Unlock()
		files = append(files, f)
	})
	if !r.wrong.Load() && r.ctx.Err() == nil {
		m.setShared(g, o.site.Audience, key, files)
	}
}

// sharedKey is the sum of all that the shared files of a site are made from: every page and
// all that it was worked out from, and the lab's own bench formulas.
func (r *run) sharedKey(o *output) content.Sum {
	key := content.NewSummer()
	key.AddSum(o.key)
	for _, name := range r.site.Content.FormulaFiles() {
		key.Add(name)
		key.AddSum(r.site.Content.FileSum(name))
	}
	for _, p := range r.site.Content.Pages {
		key.Add(p.Path)
		key.AddSum(p.Sum)
		if p.Waiting != nil { // the register tells of it
			key.AddSum(p.Waiting.Sum)
		}
		if result := r.site.Memory.Stale(p.Path); result != nil {
			key.AddSum(result.Sum)
		}
	}
	return key.Sum()
}

// makeTheme makes the theme's own files.
func (r *run) makeTheme(_ *output, put write.Put) {
	routes.Runtime(put)
	for name, b := range r.site.Theme.Assets() {
		put(name, b, nil)
	}
}

// makeShared makes sections without an index page, the files about all pages, and the files that
// pages show or link to.
func (r *run) makeShared(o *output, put write.Put) {
	w := write.NewWriter(o.site.Site, r.site.Desk())
	for _, f := range r.site.Content.Folders() {
		if f.ShownTo(o.site.Audience) && (f.Index == nil || !f.Index.ShownTo(o.site.Audience)) {
			routes.Folder(w, f, put)
		}
	}
	r.benchAgrees(o)
	all := slices.DeleteFunc(routes.Shared(o.site.Site), func(x routes.Route) bool { return x.Covers(theme.RuntimeFile) })
	content.Each(r.ctx, len(all), func(i int) { all[i].Make(o.site, put) })
	for _, full := range r.placed(o) {
		if b, ok := r.site.Content.PlacedBytes(full); ok {
			put(full, b, nil)
		}
	}
	if r.wrong.Load() {
		return
	}
	others := maps.Clone(o.files)
	delete(others, machine.KeeperFile) // there if they were kept before another file of the group had to be made
	delete(others, machine.VersionFile)
	worker, version := machine.Keep(o.site.Site, others)
	if worker != nil {
		put(machine.KeeperFile, worker, nil)
		put(machine.VersionFile, version, nil)
	}
}

// placed lists the files that published pages show or link to.
func (r *run) placed(o *output) []string {
	var out []string
	for _, p := range r.site.Content.Pages {
		if !p.ShownTo(o.site.Audience) || p.Status() != page.Approved {
			continue
		}
		if result := r.site.Memory.Stale(p.Path); result != nil {
			out = append(out, result.Placings...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
