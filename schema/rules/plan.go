package rules

import (
	"fmt"
	"slices"
	"strings"

	"fairlead/schema"
)

var planRules = []entry{
	{Rule{"plan-names-unlisted", "The plan refers to a thing that is not listed", schema.Question, ranges},
		[]string{"plan", "care", "items", "removals"}, planNamesUnlisted},
	{Rule{"target-backwards", "A target that ends below where it begins", schema.Error, "common practice, no source"},
		[]string{"plan"}, targetBackwards},
}

// things are what a plan may speak of, longer names first, and the items that are
// it. An empty variety is any.
var things = []struct {
	words     string
	kind      string
	varieties []string
}{
	{"left atrial line", "intracardiac-line", []string{"left-atrial"}},
	{"right atrial line", "intracardiac-line", []string{"right-atrial"}},
	{"common atrial line", "intracardiac-line", []string{"common-atrial"}},
	{"pulmonary artery line", "intracardiac-line", []string{"pulmonary-artery"}},
	{"atrial line", "intracardiac-line", []string{"right-atrial", "left-atrial", "common-atrial"}},
	{"intracardiac line", "intracardiac-line", nil},
	{"jugular line", "central-venous-line", []string{"jugular", "tunnelled", "sheath"}},
	{"neck line", "central-venous-line", []string{"jugular", "subclavian", "tunnelled", "sheath"}},
	{"femoral line", "central-venous-line", []string{"femoral"}},
	{"central line", "central-venous-line", nil},
	{"arterial line", "arterial-line", nil},
	{"atrial wires", "pacing-wires", []string{"atrial"}},
	{"ventricular wires", "pacing-wires", []string{"ventricular"}},
	{"pacing wires", "pacing-wires", nil},
	{"right pleural drain", "drain", []string{"right-pleural"}},
	{"left pleural drain", "drain", []string{"left-pleural"}},
	{"pleural drain", "drain", []string{"right-pleural", "left-pleural"}},
	{"mediastinal drain", "drain", []string{"mediastinal"}},
	{"pericardial drain", "drain", []string{"pericardial"}},
	{"peritoneal drain", "drain", []string{"peritoneal"}},
	{"chest drain", "drain", []string{"mediastinal", "right-pleural", "left-pleural", "pericardial"}},
	{"dialysis catheter", "dialysis-catheter", nil},
	{"urinary catheter", "gut-and-bladder", []string{"urinary-catheter", "suprapubic-catheter"}},
	{"gastric tube", "gut-and-bladder", []string{"gastric-tube", "transpyloric-tube", "gastrostomy"}},
	{"membrane", "left-on-purpose", []string{"membrane"}},
	{"packs", "left-on-purpose", []string{"packs", "swabs"}},
	{"spreader", "left-on-purpose", []string{"sternal-spreader"}},
	{"snare", "left-on-purpose", []string{"snare"}},
}

// planTexts are the fields of the plan in words.
func (l *look) planTexts() []schema.Path {
	at := []schema.Path{schema.CareLineRemoval, schema.CareChestClosure, schema.CarePacing, schema.CareFluids, schema.CareVentilationPlan,
		schema.PlanDesaturation, schema.PlanBleeding, schema.PlanRemarks}
	for _, row := range l.Rows(schema.PlanWorries) {
		at = append(at, schema.PlanWorriesWorry.In(row), schema.PlanWorriesSign.In(row), schema.PlanWorriesAction.In(row))
	}
	return at
}

// singular lets "drains" and "lines" stand for what they are many of.
func singular(words []string) []string {
	out := slices.Clone(words)
	for i, w := range out {
		switch w {
		case "drains", "lines", "catheters", "tubes", "membranes", "spreaders", "snares":
			out[i] = strings.TrimSuffix(w, "s")
		case "wire":
			out[i] = "wires"
		case "pack":
			out[i] = "packs"
		}
	}
	return out
}

func planNamesUnlisted(l *look) {
	for _, at := range l.planTexts() {
		words := singular(fields(l.Text(at)))
		for _, t := range things {
			name := strings.Fields(t.words)
			i := index(words, name)
			if i < 0 {
				continue
			}
			denied := i > 0 && slices.Contains([]string{"no", "without", "not", "needs", "need", "insert", "place", "new"}, words[i-1])
			if !denied && len(l.stillIn(t.kind, t.varieties...)) == 0 {
				l.find(at, fmt.Sprintf("%s speaks of %s, and none is listed.", l.title(at), quoted(t.words)), "List it, or correct the plan.")
			}
			for j := range name { // a longer name is not read again as a shorter one
				words[i+j] = ""
			}
		}
	}
}

func targetBackwards(l *look) {
	for _, row := range l.Rows(schema.PlanTargets) {
		low, ok1 := l.Number(schema.PlanTargetsLow.In(row))
		high, ok2 := l.Number(schema.PlanTargetsHigh.In(row))
		if p := schema.PlanTargetsHigh.In(row); ok1 && ok2 && high < low {
			l.find(p, fmt.Sprintf("%s is below %s.", l.said(p), l.said(schema.PlanTargetsLow.In(row))), "Correct the one that is wrong.", schema.PlanTargetsLow.In(row))
		}
	}
}
