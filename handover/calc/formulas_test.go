package calc

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fairlead/schema/outside"
	"fairlead/schema/profile"

	"pgregory.net/rapid"
)

// near tells whether got, rounded as published, is what was published.
func near(got, want float64, places int) bool {
	return math.Abs(got-want) <= 0.5*math.Pow(10, -float64(places))*1.0001
}

func kg(v float64) Mass     { return Of(v, Kilogram) }
func pct(v float64) Ratio   { return Of(v, Percent) }
func ml(v float64) Volume   { return Of(v, Millilitre) }
func hg(v float64) Pressure { return Of(v, MmHg) }

// Body surface area, the published formulas' values at four sizes.
func TestSurfaceArea(t *testing.T) {
	names := []string{"mosteller", "haycock", "du-bois", "boyd"}
	for _, c := range []struct {
		kg, cm float64
		want   [4]float64
	}{
		{3.0, 50, [4]float64{0.2041, 0.2066, 0.1954, 0.2097}}, {3.2, 49, [4]float64{0.2087, 0.2122, 0.1979, 0.2166}},
		{6.0, 62, [4]float64{0.3215, 0.3266, 0.3066, 0.3372}}, {13, 95, [4]float64{0.5857, 0.5862, 0.5803, 0.6001}},
	} {
		for i, name := range names {
			got, r := SurfaceArea(name, kg(c.kg), Of(c.cm, Centimetre))
			if r != nil || !near(got.In(SquareMetre), c.want[i], 4) {
				t.Errorf("%s %v kg %v cm: %v %v, want %v", name, c.kg, c.cm, got.In(SquareMetre), r, c.want[i])
			}
			outside.Check(t, SurfaceFormulas[name].Source)
		}
	}
	for _, bad := range []float64{0, -3, math.NaN(), math.Inf(1)} {
		if _, r := SurfaceArea("mosteller", kg(bad), Of(50, Centimetre)); r == nil {
			t.Errorf("a weight of %v gave a surface", bad)
		}
	}
	if _, r := SurfaceArea("meeh", kg(3), Of(50, Centimetre)); r == nil {
		t.Error("a formula nobody has")
	}
}

// Bypass flow: arithmetic.
func TestFlow(t *testing.T) {
	f, r := FlowOf(Of(150, MLPerKgMin), kg(3.2))
	if r != nil || compare(f.In(MillilitrePerMinute), 480) != 0 {
		t.Errorf("%v %v", f, r)
	}
	outside.Check(t, "Bypass flow, arithmetic")
	s, _ := SurfaceArea("mosteller", kg(3.2), Of(49, Centimetre))
	if i, _ := IndexOf(f, s); !near(i.In(LPerMinM2), 2.30, 2) {
		t.Errorf("index %v", i.In(LPerMinM2))
	}
	outside.Check(t, "Bypass flow index, arithmetic with Mosteller 1987")
	if _, r := FlowOf(Of(-1, MLPerKgMin), kg(3.2)); r == nil {
		t.Error("a negative flow")
	}
}

// Predicted haematocrit and oxygen: arithmetic of the stated formulas.
func TestBlood(t *testing.T) {
	for _, c := range []struct{ rbc, want float64 }{{0, 20.8}, {100, 32.3}} {
		got, r := PredictedHaematocrit(ml(272), pct(40), ml(250), ml(c.rbc), pct(60))
		if r != nil || !near(got.In(Percent), c.want, 1) {
			t.Errorf("%v mL: %v %v", c.rbc, got.In(Percent), r)
		}
		outside.Check(t, "Predicted haematocrit by dilution, arithmetic")
	}
	o := Oxygen{1.34, 0.003}
	content, r := o.Content(Of(14, GPerDL), pct(80), hg(45))
	if r != nil || !near(content.In(MLPerDL), 15.14, 2) {
		t.Errorf("%v %v", content.In(MLPerDL), r)
	}
	outside.Check(t, "Oxygen content 1.34·Hb·Sat + 0.003·PO2, arithmetic")
	content, _ = o.Content(Of(8, GPerDL), pct(100), hg(250))
	d, _ := DeliveryIndex(Of(2.4, LPerMinM2), content)
	if !near(d.In(MLPerMinM2), 275.3, 1) {
		t.Errorf("%v", d.In(MLPerMinM2))
	}
	outside.Check(t, "Delivered oxygen index, arithmetic")
	for _, r := range []*Refusal{
		second(PredictedHaematocrit(ml(272), pct(40), ml(100), ml(200), pct(60))), second(PredictedHaematocrit(ml(0), pct(40), ml(250), ml(0), pct(0))),
		second(PredictedHaematocrit(ml(272), pct(140), ml(250), ml(0), pct(0))), second(o.Content(Of(8, GPerDL), pct(101), hg(250))), second(o.Content(Of(8, GPerDL), pct(0), hg(250))),
	} {
		if r == nil || r.What == "" || r.Do == "" {
			t.Errorf("an impossible input was computed: %v", r)
		}
	}
}

