package dictation

import (
	"testing"

	"fairlead/schema"
)

// Flow said per kilo without its minute, a heart that stopped and a circulation that was
// stopped, and what lung flow is left. Written as families are.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestSupportTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "Selective cerebral perfusion thirty nine minutes at fifty mils per kg.", "support.perfusions minutes=39 flow=50"},
		{schema.Stage1, "The brain was perfused for fifty-one minutes at sixty millilitres per kilogram.", "support.perfusions minutes=51 flow=60"},
		{schema.Stage1, "Cerebral perfusion 40 min at 45 mls per kg per min.", "support.perfusions minutes=40 flow=45"},
		{schema.Stage2, "by cable venous cannulation", "support.venousCannulation=bicaval"},
		{schema.SupportOn, "8 French arterial, 10 French venous.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "10 French venous, 8 French arterial.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "8 arterial, 10 venous, central.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "8 French carotid, 10 French jugular.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "An 8 French arterial cannula, a 10 French venous.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "Artery eight French, vein ten.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "8 artery 10 vein", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=10"},
		{schema.SupportOn, "Arrest PICU 02:38, CPR 34 min, chest reopened.", "mechanical.reasonOn=arrest\nbetween.cprMinutes=34\n!support.arrests on=02:38"},
		{schema.Stage1, "Circulatory arrest from 10:20 to 10:26.", "support.arrests on=10:20 off=10:26"},
		{schema.Stage2, "Shunt clipped and divided. No other flow left.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Nothing else gives flow to the lungs now.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Add flow: nil.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Antegrade flow left through the band.", "!stage2.additionalFlow=none"},
		{schema.Stage3, "No antegrade flow (MPA tied at stage two).", "stage3.antegradeFlow=none\n!stage3.antegradeFlow=closed"},
	})
}

// The vessels that were cannulated, as lists in many forms, and how long the pump, the
// clamp and the arrest took, in one spell or several.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestPumpTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "cann asc Ao 8F, SVC 12F, RA 16F", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=superior-caval\nsupport.venousCannulation=single-atrial"},
		{schema.Stage2, "Ao + LSVC + RSVC + atrial cannulae", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=superior-caval\nsupport.venousCannulation=left-superior-caval\nsupport.venousCannulation=single-atrial"},
		{schema.Stage2, "Cannulas: aorta, both upper cavas, and the atrium.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=superior-caval\nsupport.venousCannulation=left-superior-caval\nsupport.venousCannulation=single-atrial"},
		{schema.Stage2, "Aortic line in the ascending aorta, venous lines in the superior and inferior caval veins.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval\n!support.venousCannulation=inferior-caval"},
		{schema.Takedown, "onto bypass, aorta and atrium, forty minutes", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=single-atrial\nsupport.bypassTotal=40"},
		{schema.Stage1, "bypass by way of the main pulmonary artery and the right atrium", "support.arterialCannulation=main-pulmonary-artery\nsupport.venousCannulation=single-atrial"},
		{schema.Stage2, "bypass through aorta and by caval", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval"},
		{schema.Stage1, "We perfused through a 3.5 mm tube on the brachiocephalic artery and drained from the right atrial appendage.", "support.arterialCannulation=innominate-graft\nsupport.venousCannulation=single-atrial"},
		{schema.Stage3, "The CT puts the aorta and the atrium right behind the bone.", "!support.venousCannulation=single-atrial"},
		{schema.Stage1, "ECC 165 min, AoX 72 min.", "support.bypassTotal=165\nsupport.clampTotal=72"},
		{schema.Stage3, "Extracorporeal circulation lasted 96 minutes; aortic occlusion 34.", "support.bypassTotal=96\nsupport.clampTotal=34"},
		{schema.Stage2, "88 min CPB / 0 XC / 0 DHCA", "support.bypassTotal=88\nsupport.clamps=none\nsupport.arrests=none\n!support.mode=off-pump"},
		{schema.Stage3, "Bypass? \"One nineteen.\" And clamp? \"Thirty-three.\"", "support.bypassTotal=119\nsupport.clampTotal=33"},
		{schema.Stage3, "How long on bypass, Mairi? Ninety-six. Clamped? Twenty.", "support.bypassTotal=96\nsupport.clampTotal=20"},
		{schema.Stage1, "Clamp? Seventy-four. And arrest? \"Eight, for the septum.\"", "support.clampTotal=74\nsupport.arrestTotal=8"},
		{schema.Stage2, "del nido fifty mils once bypass seventy four minutes", "support.bypassTotal=74"},
		{schema.Stage1, "First run 131, and then a second run of 25 to take the shunt down a size.", "support.runs minutes=131\nsupport.runs minutes=25"},
		{schema.Stage2, "CPB 112' then 18' (2nd run for bleeding).", "support.runs minutes=112\nsupport.runs minutes=18"},
		{schema.Stage1, "CPB x2: 120 + 33 min.", "support.runs minutes=120\nsupport.runs minutes=33\n!support.runs minutes=2"},
		{schema.Stage1, "Bypass 112 and 61 clamp.", "support.bypassTotal=112\n!support.runs minutes=61"},
		{schema.Stage3, "On at 09:41, off at 11:07, back on 11:20 for the fenestration, off 11:44.", "support.runs on=09:41 off=11:07\nsupport.runs on=11:20 off=11:44"},
		{schema.Stage3, "Two clamps, fifty-two and twenty-two, seventy-four all told.", "support.clamps minutes=52\nsupport.clamps minutes=22\nsupport.clampTotal=74"},
		{schema.Stage1, "Arrest: allowed ten, used none.", "support.arrests=none\n!support.arrestTotal=10"},
		{schema.Stage1, "I did not arrest him.", "support.arrests=none"},
		{schema.Stage1, "Sternotomy, no bypass at any point.", "approach.incision=median-sternotomy\nsupport.mode=off-pump"},
		{schema.ShuntRevision, "Heart-lung machine was not required.", "support.mode=off-pump"},
	})
}

