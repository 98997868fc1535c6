package sheet

import (
	"maps"
	"slices"
	"strconv"

	"fairlead/schema"
)

// measured is what of the note a target speaks of, by the word of the target.
// Pressures are found among the readings.
var measured = map[string][]schema.Path{
	"saturation":          {schema.LeavingSaturation, schema.GasSaturation},
	"gradient":            {schema.Stage2Gradient, schema.Stage3Gradient},
	"heart-rate":          {schema.LeavingHeartRate},
	"lactate":             {schema.GasLactate},
	"haemoglobin":         {schema.GasHaemoglobin},
	"haematocrit":         {schema.GasHaematocrit},
	"carbon-dioxide":      {schema.GasCarbonDioxide},
	"ph":                  {schema.GasPh},
	"oxygen":              {schema.GasOxygen},
	"inspired-oxygen":     {schema.LeavingInspiredOxygen},
	"cerebral-saturation": {schema.LeavingCerebralRight, schema.LeavingCerebralLeft},
	"venous-saturation":   {schema.GasVenousSaturation},
	"temperature":         {schema.LeavingTemperature},
	"ionised-calcium":     {schema.GasIonisedCalcium},
	"potassium":           {schema.GasPotassium},
	"glucose":             {schema.GasGlucose},
	"platelets":           {schema.ClottingPlatelets},
	"clotting-time":       {schema.ClottingClottingTimeAfter},
	"flow":                {schema.MechanicalFlow},
	"drain-loss":          {schema.LeavingDrainLoss},
	"urine":               {schema.LeavingUrine},
}

// always are the quantities that stand in the table at a stage, target or not.
var always = map[schema.Kind][]string{
	schema.Stage1: {"saturation", "diastolic", "mean-arterial", "lactate"},
	schema.Stage2: {"saturation", "mean-arterial", "caval", "atrial", "gradient", "lactate"},
	schema.Stage3: {"saturation", "mean-arterial", "caval", "atrial", "gradient", "lactate"},
}

// inTable are the places that the table of targets tells on the first page, so
// that the top need not.
var inTable = map[schema.Path]bool{schema.PressuresReadings: true, schema.LeavingSaturation: true, schema.GasLactate: true,
	schema.Stage2CavalPressure: true, schema.Stage2AtrialPressure: true, schema.Stage2Gradient: true,
	schema.Stage3ConduitPressure: true, schema.Stage3AtrialPressure: true}

// now is the state beside the targets and the thresholds to call for.
func (b *builder) now() Block {
	bl := Block{ID: "now", Title: "State now, targets, and when to call", Form: Table, Stays: true, Strip: 1, Right: true,
		Heads: []string{"What", "On leaving", "Target", "Call if"}, Widths: []int{24, 24, 21, 31}}
	b.tell(schema.PlanTargets)
	whats := b.quantities()
	for _, what := range whats {
		name, _ := b.quantityName(what)
		bl.Lines = append(bl.Lines, Line{Cells: [][]Span{{{name, Label}}, loud(b.reading(what)),
			b.rowsFor(schema.PlanTargets, what, "no target set"), b.rowsFor(schema.PlanCalls, what, "no call set")}})
	}
	for _, p := range []schema.Path{schema.PlanTargets, schema.PlanCalls} {
		if len(b.rowsAt(p)) == 0 || b.read(p).disputed() {
			bl.Lines = append(bl.Lines, b.labelled(b.read(p)))
		}
	}
	bl.Lines = append(bl.Lines, b.before(schema.PlanTargets, "target", "targets")...)
	bl.Lines = append(bl.Lines, b.before(schema.PlanCalls, "limit to call for", "limits to call for")...)
	bl.Lines = append(bl.Lines, b.flow("targets")...)
	return bl
}

// before says that an earlier sheet of the same stay of a few days has what this note
// has none of: at the bed the older sheet is then still the only one that says it.
// Whether it holds is for a clinician to say.
func (b *builder) before(p schema.Path, one, many string) []Line {
	if len(b.n.Rows(p)) > 0 || b.n.Stated(p) != "" {
		return nil
	}
	for i := len(b.f.Earlier) - 1; i >= 0; i-- {
		e := b.f.Earlier[i]
		days, ok := e.Date.DaysTo(schema.Date(b.n.Text(schema.OperationDate)))
		if !ok || days > sameStay {
			return nil
		}
		if n := e.Plan[p]; n > 0 {
			name := string(e.Kind)
			if k := schema.KindNamed(e.Kind); k != nil {
				name = k.Title
			}
			w := words{{"The sheet of " + low(name) + ", ", Fixed}}
			w.value(e.Date.Shown())
			if n > 1 {
				one = many
			}
			w.fixed(", has " + strconv.Itoa(n) + " " + one + ", and none is recorded here: ask whether they hold.")
			return []Line{{Spans: w, Loud: true}}
		}
	}
	return nil
}

// sameStay is how many days after an operation its sheet may still hang at the bed.
// Common practice, no source.
const sameStay = 30

