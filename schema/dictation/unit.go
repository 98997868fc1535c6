package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// powers are units that differ by a power of ten: from, to, and the power by
// which the number is multiplied.
var powers = map[[2]string]int{
	{"g", "kg"}: -3, {"kg", "g"}: 3, {"mg", "g"}: -3, {"g", "mg"}: 3, {"ug", "mg"}: -3, {"mg", "ug"}: 3,
	{"%", "1"}: -2, {"cm", "mm"}: 1, {"mm", "cm"}: -1, {"um", "mm"}: -3, {"[mu]", "cm"}: 2,
	{"L", "mL"}: 3, {"mL", "L"}: -3, {"L/min", "mL/min"}: 3, {"mL/min", "L/min"}: -3,
	{"g/L", "g/dL"}: -1, {"g/dL", "g/L"}: 1,
	{"ng/kg/min", "ug/kg/min"}: -3, {"ug/kg/min", "ng/kg/min"}: 3,
	{"m[iU]/kg/min", "[iU]/kg/min"}: -3, {"[iU]/kg/min", "m[iU]/kg/min"}: 3,
	{"ug/kg/h", "mg/kg/h"}: -3, {"mg/kg/h", "ug/kg/h"}: 3, {"ug/kg", "mg/kg"}: -3, {"mg/kg", "ug/kg"}: 3,
	{"ms", "s"}: -3, {"s", "ms"}: 3, {"mg/mL", "ug/mL"}: 3, {"ug/mL", "mg/mL"}: -3, {"k[iU]/kg", "[iU]/kg"}: 3,
}

// ratios are units that differ by another exact factor, as numerator and
// denominator.
var ratios = map[[2]string][2]int64{
	{"h", "min"}: {60, 1}, {"min", "s"}: {60, 1}, {"d", "h"}: {24, 1}, {"s", "min"}: {1, 60}, {"wk", "d"}: {7, 1},
	{"kPa", "mm[Hg]"}: {760000, 101325}, // 1 atm = 101.325 kPa = 760 mmHg
	{"mm[Hg]", "kPa"}: {101325, 760000},
	{"[Ch]", "mm"}:    {1, 3},
	{"lb", "kg"}:      {45359237, 100000000},
}

// convert writes a decimal said in one unit in another; same tells that the
// units are one. It is "" where they measure different things.
func convert(d, from, to string) (v string, same bool) {
	if from == to {
		return d, true
	}
	if p, ok := powers[[2]string{from, to}]; ok {
		return shift(d, p), false
	}
	if r, ok := ratios[[2]string{from, to}]; ok {
		return ratio(d, r[0], r[1]), false
	}
	return "", false
}

// shift moves the decimal point by n places, exactly.
func shift(d string, n int) string {
	sign := ""
	if strings.HasPrefix(d, "-") {
		sign, d = "-", d[1:]
	}
	whole, part, _ := strings.Cut(d, ".")
	digits := whole + part
	point := len(whole) + n
	for point <= 0 {
		digits = "0" + digits
		point++
	}
	for point > len(digits) {
		digits += "0"
	}
	out := trimDecimal(digits[:point] + "." + digits[point:])
	if out == "0" {
		return out
	}
	return sign + out
}

// ratio multiplies a decimal by n/m and rounds to the place one beyond the
// decimal's own, half away from zero.
func ratio(d string, n, m int64) string {
	sign := ""
	if strings.HasPrefix(d, "-") {
		sign, d = "-", d[1:]
	}
	whole, part, _ := strings.Cut(d, ".")
	if len(whole)+len(part) > 9 {
		return ""
	}
	v := int64(0)
	for _, c := range whole + part {
		v = v*10 + int64(c-'0')
	}
	places := len(part) + 1
	if n%m == 0 {
		places = len(part)
	} else {
		v *= 10
	}
	q := (v*n*2 + m) / (m * 2)
	digits := itoa(q)
	for len(digits) <= places {
		digits = "0" + digits
	}
	out := trimDecimal(digits[:len(digits)-places] + "." + digits[len(digits)-places:])
	if out == "0" {
		return out
	}
	return sign + out
}

func itoa(v int64) string {
	if v == 0 {
		return "0"
	}
	var b [20]byte
	i := len(b)
	for v > 0 {
		i--
		b[i] = byte('0' + v%10)
		v /= 10
	}
	return string(b[i:])
}

// Convert writes a decimal in a unit as people name it, or in UCUM, as a decimal
// in the UCUM unit to; ok is false where the two measure different things.
func Convert(d, unit, to string) (value string, ok bool) {
	from := []string{unit}
	for _, u := range schema.Units() {
		if unit == schema.UnitShown(u) || slices.Contains(schema.UnitSpoken(u), unit) || slices.Contains(moreUnits[u], strings.ToLower(unit)) {
			from = append(from, u)
		}
	}
	for _, u := range from {
		if v, _ := convert(d, u, to); v != "" {
			return v, true
		}
	}
	return "", false
}

// Conversions lists the pairs of UCUM units that are changed one into the other.
func Conversions() [][2]string {
	var out [][2]string
	for p := range powers {
		out = append(out, p)
	}
	for p := range ratios {
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b [2]string) int { return strings.Compare(a[0]+" "+a[1], b[0]+" "+b[1]) })
	return out
}

// ownUnits are the units that one field of a note alone is measured in: a number said
// with one of them needs no other name. Common practice, no source.
var ownUnits = map[string]schema.Path{"ms": schema.LeavingAvDelay, "[ppm]": schema.VentilationNitricOxide}

// readOwnUnits reads what only its unit names: "delay ninety milliseconds".
func (g *segment) readOwnUnits() {
	for i := range g.signs {
		if g.signs[i].num == nil || !g.plainTalk(i) {
			continue
		}
		a, _ := g.amountAt(i)
		for _, u := range a.units {
			f := fieldAt(ownUnits[u])
			if u == "/min" && g.ventTalk() && len(a.decimal) == 2 {
				f = fieldAt(schema.VentilationRate) // "pressure control, twenty a minute"
			}
			if f == nil || !g.inNote(f) || g.answered(f) {
				continue
			}
			if v, _, ok := fits(f, a); ok && usual(f, g.lex.kind, v) && !g.endedAfter(a.to) {
				g.judge(g.claimField(f, v, a.from, a.to, a.from, a.to), a)
				g.useAmount(a)
			}
		}
	}
}
