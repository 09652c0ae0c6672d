package proof

import (
	"net/url"
	"path/filepath"

	"labsite/render/site"
)

func escapePath(p string) string { return (&url.URL{Path: filepath.ToSlash(p)}).EscapedPath() }

// branch is a number's tree with the places of its lines.
type branch struct {
	site.Branch
	Place  string   `json:"place"`
	Open   string   `json:"open,omitempty"`
	Inputs []branch `json:"inputs,omitempty"`
}

func (p *Proof) placed(b site.Branch) branch {
	out := branch{Branch: b, Place: place(b.Page, b.Line, b.Column), Open: p.editor(b.Page, b.Line, b.Column)}
	for _, in := range b.Inputs {
		out.Inputs = append(out.Inputs, p.placed(in))
	}
	return out
}
