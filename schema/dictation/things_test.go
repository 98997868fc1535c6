package dictation

import (
	"testing"

	"fairlead/schema"
)

// What is said of the things left in the child, one sentence or two for each way of
// saying it; written as families are.
func TestThingsLeftIn(t *testing.T) {
	holds(t, []family{
		// what a thing is made of, in its name or beside it
		{schema.Stage1, "Sternum open, Gore-Tex membrane.", "left-on-purpose variety=membrane material=eptfe"},
		{schema.Stage1, "Chest open under a new silicone membrane.", "left-on-purpose variety=membrane material=silicone"},
		{schema.Stage1, "Sternum open, two packs, Gore-Tex over it.", "left-on-purpose variety=packs count=2\n!left-on-purpose variety=packs material=eptfe"},
		// one thing said of all that a list named, in it or in the next sentence
		{schema.Stage3, "Drains: right pleural, left pleural, mediastinal, nineteen French every one, to water seal.", "drain variety=right-pleural size=19 drainage=water-seal\ndrain variety=mediastinal size=19 drainage=water-seal"},
		{schema.Stage3, "There are a right pleural, a left pleural and a mediastinal drain, each of twenty French on ten of suction.", "drain variety=right-pleural size=20 suction=10\ndrain variety=left-pleural size=20 suction=10"},
		{schema.Stage2, "Right pleural and mediastinal drains, sixteen French. Suction is ten.", "drain variety=right-pleural size=16 suction=10\ndrain variety=mediastinal size=16 suction=10"},
		{schema.Stage1, "Wires: one pair atrial, one pair ventricular. Both pairs insulated.", "pacing-wires variety=atrial count=2 connection=insulated\npacing-wires variety=ventricular count=2 connection=insulated"},
		{schema.SupportOn, "Cannulae: arterial eight French, venous fourteen French. Flow 140 per kilo.", "support-cannula variety=venous size=14\n!support-cannula flow=140"},
		{schema.Stage1, "Right radial line. It is on the left.", "arterial-line variety=radial side=right"},
		// wires, counted and measured
		{schema.Stage1, "Wires A x2 thr 1.2 sens 2.5, V x2 thr 0.8 sens 6.", "pacing-wires variety=atrial count=2 threshold=1.2 sensing=2.5\npacing-wires variety=ventricular count=2 threshold=0.8 sensing=6"},
		{schema.Stage3, "Two wires sit on the atrium and none on the ventricle.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
		{schema.Stage3, "two atrial wires threshold one point two one ventricular wire", "pacing-wires variety=atrial count=2 threshold=1.2\npacing-wires variety=ventricular count=1"},
		// the size between the noun and the place
		{schema.Stage1, "A chest tube, twelve French, in the right chest.", "drain variety=right-pleural size=12"},
		{schema.Stage1, "An arterial line, twenty four gauge, in the left radial.", "arterial-line variety=radial side=left gauge=24"},
		{schema.Stage3, "Two twenty French pleural drains on suction of ten.", "drain variety=right-pleural size=20 suction=10\ndrain variety=left-pleural size=20 suction=10"},
		// a pleura without a drain, by its side
		{schema.Stage1, "No drain went into either pleura.", "none drain variety=right-pleural\nnone drain variety=left-pleural"},
		{schema.Stage2, "The right pleural drain is a sixteen; there is none on the left.", "drain variety=right-pleural size=16\nnone drain variety=left-pleural"},
		{schema.Stage2, "Pleural drains were not needed.", "none drain variety=right-pleural\n!drain variety=left-pleural"},
		{schema.Stage2, "Neither pleura was opened.", "!none drain variety=right-pleural"},
		// a list of what came out, and a range with a long dash
		{schema.Closure, "Gone: the left pleural drain; the peritoneal catheter; both atrial wires.", "!dialysis-catheter variety=peritoneal\n!pacing-wires variety=atrial"},
		{schema.Stage2, "Target SpO2 78–88.", "plan.targets what=saturation low=78 high=88"},
		// how it was proved, how often it was tried, where it goes in
		{schema.Stage1, "Right jugular, four French, tip on X-ray, second attempt.", "central-venous-line variety=jugular size=4 tipProof=x-ray attempts=2"},
		{schema.Stage1, "Right foot, twenty four gauge, tissued.", "peripheral-cannula variety=foot side=right gauge=24 state=tissued"},
		{schema.Stage1, "Gastric tube ten, left nostril, free drainage.", "gut-and-bladder variety=gastric-tube size=10 route=nostril side=left use=free-drainage"},
	})
}

// The line that a drug runs through, where the line is said first.
func TestLineSaidFirst(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "UVC 5F 2-lumen: milr 0.5, epi 0.05.", "infusions.running drug=milrinone item=central-venous-line/umbilical-venous\ninfusions.running drug=adrenaline item=central-venous-line/umbilical-venous"},
		{schema.Stage1, "RIJ 4 Fr 6 cm, dopa 5 on it.", "infusions.running drug=dopamine item=central-venous-line/jugular/right"},
		{schema.Stage1, "RIJ prox: vaso 0.0004, distal: CaCl 10.", "infusions.running drug=vasopressin item=central-venous-line/jugular lumen=proximal\ninfusions.running drug=calcium-chloride item=central-venous-line/jugular lumen=distal"},
		{schema.Stage1, "Adrenaline nought point nought five, proximal lumen of the right jugular; milrinone nought point five, same lumen.", "infusions.running drug=milrinone item=central-venous-line/jugular/right lumen=proximal"},
		{schema.Stage1, "Through the common atrial line are adrenaline 0.06 and milrinone 0.7 and through the left femoral vein calcium chloride ten.", "infusions.running drug=adrenaline item=intracardiac-line/common-atrial\ninfusions.running drug=milrinone item=intracardiac-line/common-atrial"},
		{schema.Stage1, "LA 9, milrinone 0.5.", "!infusions.running item=intracardiac-line/left-atrial"},
		{schema.Stage1, "Right radial twenty two gauge. Milrinone 0.25.", "!infusions.running item=arterial-line/radial/right"},
		{schema.Stage1, "No vaso, no norepi.", "none infusions.running drug=vasopressin\nnone infusions.running drug=noradrenaline"},
		// what was wanted and never went in, or is there no longer
		{schema.Stage3, "We had planned a right pleural drain but in the end did not place one.", "none drain variety=right-pleural\n!drain variety=right-pleural"},
		{schema.Stage1, "We thought about an LA line but decided against it.", "none intracardiac-line variety=left-atrial\n!intracardiac-line variety=left-atrial"},
		{schema.Stage2, "Two ventricular wires, and I did not put any on the atrium.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
		{schema.Closure, "Membrane taken down, packs out.", "!left-on-purpose variety=membrane"},
		{schema.Stage3, "The jugular line is long gone.", "!central-venous-line variety=jugular"},
		// a denial beside a value of the same attribute
		{schema.Stage1, "Mediastinal drain to underwater seal, no suction.", "drain variety=mediastinal drainage=water-seal"},
		// a name that needs no noun, a vessel with its side, a thing called "one"
		{schema.Stage1, "Tracheostomy 3.5 uncuffed in situ.", "airway variety=tracheostomy size=3.5 cuffed=uncuffed"},
		{schema.Stage1, "left subclavian cvc five french triple lumen", "central-venous-line variety=subclavian side=left size=5 lumenCount=3"},
		{schema.Closure, "Left atrial line pulled, the right atrial one stays.", "intracardiac-line variety=right-atrial\n!intracardiac-line variety=left-atrial\n!pressures.readings pressure=right-atrial"},
		// what a later clause says is not there
		{schema.Stage3, "Drains: right pleural twenty four, left pleural... there isn't a left, we didn't open that side.", "drain variety=right-pleural size=24\nnone drain variety=left-pleural\n!drain variety=left-pleural"},
		{schema.ShuntRevision, "Drains unchanged, mediastinal fifteen French and the right pleural... no, the right pleural came out yesterday.", "drain variety=mediastinal size=15\n!drain variety=right-pleural"},
		{schema.Stage3, "Drains: right pleural twenty-four, and left pleural eighteen, wait, the left pleura was never opened so no left one.", "drain variety=right-pleural size=24\n!drain variety=left-pleural"},
		{schema.Stage1, "Sternum closed, we did think of leaving it open.", "closing.sternum=closed\n!closing.sternum=open"},
		{schema.Closure, "Packs: board says three, we have three in the dish.", "!left-on-purpose variety=packs"},
		{schema.Reexploration, "Packs out, three. Packs put back, two.", "removals.packsRetrieved=3\ncounts.packsPut=2\nleft-on-purpose variety=packs count=2"},
		// the tube, told of in a sentence of its own
		{schema.Stage1, "Oral tube, 3.5, cuffed, ten at the lips. Grade one view, first attempt.", "airway variety=oral-tube size=3.5 view=1 attempts=1"},
		{schema.Stage2, "Nasal tube, four, cuffed. Video laryngoscope, grade two a.", "airway variety=nasal-tube size=4 device=video view=2a"},
		{schema.Stage1, "Two atrial wires, two ventricular. Tested. Insulated.", "pacing-wires variety=atrial count=2 tested=yes connection=insulated"},
		{schema.Stage1, "Swabs/needles/instr correct.", "counts.swabs=correct\ncounts.needles=correct\ncounts.instruments=correct"},
		// a side of the chest told to have no drain
		{schema.Stage1, "A sixteen in the left chest. The right chest was not drained.", "none drain variety=right-pleural"},
		{schema.Stage2, "A left pleural drain, a fifteen; the right pleura wasn't opened and has no drain.", "drain variety=left-pleural size=15\nnone drain variety=right-pleural"},
		// the way a line took, how often it took, and how long it stays
		{schema.Stage1, "Left atrial line through the appendage, five at the skin.", "intracardiac-line variety=left-atrial mark=5"},
		{schema.Stage1, "Left radial, first attempt, 24 gauge.", "arterial-line variety=radial side=left gauge=24 attempts=1"},
		{schema.Closure, "Pulmonary artery line stays in until tomorrow.", "intracardiac-line variety=pulmonary-artery"},
		{schema.Stage1, "Nasal tube 3.5. It leaks at twenty.", "airway variety=nasal-tube size=3.5 leakPressure=20"},
		{schema.Stage1, "V wires 2, capture 1.0 mA. Chest open, three packs, two behind the heart and one on the left.", "pacing-wires variety=ventricular count=2 threshold=1\n!drain variety=pericardial"},
		{schema.Closure, "Two packs in, two packs out.", "removals.packsExpected=2\nremovals.packsRetrieved=2\n!left-on-purpose variety=packs"},
		{schema.Stage1, "Throat pack in at eight fifty, out at thirteen ten.", "airway.throatPack=in-and-out\nairway.throatPackOut=13:10"},
		// what stands between two things, and a side put right
		{schema.Stage1, "left radio art line and a five french right jugular line with two lumens", "arterial-line variety=radial side=left\ncentral-venous-line variety=jugular side=right size=5\n!arterial-line french=5"},
		{schema.Stage3, "right jugular line seven french three lumens left radial arterial line twenty two gauge", "central-venous-line variety=jugular size=7 lumenCount=3\narterial-line variety=radial side=left gauge=22"},
		{schema.Stage2, "Drains, right and left pleural, twelve French each, scratch that, the left's a ten.", "drain variety=right-pleural size=12\ndrain variety=left-pleural size=10\n!drain variety=left-pleural size=12"},
		// counts and closure in words of the trade
		{schema.Stage1, "swabs and needles correct instruments not counted", "counts.swabs=correct\ncounts.needles=correct\ncounts.instruments=none"},
		{schema.Stage1, "One needle missing, film not yet back.", "counts.needles=incorrect\ncounts.countXray=awaited"},
		{schema.Stage1, "Specimens labelled, no concerns from the nurse.", "counts.specimensLabelled=yes\ncounts.concernsNurse=none"},
		{schema.Stage1, "The airway was difficult, and the echo probe stays in for the transfer.", "airway.difficult=was-difficult\nairway.echoProbe=still-in"},
	})
}

