// Package growth holds a child's weight and length against the World Health
// Organization's Child Growth Standards (2006), by day of age from birth to five
// years.
//
// The daily tables are embedded in a compact form, apart from the rest of the
// arithmetic, so that a page that shows no growth need not load them. Nothing is
// guessed outside the tables: a child older than they go, or one who has not yet
// reached term by corrected age, has no score.
//
//	z, err := growth.WeightZ(growth.Boy, 122, 5.5)
package growth

import (
	_ "embed"
	"encoding/binary"
	"math"
	"sync"
)

//go:generate go run ./pack

//go:embed who.bin
var packed []byte

// Source names the standard, for beside every value.
const Source = "World Health Organization Child Growth Standards 2006, tables by day of age"

// LastDay is the last day of age in the tables.
const LastDay = 1826

// HeightFrom is the day of age from which the tables hold standing height, not
// lying length.
const HeightFrom = 731

// Sex chooses the table.
type Sex int

// The tables.
const (
	Boy Sex = iota + 1
	Girl
)

// LMS are the skewness, median and coefficient of variation on one day.
type LMS struct{ L, M, S float64 }

type table [3][]int32

var tables = sync.OnceValue(func() (out [4]table) {
	rest := packed
	for t := range out {
		for c := range out[t] {
			n, used := binary.Uvarint(rest)
			rest = rest[used:]
			column := make([]int32, n)
			var last, step int64
			for i := range column {
				d, used := binary.Varint(rest)
				rest = rest[used:]
				v := last + step + d
				step, last = v-last, v
				column[i] = int32(v)
			}
			out[t][c] = column
		}
	}
	return out
})

func lookup(kind int, sex Sex, day int) (LMS, bool) {
	if sex != Boy && sex != Girl || day < 0 || day > LastDay {
		return LMS{}, false
	}
	t := tables()[kind*2+int(sex)-1]
	return LMS{float64(t[0][day]) / 1e4, float64(t[1][day]) / 1e4, float64(t[2][day]) / 1e5}, true
}

// WeightLMS and LengthLMS are the published figures for a day of age, in kg and
// cm; ok is false outside the tables.
func WeightLMS(sex Sex, day int) (LMS, bool) { return lookup(0, sex, day) }

// LengthLMS is lying length before HeightFrom and standing height from then on.
func LengthLMS(sex Sex, day int) (LMS, bool) { return lookup(1, sex, day) }

// At is the measurement at z standard deviations: M × (1 + L × S × z)^(1/L).
func (p LMS) At(z float64) float64 {
	if p.L == 0 {
		return p.M * math.Exp(p.S*z)
	}
	return p.M * math.Pow(1+p.L*p.S*z, 1/p.L)
}

// Raw is ((y/M)^L − 1) / (L × S), or ln(y/M)/S where L is 0.
func (p LMS) Raw(y float64) float64 {
	if p.L == 0 {
		return math.Log(y/p.M) / p.S
	}
	return (math.Pow(y/p.M, p.L) - 1) / (p.L * p.S)
}

// Z is Raw within three standard deviations and, beyond them, the standard's
// linear extension by the distance between the second and the third.
func (p LMS) Z(y float64) float64 {
	switch z := p.Raw(y); {
	case z > 3:
		sd3 := p.At(3)
		return 3 + (y-sd3)/(sd3-p.At(2))
	case z < -3:
		sd3 := p.At(-3)
		return -3 + (y-sd3)/(p.At(-2)-sd3)
	default:
		return z
	}
}

// WeightZ is the z-score of a weight in kg; ok is false outside the tables or
// for a weight that is not above zero.
func WeightZ(sex Sex, day int, kg float64) (z float64, ok bool) { return score(0, sex, day, kg) }

// LengthZ is the z-score of a length or height in cm.
func LengthZ(sex Sex, day int, cm float64) (z float64, ok bool) { return score(1, sex, day, cm) }

func score(kind int, sex Sex, day int, y float64) (float64, bool) {
	p, ok := lookup(kind, sex, day)
	if !ok || !(y > 0) || math.IsInf(y, 0) {
		return 0, false
	}
	return p.Z(y), true
}

// CorrectedDays is the age in days from term: the age less what was missing to
// termWeeks at birth. It is negative before term.
func CorrectedDays(days, gestationWeeks, gestationDays int, termWeeks float64) int {
	missing := int(math.Round(termWeeks*7)) - gestationWeeks*7 - gestationDays
	return days - missing
}
