package calc

import (
	"math"
	"strconv"
	"strings"
)

// Number writes a number for people, with at most so many decimals: 0.5 and
// never .5, 4 and never 4.0, a hyphen for minus as the rest of the program writes it and no exponent. Halves
// are rounded away from zero on the decimal that is shown, so 0.285 with two
// places is 0.29 as on paper.
func Number(v float64, places int) string {
	if !usable(v) {
		return "not known"
	}
	if places < 0 {
		places = 0
	}
	r := roundTo(v, places)
	s := strconv.FormatFloat(math.Abs(r), 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if r < 0 && s != "0" {
		s = "-" + s
	}
	return s
}

// Fixed is Number that keeps trailing zeros: for a column where a measured
// decimal is the meaning, as in a z-score or a ratio.
func Fixed(v float64, places int) string {
	if !usable(v) {
		return "not known"
	}
	r := roundTo(v, places)
	s := strconv.FormatFloat(math.Abs(r), 'f', max(places, 0), 64)
	if r < 0 {
		s = "-" + s
	}
	return s
}

// roundTo rounds half away from zero on the decimal value: a float a hair under
// a half because binary cannot hold it is a half.
func roundTo(v float64, places int) float64 {
	scale := math.Pow(10, float64(places))
	x := v * scale
	return math.Round(x+math.Copysign(math.Abs(x)*1e-13, x)) / scale
}

// Shown writes a number with its unit, a space between: "0.5 mL", "36.5 °C",
// "40 %".
func Shown(v float64, places int, ucum string) string {
	s, u := Number(v, places), UnitShown(ucum)
	if u == "" {
		return s
	}
	return s + " " + one(s, u)
}

// one is the singular of a unit that is written as a word.
func one(number, unit string) string {
	if number != "1" {
		return unit
	}
	switch unit {
	case "days", "weeks", "units", "litres", "nanograms", "milliunits":
		return strings.TrimSuffix(unit, "s")
	}
	return unit
}

// Significant is the number of decimals that shows v with so many significant
// digits, between 0 and 6: computed doses from 0.0005 to 400 all read well.
func Significant(v float64, digits int) int {
	if v == 0 || !usable(v) {
		return 0
	}
	return min(max(digits-1-int(math.Floor(math.Log10(math.Abs(v)))), 0), 6)
}

// Minutes words a duration in minutes: "41 min", "3 h 10 min".
func Minutes(min int) string {
	sign := ""
	if min < 0 {
		sign, min = "-", -min
	}
	switch h, m := min/60, min%60; {
	case h == 0:
		return sign + strconv.Itoa(m) + " min"
	case m == 0:
		return sign + strconv.Itoa(h) + " h"
	default:
		return sign + strconv.Itoa(h) + " h " + strconv.Itoa(m) + " min"
	}
}
