package lines

import (
	"strconv"
	"strings"

	"fairlead/handover/calc"
	"fairlead/schema"
)

// AttributeDoubt holds a figure that stands at the bed against what the note says an
// attribute of the item can be in a note of that kind: refused where it cannot be,
// asked about where it is unusual. ok is false where there is nothing to say.
func AttributeDoubt(stage schema.Kind, it schema.Item, field string, v float64) (d Doubt, ok bool) {
	k := schema.ItemKindNamed(it.Kind)
	if k == nil || k.Field(field) == nil || !k.Field(field).Numeric() {
		return d, false
	}
	def := k.Field(field)
	at := it.Note().VariantAt(def, it.ID)
	said := at.Title + " " + amount(v, at.Unit)
	possible := schema.Range{Low: at.Min, High: at.Max}
	if !possible.Holds(v) {
		return Doubt{field, said + " is outside what is possible: " + span(possible, at.Unit) + ".", meant(v, at), false}, true
	}
	if r, known := at.UsualFor(stage); known && !r.Holds(v) {
		return Doubt{field, said + " is unusual: " + span(r, at.Unit) + " is usual.", "Is it right?", true}, true
	}
	kg, weighed := it.Note().Number(schema.MeasuresWeight)
	if def.PerKg == nil || !weighed || kg <= 0 {
		return d, false
	}
	said += ", " + amount(float64(int(v/kg*10+0.5))/10, at.Unit) + " per kg,"
	usual, known := schema.UsualIn(def.PerKg.Usual, stage)
	switch {
	case !def.PerKg.Plausible.Holds(v / kg):
		return Doubt{field, said + " is outside what is possible: " + span(def.PerKg.Plausible, at.Unit) + " per kg.", "Check the figure and the weight.", false}, true
	case known && !usual.Holds(v/kg):
		return Doubt{field, said + " is unusual: " + span(usual, at.Unit) + " per kg is usual.", "Is it right?", true}, true
	}
	return d, false
}

// meant says what was probably meant by a figure that cannot be, such as millimetres
// where centimetres are asked for.
func meant(v float64, f *schema.Field) string {
	p := calc.Box{UCUM: f.Unit, Min: f.Min, Max: f.Max}.Read(strconv.FormatFloat(v, 'f', -1, 64)).Problem
	if p != nil && p.Meant != "" {
		if i := strings.LastIndex(p.Do, "If "); i >= 0 {
			return "Check the figure. " + p.Do[i:]
		}
	}
	return "Check the figure and its unit."
}

// Depth is the attribute of an item that says how far in it lies: "depth", "mark at the
// skin", or where it has moved to.
func Depth(it schema.Item) *schema.Field {
	k := schema.ItemKindNamed(it.Kind)
	if k == nil {
		return nil
	}
	for _, name := range []string{"depth", "mark", "movedTo"} {
		if f := k.Field(name); f != nil {
			return it.Note().VariantAt(f, it.ID)
		}
	}
	return nil
}
