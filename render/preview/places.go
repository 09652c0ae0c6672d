package preview

import (
	"labsite/render/write"
	"net/url"
	"path/filepath"
	"strings"
)

// inQuery escapes characters that a path may hold but a query would read as its own: an editor's
// address may have the file in either.
var inQuery = strings.NewReplacer("&", "%26", "=", "%3D", "+", "%2B", ";", "%3B")

func escapePath(p string) string {
	return inQuery.Replace((&url.URL{Path: filepath.ToSlash(p)}).EscapedPath())
}

// branch is a branch of a number's tree with the place of its line.
type branch struct {
	write.Branch
	Place  string   `json:"place"`
	Open   string   `json:"open,omitempty"`
	Inputs []branch `json:"inputs,omitempty"`
}

func (p *Preview) placed(b write.Branch) branch {
	out := branch{Branch: b, Place: place(b.Page, b.Line, b.Column), Open: p.editor(b.Page, b.Line, b.Column)}
	for _, in := range b.Inputs {
		out.Inputs = append(out.Inputs, p.placed(in))
	}
	return out
}
