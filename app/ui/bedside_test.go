package ui

import (
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/calc"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// The chart shows what comes out of all chambers together, because that is what a rule
// for loss is held against. Worked by hand, with 4 kg: from 08:00 to 10:00 40 mL from
// one (20 mL/h, 5 mL/kg/h), from 09:00 to 10:00 12 mL from another (12 mL/h, 3 mL/kg/h).
func TestChartAddsUpChambers(t *testing.T) {
	at := func(h int) schema.Moment {
		return schema.MomentOf(2026, 7, 14, h, 0, 0, "UTC")
	}
	in := []lines.Interval{{From: at(8), To: at(10), ML: 40}, {From: at(9), To: at(10), ML: 12}, {From: at(9), To: at(9), ML: 5}}
	for _, c := range []struct {
		words        string
		kg           float64
		begin        int
		edges, flows []float64
	}{
		{"by weight", 4, 8, []float64{0, 1, 2}, []float64{5, 8}},
		{"without a weight", 0, 8, []float64{0, 1, 2}, []float64{20, 32}},
		{"begun before the chart", 4, 9, []float64{0, 1}, []float64{8}},
		{"all before the chart", 4, 11, nil, nil},
	} {
		edges, flows, _ := flowsOf(in, c.kg, at(c.begin))
		if !slices.Equal(edges, c.edges) || !slices.Equal(flows, c.flows) {
			t.Errorf("%s: edges %v, flows %v; by hand %v, %v", c.words, edges, flows, c.edges, c.flows)
		}
	}
}

// A rule stands in the chart as a line at its rate, with the moment it was met; one that
// was not met has its line and no moment. 8 mL/kg in 2 h is a line at 4 mL/kg/h.
func TestChartMarksWhenARuleWasMet(t *testing.T) {
	at := func(h int) schema.Moment { return schema.MomentOf(2026, 7, 14, h, 0, 0, "UTC") }
	in := []lines.Interval{{From: at(8), To: at(10), ML: 40}, {From: at(10), To: at(12), ML: 4}}
	l := lines.Losses{Kg: 4, LossReport: calc.LossReport{Rulings: []calc.Ruling{
		{Rule: profile.DrainRule{PerKg: 8, Hours: 2, Times: 1}, Outcome: calc.Met, From: at(8), To: at(10)},
		{Rule: profile.DrainRule{PerKg: 20, Hours: 1, Times: 1}, Outcome: calc.NotMet, To: at(11)},
	}}}
	drawn := app.HTMLString(lossChart(in, l, "Loss"))
	for words, n := range map[string]int{"8 mL/kg in 2 h": 1, "20 mL/kg in 1 h": 1, "chart-rule": 2, "chart-met": 1, "met 10:00": 1, "met 11:00": 0, "chart-bar": 2, "mL/kg/h": 2} {
		if got := strings.Count(drawn, words); got != n {
			t.Errorf("%q stands %d times in the chart, not %d:\n%s", words, got, n, drawn)
		}
	}
}

// The axis ends at a round figure that reaches what is drawn, with round labels: 1, 2
// or 5 times a power of ten apart, at most five of them. By hand: 37.5 in tens is 40.
func TestChartAxisIsRound(t *testing.T) {
	for v, want := range map[float64][2]float64{37.5: {10, 40}, 5: {1, 5}, 8.25: {2, 10}, 0: {0.1, 0.1}, 20: {5, 20}, 120: {50, 150}, 0.3: {0.1, 0.3}} {
		step, top := roundAxis(v)
		if tenths(step) != tenths(want[0]) || tenths(top) != tenths(want[1]) {
			t.Errorf("up to %v: %v to %v, by hand %v", v, step, top, want)
		}
	}
	at := func(h, m int) schema.Moment { return schema.MomentOf(2026, 7, 14, h, m, 60, "Europe/London") }
	in := []lines.Interval{{From: at(7, 30), To: at(9, 30), ML: 15}, {From: at(9, 30), To: at(9, 45), ML: 30}}
	drawn := app.HTMLString(lossChart(in, lines.Losses{Kg: 3.2}, "Loss")) // 2.3 and 37.5 mL/kg/h
	for _, words := range []string{">10<", ">40<", ">2.3<", ">mL/kg/h<", ">08:00<", ">09:00<", ">14-Jul-2026 07:30<", ">14-Jul-2026 09:45<"} {
		if !strings.Contains(strings.Join(strings.Fields(drawn), ""), strings.ReplaceAll(words, " ", "")) {
			t.Errorf("%q does not stand in the chart:\n%s", words, drawn)
		}
	}
	if strings.Contains(drawn, "41.3") { // 1.1 times the highest
		t.Error("the axis ends where nothing is")
	}
}

// A drain that was read once, after 30 hours, says so wherever what came is shown: no
// figure of one day, a block that is plainly an average, and no moment at which a rule
// was met. 300 mL in 30 h at 4 kg are 75 mL/kg and 2.5 mL/kg/h on average.
func TestReadOnceAfterALongGap(t *testing.T) {
	in := []lines.Interval{{From: schema.MomentOf(2026, 7, 14, 8, 0, 0, "UTC"), To: schema.MomentOf(2026, 7, 15, 14, 0, 0, "UTC"), ML: 300}}
	drawn := app.HTMLString(app.Div().Body(lossDays(nil, in, 4, "days")))
	if want := "14-Jul-2026 08:00 to 15-Jul-2026 14:00 (30 h): 300 mL, 75 mL/kg in all; how much of it on which day is not known."; !strings.Contains(drawn, want) || strings.Contains(drawn, "Day 1") {
		t.Errorf("the days say %s", drawn)
	}
	l := lines.Losses{Kg: 4, LossReport: calc.LossReport{Rulings: []calc.Ruling{{Rule: profile.DrainRule{PerKg: 2, Hours: 1, Times: 1}, Outcome: calc.Met, Average: true, From: in[0].From, To: in[0].From.Add(3600e9)}}}}
	drawn = app.HTMLString(lossChart(in, l, "Loss"))
	for words, want := range map[string]bool{"chart-bar is-even": true, "when in that time it came is not known": true, "chart-met": false} {
		if strings.Contains(drawn, words) != want {
			t.Errorf("%q in the chart: not %v", words, want)
		}
	}
	in[0].To = in[0].From.Add(3600e9)
	if drawn = app.HTMLString(lossChart(in, l, "Loss")); strings.Contains(drawn, "is-even") || strings.Contains(drawn, "not known") {
		t.Error("an hour is drawn as a long gap")
	}
}
