package calc

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"

	"pgregory.net/rapid"
)

func active(t testing.TB) *profile.Profile {
	p, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

func weighed(v float64) DosingWeight {
	return DosingWeight{Name: "dosing weight", Path: "measures.dosingWeight", Kg: v, Date: "2026-07-14", At: "14-Jul-2026 07:30", By: "A. Invented"}
}

// Resuscitation-council paediatric values, second-hand, at four weights; fluid
// (from memory) from a unit's own setting.
func TestEmergencyCard(t *testing.T) {
	p := active(t)
	p, faults := p.Change("emergency.fluid", []byte(`{"unit":"mL","routes":["intravenous","intraosseous"],"steps":[{"perKg":5,"to":10}]}`), "Unit protocol, invented", "Dr Invented Example", "2026-07-14", "")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if p, faults = p.Activate("emergency.fluid", "Dr Invented Example", "2026-07-14"); len(faults) > 0 {
		t.Fatal(faults)
	}
	want := map[float64]string{
		2.8: "Adrenaline 28 mcg 0.28 mL|Defibrillation 5.6 J|Defibrillation 11.2 J|Cardioversion, synchronised 1.4 to 2.8 J|Cardioversion, synchronised 5.6 J|Amiodarone 14 mg|Adenosine 0.28 mg|Adenosine 0.56 mg|Calcium chloride 56 mg|Fluid bolus 14 to 28 mL",
		3.2: "Adrenaline 32 mcg 0.32 mL|Defibrillation 6.4 J|Defibrillation 12.8 J|Cardioversion, synchronised 1.6 to 3.2 J|Cardioversion, synchronised 6.4 J|Amiodarone 16 mg|Adenosine 0.32 mg|Adenosine 0.64 mg|Calcium chloride 64 mg|Fluid bolus 16 to 32 mL",
		6:   "Adrenaline 60 mcg 0.6 mL|Defibrillation 12 J|Defibrillation 24 J|Cardioversion, synchronised 3 to 6 J|Cardioversion, synchronised 12 J|Amiodarone 30 mg|Adenosine 0.6 mg|Adenosine 1.2 mg|Calcium chloride 120 mg|Fluid bolus 30 to 60 mL",
		14:  "Adrenaline 140 mcg 1.4 mL|Defibrillation 28 J|Defibrillation 56 J|Cardioversion, synchronised 7 to 14 J|Cardioversion, synchronised 28 J|Amiodarone 70 mg|Adenosine 1.4 mg|Adenosine 2.8 mg|Calcium chloride 280 mg|Fluid bolus 70 to 140 mL",
	}
	for v, w := range want {
		c := EmergencyCard(p, []DosingWeight{weighed(v)}, "2026-07-14")
		var got []string
		for _, l := range c.Lines {
			s := l.Title + " " + l.Amount
			if l.Volume != "" {
				s += " " + strings.TrimSuffix(l.Volume, " of 0.1 mg/mL")
			}
			got = append(got, s)
			if l.Source == "" || l.Activity == "" || l.Routes == "" || l.Rule == "" {
				t.Errorf("a dose without its source, person, route or rule: %+v", l)
			}
			outside.Check(t, "Resuscitation-council paediatric doses by weight, second-hand ("+l.Title+")")
		}
		if s := strings.Join(got, "|"); s != w || len(c.Stopped) > 0 {
			t.Errorf("%v kg:\n got %s\nwant %s\n%v", v, s, w, c.Stopped)
		}
		if c.Caution != fmt.Sprintf("Calculated from %s kg entered 14-Jul-2026 07:30 by A. Invented. Second person checks. Unit protocol overrides. Not a prescription.", Number(v, 1)) {
			t.Error(c.Caution)
		}
		if c.Lines[0].Heading != "ARREST ONLY" || !strings.Contains(fmt.Sprint(c.Empty), "Internal paddles") || !strings.Contains(fmt.Sprint(c.Empty), "pulse") {
			t.Errorf("%+v", c)
		}
	}
	// Maxima: 1 mg of adrenaline, 300 mg of amiodarone, 6 and 12 mg of adenosine.
	for v, w := range map[float64]string{
		59.9: "599 299.5 5.99 11.98 false", 60: "600 300 6 12 false", 60.1: "601 300 6 12 true", 100: "1000 300 6 12 true", 101: "1000 300 6 12 true",
	} {
		c := EmergencyCard(p, []DosingWeight{weighed(v)}, "2026-07-14")
		by := map[string]CardLine{}
		for _, l := range c.Lines {
			by[l.Title+l.Label] = l
		}
		got := fmt.Sprint(tidy(by["Adrenaline"].Low), " ", tidy(by["Amiodarone"].Low), " ", tidy(by["Adenosinefirst"].Low), " ", tidy(by["Adenosinethen"].Low), " ", by["Amiodarone"].Capped)
		if got != w {
			t.Errorf("%v kg: %s, want %s", v, got, w)
		}
		outside.Check(t, "Resuscitation-council paediatric maxima, second-hand")
	}
}

// Nothing is printed from an inactive entry, from two weights that disagree, or
// from a weight that is too old, unclear or nobody's.
func TestCardStops(t *testing.T) {
	if c := EmergencyCard(profile.Default(), []DosingWeight{weighed(3.2)}, "2026-07-14"); len(c.Lines) != 0 || len(c.Stopped) != 0 || !strings.HasPrefix(c.Caution, "Calculated from 3.2 kg") {
		t.Errorf("an inactive dose was printed: %+v", c)
	}
	p := active(t)
	p, _ = p.Change(profile.WeightOldest, []byte("7"), "Unit", "Dr Invented Example", "2026-07-14", "")
	p, faults := p.Activate(profile.WeightOldest, "Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for name, c := range map[string]struct {
		weights []DosingWeight
		today   schema.Date
		says    string
	}{
		"none":            {nil, "2026-07-14", "not recorded"},
		"within a tenth":  {[]DosingWeight{weighed(3.2), weighed(3.52)}, "2026-07-14", ""},
		"beyond a tenth":  {[]DosingWeight{weighed(3.2), weighed(3.53)}, "2026-07-14", "disagrees"},
		"below a tenth":   {[]DosingWeight{weighed(3.52), weighed(3.2)}, "2026-07-14", ""},
		"grams in a pump": {[]DosingWeight{weighed(3.2), weighed(3200)}, "2026-07-14", "disagrees"},
		"seven days":      {[]DosingWeight{weighed(3.2)}, "2026-07-21", ""},
		"eight days":      {[]DosingWeight{weighed(3.2)}, "2026-07-22", "8 days old"},
		"after today":     {[]DosingWeight{weighed(3.2)}, "2026-07-13", "after today"},
		"no date":         {[]DosingWeight{func() DosingWeight { w := weighed(3.2); w.Date = ""; return w }()}, "2026-07-14", "date is not recorded"},
		"nobody":          {[]DosingWeight{func() DosingWeight { w := weighed(3.2); w.By = ""; return w }()}, "2026-07-14", "nobody"},
		"no time":         {[]DosingWeight{func() DosingWeight { w := weighed(3.2); w.At = ""; return w }()}, "2026-07-14", "time is not recorded"},
		"doubtful":        {[]DosingWeight{func() DosingWeight { w := weighed(3.2); w.Doubt = "different values were entered"; return w }()}, "2026-07-14", "different values"},
		"zero":            {[]DosingWeight{weighed(0)}, "2026-07-14", "not above zero"},
		"not a number":    {[]DosingWeight{weighed(math.NaN())}, "2026-07-14", "not above zero"},
	} {
		got := EmergencyCard(p, c.weights, c.today)
		if stopped := len(got.Stopped) > 0; stopped != (c.says != "") || stopped && (len(got.Lines) > 0 || !strings.Contains(fmt.Sprint(got.Stopped), c.says)) {
			t.Errorf("%s: %v lines, %v", name, len(got.Lines), got.Stopped)
		}
	}
}

// Without the unit's word on how far two weights may differ, any difference stops
// the card; without its word on age, a date to come is said.
func TestCardWithoutSettings(t *testing.T) {
	p, faults := active(t).Change(profile.WeightDifference, []byte("null"), "", "Dr Invented Example", "2026-07-14", "Not agreed yet")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if c := EmergencyCard(p, []DosingWeight{weighed(3.2), weighed(3.21)}, "2026-07-14"); len(c.Stopped) != 1 || len(c.Lines) > 0 {
		t.Errorf("%v", c.Stopped)
	}
	c := EmergencyCard(p, []DosingWeight{weighed(3.2), weighed(3.2)}, "2026-07-13")
	if len(c.Stopped) > 0 || !strings.Contains(strings.Join(c.Notes, " "), "dated 14-Jul-2026, after today") {
		t.Errorf("%v %v", c.Stopped, c.Notes)
	}
}

// Twice the weight is twice the dose until the maximum, and the volume always
// holds the amount.
func TestCardProperties(t *testing.T) {
	p := active(t)
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.5, 75).Draw(t, "kg")
		a := EmergencyCard(p, []DosingWeight{weighed(v)}, "2026-07-14")
		b := EmergencyCard(p, []DosingWeight{weighed(2 * v)}, "2026-07-14")
		for i, l := range a.Lines {
			if !b.Lines[i].Capped && compare(b.Lines[i].Low, 2*l.Low) != 0 {
				t.Fatalf("%v kg: %v then %v", v, l.Low, b.Lines[i].Low)
			}
			if l.ML > 0 && math.Abs(l.ML*100-l.Low) > 1e-9*l.Low { // 0.1 mg/mL is 100 mcg/mL
				t.Fatalf("%v mcg in %v mL", l.Low, l.ML)
			}
			if strings.Contains(" "+l.Amount, " .") || strings.Contains(l.Amount, ".0 ") {
				t.Fatal(l.Amount)
			}
		}
	})
}
