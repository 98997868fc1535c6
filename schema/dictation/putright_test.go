package dictation

import (
	"testing"

	"fairlead/schema"
)

// What is put right with no word of correction, and what stands as it was said.
//
// The sentences are written by hand: common practice of the trade, no source.
var secondThoughtsTold = []family{
	{schema.Stage1, "Milrinone nought point three... nought point four.", "infusions.running drug=milrinone dose=0.4\n!infusions.running drug=milrinone dose=0.3"},
	{schema.Stage2, "Azygos tied... clipped. Clipped with two.", "stage2.azygos=clipped\n!stage2.azygos=ligated"},
	{schema.Stage1, "Silicone membrane, two packs. Three; sister is holding up three fingers.", "left-on-purpose variety=packs count=3\n!left-on-purpose variety=packs count=2"},
	{schema.Stage1, "Clamp sixty six. Let me read the sheet. Sixty nine. Bypass a hundred and ninety three.", "support.clampTotal=69\nsupport.bypassTotal=193\n!support.clampTotal=66"},
	{schema.Stage2, "Pump time fifty, I'll check, fifty six.", "support.bypassTotal=56\n!support.bypassTotal=50"},
	{schema.Stage2, "Sats eighty three. In thirty percent. Thirty five.", "leaving.saturation=83\nleaving.inspiredOxygen=0.35\n!leaving.inspiredOxygen=0.3"},
	{schema.Stage3, "Fenestration five. Four! Four millimetres, with a punch.", "stage3.fenestrationDiameter=4\n!stage3.fenestrationDiameter=5"},
	{schema.Stage3, "Conduit twenty four... twenty two, sorry, the twenty four was opened and handed back.", "stage3.conduitDiameter=22\n!stage3.conduitDiameter=24"},
	{schema.Stage2, "Echo: function good, valve leak mild. Moderate, our cardiologist corrects me.", "echo.avValveLeak=moderate\n!echo.avValveLeak=mild\n!approach.adhesions=moderate"},
	{schema.Reexploration, "Fenestration: now closed? Enlarged!", "between.fenestrationWork=enlarged\n!between.fenestrationWork=closed"},
	{schema.Stage1, "Milrinone point two five, he corrects me again, point three.", "infusions.running drug=milrinone dose=0.3\n!infusions.running drug=milrinone dose=0.25"},
	{schema.ShuntRevision, "Diastolic fall nine. Ten. Nine.", "supply.diastolicFall=9"},
	{schema.ShuntRevision, "Sternum: I meant to leave it open. We closed.", "!closing.sternum=open"},
	{schema.Stage1, "Arch patch: own pericardium was what we'd said at the briefing, but it is bovine pericardium.", "!stage1.archPatch=own-pericardium"},
	{schema.Stage1, "Weight two point six, hang on, that's the birth weight. Three point one on the scales today.", "!measures.weight=2.6"},
	// what follows is of something else
	{schema.Stage1, "Sats seventy six. Sixty per cent. Lactate four.", "leaving.saturation=76\n!leaving.saturation=60"},
	{schema.Stage2, "Glenn fourteen. Six in the atrium.", "stage2.cavalPressure=14"},
	{schema.Closure, "The vasopressin was stopped. Swabs, needles and instruments were all correct.", "counts.swabs=correct\ncounts.needles=correct\ncounts.instruments=correct"},
	{schema.Reexploration, "For bleeding and tamponade. 2.8 kg. CPR 6 min.", "measures.weight=2.8"},
	{schema.Stage3, "Mitral... tricuspid valve, not touched.", "stage3.valveWork=none"},
	{schema.Stage1, "Duct ligated. Divided.", "!stage1.duct=divided"},
}

func TestSecondThoughts(t *testing.T) { holds(t, secondThoughtsTold) }