func second[T any](_ T, r *Refusal) *Refusal { return r }

// Gaies 2010, Pediatr Crit Care Med 11:234.
func TestScore(t *testing.T) {
	list, e, ok := profile.Default().Weights(profile.ScoreDrugs)
	if !ok {
		t.Fatal("no list")
	}
	d := func(name string, dose float64) ScoreDrug {
		if DosedInUnits(name) {
			return ScoreDrug{Name: name, Unit: Of(dose, UnitsPerKgMin)}
		}
		return ScoreDrug{Name: name, Dose: Of(dose, UgPerKgMin)}
	}
	for _, c := range []struct {
		drugs []ScoreDrug
		want  float64
	}{
		{[]ScoreDrug{d("adrenaline", 0.05), d("milrinone", 0.5)}, 10},
		{[]ScoreDrug{d("dopamine", 5), d("adrenaline", 0.05), d("milrinone", 0.5), d("vasopressin", 0.0005)}, 20},
		{[]ScoreDrug{d("dopamine", 5), d("dobutamine", 5), d("adrenaline", 0.1), d("noradrenaline", 0.05), d("milrinone", 0.75), d("vasopressin", 0.0005)}, 37.5},
	} {
		got, left, r := Score(c.drugs, list)
		if r != nil || len(left) > 0 || compare(got, c.want) != 0 {
			t.Errorf("%v %v %v, want %v", got, left, r, c.want)
		}
		outside.Check(t, e.Source)
	}
	for _, u := range []UnitRate{Of(0.0005, UnitsPerKgMin), Of(0.03, UnitsPerKgHour), Of(0.5, MilliunitsPerKgMin)} {
		if got, _, r := Score([]ScoreDrug{{Name: "vasopressin", Unit: u}}, list); r != nil || compare(got, 5) != 0 {
			t.Errorf("%v %v", got, r)
		}
		outside.Check(t, "Vasopressin 0.0005 U/kg/min = 0.03 U/kg/h = 0.5 mU/kg/min, arithmetic")
	}
	if _, _, r := Score([]ScoreDrug{d("vasopressin", 0.5)}, list); r == nil || !strings.Contains(r.Do, "0.0005 units/kg/min") {
		t.Errorf("0.5 units/kg/min of vasopressin: %v", r)
	}
	outside.Check(t, "Vasopressin 0.5 entered as U/kg/min is refused")
	if _, left, r := Score([]ScoreDrug{d("levosimendan", 0.1), d("adrenaline", 0.1)}, list); r != nil || fmt.Sprint(left) != "[levosimendan]" {
		t.Errorf("%v %v", left, r)
	}
	if _, _, r := Score(nil, nil); r == nil {
		t.Error("no list, and a score")
	}
}

