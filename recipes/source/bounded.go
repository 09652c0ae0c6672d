package source

// The most diagnostics of one severity that are shown for one file, and in all. Correcting the
// first of them usually corrects many of the others, and the rest show up on the next run.
const (
	MostInFile = 100
	MostInAll  = 1000
)

// Bounded cuts a sorted list to MostInFile and MostInAll; errors, reports and advice are counted
// separately. One diagnostic, at the place of the first that was left out, says how many there
// were.
func (l List) Bounded() List {
	if len(l) <= MostInFile {
		return l
	}
	return l.cut(MostInFile, func(d Diagnostic) string { return d.File }, MoreInFile).
		cut(MostInAll, func(Diagnostic) string { return "" }, MoreInAll)
}

// cut leaves out whatever exceeds most in each group.
func (l List) cut(most int, group func(Diagnostic) string, say func(n int, s Severity) Problem) List {
	type kind struct {
		group    string
		severity Severity
	}
	seen, place := map[kind]int{}, map[kind]int{}
	out := make(List, 0, min(len(l), most))
	for _, d := range l {
		k := kind{group(d), d.Severity}
		if d.Code == MoreInFile(0, d.Severity).Code && group(d) != "" { // bounded before
			out = append(out, d)
			continue
		}
		if seen[k]++; seen[k] <= most {
			out = append(out, d)
			continue
		}
		n := max(1, d.others)
		at, told := place[k]
		if !told {
			at = len(out)
			place[k] = at
			out = append(out, Diagnostic{File: d.File, Line: d.Line, Column: d.Column, Severity: d.Severity})
		}
		out[at].others += n
	}
	for k, at := range place {
		p := say(out[at].others, k.severity)
		out[at].Code, out[at].Message, out[at].Hint = p.Code, p.Message, p.Hint
	}
	return out
}
