package formulary

import (
	"math"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// trial is a worked example: a formula, how its result is shown, and the text that this
// gives. Without a show the page's own default is used.
type trial struct{ work, show, want string }

// row is one computation that the people of a lab need, with the worked example that came
// with it. Bench formulas cover it or, if it is plain arithmetic or data, a formula of the
// language; plain says so.
type row struct {
	name   string
	plain  string
	source Class
	trials []trial
}

// rows are the computations of the trade, numbered from 1. Each example came with its
// computation; none was copied from what this program gives.
var rows = []row{
	{"working solution, parts 1+n", "", Published, []trial{{"concentrate_in(1000 ml, dilution(1, 100))", "usual", "9.9 ml"}}},
	{"multi-part A+B+water", "", FromMemory, []trial{
		{"part_of(500 ml, 1, 1 + 2 + 100)", "0.01 ml", "4.85 ml"}, {"part_of(500 ml, 2, 1 + 2 + 100)", "0.01 ml", "9.71 ml"},
		{"part_of(500 ml, 100, 1 + 2 + 100)", "1 ml", "485 ml"}}},
	{"least concentrate for a roll", "", CommonPractice, []trial{
		{"concentrate_in(300 ml, dilution(1, 100))", "0.01 ml", "2.97 ml"}, {"rolls_in_solution(300 ml, dilution(1, 100), 5 ml)", "", "0"},
		{"working_solution_for_rolls(1, 5 ml, dilution(1, 100))", "usual", "505 ml"}}},
	{"strength change", "", FromMemory, []trial{{"stock_for(1 l, 2 %, 80 %)", "usual", "25 ml"}}},
	{"percentage solution", "", Published, []trial{{"percentage_solution_for(0.15 g, 1 %)", "usual", "15 ml"}}},
	{"measuring error, weigh instead", "", FromMemory, []trial{
		{"measuring_error(4.85 ml, 0.2 ml)", "0.1 %", "2.1 %"}, {"measuring_error(4.85 ml, 1 ml)", "0.1 %", "10.3 %"},
		{"weight_of_measure(4.85 ml, 1.12 g/ml)", "0.01 g", "5.43 g"}}},
	{"tempering water", "", FromMemory, []trial{{"hot_water_for(1 l, 20 °C, 12 °C, 45 °C)", "1 ml", "242 ml"}}},
	{"formula scaling", "", Published, []trial{{"weigh_for_batch(100 g/l, 2.5 l)", "usual", "250.0 g"}}},
	{"hydrate substitution", "", Published, []trial{
		{"carbonate_anhydrous_as_monohydrate(1 g) / 1 g", "0.001", "1.170"}, {"carbonate_anhydrous_as_monohydrate(25 g)", "usual", "29.2 g"},
		{"thiosulfate_pentahydrate_as_anhydrous(240 g)", "usual", "152.9 g"}}},
	{"legacy units", "units of the language", Published, []trial{{"2 oz_av", "0.1 g", "56.7 g"}, {"2 oz_ap", "0.1 g", "62.2 g"},
		{"1 grain", "0.0001 g", "0.0648 g"}, {"1 fl_oz", "0.01 ml", "29.57 ml"}, {"1 imp_fl_oz", "0.01 ml", "28.41 ml"}}},

	{"temperature compensation", "", Published, []trial{
		{"time_at_temperature(11 min, 20 °C, 22 °C, 1.09, 18 °C, 24 °C)", "1 s", "9 min 16 s"},
		{"time_at_temperature(11 min, 20 °C, 22 °C, 1.09, 18 °C, 24 °C)", "usual", "9 min 15 s"}}},
	{"interpolate tested times", "", FromMemory, []trial{
		{"time_for_contrast(0.56, 0.48, 8 min, 0.62, 12 min)", "1 s", "10 min 5 s"}, {"time_for_contrast(0.56, 0.48, 8 min, 0.62, 12 min)", "usual", "10 min"}}},
	{"temperature drift", "", FromMemory, []trial{
		{"drift_rate(20 °C, 20 °C, 23 °C, 1.09) - 1", "1 %", "14 %"}, {"time_with_drift(11 min, 20 °C, 20 °C, 23 °C, 1.09, 18 °C, 24 °C)", "usual", "9 min 45 s"}}},
	{"push and pull", "a tested time times a tested step factor", FromMemory, []trial{{"10 min * 1.30", "usual", "13 min"}}},
	{"exposure index", "", Published, []trial{{"marked_film_speed(exposure_index(400, 2/3 stop))", "1", "250"}}},
	{"agitation plan", "", Published, []trial{{"agitation_cycles(9 min 15 s, 30 s, 60 s, 10 s)", "1", "9"}}},
	{"rotary adjustment", "a tested time times the shop's own reduction", FromMemory, []trial{{"11 min * 0.85", "1 s", "9 min 21 s"}, {"11 min * 0.85", "usual", "9 min 15 s"}}},
	{"step list total", "a sum of times; a page's steps add themselves", CommonPractice, []trial{
		{"1 min + 9 min 15 s + 1 min + 5 min + 30 s + 10 min + 30 s", "s", "27 min 15 s"}}},
	{"reused developer", "", FromMemory, []trial{{"reused_time_added(8 min, 3, 10 %)", "1 s", "10 min 24 s"}, {"reused_time_compounded(8 min, 3, 10 %)", "1 s", "10 min 39 s"}}},
	{"roll equivalents", "", Published, []trial{{"film_area(1)", "0.0001 m2", "0.0516 m²"}, {"roll_equivalents(4 * 4 inch * 5 inch)", "0.25", "1.00"}, {"roll_equivalents(8 inch * 10 inch)", "0.25", "1.00"}}},

	{"exposure value", "", FromMemory, []trial{{"exposure_value(8, 1/125 s)", "0.1 stop", "13.0 stop"}}},
	{"filter factors", "stops() and a product", FromMemory, []trial{{"2.5 * 1.5", "0.01", "3.75"}, {"stops(2.5 * 1.5)", "0.1 stop", "1.9 stop"}}},
	{"bellows factor", "", Published, []trial{{"bellows_factor(280 mm, 210 mm)", "0.01", "1.78"}, {"stops(bellows_factor(280 mm, 210 mm))", "0.1 stop", "0.8 stop"},
		{"through_filter(4 s, bellows_factor(280 mm, 210 mm))", "0.1 s", "7.1 s"}}},
	{"pinhole", "", Published, []trial{{"pinhole_diameter(150 mm, 550 nm)", "0.01 mm", "0.45 mm"}, {"f_number(150 mm, pinhole_diameter(150 mm, 550 nm))", "1", "334"}}},
	{"reciprocity", "", Published, []trial{{"long_exposure(8 s, 4, 210 mm, 210 mm, 1.31, 120 s)", "1 s", "1 min 34 s"},
		{"4 * reciprocity_time(8 s, 1.31, 120 s)", "1 s", "1 min 1 s"}}},
	{"shutter error", "", Published, []trial{{"shutter_error(10.9 ms, 1/125 s)", "0.1 stop", "0.5 stop"}}},
	{"curtain uniformity", "", FromMemory, []trial{{"curtain_difference(1.05 ms, 1.30 ms)", "0.1 stop", "0.3 stop"}}},

	{"test strip", "", Published, []trial{
		{"strip_time(8 s, 1/3 stop, 1)", "0.1 s", "8.0 s"}, {"strip_time(8 s, 1/3 stop, 2)", "0.1 s", "10.1 s"}, {"strip_time(8 s, 1/3 stop, 3)", "0.1 s", "12.7 s"},
		{"strip_time(8 s, 1/3 stop, 4)", "0.1 s", "16.0 s"}, {"strip_time(8 s, 1/3 stop, 5)", "0.1 s", "20.2 s"}, {"strip_time(8 s, 1/3 stop, 6)", "0.1 s", "25.4 s"},
		{"strip_time(8 s, 1/3 stop, 7)", "0.1 s", "32.0 s"}, {"strip_increment(8 s, 1/3 stop, 2)", "0.1 s", "2.1 s"}, {"strip_increment(8 s, 1/3 stop, 3)", "0.1 s", "2.6 s"},
		{"strip_increment(8 s, 1/3 stop, 4)", "0.1 s", "3.3 s"}, {"strip_increment(8 s, 1/3 stop, 5)", "0.1 s", "4.2 s"},
		{"strip_increment(8 s, 1/3 stop, 6)", "0.1 s", "5.2 s"}, {"strip_increment(8 s, 1/3 stop, 7)", "0.1 s", "6.6 s"}}},
	{"print exposure", "", FromMemory, []trial{{"time_at_aperture(16 s, 8, 11)", "0.1 s", "32.0 s"}, {"time_changed_by(16 s, 1 stop)", "0.1 s", "32.0 s"},
		{"16 s * (11 / 8) ** 2", "0.1 s", "30.3 s"}}},
	{"dodge and burn", "", Published, []trial{{"burn_time(16 s, 2/3 stop)", "0.1 s", "9.4 s"}, {"dodge_time(16 s, 1/2 stop)", "0.1 s", "4.7 s"}}},
	{"print size change", "", Published, []trial{{"time_at_size(16 s, 200 mm / 56 mm, 300 mm / 56 mm)", "0.1 s", "30.9 s"}, {"16 s * (300 mm / 200 mm) ** 2", "1 s", "36 s"}}},
	{"contrast filter change", "", Published, []trial{{"time_at_contrast(16 s, 0.8 stop)", "0.1 s", "27.9 s"}, {"time_at_contrast(16 s, 1 stop)", "1 s", "32 s"}}},
	{"paper grade", "", Published, []trial{{"iso_range(1.05)", "1", "105"}}},
	{"split grade", "a product for each exposure", CommonPractice, []trial{
		{"9.0 s * time_at_size(1 s, 200 mm / 56 mm, 300 mm / 56 mm) / 1 s", "0.1 s", "17.4 s"}, {"14.0 s * 1.934", "0.1 s", "27.1 s"}}},
	{"paper flashing", "", FromMemory, []trial{{"flash_time(4.0 s)", "0.1 s", "2.8 s"}}},
	{"dry-down", "", Published, []trial{{"time_for_dry_down(16 s, 8 %)", "0.1 s", "14.7 s"}}},
	{"easel layout", "", FromMemory, []trial{{"image_long_side(300 mm, 240 mm, 20 mm, 3 / 2)", "1 mm", "260 mm"},
		{"image_long_side(300 mm, 240 mm, 20 mm, 3 / 2) / (3 / 2)", "1 mm", "173 mm"},
		{"border_beside(240 mm, image_long_side(300 mm, 240 mm, 20 mm, 3 / 2) / (3 / 2))", "1 mm", "33 mm"}}},
	{"safelight limit", "the smaller of two tested times", Published, []trial{{"min(7 min, 3 min)", "min", "3 min"}}},

	{"transport speed and dwell", "", Published, []trial{{"transport_speed(0.90 m, 45 s)", "0.01 m/min", "1.20 m/min"}, {"dwell_time(0.90 m, 1.32 m/min)", "0.1 s", "40.9 s"}}},
	{"replenishment", "", Published, []trial{{"40 * 203 mm * 254 mm", "0.01 m2", "2.06 m²"}, {"replenishment(40 * 203 mm * 254 mm, 161 ml/m2)", "1 ml", "332 ml"}}},
	{"tank turnover", "", CommonPractice, []trial{{"turnover_area(12 l, 0.160 l/m2)", "1 m2", "75 m²"}, {"turnover_time(12 l, 160 ml/m2, 2.06 m2/day)", "1 day", "36 days"}}},
	{"standby allowance", "", Published, []trial{{"standby_allowance(12 l, 3 %, 2 day, 2 day)", "10 ml", "360 ml"}}},
	{"evaporation", "", FromMemory, []trial{{"evaporation_top_up(0.12 m2, 6 mm)", "10 ml", "720 ml"}}},
	{"control strip", "", Published, []trial{{"strip_deviation(1.09, 1.02, 0.01)", "0.01", "0.06"}}},
	{"filter pack", "", Published, []trial{{"46 - neutral_in_pack(46, 38, 12)", "1", "34"}, {"38 - neutral_in_pack(46, 38, 12)", "1", "26"}, {"12 - neutral_in_pack(46, 38, 12)", "1", "0"},
		{"time_for_pack(12 s, 1, 1.2)", "0.1 s", "14.4 s"}, {"time_for_pack(12 s, 1, 1.5)", "1 s", "18 s"}}},
	{"net density and stain", "", FromMemory, []trial{{"stain_density(1.18, 0, 0.98, 0)", "0.01", "0.20"}}},

	{"fixing time", "", Published, []trial{{"fixing_time(40 s, 2)", "30 s", "1 min 30 s"}, {"fixing_time(40 s, 3)", "30 s", "2 min"}}},
	{"fixer capacity", "", Published, []trial{{"capacity_left(0.6 l, 20 /l, 0)", "1", "12"}}},
	{"two-bath rotation", "", Published, []trial{{"capacity_left(1.5 l, 50 /l, 0)", "1", "75"}}},
	{"wash plan", "", Published, []trial{{"1 / share_after_half_times(10 min, 1 min)", "1", "1024"}}},
	{"residual test", "a laboratory's value against its limit", Published, []trial{{"0.9 µg/cm2 < 1.4 µg/cm2", "", "yes"}}},
	{"silver estimate", "", Published, []trial{{"silver_from_film(film_area(40), 2.69 g/m2, 50 %)", "0.1 g", "2.8 g"}, {"silver_from_film(film_area(40), 2.69 g/m2, 50 %) / 8 l", "0.1 g/l", "0.3 g/L"}}},
	{"discard by", "a date plus a time; for the periods of document control see TestDiscardBy", CommonPractice, []trial{{"2025-03-03 + 90 days", "", "1 June 2025"}}},

	{"tank volume", "", FromMemory, []trial{{"tank_volume(340 mm, 250 mm, 460 mm, 0)", "0.1 l", "39.1 L"}, {"tank_volume(340 mm, 250 mm, 460 mm, 18 %)", "1 l", "32 L"}}},
	{"roller speed", "", FromMemory, []trial{{"roller_speed(32 mm, 12 /min)", "0.01 m/min", "1.21 m/min"}}},
	{"heater warm-up", "", FromMemory, []trial{{"warm_up_time(12 l, 18 °C, 35 °C, 1 kW, 85 %)", "0.1 min", "16.7 min"}}},
	{"recirculation and wash use", "", CommonPractice, []trial{{"exchange_time(12 l, 8 l/min)", "1 s", "1 min 30 s"}, {"water_used(4 l/min, 6 h)", "10 l", "1440 L"},
		{"cost_of(water_used(4 l/min, 6 h), 4.50 USD/m3)", "", "6.48 USD"}}},
	{"fill-and-drain flush", "", CommonPractice, []trial{{"share_after_changes(2 l, 12 l, 2)", "0.1 %", "2.0 %"}}},

	{"priming loss", "", CommonPractice, []trial{{"priming_volume(9, 15 ml)", "1 ml", "135 ml"}, {"cost_of(priming_volume(9, 15 ml), 0.42 USD/ml)", "", "56.70 USD"}}},
	{"line flush", "", CommonPractice, []trial{{"share_after_volumes(3)", "0.1 %", "5.0 %"}}},
	{"grey ink mix", "", CommonPractice, []trial{{"stock_for(220 ml, 18 %, 40 %)", "1 ml", "99 ml"}, {"base_for_grey(220 ml, 18 %, 40 %)", "1 ml", "121 ml"}}},
	{"linearisation", "interpolate() over the measured steps", Published, []trial{{"lightness_wanted(96, 16, 50 %)", "1", "56"},
		{"interpolate(table.ink, table.lightness, lightness_wanted(96, 16, 50 %))", "1 %", "21 %"}, {"interpolate(table.lightness, table.ink, 50 %)", "0.1", "30.6"}}},
	{"ink coverage", "", Published, []trial{{"ink_used(420 mm * 594 mm, 9 ml/m2)", "0.01 ml", "2.25 ml"}, {"cost_of(ink_used(0.249 m2, 9 ml/m2), 0.42 USD/ml)", "", "0.94 USD"}}},
	{"roll remaining", "", FromMemory, []trial{{"roll_left(112 mm, 55 mm, 0.31 mm)", "0.1 m", "24.1 m"}}},

	{"cost per roll", "a sum", CommonPractice, []trial{{"0.45 USD + 0.45 USD + 0.35 USD + 3.20 USD", "", "4.45 USD"}}},
	{"bottle yield", "", CommonPractice, []trial{{"rolls_from_bottle(500 ml, 4 %, 5 ml, 1)", "1", "96"}, {"rolls_from_bottle(500 ml, 4 %, concentrate_in(600 ml, dilution(1, 100)), 1)", "1", "80"}}},
	{"price", "", CommonPractice, []trial{{"price_at_margin(4.45 USD, 55 %)", "", "9.89 USD"}, {"price_at_mark_up(4.45 USD, 55 %)", "", "6.90 USD"}}},
	{"turnaround", "", CommonPractice, []trial{{"time_for_runs(46, 2 * 4, 40 min)", "0.1 h", "4.0 h"}}},
	{"reorder point", "", CommonPractice, []trial{{"reorder_point(14 /week, 3 week, 14)", "1", "56"}}},

	{"machine access time", "", Published, []trial{{"access_time(4 min 30 s, 12 m, 1.20 m/min)", "s", "14 min 30 s"}}},
	{"factorial development", "", Published, []trial{{"factorial_time(15 s, 7.5)", "0.1 s", "1 min 52.5 s"}}},
	{"film-developer top-up", "", Published, []trial{{"developer_top_up(12, 20 ml)", "5 ml", "240 ml"}}},
	{"process tolerance", "", Published, []trial{{"beyond_limit(37.6 °C, 37.8 °C, 0.15 K)", "", "yes"}, {"overrun_of_limit(37.6 °C, 37.8 °C, 0.15 K)", "0.01 K", "0.05 K"}}},
	{"darkroom ventilation", "", FromMemory, []trial{{"air_flow(30 m3, 10 /h)", "10 m3/h", "300 m³/h"}}},
	{"print size from scan", "", CommonPractice, []trial{{"print_side(6000, 300 /inch)", "1 mm", "508 mm"}}},
}

// wedge is a step wedge of so many steps whose lightness falls from paper to black as an
// exponential does, the model of row 62's example.
func wedge(steps int, paper, black, k float64) map[string]formula.Column {
	ink := formula.Column{File: trialFile, Name: "ink", Table: 1, Unit: quantity.Unit{Factor: 1}}
	light := formula.Column{File: trialFile, Name: "lightness", Table: 1, Unit: quantity.Unit{Factor: 1}}
	for i := range steps {
		x := float64(i) / float64(steps-1)
		ink.Cells = append(ink.Cells, x)
		light.Cells = append(light.Cells, black+(paper-black)*(math.Exp(-k*x)-math.Exp(-k))/(1-math.Exp(-k)))
		ink.Lines, light.Lines = append(ink.Lines, i+1), append(light.Lines, i+1)
	}
	return map[string]formula.Column{"ink": ink, "lightness": light}
}

func TestEveryComputationOfTheTrade(t *testing.T) {
	if len(rows) != 75 {
		t.Fatalf("%d rows of 75", len(rows))
	}
	set := Load().unowned()
	used := map[string]bool{}
	for i, r := range rows {
		calls := 0
		for _, x := range r.trials {
			scope := &entryScope{set: set, symbols: map[string]formula.Symbol{}, columns: wedge(51, 96, 16, 3)}
			w, list := set.work(x.work, scope, nil)
			if len(list) > 0 || w.Refused != "" {
				t.Errorf("row %d, %s: %s: %v%s", i+1, r.name, x.work, list, w.Refused)
				continue
			}
			show := w.Show
			if x.show != "" {
				var trouble *quantity.Trouble
				if show, trouble = quantity.ParseShow(x.show, w.Kind); trouble != nil {
					t.Errorf("row %d, %s: show %s: %s", i+1, r.name, x.show, trouble.Problem.Message)
					continue
				}
			}
			if got := show.Format(w.Base).Text; got != x.want {
				t.Errorf("row %d, %s: %s is %s, should be %s", i+1, r.name, x.work, got, x.want)
			}
			for _, name := range set.names {
				if strings.Contains(x.work, name+"(") {
					used[name] = true
					calls++
				}
			}
		}
		if calls == 0 && r.plain == "" {
			t.Errorf("row %d, %s: no bench formula, and nothing says that none is needed", i+1, r.name)
		}
		if r.source != Published && r.source != CommonPractice && r.source != FromMemory {
			t.Errorf("row %d, %s: no source class", i+1, r.name)
		}
	}
	t.Logf("%d of %d bench formulas are used by the rows", len(used), len(set.names))
}
