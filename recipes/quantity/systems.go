package quantity

import (
	_ "embed"
	"strings"
)

//go:embed systems.txt
var systemLines string

// Exchange says in which units of one system some units of the other are shown.
type Exchange struct {
	// System is that of To: "us" or "metric".
	System string
	From   []Unit
	To     []Exchanged
}

// Exchanged is a unit to show values in. Least is the smallest value that it is used for,
// in base units; of several, the largest that a value reaches is used.
type Exchanged struct {
	Unit
	Least float64
}

// Exchanges lists the lines of systems.txt.
func Exchanges() []Exchange {
	var out []Exchange
	for line := range strings.Lines(systemLines) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		f := strings.Split(line, "|")
		if len(f) != 3 {
			panic("systems.txt: " + line)
		}
		e := Exchange{System: strings.TrimSpace(f[0])}
		for name := range strings.FieldsSeq(f[1]) {
			e.From = append(e.From, listed(name))
		}
		for part := range strings.SplitSeq(f[2], ";") {
			name, least, _ := strings.Cut(strings.TrimSpace(part), " from ")
			to := Exchanged{Unit: listed(name)}
			if least != "" {
				v, trouble := Parse(least)
				if trouble != nil {
					panic("systems.txt: " + least)
				}
				to.Least = v.Base
			}
			e.To = append(e.To, to)
		}
		out = append(out, e)
	}
	return out
}

// listed is a unit that systems.txt names. It panics on a mistake: the file is part of the
// program, and its tests find one.
func listed(name string) Unit {
	u, n, ok := ReadUnit(name)
	if !ok || n != len(name) {
		panic("systems.txt: " + name)
	}
	return u
}
