package dictation

import (
	"testing"

	"fairlead/schema"
)

// Things in the child, told with what the words beside already say left out.
//
// The sentences are written by hand: from memory of how operations are told, no source.
var leftOutTold = []family{
	{schema.Stage3, "We've left in a mediastinal, a right and a left pleural, all 20 French.", "drain variety=mediastinal size=20\ndrain variety=right-pleural size=20\ndrain variety=left-pleural size=20"},
	{schema.Stage3, "one right and one left pleural drain", "drain variety=right-pleural\ndrain variety=left-pleural"},
	{schema.Stage3, "drains: med, right, left", "drain variety=mediastinal\ndrain variety=right-pleural\ndrain variety=left-pleural"},
	{schema.Stage3, "We've placed a mediastinal, a right pleural, all 20 French.", "drain variety=mediastinal size=20\ndrain variety=right-pleural size=20"},
	{schema.Reexploration, "I took out the old mediastinal drain and put in two new ones, a 12 and a 15.", "drain variety=mediastinal size=12\ndrain variety=mediastinal size=15"},
	{schema.Stage3, "The pleural drains, right and left, are new, both twenties.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20"},
	{schema.Stage3, "the femoral line will come out tomorrow", "central-venous-line variety=femoral"},
	{schema.Stage1, "both umbilical lines in", "arterial-line variety=umbilical-arterial\ncentral-venous-line variety=umbilical-venous"},
	{schema.Stage1, "UAC and UVC both in", "arterial-line variety=umbilical-arterial\ncentral-venous-line variety=umbilical-venous\n!central-venous-line variety=umbilical-venous side=both"},
	{schema.Stage2, "She has an epidural.", "wound-catheter variety=epidural"},
	{schema.Stage2, "NG down the left nostril 8 French on free drainage", "gut-and-bladder variety=gastric-tube side=left route=nostril size=8 use=free-drainage"},
	{schema.Stage3, "femoral arterial line in the right groin, 3 French", "arterial-line variety=femoral side=right french=3\n!central-venous-line side=right variety=femoral size=3"},
	{schema.Stage2, "Both ventricular wires work.", "pacing-wires count=2 variety=ventricular"},
	{schema.SupportOn, "neck cannulation, 8 arterial and 10 venous", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
	{schema.ShuntRevision, "Took the 3.5 down and put in a 4, same sites.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.Stage2, "Just a little milrinone, 0.25.", "infusions.running drug=milrinone dose=0.25 doseUnit=ug/kg/min"},
	{schema.Stage1, "Noradrenaline started at 0.05, vasopressin 0.3 milliunits.", "infusions.running drug=noradrenaline dose=0.05 doseUnit=ug/kg/min\ninfusions.running drug=vasopressin dose=0.3 doseUnit=m[iU]/kg/min"},
	{schema.Stage3, "Ring if the Fontan hits 18, or the sats fall to 80.", "plan.calls what=caval direction=above value=18\nplan.calls what=saturation direction=below value=80"},
	{schema.Stage1, "The femoral line was tried twice on the left, failed; right femoral in at the second go, 4 French.", "central-venous-line side=right variety=femoral size=4"},
	{schema.Stage1, "there are two swabs inside on purpose, written on the board", "left-on-purpose count=2 variety=swabs"},
	{schema.Stage3, "CTs R/L pleural + mediastinal 20 Fr.", "drain variety=right-pleural\ndrain variety=left-pleural\ndrain variety=mediastinal size=20"},
	{schema.Stage2, "A peripheral cannula in each foot.", "peripheral-cannula variety=foot side=right\nperipheral-cannula variety=foot side=left"},
	{schema.Stage1, "Left groin: arterial 3F and venous 4F.", "arterial-line side=left variety=femoral french=3\ncentral-venous-line side=left variety=femoral size=4"},
	// no thing in the child
	{schema.Stage1, "Open chest with silastic patch, 1 lap pad behind.", "!surface-probe variety=defibrillation-pads"},
	{schema.Stage1, "The registrar wanted atrial wires; I didn't bother.", "!pacing-wires variety=atrial"},
	{schema.Stage1, "sat probes on the right hand and left foot", "!peripheral-cannula side=left variety=foot"},
	{schema.Stage2, "Pacing leads: RA x2, RV x2, buttons on the left.", "pacing-wires variety=atrial count=2\n!gut-and-bladder variety=gastrostomy side=left"},
	{schema.Stage2, "She had an eventful entry, the right pleura and a left one opened.", "!drain variety=right-pleural\n!drain variety=left-pleural"},
}

func TestLeftOut(t *testing.T) { holds(t, leftOutTold) }

// Words that name a value of one thing, said of another.
var strayedTold = []family{
	{schema.Stage2, "Tube out in the OR. Extubated in the unit an hour later.", "!operation.place=theatre\n!operation.place=intensive-care"},
	{schema.Closure, "Delayed closure, done in the intensive care unit.", "operation.place=intensive-care"},
	{schema.ShuntRevision, "Arrested at the bedside, six minutes of CPR, then brought her back to theatre.", "operation.place=theatre\n!operation.place=intensive-care"},
	{schema.Closure, "Packs, two expected, two out. Washed, warm saline.", "!blood.needs=washed"},
	{schema.Stage1, "Washed red cells only, please.", "blood.needs=washed"},
	{schema.SupportOff, "Carotid repaired, good flow after.", "!echo.supplyFlow=seen"},
	{schema.Stage3, "Cava taken off at the atrium, stump oversewn.", "!support.inflowGraftFate=removed"},
	{schema.Stage1, "Don't give any more heparin tonight.", "!anticoagulation.plan=heparin"},
	{schema.Stage3, "chest closed three drains both pleurals and mediastinal", "closing.sternum=closed\n!stage3.fenestrationDiameter=3"},
	{schema.Stage1, "Antegrade del Nido, once.", "!supply.kind=native-outflow"},
	{schema.Stage1, "Any bleeding over 5 per kilo, ring.", "!supply.rings=ringed"},
	{schema.Takedown, "Glenn taken down for high pressures and sats of 55.", "!leaving.saturation=55"},
	{schema.Reexploration, "Tamponade, clot out, no source.", "!between.shuntDone=clot-removed"},
}

func TestStrayed(t *testing.T) { holds(t, strayedTold) }
