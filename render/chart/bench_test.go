package chart

import (
	"math"
	"testing"
)

func BenchmarkCurves(b *testing.B) {
	c := timeCurves()
	for b.Loop() {
		c.Figure()
	}
}

// BenchmarkManyMarks draws 10,000 readings, every tenth out of limits.
func BenchmarkManyMarks(b *testing.B) {
	m := Marks{Name: "Readings", Joined: true}
	for i := range 10000 {
		m.Points = append(m.Points, Point{X: 20000 + float64(i)/27, Y: math.Sin(float64(i)), OK: true})
		flag := ""
		if i%10 == 0 {
			flag = "high"
		}
		m.Flags = append(m.Flags, flag)
	}
	c := Chart{ID: "many", X: Axis{Kind: Date}, Marks: []Marks{m}, Own: &Point{X: 20100, Y: 0, OK: true}}
	for b.Loop() {
		c.Figure()
	}
}
