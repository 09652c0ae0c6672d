package page

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// claim reserves a name on the page, or reports that it is not a valid name or is taken.
func (d *decoder) claim(name *value) bool { return d.claimed(name, false) }

// named goes through a mapping of names, each with a mapping of its own, and claims them.
func (d *decoder) named(v *value, key, what string, each func(name, item *value)) {
	if v = d.mapping(v, key); v == nil {
		return
	}
	for i, k := range v.Keys {
		if !d.claim(k) {
			continue
		}
		if item := d.mapping(v.Items[i], what); item != nil {
			each(k, item)
		}
	}
}

// claimDotted is claim for a name that stands only before a point, as the names of data files
// and of pages drawn on do. It may also be a function's (log.density), since no function is
// called there.
func (d *decoder) claimDotted(name *value) bool { return d.claimed(name, true) }

func (d *decoder) claimed(name *value, dotted bool) bool {
	n := name.Text
	switch {
	case !isName(n):
		d.report(source.BadName(n), name.Span)
	case quantity.IsUnit(n):
		d.report(source.NameIsUnit(n), name.Span)
	case formula.IsFunction(n) && !dotted || formula.IsWord(n) || isBlock(n):
		d.report(source.NameReserved(n), name.Span)
	default:
		if first, taken := d.sheet.names[n]; taken {
			d.report(source.NameTaken(n).Also(first, "the first "+n), name.Span)
			return false
		}
		d.sheet.names[n] = name.Span
		return true
	}
	d.sheet.misnamed[n] = true
	return false
}

// Misnamed reports whether the page gives something a name that was refused: since that is
// reported, a use of the name is not reported as unknown.
func (s *Sheet) Misnamed(name string) bool { return s.misnamed[name] }

// missing reports a name that nothing on the page has, unless the name was refused.
func (d *decoder) missing(name string, p source.Problem, at source.Span) {
	if !d.sheet.misnamed[name] {
		d.report(p, at)
	}
}

func isName(n string) bool {
	for i := 0; i < len(n); i++ {
		c := n[i]
		if c >= 'a' && c <= 'z' || i > 0 && (c >= '0' && c <= '9' || c == '_') {
			continue
		}
		return false
	}
	return n != "" && len(n) <= 60
}
