package page

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// Product is what a page makes, for the label of its container.
type Product struct {
	// Name is its name under makes. No formula can use it.
	Name  string
	Label Prose // a text without braces; empty if the page gives none
	Store Prose // how it is stored, also without braces
	// Amount is how much is made, Lasts how long it keeps from the day of mixing or the last day
	// itself, Opened how long it keeps once opened; nil if the page does not say.
	Amount, Lasts, Opened *ProductValue
	// Contains are substances of the hazard list. They are among the page's own.
	Contains []Substance
	Span     source.Span
}

// ProductValue is a value of a product, worked out by a formula.
type ProductValue struct {
	Key     string // the key that it is under
	Formula *formula.Formula
	Node    *formula.Node // nil until it is inferred, and after an error
	Show    quantity.Show
}

// Values lists the values of the product, in the order of a label.
func (p *Product) Values() []*ProductValue {
	var out []*ProductValue
	for _, v := range []*ProductValue{p.Amount, p.Lasts, p.Opened} {
		if v != nil {
			out = append(out, v)
		}
	}
	return out
}

func (d *decoder) makes(v *value) {
	if v = d.mapping(v, "makes"); v == nil {
		return
	}
	for i, k := range v.Keys {
		item := v.Items[i]
		if !isName(k.Text) {
			d.report(source.BadName(k.Text), k.Span)
			continue
		}
		if item.Shape != mapping {
			d.notKeys(item, "a product", "its keys, such as {label: Staining syrup, amount: batch}")
			continue
		}
		d.known(item, underFront("makes", tree.Chosen))
		p := &Product{Name: k.Text, Span: k.Span}
		_, p.Label = d.label(item.Get("label"))
		if x := item.Get("store"); x != nil {
			if d.text(x, "store") != "" {
				p.Store = prose(x)
			}
		}
		if x := d.required(item, "amount", "amount: and how much is made", k.Span); x != nil {
			p.Amount = d.productValue(x, "amount")
		}
		p.Lasts = d.productValue(item.Get("lasts"), "lasts")
		p.Opened = d.productValue(item.Get("opened"), "opened")
		for _, x := range d.items(item.Get("contains"), "contains") {
			if s, ok := d.substance(x); ok {
				p.Contains = append(p.Contains, s)
				d.handles(s)
			}
		}
		d.sheet.Makes = append(d.sheet.Makes, p)
	}
}

// handles adds a substance to those of the page, unless it is among them: whoever makes the
// product handles what goes into it.
func (d *decoder) handles(s Substance) {
	for _, have := range d.sheet.Substances {
		if have.Name == s.Name {
			return
		}
	}
	d.sheet.Substances = append(d.sheet.Substances, s)
}

// productValue reads a formula of a product; nil after a report, and if the key is missing.
func (d *decoder) productValue(v *value, key string) *ProductValue {
	if v == nil || v.Shape == nothing {
		return nil
	}
	f := d.formula(v, key)
	if f == nil {
		return nil
	}
	return &ProductValue{Key: key, Formula: f}
}

// product infers the formulas of a product and checks that a label can show their kinds.
func (r *resolver) product(p *Product) {
	r.productValue(p.Amount, "a volume, a mass or a count", func(k quantity.Kind) bool {
		return k == quantity.Volume || k == quantity.Mass || k.IsCount()
	})
	r.productValue(p.Lasts, "a time or a date", func(k quantity.Kind) bool { return k == quantity.Time || k == quantity.Date })
	r.productValue(p.Opened, "a time", func(k quantity.Kind) bool { return k == quantity.Time })
}

func (r *resolver) productValue(v *ProductValue, want string, fits func(quantity.Kind) bool) {
	if v == nil {
		return
	}
	n := r.infer(v.Formula)
	if n == nil || n.Kind.Sort == quantity.Unknown {
		return
	}
	if !fits(n.Kind) {
		r.report(source.WantsKind(v.Key, want, n.KindName()), v.Formula.Span())
		return
	}
	v.Node, v.Show = n, n.Show()
	if written, trouble := quantity.Parse(strings.TrimSpace(v.Formula.Text)); trouble == nil {
		v.Show = written.AsWritten() // so that 12 months are not shown in days
	} else if name, alone := v.Formula.Alone(); alone {
		if f := r.scope.s.figs[name]; f != nil {
			v.Show = f.Show
		} else if g := r.scope.s.given[name]; g != nil {
			v.Show = g.Show
		}
	}
}
