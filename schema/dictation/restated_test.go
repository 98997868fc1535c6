package dictation

import (
	"testing"

	"fairlead/schema"
)

// What is said once more: more exactly, by another name, as a question that is answered,
// as another rhythm or another pressure now. Common practice of the trade, no source.
var restated = []family{
	// with its point
	{schema.Stage3, "A boy of four, sixteen kilos, sixteen point two.", "measures.weight=16.2\n!measures.weight=16"},
	{schema.Stage3, "Weight sixteen, sixteen point two exactly.", "measures.weight=16.2"},
	{schema.Stage3, "Lactate is three, three point four.", "gas.lactate=3.4"},
	{schema.Stage3, "Lactate three, potassium three point four.", "gas.lactate=3\ngas.potassium=3.4"},
	{schema.ShuntRevision, "Bypass was thirty-eight minutes, forty-one. No clamp.", "support.bypassTotal=41\n!support.bypassTotal=38"},
	{schema.Stage1, "Bypass ninety minutes, ninety-five.", "support.bypassTotal=95"},
	{schema.Stage1, "Bypass 140 minutes, clamp 100.", "support.bypassTotal=140\nsupport.clampTotal=100"},
	{schema.ShuntRevision, "Lactate four, that's the last one, it was nine.", "gas.lactate=4\n!gas.lactate=9"},
	{schema.ShuntRevision, "Rate was twenty-four, they've got him on eighteen, PEEP six.", "!ventilation.rate=24\nventilation.endPressure=6"},
	{schema.Stage2, "Nitric was at twenty, they've got her on ten now.", "ventilation.nitricOxide=10\n!ventilation.nitricOxide=20"},
	// taken back
	{schema.Stage3, "Off pump, I've written here. That's wrong, strike it, they were on for seventy-four minutes, heart beating.", "support.bypassTotal=74\n!support.mode=off-pump"},
	{schema.Stage1, "Clamp seventy-one. Beg your pardon, ninety-one.", "support.clampTotal=91\n!support.clampTotal=71"},
	{schema.Stage1, "The arch was patched, hold on, it was not patched at all.", "!stage1.archTechnique=patch-augmentation"},
	{schema.Stage3, "Wires. One atrial. No. Two atrial and one ventricular.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1"},
	{schema.Stage3, "Wires one atrial, no, two atrial, and one ventricular.", "pacing-wires variety=atrial count=2"},
	{schema.Stage3, "Noradrenaline through the left jugular... that's the right jugular.", "central-venous-line variety=jugular side=right\n!central-venous-line side=left"},
	{schema.Stage2, "Saturation eighty-six in fifty per cent; turned down to forty, still eighty-six, so put forty.", "leaving.saturation=86\nleaving.inspiredOxygen=0.4"},
	// asked
	{schema.Stage2, "Heart rate's one thirty now, is it? It was sinus at one forty-two coming out of theatre.", "leaving.heartRate=142\n!leaving.heartRate=130"},
	{schema.Stage3, "Second time in the chest, third time, if you count the band.", "approach.sternotomyNumber=3\n!approach.sternotomyNumber=2"},
	{schema.Stage3, "Third sternotomy, fourth if you count the washout.", "approach.sternotomyNumber=4"},
	{schema.Stage3, "We went in through the same scar for the third time.", "approach.sternotomyNumber=3"},
	// what only others do, or one would have done
	{schema.Stage1, "Chest closed, four steel wires, and I'd have left it open myself.", "closing.sternum=closed\n!closing.sternum=open"},
	{schema.Stage3, "A lateral tunnel! Everyone does an extracardiac tube now, and I do too.", "stage3.connection=lateral-tunnel\n!stage3.connection=extracardiac"},
	{schema.Stage3, "Lateral tunnel. I usually do an extracardiac.", "stage3.connection=lateral-tunnel"},
	// what held only until another came
	{schema.Stage3, "She was junctional for an hour and I A-paced her at one ten; she's back in sinus now.", "leaving.rhythm=sinus\n!leaving.rhythm=atrial-paced\n!leaving.pacingRate=110"},
	{schema.Stage3, "He was junctional at first and needed pacing at one twenty, now sinus again at ninety.", "leaving.rhythm=sinus\nleaving.heartRate=90\n!leaving.pacingRate=120"},
	{schema.Stage3, "came off with a fontan pressure of nineteen which nobody likes sats ninety four so we went back on and made a hole with a punch and now the fontan is fourteen and the sats eighty eight", "leaving.saturation=88\nstage3.conduitPressure=14\n!leaving.saturation=94"},
	// the heart arrested, the clamp timed
	{schema.Stage3, "The heart was arrested for forty-six minutes under the clamp. No circulatory arrest.", "support.clampTotal=46\nsupport.arrests=none\n!support.arrestTotal=46"},
	{schema.Stage1, "Arrested for twelve minutes, circulatory arrest.", "support.arrestTotal=12"},
	{schema.Stage3, "On for a hundred and ten minutes, cross clamp forty.", "support.bypassTotal=110\nsupport.clampTotal=40"},
}

