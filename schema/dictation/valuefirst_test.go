package dictation

import (
	"testing"

	"fairlead/schema"
)

// Values said before their names, and marks said as words, as people do whose own
// language puts it so.
//
// The sentences are written by hand: from memory of how operations are told, no source.
var firstTold = []family{
	{schema.Stage1, "Three point zero five, kilos, on the table.", "measures.weight=3.05"},
	{schema.Stage1, "Hundred forty-eight minutes, the pump. Fifty-one, the clamp. Twenty-two, coldest, nasopharynx.", "support.bypassTotal=148\nsupport.clampTotal=51\nperfusion.lowestTemperature=22\nperfusion.lowestTemperatureSite=nasopharyngeal"},
	{schema.Stage1, "Hundred fifty-two, sinus. Seventy-eight, saturation, in forty percent oxygen.", "leaving.heartRate=152\nleaving.rhythm=sinus\nleaving.saturation=78\nleaving.inspiredOxygen=0.4"},
	{schema.Stage1, "Sixty-four over thirty-one, arterial. Seven, common atrial.", "pressures.readings pressure=arterial systolic=64 diastolic=31\npressures.readings mean=7 pressure=common-atrial"},
	{schema.Stage1, "Zero point zero five, adrenaline. Zero point five, milrinone.", "infusions.running dose=0.05 doseUnit=ug/kg/min drug=adrenaline\ninfusions.running dose=0.5 doseUnit=ug/kg/min drug=milrinone"},
	{schema.Stage1, "Open, the chest. Pulmonary homograft, the arch.", "closing.sternum=open\nstage1.archPatch=pulmonary-homograft"},
	{schema.Stage2, "Fourteen, Glenn. Six, atrium. 94 minutes, the pump.", "stage2.cavalPressure=14\nstage2.atrialPressure=6\nsupport.bypassTotal=94"},
	{schema.Stage3, "Four, the fenestration, punch, open. Eleven point five, haemoglobin.", "stage3.fenestrationDiameter=4\nstage3.fenestration=open\ngas.haemoglobin=11.5"},
	{schema.Stage3, "Third time, the sternum.", "approach.sternotomyNumber=3"},
	// a number that is a place in a list
	{schema.Stage2, "Eight, drains: right pleural, sixteen. Nine, wires: two atrial. Ten, sternum closed.", "closing.sternum=closed\n!closing.sternalSutures=9"},

	{schema.Stage1, "Twin two, two comma one kilograms. Lactate one comma nine, milrinone comma three.", "measures.weight=2.1\ngas.lactate=1.9\ninfusions.running drug=milrinone dose=0.3 doseUnit=ug/kg/min"},
	{schema.Stage2, "six comma nine kilograms glenn pressure fourteen comma atrium six", "measures.weight=6.9\nstage2.cavalPressure=14\nstage2.atrialPressure=6"},
	{schema.Stage1, "chest left open full stop new line lactate four point two comma sats seventy eight Full Stop", "closing.sternum=open\ngas.lactate=4.2\nleaving.saturation=78"},
}

func TestValuesFirst(t *testing.T) { holds(t, firstTold) }

// A text keeps its length, whatever its marks are said as.
func TestMarksKeepTheLength(t *testing.T) {
	for _, text := range []string{"comma", "a comma", "six comma nine kilos", "new line\nnew line full stop", "é comma ü comma 3", "a full stopper", "sats 80 COMMA 81"} {
		if got := withMarks(text); len(got) != len(text) {
			t.Errorf("%q becomes %q", text, got)
		}
	}
}
