package dictation

import (
	"testing"

	"fairlead/schema"
)

// Two values of one field far apart in the telling, and which of them holds.
//
// The sentences are written by hand: from memory of how operations are told, no source.
var weighedTold = []family{
	{schema.SupportOff, "Lactate two point eight. Sinus, one fifty. If he fails I'd not go back. Lactate above five, ring.", "gas.lactate=2.8"},
	{schema.ShuntRevision, "Overcirculated: sats 92 in air, lactate 7. Clip on the shunt, off pump. Sats 79 in FiO2 0.3. Lactate 4.6 at the end.", "gas.lactate=4.6\n!gas.lactate=7\nbetween.saturationBeforeWork=92\nleaving.inspiredOxygen=0.3"},
	{schema.ShuntRevision, "He was saturating ninety-four on air. We took down the shunt and made it a three and a half. Now the saturations are eighty-one.", "leaving.saturation=81\nbetween.saturationBeforeWork=94\n!leaving.saturation=94"},
	{schema.Takedown, "The Glenn pressure was high with sats of forty-eight. The hole in the artery was closed with bovine pericardium. Then a four millimetre Gore-Tex from the innominate. Chest open. Sats seventy-six leaving.", "leaving.saturation=76\nsupply.material=eptfe\n!supply.material=bovine-pericardium\n!leaving.saturation=48"},
	{schema.Stage2, "Conduit wasn't stuck to the bone. Dense adhesions everywhere else.", "approach.adhesions=dense\n!approach.adhesions=none"},
	{schema.Stage2, "Band placed through a left thoracotomy, so today is the first sternotomy.", "approach.incision=median-sternotomy\n!approach.incision=left-thoracotomy"},
	{schema.Stage2, "The first try failed with poor function. Second try fine. Echo: function mildly reduced.", "echo.function=mildly-reduced\n!echo.function=severely-reduced"},
	{schema.Stage1, "We never turned the pump off. Clamp fifty-eight, bypass a hundred and forty-two.", "support.bypassTotal=142\n!support.mode=off-pump"},
	{schema.Stage1, "DILV. DKS plus arch with bovine pericardial patch, right BT shunt 4.0 Gore-Tex.", "stage1.archPatch=bovine-pericardium\n!stage1.archPatch=eptfe"},
	// what stays for a person to decide
	{schema.Stage3, "Clamp was seventy-four minutes. Chest closed. For the record, clamp time eighty-two minutes.", "support.clampTotal=74|82"},
	{schema.Stage3, "Fontan twelve off pump. Chest closed, two drains. The anaesthetist's sheet has the Fontan at fourteen.", "!stage3.conduitPressure=12"},
}

func TestWeighed(t *testing.T) { holds(t, weighedTold) }