// Limits and targets that go on after a full stop, or are asked for, and the plan for
// clotting: what is to be started, what is not.
var plansTold = []family{
	{schema.Stage2, "Call: Glenn over eighteen. Sats under seventy five.", "plan.calls what=caval direction=above value=18\nplan.calls what=saturation direction=below value=75\n!leaving.saturation=75"},
	{schema.Stage3, "Calls. Fontan pressure above eighteen for a quarter of an hour. Drains above five mil per kilo an hour.", "plan.calls what=caval value=18 howLong=15\nplan.calls what=drain-loss value=5\n!stage3.conduitPressure=18"},
	{schema.Stage3, "Call if chest tubes are more than four per kilo an hour for two hours.", "plan.calls what=drain-loss value=4 howLong=120"},
	{schema.Stage3, "Call: CT >5 mL/kg/h x 2h. Fontan >20.", "plan.calls what=drain-loss value=5 howLong=120\nplan.calls what=caval value=20\n!stage3.conduitDiameter=20"},
	{schema.Stage1, "Should the saturation exceed eighty eight for more than thirty minutes, I wish to be called.", "plan.calls what=saturation direction=above value=88 howLong=30"},
	{schema.SupportOn, "Bleeding past ten mils a kilo in an hour, ring the surgeon.", "plan.calls what=drain-loss value=10"},
	{schema.Reexploration, "I have asked to be called for anything above six mL per kilo per hour.", "plan.calls what=drain-loss value=6"},
	{schema.Reexploration, "If she loses more than five millilitres per kilo in an hour again, ring me and not the switchboard.", "plan.calls what=drain-loss value=5"},
	{schema.Stage2, "if he goes under seventy eight for ten minutes call me after that maybe heparin we'll decide in the morning", "plan.calls what=saturation direction=below value=78 howLong=10\nanticoagulation.plan=decide-later\n!anticoagulation.plan=heparin"},
	{schema.Stage1, "Wake me for sats below sixty five.", "plan.calls what=saturation value=65\n!leaving.saturation=65"},
	{schema.Stage1, "Sats eighty one, forty percent. Sats seventy five to eighty five please.", "leaving.saturation=81\nplan.targets what=saturation low=75 high=85\n!leaving.saturation=85"},
	{schema.Stage1, "Plan: sat 75-85, mean >38.", "plan.targets what=saturation low=75 high=85\nplan.targets what=mean-arterial low=38"},
	{schema.SupportOn, "Targets: mean forty to fifty five. Haemoglobin above ten.", "plan.targets what=mean-arterial low=40 high=55\nplan.targets what=haemoglobin low=10"},
	{schema.SupportOn, "Limits. Mean from forty to fifty five.", "plan.targets what=mean-arterial low=40 high=55\n!pressures.readings mean=55"},
	{schema.Stage1, "Call me for a mean under thirty five, heparin when the drains are under two per kilo for four hours.", "plan.calls what=mean-arterial value=35\n!plan.calls what=drain-loss value=2"},
	{schema.Stage1, "Plan: Glenn 4 to 6 months.", "!plan.targets what=caval"},
	{schema.Stage1, "Call me for sats under seventy. Lactate four. Mean forty four.", "gas.lactate=4\n!plan.calls what=lactate"},
	{schema.Stage1, "Heparin at six hours if dry.", "anticoagulation.plan=heparin"},
	{schema.Stage1, "Hep gtt @ 4 h if drain quiet.", "anticoagulation.plan=heparin"},
	{schema.Takedown, "Heparin may begin at twenty one hundred.", "anticoagulation.plan=heparin\nanticoagulation.startAt=21:00"},
	{schema.Stage2, "Heparin, not until the drains are under two per kilo.", "anticoagulation.plan=heparin\n!none infusions.running drug=heparin"},
	{schema.Stage2, "Started on aspirin in the morning; I see no reason for heparin.", "anticoagulation.plan=antiplatelet"},
	{schema.ShuntRevision, "Aspirin restart tomorrow, no hep.", "anticoagulation.plan=antiplatelet\n!clotting.heparin=none"},
	{schema.Stage3, "Hep from 22:00 then warf.", "anticoagulation.plan=heparin-then-warfarin\nanticoagulation.startAt=22:00"},
	{schema.Reexploration, "Heparin is not to be started before I have seen him.", "!anticoagulation.plan=heparin"},
	{schema.Stage3, "Do not let anybody start heparin tonight. Aspirin alone, and I'd begin it when she eats.", "anticoagulation.plan=antiplatelet\n!anticoagulation.plan=heparin\n!leaving.rhythm=atrial-tachycardia"},
	{schema.ShuntRevision, "Aspirin later maybe.", "!anticoagulation.plan=antiplatelet"},
}