// Flow ratio, gradient, resistance, arteries, oxygenation: arithmetic of the
// stated formulas.
func TestCirculation(t *testing.T) {
	for _, c := range []struct{ a, v, pv, want float64 }{{80, 55, 98, 1.39}, {75, 45, 95, 1.50}, {85, 50, 97, 2.92}} {
		got, r := FlowRatio("stage1", pct(c.a), pct(c.v), pct(c.pv))
		if r != nil || !near(got.In(One), c.want, 2) {
			t.Errorf("%v %v", got.In(One), r)
		}
		outside.Check(t, "Flow ratio (SaO2−SvO2)/(SpvO2−SpaO2), arithmetic")
	}
	for _, r := range []*Refusal{
		second(FlowRatio("stage1", pct(80), pct(55), pct(80))), second(FlowRatio("stage1", pct(80), pct(55), pct(79))), second(FlowRatio("stage2", pct(80), pct(55), pct(98))),
		second(FlowRatio("stage3", pct(80), pct(55), pct(98))), second(FlowRatio("stage1", pct(55), pct(80), pct(98))), second(FlowRatio("stage1", pct(80), pct(80), pct(98))),
		second(FlowRatio("stage1", pct(0), pct(55), pct(98))), second(FlowRatio("stage1", pct(80), pct(55), pct(102))),
	} {
		if r == nil {
			t.Error("a flow ratio that must be refused was given")
		}
	}
	outside.Check(t, "Flow ratio refused where pulmonary venous ≤ arterial, and at stages 2 and 3")
	g := Transpulmonary(hg(14), hg(8))
	if g.In(MmHg) != 6 {
		t.Errorf("%v", g.In(MmHg))
	}
	outside.Check(t, "Transpulmonary gradient, arithmetic")
	if w, r := LungResistance(g, Of(3.0, LPerMinM2)); r != nil || compare(w.In(WoodM2), 2) != 0 {
		t.Errorf("%v %v", w, r)
	}
	outside.Check(t, "Indexed resistance of the lungs, arithmetic")
	if w, r := LungResistance(Of(6*0.133322, KPa), Of(3.0, LPerMinM2)); r != nil || !near(w.In(WoodM2), 2, 6) {
		t.Errorf("in kPa: %v %v", w, r)
	}
	n, r := Nakata(Of(7, Millimetre), Of(6, Millimetre), Of(0.30, SquareMetre))
	if r != nil || !near(n, 222.5, 1) {
		t.Errorf("%v %v", n, r)
	}
	outside.Check(t, "Nakata index, arithmetic")
	m, r := McGoon(Of(9, Millimetre), Of(8.5, Millimetre), Of(8, Millimetre))
	if r != nil || !near(m.In(One), 2.19, 2) {
		t.Errorf("%v %v", m, r)
	}
	outside.Check(t, "McGoon ratio, arithmetic")
	o, r := OxygenationIndex(Of(12, CmH2O), Of(0.6, One), hg(70))
	if r != nil || !near(o, 10.3, 1) {
		t.Errorf("%v %v", o, r)
	}
	outside.Check(t, "Oxygenation index MAP·FiO2·100/PaO2, arithmetic")
	for _, r := range []*Refusal{
		second(LungResistance(hg(-1), Of(3, LPerMinM2))), second(LungResistance(hg(6), Of(0, LPerMinM2))), second(Nakata(Of(7, Millimetre), Of(6, Millimetre), Of(0, SquareMetre))),
		second(McGoon(Of(9, Millimetre), Of(8, Millimetre), Of(0, Millimetre))), second(OxygenationIndex(Of(12, CmH2O), Of(60, One), hg(70))), second(OxygenationIndex(Of(12, CmH2O), Of(0.6, One), hg(0))),
	} {
		if r == nil {
			t.Error("an impossible input was computed")
		}
	}
}

// Yan 2013, consensus classes, second-hand; rounded to 0.1 °C first.
func TestHypothermia(t *testing.T) {
	steps, e, _ := profile.Default().Steps(profile.HypothermiaClasses)
	for c, want := range map[float64]string{
		14.0: "profound", 14.04: "profound", 14.05: "deep", 14.1: "deep", 20.0: "deep", 20.04: "deep", 20.05: "moderate", 20.1: "moderate", 28.0: "moderate", 28.1: "mild", 34.0: "mild", 34.1: "none", 36.5: "none", 18: "deep",
	} {
		got, r := HypothermiaClass(Of(c, Celsius), steps)
		if r != nil || got != want {
			t.Errorf("%v °C is %s %v, want %s", c, got, r, want)
		}
		outside.Check(t, e.Source)
	}
	if got, _ := HypothermiaClass(Of(57.2, Fahrenheit), steps); got != "profound" {
		t.Errorf("14 °C in Fahrenheit is %s", got)
	}
	if _, r := HypothermiaClass(Of(98.6, Celsius), steps); r == nil {
		t.Error("98.6 °C was classed")
	}
}