// Where blood goes in and out, told as a list; a shunt that a clip narrows; a number
// chosen over the one before it; times that are told first, last or as a sum.
//
// The sentences are written by hand: from memory of how operations are told, no source.
var operationTold = []family{
	{schema.ShuntRevision, "Ao/RA cann. CPB 22:15-23:04.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=single-atrial"},
	{schema.Stage3, "Aorta, both cavae. Pump sixty-one. Beating.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval\nsupport.bypassTotal=61"},
	{schema.Stage1, "Cann: duct then neo-Ao, single RA.", "support.arterialCannulation=duct\nsupport.arterialCannulation=neo-aorta\nsupport.venousCannulation=single-atrial"},
	{schema.Stage2, "We cannulated the neo-aorta, the two cavae and also the left superior cava.", "support.arterialCannulation=neo-aorta\nsupport.venousCannulation=bicaval\nsupport.venousCannulation=left-superior-caval"},
	{schema.Stage1, "I sewed a three and a half Gore-Tex tube onto the innominate and we went on through that, with one cannula in the atrium.", "support.arterialCannulation=innominate-graft\nsupport.venousCannulation=single-atrial"},
	{schema.Stage1, "My arterial cannula in the innominate, straight in, no graft, two venous pipes, bicaval.", "support.arterialCannulation=innominate-direct\nsupport.venousCannulation=bicaval"},
	{schema.Stage3, "R groin exposed + cannulated (FA/FV) pre saw.", "support.arterialCannulation=right-femoral\nsupport.venousCannulation=right-groin\napproach.vesselsExposed=right-groin"},
	{schema.Stage3, "R groin exposed pre-saw, not cannulated. Cann asc Ao + SVC/IVC.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval\n!support.arterialCannulation=right-femoral"},
	{schema.Stage1, "Shunt innominate to RPA. Lines: RA line, RA 8.", "!support.arterialCannulation=innominate-direct\n!support.venousCannulation=single-atrial"},
	{schema.Reexploration, "Source: RA cannulation site, one stitch.", "!support.venousCannulation=single-atrial"},
	{schema.Stage1, "Arch patched from the innominate to the descending aorta. The duct was tied.", "!support.arterialCannulation=duct\n!support.arterialCannulation=innominate-direct"},

	{schema.ShuntRevision, "One titanium clip partway across the shunt.", "supply.state=narrowed\nbetween.shuntDone=clipped"},
	{schema.ShuntRevision, "Overcirculated. Clipped, single clip, lumen down a third.", "supply.state=narrowed\nbetween.shuntDone=clipped"},
	{schema.SupportOn, "The shunt I found open; I did not close it, only narrowed it with one clip.", "mechanical.shunt=narrowed\n!mechanical.shunt=open"},
	{schema.SupportOn, "The sano is narrowed with a clip, no sorry, the shunt is just open, nothing on it.", "!mechanical.shunt=narrowed"},
	{schema.ShuntRevision, "I thought of clipping it partway but changed it instead.", "!supply.state=narrowed"},
	{schema.Stage2, "The old shunt I clipped, then thought better of it and divided it too.", "stage2.oldSupply=clipped-and-divided"},
	{schema.Stage2, "The Sano I was only going to clip but in the end I divided it.", "!stage2.oldSupply=clipped-and-divided"},
	{schema.Stage2, "I clipped the shunt and did not divide it.", "stage2.oldSupply=clipped"},

	{schema.Stage3, "Fontan pressure sixteen first up, thirteen leaving. Atrium five.", "stage3.conduitPressure=13\n!stage3.conduitPressure=16"},
	{schema.Stage2, "Glenn pressure nineteen with the clamp on; the number you want is fourteen.", "stage2.cavalPressure=14"},
	{schema.Stage2, "Glenn pressure seventeen when I wrote it down; sixteen as I speak.", "stage2.cavalPressure=16"},
	{schema.Stage3, "Bypass a hundred and four; perfusion are shaking their heads, a hundred and nine, take theirs.", "support.bypassTotal=109"},
	{schema.Stage3, "Clamp forty, the chart has forty-four.", "support.clampTotal=40|44"},
	{schema.Stage1, "Clamp sixty-four, pump a hundred and thirty-eight.", "support.clampTotal=64\nsupport.bypassTotal=138"},

	{schema.Stage2, "Fifty-four minutes on pump, no clamp.", "support.bypassTotal=54"},
	{schema.Stage2, "All on bypass with the heart beating and no clamp, ninety-four minutes all up.", "support.bypassTotal=94\nsupport.clamps=none"},
	{schema.Stage3, "Two runs, ninety-five minutes and eighteen, a hundred and thirteen all told.", "support.runs minutes=95\nsupport.runs minutes=18\nsupport.bypassTotal=113\n!support.runs minutes=113"},
	{schema.SupportOff, "VA, five days, one hundred eighteen hours.", "mechanical.runHours=118"},
	{schema.SupportOff, "Tuesday's trial failed. Today's passed, down to thirty per kilo, an hour of it.", "mechanical.trials outcome=failed\nmechanical.trials outcome=passed flow=30"},
	{schema.SupportOff, "First trial at fifty per kilo failed; second, down to twenty-five, passed.", "mechanical.trials outcome=failed flow=50\nmechanical.trials outcome=passed flow=25"},
	{schema.SupportOff, "Second count correct. The first circuit failed yesterday.", "!mechanical.trials outcome=failed"},
	{schema.SupportOff, "He sat at thirty per kilo for half an hour.", "!mechanical.runHours=0.5"},
}

func TestOperationTold(t *testing.T) { holds(t, operationTold) }
