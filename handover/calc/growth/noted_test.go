package growth

import (
	"math"
	"os"
	"strings"
	"testing"

	"fairlead/handover/calc"
	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"
)

func child(sex string, weeks int, birth, on string, kg float64) *schema.Note {
	n := schema.NewNote("stage2", "n", "c")
	n.Set(schema.ChildSex, sex)
	n.Set(schema.ChildGestationWeeks, weeks)
	n.Set(schema.ChildBirthDate, birth)
	n.Set(schema.OperationDate, on)
	n.Set(schema.MeasuresWeight, kg)
	return n
}

func result(n *schema.Note, id calc.ID, earlier ...Measured) calc.Result {
	r, _ := calc.Find(Results(n, profile.Default(), calc.About{}, earlier), id)
	return r
}

// Worked scores through a note: boy day 122, 5.5 kg −2.10; girl day 152, 5.6 kg
// −1.70.
func TestNotedScores(t *testing.T) {
	for _, c := range []struct {
		sex, on string
		kg      float64
		want    string
	}{{"male", "2026-05-03", 5.5, "z -2.10 at 122 days"}, {"female", "2026-06-02", 5.6, "z -1.70 at 152 days"}} {
		if r := result(child(c.sex, 39, "2026-01-01", c.on, c.kg), "weight-for-age"); r.Shown != c.want || !r.OK {
			t.Errorf("%s, want %s", r.Line(), c.want)
		}
		outside.Check(t, "WHO weight-for-age by day, worked scores")
	}
	// 33 weeks is 49 days short of 40: day 122 is looked up as day 73.
	n := child("male", 33, "2026-01-01", "2026-05-03", 5.5)
	r := result(n, "weight-for-age")
	want, _ := WeightZ(Boy, 73, 5.5)
	if !r.OK || math.Abs(r.Value-want) > 1e-12 || !strings.Contains(strings.Join(r.Caveats, " "), "Corrected age: 73 days instead of 122") {
		t.Errorf("%s %v", r.Line(), r.Caveats)
	}
	for weeks, corrected := range map[int]bool{36: true, 37: false} {
		r := result(child("male", weeks, "2026-01-01", "2026-05-03", 5.5), "weight-for-age")
		if strings.Contains(strings.Join(r.Caveats, " "), "Corrected") != corrected {
			t.Errorf("%d weeks: %v", weeks, r.Caveats)
		}
	}
	outside.Check(t, "Preterm is under 37 completed weeks, common practice, no source")
}

func TestNotedRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*schema.Note)
		says   string
	}{
		"no sex":        {func(n *schema.Note) { n.Clear(schema.ChildSex) }, "sex"},
		"not assigned":  {func(n *schema.Note) { n.Set(schema.ChildSex, "not-assigned") }, "sex"},
		"no gestation":  {func(n *schema.Note) { n.Clear(schema.ChildGestationWeeks) }, "gestation"},
		"no birth":      {func(n *schema.Note) { n.Clear(schema.ChildBirthDate) }, "date of birth"},
		"born later":    {func(n *schema.Note) { n.Set(schema.ChildBirthDate, "2026-12-01") }, "does not lie before"},
		"before term":   {func(n *schema.Note) { n.Set(schema.ChildGestationWeeks, 30); n.Set(schema.OperationDate, "2026-02-01") }, "before term"},
		"over five":     {func(n *schema.Note) { n.Set(schema.OperationDate, "2031-06-01") }, "beyond the standard"},
		"absurd":        {func(n *schema.Note) { n.Set(schema.MeasuresWeight, 5500) }, "not plausible"},
		"only a limit":  {func(n *schema.Note) { n.SetBound(schema.MeasuresWeight, "<") }, "only a limit"},
		"weight stated": {func(n *schema.Note) { n.State(schema.MeasuresWeight, schema.StatedUnknown) }, "unknown"},
	} {
		n := child("male", 39, "2026-01-01", "2026-05-03", 5.5)
		c.change(n)
		if r := result(n, "weight-for-age"); r.OK || !strings.Contains(r.WantedWords(), c.says) {
			t.Errorf("%s: %s", name, r.Line())
		}
	}
}

