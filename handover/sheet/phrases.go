package sheet

import (
	"slices"
	"strings"

	"fairlead/handover/lines"
	"fairlead/handover/sheet/bodymap"
	"fairlead/schema"
)

// phrases are the lists whose rows read better as a phrase than as a row of
// titles and values. What a phrase does not tell is told after it.
var phrases map[schema.Path]func(*builder, *row) []Span

func init() {
	phrases = map[schema.Path]func(*builder, *row) []Span{
		schema.ChildAllergies:      allergy,
		schema.PlanWorries:         worry,
		schema.PlanTargets:         target,
		schema.PlanCalls:           callIf,
		schema.PressuresReadings:   reading,
		schema.SupportRuns:         period,
		schema.SupportClamps:       period,
		schema.SupportArrests:      period,
		schema.SupportPerfusions:   period,
		schema.SupportLowerBody:    period,
		schema.InfusionsRunning:    infusion,
		schema.BloodProducts:       product,
		schema.BloodFactors:        factor,
		schema.BloodAvailable:      available,
		schema.AirwayDoses:         dose,
		schema.WorkAntibiotics:     dose,
		schema.WorkProcedures:      procedure,
		schema.WorkProblems:        problem,
		schema.HybridBands:         band,
		schema.HybridStents:        stent,
		schema.BeforeVessels:       vessel,
		schema.RemovalsOut:         takenOut,
		schema.OperationAssistants: assistant,

		schema.ItemCentralVenousLineLumens: lumen,
		schema.ItemIntracardiacLineLumens:  lumen,
	}
}

func allergy(b *builder, r *row) []Span {
	var w words
	w.append(r.get("substance"))
	what := strings.ToLower(r.Text("substance"))
	if kind := r.at("kind"); what != "" && strings.ToLower(schema.Show(kind.field, b.n, kind.path())) == what {
		b.tells(kind)
	}
	switch kind, reaction := r.has("kind") && !b.isTold(r.at("kind")), r.has("reaction"); {
	case kind && reaction:
		r.put(&w, " (", "kind", ", ")
		r.put(&w, "", "reaction", ")")
	case kind:
		r.put(&w, " (", "kind", ")")
	case reaction:
		r.put(&w, " (", "reaction", ")")
	}
	r.rest(&w)
	return w
}

func worry(b *builder, r *row) []Span {
	var w words
	w.append(loud(r.get("worry")))
	r.put(&w, ". Shows as: ", "sign", "")
	w.fixed(". FIRST: ")
	w.append(loud(r.get("action")))
	r.put(&w, ". Call ", "whom", "")
	r.rest(&w)
	return w
}

func target(b *builder, r *row) []Span {
	r.tell("what") // before the phrase
	var w words
	switch low, high := r.has("low"), r.has("high"); {
	case low && high:
		w.append(r.bareBefore("low", "high"))
		w.fixed("–")
		w.append(r.get("high"))
	case low:
		w.fixed("at least ")
		w.append(r.get("low"))
	case high:
		w.fixed("at most ")
		w.append(r.get("high"))
	case r.has("remark"):
		w.append(r.get("remark"))
	default:
		w.missing()
	}
	if !b.isTold(r.at("remark")) {
		r.put(&w, " (", "remark", ")")
	}
	r.rest(&w)
	return w
}

func callIf(b *builder, r *row) []Span {
	r.tell("what") // before the phrase
	var w words
	w.append(loud(r.get("direction")))
	w.fixed(" ")
	w.append(loud(r.get("value")))
	if long, ok := r.Number("howLong"); ok && long == 0 && r.Bound("howLong") == "" {
		r.tell("howLong")
		w.fixed(" at once")
	} else {
		r.put(&w, " for ", "howLong", "")
	}
	r.put(&w, ": ", "whom", "")
	r.tell("acknowledgedAt", "acknowledgedBy") // among the names
	r.rest(&w)
	return w
}

