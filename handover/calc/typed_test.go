package calc

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"

	"pgregory.net/rapid"
)

// What a nurse may type into the weight box, and the sentence it draws.
func TestTypedWeight(t *testing.T) {
	lo, hi := Between(0.5, 150)
	box := Box{UCUM: "kg", Min: lo, Max: hi}
	for text, want := range map[string]string{
		"3.2": "3.2", " 3.2 kg ": "3.2", "3.2kg": "3.2", "3.20": "3.2", "03.2": "3.2", "+3.2": "3.2", "3,2": "3.2", "3,25 kg": "3.25", ".9": "0.9", "4.": "4", "４": "4", "3.2\u00a0kg": "3.2", "3.2 Kilos": "3.2",
	} {
		got := box.Read(text)
		if got.Problem != nil || got.Decimal != want || got.Text != text {
			t.Errorf("%q: %q %v", text, got.Decimal, got.Problem)
		}
	}
	for text, c := range map[string]struct{ says, meant string }{
		"":                 {"Nothing was typed", ""},
		"  ":               {"Nothing was typed", ""},
		"0":                {"Zero is not possible", ""},
		"-3.2":             {"is negative", ""},
		"−3.2":             {"is negative", ""},
		"3200":             {"not plausible", "3.2 kg"},
		"3200 g":           {"this box is in kg", "3.2 kg"},
		"7 lb":             {"this box is in kg", "3.175 kg"},
		"7 lb 3 oz":        {"in pounds", "3.26 kg"},
		"7lb3oz":           {"in pounds", "3.26 kg"},
		"7lb 3":            {"in pounds", "3.26 kg"},
		"7 stones":         {"not a unit this box knows", ""},
		"3.2 mL":           {"not the kind of unit", ""},
		"1O":               {"letter where a digit belongs", "10"},
		"1o kg":            {"letter where a digit belongs", "10 kg"},
		"l0":               {"letter where a digit belongs", "10"},
		"1OO0":             {"letter where a digit belongs", "1000"},
		"3,250":            {"may mean 3.250 or 3250", ""},
		"3.2.1":            {"more than one point", ""},
		"1.250,5":          {"more than one point", ""},
		"3 2":              {"space inside the number", ""},
		"NaN":              {"not a measurement", ""},
		"Inf":              {"not a measurement", ""},
		"-":                {"not a measurement", ""},
		"?":                {"not a measurement", ""},
		"three":            {"is not a number", ""},
		"1e1":              {"exponent", ""},
		"0x10":             {"not a unit", ""},
		"99999999":         {"not plausible", ""},
		"1234567890123456": {"too long", ""},
		".":                {"is not a number", ""},
		"kg":               {"is not a number", ""},
		"½":                {"is not a number", ""},
		"3.2 kg 3":         {"not a unit", ""},
		"\x00":             {"is not a number", ""},
		"<script>":         {"is not a number", ""},
	} {
		got := box.Read(text)
		switch {
		case got.Problem == nil:
			t.Errorf("%q was taken as %v", text, got.Value)
		case !strings.Contains(got.Problem.What, c.says) || got.Problem.Meant != c.meant || got.Problem.Do == "":
			t.Errorf("%q: %q / %q, meant %q; want %q, %q", text, got.Problem.What, got.Problem.Do, got.Problem.Meant, c.says, c.meant)
		case got.Text != text || got.Decimal != "":
			t.Errorf("%q was not kept, or half taken: %+v", text, got)
		}
	}
	// What is proposed is itself accepted, or at least not proposed in a circle.
	for _, text := range []string{"3200 g", "7 lb 3 oz", "3200", "1O kg", "98.6 f"} {
		b := box
		if strings.HasSuffix(text, "f") {
			b = Box{UCUM: "Cel"}
		}
		if again := b.Read(b.Read(text).Problem.Meant); again.Problem != nil {
			t.Errorf("%q proposes %q, which is refused", text, b.Read(text).Problem.Meant)
		}
	}
}

