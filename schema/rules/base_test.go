package rules_test

import (
	"encoding/json"
	"fmt"
	"sync"
	"testing"

	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

// Three notes of invented children on which no rule finds anything: each case of
// the table changes one of them. Their numbers lie inside the usual ranges of
// ranges.md (from memory).

// at is a time on the day of the operation, 14-Jul-2026.
func at(clock string) string { return "2026-07-14T" + clock + "+01:00[Europe/London]" }

// put sets path, value, path, value …
func put(n *schema.Note, pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		p, ok := pairs[i].(schema.Path)
		if !ok {
			p = schema.Path(pairs[i].(string))
		}
		v := pairs[i+1]
		if f, ok := v.(float64); ok {
			v = json.Number(fmt.Sprint(f))
		}
		if v == nil {
			n.Clear(p)
		} else if !n.Set(p, v) {
			panic("nothing to set at " + string(p))
		}
	}
}

// row adds a row with its fields by name.
func row(n *schema.Note, list schema.Path, id string, pairs ...any) {
	n.AddRow(list, id)
	for i := 0; i < len(pairs); i += 2 {
		put(n, schema.RowPath(list, id, pairs[i].(string)), pairs[i+1])
	}
}

// item lists an item with its attributes by name.
func item(n *schema.Note, kind, id string, tag int, pairs ...any) {
	n.AddItem(kind, id, tag)
	for i := 0; i < len(pairs); i += 2 {
		put(n, schema.ItemPath(id, pairs[i].(string)), pairs[i+1])
	}
}

func none(n *schema.Note, paths ...schema.Path) {
	for _, p := range paths {
		n.State(p, schema.StatedNone)
	}
}

