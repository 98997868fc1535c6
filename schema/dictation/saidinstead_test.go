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

// Corrections in speech whose stops are gone: by the capitals that stayed, and by a "no"
// that breaks off.
var stopsGone = []family{
	{schema.Stage2, "We did a right bidirectional Glenn on bypass with the heart beating Weight seven point one kilos today Duct and azygos both tied Sats eighty four Eighty six excuse me He goes down on the ventilator with nitric at ten", "leaving.saturation=86\n!leaving.saturation=84\nventilation.nitricOxide=10"},
	{schema.Stage1, "Norwood with a right shunt three and a half from the innominate to the right PA Bypass two hundred and ten no I'm reading the wrong line one hundred and ninety-eight Arch patch pulmonary homograft", "support.bypassTotal=198\n!support.bypassTotal=210"},
	{schema.Stage3, "extracardiac fontan with a gore tex conduit of eighteen no we opened an eighteen and put in a twenty weight fourteen kilos today fontan pressure twelve and common atrium six sats ninety on forty percent", "!stage3.conduitDiameter=18\nstage3.conduitPressure=12"},
	{schema.Stage2, "bilateral glenn with the heart beating and bypass of ninety minutes we had no clamp on at all and no arrest glenn pressure fourteen no it was fifteen atrial pressure six sats eighty three on fifty percent", "stage2.cavalPressure=15\n!stage2.cavalPressure=14\nstage2.atrialPressure=6"},
	{schema.Stage2, "Lactate three, no, it is four, potassium five.", "gas.lactate=4\ngas.potassium=5"},
	{schema.Stage2, "Glenn pressure fourteen, no, it's fifteen now, atrial pressure six.", "stage2.cavalPressure=15\nstage2.atrialPressure=6"},
	{schema.Stage1, "norwood with a five millimetre sano and bypass of one hundred and sixty minutes there were two atrial wires no drain on the left and no packs are in mediastinal drain fifteen french sats seventy eight", "pacing-wires variety=atrial count=2\ndrain variety=mediastinal size=15"},
}

func TestStopsGone(t *testing.T) { holds(t, stopsGone) }

// A number of runs is no duration.
var runsCounted = []family{
	{schema.Stage1, "Two pump runs, then: one sixty, and a second one of twenty-two.", "!support.bypassTotal=2"},
	{schema.Stage3, "Three bypass runs today.", "!support.bypassTotal=3"},
	{schema.Stage3, "Bypass ninety two minutes, one run.", "support.bypassTotal=92"},
}

func TestRunsCounted(t *testing.T) { holds(t, runsCounted) }

// The highest lactate of bypass is not the one on leaving.
func TestPeakAndNow(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "Peak lactate 7.7, now 5.1.", "gas.lactate=5.1\n!perfusion.peakLactate=5.1"},
		{schema.Stage1, "Peak lactate 7.7.", "perfusion.peakLactate=7.7"},
	})
}

