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
