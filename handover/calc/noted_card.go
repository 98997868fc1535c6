package calc

import (
	"fmt"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// CardOf is the emergency card of a note. The dosing weight stands behind every
// dose; the weight at operation and the weights in the pumps must agree with it.
// today is the day the card is read.
func CardOf(n *schema.Note, p *profile.Profile, about About, today schema.Date) Card {
	var weights []DosingWeight
	read := func(path schema.Path, name string) (DosingWeight, bool) {
		w := DosingWeight{Name: name, Path: path}
		v, ok := n.Number(path)
		disputed := about.Disputed != nil && about.Disputed(path)
		if !ok && !disputed {
			return w, false
		}
		w.Kg = v
		f := n.FieldAt(path)
		switch {
		case disputed:
			w.Doubt = "different values were entered"
		case n.Bound(path) != "":
			w.Doubt = "only a limit"
		case f != nil && f.Unit != "kg":
			w.Doubt = "its unit is not clear"
		case f != nil && (f.Min != nil && v < *f.Min || f.Max != nil && v > *f.Max):
			w.Doubt = Shown(v, 3, "kg") + " is not plausible"
		}
		return w, true
	}
	w, ok := read(schema.MeasuresDosingWeight, "dosing weight")
	if !ok {
		return EmergencyCard(p, nil, today)
	}
	w.By = n.Text(schema.MeasuresDosingWeightBy)
	if m, ok := n.Moment(schema.MeasuresDosingWeightAt); ok {
		w.At = m.Shown()
		w.Date = m.Date()
	}
	if d := schema.Date(n.Text(schema.MeasuresWeightDate)); d != "" {
		if v, ok := n.Number(schema.MeasuresWeight); ok && compare(v, w.Kg) == 0 {
			w.Date = d // the day it was weighed, which may lie before it was set
		}
	}
	weights = append(weights, w)
	if o, ok := read(schema.MeasuresWeight, "operation weight"); ok {
		weights = append(weights, o)
	}
	for i, row := range n.Rows(schema.InfusionsRunning) {
		if n.Text(schema.InfusionsRunningState.In(row)) == "stopped" {
			continue
		}
		if x, ok := read(schema.InfusionsRunningPumpWeight.In(row), fmt.Sprintf("weight in the pump of infusion %d", i+1)); ok {
			weights = append(weights, x)
		}
	}
	return EmergencyCard(p, weights, today)
}
