package dictation

import (
	"testing"

	"fairlead/schema"
)

// Ways of talking that people have who tell an operation from its end, say the point
// of a decimal as a comma, or tell where it was done. Common practice, no source.
var backwardsTold = []family{
	// each step back is still of this operation
	{schema.Stage1, "Before that, bypass, one hundred and thirty-seven minutes, and forty-two of clamp.", "support.bypassTotal=137"},
	{schema.Stage2, "Before that we closed: sternum with absorbable sutures.", "closing.sternalMaterial=absorbable\nclosing.sternum=closed"},
	{schema.Stage3, "Before that, at the beginning, was the fourth sternotomy.", "approach.sternotomyNumber=4\napproach.incision=reopened-sternotomy"},
	{schema.Stage3, "And before: through the old sternotomy.", "approach.incision=reopened-sternotomy"},
	// and what the state was is of then
	{schema.Stage1, "Before that the saturation was sixty.", "!leaving.saturation=60"},
	{schema.Stage1, "Before this the lactate was four.", "!gas.lactate=4"},
	// a thing that is kept is no target
	{schema.Stage2, "We keep it for the journey, pressure support, PEEP four, oxygen forty.", "ventilation.mode=pressure-support\nventilation.endPressure=4\nleaving.inspiredOxygen=0.4"},
	{schema.Stage2, "I keep the tube in, pressure control, rate 20.", "ventilation.mode=pressure-control\nventilation.rate=20"},
	{schema.Stage2, "Keep the sats above eighty.", "plan.targets what=saturation low=80\n!leaving.saturation=80"},
}

var spokenPoints = []family{
	{schema.Stage1, "Lactate two comma six, haemoglobin twelve comma four.", "gas.lactate=2.6\ngas.haemoglobin=12.4"},
	{schema.Stage1, "Weight thirteen comma eight kilograms.", "measures.weight=13.8"},
	{schema.Stage1, "Adrenaline comma oh eight, milrinone comma five, vasopressin nought comma three milliunits per kilo per minute.", "infusions.running drug=adrenaline dose=0.08\ninfusions.running drug=milrinone dose=0.5\ninfusions.running drug=vasopressin dose=0.3 doseUnit=m[iU]/kg/min"},
	{schema.Stage1, "FiO2 comma six, sats 78.", "leaving.inspiredOxygen=0.6\nleaving.saturation=78"},
	{schema.Reexploration, "Levobupivacaine through it, comma two mils per kilo per hour.", "infusions.running drug=local-anaesthetic dose=0.2 doseUnit=mL/kg/h"},
	{schema.Stage1, "Drains fifteen comma two wires atrial comma two ventricular.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
	{schema.Stage1, "Epi's at oh-four, used to be oh-eight.", "infusions.running drug=adrenaline dose=0.04\n!infusions.running dose=0.08"},
}

var placesTold = []family{
	{schema.Closure, "Chest closure, theatre six.", "operation.place=theatre"},
	{schema.ShuntRevision, "Shunt revision tonight, in theatre, emergency.", "operation.place=theatre"},
	{schema.Reexploration, "We went back in on the unit four hours after the Norwood.", "operation.place=intensive-care"},
	{schema.Reexploration, "Came back down to the OR.", "operation.place=theatre"},
	{schema.ShuntRevision, "He dropped his sats on the unit.", "!operation.place=intensive-care"},
	{schema.Stage2, "The boy is now in the unit, breathing by himself.", "!operation.place=intensive-care"},
	{schema.Stage1, "Done in the NICU at the bedside.", "operation.place=intensive-care"},
	{schema.Stage2, "Tube out in the OR.", "!operation.place=theatre"},
	// where the child goes from, and when
	{schema.Stage1, "She left the theatre at 16:40.", "operation.leftTheatre=16:40\n!operation.intoTheatre=16:40"},
	{schema.Takedown, "out 17:05: sinus 146", "operation.leftTheatre=17:05"},
}

var changesTold = []family{
	{schema.Closure, "Epi went from point oh three to point oh five milrinone stays at point five", "infusions.running drug=adrenaline dose=0.05\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Closure, "Adrenaline went from point oh five to point one and I left it at point oh seven.", "infusions.running drug=adrenaline dose=0.07"},
	{schema.ShuntRevision, "With the probe the flow went from 440 to 290 millilitres each minute.", "supply.probeFlow=290\n!supply.probeFlow=440"},
	{schema.Closure, "Vent rate up to thirty two from twenty eight.", "ventilation.rate=32\n!ventilation.rate=28"},
	{schema.ShuntRevision, "Peak of twenty-two over five.", "ventilation.peakPressure=22\nventilation.endPressure=5"},
	// a pressure said with its line is no size of the line
	{schema.Stage3, "The Fontan pressure was fourteen on the right jugular line, and the left atrial was eight.", "stage3.conduitPressure=14\nstage3.atrialPressure=8\ncentral-venous-line variety=jugular side=right\n!central-venous-line size=14"},
	{schema.Stage3, "Mean 52 on the radial line.", "pressures.readings pressure=arterial mean=52\n!arterial-line french=52"},
	// no pacing covers the rhythm of a child that is not paced
	{schema.Stage3, "Box on standby, own rhythm sinus, one hundred and fifteen.", "leaving.rhythm=sinus\nleaving.heartRate=115\n!leaving.rhythmBeneath=sinus"},
	{schema.Stage3, "Paced at 120, own rhythm sinus 90.", "leaving.rhythmBeneath=sinus"},
	{schema.Stage3, "She was in sinus rhythm, one hundred and forty-five.", "leaving.rhythm=sinus\nleaving.heartRate=145"},
	// said short
	{schema.Stage2, "Redo st, 3rd. Entry ok.", "approach.sternotomyNumber=3\napproach.incision=reopened-sternotomy"},
	{schema.Stage2, "fn mod reduced, TR mod", "echo.function=moderately-reduced\necho.avValveLeak=moderate"},
	{schema.Stage2, "Catheter ten, urine eighty-eight.", "gut-and-bladder variety=urinary-catheter size=10\nleaving.urine=88"},
	{schema.Stage2, "Catheter: Glenn 14.", "!gut-and-bladder variety=urinary-catheter"},
	{schema.SupportOff, "Packs two out, none in.", "counts.packsPut=none\nremovals.packsRetrieved=2"},
	{schema.Stage2, "The pleurae were never opened.", "approach.rightPleura=not-opened\napproach.leftPleura=not-opened"},
}

func TestToldBackwards(t *testing.T)   { holds(t, backwardsTold) }
func TestCommaIsThePoint(t *testing.T) { holds(t, spokenPoints) }
func TestWhereItWasDone(t *testing.T)  { holds(t, placesTold) }
func TestWhatChangedToIs(t *testing.T) { holds(t, changesTold) }