// attached are ways of telling what is left in the child, and what is not.
// Common practice of the trade, no source.
var attached = []family{
	// what became of a thing, told after it
	{schema.Stage1, "He had a left chest drain from the ward; we removed it and put a new twelve French in the right chest.", "drain variety=right-pleural size=12\n!drain variety=left-pleural"},
	{schema.Stage1, "The PICC in the right arm was lost on the ward.", "!central-venous-line variety=picc"},
	{schema.Stage1, "We wanted a left atrial line but could not get one in.", "none intracardiac-line variety=left-atrial"},
	{schema.Stage1, "Common atrial line: never went in.", "none intracardiac-line variety=common-atrial"},
	{schema.Stage1, "He used to have a tracheostomy but it was closed a year ago.", "!airway variety=tracheostomy"},
	{schema.Stage1, "The right axillary art line has been replaced by a left femoral one, twenty gauge.", "arterial-line variety=femoral side=left gauge=20\n!arterial-line variety=axillary"},
	{schema.Closure, "The mediastinal drain was replaced with a twenty French.", "drain variety=mediastinal size=20"},
	{schema.Stage2, "Right radial arterial line, twenty two. Left radial arterial line was placed and is out.", "arterial-line variety=radial side=right gauge=22\n!arterial-line side=left"},
	{schema.Stage1, "The mediastinal drain, twelve French, will be pulled when it is dry.", "drain variety=mediastinal size=12"},
	{schema.Stage1, "Two atrial wires and no earth wire.", "none pacing-wires variety=skin-earth"},
	{schema.Stage1, "Left femoral line, four French, in for the bypass run came out.", "!central-venous-line variety=femoral"},
	// a correction that names the thing once more
	{schema.Stage1, "Two ventricular wires. Make that one ventricular.", "pacing-wires variety=ventricular count=1\n!pacing-wires count=2"},
	{schema.Stage1, "One atrial and two ventricular wires. Sorry, two atrial.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
	{schema.Stage1, "Ventricular wires two, atrial wires two, no, one atrial.", "pacing-wires variety=atrial count=1\npacing-wires variety=ventricular count=2"},
	{schema.Stage1, "Left femoral arterial line, no, right femoral.", "arterial-line variety=femoral side=right\n!arterial-line side=left"},
	{schema.Stage1, "Right jugular line. I meant left.", "central-venous-line variety=jugular side=left"},
	// the verb "left" is no side
	{schema.Stage1, "We placed a peritoneal dialysis catheter and left it open on drainage.", "dialysis-catheter variety=peritoneal use=open\n!dialysis-catheter side=left"},
	// where a thing came from, and what is still in
	{schema.Stage1, "The PICC in the left arm dates from last week and is still working.", "central-venous-line variety=picc side=left"},
	{schema.Stage1, "The left femoral venous sheath from the cath lab, five French, is still there.", "central-venous-line side=left size=5\n!operation.place=catheter-laboratory"},
	{schema.Stage1, "She has a gastrostomy from before, a ten French, which we didn't touch.", "gut-and-bladder variety=gastrostomy size=10"},
	// what a line reads, and what runs in it
	{schema.Stage1, "The neck line reads fourteen.", "pressures.readings pressure=central-venous mean=14"},
	{schema.Stage2, "The neck line reads fourteen.", "stage2.cavalPressure=14"},
	{schema.Stage1, "Morphine twenty mics per kilo per hour and midazolam one hundred mics per kilo per hour, both down the blue lumen of the femoral.", "infusions.running drug=morphine lumen=blue item=central-venous-line/femoral\ninfusions.running drug=midazolam lumen=blue item=central-venous-line/femoral"},
	{schema.Stage1, "Pacing DDD at a hundred and forty, outputs ten and eight.", "leaving.atrialOutput=10\nleaving.ventricularOutput=8"},
	{schema.Stage1, "Atrial wires threshold one milliamp; ventricular threshold point eight.", "pacing-wires variety=ventricular threshold=0.8"},
	// both of two, and what went in and came out
	{schema.Stage1, "Both pleurae drained, ten French each side.", "drain variety=right-pleural size=10\ndrain variety=left-pleural size=10"},
	{schema.Stage1, "Throat pack in at the start and out at the end.", "airway.throatPack=in-and-out"},
	{schema.Stage1, "A membrane over the heart and two packs behind it, one over the aorta and one under the right sternal edge.", "left-on-purpose variety=packs count=2\n!approach.nearestStructure=aorta"},
	{schema.Stage3, "Drains: one in each pleura, twenty French, and none in the mediastinum.", "drain variety=right-pleural size=20\nnone drain variety=mediastinal"},
	{schema.Stage1, "He had a mediastinal drain and a left pleural drain after stage one; today he has a right pleural drain.", "drain variety=right-pleural\n!drain variety=mediastinal\n!drain variety=left-pleural"},
	{schema.Stage1, "The oral tube was changed to a nasal one, size four, cuffed, thirteen at the nostril.", "airway variety=nasal-tube size=4 depth=13\n!airway variety=oral-tube"},
	{schema.Stage1, "No central line in the neck on purpose.", "none central-venous-line variety=jugular\n!central-venous-line variety=jugular"},
	{schema.Stage3, "Both groins were left alone.", "!central-venous-line variety=femoral"},
	{schema.Closure, "The membrane was taken out together with the two packs we were told of.", "!left-on-purpose variety=packs\n!left-on-purpose variety=membrane"},
	{schema.Stage1, "I put in a left atrial line and brought it out below the xiphoid.", "intracardiac-line variety=left-atrial"},
	{schema.Stage1, "I left no atrial wires because the atrium was friable, only two ventricular ones.", "none pacing-wires variety=atrial\npacing-wires variety=ventricular count=2"},
	{schema.Stage1, "Broviac in the right subclavian, six French single lumen.", "central-venous-line variety=tunnelled side=right size=6 lumenCount=1"},
	{schema.Stage2, "The SVC line reads fifteen and the common atrial line six.", "stage2.cavalPressure=15\nstage2.atrialPressure=6"},
	{schema.Stage1, "Nothing is running except milrinone at point two five.", "infusions.running drug=milrinone dose=0.25\n!infusions.running=none"},
	{schema.Stage1, "Fentanyl at five, midazolam sixty, rocuronium off.", "infusions.running drug=midazolam\ninfusions.running drug=rocuronium state=stopped"},
	{schema.Stage1, "She is paced AAI at one hundred and thirty-five with ten milliamps.", "leaving.atrialOutput=10"},
	{schema.Stage1, "Dex point seven, morphine ten, both peripheral in the left hand.", "infusions.running drug=dexmedetomidine item=peripheral-cannula/hand/left\ninfusions.running drug=morphine item=peripheral-cannula/hand/left"},
	{schema.Stage3, "Right and left pleural drains, both twenties. I said there was a mediastinal drain, there is not.", "drain variety=right-pleural size=20\nnone drain variety=mediastinal\n!drain variety=mediastinal"},
	{schema.SupportOff, "Packs, three of three retrieved, none left in.", "removals.packsRetrieved=3\n!left-on-purpose variety=packs"},
	{schema.Stage2, "L fem art?? no – R fem art 22G, good trace.", "arterial-line variety=femoral side=right gauge=22\n!arterial-line side=left"},
	{schema.Stage3, "Femoral veins: no lines, both blocked on ultrasound.", "none central-venous-line variety=femoral\n!central-venous-line variety=femoral"},
	{schema.Stage1, "Nasogastric size eight in the right nostril.", "gut-and-bladder variety=gastric-tube size=8 route=nostril side=right"},
	{schema.Stage1, "No nasogastric feeds.", "!none gut-and-bladder variety=gastric-tube"},
}

func TestAttached(t *testing.T) { holds(t, attached) }
