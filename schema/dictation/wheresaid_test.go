package dictation

import (
	"testing"

	"fairlead/schema"
)

// Where a thing is, or where it stands in the sentence: vessels cannulated, pleurae told
// before their side, a membrane that stays, a pressure named after its number, a rate far
// from its pacing. Common practice of the trade, no source.
var whereSaid = []family{
	{schema.Stage3, "We perfused through the ascending aorta and drained from both cavae, and no clamp was used.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval"},
	{schema.Stage2, "Arterial, ascending. Venous, bicaval.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval"},
	{schema.Stage2, "Bypass 82. SVC and common atrium.", "support.venousCannulation=superior-caval\nsupport.venousCannulation=single-atrial"},
	{schema.Stage3, "Ao cann, SVC + IVC + R fem v.", "support.venousCannulation=right-groin\nsupport.venousCannulation=superior-caval\n!support.venousCannulation=bicaval"},
	{schema.Stage3, "Ascending aorta, SVC and IVC cannulated.", "support.venousCannulation=bicaval"},
	{schema.Stage1, "They ran the head through the innominate direct for thirty-three minutes at forty per kilo.", "support.arterialCannulation=innominate-direct\nsupport.perfusions minutes=33 flow=40"},
	{schema.Stage2, "We put a Gore-Tex sheet behind the sternum and closed.", "implant variety=barrier material=eptfe\n!left-on-purpose variety=membrane"},
	{schema.Stage2, "Pericardium: Gore-Tex membrane behind the sternum.", "implant variety=barrier\n!stage2.enlargementMaterial=bovine-pericardium"},
	{schema.Stage1, "Chest left open, Gore-Tex membrane over it.", "left-on-purpose variety=membrane material=eptfe\n!implant variety=barrier"},
	{schema.Stage3, "pleura right twenty four french pleura left twenty four french mediastinum twenty french all with suction at fifteen the blood loss was three hundred", "drain variety=right-pleural size=24 suction=15\ndrain variety=left-pleural size=24 suction=15\ndrain variety=mediastinal size=20 suction=15\nwork.estimatedLoss=300"},
	{schema.Stage3, "Pleura left 16, pleura right 16, mediastinum 20.", "drain variety=left-pleural size=16\ndrain variety=right-pleural size=16"},
	{schema.Stage2, "Pleura right opened.", "!drain variety=right-pleural"},
	{schema.Stage3, "Three lumens, reading fourteen, that's your Fontan.", "stage3.conduitPressure=14"},
	{schema.Stage2, "The line reads fifteen, that's the Glenn.", "stage2.cavalPressure=15"},
	{schema.Stage2, "Right jugular four French, that's the Glenn line.", "!stage2.cavalPressure=4"},
	{schema.Stage2, "Rhythm beneath is junctional so we pace the atrium at one-forty.", "leaving.rhythmBeneath=junctional\nleaving.pacing=atrial\nleaving.pacingRate=140"},
	{schema.Stage3, "now we pace with the wires the atrium at one hundred and ten because under it is junctional", "leaving.pacingRate=110\nleaving.rhythmBeneath=junctional\n!leaving.rhythm=junctional"},
	{schema.Stage3, "Brain right seventy, left sixty-eight.", "leaving.cerebralRight=70\nleaving.cerebralLeft=68"},
	{schema.Stage3, "Twenty millimetre tube, I cut it at seventy-two.", "stage3.conduitLength=72"},
	{schema.Stage3, "No pacing pocket, no permanent leads.", "stage3.pocket=none\nstage3.leads=none\n!leaving.pacing=none"},
	{schema.Stage3, "Drain loss when we left, all three together, fifty-five.", "leaving.drainLoss=55"},
	{schema.Stage2, "Nitric is in the corridor, not used.", "ventilation.nitricOxide=none"},
	{schema.Stage2, "Not bad for seventy eight minutes on pump swabs needles instruments all correct extubated on the table.", "counts.swabs=correct\nsupport.bypassTotal=78"},
	{schema.Stage3, "Platelets, forty mils after the pump.", "blood.products product=platelets volume=40 phase=after-bypass"},
	{schema.Stage2, "Urine catheter six. Urine 140.", "gut-and-bladder variety=urinary-catheter size=6\nleaving.urine=140"},
}