// How the chest was left, where no set phrase says it: a word alone, the last of two
// thoughts, a sternum left alone, a closing that did not hold, a membrane over it.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestSternumTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Wires two and two. Closed.", "closing.sternum=closed"},
		{schema.Stage1, "Two ventricular wires. Closed, of course.", "closing.sternum=closed"},
		{schema.Stage3, "The fenestration was snared. Closed.", "!closing.sternum=closed"},
		{schema.Stage3, "Fenestrated, four millimetres. Open.", "!closing.sternum=open"},
		{schema.SupportOn, "Open, Silastic.", "closing.sternum=open"},
		{schema.Stage2, "We debated leaving the sternum open and in the end closed it.", "closing.sternum=closed"},
		{schema.Stage1, "Sternum: I was going to leave it open, then the pressures were fine so it's closed.", "closing.sternum=closed"},
		{schema.ShuntRevision, "The chest was open before and stays so.", "closing.sternum=open"},
		{schema.Reexploration, "I did not reopen the sternum.", "closing.sternum=not-opened"},
		{schema.Reexploration, "The sternum we did not touch.", "closing.sternum=not-opened"},
		{schema.Reexploration, "Through a right thoracotomy, and left the sternum alone.", "closing.sternum=not-opened"},
		{schema.SupportOn, "Neck cannulation, the chest was not opened.", "closing.sternum=not-opened"},
		{schema.Reexploration, "The right chest was not opened.", "!closing.sternum=not-opened"},
		{schema.Closure, "They tried to shut him and couldn't, so he comes back to you open.", "closing.sternum=open\nclosing.tolerated=no"},
		{schema.Closure, "She is not closed, we opened it straight back up.", "closing.sternum=open\nclosing.tolerated=no"},
		{schema.Closure, "The mean fell to thirty, so apart again.", "closing.sternum=open"},
		{schema.Closure, "We could not close on Tuesday. Sternum closed today, four wires.", "closing.sternum=closed\n!closing.tolerated=no"},
		{schema.Closure, "First try mean 50 to 36, reopened, retry mean 50 to 47. Sternum: five PDS.", "closing.sternum=closed\n!closing.tolerated=no"},
		{schema.Reexploration, "I closed with a new Gore-Tex membrane.", "closing.sternum=open"},
		{schema.SupportOn, "Cannulated through the open chest, a silicone membrane over it.", "closing.sternum=open"},
		{schema.Stage2, "azygos left open because I forgot about it honestly drains a mediastinal and a left pleural both french fifteen chest closed target sats seventy five to eighty five", "closing.sternum=closed"},
		{schema.Stage3, "left twenty and right twenty french both pleural and nitric we did not need chest is closed if the fontan goes over twenty you call me", "closing.sternum=closed"},
	})
}

