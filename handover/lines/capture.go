package lines

import (
	"strconv"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// pacing is what pacing wires need and what the box gives, as last told.
type pacing struct {
	threshold, output float64
	tested, set       bool // whether each is known
	off               bool // nothing is paced through them: not at the box, or the box off
}

// outputOn is where the note has the output of the box, by what the wires pace.
var outputOn = map[string]schema.Path{"atrial": schema.LeavingAtrialOutput, "ventricular": schema.LeavingVentricularOutput}

// pacingOf reads what was told of the wires up to a moment: the latest note, and every
// test after it.
func (r Register) pacingOf(it InChild, at schema.Moment) pacing {
	var p pacing
	p.threshold, p.tested = it.Item.Number("threshold")
	if at := it.Item.Text("connection"); at != "" {
		p.off = at != "connected"
	}
	if path := outputOn[it.Item.Text("variety")]; path != "" && r.note != nil && r.note.Relevant(schema.FieldAt(path)) {
		p.output, p.set = r.note.Number(path)
	}
	for _, x := range it.Tests {
		if t := x.Facts.Test; t != nil && !x.At.After(at) {
			p.take(t)
		}
	}
	return p
}

// take takes up what one test says.
func (p *pacing) take(t *ledger.WireTest) {
	if v, err := strconv.ParseFloat(t.Threshold, 64); err == nil {
		p.threshold, p.tested = v, true
	}
	if v, err := strconv.ParseFloat(t.Output, 64); err == nil {
		p.output, p.set = v, true
	}
	if t.Connection != "" {
		p.off = t.Connection != "connected"
	}
	if t.Mode != "" && t.Connection == "" {
		m := strings.ToLower(strings.TrimSpace(t.Mode))
		p.off = m == "off" || m == "standby"
	}
}

// captureWords says what is wrong between output and threshold; "" for nothing. That an
// output no higher than the threshold has nothing to spare is arithmetic; by how much it
// should be higher is the unit's setting, and asked about only where that is in force.
func (r Register) captureWords(p pacing) string {
	const slack = 1e-9 // of decimals as binary fractions
	if !p.tested || !p.set || p.off {
		return ""
	}
	output, threshold := "The output "+amount(p.output, "mA"), amount(p.threshold, "mA")
	do := " Raise the output, or test the wires again."
	switch {
	case p.output < p.threshold-slack:
		return output + " is under the threshold " + threshold + ": the heart may not be captured." + do
	case p.output <= p.threshold+slack:
		return output + " is no more than the threshold " + threshold + ": the heart may not be captured." + do
	case r.margin > 0 && p.output < r.margin*p.threshold-slack:
		return output + " is under " + amount(r.margin, "") + " times the threshold " + threshold + " (the unit's setting)." + do
	}
	return ""
}

// captureDoubt is what is asked before a test is recorded that tells of the threshold or
// the output; what the test does not tell holds as it was told last.
func (r Register) captureDoubt(it InChild, figures map[string]float64, at schema.Moment) (d Doubt, ok bool) {
	threshold, tested := figures["threshold"]
	output, set := figures["output"]
	if it.Item.Kind != "pacing-wires" || !tested && !set {
		return d, false
	}
	p := r.pacingOf(it, at)
	p.off = false // one who tests them or sets the box means to pace
	if tested {
		p.threshold, p.tested = threshold, true
	}
	if set {
		p.output, p.set = output, true
	}
	d = Doubt{"output", r.captureWords(p), "Check both figures; if they are right, say so.", true}
	return d, d.What != ""
}

// marginOf is the multiple of the threshold under which the unit asks about an output;
// 0 while it is not in force.
func marginOf(p *profile.Profile) float64 {
	if v, _, ok := p.Number(profile.PacingMargin); ok {
		return v
	}
	return 0
}
