package rules

import (
	"fmt"
	"math"
	"slices"

	"fairlead/schema"
)

var pressureRules = []entry{
	{Rule{"pressure-does-not-fit", "A pressure whose name does not fit the line it is read from, or the stage", schema.Error, ranges},
		[]string{"pressures", "items", "before"}, pressureFit},
	{Rule{"pressure-not-in-order", "Systolic, mean and diastolic pressure not in this order", schema.Error, "common practice, no source"},
		[]string{"pressures"}, pressureOrder},
	{Rule{"arm-may-read-low", "An arm whose pressure may read low", schema.Question, ranges},
		[]string{"pressures", "items", "supply", "anatomy", "support"}, armReadsLow},
	{Rule{"filling-pressures", "Atrial pressure not below the Glenn or Fontan pressure", schema.Question, ranges},
		[]string{"stage2", "stage3", "pressures"}, fillingPressures},
	{Rule{"gradient-disagrees", "A gradient that is not the difference of its pressures", schema.Question, ranges},
		[]string{"stage2", "stage3"}, gradientDisagrees},
	{Rule{"common-atrial-sample", "A common-atrial sample used as mixed venous", schema.Error, ranges},
		[]string{"gas"}, commonAtrialSample},
}

type reading struct {
	row, pressure, method string
	at                    schema.Path // of the name of the pressure
}

func (l *look) readings() []reading {
	var out []reading
	for _, row := range l.Rows(schema.PressuresReadings) {
		p := schema.PressuresReadingsPressure.In(row)
		out = append(out, reading{row, l.Text(p), l.Text(schema.PressuresReadingsMethod.In(row)), p})
	}
	return out
}

// upperBody are the central lines whose tip lies in the upper caval vein, the
// lung's own pressure once it is connected.
var upperBody = []string{"jugular", "subclavian"}

// afterGlenn tells whether the upper caval vein is connected to the lungs at the
// end of this operation; after a takedown it may be or not.
func (l *look) afterGlenn() bool {
	switch l.Kind() {
	case schema.Stage2, schema.Stage3:
		return true
	case schema.Takedown, schema.Stage1:
		return false
	}
	if slices.Contains(l.ctx.Recorded, schema.Stage2) || l.is(schema.BeforeStageTwo, "recorded-here", "done-elsewhere") {
		return true
	}
	for _, row := range l.Rows(schema.BeforeOperations) {
		if l.is(schema.BeforeOperationsOperation.In(row), "stage-2", "stage-3") {
			return true
		}
	}
	return false
}

// misfit says why a pressure of this name cannot come from this item, or "".
func (l *look) misfit(pressure string, it schema.Item) string {
	variety, tip := it.Text("variety"), it.Text("tip")
	arterial := it.Kind == "arterial-line"
	central := it.Kind == "central-venous-line"
	inside := it.Kind == "intracardiac-line"
	upper := central && slices.Contains(upperBody, variety)
	lower := central && (variety == "femoral" || variety == "umbilical-venous" || variety == "transhepatic")
	switch pressure {
	case "arterial":
		if !arterial {
			return "an arterial pressure comes from an arterial line"
		}
	case "right-arm", "left-arm":
		arm := []string{"radial", "ulnar", "brachial", "axillary"}
		side := map[string]string{"right-arm": "right", "left-arm": "left"}[pressure]
		if !arterial || !slices.Contains(arm, variety) || it.Text("side") != "" && it.Text("side") != side {
			return "the pressure of this arm comes from an arterial line in it"
		}
	case "leg":
		leg := []string{"femoral", "posterior-tibial", "dorsalis-pedis", "umbilical-arterial", "sheath"}
		if !arterial || !slices.Contains(leg, variety) {
			return "a leg pressure comes from an arterial line of the lower body"
		}
	case "central-venous":
		switch {
		case upper && l.afterGlenn():
			return "after a Glenn a line in the neck reads the lung artery, not a central venous pressure"
		case !central && !(inside && variety == "right-atrial"):
			return "a central venous pressure comes from a central venous or a right atrial line"
		}
	case "femoral-venous":
		if !lower {
			return "a femoral venous pressure comes from a line of the lower body"
		}
	case "glenn":
		switch {
		case l.Kind() == schema.Stage1:
			return "there is no Glenn at stage 1"
		case lower, arterial, inside && variety != "pulmonary-artery", !central && !inside:
			return "a Glenn pressure comes from a line in the neck or the lung artery"
		}
	case "fontan":
		switch {
		case l.Kind() == schema.Stage1 || l.Kind() == schema.Stage2:
			return "there is no Fontan before stage 3"
		case !central && !(inside && variety == "pulmonary-artery"):
			return "a Fontan pressure comes from a central venous or a pulmonary artery line"
		}
	case "right-atrial", "left-atrial", "common-atrial":
		fits := map[string][]string{"right-atrial": {"right-atrial", "common-atrial"}, "left-atrial": {"left-atrial", "common-atrial"},
			"common-atrial": {"common-atrial", "right-atrial", "left-atrial"}}[pressure]
		tips := map[string][]string{"right-atrial": {"right-atrium", "common-atrium"}, "left-atrial": {"left-atrium"},
			"common-atrial": {"common-atrium", "right-atrium", "left-atrium"}}[pressure]
		if !(inside && slices.Contains(fits, variety)) && !(central && slices.Contains(tips, tip)) {
			return "this atrial pressure comes from a line with its tip in that atrium"
		}
	case "pulmonary-artery":
		if !(inside && variety == "pulmonary-artery") && !(central && tip == "pulmonary-artery") {
			return "a pulmonary artery pressure comes from a line with its tip there"
		}
	case "ventricular":
		if tip != "systemic-ventricle" {
			return "a ventricular pressure comes from a line with its tip there"
		}
	}
	return ""
}

