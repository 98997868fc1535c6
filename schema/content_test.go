package schema_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// Tests of the definitions as they are written: what every field must carry.

// eachField calls do for every field of every section and item kind, rows
// included.
func eachField(do func(f *schema.Field)) {
	var walk func(fs []*schema.Field)
	walk = func(fs []*schema.Field) {
		for _, f := range fs {
			do(f)
			walk(f.Rows)
		}
	}
	seen := map[string]bool{}
	for _, d := range schema.Kinds() {
		for _, s := range schema.SectionsOf(d.Kind) {
			if !seen[s.Name] {
				seen[s.Name] = true
				walk(s.Fields)
			}
		}
	}
	for _, k := range schema.ItemKinds() {
		walk(k.Fields)
	}
}

// counted are whole numbers that need no unit: they count something.
func counted(f *schema.Field) bool { return f.Type == "integer" }

func TestEveryFieldIsDefinedInFull(t *testing.T) {
	n := 0
	formats := []string{"", "moment", "date", "clock", "text", "long-text", "item", "items", "name", "digits"}
	eachField(func(f *schema.Field) {
		n++
		if f.Title == "" {
			t.Errorf("%s has no title", f.Path)
		}
		if !slices.Contains(formats, f.Format) {
			t.Errorf("%s: format %q is not one of the known ones", f.Path, f.Format)
		}
		if f.Type == "string" && len(f.Enum) == 0 && f.Format == "" {
			t.Errorf("%s is text without a format", f.Path)
		}
		for _, v := range f.Enum {
			if strings.TrimSpace(f.Labels[v]) == "" {
				t.Errorf("%s: choice %q has no words", f.Path, v)
			}
		}
		if len(f.Labels) != len(f.Enum) && f.Type != "boolean" {
			t.Errorf("%s: %d choices and %d labels", f.Path, len(f.Enum), len(f.Labels))
		}
		for v := range f.SpokenValues {
			if !slices.Contains(f.Enum, v) {
				t.Errorf("%s: spoken value %q is not a choice", f.Path, v)
			}
		}
		for v, frames := range f.SpokenFrames {
			if !slices.Contains(f.Enum, v) && v != "none" && f.Type != "boolean" || v == "none" && f.None == "" && !slices.Contains(f.Enum, v) {
				t.Errorf("%s: framed value %q is not a choice", f.Path, v)
			}
			for _, s := range frames {
				if len(strings.FieldsFunc(s, func(r rune) bool { return r == '+' || r == '>' })) < 2 {
					t.Errorf("%s: frame %q has one part only", f.Path, s)
				}
			}
		}
		for _, raw := range f.Picks {
			var s string
			if json.Unmarshal(raw, &s) == nil && len(f.Enum) > 0 && !slices.Contains(f.Enum, s) {
				t.Errorf("%s: pick %q is not a choice", f.Path, s)
			}
			var v float64
			if f.Numeric() && (json.Unmarshal(raw, &v) != nil || v < *f.Min || v > *f.Max) {
				t.Errorf("%s: pick %s is not a plausible number", f.Path, raw)
			}
		}
		if f.Type == "rows" && len(f.Rows) == 0 {
			t.Errorf("%s: rows without fields", f.Path)
		}
		if !f.Numeric() {
			return
		}
		if f.Min == nil || f.Max == nil || f.Source == "" {
			t.Errorf("%s: a number needs a plausible range and where it comes from", f.Path)
			return
		}
		if f.Unit == "" && !counted(f) {
			t.Errorf("%s: a number needs a unit", f.Path)
		}
		if *f.Min >= *f.Max {
			t.Errorf("%s: plausible range %v to %v", f.Path, *f.Min, *f.Max)
		}
		inside := func(what string, usual map[string]schema.Range, lo, hi *float64) {
			for k, r := range usual {
				if k != "*" && schema.KindNamed(schema.Kind(k)) == nil {
					t.Errorf("%s: %s usual range for %q, which is no kind of note", f.Path, what, k)
				}
				if r.Low != nil && *r.Low < *lo || r.High != nil && *r.High > *hi || r.Low != nil && r.High != nil && *r.Low > *r.High {
					t.Errorf("%s: %s usual range for %q leaves the plausible one", f.Path, what, k)
				}
			}
		}
		inside("the", f.Usual, f.Min, f.Max)
		for i, v := range f.By {
			lo, hi := f.Min, f.Max
			if v.Min != nil {
				lo = v.Min
			}
			if v.Max != nil {
				hi = v.Max
			}
			if *lo < *f.Min || *hi > *f.Max {
				t.Errorf("%s: range %d by sibling is wider than the field's own", f.Path, i)
			}
			inside("a", v.Usual, lo, hi)
		}
		if f.PerKg != nil {
			inside("the per-kilogram", f.PerKg.Usual, f.PerKg.Plausible.Low, f.PerKg.Plausible.High)
		}
	})
	t.Logf("%d fields, rows and attributes of each item kind included", n)
}

