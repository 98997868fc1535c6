package sheet

import (
	"regexp"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"
)

// mustNot are what published lists say never to print, as it would be seen on
// the page. The words a person typed are theirs; what the tool writes is held.
var mustNot = []struct {
	source string
	what   string
	found  *regexp.Regexp
}{
	{"Joint Commission, official Do Not Use list", "U for units", regexp.MustCompile(`\d ?[Uu]\b|\b[Uu]/`)},
	{"Joint Commission, official Do Not Use list", "IU", regexp.MustCompile(`\bIU\b`)},
	{"Joint Commission, official Do Not Use list", "QD for daily", regexp.MustCompile(`(?i)\bq\.?d\.?\b`)},
	{"Joint Commission, official Do Not Use list", "QOD for every other day", regexp.MustCompile(`(?i)\bq\.?o\.?d\.?\b`)},
	{"Joint Commission, official Do Not Use list", "a trailing zero", regexp.MustCompile(`\d\.\d*0\b`)},
	{"Joint Commission, official Do Not Use list", "no leading zero", regexp.MustCompile(`(^|[^0-9])\.\d`)},
	{"Joint Commission, official Do Not Use list", "MS, MSO4, MgSO4", regexp.MustCompile(`\bMS\b|\bMSO4\b|\bMgSO4\b`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "µg for micrograms", regexp.MustCompile(`[µμ]g`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "cc for mL", regexp.MustCompile(`\d ?cc\b`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "< and > for less and more than", regexp.MustCompile(`[<>]`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "@ for at", regexp.MustCompile(`@`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "a dose and its unit run together", regexp.MustCompile(`\d(mg|mcg|mL|kg|units|mm|cm|min|Fr)\b`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "IJ, SC, SQ, HS, DC, TIW, BID", regexp.MustCompile(`\b(IJ|SQ|HS|TIW|BID|qhs)\b`)},
	{"ISMP error-prone abbreviations, symbols and dose designations", "a slash or an ampersand for and", regexp.MustCompile(` & `)},
}

// TestMustNotPrint holds the tool's own words, and every number and unit it
// shows, against the published lists.
func TestMustNotPrint(t *testing.T) {
	var pages []string
	for file, n := range committed(t) {
		quiet := n.Clone()
		for _, p := range n.Paths() { // what people typed is theirs
			f := n.FieldAt(p)
			if f != nil && n.Has(p) && f.Type == "string" && len(f.Enum) == 0 && f.Format != "date" && f.Format != "moment" && f.Format != "item" {
				quiet.Set(p, "typed words")
			}
		}
		prof, faults := profile.Default().ActivateAll("A. Test", "2026-07-14T08:00+01:00")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for _, p := range []*profile.Profile{nil, prof} {
			s := Make(Facts{Note: quiet, At: at, Profile: p}, A4)
			var b strings.Builder
			for _, span := range spansOf(s) {
				b.WriteString(span.Words)
			}
			pages = append(pages, file+"\n"+b.String())
		}
	}
	for _, rule := range mustNot {
		outside.Check(t, rule.source)
		for _, p := range pages {
			file, text, _ := strings.Cut(p, "\n")
			if at := rule.found.FindStringIndex(text); at != nil {
				t.Errorf("%s: %s (%s): …%s…", file, rule.what, rule.source, text[max(0, at[0]-30):min(len(text), at[1]+20)])
			}
		}
	}
	// Each expression finds what it is meant to find.
	for i, bad := range []string{"10 U", "5 IU", "q.d.", "QOD", "4.0 mg", " .5 mg", "MgSO4", "5 µg", "3 cc", "< 4", "@ 5", "5mg", "IJ", "a & b"} {
		if !mustNot[i].found.MatchString(bad) {
			t.Errorf("%s is not found in %q", mustNot[i].what, bad)
		}
	}
}

// TestDates: dates are written with the month in letters and times in 24 hours,
// as published guidance on the display of dates and times asks; none is all
// digits.
func TestDates(t *testing.T) {
	digits := regexp.MustCompile(`\b\d{1,2}/\d{1,2}/\d{2,4}\b|\b\d{4}-\d{2}-\d{2}\b|(?i)\b\d{1,2}:\d{2} ?[ap]m\b`)
	for file, n := range committed(t) {
		text := Text(spansOf(Make(Facts{Note: n, At: at}, A4)))
		if found := digits.FindString(text); found != "" {
			t.Errorf("%s shows %q", file, found)
		}
		outside.Check(t, "NHS Common User Interface guidance, display of date and time: month in letters, 24-hour clock (from memory)")
	}
}

// handed are what must be handed over, by the lists that say so, with the fields
// that hold it here. The four groups and the number of elements in each are
// Zavalkoff's (Pediatr Crit Care Med 2011;12:309: 7 preoperative, 14 medical and
// 11 surgical intraoperative, 11 of current status, 43 in all); the elements
// themselves are common practice, no source, because the paper's list was not at
// hand.
var handed = []struct {
	source string
	least  int
	fields []schema.Path
}{
	{"Zavalkoff 2011, preoperative elements (7)", 7, []schema.Path{schema.ChildSurname, schema.ChildBirthDate, schema.MeasuresWeight, schema.ChildAllergies,
		schema.AnatomyDiagnosis, schema.BeforeOperations, schema.BeforeVentricularFunction, schema.BeforeVentilation}},
	{"Zavalkoff 2011, medical intraoperative elements (14)", 14, []schema.Path{schema.AirwayDifficult, schema.AirwayDoses, schema.WorkAntibiotics,
		schema.BloodProducts, schema.ClottingHeparin, schema.ClottingProtamine, schema.ClottingAntifibrinolytic, schema.PerfusionLowestTemperature,
		schema.LeavingUrine, schema.EchoFunction, schema.LeavingArrhythmias, schema.VentilationNitricOxide, schema.BloodAvailable, schema.AirwayAnaestheticTrouble, schema.EchoMethod}},
	{"Zavalkoff 2011, surgical intraoperative elements (11)", 11, []schema.Path{schema.WorkSummary, schema.WorkProcedures, schema.WorkFindings, schema.WorkProblems,
		schema.SupportRuns, schema.SupportClamps, schema.SupportArrests, schema.ClosingSternum, schema.CountsPacksLeft, schema.WorkEstimatedLoss, schema.PlanWorries, schema.ClottingBleedingNow}},
	{"Zavalkoff 2011, current status elements (11)", 11, []schema.Path{schema.LeavingRhythm, schema.LeavingPacing, schema.LeavingSaturation, schema.PressuresReadings,
		schema.InfusionsRunning, schema.VentilationBreathing, schema.LeavingTemperature, schema.GasLactate, schema.GasHaemoglobin, schema.GasPotassium, schema.LeavingDrainLoss, schema.GasGlucose}},
	{"WHO Surgical Safety Checklist, sign-out", 5, []schema.Path{schema.WorkProcedures, schema.CountsSwabs, schema.CountsEquipmentProblems,
		schema.CountsConcernsAnaesthetist, schema.CountsConcernsNurse, schema.PlanWorries}},
	{"Joint Commission RC.02.01.03, interim note before transfer", 5, []schema.Path{schema.OperationSurgeon, schema.OperationAssistants, schema.WorkProcedures,
		schema.WorkFindings, schema.WorkEstimatedLoss, schema.WorkRemoved, schema.OperationDiagnosisAfter}},
}

// TestHandedOver: each thing that published handover lists ask for appears on
// the sheet when it is in the note, and is missed when it is taken out.
func TestHandedOver(t *testing.T) {
	full := committed(t)["notes/stage1.json"]
	whole := Text(spansOf(Make(Facts{Note: full, At: at}, A4)))
	for _, list := range handed {
		shown := 0
		for _, p := range list.fields {
			f := schema.FieldAt(p)
			if f == nil || !full.Answered(p) {
				t.Errorf("%s: %s is not in the full note", list.source, p)
				continue
			}
			short := full.Clone()
			short.Clear(p)
			if without := Text(spansOf(Make(Facts{Note: short, At: at}, A4))); without == whole {
				t.Errorf("%s: %s is not on the sheet: taking it out changes nothing", list.source, p)
				continue
			}
			shown++
		}
		if shown < list.least {
			t.Errorf("%s: %d are on the sheet, of %d", list.source, shown, list.least)
		}
		outside.Count(t, list.source, shown)
	}
}

// TestEmpty: the sheet of an empty note speaks of everything that must be on it.
func TestEmpty(t *testing.T) {
	required := map[schema.Path]bool{}
	for _, k := range schema.Kinds() {
		for _, f := range requiredOn(k.Kind) {
			required[f.Path] = true
		}
	}
	if len(required) < 60 {
		t.Errorf("only %d fields are wanted on any sheet", len(required))
	}
	for _, k := range schema.Kinds() {
		s := Make(Facts{Note: schema.NewNote(k.Kind, "n", "c"), At: at}, A4)
		text := strings.ToLower(Text(spansOf(s)))
		for _, f := range requiredOn(k.Kind) {
			if len(f.When) > 0 || said[f.Path] {
				continue
			}
			if !strings.Contains(text, strings.ToLower(f.Title)) {
				t.Errorf("an empty %s sheet does not speak of %s (%s)", k.Kind, f.Path, f.Title)
			}
		}
	}
}

// said are the fields whose line uses words of its own instead of the title.
var said = map[schema.Path]bool{schema.ChildHospitalNumber: true, schema.ChildBirthDate: true, schema.MeasuresDosingWeightBy: true,
	schema.MeasuresDosingWeightAt: true, schema.MeasuresWeight: true, schema.OperationDate: true, schema.OperationClosed: true,
	schema.OperationSurgeonReach: true, schema.WorkSummary: true, schema.PlanWorries: true, schema.PlanFirstCall: true, schema.PlanCalls: true,
	schema.ClosingSternum: true, schema.CountsPacksLeft: true, schema.LeavingSupport: true, schema.PressuresReadings: true,
	schema.RemovalsOut: true, schema.PlanTargets: true, schema.RemovalsPacksRetrieved: true}
