package write

import (
	"path"

	"labsite/render/work"
)

// Beside makes the files beside a page: its tables as CSV, its card, its labels.
func (w *Writer) Beside(p *work.Page, put Put) {
	dir := path.Dir(p.Address())
	if p.Proof == nil {
		return
	}
	for _, g := range p.Sheet.Grids {
		if g.Rows != nil || g.List != nil || g.Of != nil {
			put(path.Join(dir, csvFile(p, g)), csvOf(g, p.Proof.Own), nil)
		}
	}
	if hasCard(p) {
		b, l := w.card(p)
		put(path.Join(dir, CardAddress(p.Page)), b, l)
	}
	if hasProducts(p) {
		b, l := w.products(p)
		put(path.Join(dir, productAddress(p)), b, l)
	}
	if hasLabels(p) {
		b, l := w.labels(p)
		put(path.Join(dir, labelAddress(p)), b, l)
	}
}