func TestUnitsAreKnown(t *testing.T) {
	known := schema.Units()
	used := map[string]bool{}
	eachField(func(f *schema.Field) {
		units := []string{f.Unit}
		for _, v := range f.By {
			units = append(units, v.Unit)
		}
		// The units of doses and concentrations are choices.
		if strings.HasSuffix(strings.ToLower(f.Name), "unit") {
			units = append(units, f.Enum...)
			for _, u := range f.Enum {
				if f.Labels[u] != schema.UnitShown(u) {
					t.Errorf("%s: %s is shown as %q here and as %q elsewhere", f.Path, u, f.Labels[u], schema.UnitShown(u))
				}
			}
		}
		for _, u := range units {
			if u == "" {
				continue
			}
			used[u] = true
			if !slices.Contains(known, u) {
				t.Errorf("%s: unit %q is not in units.json", f.Path, u)
			}
		}
	})
	for _, u := range known {
		shown := schema.UnitShown(u)
		if regexp.MustCompile(`µ|μ|\bIU\b|\bU\b`).MatchString(shown) {
			t.Errorf("unit %s is shown as %q: mcg and units in words", u, shown)
		}
	}
}

func TestSectionsAreSmallOwnedAndUsed(t *testing.T) {
	owners := []string{"surgeon", "anaesthetist", "perfusionist", "scrub nurse", "intensive-care nurse"}
	files, err := filepath.Glob("sections/*.json")
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, d := range schema.Kinds() {
		if d.Title == "" {
			t.Errorf("%s has no title", d.Kind)
		}
		for _, name := range d.Sections {
			if schema.SectionNamed(name) == nil {
				t.Errorf("%s lists section %q, which is not there", d.Kind, name)
			}
			used[name] = true
		}
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		s := schema.SectionNamed(name)
		if !used[name] || s == nil {
			t.Errorf("no kind of note has the section %s", name)
			continue
		}
		if len(s.Fields) > 25 {
			t.Errorf("section %s has %d fields; 25 is the most a keystroke can carry (decisions.md 5)", name, len(s.Fields))
		}
		for _, f := range s.Fields {
			if len(f.Rows) > 25 {
				t.Errorf("%s has %d fields in a row", f.Path, len(f.Rows))
			}
		}
		if !slices.Contains(owners, s.Owner) {
			t.Errorf("section %s: owner %q", name, s.Owner)
		}
		if s.Scope != "child" && s.Scope != "note" {
			t.Errorf("section %s: scope %q", name, s.Scope)
		}
	}
	for _, o := range owners {
		has := false
		for name := range used {
			has = has || schema.SectionNamed(name).Owner == o
		}
		if !has {
			t.Errorf("no section is the %s's own", o)
		}
	}
}

