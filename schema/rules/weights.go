package rules

import (
	"fmt"
	"math"

	"fairlead/schema"
	"fairlead/schema/profile"
)

const ranges = "agreement rules by the harm they prevent, from memory"

var weightRules = []entry{
	{Rule{"weights-disagree", "Two weights for dosing differ by more than a tenth", schema.Error, ranges},
		[]string{"measures", "infusions"}, weightsDisagree},
	{Rule{"weight-unit-unclear", "A weight that may be in another unit, or is not exact", schema.Error, ranges},
		[]string{"measures", "infusions"}, weightUnit},
}

var sizeRules = []entry{
	{Rule{"size-unlike-weight", "A shunt or conduit unlike what the unit's table has for the weight", schema.Question, "the unit's table in the profile; usual sizes rise with weight, from memory"},
		[]string{"supply", "stage3", "measures"}, sizeUnlikeWeight},
}

// sizeUnlikeWeight holds a size against the unit's own table. The shipped profile
// has none, so that nothing is asked until a unit says what is usual with it.
func sizeUnlikeWeight(l *look) {
	kg, ok := l.Number(schema.MeasuresWeight)
	if !ok {
		return
	}
	for _, c := range []struct {
		at    schema.Path
		table profile.ID
	}{{schema.SupplyShuntDiameter, "sizes.shunt"}, {schema.SupplyConduitDiameter, "sizes.conduit"}, {schema.Stage3ConduitDiameter, "sizes.conduit"}} {
		mm, has := l.Number(c.at)
		usual, _, set := l.profile.ForWeight(c.table, kg)
		if has && set && mm != usual {
			l.find(c.at, fmt.Sprintf("%s, but the unit's table has %s mm at %s.", l.said(c.at), shown(usual), l.said(schema.MeasuresWeight)), "Check the size and the weight, or say why.", schema.MeasuresWeight)
		}
	}
}

// weightsUsed lists the places of every weight a dose is reckoned from, the
// dosing weight first.
func weightsUsed(l *look) []schema.Path {
	at := []schema.Path{schema.MeasuresDosingWeight, schema.MeasuresWeight}
	for _, row := range l.Rows(schema.InfusionsRunning) {
		if !l.is(schema.InfusionsRunningState.In(row), "stopped") {
			at = append(at, schema.InfusionsRunningPumpWeight.In(row))
		}
	}
	return at
}

func weightsDisagree(l *look) {
	share, ok := l.number(profile.WeightDifference)
	dosing, has := l.Number(schema.MeasuresDosingWeight)
	if !ok || !has {
		return
	}
	for _, p := range weightsUsed(l)[1:] {
		if w, ok := l.Number(p); ok && over(math.Abs(w-dosing), share*dosing) {
			l.find(p, fmt.Sprintf("%s and %s differ by more than %s %% of the dosing weight.", l.said(p), l.said(schema.MeasuresDosingWeight), shown(share*100)),
				"Correct the wrong one: the emergency card stays stopped until they agree.", schema.MeasuresDosingWeight)
		}
	}
}

// poundsInKilogram is exact by definition (international pound, 0.45359237 kg).
const poundsInKilogram = 1 / 0.45359237

func weightUnit(l *look) {
	dosing, has := l.Number(schema.MeasuresDosingWeight)
	for _, p := range weightsUsed(l) {
		w, ok := l.Number(p)
		if !ok {
			continue
		}
		if l.Bound(p) != "" {
			l.find(p, fmt.Sprintf("%s is not an exact weight, and doses are reckoned from it.", l.said(p)), "Enter the weight in kg without “less than” or “more than”.")
			continue
		}
		if !has || p == schema.MeasuresDosingWeight || dosing <= 0 || w <= 0 {
			continue
		}
		ratio := math.Max(w/dosing, dosing/w)
		for _, unit := range []struct {
			factor float64
			name   string
		}{{poundsInKilogram, "pounds"}, {1000, "grams"}} {
			if math.Abs(ratio/unit.factor-1) < 0.02 {
				l.find(p, fmt.Sprintf("%s beside %s: one of the two may be in %s.", l.said(p), l.said(schema.MeasuresDosingWeight), unit.name),
					"Enter both weights in kg.", schema.MeasuresDosingWeight)
			}
		}
	}
}