func common(kind schema.Kind, birth string, kg, cm float64) *schema.Note {
	n := schema.NewNote(kind, "note-1", "case-1")
	put(n, schema.ChildSurname, "Alder", schema.ChildGivenName, "Wren", schema.ChildHospitalNumber, "X100200", schema.ChildBirthDate, birth,
		schema.ChildSex, "female",
		schema.MeasuresWeight, kg, schema.MeasuresLength, cm, schema.MeasuresDosingWeight, kg, schema.MeasuresDosingWeightBy, "A. Heron", schema.MeasuresDosingWeightAt, at("07:30"),
		schema.AnatomyDiagnosis, "hlhs",
		schema.OperationDate, "2026-07-14", schema.OperationIntoTheatre, at("08:00"), schema.OperationStarted, at("09:00"), schema.OperationClosed, at("13:30"),
		schema.OperationLeftTheatre, at("14:00"), schema.OperationSkinToSkin, 270, schema.OperationUrgency, "urgent", schema.OperationSurgeon, "B. Crane",
		schema.OperationSurgeonReach, "pager 1", schema.OperationAnaesthetist, "A. Heron", schema.OperationDiagnosisAfter, "the same", schema.ArrivalArrived, at("14:20"),
		schema.ApproachIncision, "median-sternotomy", schema.ApproachEntry, "uneventful", schema.ApproachRightPleura, "not-opened", schema.ApproachLeftPleura, "not-opened",
		schema.WorkSummary, "as planned", schema.WorkFindings, "as expected", schema.WorkEstimatedLoss, 40*kg/4,
		schema.ClosingSternum, "closed", schema.ClosingSkin, "absorbable-suture",
		schema.CountsSwabs, "correct", schema.CountsNeedles, "correct", schema.CountsInstruments, "correct", schema.CountsProcedureConfirmed, "yes",
		schema.AirwayDifficult, "no", schema.SupportMode, "bypass",
		schema.SupportArterialCannulation, []string{"ascending-aorta"}, schema.SupportVenousCannulation, []string{"bicaval"},
		schema.SupportBypassTotal, 120, schema.SupportClampTotal, 45,
		schema.PerfusionCoolingFrom, at("09:50"), schema.PerfusionCoolingMinutes, 25, schema.PerfusionLowestTemperatureAt, at("10:15"), schema.PerfusionRewarmingFrom, at("11:10"),
		schema.ClottingHeparin, 400, schema.ClottingProtamine, 4, schema.ClottingPlatelets, 150, schema.ClottingInr, 1.3, schema.ClottingClottingSampled, at("13:00"),
		schema.LeavingRhythm, "sinus", schema.LeavingSupport, "no", schema.LeavingInspiredOxygen, 0.4,
		schema.VentilationBreathing, "ventilated", schema.PlanFirstCall, "registrar on call",
		schema.AnticoagulationPlan, "heparin", schema.AnticoagulationStart, "when drains are dry", schema.AnticoagulationHold, "loss rises",
		schema.SigningWrittenBy, "B. Crane", schema.SigningWrittenAt, at("14:10"))
	none(n, schema.ChildAllergies, schema.OperationAssistants, schema.WorkRemoved, schema.WorkProblems, schema.WorkThromboprophylaxis,
		schema.CountsPacksIn, schema.CountsPacksPut, schema.CountsPacksOut, schema.CountsPacksLeft, schema.CountsSpecimensLabelled, schema.CountsEquipmentProblems,
		schema.CountsConcernsAnaesthetist, schema.CountsConcernsNurse, schema.AirwayThroatPack, schema.AirwayEchoProbe, schema.LeavingPacing, schema.PlanWorries, schema.PlanCalls, schema.PlanTargets,
		schema.VentilationNitricOxide)
	row(n, schema.WorkAntibiotics, "ab", "drug", "cefuroxime", "dose", 90.0, "given", at("08:30"), "next", at("16:30"))
	row(n, schema.SupportRuns, "run1", "on", at("09:40"), "off", at("11:40"), "minutes", 120, "flow", 150)
	row(n, schema.SupportClamps, "cl1", "on", at("10:05"), "off", at("10:50"), "minutes", 45)
	none(n, schema.SupportArrests, schema.SupportPerfusions)

	item(n, "airway", "tube", 1, "variety", "nasal-tube", "cuffed", "cuffed", "nostril", "right", "placed", at("08:20"))
	item(n, "central-venous-line", "jug", 2, "variety", "jugular", "side", "right", "site", "internal-jugular", "exit", "right-neck", "lumenCount", 2, "guidewire", "yes", "placed", at("08:40"))
	row(n, schema.ItemPath("jug", "lumens"), "prox", "name", "proximal", "state", "running")
	row(n, schema.ItemPath("jug", "lumens"), "dist", "name", "distal", "state", "running")
	item(n, "arterial-line", "art", 3, "variety", "femoral", "side", "left", "site", "femoral-artery", "exit", "left-groin", "gauge", 22, "placed", at("08:45"))
	item(n, "drain", "med", 4, "variety", "mediastinal", "drainage", "suction", "suction", 10, "exit", "subxiphoid", "placed", at("13:00"), "chamber", "pot")
	item(n, "drain-chamber", "pot", 5, "drains", []string{"med"}, "drainage", "suction", "suction", 10, "level", 20, "levelArrival", 24)
	item(n, "pacing-wires", "aw", 6, "variety", "atrial", "count", 2, "threshold", 2.0, "connection", "insulated", "placed", at("12:30"))
	item(n, "pacing-wires", "vw", 7, "variety", "ventricular", "count", 2, "threshold", 1.0, "connection", "insulated", "placed", at("12:30"))
	row(n, schema.InfusionsRunning, "adr", "drug", "adrenaline", "dose", 0.05, "doseUnit", "ug/kg/min", "item", "jug", "lumen", "proximal", "state", "running", "pumpWeight", kg)
	row(n, schema.InfusionsRunning, "mil", "drug", "milrinone", "dose", 0.5, "doseUnit", "ug/kg/min", "item", "jug", "lumen", "distal", "state", "running", "pumpWeight", kg)
	row(n, schema.PressuresReadings, "art", "pressure", "arterial", "systolic", 65, "diastolic", 32, "mean", 46, "method", "line", "item", "art")
	return n
}