func pressureFit(l *look) {
	for _, r := range l.readings() {
		item := schema.PressuresReadingsItem.In(r.row)
		it, ok := l.listed(l.Text(item))
		if r.method != "line" || r.pressure == "" || !ok {
			continue
		}
		if why := l.misfit(r.pressure, it); why != "" {
			l.find(r.at, fmt.Sprintf("%s is said to be read from %s, but %s.", l.said(r.at), name(it), why),
				"Correct the name of the pressure or the line it is read from.", item)
		}
	}
}

func pressureOrder(l *look) {
	for _, r := range l.readings() {
		s, d, m := schema.PressuresReadingsSystolic.In(r.row), schema.PressuresReadingsDiastolic.In(r.row), schema.PressuresReadingsMean.In(r.row)
		for _, pair := range [][2]schema.Path{{s, d}, {s, m}, {m, d}} {
			high, ok1 := l.Number(pair[0])
			low, ok2 := l.Number(pair[1])
			if ok1 && ok2 && high < low {
				l.find(pair[0], fmt.Sprintf("%s is below %s.", l.said(pair[0]), l.said(pair[1])), "Read the three figures again.", pair[1])
			}
		}
	}
}

// armOf is the arm an arterial line lies in, or "".
func armOf(it schema.Item) string {
	if it.Kind != "arterial-line" || !slices.Contains([]string{"radial", "ulnar", "brachial", "axillary"}, it.Text("variety")) {
		return ""
	}
	switch it.Text("side") {
	case "right", "left":
		return it.Text("side") + "-arm"
	}
	return ""
}

// lowArms are the arms whose pressure may read low, each with the reason and the
// place that says so.
func (l *look) lowArms() map[string]struct {
	why string
	at  schema.Path
} {
	type reason = struct {
		why string
		at  schema.Path
	}
	low := map[string]reason{}
	side := l.Text(schema.SupplySide)
	if l.is(schema.SupplyKind, "modified-blalock-taussig-thomas") && l.is(schema.SupplyFrom, "innominate-artery", "subclavian-artery") && (side == "right" || side == "left") {
		low[side+"-arm"] = reason{"it is on the side of the shunt", schema.SupplySide}
	}
	if side := l.Text(schema.AnatomyAberrantSubclavian); side == "right" || side == "left" {
		low[side+"-arm"] = reason{"its subclavian artery is aberrant", schema.AnatomyAberrantSubclavian}
	}
	// A graft on the innominate artery that was clipped or kept narrows the vessel
	// to the right arm (mirror-image branching: to the left).
	if l.is(schema.SupportInflowGraftFate, "clipped-stump", "left-for-support") && l.chose(schema.SupportArterialCannulation, "innominate-graft") {
		arm := "right-arm"
		if l.is(schema.AnatomyArchBranching, "mirror-image") {
			arm = "left-arm"
		}
		if _, ok := low[arm]; !ok {
			low[arm] = reason{"a graft was clamped on the artery that feeds it", schema.SupportInflowGraftFate}
		}
	}
	return low
}

