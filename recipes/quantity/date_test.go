package quantity

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// julianDay is the number of the Julian day that begins at noon of a date, by the formula of
// Fliegel and Van Flandern, Communications of the ACM 11 (1968) 657, from memory.
func julianDay(y, m, d int) int {
	a := (m - 14) / 12
	return 1461*(y+4800+a)/4 + 367*(m-2-12*a)/12 - 3*((y+4900+a)/100)/4 + d - 32075
}

// Day numbers and weekdays against published ones.
func TestDatesOutside(t *testing.T) {
	day := func(iso string) float64 {
		v, trouble := Parse(iso)
		if trouble != nil || v.Kind != Date {
			t.Fatalf("%s: %v", iso, trouble)
		}
		return v.Base
	}
	// Julian days at 0 h: Meeus, Astronomical Algorithms, chapter 7, from memory; 1858-11-17
	// is the origin of the modified Julian day.
	for iso, jd := range map[string]float64{"2000-01-01": 2451544.5, "1999-01-01": 2451179.5, "1987-01-27": 2446822.5, "1988-06-19": 2447331.5,
		"1900-01-01": 2415020.5, "1600-01-01": 2305447.5, "1600-12-31": 2305812.5, "1858-11-17": 2400000.5, "1957-10-04": 2436115.5} {
		if got := day(iso)/DayLength + 2440587.5; got != jd {
			t.Errorf("%s has the Julian day %v, published as %v", iso, got, jd)
		}
	}
	// One day in the three ways of ISO 8601, as the standard's own examples have it, from
	// memory: calendar, week, day of the year.
	for _, c := range [][3]string{{"1985-04-12", "1985-W15-5", "1985-102"}, {"1981-04-05", "1981-W14-7", "1981-095"}, {"2003-12-29", "2004-W01-1", ""},
		{"1995-01-01", "1994-W52-7", "1995-001"}, {"1996-12-31", "1997-W01-2", "1996-366"}} {
		for _, other := range c[1:] {
			if other == "" {
				continue
			}
			_, trouble := Parse(other)
			if trouble == nil || trouble.Hint != "Write "+c[0]+"." {
				t.Errorf("%s is refused with %v, want %s offered", other, trouble, c[0])
			}
		}
		if week := c[1]; fmt.Sprint(Weekday(day(c[0]))) != week[len(week)-1:] {
			t.Errorf("%s is day %v of its week, published as %s", c[0], Weekday(day(c[0])), week)
		}
	}
	// 1954-06-30 was a Wednesday: Meeus, chapter 7, from memory.
	if got := DefaultShow(Date, Unit{}).Format(day("1954-06-30")).Text; got != "30 June 1954" {
		t.Error(got)
	}
	if got := (Show{Style: DayOfWeek}).Format(day("1954-06-30")).Text; got != "Wednesday, 30 June 1954" {
		t.Error(got)
	}
}

