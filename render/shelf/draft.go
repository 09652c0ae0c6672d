package shelf

import (
	"regexp"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source/tree"
)

// example says that an expected value holds for the example values.
const example = " (with the example's values)"

// draft returns a page's front matter as another lab takes it over, and how many things it marked
// as not yet measured there.
func (o *original) draft() (text string, marks int) {
	edits := o.uncontrolled()
	if data := o.front.Get("data"); data != nil {
		for _, item := range data.Items {
			edits = append(edits, o.untrustedFile(item))
			marks++
		}
	}
	if given := o.front.Get("given"); given != nil {
		for _, item := range given.Items {
			if more := o.unmeasured(item); len(more) > 0 {
				edits = append(edits, more...)
				marks++
			}
		}
	}
	if checks := o.front.Get("checks"); checks != nil && (marks > 0 || o.front.Get("draws_on") != nil) {
		for _, item := range checks.Items {
			e, measured := o.unmeasuredCheck(item)
			edits = append(edits, e...)
			if measured {
				marks++
			}
		}
	}
	return changed(o.file.Text[:o.body], edits), marks
}

// uncontrolled makes the page an unapproved draft in its first revision.
func (o *original) uncontrolled() (edits []edit) {
	control := o.front.Get("control")
	if control == nil || control.Shape != tree.Mapping {
		return nil
	}
	for _, key := range []string{"approved_by", "approved", "effective", "review", "changes"} {
		if e, there := o.without(control, key); there {
			edits = append(edits, e)
		}
	}
	for key, text := range map[string]string{"revision": "1", "status": string(page.Draft), "owner": page.Nobody} {
		if v := control.Get(key); v != nil {
			edits = append(edits, o.say(v, text))
		}
	}
	return edits
}

// untrustedFile marks a data file as not yet measured.
func (o *original) untrustedFile(v *tree.Value) edit {
	if v.Shape == tree.Mapping {
		if s := v.Get("source"); s != nil {
			return o.say(s, page.Unmeasured)
		}
		return o.with(v, "source", page.Unmeasured)
	}
	return o.say(v, "{file: "+strings.TrimSpace(v.Text)+", source: "+page.Unmeasured+"}")
}

// unmeasured marks a value that somebody owned, and a temperature that a reader may set, whose
// range somebody tested. It leaves any other given alone.
func (o *original) unmeasured(v *tree.Value) (edits []edit) {
	if v.Shape != tree.Mapping {
		return nil
	}
	if s := v.Get("source"); s != nil {
		edits = append(edits, o.say(s, page.Unmeasured))
		if owner := v.Get("owner"); owner != nil {
			edits = append(edits, o.say(owner, page.Nobody))
		}
		if e, there := o.without(v, "review"); there {
			edits = append(edits, e)
		}
		return edits
	}
	if value := v.Get("value"); value != nil && (v.Get("from") != nil || v.Get("choices") != nil) && isTemperature(value.Text) {
		return []edit{o.with(v, "source", page.Unmeasured)}
	}
	return nil
}

func isTemperature(text string) bool {
	q, t := quantity.Parse(strings.TrimSpace(text))
	return t == nil && q.Kind.Sort == quantity.Point && q.Kind != quantity.Date
}

var measuredHere = regexp.MustCompile(`^measured here\b`)

// unmeasuredCheck rewrites the source of an expected value; measured says that somebody had
// measured it.
func (o *original) unmeasuredCheck(v *tree.Value) (edits []edit, measured bool) {
	if v.Shape != tree.Mapping || v.Get("expect") == nil {
		return nil, false
	}
	s := v.Get("source")
	if s == nil || s.Shape != tree.Scalar {
		return nil, false
	}
	if measuredHere.MatchString(strings.TrimSpace(s.Text)) {
		return []edit{o.say(s, page.Unmeasured)}, true
	}
	return []edit{o.say(s, quoted(strings.TrimSpace(s.Text)+example))}, false
}