func armReadsLow(l *look) {
	low := l.lowArms()
	ask := func(at schema.Path, arm, read string) {
		r, ok := low[arm]
		if !ok || l.chose(schema.PressuresMisleadingLimbs, arm) {
			return
		}
		l.find(at, fmt.Sprintf("%s: the %s is measured here, and it may read low: %s.", read, lower(l.label(schema.PressuresMisleadingLimbs, arm)), r.why),
			"Compare another limb, and name this one under “Limbs whose pressure misleads”.", r.at)
	}
	for _, it := range l.items("arterial-line") {
		ask(it.Path("side"), armOf(it), l.said(it.Path("side")))
	}
	for _, r := range l.readings() {
		at := schema.PressuresReadingsLimb.In(r.row)
		if r.method == "cuff" {
			ask(at, l.Text(at), l.said(at))
		}
	}
}

// venousAndAtrial are the pairs of lung-artery and atrial pressure a note holds.
func (l *look) venousAndAtrial() [][2]schema.Path {
	pairs := [][2]schema.Path{{schema.Stage2CavalPressure, schema.Stage2AtrialPressure}, {schema.Stage3ConduitPressure, schema.Stage3AtrialPressure}}
	for _, lung := range l.readings() {
		if lung.pressure != "glenn" && lung.pressure != "fontan" {
			continue
		}
		for _, atrium := range l.readings() {
			if atrium.pressure == "left-atrial" || atrium.pressure == "common-atrial" || atrium.pressure == "right-atrial" && lung.pressure == "glenn" {
				pairs = append(pairs, [2]schema.Path{schema.PressuresReadingsMean.In(lung.row), schema.PressuresReadingsMean.In(atrium.row)})
			}
		}
	}
	return pairs
}

func fillingPressures(l *look) {
	for _, pair := range l.venousAndAtrial() {
		lung, ok1 := l.Number(pair[0])
		atrium, ok2 := l.Number(pair[1])
		if ok1 && ok2 && atrium >= lung {
			l.find(pair[1], fmt.Sprintf("%s is not below %s.", l.said(pair[1]), l.said(pair[0])), "Zero both transducers again and read both at the same moment.", pair[0])
		}
	}
	for _, p := range []schema.Path{schema.Stage2Gradient, schema.Stage3Gradient} {
		if g, ok := l.Number(p); ok && g < 0 {
			l.find(p, fmt.Sprintf("%s is negative.", l.said(p)), "Zero both transducers again and read both at the same moment.")
		}
	}
}

func gradientDisagrees(l *look) {
	for _, g := range [][3]schema.Path{{schema.Stage2Gradient, schema.Stage2CavalPressure, schema.Stage2AtrialPressure},
		{schema.Stage3Gradient, schema.Stage3ConduitPressure, schema.Stage3AtrialPressure}} {
		entered, ok1 := l.Number(g[0])
		lung, ok2 := l.Number(g[1])
		atrium, ok3 := l.Number(g[2])
		// Half a unit is the rounding of figures read to whole mmHg.
		if ok1 && ok2 && ok3 && over(math.Abs(entered-(lung-atrium)), 0.5) {
			l.find(g[0], fmt.Sprintf("%s, but %s less %s is %s mmHg.", l.said(g[0]), l.said(g[1]), l.said(g[2]), shown(lung-atrium)),
				"Correct the figure that is wrong, or say why they differ.", g[1], g[2])
		}
	}
}

func commonAtrialSample(l *look) {
	if l.is(schema.GasVenousSite, "common-atrial") && l.Has(schema.GasVenousSaturation) {
		l.find(schema.GasVenousSite, fmt.Sprintf("%s, with %s: blood of the common atrium has mixed with blood from the lungs and is not mixed venous.", l.said(schema.GasVenousSite), l.said(schema.GasVenousSaturation)),
			"Take the figure out, or enter a sample from the superior caval vein.", schema.GasVenousSaturation)
	}
}