// A condition, and a requirement, must look at something that is there in every
// kind of note that has the field.
func TestConditionsAndRequirementsPointSomewhere(t *testing.T) {
	has := func(k schema.Kind, p schema.Path) bool {
		f := schema.FieldAt(p)
		return f != nil && slices.Contains(schema.KindNamed(k).Sections, p.Section()) && f.In(k)
	}
	check := func(f *schema.Field, c schema.Condition, kinds []schema.Kind) {
		p := c.Field
		if strings.HasPrefix(string(p), ".") {
			at := string(f.Path)
			p = schema.Path(at[:strings.LastIndexByte(at, '.')]) + p
		}
		target := schema.FieldAt(p)
		if target == nil {
			t.Errorf("%s looks at %s, which is not there", f.Path, p)
			return
		}
		for _, v := range append(slices.Clone(c.In), c.NotIn...) {
			s, isText := v.(string)
			if isText && len(target.Enum) > 0 && !slices.Contains(target.Enum, s) {
				t.Errorf("%s looks for %q in %s, which is not one of its choices", f.Path, s, p)
			}
			if _, isBool := v.(bool); isBool != (target.Type == "boolean") {
				t.Errorf("%s looks for %v in %s, a %s", f.Path, v, p, target.Type)
			}
		}
		if !strings.HasPrefix(string(c.Field), ".") {
			for _, k := range kinds {
				if !has(k, p) {
					t.Errorf("in a %s note %s looks at %s, which such notes do not have", k, f.Path, p)
				}
			}
		}
	}
	eachField(func(f *schema.Field) {
		var kinds []schema.Kind
		for _, d := range schema.Kinds() {
			if f.Path.Section() != "items" && has(d.Kind, f.Path) {
				kinds = append(kinds, d.Kind)
			}
		}
		for _, c := range f.When {
			check(f, c, kinds)
		}
		for _, v := range f.By {
			for _, c := range v.When {
				check(f, c, kinds)
			}
		}
		for _, req := range []schema.Requirement{f.Required, f.Sheet.Required} {
			for _, k := range req.Kinds {
				if f.Path.Section() != "items" && !slices.Contains(kinds, k) {
					t.Errorf("%s is required in %s, which does not have it", f.Path, k)
				}
			}
		}
	})
}

// What blocks a signature is printed: a field the note requires has a required
// place on the sheet or is a count, a name or a statement the lists ask for.
func TestSheetPlacesAreKnownAndApart(t *testing.T) {
	places := []string{"who", "done", "worries", "items", "now", "targets", "times", "infusions", "blood", "plan", "call", "emergency", "signatures"}
	taken := map[string]schema.Path{}
	eachField(func(f *schema.Field) {
		s := f.Sheet
		if s.Place == "" {
			if s.Top || s.Required.Always || len(s.Required.Kinds) > 0 {
				t.Errorf("%s is required on the sheet without a place", f.Path)
			}
			return
		}
		if !slices.Contains(places, s.Place) {
			t.Errorf("%s: place %q is not one of the sheet's", f.Path, s.Place)
		}
		if f.Path.Section() == "items" {
			return
		}
		key, _ := json.Marshal([]any{s.Place, s.Order})
		if other, ok := taken[string(key)]; ok {
			t.Errorf("%s and %s have the same place %s", f.Path, other, key)
		}
		taken[string(key)] = f.Path
	})
}

// A field is said by one of its spoken names or, where it has none, by a title
// short enough to be one.
func TestEveryFieldCanBeSaid(t *testing.T) {
	eachField(func(f *schema.Field) {
		if len(f.Spoken) == 0 && len(strings.Fields(f.Title)) > 5 {
			t.Errorf("%s has no spoken name, and its title is a sentence", f.Path)
		}
		seen := map[string]bool{}
		for _, s := range f.Spoken {
			if s == "" || s != strings.TrimSpace(s) || seen[s] {
				t.Errorf("%s: spoken name %q is empty, padded or said twice", f.Path, s)
			}
			seen[s] = true
		}
		// One phrase for two choices of one field would be a coin toss.
		said := map[string]string{}
		for v, forms := range f.SpokenValues {
			for _, s := range forms {
				if other, ok := said[s]; ok && other != v {
					t.Errorf("%s: %q is said for both %s and %s", f.Path, s, other, v)
				}
				said[s] = v
			}
		}
	})
}