func reading(b *builder, r *row) []Span {
	var w words
	w.append(r.get("pressure"))
	if r.has("systolic") || r.has("diastolic") {
		w.fixed(" ")
		w.append(r.bareBefore("systolic", "diastolic"))
		w.fixed("/")
		w.append(r.bareBefore("diastolic", "mean"))
		if r.has("mean") {
			w.fixed(", mean")
		}
	}
	r.put(&w, " ", "mean", "")
	if !r.has("mean") && !r.has("systolic") && !r.has("diastolic") {
		w.fixed(" ")
		w.missing()
	}
	if r.has("item") {
		r.put(&w, ", from ", "item", "")
		if r.Text("method") == "line" {
			r.tell("method")
		}
	} else {
		w.fixed(", by ")
		w.append(r.get("method"))
		r.put(&w, " on the ", "limb", "")
	}
	if no, ok := r.Bool("zeroed"); ok {
		r.tell("zeroed")
		if no {
			w.fixed(", zeroed")
		} else {
			w.fixed(", NOT zeroed")
		}
	}
	r.rest(&w)
	return w
}

// bare is a field of the row without its unit, where one unit serves two numbers
// or stands in a field of its own.
func (r *row) bare(name string) []Span {
	a := r.at(name)
	out := slices.Clone(r.b.show(a))
	if a.field == nil {
		return out
	}
	unit := r.b.unit(a)
	if unit == "" {
		return out
	}
	for i, s := range out {
		if s.Kind == Value {
			out[i].Words = strings.TrimSuffix(s.Words, " "+schema.UnitShown(unit))
		}
	}
	return out
}

// bareBefore is a number without its unit if the next one, which carries the same
// unit, is a number too.
func (r *row) bareBefore(name, next string) []Span {
	if _, ok := r.Number(next); ok && !r.at(next).disputed() {
		return r.bare(name)
	}
	return r.get(name)
}

func period(b *builder, r *row) []Span {
	var w words
	if r.has("on") || r.has("off") {
		w.append(r.get("on"))
		w.fixed("–")
		w.append(r.get("off"))
		r.put(&w, " (", "minutes", ")")
	} else {
		w.append(r.get("minutes"))
	}
	r.put(&w, ", ", "flow", "")
	r.rest(&w)
	return w
}

func infusion(b *builder, r *row) []Span {
	var w words
	if drug := r.Text("drug"); r.has("otherDrug") && (drug == "other" || !r.has("drug")) {
		w.append(loud(r.get("otherDrug")))
		r.tell("drug")
	} else {
		w.append(loud(r.get("drug")))
		r.put(&w, " ", "otherDrug", "")
	}
	r.put(&w, " ", "salt", "")
	w.fixed(" ")
	r.amount(&w, "dose", "doseUnit")
	if r.has("concentration") {
		w.fixed(", ")
		r.amount(&w, "concentration", "concentrationUnit")
	}
	r.put(&w, ", ", "rate", "")
	if r.has("pumpWeight") {
		r.put(&w, ", pump set to ", "pumpWeight", "")
		pump, dosing := r.Decimal("pumpWeight"), b.n.Decimal(schema.MeasuresDosingWeight)
		if dosing != "" && schema.ShowNumber(pump) != schema.ShowNumber(dosing) {
			w.add(Caution, " (NOT THE DOSING WEIGHT)")
		}
	}
	w.fixed(", ")
	w.append(r.get("state"))
	r.put(&w, ", syringe ends ", "syringeEnds", "")
	r.put(&w, ", joined with ", "joinedWith", "")
	if yes, ok := r.Bool("doNotBolus"); ok {
		r.tell("doNotBolus")
		if yes {
			w.add(Caution, ", DO NOT BOLUS HERE")
		} else {
			w.fixed(", a bolus may go here")
		}
	}
	r.tell("item", "lumen") // before the phrase
	r.rest(&w)
	return w
}

