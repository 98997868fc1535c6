package calc

import (
	"fmt"
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// Amount is a value in a UCUM unit.
type Amount struct {
	Value float64
	UCUM  string
}

// Shown words it.
func (a Amount) Shown() string { return Shown(a.Value, Significant(a.Value, 4), a.UCUM) }

// Infusion is one infusion of a note, both ways: the dose entered, the dose its
// pump rate gives, and the rate its dose needs. What cannot be computed is nil,
// and Wanted says why.
type Infusion struct {
	Row      string
	Drug     string
	Title    string
	State    string
	Item     string // id of the line
	Lumen    string
	Weight   *Amount     // in the pump, or the dosing weight
	Strength *Amount     // the concentration, in the unit it was entered in
	WeightAt schema.Path // where that weight stands
	Dose     *Amount     // as entered, or as the rate gives
	Rate     *Amount     // mL/h, as entered, or as the dose needs
	// FromRate is the dose the entered rate gives; FromDose the rate the entered
	// dose needs.
	FromRate   *Amount
	FromDose   *Amount
	Computed   bool       // Dose is what the rate gives: none was entered
	Agreement  *Agreement // nil unless both dose and rate were entered
	Question   string     // what to ask when they do not agree
	Unusual    string     // what to ask of a dose far from the usual ones; it is used all the same
	Impossible string     // why the dose its rate gives cannot be; nothing is worked out from it
	Wanted     []Wanted
}

// InfusionReads, TimelineReads and CardReads are the places of a note that its
// infusions, the picture of support and the emergency card are worked out from.
var (
	InfusionReads = []schema.Path{schema.InfusionsRunning, schema.MeasuresDosingWeight}
	TimelineReads = []schema.Path{schema.SupportRuns, schema.SupportClamps, schema.SupportArrests, schema.SupportPerfusions, schema.SupportLowerBody,
		schema.PerfusionReadings, schema.PerfusionLowestTemperature, schema.PerfusionLowestTemperatureAt, schema.PerfusionLowestTemperatureSite}
	CardReads = []schema.Path{schema.MeasuresDosingWeight, schema.MeasuresDosingWeightBy, schema.MeasuresDosingWeightAt, schema.MeasuresWeight,
		schema.MeasuresWeightDate, schema.InfusionsRunning}
)

// Infusions are all infusions of a note in its order.
func Infusions(n *schema.Note, p *profile.Profile) []Infusion {
	c := calculation{id: "infusion", reads: InfusionReads, settings: []profile.ID{profile.DoseMismatch}}
	l := &look{e: New(p, About{}), n: n, c: &c}
	l.begin("")
	return infusions(l)
}

func infusions(l *look) []Infusion {
	var out []Infusion
	for _, row := range l.rows(schema.InfusionsRunning) {
		out = append(out, infusionOf(l, row))
	}
	return out
}

func infusionOf(l *look, row string) Infusion {
	n := l.n
	f := Infusion{Row: row, Drug: n.Text(schema.InfusionsRunningDrug.In(row)), State: n.Text(schema.InfusionsRunningState.In(row)),
		Item: n.Text(schema.InfusionsRunningItem.In(row)), Lumen: n.Text(schema.InfusionsRunningLumen.In(row))}
	f.Title = f.Drug
	if d := schema.FieldAt(schema.InfusionsRunningDrug); d != nil && f.Drug != "" {
		f.Title = d.Label(f.Drug)
	}
	if other := n.Text(schema.InfusionsRunningOtherDrug.In(row)); other != "" && (f.Drug == "other" || f.Drug == "") {
		f.Title = other
	}
	// Inputs gathered here belong to the infusion, not to the result at hand.
	kept := *l.res
	l.res.Inputs, l.res.Wanted = nil, nil
	get := func(p schema.Path, name string) *float64 {
		if !l.has(p.In(row)) {
			return nil
		}
		if v, ok := l.number(p.In(row), name); ok {
			return &v
		}
		return nil
	}
	dose, rate := get(schema.InfusionsRunningDose, "dose"), get(schema.InfusionsRunningRate, "pump rate")
	strength := get(schema.InfusionsRunningConcentration, "concentration")
	weight := get(schema.InfusionsRunningPumpWeight, "weight in the pump")
	f.WeightAt = schema.InfusionsRunningPumpWeight.In(row)
	if weight == nil && l.has(schema.MeasuresDosingWeight) && n.Text(schema.InfusionsRunningPumpWeight.In(row)) == "" {
		if v, ok := l.number(schema.MeasuresDosingWeight, "dosing weight"); ok {
			weight, f.WeightAt = &v, schema.MeasuresDosingWeight
		}
	}
	doseUnit, strengthUnit := n.Text(schema.InfusionsRunningDoseUnit.In(row)), n.Text(schema.InfusionsRunningConcentrationUnit.In(row))
	fraction, _ := l.setting(profile.DoseMismatch, 2)
	f.Wanted = l.res.Wanted
	*l.res = kept

	if weight != nil {
		f.Weight = &Amount{*weight, "kg"}
	}
	if rate != nil {
		f.Rate = &Amount{*rate, "mL/h"}
	}
	if strength != nil && strengthUnit != "" {
		f.Strength = &Amount{*strength, strengthUnit}
	}
	if dose != nil && doseUnit != "" {
		f.Dose = &Amount{*dose, doseUnit}
	}
	if dose != nil && doseUnit == "" {
		f.Wanted = append(f.Wanted, Wanted{Name: "unit of the dose", Path: schema.InfusionsRunningDoseUnit.In(row), Why: schema.NotRecorded, Do: "Record it."})
	}
	need := func(v *float64, p schema.Path, name string) bool {
		if v == nil {
			f.Wanted = append(f.Wanted, Wanted{Name: name, Path: p.In(row), Why: schema.NotRecorded, Do: "Record it."})
		}
		return v != nil
	}
	perMin := doseUnit
	if perMin == "" {
		perMin = usualDoseUnit(f.Drug, strengthUnit)
	}
	if rate != nil || f.Dose != nil {
		switch perMin {
		case "mL/h":
			if rate != nil {
				f.FromRate = &Amount{*rate, perMin}
			}
			if f.Dose != nil {
				f.FromDose = &Amount{*dose, "mL/h"}
			}
		case "mL/kg/h":
			if need(weight, schema.InfusionsRunningPumpWeight, "weight in the pump") {
				if rate != nil {
					f.FromRate = &Amount{tidy(*rate / *weight), perMin}
				}
				if f.Dose != nil {
					f.FromDose = &Amount{tidy(*dose * *weight), "mL/h"}
				}
			}
		case "":
		default:
			a := need(strength, schema.InfusionsRunningConcentration, "concentration")
			b := need(weight, schema.InfusionsRunningPumpWeight, "weight in the pump")
			if a && b {
				f.bothWays(*strength, strengthUnit, *weight, perMin)
			}
		}
	}
	if f.Dose != nil && f.FromRate != nil && rate != nil {
		a := Agree(f.Dose.Value, f.FromRate.Value, fraction)
		f.Agreement, f.Question = &a, a.Question()
	}
	f.within(l)
	// Nothing stands in for a value that was entered and is doubtful.
	if f.Dose == nil && !l.has(schema.InfusionsRunningDose.In(row)) {
		f.Dose, f.Computed = f.FromRate, f.FromRate != nil
	}
	if f.Rate == nil && !l.has(schema.InfusionsRunningRate.In(row)) {
		f.Rate = f.FromDose
	}
	return f
}

// within holds the dose, as entered or as the rate gives it, against what is possible
// and usual for the drug, whatever unit it is in. An impossible one is wanted and
// nothing is worked out from it.
func (f *Infusion) within(l *look) {
	dose, at, name := f.Dose, schema.InfusionsRunningDose.In(f.Row), "dose"
	if dose == nil && !l.has(at) {
		dose, at, name = f.FromRate, schema.InfusionsRunningRate.In(f.Row), "pump rate"
	}
	field := schema.FieldAt(schema.InfusionsRunningDose)
	if dose == nil || field == nil || f.Question != "" { // the two that disagree are asked about
		return
	}
	i := slices.IndexFunc(field.By, func(v schema.Variant) bool {
		return SameDimension(v.Unit, dose.UCUM) && slices.ContainsFunc(v.When, func(c schema.Condition) bool {
			return c.Field == ".drug" && slices.Contains(c.In, any(f.Drug))
		})
	})
	if i < 0 {
		return
	}
	in := field.By[i]
	v, _ := Convert(dose.Value, dose.UCUM, in.Unit)
	said := dose.Shown()
	if dose.UCUM != in.Unit {
		said += " (" + (Amount{v, in.Unit}).Shown() + ")"
	}
	if !(schema.Range{Low: in.Min, High: in.Max}).Holds(v) {
		why := said + " is not plausible for " + lower(f.Title) + ": " + Number(*in.Min, 6) + " to " + Shown(*in.Max, 6, in.Unit) + " is possible"
		f.Wanted = append(f.Wanted, Wanted{Name: name, Path: at, Why: why, Do: "Check the point, the unit, the concentration and the weight in the pump."})
		if !l.has(schema.InfusionsRunningDose.In(f.Row)) {
			f.Impossible = why
		}
		f.Dose, f.FromDose, f.FromRate, f.Agreement, f.Question = nil, nil, nil, nil, ""
		return
	}
	usual, ok := schema.UsualIn(in.Usual, l.n.Kind())
	if !ok || usual.Holds(v) {
		return
	}
	for _, c := range [...]struct {
		factor float64
		words  string
	}{{10, "ten times too high"}, {0.1, "ten times too low"}, {100, "a hundred times too high"}, {0.01, "a hundred times too low"}, {1000, "a thousand times too high"}, {0.001, "a thousand times too low"}} {
		if usual.Holds(v / c.factor) {
			f.Unusual = said + " may be " + c.words + ": is the " + name + " right?"
			return
		}
	}
}

// usualDoseUnit is the unit a dose is shown in when only the rate was entered.
func usualDoseUnit(drug, strengthUnit string) string {
	switch strengthUnit {
	case "[iU]/mL":
		if drug == "vasopressin" {
			return "[iU]/kg/min"
		}
		return "[iU]/kg/h"
	case "mmol/mL":
		return "mmol/kg/h"
	case "mg/mL", "ug/mL", "g/mL":
		switch drug {
		case "calcium-chloride", "calcium-gluconate", "furosemide", "magnesium-sulfate", "tranexamic-acid", "aminocaproic-acid", "propofol", "hydrocortisone":
			return "mg/kg/h"
		case "fentanyl", "morphine", "dexmedetomidine", "midazolam", "clonidine", "ketamine":
			return "ug/kg/h"
		}
		return "ug/kg/min"
	}
	return ""
}

func (f *Infusion) bothWays(strength float64, strengthUnit string, kg float64, doseUnit string) {
	w := Of(kg, Kilogram)
	var rate, dose func() (float64, *Refusal)
	value, have := 0.0, f.Dose != nil
	if have {
		value = f.Dose.Value
	}
	var pump Flow
	if f.Rate != nil {
		pump = Of(f.Rate.Value, MillilitrePerHour)
	}
	switch {
	case unitAt[doseUnit] == nil || unitAt[strengthUnit] == nil:
		f.mismatched(strengthUnit, doseUnit)
		return
	case unitAt[doseUnit].dim == "massRate" && unitAt[strengthUnit].dim == "massConcentration":
		c := Of(strength, Unit[massConcentration]{unitAt[strengthUnit]})
		u := Unit[massRate]{unitAt[doseUnit]}
		rate = func() (float64, *Refusal) { v, r := RateOf(Of(value, u), w, c); return v.In(MillilitrePerHour), r }
		dose = func() (float64, *Refusal) { v, r := DoseOf(pump, w, c); return v.In(u), r }
	case unitAt[doseUnit].dim == "unitRate" && unitAt[strengthUnit].dim == "unitConcentration":
		c := Of(strength, Unit[unitConcentration]{unitAt[strengthUnit]})
		u := Unit[unitRate]{unitAt[doseUnit]}
		rate = func() (float64, *Refusal) { v, r := UnitRateOf(Of(value, u), w, c); return v.In(MillilitrePerHour), r }
		dose = func() (float64, *Refusal) { v, r := UnitDoseOf(pump, w, c); return v.In(u), r }
	case unitAt[doseUnit].dim == "molRate" && unitAt[strengthUnit].dim == "molConcentration":
		c := Of(strength, Unit[molConcentration]{unitAt[strengthUnit]})
		u := Unit[molRate]{unitAt[doseUnit]}
		rate = func() (float64, *Refusal) { v, r := MolRateOf(Of(value, u), w, c); return v.In(MillilitrePerHour), r }
		dose = func() (float64, *Refusal) { v, r := MolDoseOf(pump, w, c); return v.In(u), r }
	default:
		f.mismatched(strengthUnit, doseUnit)
		return
	}
	note := func(r *Refusal) {
		f.Wanted = append(f.Wanted, Wanted{Name: r.Input, Path: schema.InfusionsRunningConcentration.In(f.Row), Why: lower(r.What), Do: r.Do})
	}
	if have {
		if v, r := rate(); r == nil {
			f.FromDose = &Amount{v, "mL/h"}
		} else {
			note(r)
		}
	}
	if f.Rate != nil {
		if v, r := dose(); r == nil {
			f.FromRate = &Amount{v, doseUnit}
		} else {
			note(r)
		}
	}
}

// mismatched says that a dose in one kind of amount cannot come from a syringe
// labelled in another.
func (f *Infusion) mismatched(strengthUnit, doseUnit string) {
	why := fmt.Sprintf("in %s, and the dose in %s", orWords(UnitShown(strengthUnit), "no unit"), UnitShown(doseUnit))
	f.Wanted = append(f.Wanted, Wanted{Name: "concentration", Path: schema.InfusionsRunningConcentrationUnit.In(f.Row), Why: why, Do: "Give both in the same kind of amount."})
}

// infusionResults gives one line for each infusion that is not stopped.
func infusionResults(l *look) {
	all := infusions(l)
	l.drop()
	for _, f := range all {
		if f.State == "stopped" || f.Dose == nil && f.Rate == nil && len(f.Wanted) == 0 {
			continue
		}
		l.begin(f.Title)
		l.setting(profile.DoseMismatch, 2)
		for _, in := range []struct {
			p    schema.Path
			name string
			a    *Amount
			ok   bool
		}{{schema.InfusionsRunningDose.In(f.Row), "dose", f.Dose, !f.Computed}, {schema.InfusionsRunningRate.In(f.Row), "pump rate", f.Rate, l.has(schema.InfusionsRunningRate.In(f.Row))},
			{schema.InfusionsRunningConcentration.In(f.Row), "concentration", f.Strength, true}, {f.WeightAt, "weight", f.Weight, true}} {
			if in.a != nil && in.ok { // what was worked out is no input
				l.input(in.p, in.name, in.a.Shown())
			}
		}
		if at := schema.InfusionsRunningItem.In(f.Row); f.Item != "" {
			through := schema.Show(l.n.FieldAt(at), l.n, at)
			if lumen := schema.InfusionsRunningLumen.In(f.Row); f.Lumen != "" {
				through += ", " + lower(schema.Show(l.n.FieldAt(lumen), l.n, lumen))
			}
			l.input(at, "line", through)
		}
		l.res.Wanted = append(l.res.Wanted, f.Wanted...)
		if f.Question != "" {
			why := "the pump gives " + f.FromRate.Shown()
			if f.Agreement.Slip != "" {
				why += " (" + f.Agreement.Slip + ")"
			}
			l.want(schema.InfusionsRunningDose.In(f.Row), "dose, "+f.Dose.Shown(), why, f.Question)
		}
		if len(l.res.Wanted) > 0 {
			continue
		}
		l.caveat(f.Unusual)
		l.formula("Infusion", "rate = dose × weight / concentration, and the reverse", "Arithmetic")
		switch {
		case f.Dose != nil && f.Rate != nil && f.Dose.UCUM != "mL/h":
			l.words(f.Dose.Shown() + ", " + f.Rate.Shown())
			l.res.Value, l.res.Unit = f.Dose.Value, f.Dose.UCUM
		case f.Dose != nil:
			l.words(f.Dose.Shown())
			l.res.Value, l.res.Unit = f.Dose.Value, f.Dose.UCUM
		default:
			l.words(f.Rate.Shown())
			l.res.Value, l.res.Unit = f.Rate.Value, f.Rate.UCUM
		}
	}
}