// Published lists of error-prone abbreviations (ISMP; common practice, from
// memory): what is shown never uses them. Dictation may.
func TestShownWordsAvoidErrorProneAbbreviations(t *testing.T) {
	bad := regexp.MustCompile(`\b(IJ|SC|QD|qd|QOD|BD|HS|cc|IU|OD|MS|MSO4|MgSO4|µg|μg|U|D/C|AU|AS|AD|SVC|IVC|NG|CVP|RPA|LPA|BTT|RVPA|ETT|EBL)\b|µ|μ`)
	trade := regexp.MustCompile(`(?i)gore|dacron|contegra|cormatrix|custodiol|prostin|precedex|primacor|surgicel|tisseel|silastic|hickman|broviac|nimbex|lasix`)
	eachField(func(f *schema.Field) {
		for _, words := range append([]string{f.Title, f.Help, f.None}, labels(f)...) {
			if m := bad.FindString(words); m != "" {
				t.Errorf("%s shows %q in %q", f.Path, m, words)
			}
			if m := trade.FindString(words); m != "" {
				t.Errorf("%s shows the trade name %q", f.Path, m)
			}
		}
	})
}

func labels(f *schema.Field) []string {
	var out []string
	for _, l := range f.Labels {
		out = append(out, l)
	}
	return out
}

