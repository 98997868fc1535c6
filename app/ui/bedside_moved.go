package ui

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/app/ui/typed"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// lengths are the units a place at the bed is told in.
var lengths = []string{"cm", "mm", "m", "inch", "inches"}

// placeFigures finds the figures with their units in the words for where a thing is now:
// "9.5 cm at the lip". leads tells whether the words begin with one.
func placeFigures(to string) (figures []string, leads bool) {
	words := strings.Fields(to)
	for i, w := range words {
		if !strings.ContainsAny(w, "0123456789") {
			continue
		}
		figure := strings.TrimRight(w, ".,;:)")
		unit := strings.ToLower(strings.TrimLeft(figure, "0123456789.,oOlI-+<>"))
		switch {
		case unit != "" && unit != figure && slices.Contains(lengths, unit):
		case i+1 < len(words) && slices.Contains(lengths, strings.ToLower(strings.Trim(words[i+1], ".,;:)"))):
			figure = w + " " + strings.Trim(words[i+1], ".,;:)")
		default:
			continue
		}
		figures = append(figures, figure)
		leads = leads || i == 0
	}
	return figures, leads
}

// movedDoubt judges where a thing is said to be now as the note judges its depth: wrong
// is why it cannot be recorded, and ask what is asked about it first. Where the words
// tell of several places it is not sure which is meant, and nothing is refused.
func movedDoubt(stage schema.Kind, it schema.Item, to string) (ask *lines.Doubt, wrong string) {
	def := lines.Depth(it)
	if def == nil {
		return nil, ""
	}
	words := strings.Fields(to)
	if len(words) > 1 && words[1] == "at" && strings.Trim(words[0], "0123456789.,") == "" {
		return nil, "“" + to + "” has no unit. Enter where it is now with its unit, such as " + strings.Replace(words[0], ",", ".", 1) + " " + schema.UnitShown(def.Unit) + " " + strings.Join(words[1:], " ") + "."
	}
	figures, leads := placeFigures(to)
	if len(figures) == 0 {
		return nil, ""
	}
	figure, sure := figures[0], leads || len(figures) == 1
	if !sure {
		figure = figures[len(figures)-1]
	}
	n, wrong := typed.Number(figure, def)
	if wrong != "" {
		return nil, wrong
	}
	v, err := strconv.ParseFloat(string(n.Decimal), 64)
	if err != nil {
		return nil, ""
	}
	d, ok := lines.AttributeDoubt(stage, it, def.Name, v)
	switch {
	case !ok:
		return nil, ""
	case !d.Ask && sure:
		return nil, d.Words()
	}
	d.Figure, d.Ask = "to", true
	return &d, ""
}
