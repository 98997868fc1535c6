package dictation

import (
	"testing"

	"fairlead/schema"
)

// Corrections with much said between, what is denied by its own name, and what was only
// planned or thought.
//
// The sentences are written by hand: common practice of the trade, no source.
var longRepairTold = []family{
	{schema.Stage3, "Converted to an extracardiac, twenty-two tube Gore-Tex, no hang on, Katie, hand me the box, it's a twenty-four.", "stage3.conduitDiameter=24\n!stage3.conduitDiameter=22"},
	{schema.Stage3, "Clamp eighty-eight, no wait, that's something they wrote for somebody else, hers is seventy-six.", "support.clampTotal=76\n!support.clampTotal=88"},
	{schema.Stage1, "Clamp sixty two. No, I am looking at the wrong page, that is the perfusion, it was seventy one.", "support.clampTotal=71\n!support.clampTotal=62"},
	{schema.Stage3, "Fontan pressure sixteen, hang on, the transducer was on the floor, it's thirteen.", "stage3.conduitPressure=13\n!stage3.conduitPressure=16"},
	{schema.Stage2, "Glenn pressure fifteen. No, we went up on the nitric and he settled, twelve.", "stage2.cavalPressure=12\n!stage2.cavalPressure=15"},
	{schema.Stage2, "Junctional rhythm at a hundred and ten when I left the table. No, he was back in sinus by the door, a hundred and twenty-four.", "leaving.rhythm=sinus\nleaving.heartRate=124\n!leaving.heartRate=110"},
	{schema.Stage2, "Glenn seventeen on the first reading, then the line got flushed and it was fourteen.", "stage2.cavalPressure=14\n!stage2.cavalPressure=17"},
	{schema.Stage2, "Pump run eighty-eight minutes, make that ninety-eight, I misread the eight.", "support.bypassTotal=98\n!support.bypassTotal=8"},
	{schema.Stage3, "A-V pacing at eighty. Not eighty, ninety, they turned it up.", "leaving.pacing=dual\nleaving.pacingRate=90\n!leaving.pacingRate=80"},
	{schema.Stage2, "Sats seventy eight. Not seventy eight, eighty two.", "leaving.saturation=82\n!leaving.saturation=78"},
	{schema.Stage2, "Azygos was clipped. Not clipped, tied.", "stage2.azygos=ligated\n!stage2.azygos=clipped"},
	{schema.ShuntRevision, "We found it kinked. Excuse me, I want to formulate this precisely: not kinked, narrowed, at the distal end.", "between.shuntFound=narrowed\n!between.shuntFound=kinked"},
	{schema.ShuntRevision, "Chest: left open, we thought, but after ten minutes he was stable so closed, with 4 wires.", "closing.sternum=closed\n!closing.sternum=open"},
	{schema.Stage1, "Shunt: 4,0 planned, 3,5 millimetre Gore-Tex implanted.", "supply.shuntDiameter=3.5\n!supply.shuntDiameter=4"},
	{schema.Stage1, "3.5 mm Gore-Tex shunt, innominate artery to the left, sorry, the right pulmonary artery.", "supply.shuntDiameter=3.5\n!supply.distalSite=left\n!supply.to=left-pulmonary-artery"},
	{schema.Stage3, "Fourth time in the chest. Strike that, fifth.", "approach.sternotomyNumber=5\n!approach.sternotomyNumber=4"},
	// planned, refused, failed, or what lies beneath
	{schema.Stage1, "Arterial cannulation in the duct. No wait, I say this wrong, the duct was the plan, it became the ascending aorta.", "!support.arterialCannulation=duct"},
	{schema.Stage1, "I shall look at closing her about the third day, and not before the lactate is under three.", "!gas.lactate"},
	{schema.Stage1, "And I don't want heparin, not until we've talked.", "!anticoagulation.plan=heparin"},
	{schema.SupportOn, "First attempt 13:05, failed, saturation 55. Third at 14:20, straight to support.", "!leaving.saturation=55"},
	{schema.Stage3, "Now dual paced, 120. Below it is sinus at 80.", "leaving.pacingRate=120\nleaving.rhythmBeneath=sinus\n!leaving.heartRate=80"},
	{schema.Takedown, "A takedown of his Fontan on the second day because it had failed, with low output.", "between.reason=failed-connection"},
	// what follows is of something else
	{schema.Stage1, "Drains: mediastinal sixteen French and a left pleural, no, right pleural, twelve French.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12\n!drain variety=left-pleural"},
	{schema.Stage2, "Bypass ninety minutes. No clamp. Sats eighty two.", "support.bypassTotal=90\nleaving.saturation=82\nsupport.clamps=none"},
	{schema.Closure, "Norad off. Call if MAP <40. Not bleeding, dry. No nitric.", "clotting.bleedingNow=dry\nventilation.nitricOxide=none"},
	{schema.Stage3, "Extracardiac Fontan. The conduit's an eighteen, no, twenty millimetre Gore-Tex. Not fenestrated, atrium seven.", "stage3.conduitDiameter=20\nstage3.atrialPressure=7"},
	{schema.Stage1, "Sternum planned closed, four wires.", "!closing.sternum=open"},
	{schema.Takedown, "Adrenaline point one two, noradrenaline, no that's not running, vasopressin is, point zero zero zero five.", "infusions.running drug=adrenaline dose=0.12"},
}

func TestLongRepair(t *testing.T) { holds(t, longRepairTold) }