// How long bypass took where no name of the time stands beside it: told by who ran the
// pump, of a child who had to go on, after the vessels, as what several runs come to; and
// what on bypass is no length of time.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestPumpTimeTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Marcus tells me seventy-four minutes of pump, lowest haematocrit thirty-one.", "support.bypassTotal=74"},
		{schema.Stage1, "Kayla on the pump gives me one sixty-eight bypass and fifty-four cross-clamp.", "support.bypassTotal=168\nsupport.clampTotal=54"},
		{schema.Stage3, "Anika on the pump says one nineteen and forty-one of clamp.", "support.bypassTotal=119"},
		{schema.Stage2, "Perfusion says thirty-eight minutes, warm the whole time.", "support.bypassTotal=38"},
		{schema.Stage2, "The perfusionist gives me eighty-eight minutes.", "support.bypassTotal=88"},
		{schema.Stage2, "Clamp time, the perfusionist says sixty-one minutes.", "!support.bypassTotal=61"},
		{schema.Stage1, "Coldest thirty three, perfusion says.", "!support.bypassTotal=33"},
		{schema.ShuntRevision, "We began off pump and then had to go on after all, thirty eight minutes.", "support.bypassTotal=38"},
		{schema.Stage2, "Intended off pump, had to go on for twenty-six minutes.", "support.bypassTotal=26"},
		{schema.Stage2, "Managed without bypass at first, then on for twenty-six.", "support.bypassTotal=26"},
		{schema.Takedown, "on bypass by aorta and single atrial cannula one hundred and seven minutes clamp was not used", "support.bypassTotal=107\nsupport.clamps=none"},
		{schema.Takedown, "We went on bypass through the neo-aorta and two caval cannulae, eighty-eight minutes, heart beating.", "support.bypassTotal=88"},
		{schema.ShuntRevision, "On pump fifty-one.", "support.bypassTotal=51"},
		{schema.Stage2, "The total on pump was a hundred and four.", "support.bypassTotal=104"},
		{schema.Stage1, "First run 10:05 to 13:31, second run 13:50 to 14:22, two hundred and thirty-eight all up.", "support.runs on=10:05 off=13:31\nsupport.runs on=13:50 off=14:22\nsupport.bypassTotal=238"},
		{schema.Stage3, "CPB 10:05-13:20 = 195.", "support.runs on=10:05 off=13:20\nsupport.bypassTotal=195"},
		{schema.Stage1, "Two pump runs, then: one sixty, and a second one of twenty-two for swapping the conduit.", "support.runs minutes=160\nsupport.runs minutes=22"},
		{schema.Stage1, "Bypass one fifty, she's shaking her head, one fifty-nine.", "support.bypassTotal=159\n!support.bypassTotal=150"},
		{schema.Stage1, "CPB 142, XC 61. Lac 4.4 (7.2 on CPB).", "support.bypassTotal=142\n!support.bypassTotal=7.2"},
		{schema.Stage1, "Pump one, milrinone 0.5. Pump two, adrenaline 0.03.", "!support.bypassTotal=1"},
		{schema.Stage2, "Noradrenaline was on for twenty minutes, off now.", "!support.bypassTotal=20"},
		{schema.ShuntRevision, "ECMO if it goes again, through the chest.", "!support.mode=mechanical-support"},
		{schema.Takedown, "We spoke of ECMO with the family.", "!support.mode=mechanical-support"},
		{schema.SupportOff, "The arterial cannula came out of the innominate graft, which was clipped and left as a stump.", "!support.arterialCannulation=innominate-graft\n!support.inflowGraftFate=clipped-stump"},
		{schema.Stage2, "Tell me if the sats fall under seventy.", "plan.calls what=saturation direction=below value=70"},
	})
}

