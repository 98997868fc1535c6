package calc

import "math"

// SurfaceFormulas are the formulas for body surface area by the name the unit
// profile knows them by. W is kg, H is cm, Wg is grams.
var SurfaceFormulas = map[string]Formula{
	"mosteller": {"Mosteller", "√(H × W / 3600)", "Mosteller 1987, N Engl J Med 317:1098"},
	"haycock":   {"Haycock", "0.024265 × W^0.5378 × H^0.3964", "Haycock 1978, J Pediatr 93:62"},
	"du-bois":   {"Du Bois", "0.007184 × W^0.425 × H^0.725", "Du Bois 1916, Arch Intern Med 17:863"},
	"boyd":      {"Boyd", "0.0003207 × H^0.3 × Wg^(0.7285 − 0.0188 × log10 Wg)", "Boyd 1935; coefficients from memory"},
}

// SurfaceArea is body surface area by one of SurfaceFormulas.
func SurfaceArea(formula string, weight Mass, height Length) (Area, *Refusal) {
	w, h := weight.In(Kilogram), height.In(Centimetre)
	if r := first(positive("weight", w), positive("length", h)); r != nil {
		return Area{}, r
	}
	var m2 float64
	switch formula {
	case "mosteller":
		m2 = math.Sqrt(h * w / 3600)
	case "haycock":
		m2 = 0.024265 * math.Pow(w, 0.5378) * math.Pow(h, 0.3964)
	case "du-bois":
		m2 = 0.007184 * math.Pow(w, 0.425) * math.Pow(h, 0.725)
	case "boyd":
		g := weight.In(Gram)
		m2 = 0.0003207 * math.Pow(h, 0.3) * math.Pow(g, 0.7285-0.0188*math.Log10(g))
	default:
		return Area{}, refuse("formula", "The unit profile names no surface-area formula that this program has.", "Choose Mosteller, Haycock, Du Bois or Boyd.")
	}
	return Of(m2, SquareMetre), nil
}

// FlowOf is a flow from mL/kg/min and a weight.
func FlowOf(perKg FlowPerMass, weight Mass) (Flow, *Refusal) {
	if r := first(notNegative("flow", perKg.In(MLPerKgMin)), positive("weight", weight.In(Kilogram))); r != nil {
		return Flow{}, r
	}
	return Of(perKg.In(MLPerKgMin)*weight.In(Kilogram), MillilitrePerMinute), nil
}

// FlowPerKg is the reverse of FlowOf.
func FlowPerKg(f Flow, weight Mass) (FlowPerMass, *Refusal) {
	if r := first(notNegative("flow", f.In(MillilitrePerMinute)), positive("weight", weight.In(Kilogram))); r != nil {
		return FlowPerMass{}, r
	}
	return Of(f.In(MillilitrePerMinute)/weight.In(Kilogram), MLPerKgMin), nil
}

// IndexOf is a flow by surface area, L/min/m².
func IndexOf(f Flow, surface Area) (FlowIndex, *Refusal) {
	if r := first(notNegative("flow", f.In(LitrePerMinute)), positive("surface area", surface.In(SquareMetre))); r != nil {
		return FlowIndex{}, r
	}
	return Of(f.In(LitrePerMinute)/surface.In(SquareMetre), LPerMinM2), nil
}

// PerKg is a volume by weight, mL/kg.
func PerKg(v Volume, weight Mass) (VolumePerMass, *Refusal) {
	if r := first(notNegative("volume", v.In(Millilitre)), positive("weight", weight.In(Kilogram))); r != nil {
		return VolumePerMass{}, r
	}
	return Of(v.In(Millilitre)/weight.In(Kilogram), MLPerKg), nil
}

// PredictedHaematocrit is what is expected when the circuit's prime mixes with
// the child's blood: (blood volume × haematocrit + red cells × their haematocrit)
// / (blood volume + prime). The red cells are part of the prime.
func PredictedHaematocrit(blood Volume, haematocrit Ratio, prime, redCells Volume, cells Ratio) (Ratio, *Refusal) {
	bv, pv, rv := blood.In(Millilitre), prime.In(Millilitre), redCells.In(Millilitre)
	if r := first(positive("blood volume", bv), percentage("haematocrit", haematocrit.In(One)), notNegative("prime", pv), notNegative("red cell volume", rv)); r != nil {
		return Ratio{}, r
	}
	if compare(rv, pv) > 0 {
		return Ratio{}, refuse("prime", "More red cells than prime are recorded.", "Count the red cells within the prime.")
	}
	if rv > 0 {
		if r := percentage("haematocrit of the red cells", cells.In(One)); r != nil {
			return Ratio{}, r
		}
	}
	return Of((bv*haematocrit.In(One)+rv*cells.In(One))/(bv+pv), One), nil
}

// Oxygen are the constants of oxygen content: mL bound by a gram of haemoglobin,
// and mL dissolved in a dL for each mmHg.
type Oxygen struct{ Binding, Dissolved float64 }

// Content is the oxygen content of blood, mL/dL: binding × haemoglobin ×
// saturation + dissolved × PO2.
func (o Oxygen) Content(haemoglobin Concentration, saturation Ratio, po2 Pressure) (OxygenContent, *Refusal) {
	hb, s, p := haemoglobin.In(GPerDL), saturation.In(One), po2.In(MmHg)
	if r := first(positive("haemoglobin", hb), percentage("saturation", s), notNegative("oxygen pressure", p)); r != nil {
		return OxygenContent{}, r
	}
	return Of(o.Binding*hb*s+o.Dissolved*p, MLPerDL), nil
}

// DeliveryIndex is delivered oxygen by surface area, mL/min/m²: index × content
// × 10 (dL to L).
func DeliveryIndex(index FlowIndex, content OxygenContent) (FlowIndex, *Refusal) {
	i, c := index.In(LPerMinM2), content.In(MLPerDL)
	if r := first(notNegative("flow index", i), positive("oxygen content", c)); r != nil {
		return FlowIndex{}, r
	}
	return Of(i*c*10, MLPerMinM2), nil
}