func TestTypedOthers(t *testing.T) {
	fr := func(lo, hi float64) (a, b *float64) { return Between(lo, hi) }
	lo, hi := fr(0.15, 1)
	for _, c := range []struct {
		box   Box
		text  string
		want  string
		meant string
	}{
		{Box{"1", lo, hi, false}, "0.6", "0.6", ""},
		{Box{"1", lo, hi, false}, "60", "", "0.6"},
		{Box{"1", lo, hi, false}, "60 %", "", "0.6"},
		{Box{"1", lo, hi, false}, "10", "", ""}, // 1.1 to 14 is ambiguous
		{Box{UCUM: "Cel"}, "98.6 °F", "", "37 °C"},
		{Box{UCUM: "mm[Hg]"}, "5.3 kPa", "", "39.75 mmHg"},
		{Box{UCUM: "mm"}, "12 Fr", "", "4 mm"},
		{Box{UCUM: "g/dL"}, "140 g/L", "", "14 g/dL"},
		{Box{UCUM: "ug/kg/min"}, "0.05 mcg/kg/min", "0.05", ""},
		{Box{UCUM: "ug/kg/min"}, "50 ng/kg/min", "", "0.05 mcg/kg/min"},
		{Box{UCUM: "[iU]/kg/min"}, "0.03 units/kg/h", "", "0.0005 units/kg/min"},
		{Box{UCUM: "[iU]/kg/min"}, "0.5 mu/kg/min", "", "0.0005 units/kg/min"},
		{Box{UCUM: "[iU]/kg/min"}, "0.5 mcg/kg/min", "", ""},
		{Box{UCUM: "L/min"}, "0.5 l/min", "0.5", ""},
		{Box{UCUM: "mL"}, "5 l", "", "5000 mL"},
		{Box{UCUM: "min"}, "41 min", "41", ""},
		{Box{UCUM: "mmol/L"}, "<0.5", "0.5", ""},
	} {
		got := c.box.Read(c.text)
		meant := ""
		if got.Problem != nil {
			meant = got.Problem.Meant
		}
		if got.Decimal != c.want || meant != c.meant {
			t.Errorf("%s, %q: %q meant %q %v", c.box.UCUM, c.text, got.Decimal, meant, got.Problem)
		}
	}
	if got := (Box{UCUM: "mmol/L"}).Read("< 0.5"); got.Bound != "<" || got.Value != 0.5 {
		t.Errorf("%+v", got)
	}
	w, p := Parse("3,2", Kilogram, nil, nil)
	if p != nil || w.In(Gram) != 3200 || w.Typed() != "3,2" {
		t.Errorf("%v %v", w, p)
	}
	if _, p := Parse("<3.2", Kilogram, nil, nil); p == nil {
		t.Error("a limit is not a weight")
	}
}

// Safe-prescribing guidance: a leading zero always, a trailing zero never, a
// space before the unit, mcg and units in words (Institute for Safe Medication
// Practices, list of error-prone abbreviations; from memory of the list).
func TestShown(t *testing.T) {
	for want, v := range map[string]string{
		Shown(0.5, 2, "mL"): "0.5 mL", Shown(4, 1, "mg"): "4 mg", Shown(4.0001, 2, "mg"): "4 mg", Shown(0.05, 3, "ug/kg/min"): "0.05 mcg/kg/min",
		Shown(0.0005, 6, "[iU]/kg/min"): "0.0005 units/kg/min", Shown(36.5, 1, "Cel"): "36.5 °C", Shown(-3, 0, "mm[Hg]"): "-3 mmHg", Shown(-0.001, 1, "kg"): "0 kg",
		Shown(1, 0, "d"): "1 day", Shown(2, 0, "d"): "2 days", Shown(1, 0, "[iU]"): "1 unit", Shown(0.6, 2, "1"): "0.6", Shown(1500, 0, "mL"): "1500 mL",
		Shown(2.25, 1, "kg"): "2.3 kg", Number(0.285, 2): "0.29", Fixed(1.5, 2): "1.50", Fixed(-3.2149, 2): "-3.21", Number(math.NaN(), 2): "not known", Minutes(190): "3 h 10 min", Minutes(60): "1 h", Minutes(41): "41 min",
	} {
		if want != v {
			t.Errorf("%q, want %q", want, v)
		}
	}
	for range 8 {
		outside.Check(t, "ISMP list of error-prone abbreviations: leading zero, no trailing zero, mcg, units")
	}
}

