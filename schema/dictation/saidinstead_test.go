package dictation

import (
	"testing"

	"fairlead/schema"
)

// What led back to the child, what was changed and to what, and what closing the chest did
// in a note that is of no closure. Common practice of the trade, no source.
var ledBackTold = []family{
	{schema.Takedown, "her sats were sixty one on a hundred percent and nitric twenty so we went back third time through the middle", "!leaving.saturation=61\n!leaving.inspiredOxygen=1\n!ventilation.nitricOxide=20"},
	{schema.Takedown, "Glenn pressure was twenty four and sats sixty, so we took it down. Sats now 78.", "leaving.saturation=78\n!leaving.saturation=60"},
	{schema.ShuntRevision, "Sats forty eight, so straight back to theatre. Sats 83 now.", "between.saturationBeforeWork=48\nleaving.saturation=83"},
	{schema.Reexploration, "Sats were fifty five on full oxygen which is why we opened the chest again. Sats 80 in forty percent.", "leaving.saturation=80\nleaving.inspiredOxygen=0.4"},
	{schema.Reexploration, "The drains had lost sixty mils in an hour and then stopped dead.", "!leaving.drainLoss=60"},
	{schema.Reexploration, "By the time we left the drains had lost twelve mils.", "leaving.drainLoss=12"},
	{schema.Stage2, "sats seventy eight and we turned the nitric to ten", "leaving.saturation=78\nventilation.nitricOxide=10"},
	{schema.Stage2, "sats seventy eight and weaned the adrenaline to 0.02", "leaving.saturation=78"},
	{schema.Stage2, "FiO2 sixty per cent, then turned down to forty", "leaving.inspiredOxygen=0.4\n!leaving.inspiredOxygen=0.6"},
	{schema.Stage1, "Weight three point six, hang on, three point nine this morning, go with that.", "measures.weight=3.9\n!measures.weight=3.6"},
	{schema.Stage2, "She was 6.2 kilos, no, 6.4 this morning.", "measures.weight=6.4\n!measures.weight=6.2"},
}

func TestLedBack(t *testing.T) { holds(t, ledBackTold) }

var edgesTold = []family{
	{schema.Stage1, "Common atrial pressure jumped from eight to fourteen when I brought the edges together, so the sternum is open.", "closing.tolerance measure=atrial before=8 after=14\nclosing.sternum=open\n!pressures.readings pressure=common-atrial"},
	{schema.Stage1, "Tried to close: mean 52 to 38, so open with a membrane.", "closing.tolerance measure=mean-arterial before=52 after=38"},
	{schema.Stage2, "Trial of closure, atrial pressure six to eleven, opened again.", "closing.tolerance measure=atrial before=6 after=11"},
	{schema.Reexploration, "With the edges together mean dropped from fifty to thirty five.", "closing.tolerance measure=mean-arterial before=50 after=35"},
	{schema.Stage1, "I tried to close the fenestration but the pressure went from ten to sixteen.", "!closing.tolerance before=10"},
}

func TestEdgesBrought(t *testing.T) { holds(t, edgesTold) }

// Vessels cannulated that are said in the place of others, and what nobody bothered with.
var otherVessels = []family{
	{schema.Stage2, "Art: asc Ao. Ven: SVC + RA... edit: bicaval.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval\n!support.venousCannulation=superior-caval\n!support.venousCannulation=single-atrial"},
	{schema.Stage2, "Venous cannulation SVC, no, bicaval.", "support.venousCannulation=bicaval\n!support.venousCannulation=superior-caval"},
	{schema.Stage2, "Venous was the SVC and RA. Scratch that, bicaval.", "support.venousCannulation=bicaval\n!support.venousCannulation=superior-caval"},
	{schema.Stage2, "Aorta and bicaval, no vent.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval\nsupport.vent=none"},
	{schema.Stage1, "Wires, didn't bother.", "!pacing-wires variety=atrial count=2"},
	{schema.Stage1, "Nitric, never bothered.", "ventilation.nitricOxide=none"},
	{schema.Stage1, "Art: R radial 22g.", "!support.arterialCannulation=ascending-aorta"},
}

func TestOtherVessels(t *testing.T) { holds(t, otherVessels) }

// What all drains lost together, and thresholds told by the letters of the wires.
var togetherTold = []family{
	{schema.Stage3, "Right and left pleural drains and one mediastinal, all nineteens. Total loss sixty mils.", "leaving.drainLoss=60\n!work.estimatedLoss=60"},
	{schema.Stage2, "Drains right pleural and mediastinal, forty mils all together.", "leaving.drainLoss=40"},
	{schema.Stage2, "Mediastinal drain fifteen. Total blood loss 120 mils.", "work.estimatedLoss=120\n!leaving.drainLoss=120"},
	{schema.Stage1, "Wires 2A 2V, thresh A 2 mA, V 1.2 mA.", "pacing-wires variety=atrial count=2 threshold=2\npacing-wires variety=ventricular count=2 threshold=1.2"},
}

func TestToldTogether(t *testing.T) { holds(t, togetherTold) }