func TestPlans(t *testing.T) { holds(t, plansTold) }

// The state on leaving, what runs through which line, and what was measured on bypass.
var leavingTold = []family{
	{schema.Stage1, "she came off in sinus rhythm rate one forty sets eighty four percent in forty percent oxygen", "leaving.saturation=84\nleaving.inspiredOxygen=0.4"},
	{schema.Takedown, "He left at eighty three per cent in forty per cent oxygen.", "leaving.saturation=83\nleaving.inspiredOxygen=0.4"},
	{schema.Stage1, "two sets of wires", "!leaving.saturation=2"},
	{schema.Stage1, "Paced at ninety on thirty per cent oxygen.", "!leaving.saturation=90"},
	{schema.Stage1, "Saturation was seventy four as we separated, currently eighty two.", "leaving.saturation=82\n!leaving.saturation=74"},
	{schema.Stage1, "For an hour he wanted sequential pacing; he is now in his own sinus rhythm at one hundred and fifty two.", "leaving.rhythm=sinus\nleaving.heartRate=152\n!leaving.pacing=dual\n!leaving.rhythm=dual-paced"},
	{schema.Stage1, "Junctional ten minutes off bypass. Sinus since.", "leaving.rhythm=sinus\n!leaving.rhythm=junctional"},
	{schema.Stage3, "We had three minutes of complete heart block during rewarming, and thereafter a sinus rhythm.", "leaving.rhythm=sinus\n!leaving.rhythm=complete-block"},
	{schema.Stage3, "Her rhythm is sinus at ninety six; an early run of atrial flutter responded to one shock.", "leaving.rhythm=sinus\n!leaving.rhythm=atrial-tachycardia"},
	{schema.Stage1, "Junctional, going at ninety.", "leaving.rhythm=junctional"},
	{schema.Closure, "Running. Milrinone point three three, left PICC. Epi point oh two, right IJ.", "infusions.running drug=milrinone dose=0.33 item=central-venous-line/picc/left\ninfusions.running drug=adrenaline item=central-venous-line/jugular/right"},
	{schema.Stage1, "UVC distal, milrinone nought point five. Fentanyl five, left hand.", "infusions.running drug=fentanyl item=peripheral-cannula/hand/left"},
	{schema.Stage2, "Left femoral vein, five French, three lumens. Milrinone 0.5 on the brown, nicardipine 0.5 mics per kilo per minute on the blue.", "infusions.running drug=milrinone lumen=brown item=central-venous-line/femoral/left\ninfusions.running drug=nicardipine lumen=blue"},
	{schema.Stage3, "Jugular on the right, five and a half French, three lumens. White, noradrenaline at 0.03. Blue, milrinone at 0.4.", "infusions.running drug=noradrenaline lumen=white\ninfusions.running drug=milrinone lumen=blue"},
	{schema.Stage1, "Milrinone point five, right pleural drain twelve.", "infusions.running drug=milrinone\n!infusions.running item=central-venous-line/jugular/right"},
	{schema.Stage1, "epi drip point oh four", "infusions.running drug=adrenaline dose=0.04"},
	{schema.Stage1, "Tranexamic acid, finished, off.", "infusions.running drug=tranexamic-acid state=stopped"},
	{schema.Stage1, "Lactate six point two. Peak on pump nine.", "gas.lactate=6.2\nperfusion.peakLactate=9"},
	{schema.Takedown, "Lact 5.9 (8.8 peak on CPB), Hgb 13.0", "gas.lactate=5.9\nperfusion.peakLactate=8.8\n!ventilation.peakPressure=8.8"},
	{schema.Stage1, "Vent: peak twenty, PEEP five.", "ventilation.peakPressure=20\n!perfusion.peakLactate=20"},
	{schema.Stage2, "We drifted to twenty eight degrees by the bladder probe.", "perfusion.lowestTemperature=28\nperfusion.lowestTemperatureSite=bladder"},
	{schema.Stage2, "Beating. Thirty four lowest.", "perfusion.lowestTemperature=34"},
	{schema.Stage3, "30C esoph low.", "perfusion.lowestTemperature=30\nperfusion.lowestTemperatureSite=oesophageal"},
	{schema.Stage1, "Heparin four hundred a kilo.", "clotting.heparin=400"},
	{schema.SupportOn, "Heparin bolus fifty per kilo at cannulation.", "clotting.heparinOther=50\n!clotting.heparin=50"},
	{schema.Stage1, "ECMO candidate: yes.", "care.supportCandidate=yes"},
	{schema.Takedown, "ECMO cand: yes.", "care.supportCandidate=yes"},
	{schema.SupportOff, "Not for a second run.", "care.supportCandidate=no\n!care.supportCandidate=yes"},
	{schema.SupportOff, "Back on if arrest? Yes.", "care.supportCandidate=yes"},
	{schema.Stage1, "No ECMO was needed.", "!care.supportCandidate=no"},
}

