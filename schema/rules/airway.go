package rules

import (
	"fmt"
	"slices"

	"fairlead/schema"
)

var airwayRules = []entry{
	{Rule{"tube-unlike-weight", "A tube whose size or depth is unlike the weight", schema.Question, ranges},
		[]string{"items", "measures"}, tubeUnlikeWeight},
	{Rule{"cuff-not-answered", "A tube not said to be cuffed or uncuffed", schema.Error, ranges},
		[]string{"items"}, cuffNotAnswered},
	{Rule{"extubated-with-tube", "Breathing without a tube, and a tube listed", schema.Error, ranges},
		[]string{"ventilation", "items", "removals"}, extubatedWithTube},
	{Rule{"ventilated-without-airway", "Ventilated, and no airway listed", schema.Error, ranges},
		[]string{"ventilation", "items", "removals"}, ventilatedWithoutAirway},
	{Rule{"nitric-without-interface", "Nitric oxide without what it is given through", schema.Error, ranges},
		[]string{"ventilation"}, nitricInterface},
}

var tubes = []string{"oral-tube", "nasal-tube"}

// tubeSizes are inner diameters in mm by weight in kg, and depth at the lip in cm.
// From memory; a question, never a suggestion.
var tubeSizes = []struct{ under, low, high, shallow, deep float64 }{
	{1, 2.5, 2.5, 5.5, 7.5},
	{2, 2.5, 3, 6, 8.5},
	{3, 3, 3.5, 7.5, 10},
	{5, 3, 4, 8, 11.5},
	{8, 3.5, 4.5, 9.5, 13},
	{12, 4, 5, 11, 14.5},
	{18, 4, 5.5, 12, 17},
	{30, 4.5, 6.5, 14, 20},
	{150, 5.5, 9, 16, 26},
}

func tubeUnlikeWeight(l *look) {
	kg, ok := l.Number(schema.MeasuresWeight)
	if !ok {
		return
	}
	i := slices.IndexFunc(tubeSizes, func(s struct{ under, low, high, shallow, deep float64 }) bool { return kg < s.under })
	if i < 0 {
		return
	}
	s := tubeSizes[i]
	for _, it := range l.of("airway", tubes...) {
		if mm, ok := it.Number("size"); ok && (mm < s.low || mm > s.high) {
			l.find(it.Path("size"), fmt.Sprintf("%s is unusual at %s.", l.said(it.Path("size")), l.said(schema.MeasuresWeight)), "Read the tube again, or say why.", schema.MeasuresWeight)
		}
		low, high := s.shallow, s.deep
		if it.Text("variety") == "nasal-tube" {
			low, high = low+1.5, high+3 // ranges.md: nasal 1.5 to 3 more
		}
		if cm, ok := it.Number("depth"); ok && (cm < low || cm > high) {
			l.find(it.Path("depth"), fmt.Sprintf("%s is unusual at %s.", l.said(it.Path("depth")), l.said(schema.MeasuresWeight)), "Read the mark again, listen to both lungs, or say why.", schema.MeasuresWeight)
		}
	}
}

func cuffNotAnswered(l *look) {
	for _, it := range l.of("airway", "oral-tube", "nasal-tube", "tracheostomy") {
		if it.Text("cuffed") == "" {
			at := it.Path("cuffed")
			l.find(at, fmt.Sprintf("%s %s.", l.title(at), l.value(at)), "Say whether the tube has a cuff.")
		}
	}
}

func extubatedWithTube(l *look) {
	if !l.is(schema.VentilationBreathing, "own-breathing", "high-flow", "non-invasive") {
		return
	}
	for _, it := range l.stillIn("airway", tubes...) {
		l.find(schema.VentilationBreathing, fmt.Sprintf("%s, but %s is listed.", l.said(schema.VentilationBreathing), name(it)), "Correct the one that is wrong.", l.at(it, "variety"))
	}
}

func ventilatedWithoutAirway(l *look) {
	if l.is(schema.VentilationBreathing, "ventilated") && len(l.stillIn("airway", "oral-tube", "nasal-tube", "tracheostomy")) == 0 {
		l.find(schema.VentilationBreathing, fmt.Sprintf("%s, but no tube or tracheostomy is listed.", l.said(schema.VentilationBreathing)), "List the airway, or correct how the child breathes.")
	}
}

func nitricInterface(l *look) {
	if p := schema.VentilationNitricInterface; l.Has(schema.VentilationNitricOxide) && !l.Has(p) {
		l.find(p, fmt.Sprintf("%s %s, with %s.", l.title(p), l.value(p), l.said(schema.VentilationNitricOxide)), "Say what it is given through.", schema.VentilationNitricOxide)
	}
}
