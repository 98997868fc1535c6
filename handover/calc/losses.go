package calc

import (
	"fmt"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// LossReport is everything the drains say at one moment: totals, every rule of
// the unit that is in force, and a sudden stop. Nothing in it is ever an
// improvement.
type LossReport struct {
	Loss    Loss
	Rulings []Ruling
	Stop    *Stop
	Caution string // worded for a stop; "" without one
	Wanted  []Wanted
}

// Calls are the rules that are met: each raises a call.
func (r LossReport) Calls() []Ruling {
	var out []Ruling
	for _, x := range r.Rulings {
		if x.Outcome == Met {
			out = append(out, x)
		}
	}
	return out
}

// Losses holds the readings of all drains together against the unit's rules.
// since is when the chest, or skin, was closed.
func Losses(rs []Reading, weight Mass, p *profile.Profile, since schema.Moment) LossReport {
	var out LossReport
	loss, refusal := TotalLoss(rs, weight)
	if refusal != nil {
		out.Wanted = append(out.Wanted, Wanted{Name: refusal.Input, Why: lower(refusal.What), Do: refusal.Do})
		return out
	}
	out.Loss = loss
	for _, rule := range p.DrainRules() {
		out.Rulings = append(out.Rulings, Judge(rule, rs, weight, since))
	}
	fraction, _, ok1 := p.Number(profile.DrainStopFraction)
	n, _, ok2 := p.Number(profile.DrainStopReadings)
	if s, stopped := Stopped(rs, fraction, int(n)); ok1 && ok2 && stopped {
		out.Stop = &s
		out.Caution = s.Caution(p)
	}
	return out
}

// Prolonged tells whether drainage for so many days counts as a prolonged
// effusion; ok is false while the unit has no definition in force.
func Prolonged(days float64, p *profile.Profile) (prolonged bool, e profile.Entry, ok bool) {
	limit, e, ok := p.Number(profile.ProlongedEffusion)
	return ok && compare(days, limit) > 0, e, ok
}

// TubeReference is the reference line for a cuffed tracheal tube from the second
// year of life: age/4 + 3.5 mm, and its depth at the lip, 3 × size. It stands
// beside the field and never fills it in.
func TubeReference(age Duration) (size, depth Length, refusal *Refusal) {
	years := age.In(Day) / 365.25
	if !usable(years) || years < 1 || years > 18 {
		return Length{}, Length{}, refuse("age", "The reference line holds from one to eighteen years; infants go by weight.", "Use the unit's table.")
	}
	mm := years/4 + 3.5
	return Of(mm, Millimetre), Of(3*mm, Centimetre), nil
}

// ShowEntry words the value of a profile entry for a screen or a list; an entry
// without one says why.
func ShowEntry(e profile.Entry) string {
	if !e.HasValue() {
		return "Empty on purpose. " + e.Empty
	}
	return entryWords(e)
}

func entryWords(e profile.Entry) string {
	// An entry is worded by what it holds, whether it is in force or not.
	shown := e
	shown.Active = &profile.Act{By: "-", At: "-"}
	p := profile.Of(shown)
	switch e.Shape {
	case profile.ShapeNumber:
		v, _, _ := p.Number(e.ID)
		return Shown(v, 4, e.UCUM)
	case profile.ShapeRange:
		lo, hi, _, _ := p.Range(e.ID)
		return Number(lo, 4) + " to " + Shown(hi, 4, e.UCUM)
	case profile.ShapeChoice:
		v, _, _ := p.Choice(e.ID)
		return v
	case profile.ShapeWords:
		v, _ := p.Wording(e.ID)
		return v
	case profile.ShapeList:
		v, _, _ := p.List(e.ID)
		return joinWords(v)
	case profile.ShapeWeights:
		v, _, _ := p.Weights(e.ID)
		var parts []string
		for _, w := range v {
			parts = append(parts, w.Name+" × "+Number(w.Factor, 4))
		}
		return joinWords(parts)
	case profile.ShapeSteps:
		v, _, _ := p.Steps(e.ID)
		var parts []string
		for _, x := range v {
			parts = append(parts, Shown(x, 1, e.UCUM))
		}
		return joinWords(parts)
	case profile.ShapeTable:
		var parts []string
		for _, r := range p.Table(e.ID) {
			if r.Under != nil {
				parts = append(parts, "under "+Shown(*r.Under, 3, "kg")+": "+Shown(r.Value, 4, e.UCUM))
			} else {
				parts = append(parts, "otherwise "+Shown(r.Value, 4, e.UCUM))
			}
		}
		return joinWords(parts)
	case profile.ShapeByStage:
		var parts []string
		for _, k := range profile.Stages {
			if lo, hi, _, ok := p.ForStage(e.ID, k); ok {
				parts = append(parts, "stage "+k[len(k)-1:]+": "+Number(lo, 4)+" to "+Shown(hi, 4, e.UCUM))
			}
		}
		return joinWords(parts)
	case profile.ShapeDrain:
		if rs := p.DrainRules(); len(rs) == 1 {
			r := rs[0]
			s := Shown(r.PerKg, 3, "mL/kg") + " in " + Shown(r.Hours, 2, "h")
			if r.Times > 1 {
				s += fmt.Sprintf(", %d times running", r.Times)
			}
			if r.Within > 0 {
				s += ", within the first " + Shown(r.Within, 1, "h")
			}
			return s
		}
	case profile.ShapeDose:
		if ds := p.Doses(); len(ds) == 1 {
			d := ds[0]
			var parts []string
			for _, s := range d.Steps {
				l := cardLine(d, s, 1)
				if s.Label != "" {
					l.Rule = s.Label + " " + l.Rule
				}
				parts = append(parts, l.Rule)
			}
			words := joinWords(parts)
			if d.Concentration != nil {
				words += "; drawn from " + d.Concentration.Named
			}
			return words
		}
	}
	return string(e.Value)
}

func joinWords(parts []string) string {
	s := ""
	for i, p := range parts {
		if i > 0 {
			s += "; "
		}
		s += p
	}
	return s
}