func stage1() *schema.Note {
	n := common(schema.Stage1, "2026-07-08", 3.2, 49)
	put(n, schema.PerfusionLowestTemperature, 20.0, schema.SupportArrestTotal, 10, schema.SupportPerfusionTotal, 30,
		schema.Stage1Form, "norwood", schema.Stage1Septectomy, "excised", schema.SupplyKind, "modified-blalock-taussig-thomas", schema.SupplyShuntDiameter, 3.5, schema.SupplyFrom, "innominate-artery",
		schema.SupplyTo, "right-pulmonary-artery", schema.SupplySide, "right", schema.SupplyItem, "shunt", schema.SupplyState, "open", schema.SupplyOpened, at("11:30"),
		schema.BeforeProstaglandin, "stopped-before", schema.BeforeProstaglandinStopped, at("09:55"),
		schema.PressuresMisleadingLimbs, []string{"right-arm"}, schema.LeavingSaturation, 78, schema.PlanDesaturation, "hand ventilate, call",
		schema.CareSupportCandidate, "yes", schema.CareCannulationPlan, "through the chest")
	row(n, schema.SupportArrests, "ar1", "on", at("10:15"), "off", at("10:25"), "minutes", 10, "temperature", 20, "cooling", 25)
	row(n, schema.SupportPerfusions, "cp1", "on", at("10:25"), "off", at("10:55"), "minutes", 30, "flow", 50)
	put(n, "items.tube.size", 3.5, "items.tube.depth", 11.5, "items.jug.depth", 5)
	item(n, "implant", "shunt", 8, "variety", "shunt", "material", "eptfe", "lot", "L77", "serial", "S900", "expires", "2027-01-31", "placed", at("11:00"))
	item(n, "intracardiac-line", "ra", 9, "variety", "common-atrial", "size", 4, "mark", 8, "exit", "subxiphoid", "placed", at("12:40"))
	row(n, schema.ItemPath("ra", "lumens"), "one", "name", "single", "state", "transduced")
	row(n, schema.PressuresReadings, "ca", "pressure", "common-atrial", "mean", 8, "method", "line", "item", "ra")
	return n
}

func stage2() *schema.Note {
	n := common(schema.Stage2, "2026-03-10", 6, 62)
	put(n, schema.PerfusionLowestTemperature, 32.0, schema.BeforeStageOne, "done-elsewhere", schema.Stage2Connection, "glenn-right", schema.Stage2RightCavalVein, "connected",
		schema.Stage2OldSupply, "divided", schema.Stage2Azygos, "ligated", schema.Stage2CavalPressure, 13, schema.Stage2AtrialPressure, 7, schema.Stage2Gradient, 6,
		schema.VeinsRightSuperiorCavalVein, "present", schema.VeinsInferiorCavalVein, "right", schema.LeavingSaturation, 82, schema.CareExtubation, "tonight", schema.CareHeadUp, "30 degrees",
		schema.CareSupportCandidate, "no")
	none(n, schema.Stage2AdditionalFlow, schema.Stage2LeftCavalVein, schema.VeinsLeftSuperiorCavalVein)
	put(n, schema.PressuresReadingsMean.In("art"), 55, schema.PressuresReadingsSystolic.In("art"), 80, schema.PressuresReadingsDiastolic.In("art"), 42)
	put(n, "items.tube.size", 4, "items.tube.depth", 13, "items.jug.depth", 6)
	row(n, schema.PressuresReadings, "gl", "pressure", "glenn", "mean", 13, "method", "line", "item", "jug")
	return n
}

func stage3() *schema.Note {
	n := common(schema.Stage3, "2023-05-02", 14, 95)
	put(n, schema.PerfusionLowestTemperature, 34.0, schema.BeforeStageOne, "done-elsewhere", schema.BeforeStageTwo, "done-elsewhere",
		schema.ApproachSternotomyNumber, 3, schema.Stage3Connection, "extracardiac", schema.Stage3ConduitDiameter, 18, schema.Stage3ConduitItem, "tube18",
		schema.Stage3InferiorDivision, "at-atrium", schema.Stage3Fenestration, "open", schema.Stage3FenestrationDiameter, 4.0,
		schema.Stage3ConduitPressure, 13, schema.Stage3AtrialPressure, 7, schema.Stage3Gradient, 6, schema.LeavingSaturation, 92, schema.CareExtubation, "in theatre next time",
		schema.CareSupportCandidate, "no", schema.PlanBleeding, "10 mL per kg in an hour")
	put(n, schema.PressuresReadingsMean.In("art"), 62, schema.PressuresReadingsSystolic.In("art"), 85, schema.PressuresReadingsDiastolic.In("art"), 48)
	put(n, "items.tube.size", 4.5, "items.tube.depth", 17, "items.jug.depth", 8)
	item(n, "implant", "tube18", 8, "variety", "conduit", "material", "eptfe", "lot", "L78", "expires", "2027-01-31", "placed", at("11:00"))
	row(n, schema.PressuresReadings, "fo", "pressure", "fontan", "mean", 13, "method", "line", "item", "jug")
	return n
}

