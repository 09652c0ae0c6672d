package quantity

import (
	"testing"
	"time"

	"golang.org/x/text/currency"
)

// The list of currencies agrees with the table of golang.org/x/text/currency, which is made
// from CLDR. That table is older than this list: each difference is named, with its reason.
func TestCurrencies(t *testing.T) {
	// In use since the table was made, and so missing there.
	newer := map[string]string{
		"SLE": "the leone since April 2022, replacing SLL",
		"MRU": "the ouguiya since January 2018, replacing MRO",
		"SVC": "still in the list of ISO 4217, though the country uses USD",
		"VES": "the bolívar since August 2018, replacing VEF",
		"VED": "the digital bolívar since October 2021, beside VES",
		"XCG": "the Caribbean guilder since March 2025, replacing ANG",
		"ZWG": "Zimbabwe Gold since April 2024, replacing ZWL",
	}
	// In use there on the day the table was made, and no currency that a shop takes.
	older := map[string]string{
		"ANG": "replaced by XCG in March 2025",
		"BGN": "replaced by the euro in January 2026",
		"CUC": "withdrawn in January 2021",
		"HRK": "replaced by the euro in January 2023",
		"MRO": "replaced by MRU in January 2018",
		"VEF": "replaced by VES in August 2018",
		"SLL": "replaced by SLE, withdrawn in 2024",
		"ZWL": "replaced by ZWG in 2024",
		"BOV": "a unit of account", "CHE": "a unit of account", "CHW": "a unit of account", "CLF": "a unit of account",
		"COU": "a unit of account", "MXV": "a unit of account", "USN": "next-day funds", "UYI": "a unit of account",
	}
	// CLDR gives 0, the digits in daily use; these are the digits of ISO 4217's minor unit,
	// from memory.
	digits := map[string]int{
		"AFN": 2, "ALL": 2, "AMD": 2, "COP": 2, "GYD": 2, "IDR": 2, "IQD": 3, "IRR": 2, "KPW": 2, "LAK": 2, "LBP": 2,
		"MGA": 2, "MMK": 2, "MNT": 2, "MUR": 2, "PKR": 2, "RSD": 2, "SOS": 2, "SYP": 2, "TZS": 2, "UZS": 2, "YER": 2,
	}
	mine := map[string]int{}
	for _, e := range Entries() {
		if e.Kind.Money != 0 {
			if _, twice := mine[e.Name]; twice {
				t.Errorf("%s is listed twice", e.Name)
			}
			mine[e.Name] = e.Decimals
		}
	}
	theirs := map[string]bool{}
	day := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)
	for it := currency.Query(currency.Date(day)); it.Next(); {
		theirs[it.Unit().String()] = true
	}
	if len(theirs) < 140 || len(mine) < 140 {
		t.Fatalf("%d currencies there, %d here", len(theirs), len(mine))
	}
	for code := range theirs {
		if _, ok := mine[code]; !ok && older[code] == "" {
			t.Errorf("%s is missing here", code)
		}
	}
	for code, decimals := range mine {
		if older[code] != "" {
			t.Errorf("%s: %s", code, older[code])
		}
		unit, err := currency.ParseISO(code)
		if err != nil {
			if newer[code] == "" {
				t.Errorf("%s is missing there: %v", code, err)
			}
			continue
		}
		if !theirs[code] && newer[code] == "" {
			t.Errorf("%s was not in use there in January 2024", code)
		}
		if scale, _ := currency.Standard.Rounding(unit); scale != decimals && (scale != 0 || digits[code] != decimals) {
			t.Errorf("%s has %d decimals here, %d there", code, decimals, scale)
		}
	}
}