// A weight whose score moved by more than one from the last is asked about
// (common practice, no source); gain per day is arithmetic.
func TestChangeAndGain(t *testing.T) {
	n := child("male", 39, "2026-01-01", "2026-05-03", 6.8)
	p, _ := WeightLMS(Boy, 59)
	now, _ := WeightZ(Boy, 122, 6.8)
	for delta, asked := range map[float64]bool{0: false, 0.99: false, -0.99: false, 1.01: true, -1.01: true} {
		earlier := Measured{"2026-03-01", p.At(now - delta), "clinic", ""}
		r := result(n, "weight-z-change", Measured{"2026-02-01", 4, "older", ""}, earlier)
		if !r.OK || math.Abs(r.Value-delta) > 1e-6 || (len(r.Flags) == 1) != asked {
			t.Errorf("%v: %s %v", delta, r.Line(), r.Flags)
		}
	}
	if r := result(n, "weight-gain", Measured{"2026-04-23", 6.6, "clinic", ""}); r.Shown != "20 g in a day over 10 days" {
		t.Errorf("%s", r.Line())
	}
	outside.Check(t, "Weight gain per day, arithmetic")
	// Nothing is worked out against a weight that is itself in doubt, and it is not
	// passed over for an older one.
	for _, id := range []calc.ID{"weight-z-change", "weight-gain"} {
		r := result(n, id, Measured{"2026-02-01", 4, "older", ""}, Measured{"2026-03-01", 53, "clinic", "53 kg is not plausible"})
		if r.OK || !strings.Contains(r.WantedWords(), "weight at clinic of 01-Mar-2026 (53 kg is not plausible)") {
			t.Errorf("%s", r.Line())
		}
		born := child("male", 39, "2026-01-01", "2026-05-03", 6.8)
		born.Set(schema.ChildBirthWeight, 32) // 3.2 without its point
		if r := result(born, id); r.OK || !strings.Contains(r.WantedWords(), "32 kg is not plausible") {
			t.Errorf("%s", r.Line())
		}
	}
	about := calc.About{Disputed: func(p schema.Path) bool { return p == schema.ChildBirthDate }}
	if r, _ := calc.Find(Results(child("male", 39, "", "2026-05-03", 6.8), profile.Default(), about, nil), "weight-for-age"); r.OK || !strings.Contains(r.WantedWords(), "date of birth (different values were entered)") {
		t.Errorf("%s", r.Line())
	}
	if r := result(n, "weight-gain", Measured{"2026-12-01", 5.3, "later", ""}); r.OK {
		t.Errorf("a later weight counted as the last: %s", r.Line())
	}
}

// Red flags between the stages, second-hand: 74 and 91 flag, 75 and 90 do not;
// +19 g flags, +20 g does not; −30 g flags.
func TestBetween(t *testing.T) {
	p, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		sat, change, days, intake *float64
		want                      int
	}{
		{f(74), nil, nil, nil, 1}, {f(75), nil, nil, nil, 0}, {f(90), nil, nil, nil, 0}, {f(91), nil, nil, nil, 1},
		{nil, f(19), f(3), nil, 1}, {nil, f(20), f(3), nil, 0}, {nil, f(19), f(2), nil, 0}, {nil, f(-29), f(1), nil, 0}, {nil, f(-30), f(1), nil, 1},
		{nil, nil, nil, f(99.9), 1}, {nil, nil, nil, f(100), 0}, {nil, nil, nil, nil, 0},
	} {
		if got := Between(p, c.sat, c.change, c.days, c.intake); len(got) != c.want {
			t.Errorf("%+v: %v", c, got)
		}
		outside.Check(t, "Interstage monitoring programmes, red flags, second-hand")
	}
	if got := Between(profile.Default(), f(60), f(-100), f(5), f(10)); len(got) != 0 {
		t.Errorf("inactive limits flagged: %v", got)
	}
}

func TestCommittedNotes(t *testing.T) {
	for _, name := range []string{"stage1", "stage2", "stage3"} {
		b, err := os.ReadFile("../../../testdata/notes/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		n, _, err := schema.ParseNote(b)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range Results(n, profile.Default(), calc.About{}, nil) {
			if r.OK == (len(r.Wanted) > 0) || r.OK && (r.Shown == "" || len(r.Inputs) == 0) {
				t.Errorf("%s: %+v", name, r)
			}
			t.Log(name, r.Line())
		}
	}
}