// Every day of many years from 1583 to 2400, against the formula of the Julian day.
func TestEveryDay(t *testing.T) {
	for y := 1583; y <= 2400; y++ {
		if y > 1610 && y < 1890 || y > 2110 && y < 2390 {
			continue // like the others, and trying all would take too long
		}
		at := float64(julianDay(y, 1, 1)-2440588) * DayLength
		leap := y%4 == 0 && (y%100 != 0 || y%400 == 0) // the Gregorian rule: Inter gravissimas (1582)
		for m := 1; m <= 12; m++ {
			days := [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[m-1]
			if m == 2 && leap {
				days++
			}
			for d := 1; d <= days+1; d++ {
				iso := fmt.Sprintf("%04d-%02d-%02d", y, m, d)
				if d > days {
					if NoSuchDay(iso) == "" {
						t.Fatalf("%s is in the calendar", iso)
					}
					continue
				}
				jd := float64(julianDay(y, m, d))
				if NoSuchDay(iso) != "" || dayNumbered(iso) != at || at/DayLength != jd-2440588 || Weekday(at) != math.Mod(jd, 7)+1 || ISODate(at) != iso {
					t.Fatalf("%s: %v, %v, day %v of the week", iso, at, jd, Weekday(at))
				}
				at += DayLength
			}
		}
	}
}

// The last days of months, and working days against a count one by one.
func TestMonthsAndWorkdays(t *testing.T) {
	day := func(iso string) float64 { return dayNumbered(iso) }
	for _, c := range []struct {
		from   string
		months float64
		want   string
	}{
		{"2026-01-31", 1, "2026-02-28"}, {"2024-01-31", 1, "2024-02-29"}, {"2026-01-31", 2, "2026-03-31"}, {"2026-03-31", -1, "2026-02-28"},
		{"2024-02-29", 12, "2025-02-28"}, {"2024-02-29", 48, "2028-02-29"}, {"2026-11-28", 3, "2027-02-28"}, {"2026-11-28", -11, "2025-12-28"},
		{"2026-11-28", 0, "2026-11-28"}, {"1900-01-31", 1, "1900-02-28"}, {"2000-01-31", 1, "2000-02-29"},
	} {
		if got := MonthsAfter(day(c.from), c.months); ISODate(got) != c.want {
			t.Errorf("%v months after %s is %s, want %s", c.months, c.from, ISODate(got), c.want)
		}
	}
	for _, bad := range []float64{MonthsAfter(day("2026-01-31"), 0.5), MonthsAfter(day("9999-12-01"), 1), MonthsAfter(math.NaN(), 1), WorkdaysAfter(0, 1.5, nil), WorkdaysAfter(day("9999-12-31"), 3, nil), OnDay(math.Inf(1))} {
		if !math.IsNaN(bad) {
			t.Errorf("%v is a date", bad)
		}
	}
	closed := []float64{day("2026-11-30"), day("2026-12-01"), day("2026-12-25"), day("2027-01-01")}
	for from := day("2026-11-20"); from < day("2027-01-10"); from += DayLength {
		for n := -30; n <= 30; n++ {
			at, left := from, n
			for left != 0 {
				step := 1.0
				if n < 0 {
					step = -1
				}
				at += step * DayLength
				open := Weekday(at) <= 5
				for _, c := range closed {
					open = open && c != at
				}
				if open {
					left -= int(step)
				}
			}
			if got := WorkdaysAfter(from, float64(n), closed); got != at {
				t.Fatalf("%d working days after %s is %s, want %s", n, ISODate(from), ISODate(got), ISODate(at))
			}
		}
	}
}

// A date is a day and never a moment: whatever the machine's time zone, and on both days on
// which a clock is changed, dates read, show and count alike.
func TestZones(t *testing.T) {
	was := time.Local
	defer func() { time.Local = was }()
	for _, zone := range []string{"UTC", "Europe/Berlin", "America/New_York", "Pacific/Kiritimati", "Pacific/Pago_Pago", "Australia/Lord_Howe"} {
		l, err := time.LoadLocation(zone)
		if err != nil {
			t.Skip(err)
		}
		time.Local = l
		// changes of the clock in 2026: Europe 29 March and 25 October, America 8 March and 1
		// November, Lord Howe 5 April and 4 October
		for _, iso := range []string{"2026-03-08", "2026-03-29", "2026-04-05", "2026-10-04", "2026-10-25", "2026-11-01"} {
			v, _ := Parse(iso)
			next := OnDay(v.Base + 86400)
			if ISODate(v.Base) != iso || next-v.Base != 86400 || ISODate(OnDay(v.Base+86399)) != iso {
				t.Errorf("%s: %s, and the day after is %s", zone, ISODate(v.Base), ISODate(next))
			}
			for hour := range 24 {
				y, m, d := Calendar(v.Base)
				if moment := time.Date(y, m, d, hour, 30, 0, 0, l); ISODate(DayOf(moment)) != moment.Format(time.DateOnly) {
					t.Errorf("%s: at %s it is %s", zone, moment, ISODate(DayOf(moment)))
				}
			}
		}
	}
}

func TestDateForms(t *testing.T) {
	for text, want := range map[string]string{
		"2026-11-28": "2026-11-28", " 2026-11-28 ": "2026-11-28", "9999-12-31": "9999-12-31",
		"2026-13-01": "there is no month 13", "2026-02-29": "there is no 29 February 2026", "2026-11-31": "there is no 31 November", "2026-11-00": "there is no day 0",
		"1066-10-14": "there is no year 1066 in this calendar, which begins in 1583",
		"28.11.2026": "Write 2026-11-28.", "2026-2-3": "Write 2026-02-03.", "2026/11/28": "Write 2026-11-28.", "11/28/2026": "Write 2026-11-28.", "3/4/2026": "Write 2026-04-03 or 2026-03-04.",
		"28 November 2026": "Write 2026-11-28.", "28. Nov 2026": "Write 2026-11-28.", "2026-11": "Write 2026-11-01.",
		"-2026-11-28": "a date has no sign", "+2026-11-28": "a date has no sign", "2026-11-28T10:30": "a date is a whole day and has no time of day", "2026-11-28 10:30": `"10:30" follows the value and is not understood`,
	} {
		v, trouble := Parse(text)
		got := v.Text
		if trouble != nil {
			got = trouble.Message
			if trouble.Code == "date-form" {
				got = trouble.Hint
			}
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	for text, ok := range map[string]bool{"28 November 2026": true, "Saturday, 28 November 2026": true, "2026-11-28 ± 1 day": true, "Sunday, 28 November 2026": false, "31 November 2026": false} {
		if _, trouble := ParseExpected(text); (trouble == nil) != ok {
			t.Errorf("%q expected: %v", text, trouble)
		}
	}
	if r, trouble := ParseRange("2026-11-01 .. 2026-11-30 by 1 week"); trouble != nil || r.By.Base != 7*DayLength {
		t.Errorf("%v %v", r, trouble)
	}
	if _, trouble := ParseRange("2026-11-01 .. 2026-11-30 by 12 h"); trouble == nil || trouble.Code != "date-step" {
		t.Errorf("%v", trouble)
	}
}

// A date as typed is read as that day, or refused with the offer of a valid date.
func FuzzDate(f *testing.F) {
	for _, text := range []string{"2026-11-28", "2026-2-3", "28.11.2026", "2026-W48-6", "2026-332", "11/28/2026", "28 November 2026", "2026-11-28T10:30", "0000-01-01", "-2026-11-28", "2026-11-28-1", "1583-W53-7"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 200 {
			return
		}
		v, trouble := Parse(text)
		if trouble != nil {
			if trouble.Start < 0 || trouble.End < trouble.Start || trouble.End > len(text) || !utf8.ValidString(trouble.Message) && utf8.ValidString(text) {
				t.Fatalf("%q: %+v", text, trouble)
			}
			if offer := strings.TrimSuffix(strings.TrimPrefix(trouble.Hint, "Write "), "."); trouble.Code == "date-form" && len(offer) == 10 {
				if back, trouble := Parse(offer); trouble != nil || back.Kind != Date {
					t.Fatalf("%q is offered %s: %v", text, offer, trouble)
				}
			}
			return
		}
		if v.Kind == Date {
			if v.Text != strings.TrimSpace(text) && len(strings.TrimSpace(text)) == 10 && text[0] != ' ' && utf8.ValidString(text) && !strings.ContainsAny(text, "\u2212") {
				t.Fatalf("%q is read as %s", text, v.Text)
			}
			if v.Base < FirstDay || v.Base > LastDay || math.Mod(v.Base, DayLength) != 0 || ISODate(v.Base) != v.Text {
				t.Fatalf("%q is %v", text, v.Base)
			}
			if back, trouble := ParseExpected(DefaultShow(Date, Unit{}).Format(v.Base).Text); trouble != nil || back.Base != v.Base {
				t.Fatalf("%q is shown as what is read as %v", text, back.Text)
			}
		}
	})
}
