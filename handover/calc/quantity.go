// Package calc is the team's arithmetic: everything now worked out on paper or
// in the head, from what is already in the note.
//
// A quantity has its dimension in its type, so that a mass cannot be passed for a
// volume, nor mcg/kg/min for units/kg/min; it keeps what was typed beside what it
// means. A Result carries its formula, inputs, source and caveats, and has no
// value when an input is missing, doubtful or refused: it then says which input
// is wanted. Nothing is clamped. Thresholds, doses and formula choices come from
// the unit profile, which is passed in, as is the time; nothing here reads a
// clock.
//
//	e := calc.New(prof, calc.About{})
//	for _, r := range e.Compute(note) { … }
package calc

import "math"

// Dimensions. Each is a phantom: it exists only to keep quantities apart.
type (
	mass              struct{}
	length            struct{}
	area              struct{}
	volume            struct{}
	flow              struct{}
	flowPerMass       struct{}
	flowIndex         struct{}
	volumePerMass     struct{}
	pressure          struct{}
	temperature       struct{}
	temperatureRate   struct{}
	duration          struct{}
	energy            struct{}
	massConcentration struct{}
	unitConcentration struct{}
	molConcentration  struct{}
	massRate          struct{}
	unitRate          struct{}
	molRate           struct{}
	resistance        struct{}
	oxygenContent     struct{}
	ratio             struct{}
)

// The families of quantities.
type (
	Mass              = Quantity[mass]
	Length            = Quantity[length]
	Area              = Quantity[area]
	Volume            = Quantity[volume]
	Flow              = Quantity[flow]
	FlowPerMass       = Quantity[flowPerMass]   // mL/kg/min
	FlowIndex         = Quantity[flowIndex]     // L/min/m²
	VolumePerMass     = Quantity[volumePerMass] // mL/kg
	Pressure          = Quantity[pressure]
	Temperature       = Quantity[temperature]
	TemperatureRate   = Quantity[temperatureRate]
	Duration          = Quantity[duration]
	Energy            = Quantity[energy]
	Concentration     = Quantity[massConcentration] // mg/mL
	UnitConcentration = Quantity[unitConcentration] // units/mL
	MolConcentration  = Quantity[molConcentration]  // mmol/mL
	DoseRate          = Quantity[massRate]          // mcg/kg/min
	UnitRate          = Quantity[unitRate]          // units/kg/min
	MolRate           = Quantity[molRate]           // mmol/kg/h
	Resistance        = Quantity[resistance]        // Wood units × m²
	OxygenContent     = Quantity[oxygenContent]     // mL/dL
	Ratio             = Quantity[ratio]
)

// Unit is one unit of a dimension.
type Unit[D any] struct{ def *unitDef }

// UCUM is the unit's code.
func (u Unit[D]) UCUM() string { return u.def.ucum }

// Quantity is a value of one dimension: its meaning and, where it was typed,
// what was typed. The zero Quantity is zero of its dimension, typed by nobody.
type Quantity[D any] struct {
	base  float64 // in the dimension's base unit
	typed string
}

// Of is v of a unit.
func Of[D any](v float64, u Unit[D]) Quantity[D] {
	return Quantity[D]{base: u.def.toBase(v)}
}

// In is the quantity's value in a unit of its dimension. Digits beyond the
// fourteenth, which no measurement has and binary fractions invent, are dropped,
// so that 0.1 in thousandths is 100 and not 100.00000000000001.
func (q Quantity[D]) In(u Unit[D]) float64 { return tidy(u.def.fromBase(q.base)) }

// Typed is what was typed, or "".
func (q Quantity[D]) Typed() string { return q.typed }

// WithTyped keeps what was typed beside the meaning.
func (q Quantity[D]) WithTyped(text string) Quantity[D] { q.typed = text; return q }

// Compare is -1, 0 or 1 as q is less than, equal to or greater than other. Values
// that agree to twelve digits are equal: 3.2 × 84 is 268.8 whatever binary
// fractions say.
func (q Quantity[D]) Compare(other Quantity[D]) int { return compare(q.base, other.base) }

// Plus and Minus add and subtract quantities of one dimension.
func (q Quantity[D]) Plus(other Quantity[D]) Quantity[D] {
	return Quantity[D]{base: q.base + other.base}
}
func (q Quantity[D]) Minus(other Quantity[D]) Quantity[D] {
	return Quantity[D]{base: q.base - other.base}
}

// Times scales a quantity.
func (q Quantity[D]) Times(factor float64) Quantity[D] { return Quantity[D]{base: q.base * factor} }

// Show words the quantity in a unit: "3.2 kg". places is the most decimals shown.
func (q Quantity[D]) Show(u Unit[D], places int) string { return Shown(q.In(u), places, u.def.ucum) }

func compare(a, b float64) int {
	switch d := a - b; {
	case math.Abs(d) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)):
		return 0
	case d < 0:
		return -1
	}
	return 1
}

// tidy drops the digits beyond the fourteenth.
func tidy(v float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	scale := math.Pow(10, 13-math.Floor(math.Log10(math.Abs(v))))
	if math.IsInf(scale, 0) || scale == 0 {
		return v
	}
	if t := math.Round(v*scale) / scale; !math.IsNaN(t) && !math.IsInf(t, 0) {
		return t
	}
	return v
}

// usable tells whether v can be computed with at all.
func usable(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
