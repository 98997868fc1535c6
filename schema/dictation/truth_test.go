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
	{schema.Stage1, "Clamp seventy one minutes. No. I have read the wrong column. Sixty one.", "support.clampTotal=61\n!support.clampTotal=71"},
	// what passed
	{schema.Stage1, "Before we came off, the saturation was fifty eight.", "!leaving.saturation=58"},
	{schema.Stage3, "Fontan pressure is seventeen? No, seventeen was before we let the fenestration go, fifteen now.", "stage3.conduitPressure=15\n!stage3.conduitPressure=17"},
	{schema.Stage3, "Sats seventy on the way off and now seventy nine.", "leaving.saturation=79\n!leaving.saturation=70"},
	{schema.Stage3, "The atrium was five before we volume loaded him and seven after.", "stage3.atrialPressure=7\n!stage3.atrialPressure=5"},
	{schema.Stage2, "At stage one she had a Sano and needed support for two days and came out with a lactate of nine, today the lactate is one point two.", "gas.lactate=1.2\n!gas.lactate=9"},
	{schema.Stage3, "We arrested for seven minutes at twenty five degrees, no, sorry, that was eight minutes.", "support.arrestTotal=8\n!support.arrestTotal=7"},
	{schema.Stage1, "Clamp 57, typo, 75.", "support.clampTotal=75\n!support.clampTotal=57"},
	// at hand, wanted or thought, and not so
	{schema.Stage1, "I had a second stent on the table, a nine by twenty, but one covered the duct nicely.", "!hybrid.stents diameter=9"},
	{schema.Stage1, "A bovine patch was opened but the arch has pulmonary homograft.", "!stage1.archPatch=bovine-pericardium"},
	{schema.Reexploration, "It looked like tamponade on the echo but there was no clot.", "!between.reason=tamponade"},
	{schema.Reexploration, "The suture lines were dry. The source was a cannulation site.", "between.source=cannulation-site\n!between.source=suture-line"},
	{schema.Stage1, "Nitric only if the saturation falls under 65.", "!leaving.saturation=65"},
	{schema.Stage1, "Lactates: three upstairs, nine coming off, five point four now.", "gas.lactate=5.4\n!gas.lactate=3"},
	// a denial that echoes
	{schema.Stage3, "I said there was a mediastinal drain, there is not.", "none drain variety=mediastinal"},
	{schema.Stage3, "I was going to put atrial wires in and didn't.", "none pacing-wires variety=atrial"},
	{schema.Stage1, "A right pleural drain was considered and not placed.", "none drain variety=right-pleural"},
	{schema.Stage3, "Femoral veins: no lines, both blocked.", "!central-venous-line variety=femoral"},
	// one side, and the other as it is or is not
	{schema.Stage1, "The left pleura was never opened but the right was.", "approach.leftPleura=not-opened\napproach.rightPleura=opened"},
	{schema.Stage2, "The right phrenic nerve was seen and safe, the left was not.", "approach.rightPhrenic=seen\napproach.leftPhrenic=not-seen"},
	// limits of what the sentence before named
	{schema.Stage1, "I am happy with saturations between seventy two and eighty four. If they go below sixty five for more than five minutes I want to be called.", "plan.calls what=saturation direction=below value=65 howLong=5"},
	{schema.Stage1, "The lactate is four. Call me if it goes above six.", "gas.lactate=4\nplan.calls what=lactate direction=above value=6"},
	{schema.Stage2, "I would accept a Glenn pressure up to eighteen.", "plan.targets what=caval high=18"},
	// each its own, respectively
	{schema.Stage1, "Adrenaline and milrinone are running at nought point nought five and nought point five respectively.", "infusions.running drug=adrenaline dose=0.05\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Stage3, "Right, left and mediastinal drains of sixteen, twelve and twenty French respectively.", "drain variety=right-pleural size=16\ndrain variety=left-pleural size=12\ndrain variety=mediastinal size=20"},
	{schema.Stage3, "The right and left pleural drains are sixteen and twelve French respectively.", "drain variety=right-pleural size=16\ndrain variety=left-pleural size=12"},
	{schema.Stage1, "The right and left cerebral saturations are sixty and fifty five respectively.", "leaving.cerebralRight=60\nleaving.cerebralLeft=55"},
	{schema.Stage1, "The lactate and the glucose were three and seven respectively.", "gas.lactate=3\ngas.glucose=7"},
}

func TestTruths(t *testing.T) { holds(t, truths) }
