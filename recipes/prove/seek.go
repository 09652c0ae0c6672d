package prove

import (
	"context"
	"maps"
	"math"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Wish is a condition that settings are to fulfil, with its text.
type Wish struct {
	Text string
	Node *formula.Node
}

// Sought says at which settings of a page all wishes hold.
type Sought struct {
	// Settings are ways to set the page, those with the fewest changes first. A given without a
	// range in one keeps its value.
	Settings [][]Range
	// Impossible says why some wishes hold nowhere.
	Impossible []Impossible
	// Proved says that it is proved to be impossible at any setting.
	Proved bool
}

// Range is what one given may be set to: from Low to High, both ends included.
type Range struct {
	Given     *page.Given
	Low, High float64
}

// Text writes the range as a page writes one.
func (r Range) Text() string {
	low, high := typedText(r.Given, r.Low), typedText(r.Given, r.High)
	if low == high {
		return low
	}
	return low + " .. " + high
}

// typedText writes a value so that it reads back as itself.
func typedText(g *page.Given, v float64) string {
	text := g.Shown(v).Text
	if back, trouble := g.Set(text); trouble == nil && quantity.Equal(back, v) {
		return text
	}
	return quantity.Show{Style: quantity.Written, Unit: g.Show.Unit}.Format(v).Text
}

// Impossible is a wish that cannot be met, and what is in its way.
type Impossible struct{ Condition, Because string }

// mostSettings is how many ways to set the page are returned.
const mostSettings = 8

// Seek looks for settings at which a page gives numbers and all wishes hold. Values in set stay as
// they are; all others may be set within their ranges.
func Seek(ctx context.Context, s *page.Sheet, wishes []Wish, set map[*page.Given]float64) Sought {
	k := &seeker{ctx: ctx, sheet: s, wishes: wishes, set: set, run: NewCase(s)}
	k.run.Room()
	for _, a := range axes(s) {
		if _, fixed := set[a.given]; !fixed {
			k.free = append(k.free, a)
		}
	}
	var out Sought
	if k.holds(nil) {
		out.Settings = append(out.Settings, nil)
	}
	for i := range k.free {
		for _, r := range k.along(i, nil) {
			out.Settings = append(out.Settings, []Range{r})
		}
	}
	if len(out.Settings) == 0 {
		out.Settings = k.together()
	}
	if len(out.Settings) > mostSettings {
		out.Settings = out.Settings[:mostSettings]
	}
	if len(out.Settings) == 0 {
		out.Impossible = k.why()
		out.Proved = len(set) == 0 && k.proved()
	}
	return out
}

type seeker struct {
	ctx    context.Context
	sheet  *page.Sheet
	wishes []Wish
	set    map[*page.Given]float64
	free   []axis
	run    *Case
	// barriers are the texts of limits that are in the way.
	barriers map[*page.Limit]string
}

// put works the page out with some values set; all others keep the page's own.
func (k *seeker) put(at map[*page.Given]float64) {
	for _, g := range k.sheet.Given {
		k.run.Set(g, g.Own)
	}
	for _, with := range []map[*page.Given]float64{k.set, at} {
		for g, v := range with {
			k.run.Set(g, v)
		}
	}
	k.run.Work()
}

// holds reports whether the page gives numbers with some values set, and all wishes hold.
func (k *seeker) holds(at map[*page.Given]float64) bool {
	k.put(at)
	if k.run.Refused() || len(k.run.Failed) > 0 {
		return false
	}
	return !slices.ContainsFunc(k.wishes, func(w Wish) bool { return !k.wished(w) })
}

func (k *seeker) wished(w Wish) bool {
	k.run.Frame.Reset()
	return w.Node.Eval(&k.run.Frame) != 0 && k.run.Frame.Fault == formula.None
}

// trialValues lists the values at which an axis is tried.
func (a axis) trialValues() []float64 {
	if a.values != nil {
		return a.values
	}
	const parts = 256
	out := make([]float64, parts+1)
	for i := range out {
		out[i] = a.low + (a.high-a.low)*float64(i)/parts
	}
	return out
}

// along finds the ranges of one given within which the wishes hold, while others stay as they are.
// Ends between two steps are narrowed down, and then moved inward to a value of few digits.
func (k *seeker) along(i int, with map[*page.Given]float64) (out []Range) {
	a := k.free[i]
	at := func(v float64) bool {
		all := maps.Clone(with)
		if all == nil {
			all = map[*page.Given]float64{}
		}
		all[a.given] = v
		return k.holds(all)
	}
	steady := between(a.given)
	values := a.trialValues()
	if steady {
		values = k.turns(a.given, values, with)
	}
	begun := false
	for j, v := range values {
		if k.ctx.Err() != nil {
			return nil
		}
		switch holds := at(v); {
		case holds && !begun:
			begun = true
			low := v
			if steady && j > 0 {
				low = k.edge(a.given, values[j-1], v, at)
			}
			out = append(out, Range{a.given, low, v})
		case holds && steady || holds && len(a.given.Choices) == 0:
			out[len(out)-1].High = v
		case holds: // choices do not make up a range
			out = append(out, Range{a.given, v, v})
		case begun:
			begun = false
			if last := &out[len(out)-1]; steady {
				last.High = k.edge(a.given, v, last.High, at)
			}
		}
	}
	return out
}

// turns adds to some values the places between them where a wish or the page's refusal changes,
// on both sides of the change: it may be only there that all hold.
func (k *seeker) turns(g *page.Given, values []float64, with map[*page.Given]float64) []float64 {
	look := func(v float64) []bool {
		all := maps.Clone(with)
		if all == nil {
			all = map[*page.Given]float64{}
		}
		all[g] = v
		k.put(all)
		out := []bool{k.run.Refused() || len(k.run.Failed) > 0}
		for _, w := range k.wishes {
			out = append(out, k.wished(w))
		}
		return out
	}
	var out []float64
	before := look(values[0])
	for j := 1; j < len(values); j++ {
		out = append(out, values[j-1])
		after := look(values[j])
		var found []float64
		for i := range before {
			if before[i] == after[i] {
				continue
			}
			low, high := values[j-1], values[j]
			for range 48 {
				if middle := (low + high) / 2; look(middle)[i] == before[i] {
					low = middle
				} else {
					high = middle
				}
			}
			found = append(found, low, high)
		}
		slices.Sort(found)
		out = append(out, found...)
		before = after
	}
	return append(out, values[len(values)-1])
}

// edge is the last value that holds on the way to one that fails, with as few digits as possible.
func (k *seeker) edge(g *page.Given, fails, holds float64, at func(float64) bool) float64 {
	for range 50 {
		middle := (fails + holds) / 2
		if at(middle) {
			holds = middle
		} else {
			fails = middle
		}
	}
	u := g.Show.Unit
	if u.Factor == 0 {
		return holds
	}
	inward := math.Ceil
	if fails > holds {
		inward = math.Floor
	}
	for digits := range 9 {
		step := math.Pow10(digits)
		for _, to := range []func(float64) float64{math.Round, inward} {
			if v := u.Base(to(u.Of(holds)*step) / step); math.Abs(v-holds) <= math.Abs(holds-fails)*1e9+1e-3*math.Abs(g.To.Base-g.From.Base) && at(v) {
				return v
			}
		}
	}
	return holds
}

// together looks for settings that change several given values at once, as few as possible.
func (k *seeker) together() [][]Range {
	type hit struct {
		away int
		at   map[*page.Given]float64
	}
	var hits []hit
	run := NewCase(k.sheet)
	EachCase(k.sheet, run, func() bool {
		if k.ctx.Err() != nil {
			return false
		}
		at, away := map[*page.Given]float64{}, 0
		for _, a := range k.free {
			if v := run.Frame.V[a.given.Slot]; v != a.given.Own {
				at[a.given] = v
				away++
			}
		}
		if k.holds(at) {
			hits = append(hits, hit{away, at})
		}
		return true
	})
	slices.SortStableFunc(hits, func(a, b hit) int { return a.away - b.away })
	var out [][]Range
	seen := map[string]bool{} // which given values are changed, to which choices
	for _, h := range hits {
		if len(out) == mostSettings {
			break
		}
		h.at = k.simpler(h.at)
		key := ""
		for _, a := range k.free {
			if v, is := h.at[a.given]; is && len(a.given.Choices) > 0 {
				key += a.given.Name + " " + typedText(a.given, v) + ","
			} else if is {
				key += a.given.Name + ","
			}
		}
		if !seen[key] {
			seen[key] = true
			out = append(out, k.widened(h.at))
		}
	}
	return out
}

// simpler takes out the settings without which the wishes hold as well.
func (k *seeker) simpler(at map[*page.Given]float64) map[*page.Given]float64 {
	for _, a := range k.free {
		v, is := at[a.given]
		if !is {
			continue
		}
		delete(at, a.given)
		if !k.holds(at) {
			at[a.given] = v
		}
	}
	return at
}

// widened makes one of some settings a range, within which the wishes hold: the setting whose range
// is the largest share of what it can be set to.
func (k *seeker) widened(at map[*page.Given]float64) (out []Range) {
	ranges := map[*page.Given]Range{}
	var best *page.Given
	widest := 0.0
	for i, a := range k.free {
		v, is := at[a.given]
		if !is {
			continue
		}
		ranges[a.given] = Range{a.given, v, v}
		if a.given.From == nil || len(a.given.Choices) > 0 {
			continue
		}
		for _, wide := range k.along(i, at) {
			width := (wide.High - wide.Low) / (a.high - a.low)
			if quantity.LessOrEqual(wide.Low, v) && quantity.LessOrEqual(v, wide.High) && width > widest {
				best, widest = a.given, width
				ranges[best] = wide
			}
		}
	}
	for _, a := range k.free {
		r, is := ranges[a.given]
		if !is {
			continue
		}
		if v := at[a.given]; a.given != best {
			r.Low, r.High = v, v
		}
		out = append(out, r)
	}
	return out
}

// why tells what is in the way of each wish that holds in no case.
func (k *seeker) why() []Impossible {
	met := make([]bool, len(k.wishes))
	stands := make([]map[string]bool, len(k.wishes))
	for i := range stands {
		stands[i] = map[string]bool{}
	}
	run := NewCase(k.sheet)
	EachCase(k.sheet, run, func() bool {
		at := map[*page.Given]float64{}
		for _, a := range k.free {
			at[a.given] = run.Frame.V[a.given.Slot]
		}
		k.put(at)
		for i, w := range k.wishes {
			if !k.wished(w) {
				continue
			}
			if k.run.Refused() {
				stands[i][k.barrier()] = true
			} else {
				met[i] = true
			}
		}
		return k.ctx.Err() == nil
	})
	var out []Impossible
	for i, w := range k.wishes {
		switch {
		case met[i]:
		case len(stands[i]) > 0:
			var texts []string
			for text := range stands[i] {
				texts = append(texts, text)
			}
			slices.Sort(texts)
			out = append(out, Impossible{w.Text, strings.Join(texts[:min(3, len(texts))], " ")})
		default:
			out = append(out, Impossible{w.Text, "it does not hold at any values that can be set"})
		}
	}
	if len(out) == 0 && len(k.wishes) > 0 {
		var all []string
		for _, w := range k.wishes {
			all = append(all, w.Text)
		}
		out = append(out, Impossible{strings.Join(all, " and "), "each can be had, but not together"})
	}
	return out
}

// barrier is why the present case is refused. A limit always has the text of the first case that it
// refused, so that it is not listed once for each set of values.
func (k *seeker) barrier() string {
	r := k.run.Refusals[0]
	if r.Limit == nil {
		return r.Text
	}
	if k.barriers == nil {
		k.barriers = map[*page.Limit]string{}
	}
	if k.barriers[r.Limit] == "" {
		k.barriers[r.Limit] = k.run.Why()
	}
	return k.barriers[r.Limit]
}

// proved reports whether it can be proved that the wishes never hold together.
func (k *seeker) proved() bool {
	if len(k.wishes) == 0 {
		return false
	}
	var all *formula.Node
	for _, w := range k.wishes {
		if all == nil {
			all = w.Node
		} else {
			all = &formula.Node{Op: formula.And, Kind: quantity.Yes, Args: []*formula.Node{all, w.Node}}
		}
	}
	came, _ := newContinuous(k.ctx, k.sheet).holds(&formula.Node{Op: formula.Not, Kind: quantity.Yes, Args: []*formula.Node{all}}, nil)
	return came == proved
}