// A state told at two moments: the number of now stands, whichever words say when.
var momentsTold = []family{
	{schema.ShuntRevision, "Lactate six point one at start, five point four.", "gas.lactate=5.4\n!gas.lactate=6.1"},
	{schema.SupportOn, "Lactate: seventeen on the arrest gas, twelve now.", "gas.lactate=12\n!gas.lactate=17\n!support.arrestTotal=12"},
	{schema.SupportOn, "lactate was fifteen point two in the arrest eleven now pressure mean forty one", "gas.lactate=11\n!gas.lactate=15.2"},
	{schema.SupportOn, "Lactate fourteen in the middle of it, nine on the last sample.", "gas.lactate=9\n!gas.lactate=14"},
	{schema.Stage1, "Lactate was 7.7 at peak, 5.1 now.", "gas.lactate=5.1\nperfusion.peakLactate=7.7\n!gas.lactate=7.7"},
	{schema.Stage1, "Lactate eight at its worst on bypass and four point five, no, five point four now.", "gas.lactate=5.4\nperfusion.peakLactate=8\n!gas.lactate=4.5"},
	{schema.Stage1, "Potassium 4.8, 6.1 at the worst.", "gas.potassium=4.8\n!gas.potassium=6.1"},
	{schema.Stage1, "Lactate six... that's the old one, four point eight.", "gas.lactate=4.8\n!gas.lactate=6"},
	{schema.Stage2, "Glenn 16 first off, volume out, 13 now. Atrium 6.", "stage2.cavalPressure=13\n!stage2.cavalPressure=16\nstage2.atrialPressure=6"},
	{schema.Stage2, "Glenn twenty two on the first run, seventeen after we patched the branch.", "stage2.cavalPressure=17\n!stage2.cavalPressure=22"},
	{schema.Stage2, "Glenn 18 -> nitric 20 on -> 15. CA 7.", "stage2.cavalPressure=15\nventilation.nitricOxide=20\n!stage2.cavalPressure=18"},
	{schema.Stage2, "Glenn pressure is eighteen, ah, with nitric twenty ppm it is fifteen. Atrial line six.", "stage2.cavalPressure=15\n!stage2.cavalPressure=18"},
	{schema.Stage3, "Fontan pressure was twenty-one until the nitric, at twenty parts, brought it to fifteen, the atrium nine.", "stage3.conduitPressure=15\n!stage3.conduitPressure=21"},
	{schema.Stage1, "Sat eighty-four, which is high, so we dropped the FiO2 to thirty percent and it's seventy-nine now.", "leaving.saturation=79\n!leaving.saturation=84\n!leaving.inspiredOxygen=0.79"},
	{schema.Stage1, "Sats ninety four before the bands, eighty six after the first one, eighty one leaving on room air.", "leaving.saturation=81\n!leaving.saturation=86\n!leaving.saturation=94"},
	{schema.ShuntRevision, "Sats 84 after, 82 by the time we rolled out.", "leaving.saturation=82\n!leaving.saturation=84"},
	{schema.Reexploration, "Sats 41 during, 77 after.", "leaving.saturation=77\n!leaving.saturation=41"},
	{schema.Closure, "Mean 52 before, 46 after.", "closing.tolerance measure=mean-arterial before=52 after=46"},
	// the rate that pacing covers, and how the blood was on the way to bypass
	{schema.Stage2, "A-pacing 140, own junctional 104 beneath.", "leaving.rhythmBeneath=junctional\n!leaving.heartRate=104"},
	{schema.Stage1, "A-paced at one fifty, sinus at one ten underneath.", "leaving.pacingRate=150\n!leaving.heartRate=110"},
	{schema.Stage2, "Sinus brady at eighty-eight, so we're A pacing at one twenty through the wires.", "leaving.pacingRate=120\n!leaving.heartRate=88"},
	{schema.Stage2, "Dual paced at one thirty, well, no, not any more, she came back into her own sinus rhythm at one eighteen.", "leaving.heartRate=118"},
	{schema.Stage1, "started at twenty-two around and he didn't love it, heart rate went to ninety, so we backed off to twenty-four", "!leaving.heartRate=90"},
	{schema.Stage3, "Crit thirty-eight in, twenty-six lowest.", "perfusion.haematocritBefore=38\nperfusion.lowestHaematocrit=26\n!gas.haematocrit=38"},
	{schema.Stage1, "Haematocrit 40 going on, 28 lowest.", "perfusion.haematocritBefore=40\nperfusion.lowestHaematocrit=28\n!gas.haematocrit=40"},
	{schema.Stage2, "Lowest haematocrit twenty-four, mean pressure twenty-seven, venous saturation fifty-eight.", "perfusion.lowestHaematocrit=24\nperfusion.lowestPressure=27\nperfusion.lowestVenousSaturation=58\n!pressures.readings mean=27"},
	{schema.Stage2, "tricuspid valve repaired leak was moderate going in only mild coming off on the TOE", "echo.avValveLeak=mild\n!echo.avValveLeak=moderate"},
	// what was not there, not used, only asked about
	{schema.Stage1, "Flow probe not available. Diast fell 7.", "!supply.proof=flow-probe\nsupply.diastolicFall=7"},
	{schema.ShuntRevision, "Flow probe was flat so don't say we measured it.", "!supply.proof=flow-probe"},
	{schema.ShuntRevision, "Diastolic dropped by eleven; no flow probe today.", "!supply.proof=flow-probe\n!between.shuntFound=blocked"},
	{schema.Stage1, "Flow probe two hundred mils a minute.", "supply.proof=flow-probe"},
	{schema.Reexploration, "Suture lines looked at, fine.", "!between.source=suture-line"},
	{schema.Reexploration, "ECMO primed, circuit in the room, not used.", "!support.mode=mechanical-support"},
	{schema.Stage3, "Left groin exposed first, not used.", "approach.vesselsExposed=left-groin"},
	{schema.Reexploration, "Antibiotic wash? Just saline.", "between.washOut=saline\n!between.washOut=antibiotic"},
	{schema.Stage1, "This one was in no state for a Norwood.", "!stage1.form=norwood"},
	{schema.Stage3, "Arrest: allowed ten, used none.", "!support.arrestTotal=10"},
	{schema.Stage1, "a side biting clamp went on the innominate artery for eleven minutes", "!support.clampTotal=11"},
	{schema.Stage2, "5.9 kg, 71 cm?? -> 61 cm, per RN.", "measures.length=61\n!measures.length=71"},
	{schema.Stage1, "Glenn last year. Ventilator rate ten, peak twenty.", "ventilation.rate=10\nventilation.peakPressure=20"},
}

func TestMomentsTold(t *testing.T) { holds(t, momentsTold) }

