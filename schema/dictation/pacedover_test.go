package dictation

import (
	"testing"

	"fairlead/schema"
)

// The rhythm that pacing covers, the wires with their thresholds by chamber, and wires
// that are in and not needed.
//
// The sentences are written by hand: common practice, no source.
var pacedOver = []family{
	{schema.Closure, "Rhythm SR 148 underlying, paced DDD 150.", "leaving.rhythm=dual-paced\nleaving.rhythmBeneath=sinus"},
	{schema.Stage2, "She came off with junctional rhythm at one thirty so we a pace her at one fifty.", "leaving.rhythm=atrial-paced\nleaving.rhythmBeneath=junctional"},
	{schema.Stage3, "Junctional, ninety, pacing atrial at one ten.", "leaving.rhythm=atrial-paced\nleaving.rhythmBeneath=junctional\nleaving.pacingRate=110"},
	{schema.Stage2, "Complete block, so we are pacing DDD at one forty.", "leaving.rhythm=dual-paced\nleaving.rhythmBeneath=complete-block"},
	{schema.Stage2, "Sinus one thirty six, not pacing.", "leaving.rhythm=sinus\n!leaving.rhythm=atrial-paced"},
	{schema.Stage3, "Two atrial and two ventricular wires, not needed.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
	{schema.Stage3, "Ventricular wires, not needed so not placed.", "none pacing-wires variety=ventricular"},
	{schema.Stage3, "2A 2V, thresh A 1.5 V 1.0.", "pacing-wires variety=atrial count=2 threshold=1.5\npacing-wires variety=ventricular count=2 threshold=1"},
	{schema.Stage2, "Pacing, two atrial, two ventricular, A threshold one point two, V threshold point nine.", "pacing-wires variety=atrial count=2 threshold=1.2\npacing-wires variety=ventricular count=2 threshold=0.9"},
	{schema.Stage3, "Two atrial wires and two ventricular wires are there; the atrial threshold is one milliamp.", "pacing-wires variety=atrial count=2 threshold=1\npacing-wires variety=ventricular count=2"},
	{schema.Stage1, "No wires, not atrial, not ventricular.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage1, "No A/V wires.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage2, "wires two atrial two ventricular drains mediastinal one right plural one both twenty french", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2\ndrain variety=mediastinal size=20\ndrain variety=right-pleural size=20"},
}

func TestPacedOver(t *testing.T) { holds(t, pacedOver) }

// Drains and lines in short lists, what nobody did, and the number that is settled on.
//
// The sentences are written by hand: common practice, no source.
var settledOn = []family{
	{schema.Closure, "Two drains, both mediastinal, twelve and fifteen.", "drain variety=mediastinal size=12\ndrain variety=mediastinal size=15"},
	{schema.Stage3, "drains right left and mediastinal fifteen french", "drain variety=right-pleural\ndrain variety=left-pleural\ndrain variety=mediastinal size=15"},
	{schema.Stage3, "Drains: right pleural twenty, left pleural twenty, mediastinal twenty-four, combined loss ninety-five.", "leaving.drainLoss=95\n!work.estimatedLoss=95"},
	{schema.Stage1, "RIJ 5F x3 lumen @ 7.", "central-venous-line variety=jugular side=right size=5 lumenCount=3 depth=7"},
	{schema.Stage3, "LFV 5F 2-lumen: milr 0.375 prox.", "central-venous-line variety=femoral side=left size=5 lumenCount=2"},
	{schema.Stage1, "left radial twenty four gauge right radial they try but cannot milrinone point three three", "arterial-line variety=radial side=left gauge=24\n!arterial-line variety=radial side=right"},
	{schema.Reexploration, "The b t shunt felt soft with a thrill so it is open nobody clipped it.", "!between.shuntDone=clipped"},
	{schema.Reexploration, "Nobody left any packs.", "none left-on-purpose variety=packs"},
	{schema.Stage3, "Nobody left a snare.", "!left-on-purpose variety=snare"},
	{schema.Stage2, "The septum I thought to enlarge, then left it.", "!stage2.septumWork=enlarged"},
	{schema.Stage2, "Sat eighty-nine, ninety-one by the time we moved.", "leaving.saturation=91\n!leaving.saturation=89"},
	{schema.ShuntRevision, "Sat after was eighty-two, eighty-five when we closed.", "between.saturationAfterWork=82\nleaving.saturation=85"},
	{schema.Stage3, "Pump one hour fifty, sorry, one hour forty, one-oh-four minutes I am told by perfusion, so write one-oh-four.", "support.bypassTotal=104"},
	{schema.Stage3, "Bypass one twenty, perfusion tells me one twenty six, take one twenty six.", "support.bypassTotal=126"},
}

func TestSettledOn(t *testing.T) { holds(t, settledOn) }
