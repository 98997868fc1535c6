package rules

import (
	"fmt"
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

var lungFlowRules = []entry{
	{Rule{"azygos-tied", "The azygos vein tied where the lower body drains through it", schema.Error, ranges},
		[]string{"stage2", "veins"}, azygosTied},
	{Rule{"supply-does-not-fit", "A source of lung flow that does not fit the operation", schema.Error, ranges},
		[]string{"stage1", "supply"}, supplyFit},
	{Rule{"old-supply-open", "What became of the previous lung supply does not hold together", schema.Error, ranges},
		[]string{"stage2"}, oldSupply},
	{Rule{"old-supply-listed", "The previous lung supply in the list of what is in the child does not agree with what became of it", schema.Question, "clinical.md 6: nothing leaves the list without an event that says how"},
		[]string{"stage2"}, oldSupplyListed},
	{Rule{"caval-route-missing", "A stage 3 without both caval veins on the way to the lungs", schema.Error, ranges},
		[]string{"stage3", "before", "work"}, cavalRoutes},
	{Rule{"fenestration-disagrees", "A fenestration and its size or snare that do not agree", schema.Error, ranges},
		[]string{"stage3", "items"}, fenestrationFit},
	{Rule{"fenestration-saturation", "A saturation unusual for the fenestration", schema.Question, ranges},
		[]string{"stage3", "leaving"}, fenestrationSaturation},
	{Rule{"anticoagulation-missing", "A shunt, conduit or connection without an anticoagulation plan and its hold condition", schema.Question, ranges},
		[]string{"anticoagulation", "supply", "stage2", "stage3"}, anticoagulationMissing},
	{Rule{"protamine-with-heparin", "Protamine given with heparin running", schema.Question, ranges},
		[]string{"clotting", "infusions"}, protamineWithHeparin},
	{Rule{"prostaglandin-after-supply", "Prostaglandin running after a secure shunt or stent", schema.Question, ranges},
		[]string{"infusions", "before", "supply", "hybrid"}, prostaglandinAfter},
	{Rule{"shunt-state-on-support", "State of the shunt not known while on support", schema.Question, ranges},
		[]string{"leaving", "mechanical", "supply"}, shuntOnSupport},
}

func azygosTied(l *look) {
	if !l.is(schema.Stage2Azygos, "ligated", "clipped") {
		return
	}
	switch {
	case l.is(schema.VeinsInferiorCavalVein, "interrupted-azygos", "interrupted-hemiazygos"):
		l.find(schema.Stage2Azygos, fmt.Sprintf("%s, but %s: the lower body's blood has no other way.", l.said(schema.Stage2Azygos), l.said(schema.VeinsInferiorCavalVein)),
			"Correct the one that is wrong; if both are right, tell the surgeon now.", schema.VeinsInferiorCavalVein)
	case l.is(schema.Stage2Connection, "kawashima"):
		l.find(schema.Stage2Azygos, fmt.Sprintf("%s, but %s: the lower body's blood has no other way.", l.said(schema.Stage2Azygos), l.said(schema.Stage2Connection)),
			"Correct the one that is wrong; if both are right, tell the surgeon now.", schema.Stage2Connection)
	}
}

// suppliesOf are the sources of lung flow each form of stage 1 leaves. A form that
// is not here is not judged.
var suppliesOf = map[string][]string{
	"norwood":                 {"modified-blalock-taussig-thomas", "central-shunt", "ventricle-pulmonary-conduit"},
	"damus-kaye-stansel-arch": {"modified-blalock-taussig-thomas", "central-shunt", "ventricle-pulmonary-conduit"},
	"damus-kaye-stansel":      {"modified-blalock-taussig-thomas", "central-shunt", "ventricle-pulmonary-conduit"},
	"hybrid":                  {"branch-bands"},
	"shunt-alone":             {"modified-blalock-taussig-thomas", "central-shunt", "ventricle-pulmonary-conduit"},
	"main-pulmonary-band":     {"main-pulmonary-band"},
	"ductal-stent-alone":      {"ductal-stent"},
	"bands-prostaglandin":     {"branch-bands"},
}

func supplyFit(l *look) {
	if l.Kind() != schema.Stage1 {
		return
	}
	form := l.Text(schema.Stage1Form)
	fits, known := suppliesOf[form]
	switch {
	case l.Stated(schema.SupplyKind) != "":
		l.find(schema.SupplyKind, fmt.Sprintf("%s: after stage 1 what feeds the lungs must be named.", l.said(schema.SupplyKind)),
			"Choose the shunt, conduit, band, stent or duct.", schema.Stage1Form)
	case known && l.Has(schema.SupplyKind) && !l.is(schema.SupplyKind, fits...):
		l.find(schema.SupplyKind, fmt.Sprintf("%s does not fit %s.", l.said(schema.SupplyKind), l.said(schema.Stage1Form)),
			"Correct the operation or what feeds the lungs.", schema.Stage1Form)
	}
}

func oldSupply(l *look) {
	if l.Kind() != schema.Stage2 {
		return
	}
	at, flow := schema.Stage2OldSupply, schema.Stage2AdditionalFlow
	switch {
	case l.Stated(at) == schema.StatedUnknown:
		l.find(at, fmt.Sprintf("%s: what became of the earlier supply must be said.", l.said(at)), "Say whether it was divided, clipped, oversewn, taken out or left, and why.")
	case l.is(at, "left-open") && l.none(flow):
		l.find(at, fmt.Sprintf("%s, but %s.", l.said(at), l.said(flow)), "Correct the one that is wrong.", flow)
	case (l.is(at, "divided", "taken-out", "clipped-and-divided") || l.none(at)) && l.is(flow, "shunt-left", "shunt-banded"):
		l.find(at, fmt.Sprintf("%s, but %s.", l.said(at), l.said(flow)), "Correct the one that is wrong.", flow)
	}
	if l.is(at, "left-open") && l.Has(flow) && l.Stated(schema.Stage2OldSupplyWhy) != "" {
		l.find(schema.Stage2OldSupplyWhy, fmt.Sprintf("%s is not said.", l.title(schema.Stage2OldSupplyWhy)), "Say why it was left.", at)
	}
}

// oldSupplyListed holds what became of the earlier supply against the list that the
// note began with. What was divided, clipped or oversewn stays in it.
func oldSupplyListed(l *look) {
	at, named := schema.Stage2OldSupply, schema.Stage2OldSupplyItems
	var in, out []string
	for _, it := range l.ctx.Register {
		switch {
		case !it.FeedsLungs() || slices.Contains(l.OldSupplyOut(), it.ID):
		case slices.Contains(l.ctx.Out, it.ID):
			out = append(out, name(it))
		default:
			in = append(in, name(it))
		}
	}
	switch {
	case l.is(at, "taken-out") && len(in) > 0:
		l.find(named, fmt.Sprintf("%s, but as still in the list has: %s.", l.said(at), strings.Join(in, "; ")), "Choose here what was taken out; if it is still in, correct what became of it, or say why.", at)
	case l.none(at) && len(in) > 0:
		l.find(at, fmt.Sprintf("%s, but as still in the list has: %s.", l.said(at), strings.Join(in, "; ")), "Say what became of it, or correct the list.")
	case l.Has(at) && !l.is(at, "taken-out") && len(in) == 0 && len(out) > 0:
		l.find(at, fmt.Sprintf("%s, but as out the list has: %s.", l.said(at), strings.Join(out, "; ")), "Look at the list, and correct the one that is wrong.")
	}
}

func cavalRoutes(l *look) {
	if l.Kind() != schema.Stage3 {
		return
	}
	if at := schema.Stage3Connection; l.Stated(at) != "" {
		l.find(at, fmt.Sprintf("%s: how the inferior caval vein reaches the lungs must be said.", l.said(at)), "Choose the connection.")
	}
	if at := schema.Stage3InferiorDivision; l.is(at, "not-divided") && l.is(schema.Stage3Connection, "extracardiac", "intra-extracardiac") {
		l.find(at, fmt.Sprintf("%s, but %s: the inferior caval vein still opens into the heart.", l.said(at), l.said(schema.Stage3Connection)), "Correct the one that is wrong.", schema.Stage3Connection)
	}
	upper := slices.Contains(l.ctx.Recorded, schema.Stage2) || l.is(schema.BeforeStageTwo, "recorded-here", "done-elsewhere") ||
		l.is(schema.Stage3Connection, "conversion")
	for _, row := range l.Rows(schema.BeforeOperations) {
		upper = upper || l.is(schema.BeforeOperationsOperation.In(row), "stage-2", "stage-3")
	}
	for _, row := range l.Rows(schema.WorkProcedures) {
		upper = upper || l.is(schema.WorkProceduresProcedure.In(row), "bidirectional-glenn", "hemi-fontan", "kawashima", "comprehensive-stage-2")
	}
	if at := schema.BeforeStageTwo; !upper {
		l.find(at, fmt.Sprintf("%s %s, and this operation connects no superior caval vein to the lungs.", l.title(at), l.value(at)),
			"Say that stage 2 was done, list it among the previous operations, or add the connection to the procedures.", schema.WorkProcedures)
	}
}

func fenestrationFit(l *look) {
	at := schema.Stage3Fenestration
	with := l.is(at, "open", "snared-open", "snared-closed", "closed")
	snares := slices.DeleteFunc(l.of("left-on-purpose", "snare"), func(it schema.Item) bool { return it.Text("site") != "fontan-pathway" })
	size, snare := schema.Stage3FenestrationDiameter, schema.Stage3Snare
	switch {
	case l.none(at):
		if l.Has(size) {
			l.find(size, fmt.Sprintf("%s, but %s.", l.said(size), l.said(at)), "Take the size out, or say that there is a fenestration.", at)
		}
		if l.Has(snare) {
			l.find(snare, fmt.Sprintf("%s, but %s.", l.said(snare), l.said(at)), "Take the snare out of the note, or say that there is a fenestration.", at)
		}
		for _, it := range snares {
			l.find(it.Path("site"), fmt.Sprintf("%s, but %s.", l.said(it.Path("site")), l.said(at)), "Correct the site of the snare, or say that there is a fenestration.", at)
		}
	case with && l.Stated(size) == schema.StatedNone:
		l.find(size, fmt.Sprintf("%s, but %s.", l.said(size), l.said(at)), "Give the size, or say that there is no fenestration.", at)
	case with && !l.is(at, "snared-open", "snared-closed") && l.Has(snare):
		l.find(snare, fmt.Sprintf("%s, but %s.", l.said(snare), l.said(at)), "Say that the fenestration is snared, or take the snare out.", at)
	}
	if with && !l.Answered(size) {
		l.find(size, fmt.Sprintf("%s is not recorded, but %s.", l.title(size), l.said(at)), "Give the size.", at)
	}
}

func fenestrationSaturation(l *look) {
	sat, ok := l.Number(schema.LeavingSaturation)
	if !ok || l.Kind() != schema.Stage3 {
		return
	}
	at := schema.Stage3Fenestration
	if high, on := l.number(profile.FenestrationOpen); on && sat >= high && l.is(at, "open", "snared-open") {
		l.find(schema.LeavingSaturation, fmt.Sprintf("%s with %s is unusual.", l.said(schema.LeavingSaturation), l.said(at)),
			"Check the saturation, and whether the fenestration is open, or say why.", at)
	}
	if low, on := l.number(profile.FenestrationClosed); on && sat < low && (l.none(at) || l.is(at, "closed", "snared-closed")) {
		l.find(schema.LeavingSaturation, fmt.Sprintf("%s with %s is unusual.", l.said(schema.LeavingSaturation), l.said(at)),
			"Look for another way from right to left, check the lungs, or say why.", at)
	}
}

// secureSupply is the place that says the lungs are fed through something made,
// or "".
func (l *look) secureSupply() schema.Path {
	if l.is(schema.SupplyKind, "modified-blalock-taussig-thomas", "central-shunt", "ventricle-pulmonary-conduit", "ductal-stent") {
		return schema.SupplyKind
	}
	if len(l.Rows(schema.HybridStents)) > 0 {
		return schema.HybridStents
	}
	return ""
}

func anticoagulationMissing(l *look) {
	at := schema.Path("")
	switch {
	case l.is(schema.SupplyKind, "modified-blalock-taussig-thomas", "central-shunt", "ventricle-pulmonary-conduit"):
		at = schema.SupplyKind
	case l.Kind() == schema.Stage3 && l.Has(schema.Stage3Connection):
		at = schema.Stage3Connection
	default:
		return
	}
	plan, hold := schema.AnticoagulationPlan, schema.AnticoagulationHold
	switch {
	case !l.Has(plan) || l.is(plan, "decide-later"):
		l.find(plan, fmt.Sprintf("%s %s, with %s.", l.title(plan), l.value(plan), l.said(at)), "Give the plan and when to hold it, or say why there is none.", at)
	case !l.Has(hold):
		l.find(hold, fmt.Sprintf("%s %s, with %s.", l.title(hold), l.value(hold), l.said(at)), "Say when it must be held.", at)
	}
}

func protamineWithHeparin(l *look) {
	given, ok := l.Number(schema.ClottingProtamine)
	if !ok || given == 0 {
		return
	}
	for _, f := range l.infusions() {
		if f.drug == "heparin" && f.state == "running" && !l.is(schema.InfusionsRunningDoseUnit.In(f.row), "mL/h") {
			l.find(schema.ClottingProtamine, fmt.Sprintf("%s, and %s is running.", l.said(schema.ClottingProtamine), l.named(f)),
				"Check that heparin is meant to run now, or say why.", schema.InfusionsRunningDrug.In(f.row))
		}
	}
}

func prostaglandinAfter(l *look) {
	secure := l.secureSupply()
	if secure == "" {
		return
	}
	for _, f := range l.infusions() {
		if f.goes() && (f.drug == "alprostadil" || f.drug == "dinoprostone") {
			p := schema.InfusionsRunningDrug.In(f.row)
			l.find(p, fmt.Sprintf("%s is on the pump, with %s.", l.said(p), l.said(secure)), "Check whether it should be stopped, or say why it runs.", secure)
		}
	}
	if p := schema.BeforeProstaglandin; l.is(p, "still-running") {
		l.find(p, fmt.Sprintf("%s, with %s.", l.said(p), l.said(secure)), "Check whether it should be stopped, or say why it runs.", secure)
	}
	if p := schema.HybridProstaglandinAfter; l.is(p, "continues") && len(l.Rows(schema.HybridStents)) > 0 {
		l.find(p, fmt.Sprintf("%s, with a stent in the duct.", l.said(p)), "Check whether it should be stopped, or say why it runs.", schema.HybridStents)
	}
}

func shuntOnSupport(l *look) {
	if !l.is(schema.LeavingSupport, "yes") {
		return
	}
	at := schema.MechanicalShunt
	if schema.KindNamed(l.Kind()) != nil && !slices.Contains(schema.KindNamed(l.Kind()).Sections, at.Section()) {
		if l.secureSupply() == "" {
			return // nothing here says there is a shunt
		}
		at = schema.SupplyState
	}
	if l.is(at, "not-known") || !l.Has(at) && !l.none(at) {
		l.find(at, fmt.Sprintf("%s %s, and the child is on mechanical support.", l.title(at), l.value(at)),
			"Say whether the shunt is open, narrowed or clipped: unknown is not open.", schema.LeavingSupport)
	}
}
