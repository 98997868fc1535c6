package rules

import (
	"fmt"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

var pacingRules = []entry{
	{Rule{"paced-without-route", "Paced, but nothing listed to pace that chamber through", schema.Error, ranges},
		[]string{"leaving", "items", "removals"}, pacedWithoutRoute},
	{Rule{"rhythm-and-pacing", "A paced rhythm and pacing that do not agree", schema.Error, ranges},
		[]string{"leaving"}, rhythmAndPacing},
	{Rule{"pacing-margin", "A pacing output under twice the threshold", schema.Question, ranges},
		[]string{"leaving", "items"}, pacingMargin},
	{Rule{"wires-wrong-port", "Wires connected to the other chamber's port", schema.Question, ranges},
		[]string{"items"}, wiresWrongPort},
}

// chambers are the chambers the box paces in the mode that is set.
func (l *look) chambers() []string {
	switch l.Text(schema.LeavingPacing) {
	case "atrial":
		return []string{"atrial"}
	case "ventricular", "atrial-sensed-ventricular":
		return []string{"ventricular"}
	case "dual":
		return []string{"atrial", "ventricular"}
	}
	return nil
}

func pacedWithoutRoute(l *look) {
	at := schema.LeavingPacing
	switch route := l.Text(schema.LeavingPacingRoute); route {
	case "wires", "":
		for _, chamber := range l.chambers() {
			if len(l.stillIn("pacing-wires", chamber)) > 0 || route == "" && len(l.stillIn("implant", "generator")) > 0 {
				continue
			}
			l.find(at, fmt.Sprintf("%s, but no %s wires are listed.", l.said(at), chamber),
				"List the wires, or correct the mode or what the heart is paced through.", schema.LeavingPacingRoute)
		}
	case "generator":
		if len(l.chambers()) > 0 && len(l.stillIn("implant", "generator")) == 0 {
			l.find(at, fmt.Sprintf("%s through a generator, but no generator is listed.", l.said(at)),
				"List the generator, or correct what the heart is paced through.", schema.LeavingPacingRoute)
		}
	}
}

func rhythmAndPacing(l *look) {
	rhythm := l.Text(schema.LeavingRhythm)
	if !strings.HasSuffix(rhythm, "-paced") {
		return
	}
	off := l.none(schema.LeavingPacing) || l.is(schema.LeavingPacing, "standby")
	fits := map[string][]string{"atrial-paced": {"atrial", "dual"}, "ventricular-paced": {"ventricular", "dual", "atrial-sensed-ventricular"},
		"dual-paced": {"dual", "atrial-sensed-ventricular"}}[rhythm]
	if off || l.Has(schema.LeavingPacing) && !l.is(schema.LeavingPacing, fits...) {
		l.find(schema.LeavingRhythm, fmt.Sprintf("%s, but %s.", l.said(schema.LeavingRhythm), l.said(schema.LeavingPacing)),
			"Correct the rhythm or the pacing.", schema.LeavingPacing)
	}
}

func pacingMargin(l *look) {
	margin, ok := l.number(profile.PacingMargin)
	if !ok {
		return
	}
	output := map[string]schema.Path{"atrial": schema.LeavingAtrialOutput, "ventricular": schema.LeavingVentricularOutput}
	for _, it := range l.items("pacing-wires") {
		at := output[it.Text("variety")]
		out, has := l.Number(at)
		threshold, tested := it.Number("threshold")
		if at != "" && has && tested && l.Relevant(l.FieldAt(at)) && over(margin*threshold, out) {
			l.find(at, fmt.Sprintf("%s is under %s times the %s.", l.said(at), shown(margin), l.said(it.Path("threshold"))),
				"Raise the output, test the wires again, or say why it is kept.", it.Path("threshold"))
		}
	}
}

func wiresWrongPort(l *look) {
	for _, it := range l.items("pacing-wires") {
		port, variety := it.Text("boxPort"), it.Text("variety")
		if port != "" && it.Text("connection") == "connected" && (variety == "atrial" || variety == "ventricular") && port != variety {
			l.find(it.Path("boxPort"), fmt.Sprintf("%s, but these are %s wires.", l.said(it.Path("boxPort")), variety), "Look at the box and the wires, and correct the one that is wrong.", it.Path("variety"))
		}
	}
}
