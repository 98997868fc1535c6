package dictation

import (
	"testing"

	"fairlead/schema"
)

// Support, clotting, breathing, the echo and the plan, as different people say them.
// From memory, common practice, no source.
var atTheSide = []family{
	{schema.Stage1, "Venous drainage through the right atrium with one cannula.", "support.venousCannulation=single-atrial"},
	{schema.Stage1, "Single 20 French venous cannula in the RA appendage.", "support.venousCannulation=single-atrial"},
	{schema.Stage1, "The anomalous vein drained to the right atrium.", "!support.venousCannulation=single-atrial"},
	{schema.Stage2, "Aorto-bicaval bypass.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval"},
	{schema.Stage1, "Cannulated via a 3 mm Gore-Tex on the brachiocephalic.", "support.arterialCannulation=innominate-graft\nsupport.inflowGraft=3"},
	{schema.Stage1, "The innominate was cannulated directly with an 8 French.", "support.arterialCannulation=innominate-direct"},
	{schema.Stage1, "The chimney was taken off and the artery closed with seven oh.", "support.inflowGraftFate=removed"},
	{schema.Stage1, "The graft was left on for ECMO in case.", "support.inflowGraftFate=left-for-support"},
	{schema.Stage1, "Circulation was off for nine minutes while we cut the septum.", "support.arrestTotal=9"},
	{schema.Stage1, "Sinus rhythm came back by itself, no defibrillation needed.", "support.shocks=none"},
	{schema.Stage1, "Protamine in at 14:20 with no upset.", "clotting.protamineAt=14:20\nclotting.protamineReaction=none"},
	{schema.Stage1, "We did not reverse the heparin.", "clotting.protamine=none\n!clotting.heparin=none"},
	{schema.Stage1, "Heparin left unreversed.", "clotting.protamine=none"},
	{schema.Stage1, "Haemostasis was meticulous and the field dry.", "clotting.bleedingNow=dry"},
	{schema.Stage1, "Not much bleeding at all.", "clotting.bleedingNow=dry"},
	{schema.Stage1, "Initially oozy, dry after platelets.", "clotting.bleedingNow=dry"},
	{schema.Stage1, "Haemostasis took an hour.", "!clotting.bleedingNow=dry"},
	{schema.Stage1, "Start heparin when she is dry.", "!clotting.bleedingNow=dry"},
	{schema.Stage1, "No underlying rhythm.", "leaving.rhythmBeneath=none"},
	{schema.Stage1, "We have not tested what is underneath.", "leaving.rhythmBeneath=not-tested"},
	{schema.Stage1, "She is not being paced at the moment.", "leaving.pacing=none"},
	{schema.Stage1, "Pacing available but not needed.", "leaving.pacing=standby"},
	{schema.Stage1, "Anuric in theatre.", "leaving.urine=none"},
	{schema.Stage1, "Gas 15:50: 7.29 / pCO2 49 / BE -4.", "gas.sampled=15:50\ngas.ph=7.29"},
	{schema.Stage1, "The 14:20 gas: lactate 4.1, Hb 13.", "gas.sampled=14:20\ngas.lactate=4.1"},
	{schema.Stage1, "ABG taken at quarter past two, potassium 3.8.", "gas.sampled=14:15\ngas.potassium=3.8"},
	{schema.Stage1, "ABG 7.36/42/38.", "gas.ph=7.36\n!gas.sampled=07:36"},
	{schema.Stage1, "iNO 20 ppm, do not stop it.", "ventilation.nitricOxide=20\nventilation.nitricNoInterruption=true"},
	{schema.Stage1, "Nitric: tried twenty, no gain, off.", "!ventilation.nitricNoInterruption=true"},
	{schema.Stage1, "Nitric not on.", "ventilation.nitricOxide=none"},
	{schema.Stage1, "Nitric via the high flow at 20.", "ventilation.nitricOxide=20\nventilation.nitricInterface=high-flow"},
	{schema.Stage1, "Mask ventilation straightforward.", "airway.maskVentilation=easy"},
	{schema.Stage1, "Moderately impaired ventricle.", "echo.function=moderately-reduced"},
	{schema.Stage1, "Function is down a bit on TEE.", "echo.function=mildly-reduced"},
	{schema.Stage1, "Just a whiff of tricuspid regurg.", "echo.avValveLeak=trivial"},
	{schema.Stage2, "Glenn flow laminar, both branches fill.", "echo.supplyFlow=seen\necho.branchFlow=both"},
	{schema.Stage1, "No pericardial effusion.", "echo.pericardium=none\n!none drain variety=pericardial"},
	{schema.Closure, "Restart heparin at 20:00.", "anticoagulation.plan=heparin\nanticoagulation.startAt=20:00"},
	{schema.Stage2, "Low-dose heparin overnight and aspirin once he is eating.", "anticoagulation.plan=heparin-then-antiplatelet"},
	{schema.Stage3, "Enoxaparin twice daily from tomorrow.", "anticoagulation.plan=low-molecular-heparin"},
	{schema.Stage1, "We would not offer support.", "care.supportCandidate=no"},
	{schema.Stage1, "Mechanical support would be offered.", "care.supportCandidate=yes"},
	{schema.Stage1, "I spoke with the family at quarter past four.", "care.familyAt=16:15"},
	{schema.Stage1, "Talked to mum and dad at 17:05.", "care.familyAt=17:05"},
	{schema.Stage1, "Family to be spoken to at 18:00.", "!care.familyAt=18:00"},
	{schema.Stage1, "Didn't need any blood.", "blood.products=none"},
	{schema.Stage1, "Allergic to penicillin.", "child.allergies kind=drug"},
	{schema.Stage3, "Latex allergy.", "child.allergies kind=latex"},
	{schema.Stage1, "No latex allergy.", "!child.allergies kind=latex"},
	{schema.Stage1, "Mother is allergic to penicillin.", "!child.allergies kind=drug"},
	{schema.Stage1, "Allergic to nothing.", "child.allergies=none"},
}

func TestSaidAtTheSide(t *testing.T) { holds(t, atTheSide) }