func TestWhereSaid(t *testing.T) { holds(t, whereSaid) }

// Doses corrected with their unit, snares, and what was before the work.
var setRight = []family{
	{schema.Stage1, "vaso press in point oh three units per kilo per hour no that is not right zero point three milliunits per kilo per minute thank you", "infusions.running drug=vasopressin dose=0.3 doseUnit=m[iU]/kg/min"},
	{schema.Stage1, "Vasopressin 0.03 units per kilo per hour, sorry, 0.3 milliunits per kilo per minute.", "infusions.running drug=vasopressin dose=0.3\n!infusions.running dose=0.03"},
	{schema.Stage3, "Fenestration four, punched, and it's got a snare round it, left open.", "stage3.fenestration=snared-open"},
	{schema.Stage3, "4 mm fenestration with a snare around it, not pulled.", "stage3.fenestration=snared-open"},
	{schema.Stage3, "4 mm fenestration, no snare.", "stage3.fenestration=open"},
	{schema.Stage3, "The hole in the baffle is five millimetres, a punch.", "stage3.fenestrationDiameter=5\nstage3.fenestrationMade=punch"},
	{schema.ShuntRevision, "Sats pre 93, post 81.", "between.saturationBeforeWork=93\nbetween.saturationAfterWork=81\n!leaving.saturation=93"},
	{schema.ShuntRevision, "Left radial, nobody could get it. Right femoral artery 2.5 French.", "!arterial-line variety=radial side=left\nnone arterial-line variety=radial"},
	{schema.Stage3, "Oral ETT 4.5 cuffed, extub in ICU 2h.", "airway variety=oral-tube size=4.5\n!ventilation.breathing=own-breathing"},
	{schema.Stage3, "Extubated in theatre.", "ventilation.breathing=own-breathing"},
	{schema.Reexploration, "He had become grey with a mean of twenty eight.", "!pressures.readings mean=28"},
}

func TestSetRight(t *testing.T) { holds(t, setRight) }

// Doses of cardioplegia and nerves, named one after another with no mark between.
var runTogether = []family{
	{schema.Stage1, "cardioplegia was del nido two doses fifty and then twenty five the coarc was resected", "perfusion.cardioplegiaDoses volume=50\nperfusion.cardioplegiaDoses volume=25"},
	{schema.Stage3, "cardioplegia del nido one shot a hundred fifty for that", "perfusion.cardioplegiaDoses volume=150"},
	{schema.Stage1, "HTK 90 cc x1 root.", "perfusion.cardioplegiaDoses volume=90 route=aortic-root"},
	{schema.Stage1, "Del Nido, two doses, clamp fifty minutes.", "!perfusion.cardioplegiaDoses volume=50"},
	{schema.Stage3, "right phrenic seen left phrenic not seen", "approach.rightPhrenic=seen\napproach.leftPhrenic=not-seen"},
	{schema.Stage1, "NIRS cereb R 55 L 52, somatic 61", "leaving.cerebralRight=55\nleaving.cerebralLeft=52"},
}

func TestRunTogether(t *testing.T) { holds(t, runTogether) }

// A deed told after its thing, and a place that is no place of the operation.
var toldOf = []family{
	{schema.Stage1, "twelve minutes total for the septum which I took out", "stage1.septectomy=excised"},
	{schema.Stage1, "The shelf, which we resected.", "stage1.coarctation=excised"},
	{schema.Stage1, "Septum cut right out.", "stage1.septectomy=excised"},
	{schema.Stage1, "Prostaglandin still running as he came through the door.", "before.prostaglandin=running-to-theatre"},
	{schema.Stage2, "so that she goes to intensive care with eighty two percent", "!operation.place=intensive-care"},
	{schema.Stage2, "Tube out in OR. High flow 8 litres.", "!operation.place=theatre"},
	{schema.Reexploration, "Done in the intensive care unit.", "operation.place=intensive-care"},
}

func TestToldOf(t *testing.T) { holds(t, toldOf) }
