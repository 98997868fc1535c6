package calc

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"

	"pgregory.net/rapid"
)

func at(t testing.TB, s string) schema.Moment {
	t.Helper()
	m, err := schema.ParseMoment(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func period(t testing.TB, row, from, to string) Period {
	return Period{Row: row, From: at(t, from), To: at(t, to)}
}

func TestTotal(t *testing.T) {
	run := func(ps ...Period) string {
		x := Total(ps, 2)
		return fmt.Sprintf("%v %v %v %v", x.Sum, x.Union, x.Complete, x.Findings)
	}
	const day, next = "2026-07-14T", "2026-07-15T"
	for name, c := range map[string][2]string{
		"two runs":           {run(period(t, "a", day+"09:00+01:00", day+"10:30+01:00"), period(t, "b", day+"11:00+01:00", day+"11:20+01:00")), "110 110 true [{gap [] 30}]"},
		"over midnight":      {run(period(t, "a", day+"23:50+01:00", next+"00:10+01:00")), "20 20 true []"},
		"clocks back":        {run(period(t, "a", "2026-10-25T01:30+01:00", "2026-10-25T01:10+00:00")), "40 40 true []"},
		"clocks forward":     {run(period(t, "a", "2026-03-29T00:50+00:00", "2026-03-29T02:10+01:00")), "20 20 true []"},
		"another zone":       {run(period(t, "a", day+"09:00+01:00", day+"06:30-02:00")), "30 30 true []"},
		"overlap":            {run(period(t, "a", day+"09:00+01:00", day+"10:00+01:00"), period(t, "b", day+"09:45+01:00", day+"10:30+01:00")), "105 90 true [{overlap [a b] 15}]"},
		"one inside another": {run(period(t, "a", day+"09:00+01:00", day+"10:00+01:00"), period(t, "b", day+"09:10+01:00", day+"09:20+01:00")), "70 60 true [{overlap [a b] 10}]"},
		"touching":           {run(period(t, "a", day+"09:00+01:00", day+"09:30+01:00"), period(t, "b", day+"09:30+01:00", day+"10:00+01:00")), "60 60 true []"},
		"reversed":           {run(period(t, "a", day+"10:00+01:00", day+"09:00+01:00")), "0 0 false [{reversed [a] 60}]"},
		"half":               {run(Period{Row: "a", From: at(t, day+"10:00+01:00")}), "0 0 false [{half [a] 0}]"},
		"minutes only":       {run(Period{Row: "a", Minutes: ptr(41.0)}, Period{Row: "b", Minutes: ptr(12.0)}), "53 53 true []"},
		"within two": {run(func() Period {
			p := period(t, "a", day+"09:00+01:00", day+"09:41+01:00")
			p.Minutes = ptr(43.0)
			return p
		}()), "41 41 true []"},
		"more than two": {run(func() Period {
			p := period(t, "a", day+"09:00+01:00", day+"09:41+01:00")
			p.Minutes = ptr(44.0)
			return p
		}()), "41 41 true [{minutes differ [a] 3}]"},
		"negative": {run(Period{Row: "a", Minutes: ptr(-1.0)}), "0 0 false []"},
		"none":     {run(), "0 0 true []"},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %s, want %s", name, c[0], c[1])
		}
	}
	outside.Check(t, "IANA time zone database, Europe/London: 25 October 2026 01:30 BST to 01:10 GMT is 40 min, arithmetic on offsets")
	outside.Check(t, "IANA time zone database, Europe/London: 29 March 2026 00:50 GMT to 02:10 BST is 20 min, arithmetic on offsets")
}

// The sum of periods that do not overlap is the union of their minutes, counted
// one by one; the zone they are written in changes nothing.
func TestUnionIsCountedMinutes(t *testing.T) {
	base := at(t, "2026-07-14T08:00+00:00")
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 6).Draw(t, "n")
		counted := map[int]bool{}
		var ps, elsewhere []Period
		for i := 0; i < n; i++ {
			from := rapid.IntRange(0, 600).Draw(t, "from")
			long := rapid.IntRange(0, 120).Draw(t, "long")
			p := Period{Row: fmt.Sprint(i), From: base.Add(time.Duration(from) * time.Minute), To: base.Add(time.Duration(from+long) * time.Minute)}
			ps = append(ps, p)
			elsewhere = append(elsewhere, Period{Row: p.Row, From: inOffset(p.From, -210), To: inOffset(p.To, 345)})
			for m := from; m < from+long; m++ {
				counted[m] = true
			}
		}
		x := Total(ps, 2)
		if int(x.Union) != len(counted) {
			t.Fatalf("union %v, counted %d", x.Union, len(counted))
		}
		overlaps := false
		for _, f := range x.Findings {
			overlaps = overlaps || f.What == "overlap"
		}
		if !overlaps && x.Sum != x.Union || overlaps && x.Sum <= x.Union {
			t.Fatalf("sum %v, union %v, %v", x.Sum, x.Union, x.Findings)
		}
		if y := Total(elsewhere, 2); y.Union != x.Union || y.Sum != x.Sum {
			t.Fatalf("in other zones: %v %v", x, y)
		}
		a, b := Spans(ps[:n/2]), Spans(ps[n/2:])
		size := func(s []Span) (m int64) {
			for _, x := range Union(s) {
				m += x.To - x.From
			}
			return m
		}
		if size(Outside(a, b))+size(Common(a, b)) != size(a) {
			t.Fatal("outside and common do not make up the whole")
		}
	})
}