// quantities are what the table speaks of: the stage's own first, then those
// with a target or a call, in the order of the definition.
func (b *builder) quantities() []string {
	out := slices.Clone(always[b.kind])
	if out == nil {
		out = []string{"saturation", "mean-arterial", "lactate"}
	}
	wanted := map[string]bool{}
	for _, list := range []schema.Path{schema.PlanTargets, schema.PlanCalls} {
		for _, r := range b.rowsAt(list) {
			wanted[r.Text("what")] = true
		}
	}
	f := schema.FieldAt(schema.PlanTargets + ".*.what")
	for _, what := range f.Enum {
		if wanted[what] && !slices.Contains(out, what) {
			out = append(out, what)
		}
	}
	if len(b.f.Drained) > 0 && !slices.Contains(out, "drain-loss") {
		out = append(out, "drain-loss")
	}
	delete(wanted, "")
	for _, what := range slices.Sorted(maps.Keys(wanted)) { // words this version does not know
		if !slices.Contains(out, what) {
			out = append(out, what)
		}
	}
	if b.unnamed() {
		out = append(out, "")
	}
	return out
}

// unnamed tells whether a target or a call does not say what it is about.
func (b *builder) unnamed() bool {
	for _, list := range []schema.Path{schema.PlanTargets, schema.PlanCalls} {
		for _, r := range b.rowsAt(list) {
			if r.Text("what") == "" {
				return true
			}
		}
	}
	return false
}

func (b *builder) quantityName(what string) (name, unit string) {
	if what == "" {
		return "What it is about: " + schema.NotRecorded, ""
	}
	return cutUnit(schema.FieldAt(schema.PlanTargets + ".*.what").Label(what))
}

// rowsFor are the targets or the calls about one quantity.
func (b *builder) rowsFor(list schema.Path, what, none string) []Span {
	var w words
	for _, r := range b.rowsAt(list) {
		if r.Text("what") == what {
			w.sep("; ")
			w.append(b.row(r))
		}
	}
	if len(w) == 0 {
		if !b.n.Answered(list) {
			w.missing()
		} else {
			w.add(Stated, none)
		}
	}
	return w
}

// reading is what was read of a quantity on leaving.
func (b *builder) reading(what string) []Span {
	switch what {
	case "mean-arterial":
		return b.pressure("mean", "arterial")
	case "systolic":
		return b.pressure("systolic", "arterial")
	case "diastolic":
		return b.pressure("diastolic", "arterial")
	case "atrial":
		return b.pressure("mean", "left-atrial", "common-atrial", "right-atrial")
	case "caval":
		return b.pressure("mean", "glenn", "fontan")
	}
	var w words
	for _, p := range measured[what] {
		if f := schema.FieldAt(p); f == nil || !inKind(b.kind, f) || !b.has(p) {
			continue
		} else if what == "cerebral-saturation" {
			w.sep(", ")
			w.label(map[schema.Path]string{schema.LeavingCerebralRight: "right ", schema.LeavingCerebralLeft: "left "}[p])
			w.append(b.shown(p))
			continue
		}
		w.append(b.shown(p))
		break
	}
	if len(w) == 0 && what == "gradient" { // overleaf it is computed, and "not recorded" here would deny it
		for _, r := range b.computedNow() {
			if r.ID == "transpulmonary-gradient" && r.OK && !r.Off {
				w.strong(r.Shown)
				w.fixed(" computed")
			}
		}
	}
	if len(w) == 0 {
		w.missing()
	}
	if what == "drain-loss" {
		w.append(b.drained())
	}
	return w
}

// drained is what was read last at the bed, with its time, of each chamber.
func (b *builder) drained() []Span {
	var w words
	for _, x := range b.f.Drained {
		w.fixed("; at the bed, tag " + strconv.Itoa(x.Tag) + ": ")
		w.strong(x.Words)
		w.fixed(", ")
		w.value(b.when(x.At))
		if x.InAll != "" {
			w.fixed(" (" + low(x.InAll) + ")")
		}
	}
	return w
}

// atRepair are the pressures the surgeon measured, by the first kind of reading
// they stand beside.
var atRepair = map[string][]schema.Path{
	"glenn":       {schema.Stage2CavalPressure, schema.Stage3ConduitPressure},
	"left-atrial": {schema.Stage2AtrialPressure, schema.Stage3AtrialPressure},
}

// pressure is one figure of the readings of that pressure, each with where it
// was read.
func (b *builder) pressure(figure string, kinds ...string) []Span {
	var w words
	for _, at := range atRepair[kinds[0]] {
		if f := schema.FieldAt(at); f != nil && inKind(b.kind, f) && b.has(at) {
			w.append(b.shown(at))
			w.fixed(" at the repair")
		}
	}
	for _, r := range b.rowsAt(schema.PressuresReadings) {
		if !slices.Contains(kinds, r.Text("pressure")) || !r.has(figure) {
			continue
		}
		w.sep("; ")
		w.append(r.get(figure))
		if len(kinds) > 1 {
			w.fixed(" ")
			w.append(r.get("pressure"))
		}
		if r.has("item") {
			w.fixed(", ")
			w.append(r.get("item"))
		} else if r.has("method") {
			w.fixed(", ")
			w.append(r.get("method"))
		}
	}
	if len(w) == 0 {
		w.missing()
	}
	return w
}
