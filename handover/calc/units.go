package calc

import (
	"strings"

	"fairlead/schema"
)

// unitDef is one line of the table of units. A value v of the unit is
// (v + offset) × num / den of the dimension's base unit. Numerator and
// denominator are apart so that a third stays a third.
type unitDef struct {
	ucum     string
	dim      string
	num, den float64
	offset   float64
	shown    string // where the schema does not know the unit
	said     string // other ways people type it, separated by |
}

func (u *unitDef) toBase(v float64) float64   { return (v + u.offset) * u.num / u.den }
func (u *unitDef) fromBase(b float64) float64 { return b*u.den/u.num - u.offset }

// unitTable is every unit the program converts. An independent UCUM
// implementation checks each line (testdata/outside/units.mjs).
var unitTable = []unitDef{
	{ucum: "g", dim: "mass", num: 1, den: 1, said: "gram|grams|gm|gms|gramme|grammes"},
	{ucum: "kg", dim: "mass", num: 1000, den: 1, said: "kilo|kilos|kilogram|kilograms|kgs"},
	{ucum: "mg", dim: "mass", num: 1, den: 1000, said: "milligram|milligrams|mgs"},
	{ucum: "ug", dim: "mass", num: 1, den: 1e6, said: "mcg|µg|μg|microgram|micrograms|mics"},
	{ucum: "ng", dim: "mass", num: 1, den: 1e9, shown: "nanograms", said: "nanogram|nanograms"},
	{ucum: "[lb_av]", dim: "mass", num: 453.59237, den: 1, shown: "lb", said: "lb|lbs|pound|pounds"},
	{ucum: "[oz_av]", dim: "mass", num: 453.59237, den: 16, shown: "oz", said: "oz|ounce|ounces"},

	{ucum: "mm", dim: "length", num: 1, den: 1, said: "millimetre|millimetres|millimeter|millimeters|mms"},
	{ucum: "cm", dim: "length", num: 10, den: 1, said: "centimetre|centimetres|centimeter|centimeters|cms"},
	{ucum: "m", dim: "length", num: 1000, den: 1, shown: "m", said: "metre|metres|meter|meters"},
	{ucum: "[in_i]", dim: "length", num: 25.4, den: 1, shown: "inches", said: "in|inch|inches|\""},
	{ucum: "[Ch]", dim: "length", num: 1, den: 3, said: "fr|french|charriere|charrière|ch"},

	{ucum: "m2", dim: "area", num: 1, den: 1, shown: "m²", said: "m²|m^2"},
	{ucum: "mm2", dim: "area", num: 1, den: 1e6, shown: "mm²", said: "mm²"},

	{ucum: "mL", dim: "volume", num: 1, den: 1, said: "ml|mls|millilitre|millilitres|milliliter|milliliters|cc|ccs"},
	{ucum: "dL", dim: "volume", num: 100, den: 1, shown: "dL", said: "dl"},
	{ucum: "L", dim: "volume", num: 1000, den: 1, shown: "litres", said: "l|litre|litres|liter|liters"},

	{ucum: "mL/min", dim: "flow", num: 1, den: 1, said: "ml/min"},
	{ucum: "mL/h", dim: "flow", num: 1, den: 60, said: "ml/h|ml/hr|ml/hour|mls/hr"},
	{ucum: "L/min", dim: "flow", num: 1000, den: 1, said: "l/min"},
	{ucum: "mL/kg/min", dim: "flowPerMass", num: 1, den: 1, said: "ml/kg/min"},
	{ucum: "mL/kg/h", dim: "flowPerMass", num: 1, den: 60, said: "ml/kg/h|ml/kg/hr"},
	{ucum: "mL/kg/d", dim: "flowPerMass", num: 1, den: 1440, said: "ml/kg/day|ml/kg/d"},
	{ucum: "L/min/m2", dim: "flowIndex", num: 1, den: 1, said: "l/min/m2|l/min/m²"},
	{ucum: "mL/min/m2", dim: "flowIndex", num: 1, den: 1000, shown: "mL/min/m²", said: "ml/min/m2|ml/min/m²"},
	{ucum: "mL/kg", dim: "volumePerMass", num: 1, den: 1, said: "ml/kg|mls/kg"},
	{ucum: "mL/dL", dim: "oxygenContent", num: 1, den: 1, shown: "mL/dL", said: "ml/dl"},
	{ucum: "mL/dL/mm[Hg]", dim: "oxygenSolubility", num: 1, den: 1, shown: "mL/dL per mmHg", said: "ml/dl/mmhg|ml/dl per mmhg"},

	{ucum: "mm[Hg]", dim: "pressure", num: 1, den: 1, said: "mmhg"},
	{ucum: "kPa", dim: "pressure", num: 1, den: 0.133322, said: "kpa"},
	{ucum: "cm[H2O]", dim: "pressure", num: 0.0980665, den: 0.133322, said: "cmh2o"},

	{ucum: "Cel", dim: "temperature", num: 1, den: 1, said: "°c|c|celsius|degrees|deg c"},
	{ucum: "[degF]", dim: "temperature", num: 5, den: 9, offset: -32, shown: "°F", said: "°f|f|fahrenheit|deg f"},
	{ucum: "Cel/min", dim: "temperatureRate", num: 1, den: 1, shown: "°C per minute", said: "°c/min|c/min"},
	{ucum: "Cel/h", dim: "temperatureRate", num: 1, den: 60, shown: "°C per hour", said: "°c/h|c/h"},

	{ucum: "min", dim: "duration", num: 1, den: 1, said: "mins|minute|minutes|'"},
	{ucum: "s", dim: "duration", num: 1, den: 60, said: "sec|secs|second|seconds"},
	{ucum: "h", dim: "duration", num: 60, den: 1, said: "hr|hrs|hour|hours"},
	{ucum: "d", dim: "duration", num: 1440, den: 1, said: "day|days"},
	{ucum: "wk", dim: "duration", num: 10080, den: 1, said: "week|weeks|wks|w"},

	{ucum: "J", dim: "energy", num: 1, den: 1, said: "j|joule|joules"},
	{ucum: "mmol", dim: "amount", num: 1, den: 1, said: "millimole|millimoles"},
	{ucum: "mol", dim: "amount", num: 1000, den: 1, shown: "mol"},
	{ucum: "[iU]", dim: "units", num: 1, den: 1, said: "u|iu|unit|units"},
	{ucum: "m[iU]", dim: "units", num: 1, den: 1000, shown: "milliunits", said: "mu|miu|milliunit|milliunits"},
	{ucum: "k[iU]", dim: "units", num: 1000, den: 1, shown: "thousand units", said: "ku|kiu|kilounits"},

	{ucum: "mg/mL", dim: "massConcentration", num: 1, den: 1, said: "mg/ml"},
	{ucum: "ug/mL", dim: "massConcentration", num: 1, den: 1000, said: "mcg/ml|µg/ml|μg/ml"},
	{ucum: "g/mL", dim: "massConcentration", num: 1000, den: 1, said: "g/ml"},
	{ucum: "ng/mL", dim: "massConcentration", num: 1, den: 1e6, shown: "nanograms/mL", said: "ng/ml"},
	{ucum: "g/dL", dim: "massConcentration", num: 10, den: 1, said: "g/dl"},
	{ucum: "g/L", dim: "massConcentration", num: 1, den: 1, said: "g/l"},
	{ucum: "mg/dL", dim: "massConcentration", num: 1, den: 100, said: "mg/dl"},
	{ucum: "[iU]/mL", dim: "unitConcentration", num: 1, den: 1, said: "u/ml|iu/ml|units/ml"},
	{ucum: "m[iU]/mL", dim: "unitConcentration", num: 1, den: 1000, shown: "milliunits/mL", said: "mu/ml|milliunits/ml"},
	{ucum: "mmol/mL", dim: "molConcentration", num: 1, den: 1, said: "mmol/ml"},
	{ucum: "mmol/L", dim: "molConcentration", num: 1, den: 1000, said: "mmol/l"},

	{ucum: "mg/kg", dim: "massDose", num: 1, den: 1, said: "mg/kg"},
	{ucum: "ug/kg", dim: "massDose", num: 1, den: 1000, said: "mcg/kg|µg/kg|μg/kg"},
	{ucum: "[iU]/kg", dim: "unitDose", num: 1, den: 1, said: "u/kg|iu/kg|units/kg"},
	{ucum: "k[iU]/kg", dim: "unitDose", num: 1000, den: 1, shown: "thousand units/kg", said: "kiu/kg"},
	{ucum: "mmol/kg", dim: "molDose", num: 1, den: 1, shown: "mmol/kg"},

	{ucum: "ug/kg/min", dim: "massRate", num: 1, den: 1, said: "mcg/kg/min|µg/kg/min|μg/kg/min|mics/kg/min"},
	{ucum: "ng/kg/min", dim: "massRate", num: 1, den: 1000, said: "nanograms/kg/min"},
	{ucum: "ug/kg/h", dim: "massRate", num: 1, den: 60, said: "mcg/kg/h|mcg/kg/hr|µg/kg/h|μg/kg/h"},
	{ucum: "mg/kg/h", dim: "massRate", num: 1000, den: 60, said: "mg/kg/hr"},
	{ucum: "g/kg/h", dim: "massRate", num: 1e6, den: 60, said: "g/kg/hr"},
	{ucum: "[iU]/kg/min", dim: "unitRate", num: 1, den: 1, said: "u/kg/min|iu/kg/min|units/kg/min"},
	{ucum: "[iU]/kg/h", dim: "unitRate", num: 1, den: 60, said: "u/kg/h|u/kg/hr|iu/kg/h|units/kg/h|units/kg/hr"},
	{ucum: "m[iU]/kg/min", dim: "unitRate", num: 1, den: 1000, said: "mu/kg/min|milliunits/kg/min"},
	{ucum: "mmol/kg/h", dim: "molRate", num: 1, den: 1, said: "mmol/kg/hr"},
	{ucum: "mmol/kg/min", dim: "molRate", num: 60, den: 1, shown: "mmol/kg/min"},

	{ucum: "mm[Hg].min.m2/L", dim: "resistance", num: 1, den: 1, shown: "Wood units × m²"},
	{ucum: "1", dim: "ratio", num: 1, den: 1},
	{ucum: "%", dim: "ratio", num: 1, den: 100, said: "percent|per cent|pc"},
	{ucum: "mm2/m2", dim: "areaIndex", num: 1, den: 1, shown: "mm²/m²"},
	{ucum: "J/kg", dim: "energyDose", num: 1, den: 1, shown: "J/kg"},
	{ucum: "g/d", dim: "massPerDay", num: 1, den: 1, shown: "g in a day"},
	{ucum: "kg/d", dim: "massPerDay", num: 1000, den: 1, shown: "kg in a day"},
}