// inOffset writes the same instant in another offset.
func inOffset(m schema.Moment, minutes int) schema.Moment {
	u := m.Instant().Add(time.Duration(minutes) * time.Minute)
	return schema.MomentOf(u.Year(), int(u.Month()), u.Day(), u.Hour(), u.Minute(), minutes, "")
}

func TestAfter(t *testing.T) {
	start := at(t, "2026-07-14T23:50+01:00[Europe/London]")
	if m, note, err := After(start, "00:10"); err != nil || m.String() != "2026-07-15T00:10+01:00[Europe/London]" || note != "next day, 15-Jul-2026" {
		t.Errorf("%s %q %v", m, note, err)
	}
	if m, note, err := After(start, "23:55"); err != nil || m.Sub(start) != 5*time.Minute || note != "" {
		t.Errorf("%s %q %v", m, note, err)
	}
	for _, bad := range []string{"", "24:00", "9", "09:60", "9:4", "-1:10", "noon", "09:42:10"} {
		if _, _, err := After(start, bad); err == nil || !strings.Contains(err.Error(), "expected") {
			t.Errorf("%q: %v", bad, err)
		}
	}
	if _, _, err := After(schema.Moment{}, "09:42"); err == nil {
		t.Error("a clock without a date became a moment")
	}
}

// hourly makes readings of one hour each from 10:00.
func hourly10(t testing.TB, volumes ...float64) []Reading {
	m := at(t, "2026-07-14T10:00+01:00")
	var out []Reading
	for i, v := range volumes {
		from := m.Add(time.Duration(i) * time.Hour)
		out = append(out, Reading{from, from.Add(time.Hour), ml(v)})
	}
	return out
}

func drainRules(t testing.TB) map[string]profile.DrainRule {
	p, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	out := map[string]profile.DrainRule{}
	for _, r := range p.DrainRules() {
		out[strings.TrimPrefix(string(r.Entry.ID), profile.DrainRulePrefix)] = r
	}
	return out
}