// A plausible and a usual range for every line of the project's table, from
// memory unless it names a source. The figures stand here a second time on
// purpose: they were typed from the table, not read from the definitions.
func TestRangesOfTheTable(t *testing.T) {
	type usual = map[schema.Kind][2]float64
	all := func(lo, hi float64) usual {
		return usual{schema.Stage1: {lo, hi}, schema.Stage2: {lo, hi}, schema.Stage3: {lo, hi}}
	}
	stages := func(a, b, c, d, e, f float64) usual {
		return usual{schema.Stage1: {a, b}, schema.Stage2: {c, d}, schema.Stage3: {e, f}}
	}
	first := func(lo, hi float64) usual { return usual{schema.Stage1: {lo, hi}} }
	for _, c := range []struct {
		path   schema.Path
		lo, hi float64
		usual  usual
	}{
		{"measures.weight", 0.5, 150, stages(2, 4.5, 4, 10, 10, 25)},
		{"child.birthWeight", 0.3, 6.5, all(1.8, 4.5)},
		{"child.gestationWeeks", 22, 44, all(35, 41)},
		{"measures.length", 25, 210, stages(44, 56, 55, 75, 80, 120)},
		{"supply.shuntDiameter", 2.5, 8, all(3, 4)},
		{"supply.conduitDiameter", 3, 12, all(4, 6)},
		{"hybrid.bands.*.size", 2, 6, all(3, 3.5)},
		{"supply.bandCircumference", 12, 50, all(20, 30)},
		{"hybrid.stents.*.diameter", 3, 12, all(7, 9)},
		{"hybrid.stents.*.length", 6, 40, all(12, 24)},
		{"anatomy.ascendingAorta", 0.5, 50, first(1.5, 12)},
		{"support.inflowGraft", 2.5, 10, first(3, 4)},
		{"stage3.conduitDiameter", 10, 26, all(16, 22)},
		{"stage3.fenestrationDiameter", 2, 10, all(3.5, 5)},
		{"perfusion.lowestTemperature", 8, 38, stages(16, 28, 28, 36, 30, 36.5)},
		{"support.runs.*.flow", 0, 300, stages(120, 200, 100, 175, 80, 150)},
		{"support.perfusions.*.flow", 5, 150, all(30, 80)},
		{"support.bypassTotal", 1, 1200, stages(80, 240, 30, 150, 30, 180)},
		{"support.clampTotal", 0, 500, stages(30, 100, 0, 60, 0, 60)},
		{"support.arrestTotal", 0, 150, nil},
		{"support.perfusionTotal", 0, 300, all(20, 90)},
		{"operation.skinToSkin", 10, 1440, stages(200, 480, 120, 360, 150, 420)},
		{"clotting.heparin", 0, 1000, all(300, 500)},
		{"clotting.clottingTimeAfter", 40, 2000, all(90, 150)},
		{"perfusion.lowestHaematocrit", 8, 65, all(24, 35)},
		{"stage2.atrialPressure", -5, 40, all(3, 10)},
		{"stage2.cavalPressure", 0, 45, all(9, 17)},
		{"stage3.conduitPressure", 0, 45, all(9, 17)},
		{"stage2.gradient", -5, 35, all(3, 9)},
		{"leaving.saturation", 15, 100, stages(70, 87, 75, 90, 85, 100)},
		{"gas.venousSaturation", 5, 98, stages(40, 65, 45, 70, 55, 80)},
		{"leaving.cerebralRight", 10, 95, all(45, 80)},
		{"leaving.inspiredOxygen", 0.15, 1, all(0.21, 0.6)},
		{"gas.oxygen", 10, 700, stages(30, 50, 33, 55, 50, 200)},
		{"gas.carbonDioxide", 10, 200, all(35, 50)},
		{"gas.ph", 6.5, 8, all(7.28, 7.5)},
		{"gas.lactate", 0.1, 40, stages(0.1, 8, 0.1, 4, 0.1, 4)},
		{"gas.haemoglobin", 2, 26, stages(12.5, 17, 12, 16, 10, 15)},
		{"gas.potassium", 1, 14, all(3, 5.5)},
		{"gas.ionisedCalcium", 0.2, 4, all(1.1, 1.5)},
		{"gas.glucose", 0.3, 60, all(4, 12)},
		{"clotting.platelets", 1, 1500, all(80, 450)},
		{"clotting.fibrinogen", 0.1, 12, all(1.5, 4)},
		{"items.drain.size", 6, 36, stages(10, 16, 12, 20, 14, 24)},
		{"items.drain.suction", 0, 60, all(5, 20)},
		{"items.airway.size", 2, 9, stages(3, 3.5, 3.5, 4, 4, 5)},
		{"items.central-venous-line.size", 1, 14, all(4, 5.5)},
		{"items.arterial-line.gauge", 18, 26, all(22, 24)},
		{"items.intracardiac-line.size", 2, 8, all(2.5, 5.5)},
		{"items.intracardiac-line.mark", 1, 40, all(4, 20)},
		{"items.dialysis-catheter.size", 5, 20, all(7, 15)},
		{"items.pacing-wires.threshold", 0.1, 25, all(0.3, 5)},
		{"leaving.pacingRate", 30, 250, stages(120, 170, 110, 150, 90, 130)},
		{"ventilation.endPressure", 0, 25, all(3, 6)},
		{"ventilation.peakPressure", 5, 60, all(14, 28)},
		{"ventilation.nitricOxide", 0.5, 80, all(5, 20)},
		{"mechanical.flow", 10, 300, all(80, 150)},
	} {
		f := schema.FieldAt(c.path)
		if f == nil {
			t.Errorf("%s is not there", c.path)
			continue
		}
		if *f.Min != c.lo || *f.Max != c.hi {
			t.Errorf("%s: plausible %v to %v, the table says %v to %v", c.path, *f.Min, *f.Max, c.lo, c.hi)
		}
		for k, want := range c.usual {
			r, ok := f.UsualFor(k)
			if !ok || r.Low == nil || r.High == nil || *r.Low != want[0] || *r.High != want[1] {
				t.Errorf("%s in %s: usual %v, the table says %v", c.path, k, r, want)
			}
		}
		if len(c.usual) == 0 && len(f.Usual) > 0 {
			t.Errorf("%s has a usual range the table leaves to the unit", c.path)
		}
	}
	for _, c := range []struct {
		drug, unit   string
		lo, hi, a, b float64
	}{
		{"adrenaline", "ug/kg/min", 0.001, 3, 0.01, 0.15},
		{"noradrenaline", "ug/kg/min", 0.001, 3, 0.01, 0.15},
		{"dopamine", "ug/kg/min", 0.5, 30, 2, 10},
		{"dobutamine", "ug/kg/min", 0.5, 30, 2, 10},
		{"milrinone", "ug/kg/min", 0.05, 2, 0.25, 0.75},
		{"vasopressin", "[iU]/kg/min", 0.00001, 0.01, 0.0001, 0.001},
		{"calcium-chloride", "mg/kg/h", 1, 60, 5, 20},
		{"alprostadil", "ug/kg/min", 0.001, 0.5, 0.005, 0.1},
		{"heparin", "[iU]/kg/h", 1, 60, 8, 28},
		{"fentanyl", "ug/kg/h", 0.1, 30, 1, 5},
		{"morphine", "ug/kg/h", 1, 300, 10, 40},
		{"dexmedetomidine", "ug/kg/h", 0.05, 3, 0.2, 1.2},
	} {
		n := schema.NewNote(schema.Stage1, "n", "c")
		n.AddRow("infusions.running", "r")
		n.Set("infusions.running.r.drug", c.drug)
		n.Set("infusions.running.r.doseUnit", c.unit)
		f := n.VariantAt(schema.FieldAt("infusions.running.*.dose"), "r")
		r, _ := f.UsualFor(schema.Stage1)
		if f.Unit != c.unit || *f.Min != c.lo || *f.Max != c.hi || r.Low == nil || *r.Low != c.a || *r.High != c.b {
			t.Errorf("%s: %v to %v %s, usual %v; the table says %v", c.drug, *f.Min, *f.Max, f.Unit, r, c)
		}
	}
}

