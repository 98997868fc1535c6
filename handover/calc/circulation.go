package calc

import (
	"math"
	"slices"

	"fairlead/schema/profile"
)

// ScoreDrug is a running infusion as the vasoactive-inotropic score counts it.
type ScoreDrug struct {
	Name string
	Dose DoseRate // mcg/kg/min; unused for a drug dosed in units
	Unit UnitRate // units/kg/min; unused for a drug dosed by mass
}

// VasopressinHighest is the highest vasopressin rate that can be meant, in
// units/kg/min (ranges.md, from memory). 0.5 milliunits/kg/min typed as units is
// a thousand times too much and is refused here.
const VasopressinHighest = 0.01

// Score is the vasoactive-inotropic score: the sum of dose × multiplier. Drugs
// that are not in the unit's list are returned by name. dosedInUnits names the
// drugs that are given in units.
func Score(drugs []ScoreDrug, list []profile.Weight) (score float64, left []string, refusal *Refusal) {
	if len(list) == 0 {
		return 0, nil, refuse("score list", "The unit profile holds no list of drugs for the score.", "Set it.")
	}
	for _, d := range drugs {
		i := slices.IndexFunc(list, func(w profile.Weight) bool { return w.Name == d.Name })
		if i < 0 {
			left = append(left, d.Name)
			continue
		}
		dose := d.Dose.In(UgPerKgMin)
		if DosedInUnits(d.Name) {
			dose = d.Unit.In(UnitsPerKgMin)
			if dose > VasopressinHighest {
				return 0, nil, refuse(d.Name, Shown(dose, 4, "[iU]/kg/min")+" of vasopressin is not plausible.", "If milliunits were meant, "+Shown(dose, 4, "m[iU]/kg/min")+" is "+Shown(dose/1000, 6, "[iU]/kg/min")+".")
			}
		}
		if r := notNegative("dose of "+d.Name, dose); r != nil {
			r.Input = d.Name
			return 0, nil, r
		}
		score += dose * list[i].Factor
	}
	return score, left, nil
}

// DosedInUnits tells whether a drug is given in units, not by mass.
func DosedInUnits(drug string) bool {
	return drug == "vasopressin" || drug == "heparin" || drug == "insulin"
}

// FlowRatio is lung to body flow at stage 1, (SaO2 − SvO2) / (SpvO2 − SpaO2)
// with the pulmonary artery's saturation equal to the body's. It is refused at
// every other stage, where blood reaches the lungs otherwise.
func FlowRatio(stage string, arterial, venous, pulmonaryVenous Ratio) (Ratio, *Refusal) {
	a, v, pv := arterial.In(One), venous.In(One), pulmonaryVenous.In(One)
	if stage != "stage1" {
		return Ratio{}, refuse("stage", "The flow ratio holds at stage 1 only: later, lung and body flow are not fed from one outlet.", "No value is given.")
	}
	if r := first(percentage("arterial saturation", a), percentage("venous saturation", v), percentage("pulmonary venous saturation", pv)); r != nil {
		return Ratio{}, r
	}
	switch {
	case compare(pv, a) <= 0:
		return Ratio{}, refuse("pulmonary venous saturation", "The pulmonary venous saturation is not above the arterial.", "Check which sample is which.")
	case compare(a, v) <= 0:
		return Ratio{}, refuse("venous saturation", "The venous saturation is not below the arterial.", "Check which sample is which.")
	}
	return Of((a-v)/(pv-a), One), nil
}

// Transpulmonary is the gradient across the lungs: pulmonary artery (Glenn or
// Fontan) less atrial pressure. It may come out negative: the lines then want
// zeroing, and the value is still shown.
func Transpulmonary(pulmonary, atrial Pressure) Pressure { return pulmonary.Minus(atrial) }

// LungResistance is the indexed resistance of the lungs in Wood units × m²:
// gradient / pulmonary flow index.
func LungResistance(gradient Pressure, index FlowIndex) (Resistance, *Refusal) {
	g, q := gradient.In(MmHg), index.In(LPerMinM2)
	if r := first(notNegative("gradient", g), positive("pulmonary flow index", q)); r != nil {
		return Resistance{}, r
	}
	return Of(g/q, WoodM2), nil
}

// Nakata is the cross-section of both branch pulmonary arteries by surface area,
// mm²/m²: π/4 × (right² + left²) / surface.
func Nakata(right, left Length, surface Area) (float64, *Refusal) {
	r, l, s := right.In(Millimetre), left.In(Millimetre), surface.In(SquareMetre)
	if x := first(notNegative("right branch", r), notNegative("left branch", l), positive("surface area", s)); x != nil {
		return 0, x
	}
	if r == 0 && l == 0 {
		return 0, refuse("right branch", "Both branch diameters are zero.", "Check them.")
	}
	return math.Pi / 4 * (r*r + l*l) / s, nil
}

// McGoon is (right + left branch) / descending aorta at the diaphragm.
func McGoon(right, left, aorta Length) (Ratio, *Refusal) {
	r, l, a := right.In(Millimetre), left.In(Millimetre), aorta.In(Millimetre)
	if x := first(notNegative("right branch", r), notNegative("left branch", l), positive("descending aorta", a)); x != nil {
		return Ratio{}, x
	}
	return Of((r+l)/a, One), nil
}

// OxygenationIndex is mean airway pressure × inspired oxygen × 100 / PaO2, with
// the pressures in cmH2O and mmHg as is the custom.
func OxygenationIndex(airway Pressure, inspired Ratio, pao2 Pressure) (float64, *Refusal) {
	m, f, p := airway.In(CmH2O), inspired.In(One), pao2.In(MmHg)
	if x := first(positive("mean airway pressure", m), percentage("inspired oxygen", f), positive("PaO2", p)); x != nil {
		return 0, x
	}
	return m * f * 100 / p, nil
}