// Published definitions of excessive loss, at 3.2 kg, with the pair just inside
// and just outside each.
func TestDrainRules(t *testing.T) {
	rs := drainRules(t)
	since := at(t, "2026-07-14T10:00+01:00")
	for _, c := range []struct {
		rule     string
		readings []Reading
		outcome  Outcome
		window   string
	}{
		{"hour", hourly10(t, 5, 32.0), Met, "11:00 12:00"}, {"hour", hourly10(t, 5, 31.9), NotMet, " "}, {"hour", hourly10(t, 31.9, 31.9, 31.9), NotMet, " "},
		{"three-hours", hourly10(t, 2, 16, 16, 16), Met, "11:00 14:00"}, {"three-hours", hourly10(t, 2, 16, 15.9, 16), NotMet, " "}, {"three-hours", hourly10(t, 40, 15.9, 40), NotMet, " "},
		{"two-hours", hourly10(t, 22.4, 22.4), Met, "10:00 12:00"}, {"two-hours", hourly10(t, 22.4, 22.3), NotMet, " "}, {"two-hours", hourly10(t, 22.4, 1, 22.4), NotMet, " "},
		{"day", []Reading{{since, since.Add(24 * time.Hour), ml(268.8)}}, Met, "10:00 10:00"}, {"day", []Reading{{since, since.Add(24 * time.Hour), ml(268.7)}}, NotMet, " "},
		{"day", hourly10(t, 100, 100, 68.8), Met, "10:00 13:00"}, // already met before the day is over
	} {
		got := Judge(rs[c.rule], c.readings, kg(3.2), since)
		window := clock(got.From) + " " + clock(got.To)
		if got.Outcome != c.outcome || window != c.window || got.Average {
			t.Errorf("%s %v: %s %s %s", c.rule, c.readings, got.Outcome, window, got.Words)
		}
		outside.Check(t, rs[c.rule].Entry.Source)
	}
	// Only within the first twelve hours.
	late := hourly10(t, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 40)
	if got := Judge(rs["hour"], late, kg(3.2), since); got.Outcome == Met {
		t.Errorf("the thirteenth hour counted: %s", got.Words)
	}
	if got := Judge(rs["hour"], hourly10(t, 40), kg(3.2), schema.Moment{}); got.Outcome != NotAssessable || !strings.Contains(got.Words, "closure is not recorded") {
		t.Errorf("%+v", got)
	}
	// Sparse readings: an average, and the hourly rule not assessable.
	sparse := []Reading{{since, since.Add(190 * time.Minute), ml(40)}}
	if got := Judge(rs["hour"], sparse, kg(3.2), since); got.Outcome != NotAssessable || got.Words != "average over 3 h 10 min; hourly rule not assessable" {
		t.Errorf("%+v", got)
	}
	if got := Judge(rs["hour"], []Reading{{since, since.Add(190 * time.Minute), ml(31.9)}}, kg(3.2), since); got.Outcome != NotMet {
		t.Errorf("31.9 mL in all can never be 32 in an hour: %+v", got)
	}
	if got := Judge(rs["hour"], []Reading{{since, since.Add(190 * time.Minute), ml(120)}}, kg(3.2), since); got.Outcome != Met || !got.Average || !strings.HasSuffix(got.Words, "; 120 mL from 14-Jul-2026 10:00 to 14-Jul-2026 13:10 were read once, after 3 h 10 min, and are taken as even: when they came is not known") {
		t.Errorf("%+v", got)
	}
	// Half-hourly readings meet an hourly rule across the hour.
	half := []Reading{{since, since.Add(30 * time.Minute), ml(4)}, {since.Add(30 * time.Minute), since.Add(time.Hour), ml(20)}, {since.Add(time.Hour), since.Add(90 * time.Minute), ml(12)}}
	if got := Judge(rs["hour"], half, kg(3.2), since); got.Outcome != Met || clock(got.From) != "10:30" || clock(got.To) != "11:30" || got.Words != "32 mL (10 mL/kg) in 1 h, from 14-Jul-2026 10:30 to 14-Jul-2026 11:30" {
		t.Errorf("%+v", got)
	}
	if got := Judge(rs["hour"], nil, kg(3.2), since); got.Outcome != NotAssessable {
		t.Errorf("%+v", got)
	}
}

func clock(m schema.Moment) string {
	if m.IsZero() {
		return ""
	}
	return m.Clock()
}

