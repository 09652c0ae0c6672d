package script

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"labsite/recipes/prove"
)

// jobs is a file of many rows, with amounts from 0 to count-1 and processes in turn.
func jobs(count int) string {
	var b strings.Builder
	b.WriteString("job,process,rolls\n")
	for i := range count {
		fmt.Fprintf(&b, "%d,%s,%d\n", i, []string{"colour", "reversal", "monochrome"}[i%3], i)
	}
	return b.String()
}

// A sum over chosen rows of a file of 100,000 rows is as many values in a script as there are choices, and
// one search among them in a case.
func TestManyRows(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data: {jobs: jobs.csv}
given:
  process: {value: colour, choices: jobs.process}
figures:
  total: sum(jobs.rolls, jobs.process, process)
  spread: deviation(jobs.rolls, jobs.process, process)
  of: count(jobs.job, jobs.process, process)
`, "jobs.csv", jobs(99_999))
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if len(js) > 1500 {
		t.Errorf("the script has %d bytes", len(js))
	}
	if cases, _ := compare(t, referee(t), Page{Sheet: s}, 10); cases != 3 {
		t.Errorf("%d cases were compared", cases)
	}
	c := prove.OwnCase(s)
	n := 33_333.0
	for name, want := range map[string]float64{"total": 3 * n * (n - 1) / 2, "of": n, "spread": 3 * math.Sqrt(n*(n+1)/12)} {
		if got := c.Frame.V[s.Figure(name).Slot]; math.Abs(got/want-1) > 1e-14 {
			t.Errorf("%s is %.17g, want %.17g", name, got, want)
		}
	}
}

// A key by which a reader could choose any row of a large file is refused, since the script would need the
// whole file.
func TestTooManyGroups(t *testing.T) {
	t.Parallel()
	front := `
data: {jobs: jobs.csv}
given:
  job: {value: 5, from: 0, to: %d}
figures:
  total: sum(jobs.rolls, jobs.job, job)
`
	_, list := prove.Sheet(t.Context(), pageOf(t, fmt.Sprintf(front, 4000), "jobs.csv", jobs(5000)))
	if list.Errors() != 1 || list[0].Code != "too-many-groups" || !strings.Contains(list[0].Message, "4001") {
		t.Errorf("got %s", list)
	}
	s := pageOf(t, fmt.Sprintf(front, 1500), "jobs.csv", jobs(5000))
	compare(t, referee(t), Page{Sheet: s}, 100)
}
