package dictation

import (
	"testing"

	"fairlead/schema"
)

// What holds now, of what was said first, of another time, or of two things at once.
// The sentences and their facts are written by hand, as in families.
var truths = []family{
	// a correction over several sentences
	{schema.Stage1, "Clamp on at ten fourteen and off at eleven oh six. Sorry, off at eleven sixteen. I misread the chart.", "support.clamps on=10:14 off=11:16\n!support.clamps off=11:06"},
	{schema.Stage1, "Bypass from nine forty to twelve thirty. The perfusionist says it was actually twelve fifty that we came off.", "support.runs on=09:40 off=12:50"},
	{schema.Stage1, "I make it forty seven minutes of clamp. Let me check the sheet. Fifty seven.", "support.clampTotal=57\n!support.clampTotal=47"},
	{schema.Stage1, "The registrar dictated a three and a half shunt; it was in fact a four.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.Stage1, "Left radial arterial line, twenty four gauge. Hmm, no, that one failed. It's the right radial, same gauge.", "arterial-line variety=radial side=right gauge=24\n!arterial-line side=left"},
	{schema.Stage1, "Clamp thirty one, thirty three by the chart, use that.", "support.clampTotal=33\n!support.clampTotal=31"},
	{schema.Stage1, "Sats ninety two on sixty per cent, fifty, I have just turned it down.", "leaving.inspiredOxygen=0.5\n!leaving.inspiredOxygen=0.6"},
	// what passed
	{schema.Stage1, "Before we came off, the saturation was fifty eight.", "!leaving.saturation=58"},
	{schema.Stage3, "Fontan pressure is seventeen? No, seventeen was before we let the fenestration go, fifteen now.", "stage3.conduitPressure=15\n!stage3.conduitPressure=17"},
	{schema.Stage3, "Sats seventy on the way off and now seventy nine.", "leaving.saturation=79\n!leaving.saturation=70"},
	{schema.Stage3, "The atrium was five before we volume loaded him and seven after.", "stage3.atrialPressure=7\n!stage3.atrialPressure=5"},
	// each its own, respectively
	{schema.Stage1, "Adrenaline and milrinone are running at nought point nought five and nought point five respectively.", "infusions.running drug=adrenaline dose=0.05\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Stage3, "Right, left and mediastinal drains of sixteen, twelve and twenty French respectively.", "drain variety=right-pleural size=16\ndrain variety=left-pleural size=12\ndrain variety=mediastinal size=20"},
	{schema.Stage3, "The right and left pleural drains are sixteen and twelve French respectively.", "drain variety=right-pleural size=16\ndrain variety=left-pleural size=12"},
	{schema.Stage1, "The right and left cerebral saturations are sixty and fifty five respectively.", "leaving.cerebralRight=60\nleaving.cerebralLeft=55"},
	{schema.Stage1, "The lactate and the glucose were three and seven respectively.", "gas.lactate=3\ngas.glucose=7"},
}

func TestTruths(t *testing.T) { holds(t, truths) }