// closure is a delayed closure of the stage-1 child, packs out.
func closure() *schema.Note {
	n := common(schema.Closure, "2026-07-08", 3.2, 49)
	put(n, schema.SupportMode, "off-pump", schema.BeforeStageOne, "recorded-here", schema.LeavingSaturation, 78, schema.RemovalsPacksExpected, 2, schema.RemovalsPacksRetrieved, 2,
		schema.CountsPacksIn, 2, schema.CountsPacksOut, 2, schema.ClottingProtamine, nil, schema.ClottingHeparin, nil)
	for _, p := range n.Paths() {
		if f := n.FieldAt(p); f != nil && (f.Path.Section() == "perfusion" || f.Path.Section() == "support" && f.Path != schema.SupportMode) {
			n.Clear(p)
		}
	}
	put(n, "items.tube.size", 3.5, "items.tube.depth", 11.5, "items.jug.depth", 5)
	return n
}

func supportOff() *schema.Note {
	n := closure()
	put(n, schema.RemovalsPacksExpected, nil, schema.RemovalsPacksRetrieved, nil, schema.CountsPacksIn, 0, schema.CountsPacksOut, 0)
	b := n.JSON()
	var tree map[string]any
	if err := json.Unmarshal(b, &tree); err != nil {
		panic(err)
	}
	tree["kind"] = "support-off"
	b, _ = json.Marshal(tree)
	off, _, err := schema.ParseNote(b)
	if err != nil {
		panic(err)
	}
	put(off, schema.MechanicalStartedAt, "2026-07-12T10:00+01:00", schema.MechanicalStoppedAt, at("10:00"), schema.MechanicalRunHours, 48, schema.MechanicalShuntAfter, "open", schema.MechanicalShunt, "open")
	return off
}

// context is what the clean notes are checked against.
func context() rules.Context {
	now, err := schema.ParseMoment("2026-07-14T18:00+01:00[Europe/London]")
	if err != nil {
		panic(err)
	}
	return rules.Context{Now: now, Recorded: []schema.Kind{schema.Stage1}}
}

// inForce is the shipped profile with every limit put in force by an invented
// person.
var inForce = sync.OnceValue(func() *profile.Profile {
	// references.md D, from memory: 3.0, 3.5 and 4.0 mm under 3 kg, to 4 kg and above.
	p, faults := profile.Default().Change("sizes.shunt", []byte(`[{"under":3,"value":3},{"under":4,"value":3.5},{"value":4}]`), "invented", "Dr Example", "2026-07-01T09:00+01:00", "for a test")
	if len(faults) > 0 {
		panic(faults[0])
	}
	p, faults = p.ActivateAll("Dr Example", "2026-07-01T09:00+01:00")
	if len(faults) > 0 {
		panic(faults[0])
	}
	return p
})

func TestCleanNotesHaveNoProblems(t *testing.T) {
	for name, build := range bases {
		n := build()
		for _, p := range rules.Check(n, inForce(), context()) {
			t.Errorf("%s: %s at %s: %s", name, p.Rule, p.Path, p.What)
		}
		for _, p := range schema.Validate(n) {
			if p.Severity == schema.Error {
				t.Errorf("%s: %s at %s: %s", name, p.Rule, p.Path, p.What)
			}
		}
	}
}

var bases = map[string]func() *schema.Note{"stage1": stage1, "stage2": stage2, "stage3": stage3, "closure": closure, "support-off": supportOff}