func TestRestated(t *testing.T) { holds(t, restated) }

// The gradient across the lungs, told as what lies between two pressures.
var gradientsTold = []family{
	{schema.Stage3, "Fontan pressure fourteen, atrium six, so eight between.", "stage3.atrialPressure=6\nstage3.gradient=8"},
	{schema.Stage3, "Fontan was twelve. Atrium five. Difference of seven.", "stage3.gradient=7"},
	{schema.Stage3, "Fontan thirteen, atrium six, gap of seven.", "stage3.gradient=7"},
	{schema.Stage3, "the pressure in the fontaine fourteen the atrium eight and six of gradient", "stage3.atrialPressure=8\nstage3.gradient=6"},
	{schema.Stage2, "Glenn pressure thirteen. Common atrium five. So eight across.", "stage2.gradient=8"},
	{schema.Stage2, "Glenn 14, atrium 5, nine between the two.", "stage2.gradient=9"},
	{schema.Stage2, "Arm seventy, leg sixty five, difference of five.", "!stage2.gradient=5"},
}

func TestGradientsTold(t *testing.T) { holds(t, gradientsTold) }

// What follows on heparin, and what protamine did.
var clottingTold = []family{
	{schema.Stage3, "Plan: UFH 18:00 -> warfarin.", "anticoagulation.plan=heparin-then-warfarin\nanticoagulation.startAt=18:00"},
	{schema.Stage3, "UFH from 18:00 then warfarin.", "anticoagulation.plan=heparin-then-warfarin"},
	{schema.Stage3, "hep gtt when <3 cc/kg/h, then ASA.", "anticoagulation.plan=heparin-then-antiplatelet"},
	{schema.Stage2, "Heparin at twenty-two hundred. Aspirin after.", "anticoagulation.plan=heparin-then-antiplatelet\nanticoagulation.startAt=22:00"},
	{schema.Stage2, "Heparin ten units from tonight if dry. Aspirin later.", "anticoagulation.plan=heparin-then-antiplatelet"},
	{schema.Stage2, "Aspirin tonight. No heparin.", "anticoagulation.plan=antiplatelet"},
	{schema.Stage1, "ACT 118 after protamine 4 mg/kg, no rxn.", "clotting.protamineReaction=none"},
	{schema.Stage1, "Heparin ten units at midnight, if the drain stays under two per kilo.", "anticoagulation.plan=heparin\nanticoagulation.startAt=00:00\n!infusions.running drug=heparin"},
	{schema.Stage2, "as soon as she is dry heparin ten units per kilo an hour", "anticoagulation.plan=heparin\n!infusions.running drug=heparin"},
	{schema.Stage1, "Heparin five units per kilo, restart in four hours.", "anticoagulation.plan=heparin\n!infusions.running drug=heparin"},
	{schema.ShuntRevision, "Heparin infusion ten units, not yet, when the ACT is under one eighty.", "anticoagulation.plan=heparin\n!infusions.running drug=heparin"},
	{schema.Takedown, "Hep off, restart 8/kg/h @ 22:00 if dry.", "anticoagulation.plan=heparin\nanticoagulation.startAt=22:00\ninfusions.running drug=heparin state=stopped"},
	{schema.Reexploration, "Heparin stays off until tomorrow.", "!anticoagulation.plan=heparin"},
	{schema.Reexploration, "The heparin is off and please do not begin again before we meet.", "!anticoagulation.plan=heparin"},
	{schema.Closure, "Do not restart the heparin.", "!anticoagulation.plan=heparin"},
	{schema.Reexploration, "Heparin is off; restart tomorrow, warfarin to follow.", "anticoagulation.plan=heparin-then-warfarin"},
	{schema.Stage3, "Heparin tonight if dry. Warfarin later.", "anticoagulation.plan=heparin-then-warfarin\n!anticoagulation.plan=heparin"},
	{schema.Stage3, "Warfarin after the drains are out; heparin before this.", "anticoagulation.plan=heparin-then-warfarin"},
	{schema.Stage3, "Warfarin is stopped, heparin from six hours from now.", "anticoagulation.plan=heparin"},
	{schema.Stage3, "Warfarin will be decided on Friday, not by us tonight.", "anticoagulation.plan=decide-later"},
	{schema.Stage3, "Warfarin is what the cardiologists will argue about later.", "!anticoagulation.plan=heparin-then-warfarin"},
	{schema.Stage1, "Heparin ten an hour from 18:00 if dry. Aspirin once feeding.", "anticoagulation.plan=heparin-then-antiplatelet\nanticoagulation.startAt=18:00"},
	{schema.Stage2, "Aspirin only, no heparin.", "anticoagulation.plan=antiplatelet"},
	{schema.Stage3, "ASA POD1, no hep gtt.", "anticoagulation.plan=antiplatelet\n!none clotting.heparin"},
	{schema.Stage2, "Aspirin from tomorrow. No heparin.", "anticoagulation.plan=antiplatelet\n!none clotting.heparin"},
	{schema.Stage1, "Protamine four per kilo, nobody reacted.", "clotting.protamine=4\nclotting.protamineReaction=none"},
}