var unitAt = func() map[string]*unitDef {
	m := make(map[string]*unitDef, len(unitTable))
	for i := range unitTable {
		m[unitTable[i].ucum] = &unitTable[i]
	}
	return m
}()

func unit[D any](ucum string) Unit[D] {
	d, ok := unitAt[ucum]
	if !ok {
		panic("calc: no unit " + ucum)
	}
	return Unit[D]{d}
}

// The units the formulas are written in.
var (
	Kilogram, Gram, Milligram, Microgram = unit[mass]("kg"), unit[mass]("g"), unit[mass]("mg"), unit[mass]("ug")
	Pound, Ounce                         = unit[mass]("[lb_av]"), unit[mass]("[oz_av]")
	Millimetre, Centimetre, Metre        = unit[length]("mm"), unit[length]("cm"), unit[length]("m")
	French, Inch                         = unit[length]("[Ch]"), unit[length]("[in_i]")
	SquareMetre, SquareMillimetre        = unit[area]("m2"), unit[area]("mm2")
	Millilitre, Decilitre, Litre         = unit[volume]("mL"), unit[volume]("dL"), unit[volume]("L")
	MillilitrePerMinute, LitrePerMinute  = unit[flow]("mL/min"), unit[flow]("L/min")
	MillilitrePerHour                    = unit[flow]("mL/h")
	MLPerKgMin, MLPerKgHour, MLPerKgDay  = unit[flowPerMass]("mL/kg/min"), unit[flowPerMass]("mL/kg/h"), unit[flowPerMass]("mL/kg/d")
	LPerMinM2, MLPerMinM2                = unit[flowIndex]("L/min/m2"), unit[flowIndex]("mL/min/m2")
	MLPerKg                              = unit[volumePerMass]("mL/kg")
	MLPerDL                              = unit[oxygenContent]("mL/dL")
	MmHg, KPa, CmH2O                     = unit[pressure]("mm[Hg]"), unit[pressure]("kPa"), unit[pressure]("cm[H2O]")
	Celsius, Fahrenheit                  = unit[temperature]("Cel"), unit[temperature]("[degF]")
	CelsiusPerMinute                     = unit[temperatureRate]("Cel/min")
	Minute, Hour, Day, Week              = unit[duration]("min"), unit[duration]("h"), unit[duration]("d"), unit[duration]("wk")
	Joule                                = unit[energy]("J")
	MgPerML, UgPerML, GPerDL, GPerL      = unit[massConcentration]("mg/mL"), unit[massConcentration]("ug/mL"), unit[massConcentration]("g/dL"), unit[massConcentration]("g/L")
	UnitsPerML                           = unit[unitConcentration]("[iU]/mL")
	MmolPerML                            = unit[molConcentration]("mmol/mL")
	UgPerKgMin, MgPerKgHour              = unit[massRate]("ug/kg/min"), unit[massRate]("mg/kg/h")
	UnitsPerKgMin, UnitsPerKgHour        = unit[unitRate]("[iU]/kg/min"), unit[unitRate]("[iU]/kg/h")
	MilliunitsPerKgMin                   = unit[unitRate]("m[iU]/kg/min")
	MmolPerKgHour                        = unit[molRate]("mmol/kg/h")
	WoodM2                               = unit[resistance]("mm[Hg].min.m2/L")
	One, Percent                         = unit[ratio]("1"), unit[ratio]("%")
)