// The lines of the table whose range hangs on which line or tube it is, on what
// is measured, or on the weight.
func TestRangesOfTheTableBySibling(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	n.AddItem("airway", "tube", 1)
	n.AddItem("central-venous-line", "line", 2)
	n.AddItem("arterial-line", "art", 3)
	n.AddItem("gut-and-bladder", "gut", 4)
	n.AddItem("pacing-wires", "wire", 5)
	n.AddRow("pressures.readings", "p")
	for _, c := range []struct {
		set    schema.Path
		value  string
		field  schema.Path
		in     string
		kind   schema.Kind
		lo, hi float64
		a, b   float64
	}{
		{"items.tube.variety", "oral-tube", "items.airway.depth", "tube", schema.Stage1, 5, 26, 8, 10.5},
		{"items.tube.variety", "oral-tube", "items.airway.depth", "tube", schema.Stage2, 5, 26, 10, 12.5},
		{"items.tube.variety", "oral-tube", "items.airway.depth", "tube", schema.Stage3, 5, 26, 12.5, 16},
		{"items.tube.variety", "nasal-tube", "items.airway.depth", "tube", schema.Stage1, 5, 26, 9.5, 13.5}, // 1.5 to 3 more
		{"items.line.variety", "jugular", "items.central-venous-line.depth", "line", schema.Stage1, 2, 25, 4, 6},
		{"items.line.variety", "jugular", "items.central-venous-line.depth", "line", schema.Stage3, 2, 25, 6, 9},
		{"items.line.variety", "umbilical-venous", "items.central-venous-line.depth", "line", schema.Stage1, 3, 18, 7, 12},
		{"items.art.variety", "umbilical-arterial", "items.arterial-line.depth", "art", schema.Stage1, 4, 28, 13, 20},
		{"items.gut.variety", "urinary-catheter", "items.gut-and-bladder.size", "gut", schema.Stage2, 3, 18, 6, 8},
		{"items.gut.variety", "gastric-tube", "items.gut-and-bladder.size", "gut", schema.Stage3, 4, 20, 8, 12},
		{"items.wire.variety", "atrial", "items.pacing-wires.sensing", "wire", schema.Stage1, 0.1, 30, 1, 6},
		{"items.wire.variety", "ventricular", "items.pacing-wires.sensing", "wire", schema.Stage1, 0.1, 30, 3, 15},
		{"pressures.readings.p.pressure", "arterial", "pressures.readings.*.mean", "p", schema.Stage1, 5, 180, 38, 55},
		{"pressures.readings.p.pressure", "common-atrial", "pressures.readings.*.mean", "p", schema.Stage1, -5, 40, 4, 12},
		{"pressures.readings.p.pressure", "glenn", "pressures.readings.*.mean", "p", schema.Stage2, 0, 45, 9, 17},
	} {
		if !n.Set(c.set, c.value) {
			t.Fatal("cannot set", c.set)
		}
		f := n.VariantAt(schema.FieldAt(c.field), c.in)
		r, ok := f.UsualFor(c.kind)
		if *f.Min != c.lo || *f.Max != c.hi || !ok || *r.Low != c.a || *r.High != c.b {
			t.Errorf("%s where %s in %s: %v to %v, usual %v; the table says %v to %v, %v to %v", c.field, c.value, c.kind, *f.Min, *f.Max, r, c.lo, c.hi, c.a, c.b)
		}
	}
	for _, c := range []struct {
		field        schema.Path
		lo, hi, a, b float64
	}{
		{"perfusion.cardioplegiaDoses.*.volume", 1, 100, 10, 30},
		{"perfusion.ultrafiltration.*.volume", 0, 500, 10, 100},
		{"ventilation.tidalVolume", 1, 20, 6, 10},
		{"work.estimatedLoss", 0, 1000, 5, 60},
	} {
		w := schema.FieldAt(c.field).PerKg
		r, ok := schema.UsualIn(w.Usual, schema.Stage1)
		if *w.Plausible.Low != c.lo || *w.Plausible.High != c.hi || !ok || *r.Low != c.a || *r.High != c.b {
			t.Errorf("%s for each kilogram: %v, usual %v; the table says %v", c.field, w.Plausible, r, c)
		}
	}
	// Diastolic pressure is asked about at stage 1 only, and the clotting time on
	// bypass has no upper end.
	if f := schema.FieldAt("pressures.readings.*.diastolic"); *f.Min != 3 || *f.Max != 140 || len(f.Usual) != 1 || *f.Usual["stage1"].Low != 22 || *f.Usual["stage1"].High != 45 {
		t.Error("diastolic pressure:", f.Usual)
	}
	if r, _ := schema.FieldAt("clotting.clottingTimeBypass").UsualFor(schema.Stage2); r.High != nil || *r.Low != 400 {
		t.Error("clotting time on bypass:", r)
	}
}

// raw is a definition as it is written, with the words that do not ship.
func raw(t *testing.T) map[string]map[string]any {
	t.Helper()
	out := map[string]map[string]any{}
	var walk func(prefix string, props map[string]any)
	walk = func(prefix string, props map[string]any) {
		for name, v := range props {
			f := v.(map[string]any)
			out[prefix+name] = f
			if of, ok := f["items"].(map[string]any); ok {
				if rows, ok := of["properties"].(map[string]any); ok {
					walk(prefix+name+".*.", rows)
				}
			}
		}
	}
	for _, dir := range []string{"sections", "items"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.json"))
		if err != nil || len(files) == 0 {
			t.Fatal("no definitions in", dir, err)
		}
		for _, file := range files {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			var o map[string]any
			if err := json.Unmarshal(b, &o); err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			prefix := strings.TrimSuffix(filepath.Base(file), ".json") + "."
			if dir == "items" {
				prefix = "items." + strings.Replace(prefix, "_every", "*", 1)
			}
			walk(prefix, o["properties"].(map[string]any))
		}
	}
	return out
}
