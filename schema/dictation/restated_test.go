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
	{schema.Stage1, "Protamine four per kilo, nobody reacted.", "clotting.protamine=4\nclotting.protamineReaction=none"},
}

func TestClottingTold(t *testing.T) { holds(t, clottingTold) }