// Why the child came back or went on support, as it is told at the opening of a note.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestReasonTold(t *testing.T) {
	holds(t, []family{
		{schema.Takedown, "We gave this Glenn six days and it never settled.", "between.reason=failed-connection"},
		{schema.Takedown, "Glenn pressure twenty seven on the unit, face swollen.", "between.reason=failed-connection"},
		{schema.Takedown, "This morning he arrested at the bedside and had four minutes of massage.", "between.reason=arrest"},
		{schema.Takedown, "We arrested the circulation for the septum.", "!between.reason=arrest"},
		{schema.SupportOn, "He arrested on the ward round and was massaged for thirty eight minutes.", "mechanical.reasonOn=arrest"},
		{schema.SupportOn, "We could not get this girl off bypass, so she was put on support.", "mechanical.reasonOn=failed-weaning\n!support.mode=off-pump"},
		{schema.Reexploration, "Taken back because the right chest has poured chyle since the first week.", "between.reason=effusion"},
		{schema.Reexploration, "What the echo called an effusion turned out to be a tamponade.", "between.reason=tamponade"},
		{schema.Reexploration, "Bleeding 18 ml/kg/h, back to theatre.", "between.reason=bleeding"},
		{schema.Reexploration, "The drains had put out eleven mils per kilo in an hour.", "between.reason=bleeding"},
		{schema.ShuntRevision, "Overcirc: sat 93, diastolic 22.", "between.reason=high-lung-flow\n!leaving.saturation=93"},
		{schema.SupportOn, "No heparin yet.", "mechanical.anticoagulant=none"},
		{schema.SupportOn, "No heparin for now, bivalirudin tomorrow if dry.", "mechanical.anticoagulant=none"},
	})
}

// A shunt that was found open, by more than one word for it, and the saturations right
// before and right after the work.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestFoundAtWork(t *testing.T) {
	holds(t, []family{
		{schema.ShuntRevision, "Found the shunt wide open, no kink.", "between.shuntFound=open\n!between.shuntFound=kinked"},
		{schema.ShuntRevision, "Sano patent, no thrombus.", "between.shuntFound=open"},
		{schema.ShuntRevision, "Shunt was open, no, kinked at the top.", "between.shuntFound=kinked"},
		{schema.Reexploration, "The Sano was pulsing and wide open throughout.", "between.shuntFound=open"},
		{schema.Reexploration, "The conduit was soft and full of flow.", "between.shuntFound=open"},
		{schema.Reexploration, "I felt the shunt and it was running well.", "between.shuntFound=open"},
		{schema.Reexploration, "The shunt had no thrill and was clotted.", "between.shuntFound=blocked\n!between.shuntFound=open"},
		{schema.Reexploration, "Chest wide open, the shunt compressed by clot.", "!between.shuntFound=open"},
		{schema.SupportOn, "The shunt was wide open when we looked, and we put a clip across it.", "between.shuntFound=open"},
		{schema.SupportOn, "We clipped the shunt, then the clip came off, so it is wide open.", "!between.shuntFound=open"},
		{schema.Reexploration, "Sats were fifty before we opened and eighty-three after, on fifty percent.", "between.saturationBeforeWork=50\nbetween.saturationAfterWork=83"},
		{schema.ShuntRevision, "Sats fifty-eight on the unit, forty-four by the time we had the chest open.", "between.saturationBeforeWork=44\n!leaving.saturation=44"},
		{schema.ShuntRevision, "Sats were fifty-eight when the sister rang me and fifty-two as I opened.", "between.saturationBeforeWork=52"},
		{schema.Reexploration, "her saturation which was forty one before the chest was opened was seventy six after", "between.saturationAfterWork=76"},
		{schema.SupportOn, "Saturation thirty per cent just before, ninety two just after.", "between.saturationBeforeWork=30\nbetween.saturationAfterWork=92"},
	})
}
