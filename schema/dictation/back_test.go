package dictation

import (
	"testing"

	"fairlead/schema"
)

// What brought a child back, what is there no more, and numbers that stand together.
// Common practice of the trade, no source.
var broughtBack = []family{
	// the reason, with how the child was
	{schema.Reexploration, "Tamponade, lactate nine, sats sixty two, mean thirty.", "between.reason=tamponade\nbetween.saturationBeforeWork=62\n!gas.lactate=9\n!pressures.readings pressure=arterial\n!leaving.saturation=62"},
	{schema.Reexploration, "Low output, Glenn pressure twenty one, sats sixty eight. Now sats eighty one.", "between.saturationBeforeWork=68\nleaving.saturation=81\n!pressures.readings pressure=glenn"},
	{schema.Reexploration, "Back for bleeding. Chest opened, clot out. Lactate five, sats seventy five now.", "gas.lactate=5\nleaving.saturation=75"},
	{schema.ShuntRevision, "Shunt blocked, sats forty, lactate eleven. Replaced it.", "between.shuntFound=blocked\nbetween.saturationBeforeWork=40\n!gas.lactate=11"},
	{schema.Takedown, "Fontan P 24 all along, lac 6. 15.1 kg, M.", "measures.weight=15.1\n!gas.lactate=6\n!pressures.readings pressure=fontan"},
	{schema.Takedown, "Glenn P 24, low output. Post: Glenn P 15, RA 8.", "pressures.readings pressure=glenn mean=15\n!pressures.readings mean=24"},
	{schema.Takedown, "Failing Glenn: SVC pressure 26, sats 60, lactate 7. Glenn taken down. Lactate 4.", "gas.lactate=4\n!gas.lactate=7\n!leaving.saturation=60"},
	// packs that hold blood
	{schema.Stage2, "Two packs of red cells still in the fridge upstairs.", "!left-on-purpose variety=packs"},
	{schema.Stage1, "There are four packs of blood left in the theatre fridge.", "!left-on-purpose variety=packs"},
	{schema.Stage2, "Two packs of platelets and one pack of plasma given.", "!left-on-purpose variety=packs"},
	{schema.Reexploration, "Two packs of gauze left behind the heart.", "left-on-purpose variety=packs count=2"},
	// wires that were cut off
	{schema.Reexploration, "A-wires were cut yesterday; only V wires x2.", "pacing-wires variety=ventricular count=2\n!pacing-wires variety=atrial"},
	{schema.Reexploration, "We cut the atrial wires flush, the ventricular are in.", "!pacing-wires variety=atrial"},
	{schema.Stage3, "The atrial wires were snipped at the skin.", "!pacing-wires variety=atrial"},
	{schema.Stage3, "Two atrial wires cut short and taped.", "pacing-wires variety=atrial count=2"},
	// drains that stay, drains that are gone, drains that are denied after their place
	{schema.Reexploration, "Mediastinal drain the same twenty-four. Left pleural as it was, twenty.", "drain variety=left-pleural size=20"},
	{schema.Closure, "Mediastinal drain twelve is new, the left pleural is unchanged, ten.", "drain variety=left-pleural size=10"},
	{schema.Closure, "Left pleural drain twelve. The right pleural is not there any more.", "none drain variety=right-pleural\n!drain variety=right-pleural"},
	{schema.Closure, "Mediastinal drain twelve. The left pleural isn't there any more.", "none drain variety=left-pleural"},
	{schema.Stage2, "drains are media sternal and left plural both twelve right plural no drain because I did not open it", "drain variety=left-pleural size=12\nnone drain variety=right-pleural\n!drain variety=right-pleural"},
	{schema.Reexploration, "drains are two mediastinal eighteen and right plural eighteen left plural nothing pacing wires same two and two", "none drain variety=left-pleural\npacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2\n!none pacing-wires variety=atrial"},
	{schema.Stage2, "Right pleural no drain left pleural twelve", "none drain variety=right-pleural\n!none drain variety=left-pleural"},
	{schema.Stage2, "left pleural nothing, right pleural sixteen, one mediastinal drain sixteen", "none drain variety=left-pleural\ndrain variety=right-pleural size=16\n!drain variety=left-pleural"},
	{schema.Stage2, "One drain right pleural, no drain in the mediastinum.", "drain variety=right-pleural\nnone drain variety=mediastinal"},
	// lines by their letters
	{schema.Stage1, "SR 152. CAL 9. Sats 77.", "intracardiac-line variety=common-atrial\npressures.readings pressure=common-atrial mean=9"},
	{schema.Stage1, "LAL 8, RAL 9.", "intracardiac-line variety=left-atrial\nintracardiac-line variety=right-atrial\npressures.readings pressure=left-atrial mean=8"},
	{schema.Stage1, "Cal gluc 10 given.", "!intracardiac-line variety=common-atrial"},
	// thresholds of both chambers
	{schema.Stage3, "A wires x2 + V x1. Tested: A 1.5 mA, V 0.8 mA.", "pacing-wires variety=atrial count=2 threshold=1.5\npacing-wires variety=ventricular count=1 threshold=0.8"},
	{schema.Stage3, "Wires two and two, thresholds one point two atrial and one point six ventricular, box on standby.", "pacing-wires variety=atrial count=2 threshold=1.2\npacing-wires variety=ventricular count=2 threshold=1.6\n!pacing-wires connection=connected\n!stage3.atrialPressure=1.6"},
	{schema.Stage3, "Wires two and two tested, one point two on the atrium, nought point eight on the ventricle.", "pacing-wires variety=atrial threshold=1.2 tested=yes\npacing-wires variety=ventricular threshold=0.8"},
	{schema.Stage3, "Wires tested, two atrial and two ventricular.", "!pacing-wires variety=atrial threshold=2"},
	{schema.Stage2, "Atrial wires two, box on standby.", "leaving.pacing=standby\npacing-wires variety=atrial count=2\n!pacing-wires connection=connected"},
	// a weight with its grams
	{schema.Stage2, "Kawashima. Seven kilo four hundred. Left isomerism.", "measures.weight=7.4\n!measures.weight=7"},
	{schema.Stage1, "Weighs three kilo and two hundred grams.", "measures.weight=3.2"},
	{schema.Stage1, "Weight three kilos two fifty.", "measures.weight=3.25"},
	{schema.Stage1, "Three kilos, one hundred mils of red cells.", "measures.weight=3\nblood.products product=red-cells volume=100"},
	// a count after a decimal
	{schema.Stage1, "milrinone zero point seven one drain mediastinal sixteen french", "infusions.running drug=milrinone dose=0.7\ndrain variety=mediastinal size=16"},
	{schema.Stage1, "adrenaline zero point zero five two drains mediastinal and right pleural", "infusions.running drug=adrenaline dose=0.05"},
}

func TestBroughtBackAndGone(t *testing.T) { holds(t, broughtBack) }