// Convert turns a value of one UCUM unit into another of the same dimension; ok
// is false for units of different kinds or that the program does not know.
func Convert(v float64, from, to string) (out float64, ok bool) {
	a, b := unitAt[from], unitAt[to]
	if a == nil || b == nil || a.dim != b.dim {
		return 0, false
	}
	return tidy(b.fromBase(a.toBase(v))), true
}

// SameDimension tells whether two UCUM units measure the same kind of thing.
func SameDimension(a, b string) bool {
	x, y := unitAt[a], unitAt[b]
	return x != nil && y != nil && x.dim == y.dim
}

// UCUMUnits lists the codes of all units the program converts, and the code each
// is converted to and from.
func UCUMUnits() [][2]string {
	base := map[string]string{}
	var out [][2]string
	for _, u := range unitTable {
		if _, ok := base[u.dim]; !ok {
			base[u.dim] = u.ucum
		}
		out = append(out, [2]string{u.ucum, base[u.dim]})
	}
	return out
}

// UnitShown is how a unit is written for people.
func UnitShown(ucum string) string {
	if ucum == "1" || ucum == "[pH]" {
		return ""
	}
	if u := unitAt[ucum]; u != nil && u.shown != "" {
		return u.shown
	}
	return schema.UnitShown(ucum)
}

// unitNamed finds the unit people mean by a word typed behind a number. µ, μ and
// u are the same letter to a keyboard.
func unitNamed(word string) *unitDef {
	w := strings.ToLower(strings.TrimSuffix(strings.TrimSpace(word), "."))
	if w == "" {
		return nil
	}
	for i := range unitTable {
		u := &unitTable[i]
		if u.ucum == strings.TrimSpace(word) {
			return u
		}
	}
	for i := range unitTable {
		u := &unitTable[i]
		if strings.ToLower(u.ucum) == w || strings.ToLower(UnitShown(u.ucum)) == w && w != "" {
			return u
		}
		for said := range strings.SplitSeq(u.said, "|") {
			if said != "" && said == w {
				return u
			}
		}
	}
	return nil
}