func TestClottingTold(t *testing.T) { holds(t, clottingTold) }

// What a drug runs at, told with what it ran at before, or after another drug was named.
var dosesMoved = []family{
	{schema.Closure, "Tolerated with epi up to .06 from .02. Milr .5 unchanged.", "infusions.running drug=adrenaline dose=0.06\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Closure, "Adrenaline 0.03 to 0.05 to get there.", "infusions.running drug=adrenaline dose=0.05\n!infusions.running dose=0.03"},
	{schema.Stage1, "Adrenaline 0.1 to start, 0.05 by the time we left.", "infusions.running drug=adrenaline dose=0.05"},
	{schema.Stage1, "We needed adrenaline at point two for ten minutes, and it's at point oh six at the door.", "infusions.running drug=adrenaline dose=0.06"},
	{schema.Stage1, "Milrinone 0.75 loaded, running at 0.5.", "infusions.running drug=milrinone dose=0.5"},
	{schema.Closure, "Milrinone point seven, no, he's been down at point five since the morning.", "infusions.running drug=milrinone dose=0.5\n!infusions.running dose=0.7"},
	{schema.Closure, "She went up to point one five on the adrenaline and is back on point zero seven.", "infusions.running drug=adrenaline dose=0.07"},
	{schema.SupportOn, "epi was running at point one it is off milrinone point three three", "infusions.running drug=adrenaline state=stopped\ninfusions.running drug=milrinone dose=0.33"},
	{schema.SupportOn, "adrenaline was point one it is stopped milrinone point five", "infusions.running drug=milrinone dose=0.5"},
	{schema.Stage3, "Milrinone 0.25, and noradrenaline, no, vasopressin 0.0002.", "infusions.running drug=vasopressin dose=0.0002\n!infusions.running drug=noradrenaline"},
	{schema.Stage3, "Noradrenaline, sorry, adrenaline 0.05.", "infusions.running drug=adrenaline dose=0.05"},
	{schema.Stage1, "The noradrenaline that had been drawn up was never started.", "none infusions.running drug=noradrenaline"},
	{schema.Reexploration, "On the unit, adrenaline in my hand. Adrenaline 0.12 down to 0.08, it's now 0.06.", "infusions.running drug=adrenaline dose=0.06\n!infusions.running item=peripheral-cannula/hand"},
}

func TestDosesMoved(t *testing.T) { holds(t, dosesMoved) }

// The rate and the rhythm under pacing, and heparin given where there was no bypass.
var underPacing = []family{
	{schema.Takedown, "Paced DDD at 145. Underneath, junctional 90.", "leaving.pacingRate=145\nleaving.rhythmBeneath=junctional\n!leaving.heartRate=90\n!leaving.rhythm=junctional"},
	{schema.Takedown, "She is paced on the atrial wires at one hundred and forty over a sinus rate of ninety.", "leaving.pacingRate=140\n!leaving.heartRate=90"},
	{schema.Stage2, "Paced AAI at 150, own rate 96 sinus.", "leaving.pacingRate=150\n!leaving.heartRate=96"},
	{schema.Stage1, "Underlying rhythm is junctional at eighty; we pace DDD at 140.", "leaving.pacingRate=140\n!leaving.heartRate=80"},
	{schema.Stage1, "Sinus 150, wires not connected.", "leaving.heartRate=150"},
	{schema.Stage1, "Own rhythm, rate one fifty, box on standby.", "leaving.heartRate=150"},
	{schema.ShuntRevision, "Nobody went near bypass; heparin fifty per kilo was given before the clip.", "clotting.heparinOther=50\n!clotting.heparin=50"},
	{schema.Stage3, "We did it off bypass on a partial clamp with heparin at a hundred per kilo.", "support.mode=off-pump\nclotting.heparinOther=100"},
	{schema.ShuntRevision, "Heparin fifty per kilo before the clip.", "clotting.heparinOther=50\n!clotting.heparin=50"},
	{schema.Stage1, "Bypass ninety minutes, heparin four hundred per kilo.", "clotting.heparin=400"},
}

func TestUnderPacing(t *testing.T) { holds(t, underPacing) }