// amount is a number and the unit that stands in a field beside it.
func (r *row) amount(w *words, number, unit string) {
	if !r.has(number) {
		w.label(low(r.at(number).field.Title) + " ")
		w.missing()
		return
	}
	w.append(loud(r.bare(number)))
	w.fixed(" ")
	if !r.has(unit) {
		w.fixed("unit ")
	}
	w.append(loud(r.get(unit)))
}

func product(b *builder, r *row) []Span {
	var w words
	w.append(r.get("product"))
	w.fixed(" ")
	w.append(r.get("volume"))
	r.put(&w, " ", "phase", "")
	r.rest(&w)
	return w
}

func factor(b *builder, r *row) []Span {
	var w words
	w.append(r.get("concentrate"))
	if !r.knows("unit") {
		r.put(&w, " ", "dose", "")
	} else if r.has("dose") {
		w.fixed(" ")
		r.amount(&w, "dose", "unit")
	}
	r.put(&w, " at ", "at", "")
	r.rest(&w)
	return w
}

func available(b *builder, r *row) []Span {
	var w words
	w.append(r.get("product"))
	r.put(&w, " ", "quantity", "")
	r.put(&w, ", ", "where", "")
	r.put(&w, ", until ", "until", "")
	r.rest(&w)
	return w
}

func dose(b *builder, r *row) []Span {
	var w words
	if r.has("purpose") {
		w.append(r.get("purpose"))
		w.fixed(": ")
	}
	w.append(r.get("drug"))
	if !r.knows("unit") {
		r.put(&w, " ", "dose", "")
	} else if r.has("dose") {
		w.fixed(" ")
		r.amount(&w, "dose", "unit")
	}
	w.fixed(" at ")
	w.append(r.get("given"))
	if r.has("next") {
		r.put(&w, ", next ", "next", "")
	}
	r.rest(&w)
	return w
}

func procedure(b *builder, r *row) []Span {
	var w words
	w.append(r.get("procedure"))
	r.put(&w, ", ", "detail", "")
	if r.Text("planned") == "planned" {
		r.tell("planned")
	}
	r.put(&w, ", ", "planned", "")
	r.put(&w, ": ", "why", "")
	r.rest(&w)
	return w
}

func problem(b *builder, r *row) []Span {
	var w words
	w.append(r.get("problem"))
	r.put(&w, " → ", "handled", "")
	r.put(&w, " at ", "at", "")
	r.rest(&w)
	return w
}

func band(b *builder, r *row) []Span {
	var w words
	w.append(r.get("side"))
	w.fixed(" ")
	w.append(r.get("size"))
	r.put(&w, " ", "material", "")
	r.put(&w, ", ", "method", "")
	r.put(&w, ", gradient ", "gradient", "")
	r.put(&w, ", ", "item", "")
	r.rest(&w)
	return w
}

func stent(b *builder, r *row) []Span {
	var w words
	w.append(r.bareBefore("diameter", "length"))
	w.fixed(" × ")
	w.append(r.get("length"))
	r.put(&w, " ", "type", "")
	r.put(&w, ", ", "item", "")
	r.rest(&w)
	return w
}

func vessel(b *builder, r *row) []Span {
	var w words
	r.put(&w, "", "side", " ")
	w.append(r.get("vessel"))
	w.fixed(" ")
	w.append(r.get("state"))
	r.put(&w, " (", "how", "")
	if r.has("how") {
		r.put(&w, ", ", "date", "")
		w.fixed(")")
	}
	r.rest(&w)
	return w
}

func takenOut(b *builder, r *row) []Span {
	var w words
	if !r.has("item") {
		w.label("item ")
	}
	w.append(r.get("item"))
	if it, ok := b.n.Item(r.Text("item")); ok {
		w.fixed(" ")
		w.value(low(lines.Name(it)))
	}
	r.put(&w, " ", "how", "")
	r.put(&w, " at ", "at", "")
	r.put(&w, ", ", "complete", "")
	r.rest(&w)
	return w
}

