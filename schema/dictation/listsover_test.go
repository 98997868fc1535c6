package dictation

import (
	"testing"

	"fairlead/schema"
)

// Lists that go over a full stop, targets with no colon, drugs told to be off far from
// their name, what was said of another child, and heparin given at once.
//
// The sentences are written by hand: common practice of the trade, no source.
var listsOverTold = []family{
	// before and after closing, each a list of its own
	{schema.Closure, "Before closing: mean arterial 54, atrial 7, saturation 79, peak airway 20. After: mean 50, atrial 9, saturation 77, peak airway 23.", "closing.tolerance measure=mean-arterial before=54 after=50\nclosing.tolerance measure=atrial before=7 after=9\nclosing.tolerance measure=saturation before=79 after=77\nclosing.tolerance measure=peak-airway before=20 after=23"},
	{schema.Closure, "Before: mean 52, atrium 7, sats 79. After: 50, 9, 77. Four steel wires.", "closing.tolerance measure=mean-arterial before=52 after=50\nclosing.tolerance measure=saturation before=79 after=77\nclosing.sternalSutures=4"},
	{schema.Closure, "Open, mean 52, atrial 7. Closed, mean 48, atrial 10.", "closing.tolerance measure=mean-arterial before=52 after=48\nclosing.tolerance measure=atrial before=7 after=10"},
	{schema.Closure, "With the chest open mean 50, left atrial 8. With it closed mean 46, left atrial 10.", "closing.tolerance measure=mean-arterial before=50 after=46\nclosing.tolerance measure=atrial before=8 after=10"},
	{schema.Closure, "Before we closed the sats were 80. After that two atrial wires were cut.", "!closing.tolerance"},
	{schema.Closure, "Closed with four wires. Mean 50.", "closing.sternalSutures=4\n!closing.tolerance"},
	// what to aim at
	{schema.Stage1, "plan sats 75-85, MAP >45. call me if drain >10ml/kg/h or lact >8.", "plan.targets what=saturation low=75 high=85\nplan.targets what=mean-arterial low=45\nplan.calls what=drain-loss value=10\nplan.calls what=lactate value=8"},
	{schema.Stage1, "Plan sats seventy five to eighty five and mean above forty five.", "plan.targets what=saturation low=75 high=85\nplan.targets what=mean-arterial low=45"},
	{schema.SupportOn, "SNP 0.5mcg/kg/min for MAP 45-55. MAP 49 now.", "plan.targets what=mean-arterial low=45 high=55\npressures.readings mean=49"},
	{schema.Stage1, "Nitroprusside for a mean of forty five to fifty five.", "plan.targets what=mean-arterial low=45 high=55"},
	{schema.Stage1, "Targets sats 75-85, lac <4. Bleed >10/kg/h ring me.", "plan.targets what=lactate high=4\nplan.calls what=drain-loss value=10\n!plan.targets what=drain-loss"},
	{schema.Stage1, "Targets: mean above 45. Sats under seventy call me.", "plan.targets what=mean-arterial low=45\nplan.calls what=saturation value=70\n!plan.targets what=saturation"},
	// off by now
	{schema.Closure, "Adrenaline 0.08, and the vasopressin that was running overnight is off.", "infusions.running drug=vasopressin state=stopped\ninfusions.running drug=adrenaline dose=0.08"},
	{schema.Stage1, "I did start vaso but that's stopped now.", "infusions.running drug=vasopressin state=stopped"},
	{schema.Stage1, "Milrinone 0.5. Vasopressin which we started in theatre has been stopped.", "infusions.running drug=vasopressin state=stopped\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Stage1, "Adrenaline is running, no, that is off since half an hour; only milrinone 0,5.", "infusions.running drug=adrenaline state=stopped\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Stage1, "Adrenaline 0.05 and the nitric is off.", "infusions.running drug=adrenaline dose=0.05\n!infusions.running drug=adrenaline state=stopped"},
	{schema.Stage1, "Milrinone 0.5 once the adrenaline is off.", "!infusions.running drug=milrinone state=stopped"},
	// another child
	{schema.Stage3, "Fenestration 4. NB fen in last pt today was 5, not her.", "stage3.fenestrationDiameter=4\n!stage3.fenestrationDiameter=5"},
	{schema.Stage1, "RV-PA 5 mm ringed GT. Last kid's Sano was 6, don't copy that across.", "supply.conduitDiameter=5"},
	{schema.Stage1, "Sano 5 mm. Yesterday's baby had a 6.", "supply.conduitDiameter=5"},
	{schema.Stage3, "Fenestration 4 mm. The last child's was 5.", "stage3.fenestrationDiameter=4"},
	// heparin at once, and what runs
	{schema.Stage1, "Hybrid. Heparin fifty units per kilo.", "clotting.heparinOther=50\n!infusions.running drug=heparin"},
	{schema.Stage1, "Hybrid. Off pump. Heparin, 100 units per kilo.", "clotting.heparinOther=100"},
	{schema.Stage1, "Heparin 20 units per kilo.", "infusions.running drug=heparin dose=20"},
	{schema.Stage1, "Heparin infusion 50 units per kilo per hour.", "infusions.running drug=heparin dose=50"},
	// words of the trade that were missing
	{schema.Stage1, "Her prostaglandin ran right up to the moment we were on bypass.", "before.prostaglandin=running-to-theatre"},
	{schema.Stage1, "Prostin was running until we went on pump.", "before.prostaglandin=running-to-theatre\n!supply.kind=duct"},
	{schema.Stage1, "The right ventricle owns the coronaries, so nobody decompresses it.", "anatomy.coronaryDependence=yes"},
	{schema.Stage1, "The coronaries do not depend on the right ventricle.", "!anatomy.coronaryDependence=yes"},
	{schema.Stage2, "The Norwood was done abroad.", "before.stageOne=done-elsewhere"},
	{schema.Stage2, "She had the stage one with a Sano, not with us.", "before.stageOne=done-elsewhere"},
	{schema.Stage2, "The sternum was reopened with the oscillating saw.", "approach.incision=reopened-sternotomy\napproach.saw=oscillating"},
}

func TestListsOver(t *testing.T) { holds(t, listsOverTold) }