// Several people speak in turn, and the second puts right what the first said.
var turnsTold = []family{
	{schema.Stage1, "Surgeon: Today only central shunt, weight three point four kilo.\nReg: Three point three, I've it here off the chart.\nSurgeon: One mediastinal drain, sixteen.\nReg: Fourteen French it says on it.\nSurgeon: Saturation is eighty four in forty percent.\nReg: Thirty five, I came down.", "measures.weight=3.3\n!measures.weight=3.4\ndrain variety=mediastinal size=14\n!drain size=16\nleaving.saturation=84\nleaving.inspiredOxygen=0.35"},
	{schema.Stage1, "Surgeon: Milrinone half, adrenaline zero point one.\nNurse: It's running at point one two.\nSurgeon: Clamp forty.\nNurse: Forty four, the perfusionist has written it.", "infusions.running drug=adrenaline dose=0.12\n!infusions.running drug=adrenaline dose=0.1\nsupport.clampTotal=44\n!support.clampTotal=40"},
	{schema.Stage1, "Registrar: Clamp forty.\nSurgeon: No, it was forty six.\nRegistrar: Sats eighty two.\nSurgeon: Two atrial wires.", "support.clampTotal=46\n!support.clampTotal=40\nleaving.saturation=82\npacing-wires variety=atrial count=2"},
	{schema.Stage2, "Glenn: fourteen.\nAtrium: six.\nDrains: right pleural sixteen.", "stage2.cavalPressure=14\nstage2.atrialPressure=6\ndrain variety=right-pleural size=16"},
}

func TestTurnsTold(t *testing.T) { holds(t, turnsTold) }

// What went in at last, and a number that was only said.
var onlySaid = []family{
	{schema.Stage3, "Extracardiac, Gore-Tex, eighteen millimetre, wait, we opened an eighteen and it looked small against the IVC, so a twenty is what finally went in.", "stage3.conduitDiameter=20\n!stage3.conduitDiameter=18"},
	{schema.Stage3, "Extracardiac: twenty-two wouldn't sit, so, no, I know I asked for it, we went to a twenty. Gore-Tex.", "stage3.conduitDiameter=20\n!stage3.conduitDiameter=22"},
	{schema.Stage3, "Fontan, extracardiac. Conduit twenty, no, twenty we opened and gave back, I put eighteen. Gore-Tex.", "stage3.conduitDiameter=18\n!stage3.conduitDiameter=20"},
	{schema.Stage1, "Shunt is four, Gore-Tex, innominate to right PA. I say four, it was four in my plan, the one inside him is three and a half.", "supply.shuntDiameter=3.5\n!supply.shuntDiameter=4"},
	{schema.Takedown, "Finally right modified BT, three and a half... four millimetre Gore-Tex, innominate to right pulmonary artery.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.Stage2, "Pump time eighty-one. I said eighty-seven to the family, it's eighty-one.", "support.bypassTotal=81\n!support.bypassTotal=87"},
	{schema.Stage1, "Clamp was sixty. I told them sixty, but it's seventy two.", "support.clampTotal=72\n!support.clampTotal=60"},
	{schema.Stage3, "Wires two atrial, and I said two ventricular, it's one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
	{schema.Stage1, "I said the clamp was sixty and it was.", "support.clampTotal=60"},
}

func TestOnlySaid(t *testing.T) { holds(t, onlySaid) }

// Things that were tried for, came out, or were struck off the list again.
var notInNow = []family{
	{schema.Reexploration, "Not there: right pleural drain.", "!drain variety=right-pleural"},
	{schema.Stage1, "Left radial, tried thrice, nothing there.", "!arterial-line variety=radial"},
	{schema.ShuntRevision, "Left radial, it's a dash, dash means nobody got it.", "!arterial-line variety=radial"},
	{schema.Stage1, "The UVC he came with we pulled before we started, so cross that off.", "!central-venous-line variety=umbilical-venous"},
	{schema.Stage2, "Left foot, that one's tissued, it's out.", "!peripheral-cannula variety=foot"},
	{schema.Stage3, "Drains: right pleural twenty-four French, left pleural twenty-four, mediastinal twenty-four. Scratch the left one, that pleura was never opened.", "drain variety=right-pleural size=24\n!drain variety=left-pleural\ndrain variety=mediastinal size=24"},
	{schema.Stage3, "Atrial wires two, ventricular two. Scratch the ventricular, only one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
	{schema.Stage3, "Two atrial wires and two ventricular. Strike the ventricular ones.", "pacing-wires variety=atrial count=2\n!pacing-wires variety=ventricular"},
	{schema.Stage2, "Left internal jugular, not the right, surgeon does not want anything in the right, 4 French single lumen.", "central-venous-line variety=jugular side=left\n!central-venous-line side=right"},
	{schema.SupportOn, "Third go at half three with nitric at twenty, sats of fifty five, and I called it.", "!leaving.saturation=55\n!ventilation.nitricOxide=20"},
	{schema.ShuntRevision, "Second clip tried, sats fifty five, off again straight away.", "!leaving.saturation=55"},
	{schema.ShuntRevision, "Post: SpO2 80 in 0.3 (tried 2 clips first -> 66, one taken off again).", "leaving.saturation=80"},
	{schema.Stage2, "Temporary caval shunt twenty-one minutes, Lena? Twenty-four, she had the clock.", "support.cavalShuntMinutes=24\n!support.cavalShuntMinutes=21"},
	{schema.Stage1, "Right jugular, four French, it's working and in.", "central-venous-line variety=jugular side=right size=4"},
}

func TestNotInNow(t *testing.T) { holds(t, notInNow) }