// What is shown is read back as the same number, whatever the number.
func TestShownIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(0, 4).Draw(t, "places")
		n := rapid.Int64Range(-99999999, 99999999).Draw(t, "n")
		v := float64(n) / math.Pow(10, float64(places))
		u := rapid.SampledFrom(unitTable).Draw(t, "unit")
		text := Shown(v, places, u.ucum)
		got := Box{UCUM: u.ucum}.Read(text)
		if got.Problem != nil || got.Value != v {
			t.Fatalf("%v became %q, read as %v: %v", v, text, got.Value, got.Problem)
		}
		if strings.HasPrefix(text, ".") || strings.Contains(text, ".0 ") || strings.HasSuffix(text, ".0") {
			t.Fatalf("%q", text)
		}
	})
}

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		v        float64
		from, to string
		want     float64
	}{
		{12, "[Ch]", "mm", 4}, // UCUM, via the independent implementation: 12 [Ch] = 4 mm
		{0.0005, "[iU]/kg/min", "[iU]/kg/h", 0.03}, {0.0005, "[iU]/kg/min", "m[iU]/kg/min", 0.5},
		{3.2, "kg", "g", 3200}, {98.6, "[degF]", "Cel", 37}, {1, "mg/kg/h", "ug/kg/min", 1000.0 / 60}, {14, "g/dL", "g/L", 140},
	} {
		got, ok := Convert(c.v, c.from, c.to)
		if !ok || compare(got, c.want) != 0 {
			t.Errorf("%v %s = %v %s, want %v", c.v, c.from, got, c.to, c.want)
		}
		outside.Check(t, "Conversion by definition of the units (UCUM), arithmetic")
	}
	if _, ok := Convert(1, "kg", "mL"); ok {
		t.Error("a mass became a volume")
	}
	if _, ok := Convert(1, "ug/kg/min", "[iU]/kg/min"); ok {
		t.Error("mcg became units")
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SampledFrom(unitTable).Draw(t, "a")
		var same []string
		for _, u := range unitTable {
			if u.dim == a.dim {
				same = append(same, u.ucum)
			}
		}
		b := rapid.SampledFrom(same).Draw(t, "b")
		v := rapid.Float64Range(1e-6, 1e6).Draw(t, "v")
		there, _ := Convert(v, a.ucum, b)
		back, _ := Convert(there, b, a.ucum)
		if math.Abs(back-v) > 1e-9*math.Max(v, 1) {
			t.Fatalf("%v %s went to %v %s and came back as %v", v, a.ucum, there, b, back)
		}
	})
	// Every unit the note uses is known here and has words to show.
	for _, u := range schema.Units() {
		if w := UnitShown(u); (w == "" || w == u && strings.ContainsAny(u, "[{")) && u != "1" && u != "[pH]" {
			t.Errorf("unit %q has no words: %q", u, w)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"3.2", "7 lb 3 oz", "1O", "3,2", "l", "O", "<", "1'000", "-", "５", "0.5 mcg/kg/min", "1l/min"} {
		f.Add(s)
	}
	lo, hi := Between(0.5, 150)
	f.Fuzz(func(t *testing.T, s string) {
		got := Box{UCUM: "kg", Min: lo, Max: hi}.Read(s)
		if got.Text != s || got.Problem == nil && (!usable(got.Value) || got.Value < 0.5 || got.Value > 150 || got.Decimal == "") {
			t.Fatalf("%q: %+v", s, got)
		}
		if got.Problem != nil && (got.Problem.What == "" || got.Problem.Do == "") {
			t.Fatalf("%q was refused without a sentence", s)
		}
		_ = fmt.Sprint(got)
	})
}
