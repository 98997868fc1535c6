package calc

import "math"

// RateOf is the pump rate that gives a dose by weight from a concentration.
func RateOf(dose DoseRate, weight Mass, c Concentration) (Flow, *Refusal) {
	return pumpRate(dose.In(UgPerKgMin)*60/1000, weight, c.In(MgPerML)) // mg/kg/h
}

// DoseOf is the dose a pump rate gives: the reverse of RateOf.
func DoseOf(rate Flow, weight Mass, c Concentration) (DoseRate, *Refusal) {
	v, r := pumpDose(rate, weight, c.In(MgPerML))
	return Of(v*1000/60, UgPerKgMin), r
}

// UnitRateOf and UnitDoseOf are the same for drugs dosed in units.
func UnitRateOf(dose UnitRate, weight Mass, c UnitConcentration) (Flow, *Refusal) {
	return pumpRate(dose.In(UnitsPerKgHour), weight, c.In(UnitsPerML))
}

// UnitDoseOf is the dose a pump rate gives of a drug dosed in units.
func UnitDoseOf(rate Flow, weight Mass, c UnitConcentration) (UnitRate, *Refusal) {
	v, r := pumpDose(rate, weight, c.In(UnitsPerML))
	return Of(v, UnitsPerKgHour), r
}

// MolRateOf and MolDoseOf are the same for amounts in mmol.
func MolRateOf(dose MolRate, weight Mass, c MolConcentration) (Flow, *Refusal) {
	return pumpRate(dose.In(MmolPerKgHour), weight, c.In(MmolPerML))
}

// MolDoseOf is the dose a pump rate gives of an amount in mmol.
func MolDoseOf(rate Flow, weight Mass, c MolConcentration) (MolRate, *Refusal) {
	v, r := pumpDose(rate, weight, c.In(MmolPerML))
	return Of(v, MmolPerKgHour), r
}

// pumpRate is mL/h from an amount per kg per hour and an amount per mL.
func pumpRate(perKgHour float64, weight Mass, perML float64) (Flow, *Refusal) {
	if r := first(notNegative("dose", perKgHour), positive("weight", weight.In(Kilogram)), positive("concentration", perML)); r != nil {
		return Flow{}, r
	}
	return Of(perKgHour*weight.In(Kilogram)/perML, MillilitrePerHour), nil
}

func pumpDose(rate Flow, weight Mass, perML float64) (perKgHour float64, r *Refusal) {
	mlh := rate.In(MillilitrePerHour)
	if r := first(notNegative("pump rate", mlh), positive("weight", weight.In(Kilogram)), positive("concentration", perML)); r != nil {
		return 0, r
	}
	return mlh * perML / weight.In(Kilogram), nil
}

// Agreement is how an entered dose stands to the dose that pump rate,
// concentration and weight give.
type Agreement struct {
	Agrees bool
	Ratio  float64 // entered / computed
	Slip   string  // "tenfold", "hundredfold", "thousandfold", "minutes and hours", or ""
}

// Agree compares an entered dose with a computed one. fraction is the part they
// may differ by (dose.mismatch-fraction). A ratio that is near a power of ten or
// near sixty, by the same fraction, names the slip.
func Agree(entered, computed, fraction float64) Agreement {
	switch {
	case entered == 0 && computed == 0:
		return Agreement{Agrees: true, Ratio: 1}
	case entered <= 0 || computed <= 0 || !usable(entered) || !usable(computed):
		return Agreement{}
	}
	a := Agreement{Ratio: entered / computed}
	near := func(target float64) bool { return compare(math.Abs(a.Ratio-target), fraction*target) <= 0 }
	switch {
	case near(1):
		a.Agrees = true
	case near(10), near(0.1):
		a.Slip = "tenfold"
	case near(100), near(0.01):
		a.Slip = "hundredfold"
	case near(1000), near(0.001):
		a.Slip = "thousandfold"
	case near(60), near(1.0 / 60):
		a.Slip = "minutes and hours"
	}
	return a
}

// Question words what to ask when the two do not agree; it is empty when they do.
func (a Agreement) Question() string {
	switch {
	case a.Agrees:
		return ""
	case a.Slip == "minutes and hours":
		return "The dose entered and the dose the pump gives differ sixtyfold: was per minute taken for per hour?"
	case a.Slip != "":
		return "The dose entered and the dose the pump gives differ " + a.Slip + ": check the point, the concentration and the unit."
	}
	return "The dose entered and the dose the pump gives differ: check rate, concentration and the weight in the pump."
}