// STS/SCA/AmSECT 2015, adult evidence.
func TestBypassTemperature(t *testing.T) {
	p, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	l := BypassLimits(p)
	read := func(out, in, rate float64) string {
		o, i, r := Of(out, Celsius), Of(in, Celsius), Of(rate, CelsiusPerMinute)
		return strings.Join(l.Exceeded(OnBypass{&o, &i, &r}), ", ")
	}
	_, e, _ := p.Number(profile.OutletTemperature)
	for _, c := range []struct {
		out, in, rate float64
		want          string
	}{
		{36.9, 34, 0, ""}, {37, 34, 0, "outlet"}, {20, 30, 0, ""}, {20, 30.1, 0, "gradient"}, {30, 20, 0.6, ""}, {30, 19.9, 0.6, "gradient"},
		{30.1, 26.1, 0.5, ""}, {30.1, 26, 0.5, "warm gradient"}, {30.1, 27, 0.51, "warm rate"}, {30, 27, 0.9, ""},
	} {
		if got := read(c.out, c.in, c.rate); got != c.want {
			t.Errorf("outlet %v inlet %v rate %v: %q, want %q", c.out, c.in, c.rate, got, c.want)
		}
		outside.Check(t, e.Source)
	}
	if got := BypassLimits(profile.Default()).Exceeded(OnBypass{Outlet: ptr(Of(39, Celsius))}); got != nil {
		t.Errorf("inactive limits flagged: %v", got)
	}
	if r, x := Change(Of(36, Celsius), Of(18, Celsius), Of(20, Minute)); x != nil || compare(r.In(CelsiusPerMinute), -0.9) != 0 {
		t.Errorf("%v %v", r, x)
	}
	if _, x := Change(Of(36, Celsius), Of(18, Celsius), Of(0, Minute)); x == nil {
		t.Error("a rate over no time")
	}
}

func ptr[T any](v T) *T { return &v }

// Dose and rate are each other's reverse, for every drug, weight and strength.
func TestInfusions(t *testing.T) {
	// Arithmetic: 0.05 mcg/kg/min × 60 × 3.2 kg = 9.6 mcg/h; at 20 mcg/mL 0.48 mL/h.
	f, r := RateOf(Of(0.05, UgPerKgMin), kg(3.2), Of(20, UgPerML))
	if r != nil || compare(f.In(MillilitrePerHour), 0.48) != 0 {
		t.Errorf("%v %v", f.In(MillilitrePerHour), r)
	}
	outside.Check(t, "Infusion rate from dose, weight and concentration, arithmetic")
	u, r := UnitDoseOf(Of(0.96, MillilitrePerHour), kg(3.2), Of(0.1, UnitsPerML))
	if r != nil || compare(u.In(UnitsPerKgHour), 0.03) != 0 || compare(u.In(UnitsPerKgMin), 0.0005) != 0 || compare(u.In(MilliunitsPerKgMin), 0.5) != 0 {
		t.Errorf("%v %v", u, r)
	}
	outside.Check(t, "Infusion dose in units from rate, weight and concentration, arithmetic")
	rapid.Check(t, func(t *rapid.T) {
		dose := rapid.Float64Range(0.0001, 50).Draw(t, "dose")
		w, c := kg(rapid.Float64Range(0.5, 150).Draw(t, "kg")), rapid.Float64Range(0.001, 100).Draw(t, "c")
		f, _ := RateOf(Of(dose, UgPerKgMin), w, Of(c, MgPerML))
		back, _ := DoseOf(f, w, Of(c, MgPerML))
		if math.Abs(back.In(UgPerKgMin)-dose) > 1e-9*dose {
			t.Fatalf("%v became %v", dose, back.In(UgPerKgMin))
		}
		uf, _ := UnitRateOf(Of(dose, UnitsPerKgHour), w, Of(c, UnitsPerML))
		ub, _ := UnitDoseOf(uf, w, Of(c, UnitsPerML))
		mf, _ := MolRateOf(Of(dose, MmolPerKgHour), w, Of(c, MmolPerML))
		mb, _ := MolDoseOf(mf, w, Of(c, MmolPerML))
		if math.Abs(ub.In(UnitsPerKgHour)-dose) > 1e-9*dose || math.Abs(mb.In(MmolPerKgHour)-dose) > 1e-9*dose {
			t.Fatal("units or mmol do not come back")
		}
		// Twice the weight needs twice the rate; twice the strength half of it.
		twice, _ := RateOf(Of(dose, UgPerKgMin), w.Times(2), Of(c, MgPerML))
		half, _ := RateOf(Of(dose, UgPerKgMin), w, Of(2*c, MgPerML))
		if compare(twice.In(MillilitrePerHour), 2*f.In(MillilitrePerHour)) != 0 || math.Abs(half.In(MillilitrePerHour)*2-f.In(MillilitrePerHour)) > 1e-9*f.In(MillilitrePerHour) {
			t.Fatal("scaling fails")
		}
	})
	for _, r := range []*Refusal{
		second(RateOf(Of(0.05, UgPerKgMin), kg(0), Of(20, UgPerML))), second(RateOf(Of(0.05, UgPerKgMin), kg(3), Of(0, UgPerML))), second(RateOf(Of(-1, UgPerKgMin), kg(3), Of(20, UgPerML))),
		second(DoseOf(Of(-1, MillilitrePerHour), kg(3), Of(20, UgPerML))), second(DoseOf(Of(1, MillilitrePerHour), kg(math.NaN()), Of(20, UgPerML))),
	} {
		if r == nil {
			t.Error("an impossible infusion was computed")
		}
	}
}