func TestLeaving(t *testing.T) { holds(t, leavingTold) }

// Drugs whose dose, state or name is said short, and what stays as it was.
var drugsTold = []family{
	{schema.Stage3, "Adrenaline oh five. Milrinone point seven.", "infusions.running drug=adrenaline dose=0.05\ninfusions.running drug=milrinone dose=0.7"},
	{schema.Stage3, "Milr 0.5, adr 0.02; NA not needed.", "infusions.running drug=adrenaline dose=0.02\nnone infusions.running drug=noradrenaline"},
	{schema.Stage1, "Na 138, K 4.1.", "!infusions.running drug=noradrenaline\ngas.potassium=4.1"},
	{schema.Stage3, "Adrenaline, off... actually not off, on nought point nought two.", "!infusions.running drug=adrenaline state=stopped"},
	{schema.SupportOn, "adrenaline was running at point three and it is off now", "infusions.running drug=adrenaline state=stopped\n!infusions.running drug=adrenaline dose=0.3"},
	{schema.Stage2, "Adrenaline, off.", "infusions.running drug=adrenaline state=stopped"},
	{schema.Stage2, "Epi is on standby, not running.", "infusions.running drug=adrenaline state=standby"},
	{schema.SupportOn, "Mida 100 ug/kg/h, morph 20.", "infusions.running drug=midazolam dose=100"},
	{schema.ShuntRevision, "Wires: two atrial, two ventricular as before.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
	{schema.Stage3, "The echo at the end, through the gullet, showed good function.", "echo.method=transoesophageal\necho.function=good"},
	{schema.Stage2, "chest is shut", "closing.sternum=closed\n!closing.sternum=not-opened"},
}

func TestDrugs(t *testing.T) { holds(t, drugsTold) }

// A dose that waits for something, and one that was put right by where it has been since.
var dosesToldLater = []family{
	{schema.Stage2, "As soon as she is dry heparin ten units per kilo an hour.", "!infusions.running drug=heparin\nanticoagulation.plan=heparin"},
	{schema.Stage1, "Heparin ten units at midnight, if the drain stays under two per kilo.", "!infusions.running drug=heparin\n!clotting.heparinOther=10"},
	{schema.Stage3, "Heparin 10 u/kg/h at 6 h.", "!infusions.running drug=heparin"},
	{schema.Stage3, "Assuming no bleeding, heparin ten units per kilo per hour.", "!infusions.running drug=heparin"},
	{schema.Stage1, "Vasopressin 0.0003 in reserve.", "infusions.running drug=vasopressin state=standby"},
	{schema.Stage1, "Adrenaline 0.05 ready but not needed.", "infusions.running drug=adrenaline state=standby"},
	{schema.Stage1, "Milrinone 0.5, heparin 10 units per kilo per hour running.", "infusions.running drug=heparin dose=10"},
	{schema.Closure, "Adrenaline 0.04, milrinone point seven, no, he's been down at point five since the morning.", "infusions.running drug=milrinone dose=0.5\n!infusions.running drug=milrinone dose=0.7"},
	{schema.Stage1, "Saturation eighty, no, he's been at seventy six all afternoon.", "leaving.saturation=76\n!leaving.saturation=80"},
	{schema.Stage1, "Rate was twenty-four, they've got him on eighteen.", "ventilation.rate=18\n!ventilation.rate=24"},
	{schema.Stage1, "Adrenaline point one. Is it? Point oh five, right.", "infusions.running drug=adrenaline dose=0.05\n!infusions.running drug=adrenaline dose=0.1"},
	{schema.Stage2, "Glenn pressure 14. Is it? 15, yes.", "stage2.cavalPressure=15\n!stage2.cavalPressure=14"},
	{schema.Closure, "Adrenaline 0.03 to 0.05 to get there.", "infusions.running drug=adrenaline dose=0.05"},
	{schema.Stage1, "Lactate four, that's the last one, it was nine.", "gas.lactate=4\n!gas.lactate=9"},
	{schema.ShuntRevision, "Bypass was thirty-eight minutes, forty-one. No clamp.", "support.bypassTotal=41\n!support.bypassTotal=38"},
	{schema.Stage1, "Bypass, I've two figures here.", "!support.bypassTotal=2"},
	{schema.SupportOn, "Heparin fifteen units, ACT one eighty to two hundred.", "!clotting.clottingTimeAfter=180\n!clotting.clottingTimeAfter=200"},
}

func TestDosesToldLater(t *testing.T) { holds(t, dosesToldLater) }

// A number told once more as what it was of, what the papers have, and what was only wanted.
var onlyWanted = []family{
	{schema.Stage2, "Weight six kilos, sorry, six point four, six was the clinic weight.", "measures.weight=6.4\n!measures.weight=6"},
	{schema.Stage3, "Fenestration four, no, five, the four was last week's lad.", "stage3.fenestrationDiameter=5\n!stage3.fenestrationDiameter=4"},
	{schema.Stage1, "Clamp eighty four, no, seventy one, eighty four is the clamp plus the arrest.", "support.clampTotal=71\n!support.clampTotal=84"},
	{schema.Stage3, "Twenty-two millimetre tube, extracardiac. Twenty-four, I beg your pardon, I'd asked for twenty-two, Gore-Tex.", "stage3.conduitDiameter=24\n!stage3.conduitDiameter=22"},
	{schema.Stage1, "One drain, mediastinal, a ten, I said twelve to the nurses and that was wrong.", "drain variety=mediastinal size=10\n!drain variety=mediastinal size=12"},
	{schema.Stage2, "One drain, a mediastinal. I said twelve French to the nurse, it is a ten.", "drain variety=mediastinal size=10"},
	{schema.Stage2, "We said two atrial wires, they are one.", "pacing-wires variety=atrial count=1"},
	{schema.Stage1, "Weight 3.4 on the form, 3.6 on the scales.", "!measures.weight=3.4"},
	{schema.Stage2, "Bypass sixty, sixty-six per the sheet.", "support.bypassTotal=66\n!support.bypassTotal=60"},
	{schema.Stage3, "Fenestration by punch, five millimetres I had planned but finally it is four.", "stage3.fenestrationDiameter=4\n!stage3.fenestrationDiameter=5"},
	{schema.ShuntRevision, "Flow probe I asked for and they hadn't one.", "!supply.proof=flow-probe"},
	{schema.Stage1, "Balloon septostomy I was going to do and did not, septum is wide open.", "!hybrid.septum=balloon\n!stage1.septectomy=balloon"},
	{schema.Stage2, "We had talked at the meeting about leaving a little antegrade flow and I decided against it.", "!stage2.additionalFlow=antegrade-banded"},
	{schema.Stage1, "Sternum shut, I changed my mind about the membrane.", "!left-on-purpose variety=membrane"},
	{schema.Stage1, "Nitric we had asked for but he did not need it.", "!ventilation.nitricOxide=20"},
	{schema.Stage1, "A left atrial line we wanted and it is in.", "intracardiac-line variety=left-atrial"},
	{schema.Stage3, "Saturation eighty eight on nitric twenty, we thought about a lateral tunnel but the heart was too far over.", "ventilation.nitricOxide=20"},
	{schema.Stage2, "The azygos I was going to clip, but it's ligated.", "stage2.azygos=ligated"},
}

func TestOnlyWanted(t *testing.T) { holds(t, onlyWanted) }