func lumen(b *builder, r *row) []Span {
	var w words
	w.append(r.get("name"))
	w.fixed(": ")
	if r.has("runs") {
		w.append(r.get("runs"))
		if r.Text("state") == "running" && r.at("runs").value != nil { // what runs, runs
			r.tell("state")
		} else {
			r.put(&w, " (", "state", ")")
		}
	} else {
		w.append(r.get("state"))
	}
	r.rest(&w)
	return w
}

func assistant(b *builder, r *row) []Span {
	var w words
	w.append(r.get("name"))
	r.put(&w, " (", "task", ")")
	r.rest(&w)
	return w
}

// cutUnit parts a label such as "Lactate, mmol/L".
func cutUnit(label string) (what, unit string) {
	if i := strings.LastIndex(label, ", "); i > 0 {
		return label[:i], label[i+2:]
	}
	return label, ""
}

// supplyPhrase is the only lung supply in one phrase: size, material, from, to
// and side of a shunt; size, and the side of the neo-aorta, of a conduit.
func (b *builder) supplyPhrase() []Span {
	if f := schema.FieldAt(schema.SupplyKind); f == nil || !b.has(schema.SupplyKind) && !b.wanted(schema.SupplyKind) {
		return nil
	}
	var w words
	w.append(loud(b.shown(schema.SupplyKind)))
	part := func(before string, p schema.Path) {
		if f := schema.FieldAt(p); f != nil && (b.has(p) || b.wanted(p)) {
			shown := b.shown(p)
			if shown[0].Kind == Missing {
				w.label(", " + low(f.Title) + " ")
			} else {
				w.fixed(before)
			}
			w.append(loud(shown))
		}
	}
	part(" ", schema.SupplyShuntDiameter)
	part(" ", schema.SupplyConduitDiameter)
	part(" ", schema.SupplyMaterial)
	for _, p := range []schema.Path{schema.SupplyRings, schema.SupplyValve} {
		if b.n.Has(p) { // without rings, without a valve: in full elsewhere
			part(", ", p)
		}
	}
	part(", from ", schema.SupplyFrom)
	part(" to ", schema.SupplyTo)
	if b.n.Text(schema.SupplySide) != "central" {
		part(", side ", schema.SupplySide)
	}
	part(", ", schema.SupplyNeoAortaSide)
	part(", distal end at ", schema.SupplyDistalSite)
	part(", circumference ", schema.SupplyBandCircumference)
	part(", now ", schema.SupplyState)
	return w
}

// has tells whether a place of the note is answered or disputed.
func (b *builder) has(p schema.Path) bool {
	return b.read(p).has()
}

// wanted tells whether the sheet must say "not recorded" at a place.
func (b *builder) wanted(p schema.Path) bool {
	f := schema.FieldAt(p)
	return f != nil && inKind(b.kind, f) && (f.Sheet.Required.By(b.kind) || f.Required.By(b.kind)) && b.n.Relevant(f)
}

// inKind tells whether notes of the kind have the field at all.
func inKind(k schema.Kind, f *schema.Field) bool {
	d := schema.KindNamed(k)
	return d != nil && slices.Contains(d.Sections, f.Section) && f.In(k)
}

// Family is the shape of an item's tag on the map, on paper and on screen.
func Family(it schema.Item) bodymap.Family {
	switch it.Kind {
	case "intracardiac-line":
		return bodymap.Intracardiac
	case "arterial-line":
		return bodymap.Arterial
	case "central-venous-line", "peripheral-cannula", "intraosseous-needle":
		return bodymap.Venous
	case "drain", "drain-chamber", "dialysis-catheter":
		return bodymap.Drain
	case "pacing-wires":
		return bodymap.Wire
	case "support-cannula":
		if v := it.Text("variety"); v == "arterial" || v == "outflow" || v == "limb-perfusion" {
			return bodymap.Arterial
		}
		return bodymap.Venous
	}
	return bodymap.Other
}