// A tenth either way agrees; a tenfold slip is named (common practice, no source).
func TestAgree(t *testing.T) {
	for _, c := range []struct {
		entered, computed float64
		agrees            bool
		slip              string
	}{
		{0.05, 0.05, true, ""}, {0.055, 0.05, true, ""}, {0.0551, 0.05, false, ""}, {0.045, 0.05, true, ""}, {0.0449, 0.05, false, ""},
		{0.5, 0.05, false, "tenfold"}, {0.005, 0.05, false, "tenfold"}, {0.545, 0.05, false, "tenfold"}, {5, 0.05, false, "hundredfold"}, {50, 0.05, false, "thousandfold"},
		{3, 0.05, false, "minutes and hours"}, {0.05, 3, false, "minutes and hours"}, {0.1, 0.05, false, ""}, {0, 0.05, false, ""}, {0, 0, true, ""},
	} {
		a := Agree(c.entered, c.computed, 0.1)
		if a.Agrees != c.agrees || a.Slip != c.slip || (a.Question() == "") != c.agrees {
			t.Errorf("%v and %v: %+v", c.entered, c.computed, a)
		}
	}
}

// Dimensional scaling: a change of unit leaves every result unchanged.
func TestUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(0.5, 150).Draw(t, "kg"), rapid.Float64Range(25, 210).Draw(t, "cm")
		for name := range SurfaceFormulas {
			a, _ := SurfaceArea(name, kg(w), Of(h, Centimetre))
			b, _ := SurfaceArea(name, Of(w*1000, Gram), Of(h*10, Millimetre))
			c, _ := SurfaceArea(name, Of(w/0.45359237, Pound), Of(h/2.54, Inch))
			if math.Abs(a.In(SquareMetre)-b.In(SquareMetre)) > 1e-9 || math.Abs(a.In(SquareMetre)-c.In(SquareMetre)) > 1e-9 {
				t.Fatalf("%s: %v %v %v", name, a, b, c)
			}
		}
		// Mosteller grows with the root of both.
		a, _ := SurfaceArea("mosteller", kg(w), Of(h, Centimetre))
		b, _ := SurfaceArea("mosteller", kg(4*w), Of(h, Centimetre))
		if math.Abs(b.In(SquareMetre)-2*a.In(SquareMetre)) > 1e-9 {
			t.Fatal("four times the weight is not twice the surface")
		}
	})
}
