package chart

import (
	"math"
	"slices"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func labels(t []tick) (all []string) {
	for _, k := range t {
		all = append(all, upLabel(k))
	}
	return all
}

func dayOf(y, m, d int) float64 {
	return since(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC))
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		name      string
		axis      Axis
		low, high float64
		most      int
		want      []string
	}{
		{"tenths", Axis{}, 0, 0.5, 6, []string{"0", "0.1", "0.2", "0.3", "0.4", "0.5"}},
		{"twos", Axis{}, 17.5, 24.1, 5, []string{"18", "20", "22", "24"}},
		{"below zero", Axis{}, -0.12, 0.12, 6, []string{"−0.10", "−0.05", "0", "0.05", "0.10"}},
		{"hundreds", Axis{}, 12, 1020, 6, []string{"200", "400", "600", "800", "1000"}},
		{"no finer than shown", Axis{Least: 1}, 0, 3, 16, []string{"0", "1", "2", "3"}},
		{"multiples of what is shown", Axis{Least: 0.3}, 0, 3, 6, []string{"0", "0.6", "1.2", "1.8", "2.4", "3.0"}},
		{"quarter minutes", Axis{Kind: Duration}, 0, 60, 6, []string{"0", "15 s", "30 s", "45 s", "1 min"}},
		{"half minutes", Axis{Kind: Duration}, 540, 660, 5, []string{"9 min", "9 min 30 s", "10 min", "10 min 30 s", "11 min"}},
		{"minutes", Axis{Kind: Duration}, 470, 790, 7, []string{"8 min", "9 min", "10 min", "11 min", "12 min", "13 min"}},
		{"two minutes", Axis{Kind: Duration}, 0, 480, 6, []string{"0", "2 min", "4 min", "6 min", "8 min"}},
		{"quarter hours", Axis{Kind: Duration}, 0, 5400, 7, []string{"0", "15 min", "30 min", "45 min", "1 h", "1 h 15 min", "1 h 30 min"}},
		{"parts of a second", Axis{Kind: Duration}, 0, 1, 6, []string{"0", "0.2 s", "0.4 s", "0.6 s", "0.8 s", "1.0 s"}},
		{"days", Axis{Kind: Duration}, 0, 5 * 86400, 6, []string{"0", "24 h", "2 days", "3 days", "4 days", "5 days"}},
		{"thirds", Axis{Kind: Stops}, -1, 1, 7, []string{"−1", "−2/3", "−1/3", "0", "1/3", "2/3", "1"}},
		{"whole stops", Axis{Kind: Stops}, -2, 2, 6, []string{"−2", "−1", "0", "1", "2"}},
		{"sixths", Axis{Kind: Stops}, 0, 0.5, 4, []string{"0", "1/6", "1/3", "1/2"}},
		{"thirds, however much room there is", Axis{Kind: Stops}, -0.4, 0.4, 16, []string{"−1/3", "0", "1/3"}},
		{"prices", Axis{Kind: Money}, 0, 2, 6, []string{"0", "0.50", "1.00", "1.50", "2.00"}},
		{"whole prices", Axis{Kind: Money}, 0, 60, 4, []string{"0", "20", "40", "60"}},
		{"dates by the day", Axis{Kind: Date}, dayOf(2026, 2, 26), dayOf(2026, 3, 2), 6, []string{"26 Feb 2026", "27 Feb", "28 Feb", "1 Mar", "2 Mar"}},
		{"Mondays over New Year", Axis{Kind: Date}, dayOf(2026, 12, 15), dayOf(2027, 1, 12), 6, []string{"21 Dec 2026", "28 Dec", "4 Jan 2027", "11 Jan"}},
		{"months", Axis{Kind: Date}, dayOf(2026, 11, 2), dayOf(2027, 3, 2), 5, []string{"Dec 2026", "Jan 2027", "Feb", "Mar"}},
		{"quarters", Axis{Kind: Date}, dayOf(2026, 1, 1), dayOf(2027, 1, 1), 6, []string{"Jan 2026", "Apr", "Jul", "Oct", "Jan 2027"}},
		{"years", Axis{Kind: Date}, dayOf(2019, 5, 1), dayOf(2026, 5, 1), 7, []string{"2020", "2021", "2022", "2023", "2024", "2025", "2026"}},
	} {
		got := labels(c.axis.ticks(c.low, c.high, func(t []tick) bool { return len(t) <= c.most }))
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Over any range ticks lie within it, ascend, are evenly spaced (except for months) and do not repeat their texts.
func TestTicksOverAnyRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Axis{Kind: rapid.SampledFrom([]AxisKind{Plain, Duration, Date, Stops, Money}).Draw(t, "kind")}
		exponent := rapid.Float64Range(-80, 99).Draw(t, "exponent")
		low := rapid.Float64Range(-1, 1).Draw(t, "low") * math.Pow(10, exponent)
		e := a.domain(extent{low, low + math.Pow(10, exponent+rapid.Float64Range(-10, 0).Draw(t, "span")), true}, false)
		most := rapid.IntRange(2, mostTicks).Draw(t, "most")
		ticks := a.ticks(e.low, e.high, func(t []tick) bool { return len(t) <= most })
		checkTicks(t, ticks, e)
		for i := 2; i < len(ticks) && a.Kind != Date; i++ {
			one, two := ticks[i-1].at-ticks[i-2].at, ticks[i].at-ticks[i-1].at
			if math.Abs(one-two) > 1e-6*(e.high-e.low) {
				t.Fatalf("ticks %v are uneven", ticks)
			}
		}
	})
}

// A range of ordinary numbers always has ticks.
func TestOrdinaryRangesHaveTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Axis{Kind: rapid.SampledFrom([]AxisKind{Plain, Duration, Date, Stops, Money}).Draw(t, "kind")}
		low := rapid.Float64Range(-100, 20000).Draw(t, "low")
		high := low + rapid.Float64Range(2, 5000).Draw(t, "span")
		if got := a.ticks(low, high, func(t []tick) bool { return len(t) > 0 }); len(got) < 2 {
			t.Fatalf("%v from %g to %g: %v", a.Kind, low, high, got)
		}
	})
}

// A value between two samples is written as somebody would read it off a chart.
func TestAbout(t *testing.T) {
	exact := func(unit string) func(float64) string {
		return func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit }
	}
	for _, c := range []struct {
		axis Axis
		v    float64
		want string
	}{
		{Axis{Unit: "°C", Format: exact("°C")}, 23.0625, "23.1 °C"},
		{Axis{Unit: "°C", Format: exact("°C")}, 20, "20 °C"},
		{Axis{Unit: "ml", Format: exact("ml")}, 1250, "1250 ml"},
		{Axis{Unit: "ml", Format: exact("ml")}, 591.4705913, "591 ml"},
		{Axis{Kind: Duration, Format: exact("s")}, 1662, "27 min 42 s"},
		{Axis{Kind: Stops}, 1.0 / 3, "1/3 stop"},
		{Axis{Format: exact("")}, 1.929889698, "1.93"},
		{Axis{Kind: Money, Unit: "USD", Format: func(float64) string { return "12.50 USD" }}, 12.5, "12.50 USD"},
	} {
		if got := c.axis.about(c.v); got != c.want {
			t.Errorf("%v is said as %q, want %q", c.v, got, c.want)
		}
	}
}