// The heavier the child, the less a rule is met; order and zone change nothing.
func TestDrainProperties(t *testing.T) {
	all := drainRules(t)
	since := at(t, "2026-07-14T10:00+01:00")
	rapid.Check(t, func(t *rapid.T) {
		rule := all[rapid.SampledFrom([]string{"hour", "three-hours", "two-hours", "day"}).Draw(t, "rule")]
		var rs, other []Reading
		m := since
		for i := rapid.IntRange(1, 12).Draw(t, "n"); i > 0; i-- {
			to := m.Add(time.Duration(rapid.IntRange(10, 120).Draw(t, "min")) * time.Minute)
			rs = append(rs, Reading{m, to, ml(float64(rapid.IntRange(0, 600).Draw(t, "dL")) / 10)})
			m = to
		}
		for i := len(rs) - 1; i >= 0; i-- {
			other = append(other, Reading{inOffset(rs[i].From, 0), inOffset(rs[i].To, 330), rs[i].Volume})
		}
		w := rapid.Float64Range(1, 20).Draw(t, "kg")
		a := Judge(rule, rs, kg(w), since)
		if b := Judge(rule, other, kg(w), since); b.Outcome != a.Outcome || b.Outcome == Met && (minute(a.From) != minute(b.From) || minute(a.To) != minute(b.To)) {
			t.Fatalf("other order or zone: %+v %+v", a, b)
		}
		if a.Outcome != Met && Judge(rule, rs, kg(w*1.5), since).Outcome == Met {
			t.Fatal("a heavier child met what a lighter did not")
		}
		if a.Outcome == Met && compare(a.Loss.In(Millilitre), rule.PerKg*w) < 0 {
			t.Fatalf("the window shown holds less than the rule asks: %+v", a)
		}
	})
}

// A fall to under a quarter for two readings (common practice, no source).
func TestStopped(t *testing.T) {
	for _, c := range []struct {
		volumes []float64
		want    bool
	}{
		{[]float64{20, 20, 4.9, 4.9}, true}, {[]float64{20, 20, 4.9, 5}, false}, {[]float64{20, 20, 4.9}, false}, {[]float64{20, 20, 0, 0}, true}, {[]float64{0, 0, 0, 0}, false},
		{[]float64{0, 0}, false}, {[]float64{20, 0, 0}, true}, {[]float64{90, 20, 20, 8, 8}, false}, {nil, false},
	} {
		s, got := Stopped(hourly10(t, c.volumes...), 0.25, 2)
		if got != c.want {
			t.Errorf("%v: %v %+v", c.volumes, got, s)
		}
	}
	// It says none only where there was none.
	for _, c := range []struct {
		volumes []float64
		says    string
	}{
		{[]float64{20, 20, 0, 0}, "No drain output for 2 h after 20 mL/h: blocked, or tamponade? Look now."},
		{[]float64{20, 20, 3, 2}, "Drain output fell to 2.5 mL/h for 2 h after 20 mL/h: blocked, or tamponade? Look now."}, // (3 + 2) / 2
	} {
		s, _ := Stopped(hourly10(t, c.volumes...), 0.25, 2)
		if got := s.Caution(profile.Default()); got != c.says {
			t.Error(got)
		}
	}
}

func TestReadings(t *testing.T) {
	m := at(t, "2026-07-14T10:00+01:00")
	level := func(h int, v float64, reset bool) Level {
		return Level{m.Add(time.Duration(h) * time.Hour), ml(v), reset}
	}
	rs, r := Readings([]Level{level(0, 10, false), level(2, 40, false), level(1, 22, false), level(3, 5, true), level(4, 9, false)})
	if r != nil || len(rs) != 3 || rs[0].Volume.In(Millilitre) != 12 || rs[1].Volume.In(Millilitre) != 18 || rs[2].Volume.In(Millilitre) != 4 {
		t.Errorf("%v %v", rs, r)
	}
	if _, r := Readings([]Level{level(0, 10, false), level(1, 9, false)}); r == nil || !strings.Contains(r.Do, "emptied or changed") {
		t.Errorf("%v", r)
	}
	l, r := TotalLoss(hourly10(t, 16, 16), kg(3.2))
	if r != nil || l.Total.In(MLPerKg) != 10 || !near(l.Rate.In(MLPerKgHour), 5, 9) || l.Over.In(Hour) != 2 {
		t.Errorf("%v %v", l, r)
	}
	if _, r := TotalLoss(nil, kg(3.2)); r == nil {
		t.Error("a loss from nothing")
	}
	if _, r := TotalLoss(hourly10(t, 16), kg(math.NaN())); r == nil {
		t.Error("a loss for no weight")
	}
}
