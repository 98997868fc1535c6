package lines

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

// settings are the shipped ones, switched on by an invented person.
func settings(t testing.TB) *profile.Profile {
	t.Helper()
	p, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

func moment(t testing.TB, s string) schema.Moment {
	t.Helper()
	m, err := schema.ParseMoment(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// at writes as of a clock time on 14-Jul-2026.
func (b *bed) at(t testing.TB, clock string) *ledger.Writer {
	return b.w.At(moment(t, "2026-07-14T"+clock+"+00:00"))
}

// set puts a value of the note in.
func (b *bed) set(p schema.Path, e ledger.Entry) { b.do(b.w.Set(b.rec, b.note, p, e)) }

func (b *bed) register(t testing.TB, p *profile.Profile, at string) Register {
	return RegisterOf(b.rec, p, moment(t, at))
}

// The published limits (references.md E): an umbilical artery catheter not more
// than five days, an umbilical vein catheter not more than fourteen, at their exact
// boundaries. A limit asks for a review and never orders removal.
func TestDwellLimits(t *testing.T) {
	const source = "CDC guideline for the prevention of intravascular catheter-related infections 2011, umbilical catheters (second-hand)"
	for _, c := range []struct {
		kind, variety string
		days          int
	}{{"arterial-line", "umbilical-arterial", 5}, {"central-venous-line", "umbilical-venous", 14}} {
		b := newBed(t)
		id := b.list(c.kind, c.variety, "placed=2026-07-01T09:00+00:00")
		other := b.list(c.kind, map[string]string{"arterial-line": "radial", "central-venous-line": "jugular"}[c.kind], "placed=2026-07-01T09:00+00:00")
		limit := moment(t, "2026-07-01T09:00+00:00").Add(time.Duration(c.days) * 24 * time.Hour)
		for _, x := range []struct {
			after  time.Duration
			review bool
		}{{-time.Minute, false}, {0, false}, {time.Minute, true}, {48 * time.Hour, true}} {
			r := RegisterOf(b.rec, settings(t), limit.Add(x.after))
			e, _ := r.Item(id)
			if e.Dwell.Review != x.review || e.Dwell.Limit != float64(c.days) || !e.Dwell.By.Instant().Equal(limit.Instant()) {
				t.Errorf("%s, %v past the limit: review %v of %v days by %s", c.variety, x.after, e.Dwell.Review, e.Dwell.Limit, e.Dwell.By.Shown())
			}
			if strings.Contains(strings.ToLower(e.Dwell.Words), "remove") || !strings.HasPrefix(e.Dwell.Words, "review") {
				t.Errorf("worded %q", e.Dwell.Words)
			}
			i := slices.IndexFunc(r.Due, func(d Due) bool { return d.What == DueReview && d.Item == id })
			if i < 0 || r.Due[i].Overdue != x.review {
				t.Errorf("%s, %v past the limit: due %+v", c.variety, x.after, r.Due)
			}
			if e, _ := r.Item(other); e.Dwell.Limit != 0 || e.Dwell.Review {
				t.Errorf("a line for which the unit set nothing has the limit %+v", e.Dwell)
			}
			outside.Check(t, source)
		}
		// Inactive until a named person activates it.
		e, _ := RegisterOf(b.rec, profile.Default(), limit.Add(time.Hour)).Item(id)
		if e.Dwell.Limit != 0 || e.Dwell.Review || e.Dwell.Words != "no limit in force" {
			t.Errorf("inactive, it says %+v", e.Dwell)
		}
	}
}

// drained is a child of 3.2 kg whose skin was closed at 10:00, with a chamber
// that held 20 mL then.
func drained(t *testing.T) (*bed, ledger.ItemID) {
	b := newBed(t)
	b.set(schema.MeasuresDosingWeight, ledger.Number("3.2"))
	b.set(schema.OperationClosed, ledger.Entry{Value: "2026-07-14T10:00+00:00"})
	b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T10:00+00:00"})
	return b, b.list("drain-chamber", "", "level=20")
}

func ruling(t testing.TB, r Register, id string) calc.Ruling {
	for _, x := range r.Losses.Rulings {
		if string(x.Rule.Entry.ID) == profile.DrainRulePrefix+id {
			return x
		}
	}
	t.Fatalf("no rule %s among %v", id, r.Losses.Rulings)
	return calc.Ruling{}
}

// The two published definitions of excessive loss (references.md C), at 3.2 kg and
// at their exact boundaries, from readings as a nurse enters them: as running
// totals and as hourly volumes.
func TestLossesFromReadings(t *testing.T) {
	for _, c := range []struct {
		rule   string
		hourly []string // mL in each hour from 10:00
		met    bool
		window string
	}{
		{"hour", []string{"5", "32"}, true, "11:00 12:00"},
		{"hour", []string{"5", "31.9"}, false, ""},
		{"three-hours", []string{"2", "16", "16", "16"}, true, "11:00 14:00"},
		{"three-hours", []string{"2", "16", "15.9", "16"}, false, ""},
		{"two-hours", []string{"22.4", "22.4"}, true, "10:00 12:00"},
		{"two-hours", []string{"22.4", "22.3"}, false, ""},
	} {
		for _, way := range []string{"running", "hourly"} {
			b, chamber := drained(t)
			total := calc.Of(20, calc.Millilitre)
			for i, v := range c.hourly {
				w := b.at(t, fmt.Sprintf("%02d:00", 11+i))
				ml, _ := number(v)
				total = total.Plus(calc.Of(ml, calc.Millilitre))
				o := ledger.Output{Volume: v}
				if way == "running" {
					o = ledger.Output{Total: calc.Number(total.In(calc.Millilitre), 1)}
				}
				b.do(w.ReadOutput(chamber, o))
			}
			r := b.register(t, settings(t), "2026-07-14T16:00+00:00")
			x := ruling(t, r, c.rule)
			called := func(r Register) bool {
				return slices.ContainsFunc(r.Open, func(p Problem) bool { return p.What == ProblemLoss && strings.HasPrefix(p.Words, x.Rule.Entry.Title) })
			}
			if called(r) != c.met {
				t.Errorf("%s, %s %v: calls %+v", c.rule, way, c.hourly, r.Open)
			}
			for _, p := range r.Open { // acknowledged by name, it is no longer open
				b.do(b.w.Settle("", p.Event, "Surgeon called, at the bed", ""))
			}
			if called(b.register(t, settings(t), "2026-07-14T16:00+00:00")) {
				t.Errorf("%s, %s: acknowledged, and still open", c.rule, way)
			}
			if (x.Outcome == calc.Met) != c.met {
				t.Errorf("%s, %s %v: %s (%s)", c.rule, way, c.hourly, x.Outcome, x.Words)
			} else if c.met && x.From.Clock()+" "+x.To.Clock() != c.window {
				t.Errorf("%s, %s %v: met %s to %s, want %s", c.rule, way, c.hourly, x.From.Shown(), x.To.Shown(), c.window)
			}
			outside.Check(t, x.Rule.Entry.Source)
		}
	}
	for _, c := range []struct {
		total string
		met   bool
	}{{"288.8", true}, {"288.7", false}} { // 268.8 mL in a day is 84 mL/kg at 3.2 kg
		b, chamber := drained(t)
		b.do(b.w.At(moment(t, "2026-07-15T10:00+00:00")).ReadOutput(chamber, ledger.Output{Total: c.total}))
		x := ruling(t, b.register(t, settings(t), "2026-07-15T11:00+00:00"), "day")
		if (x.Outcome == calc.Met) != c.met {
			t.Errorf("%s: %s (%s)", c.total, x.Outcome, x.Words)
		}
		outside.Check(t, x.Rule.Entry.Source)
	}
}

// A weight that cannot be is behind no loss by weight: 40 mL in an hour is 12.5 mL/kg
// at 3.2 kg, and would be 0.0125 at 3200.
func TestImpossibleWeightHidesNoLoss(t *testing.T) {
	b, chamber := drained(t)
	b.do(b.at(t, "11:00").ReadOutput(chamber, ledger.Output{Total: "60"}))
	if x := ruling(t, b.register(t, settings(t), "2026-07-14T16:00+00:00"), "hour"); x.Outcome != calc.Met {
		t.Fatalf("at 3.2 kg: %s", x.Words)
	}
	b.set(schema.MeasuresDosingWeight, ledger.Number("3200"))
	r := b.register(t, settings(t), "2026-07-14T16:00+00:00")
	if r.Losses.Kg != 0 || r.Losses.Weight != "dosing weight: 3200 kg is not plausible" || len(r.Losses.Wanted) == 0 {
		t.Errorf("%v, %q, wanted %v", r.Losses.Kg, r.Losses.Weight, r.Losses.Wanted)
	}
}

// A second loss calls again, although the first was answered for.
func TestSecondLossCallsAgain(t *testing.T) {
	b, chamber := drained(t)
	calls := func() (at []string) {
		for _, p := range b.register(t, settings(t), "2026-07-14T20:00+00:00").Open {
			if p.What == ProblemLoss && strings.HasPrefix(p.Words, "10 mL per kg in one hour") {
				at = append(at, p.At.Clock())
				b.do(b.w.Settle("", p.Event, "Surgeon called", ""))
			}
		}
		return at
	}
	for i, ml := range []string{"40", "2", "35", "3", "1"} {
		b.do(b.at(t, fmt.Sprintf("%02d:00", 11+i)).ReadOutput(chamber, ledger.Output{Volume: ml}))
	}
	if got := fmt.Sprint(calls(), calls(), calls()); got != "[11:00] [13:00] []" {
		t.Errorf("calls %s", got)
	}
}

// Sparse readings are enough: the average is said, and the hourly rule is not
// assessable (clinical.md 10).
func TestSparseReadings(t *testing.T) {
	b, chamber := drained(t)
	b.do(b.at(t, "13:10").ReadOutput(chamber, ledger.Output{Total: "60"}))
	r := b.register(t, settings(t), "2026-07-14T14:00+00:00")
	if x := ruling(t, r, "hour"); x.Outcome != calc.NotAssessable || x.Words != "average over 3 h 10 min; hourly rule not assessable" {
		t.Errorf("%s: %q", x.Outcome, x.Words)
	}
	e, _ := r.Item(chamber)
	if is := e.Drainage.Intervals; len(is) != 1 || is[0].ML != 40 || e.Drainage.Total != 40 {
		t.Errorf("intervals %+v", is)
	}
	if rate, ok := e.Drainage.Intervals[0].PerKgHour(r.Losses.Kg); !ok || calc.Number(rate, 2) != "3.95" { // 40 / 3.2 / (190/60)
		t.Errorf("%v mL/kg/h", rate)
	}
	if !strings.HasPrefix(r.Losses.Weight, "dosing weight 3.2 kg, entered") {
		t.Errorf("the weight is %q", r.Losses.Weight)
	}
}

// Emptied and changed chambers, hourly volumes between running totals, and what is
// not known because nobody read before emptying.
func TestReadingsBecomeIntervals(t *testing.T) {
	for _, c := range []struct {
		name     string
		readings []string // "hh:mm total|volume [emptied|changed] [begins]"
		want     string   // volumes
		gaps     int
	}{
		{"running totals", []string{"11:00 total 30", "12:00 total 30", "13:00 total 41.5"}, "10 0 11.5", 0},
		{"hourly volumes", []string{"11:00 volume 10", "12:00 volume 4"}, "10 4", 0},
		{"hourly between totals", []string{"11:00 volume 10", "12:00 total 37"}, "10 7", 0},
		{"read and emptied", []string{"11:00 total 50 emptied", "12:00 total 8"}, "30 8", 0},
		{"another chamber with water in it", []string{"11:00 total 50 changed 5", "12:00 total 8"}, "30 3", 0},
		{"emptied without being read", []string{"11:00 emptied", "12:00 total 8"}, "8", 1},
		{"below the total before", []string{"11:00 total 50", "12:00 total 40", "13:00 total 45"}, "30 5", 1},
		{"an hourly volume entered early", []string{"11:00 volume 10", "11:45 volume 6"}, "10 6", 0},
	} {
		b, chamber := drained(t)
		for _, s := range c.readings {
			var o ledger.Output
			words := strings.Fields(s)
			for i, w := range words {
				switch w {
				case "total":
					o.Total = words[i+1]
				case "volume":
					o.Volume = words[i+1]
				case "emptied":
					o.Emptied = "yes"
				case "changed":
					o.Changed, o.Begins = "yes", words[i+1]
				}
			}
			b.do(b.at(t, words[0]).ReadOutput(chamber, o))
		}
		e, _ := RegisterOf(b.rec, settings(t), moment(t, "2026-07-14T20:00+00:00")).Item(chamber)
		var got []string
		for _, i := range e.Drainage.Intervals {
			got = append(got, calc.Number(i.ML, 1))
			if i.Hourly && i.To.Sub(i.From) > time.Hour {
				t.Errorf("%s: an hourly volume over %v", c.name, i.To.Sub(i.From))
			}
		}
		if strings.Join(got, " ") != c.want || len(e.Drainage.Gaps) != c.gaps {
			t.Errorf("%s: %v, gaps %q; want %s, %d", c.name, got, e.Drainage.Gaps, c.want, c.gaps)
		}
		falls := slices.ContainsFunc(b.rec.Faults(), func(f ledger.Fault) bool { return f.Rule == ledger.RuleTotalFalls })
		if falls != strings.HasPrefix(c.name, "below") {
			t.Errorf("%s: a running total below the one before is a fault: %v", c.name, falls)
		}
	}
}

// A drain is not a chamber: drains that join have one volume, counted once; the
// level on arrival counts on from the level on leaving.
func TestDrainsThatJoin(t *testing.T) {
	b := newBed(t)
	b.set(schema.MeasuresWeight, ledger.Number("4"))
	chamber := b.list("drain-chamber", "")
	one := b.list("drain", "mediastinal", "chamber="+string(chamber))
	two := b.list("drain", "left-pleural", "chamber="+string(chamber))
	alone := b.list("drain", "right-pleural")
	set := func(clock, field, value string) {
		b.do(b.at(t, clock).Set(b.rec, b.note, schema.ItemPath(string(chamber), field), ledger.Number(value)))
	}
	set("14:00", "level", "20")
	set("14:40", "levelArrival", "26")
	b.do(b.at(t, "15:40").ReadOutput(two, ledger.Output{Total: "40", Colour: "serous"}))
	b.do(b.at(t, "15:40").ReadOutput(alone, ledger.Output{Volume: "2"}))
	r := b.register(t, settings(t), "2026-07-14T16:00+00:00")
	for _, id := range []ledger.ItemID{chamber, one, two} {
		if e, _ := r.Item(id); e.Drainage.Of != chamber || e.Drainage.Total != 20 || len(e.Drainage.Drains) != 2 || e.Drainage.Look.Colour != "serous" {
			t.Errorf("%s has %+v", e.Name, e.Drainage)
		}
	}
	if e, _ := r.Item(alone); e.Drainage.Of != alone || e.Drainage.Total != 2 {
		t.Errorf("the drain of its own has %+v", e.Drainage)
	}
	if got := r.Losses.Loss.Total.In(calc.MLPerKg); calc.Number(got, 2) != "5.5" { // 22 mL at 4 kg
		t.Errorf("in all %v mL/kg", got)
	}
	if got := r.Losses.Loss.Over.In(calc.Minute); got != 100 { // 14:00 to 15:40: two chambers do not make two hours of one
		t.Errorf("over %v min", got)
	}
	if len(r.Losses.Days) != 1 || r.Losses.Days[0].ML != 22 || r.Losses.DayCount != 1 {
		t.Errorf("days %+v, day %d", r.Losses.Days, r.Losses.DayCount)
	}
}

// The levels count from the times their note has for them, however late they are
// written down; where it has none, what came until the first reading counts (40 - 26
// = 14 mL), over a time that is not known.
func TestLevelsHaveTheirTimes(t *testing.T) {
	for _, c := range []struct {
		timed bool
		want  string
	}{{true, "6 over 40 min, 14 over 60 min, 10 over 60 min"}, {false, "14 over 0 min, 10 over 60 min"}} {
		b := newBed(t)
		chamber := b.list("drain-chamber", "")
		if c.timed {
			b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T14:00+00:00"})
			b.set(schema.ArrivalArrived, ledger.Entry{Value: "2026-07-14T14:40+00:00"})
		}
		b.do(b.at(t, "15:40").ReadOutput(chamber, ledger.Output{Total: "40"}))
		for field, v := range map[string]string{"level": "20", "levelArrival": "26"} { // written down at 16:00
			b.do(b.at(t, "16:00").Set(b.rec, b.note, schema.ItemPath(string(chamber), field), ledger.Number(v)))
		}
		b.do(b.at(t, "16:40").ReadOutput(chamber, ledger.Output{Total: "50"}))
		e, _ := b.register(t, settings(t), "2026-07-14T17:00+00:00").Item(chamber)
		var got []string
		for _, i := range e.Drainage.Intervals {
			got = append(got, calc.Number(i.ML, 1)+" over "+calc.Number(i.To.Sub(i.From).Minutes(), 0)+" min")
		}
		if strings.Join(got, ", ") != c.want || len(e.Drainage.Gaps) > 0 {
			t.Errorf("timed %v: %v, gaps %v; want %s", c.timed, got, e.Drainage.Gaps, c.want)
		}
	}
}

// After stage 3 the volume of each day and the number of the day, over midnight.
func TestDailyVolume(t *testing.T) {
	b := newBed(t)
	drain := b.list("drain", "right-pleural", "placed=2026-07-10T12:00+00:00")
	read := func(at, total string) {
		b.do(b.w.At(moment(t, at)).ReadOutput(drain, ledger.Output{Total: total}))
	}
	read("2026-07-14T18:00+00:00", "100")
	read("2026-07-15T06:00+00:00", "220")
	read("2026-07-15T18:00+00:00", "250")
	r := b.register(t, settings(t), "2026-07-15T18:00+00:00")
	var got []string
	for _, d := range r.Losses.Days {
		words := fmt.Sprintf("%s day %d %s", d.Day.Shown(), d.N, calc.Number(d.ML, 1))
		if d.Low {
			words += " at least"
		}
		got = append(got, words)
	}
	// By hand: the first 100 mL came in the 102 h since it was put in and the next 120
	// over a night: of which day is not known. On the last day 250 - 220 = 30 came for sure.
	if want := "15-Jul-2026 day 6 30 at least"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
	got = nil
	for _, i := range r.Losses.Across {
		got = append(got, i.Words(0))
	}
	if want := "10-Jul-2026 12:00 to 14-Jul-2026 18:00 (102 h): 100 mL, 14-Jul-2026 18:00 to 15-Jul-2026 06:00 (12 h): 120 mL"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
	// An hour over midnight is shared between its days: 6 mL, of which 10 minutes are a sixth, 1 mL.
	read("2026-07-15T23:50+00:00", "250")
	read("2026-07-16T00:50+00:00", "256")
	got = nil
	for _, d := range b.register(t, settings(t), "2026-07-16T01:00+00:00").Losses.Days {
		got = append(got, fmt.Sprintf("%s %s %v", d.Day.Shown(), calc.Number(d.ML, 1), d.Of))
	}
	if want := "15-Jul-2026 31 true, 16-Jul-2026 5 true"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
	if r.Losses.DayCount != 6 || r.Losses.Prolonged != "" {
		t.Errorf("day %d, %q", r.Losses.DayCount, r.Losses.Prolonged)
	}
	// A prolonged effusion is one of more than 14 days (references.md C).
	for at, want := range map[string]bool{"2026-07-24T12:00+00:00": false, "2026-07-24T12:01+00:00": true} {
		if r := b.register(t, settings(t), at); (r.Losses.Prolonged != "") != want {
			t.Errorf("at %s: %q", at, r.Losses.Prolonged)
		}
		outside.Check(t, "Published definition of a prolonged effusion: more than 14 days")
	}
}

// A stopped drain is flagged and never celebrated (clinical.md 10: "blocked, or
// tamponade? Look now.").
func TestStoppedDrain(t *testing.T) {
	b, chamber := drained(t)
	for i, total := range []string{"40", "60", "80"} {
		b.do(b.at(t, fmt.Sprintf("%02d:00", 11+i)).ReadOutput(chamber, ledger.Output{Total: total}))
	}
	if r := b.register(t, settings(t), "2026-07-14T13:05+00:00"); r.Losses.Stop != nil {
		t.Error("a drain that runs is called stopped")
	}
	b.do(b.at(t, "14:00").ReadOutput(chamber, ledger.Output{Total: "80"}))
	b.do(b.at(t, "15:00").ReadOutput(chamber, ledger.Output{Total: "81"}))
	r := b.register(t, settings(t), "2026-07-14T15:05+00:00")
	e, _ := r.Item(chamber)
	if r.Losses.Stop == nil || r.Losses.Caution != "Drain output fell to 0.5 mL/h for 2 h after 20 mL/h: blocked, or tamponade? Look now." {
		t.Errorf("%+v: %q", r.Losses.Stop, r.Losses.Caution)
	}
	if !slices.ContainsFunc(e.Problems, func(p Problem) bool { return p.What == ProblemStopped }) || !slices.ContainsFunc(r.Due, func(d Due) bool { return d.What == DueWorking && d.Overdue }) {
		t.Errorf("problems %+v, due %+v", e.Problems, r.Due)
	}
}

// An intracardiac line comes out while a drain is in and working (references.md E,
// from memory): the order the other way about is asked, and so is a line without a
// drain. The unit's own conditions come first, and only once somebody activated them.
func TestRemovalAsks(t *testing.T) {
	b := newBed(t)
	line := b.list("intracardiac-line", "left-atrial")
	first := b.list("drain", "mediastinal")
	last := b.list("drain", "right-pleural")
	belly := b.list("drain", "peritoneal")
	now := moment(t, "2026-07-15T09:00+00:00")
	asks := func(id ledger.ItemID) string {
		return strings.Join(RemovalOf(b.rec, settings(t), id, now).Questions, " ")
	}
	if q := asks(first) + asks(line) + asks(belly); q != "" {
		t.Errorf("asked without a reason: %s", q)
	}
	b.do(b.w.Remove(first, ledger.RegisterFacts{Complete: "yes"}))
	if q := asks(last); !strings.Contains(q, "1 Left atrial line is still in the heart") {
		t.Errorf("the last drain before the line: %q", q)
	}
	b.do(b.w.Remove(last, ledger.RegisterFacts{Complete: "yes"}))
	if q := asks(line); !strings.Contains(q, "No chest drain is in") {
		t.Errorf("the line without a drain: %q", q)
	}
	x := RemovalOf(b.rec, settings(t), line, now)
	if !x.InForce || !slices.Contains(x.Conditions, "Drains still in and working") {
		t.Errorf("conditions %+v", x)
	}
	if x := RemovalOf(b.rec, profile.Default(), line, now); x.InForce || len(x.Conditions) > 0 {
		t.Errorf("conditions nobody activated: %+v", x)
	}
}

// What did not come out complete, or whose tip was not seen, stays open until it is
// settled or the rest comes out.
func TestIncompleteStaysOpen(t *testing.T) {
	open := func(b *bed) []Problem { return b.register(t, settings(t), "2026-07-16T09:00+00:00").Open }
	for _, f := range []ledger.RegisterFacts{{Complete: "no"}, {Complete: "yes", TipSeen: "no"}} {
		b := newBed(t)
		id := b.list("pacing-wires", "atrial", "count=2")
		e := b.w.Remove(id, f)
		b.do(e)
		b.do(b.w.Discharge())
		if ps := open(b); len(ps) != 1 || ps[0].What != ProblemLeftInPart || ps[0].Event != e.ID {
			t.Fatalf("%+v: open %+v", f, ps)
		}
		b.do(b.w.Settle("", e.ID, "Stump left on purpose; surgeon and parents told", ""))
		if ps := open(b); len(ps) != 0 {
			t.Errorf("settled, and open %+v", ps)
		}
		if v, _ := b.rec.Item(id); v.Where != f.Part() || !v.Where.In() {
			t.Errorf("settled, it is %q: what is left stays on record", v.Where)
		}
	}
	b := newBed(t)
	id := b.list("drain", "mediastinal")
	b.do(b.w.Remove(id, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	if ps := open(b); len(ps) != 0 {
		t.Errorf("complete, and open %+v", ps)
	}
}

// An exchange takes the old one out: what of it stayed in, or whose tip was not seen,
// is open and on the list as after a removal (clinical.md 6), until the rest is out.
// The new one was put in at that moment, by whom did it.
func TestExchangeInPartStaysOpen(t *testing.T) {
	for _, c := range []struct {
		facts ledger.RegisterFacts
		words string // "" for nothing open
	}{
		{ledger.RegisterFacts{Complete: "no", Note: "hub broke"}, "did not come out complete when it was exchanged (hub broke)"},
		{ledger.RegisterFacts{Complete: "yes", TipSeen: "no"}, "came out, and its tip was not seen when it was exchanged"},
		{ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}, ""},
	} {
		b := newBed(t)
		old := b.list("arterial-line", "radial")
		fresh, es := b.at(t, "15:00").Exchange(b.rec, old, "", c.facts)
		b.do(es...)
		r := b.register(t, settings(t), "2026-07-14T16:30+00:00")
		was, in := r.Item(old)
		e, ok := r.Item(fresh)
		if !ok || !e.SinceSure || e.In != "1 h" || e.Seen == nil || e.Seen.How != "placed" || e.InPlaceOf != old {
			t.Errorf("%+v: the new one is in %q, sure %v, seen %+v", c.facts, e.In, e.SinceSure, e.Seen)
		}
		counts := NewCounts(r.At)
		counts.Add(b.rec)
		if got, want := counts.Kinds["arterial-line"].Removals.Total(), (Share{rank(c.words != ""), 1}); got != want {
			t.Errorf("%+v: removals with a problem %v, want %v", c.facts, got, want)
		}
		if c.words == "" {
			if in || len(r.Open) != 0 {
				t.Errorf("whole, and in %v with %+v open", in, r.Open)
			}
			continue
		}
		if !in || was.View.Where != c.facts.Part() || len(r.Open) != 1 || r.Open[0].What != ProblemLeftInPart || r.Open[0].Words != c.words || !r.Tally.Balances {
			t.Fatalf("%+v: in %v, open %+v", c.facts, in, r.Open)
		}
		b.do(b.at(t, "17:00").Remove(old, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
		if r := b.register(t, settings(t), "2026-07-14T18:00+00:00"); len(r.Open) != 0 || len(r.Tally.Disputed) != 0 {
			t.Errorf("the rest is out, and open %+v, in dispute %+v", r.Open, r.Tally.Disputed)
		}
	}
}

// Daily need is asked of every line, as the published line bundles have it
// (references.md E: "daily need"; clinical.md 6): due again 24 hours after the
// answer, and a round that leaves something out says so by name.
func TestDailyNeed(t *testing.T) {
	const source = "Central line bundle: daily review of line necessity (common practice of the published bundles, second-hand)"
	b := newBed(t)
	line, drain, wires := b.list("central-venous-line", "jugular"), b.list("drain", "mediastinal"), b.list("pacing-wires", "atrial")
	b.list("implant", "")
	round := b.w.OpenRound()
	b.do(round)
	b.do(b.at(t, "15:00").AnswerNeed(round.ID, line, ledger.StillNeeded, "milrinone runs"))
	b.do(b.at(t, "15:01").AnswerNeed(round.ID, drain, ledger.ToComeOut, "dry"))
	due := func(at string, id ledger.ItemID) (what string, overdue bool) {
		for _, d := range b.register(t, settings(t), at).Due {
			if d.Item == id {
				return d.What, d.Overdue
			}
		}
		return "", false
	}
	for at, want := range map[string]bool{"2026-07-15T15:00+00:00": false, "2026-07-15T15:01+00:00": true} {
		if what, overdue := due(at, line); what != DueNeed || overdue != want {
			t.Errorf("at %s %s is due, overdue %v", at, what, overdue)
		}
		outside.Check(t, source)
	}
	if what, overdue := due("2026-07-14T15:30+00:00", drain); what != DueComeOut || !overdue {
		t.Errorf("the drain that is not needed: %s, overdue %v", what, overdue)
	}
	r := b.register(t, settings(t), "2026-07-14T15:30+00:00")
	if r.Round == nil || r.Round.Closed != nil || !slices.Equal(r.Round.Unasked, []ledger.ItemID{wires}) {
		t.Fatalf("the open round: %+v", r.Round)
	}
	if e, _ := r.Item(line); !e.Asked || e.Need.Why != "milrinone runs" {
		t.Errorf("the line's answer: %+v", e.Need)
	}
	b.do(b.w.CloseRound(b.rec, round.ID, "called to another bed"))
	r = b.register(t, settings(t), "2026-07-14T15:40+00:00")
	if c := r.Round.Closed; c == nil || len(c.Unasked) != 1 || c.Unasked[0] != (ledger.Unasked{Item: wires, Why: "called to another bed"}) {
		t.Errorf("closed it names %+v", c)
	}
	outside.Check(t, source)
}

// Counts at sign-out account for what was left on purpose: a chest is not closed
// over a pack or a membrane that the register still has.
func TestClosureAccounts(t *testing.T) {
	const source = "WHO Surgical Safety Checklist, sign-out: instrument, sponge and needle counts complete"
	b := newBed(t)
	packs := b.list("left-on-purpose", "packs", "count=2", "removalPlan=at closure")
	membrane := b.list("left-on-purpose", "membrane")
	b.set(schema.ClosingSternum, ledger.Entry{Value: "open"})
	words := func() string {
		var out []string
		for _, l := range LeftIn(b.rec) {
			out = append(out, l.Words)
		}
		return strings.Join(out, "; ")
	}
	if got := words(); got != "Chest open; Packs, 2; Open-chest membrane" {
		t.Errorf("the banner says %q", got)
	}
	b.wall = b.wall.Add(48 * time.Hour)
	b.note = b.w.NewNote()
	b.do(b.w.OpenNote(b.note, schema.Closure))
	b.set(schema.ClosingSternum, ledger.Entry{Value: "closed"})
	b.set(schema.RemovalsPacksExpected, ledger.Number("3"))
	found := func(rule string) int {
		n := 0
		for _, p := range slices.Concat(b.rec.Problems(b.note), rules.Check(b.rec.Whole(b.note), profile.Default(), rules.Context{})) {
			if p.Rule == rule {
				n++
			}
		}
		return n
	}
	if found("closed-chest-with") != 2 || found(ledger.RulePacksExpected) != 1 {
		t.Errorf("closed over %d of 2 things, and %d counts against the register of 1", found("closed-chest-with"), found(ledger.RulePacksExpected))
	}
	outside.Check(t, source)
	b.set(schema.RemovalsPacksExpected, ledger.Number("2"))
	b.set(schema.CountsPacksIn, ledger.Number("2"))
	b.set(schema.RemovalsPacksRetrieved, ledger.Number("1"))
	if found(ledger.RulePacksExpected) != 0 || found("packs-do-not-tally") == 0 {
		t.Errorf("one of two retrieved passes")
	}
	outside.Check(t, source)
	if got := words(); got != "Packs, 2; Open-chest membrane" {
		t.Errorf("while they are not accounted for the banner says %q", got)
	}
	for _, id := range []ledger.ItemID{packs, membrane} {
		row := b.w.NewRow()
		b.do(b.w.AddRow(b.rec, b.note, schema.RemovalsOut, row)...)
		b.set(schema.RowPath(schema.RemovalsOut, row, "item"), ledger.Entry{Value: string(id)})
		b.set(schema.RowPath(schema.RemovalsOut, row, "how"), ledger.Entry{Value: "removed"})
		b.set(schema.RowPath(schema.RemovalsOut, row, "complete"), ledger.Entry{Value: "yes"})
	}
	b.set(schema.RemovalsPacksRetrieved, ledger.Number("2"))
	if got := words(); got != "" || found("closed-chest-with") != 0 || found("packs-do-not-tally") != 0 {
		t.Errorf("all out, and the banner says %q", got)
	}
	outside.Check(t, source)
}

// What runs through which lumen, over time.
func TestLumens(t *testing.T) {
	b := newBed(t)
	id := b.list("central-venous-line", "jugular")
	list := schema.ItemPath(string(id), "lumens")
	row := b.w.NewRow()
	b.do(b.w.AddRow(b.rec, b.note, list, row)...)
	b.set(schema.RowPath(list, row, "name"), ledger.Entry{Value: "Proximal"})
	b.set(schema.RowPath(list, row, "state"), ledger.Entry{Value: "capped"})
	b.do(b.at(t, "16:00").Connect(id, "proximal", "milrinone"))
	b.do(b.at(t, "16:05").Connect(id, "Distal", "adrenaline"))
	b.do(b.at(t, "17:00").Disconnect(id, "Distal", "weaned"))
	e, _ := RegisterOf(b.rec, settings(t), moment(t, "2026-07-14T18:00+00:00")).Item(id)
	var got []string
	for _, l := range e.Lumens {
		got = append(got, l.Name+" "+l.State+" "+l.Runs)
	}
	if want := "Proximal Running milrinone, Distal Disconnected "; strings.Join(got, ", ") != want {
		t.Errorf("%q, want %q", strings.Join(got, ", "), want)
	}
}

func TestSpan(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "0 min", 59 * time.Minute: "59 min", time.Hour: "1 h", 23 * time.Hour: "23 h",
		24 * time.Hour: "1 day", 76 * time.Hour: "3 days 4 h", -time.Hour: "not yet"} {
		if got := Span(d); got != want {
			t.Errorf("%v is %q, want %q", d, got, want)
		}
	}
}
