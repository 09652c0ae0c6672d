package formula

import (
	"labsite/recipes/source"
)

// refusedSigns are signs that formulas do not have: what they are called, and what to do
// instead.
var refusedSigns = map[string]struct{ what, instead string }{
	"&&": {"&&", "Write and."},
	"&":  {"&", "Write and."},
	"||": {"||", "Write or."},
	"|":  {"a pipe", "Write the call around its value: f(x)."},
	"!":  {"!", "Write not."},
	"::": {"::", "Call the function by its name alone."},
	"//": {"a comment", "Explain the formula in the text of the page."},
	"/*": {"a comment", "Explain the formula in the text of the page."},
	"..": {"a range", "Compare with <= on both sides instead."},
	"?.": {"?.", "Every name has a value here; leave it out."},
	"??": {"??", "Every name has a value here; leave it out."},
	"=>": {"=>", "Write one formula; there are no functions inside it."},
	"->": {"->", "Write one formula; there are no functions inside it."},
	"[":  {"a list or an index", "Use lookup over a data file, or a ? b : c."},
	"]":  {"a list or an index", "Use lookup over a data file, or a ? b : c."},
	"#":  {"#", strayHint}, "@": {"@", strayHint}, "$": {"$", strayHint}, "\\": {"\\", strayHint}, "~": {"~", strayHint}, "`": {"`", strayHint},
}

const strayHint = "A formula has names, quantities, operators and calls."

// sign reads an operator, a bracket or a sign that formulas do not have.
func (s *scan) sign(i int) int {
	sign := s.text[i : i+1]
	if i+1 < len(s.text) {
		two := s.text[i : i+2]
		if _, refused := refusedSigns[two]; refused || bySign[two] != nil {
			sign = two
		}
	}
	end := i + len(sign)
	switch sign {
	case "[":
		s.lists++
	case "]":
		s.lists--
	}
	if r, refused := refusedSigns[sign]; refused && (sign != "]" || s.lists < 0) { // a list is reported once
		s.refuse(source.NotAllowed(r.what, r.instead), i, end)
		if r.what == "a comment" {
			return len(s.text)
		}
	}
	if op := bySign[sign]; op != nil && op.Decides == Compares {
		s.compare(i, end)
	}
	kind := Operator
	switch sign {
	case "%":
		s.refuse(source.PercentSign(), i, end)
	case ";":
		s.endLet(i)
	case "?":
		s.question(i)
	case "&&", "||", ",", ":":
		s.endComparison()
	case "(", "{":
		kind = Bracket
		if !s.open(i) {
			return len(s.text)
		}
	case ")", "}":
		kind = Bracket
		s.close()
	}
	s.tokens = append(s.tokens, Token{Kind: kind, Start: i, End: end})
	s.blanked = append(s.blanked, sign...)
	return end
}

// compare refuses a second comparison in a row: the engine reads a < b < c in its own way.
func (s *scan) compare(i, end int) {
	at := len(s.compared) - 1
	if s.compared[at] {
		s.refuse(source.NotAllowed("a chained comparison", "Write a < b and b < c."), i, end)
	}
	s.compared[at] = true
}

func (s *scan) endComparison() { s.compared[len(s.compared)-1] = false }

func (s *scan) endLet(i int) {
	if s.lets--; s.lets < 0 {
		s.refuse(source.NotAllowed("a second result after ;", "; belongs only after let. Make two figures."), i, i+1)
	}
	s.endComparison()
}

func (s *scan) question(i int) {
	s.questions++
	s.endComparison()
	j := i + 1
	for j < len(s.text) && s.text[j] == ' ' {
		j++
	}
	if j < len(s.text) && s.text[j] == ':' {
		s.refuse(source.NotAllowed("?: without a middle", "Write condition ? value : other value."), i, j+1)
	}
}

// open enters a bracket, unless too many are open.
func (s *scan) open(i int) bool {
	if s.levels++; s.levels > MostLevels {
		s.refuse(source.FormulaTooDeep(MostLevels), i, i+1)
		return false
	}
	if s.text[i] == '{' {
		s.endComparison()
	}
	s.compared = append(s.compared, false)
	return true
}

func (s *scan) close() {
	s.levels--
	if len(s.compared) > 1 {
		s.compared = s.compared[:len(s.compared)-1]
	}
}

func foreignSign(r rune) source.Problem {
	switch r {
	case '×', '·', '∙', '⋅':
		return source.ForeignSign(r, "*")
	case '÷', '∕', '⁄':
		return source.ForeignSign(r, "/")
	case '≤':
		return source.ForeignSign(r, "<=")
	case '≥':
		return source.ForeignSign(r, ">=")
	case '≠':
		return source.ForeignSign(r, "!=")
	case '–', '—':
		return source.ForeignSign(r, "-")
	case '“', '”', '„', '‘', '’':
		return source.ForeignSign(r, `"`)
	}
	return source.ForeignSign(r, "")
}
