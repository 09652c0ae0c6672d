package shelf

import (
	"io/fs"
	"path"
	"strings"

	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// original is one page of the shelf as text and front matter.
type original struct {
	path  string
	file  *source.File
	front *tree.Value
	body  int // where the body begins
}

// read reads all pages of a shelf, by path.
func read(from fs.FS) (map[string]*original, source.List, error) {
	pages := map[string]*original{}
	var list source.List
	err := fs.WalkDir(from, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(p) != ".md" {
			return err
		}
		raw, err := fs.ReadFile(from, p)
		if err != nil {
			return err
		}
		o, told := parse(p, raw)
		list = append(list, told...)
		if o != nil {
			pages[p] = o
		}
		return nil
	})
	return pages, list, err
}

// parse reads a page; nil if its front matter cannot be read.
func parse(p string, raw []byte) (*original, source.List) {
	f, list := source.New(p, raw)
	const fence = "---\n"
	if !strings.HasPrefix(f.Text, fence) {
		return nil, list
	}
	end := strings.Index(f.Text, "\n"+fence)
	if end < 0 {
		return nil, list
	}
	front, told := tree.Parse(f, len(fence), end+1)
	list = append(list, told...)
	if front == nil || list.Errors() > 0 {
		return nil, list
	}
	return &original{path: p, file: f, front: front, body: end + 1 + len(fence)}, list
}

// text is the value at a path of keys; "" if there is none.
func (o *original) text(way ...string) string {
	v := o.front
	for _, key := range way {
		if v == nil || v.Shape != tree.Mapping {
			return ""
		}
		v = v.Get(key)
	}
	if v == nil || v.Shape != tree.Scalar {
		return ""
	}
	return strings.TrimSpace(v.Text)
}

func (o *original) topics() (out []string) {
	if v := o.front.Get("topics"); v != nil {
		for _, item := range v.Items {
			out = append(out, strings.TrimSpace(item.Text))
		}
	}
	return out
}

// files lists the files that a key names, each directly or under an inner key: pages drawn on,
// data.
func (o *original) files(key, under string) (out []string) {
	v := o.front.Get(key)
	if v == nil {
		return nil
	}
	for _, item := range v.Items {
		if item.Shape == tree.Mapping {
			item = item.Get(under)
		}
		if item != nil && item.Shape == tree.Scalar {
			out = append(out, strings.TrimSpace(item.Text))
		}
	}
	return out
}

// fromTop is the path, from the top of the shelf, of a file that the page names.
func (o *original) fromTop(name string) string { return path.Join(path.Dir(o.path), name) }
