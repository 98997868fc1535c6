package dictation

import (
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// Ways of talking, each with what a careful reader takes from the words. The
// sentences and their facts are written by hand; "!" marks what must not be read.
// Common practice of the trade, no source.
var families = []family{
	// how many there are, said after the noun
	{schema.Stage1, "Mediastinal drain, one, fifteen French.", "drain variety=mediastinal size=15"},
	{schema.Stage1, "Drain 12F x2 med -10.", "drain variety=mediastinal size=12 drainage=suction suction=10"},
	// what ends a list is said of all in it
	{schema.Stage3, "Drains R 20F L 20F med 20F, sxn 15.", "drain variety=right-pleural size=20 suction=15\ndrain variety=left-pleural size=20 suction=15\ndrain variety=mediastinal size=20 suction=15"},
	{schema.SupportOn, "Drains mediastinal fifteen, right ten. All on suction ten.", "drain variety=mediastinal size=15 suction=10\ndrain variety=right-pleural size=10 suction=10"},
	{schema.Stage3, "Three chest drains of twenty French, right pleural, left pleural and mediastinal.", "drain variety=left-pleural size=20\ndrain variety=mediastinal size=20"},
	{schema.Stage1, "Right jugular line, four French. It was on the right.", "central-venous-line variety=jugular side=right size=4"},
	// both sides of the head, in any order of head and side
	{schema.Stage1, "Cerebral right fifty five, left fifty two. Somatic sixty.", "leaving.cerebralRight=55\nleaving.cerebralLeft=52\nleaving.somatic=60"},
	{schema.Stage1, "NIRS sixty both sides.", "leaving.cerebralRight=60\nleaving.cerebralLeft=60"},
	// values said without their point
	{schema.Stage1, "Potassium four two, haemoglobin fourteen two, pH of seven three four and lactate is three one.", "gas.potassium=4.2\ngas.haemoglobin=14.2\ngas.ph=7.34\ngas.lactate=3.1"},
	{schema.Stage1, "ABG 7.36/42/38/24/-1.", "gas.ph=7.36\ngas.carbonDioxide=42\ngas.oxygen=38\ngas.bicarbonate=24\ngas.baseExcess=-1"},
	{schema.Stage1, "Base deficit of three.", "gas.baseExcess=-3\n!gas.baseExcess=3"},
	// a drug and what became of it, in a statement of their own
	{schema.Stage1, "Fentanyl two mics per kilo per hour. Rocuronium, stopped. Calcium gluconate, on standby.", "infusions.running drug=rocuronium state=stopped\ninfusions.running drug=calcium-gluconate state=standby\n!leaving.pacing=standby"},
	// what was needed for a time
	{schema.Stage1, "He needed dual chamber pacing for the first hour but is now in sinus rhythm.", "leaving.rhythm=sinus\n!leaving.pacing=dual\n!leaving.rhythm=dual-paced"},
	// what should be is a target
	{schema.Stage1, "Haematocrit should stay over thirty five.", "plan.targets what=haematocrit low=35\n!gas.haematocrit=35"},
	{schema.Stage1, "Saturations should be above eighty eight.", "plan.targets what=saturation low=88\n!leaving.saturation=88"},
	// echo words
	{schema.Stage1, "Epicardial echo: no neo-aortic insufficiency, both PAs filling.", "echo.method=epicardial\necho.outletLeak=none\necho.branchFlow=both"},
	{schema.Stage1, "A pH of seven three four and a base deficit of two.", "gas.ph=7.34\ngas.baseExcess=-2"},
	{schema.Stage1, "The milrinone continues at nought point seven.", "infusions.running drug=milrinone dose=0.7"},
	// outputs of a box that paces both are no pacing of one chamber
	{schema.Stage1, "Paced DDD at one forty, atrial output five. Underneath she has complete block.", "leaving.pacing=dual\nleaving.atrialOutput=5\nleaving.rhythmBeneath=complete-block\n!leaving.rhythm=complete-block"},
	{schema.Stage1, "Junctional underneath, A-paced at one fifty five.", "leaving.rhythm=atrial-paced\nleaving.rhythmBeneath=junctional\nleaving.pacingRate=155"},
	// attempts to come off bypass, told in two sentences, and the time of the last
	{schema.Stage1, "The first attempt to wean at 11:20 failed. Off at the second attempt at 11:50.", "support.weaning outcome=back-on at=11:20\nsupport.weaning outcome=off at=11:50\n!support.weaning outcome=back-on at=11:50"},
	{schema.Stage1, "Came off at the second attempt at 11:50.", "support.weaning outcome=off at=11:50\n!support.weaning outcome=back-on at=11:50"},
	{schema.Stage1, "Cardioplegia del Nido, 120 mL antegrade at 10:15, second dose 60 mL antegrade at 10:55.", "perfusion.cardioplegia=del-nido\n!support.perfusions on=10:15 off=10:55"},
	{schema.Stage1, "Anticoagulation is not decided yet.", "anticoagulation.plan=decide-later\n!anticoagulation.plan=none"},
	{schema.Stage1, "Rewarming to 36 degrees rectal, ice packed round the head.", "perfusion.rewarmedTo=36\nperfusion.rewarmedSite=rectal\nperfusion.ice=true"},
	{schema.Stage1, "Came off bypass first time at 12:40, no shocks.", "support.weaning outcome=off at=12:40\nsupport.shocks=none"},
	{schema.Stage1, "Fibrinogen 2.2 g per litre, platelets 104.", "clotting.fibrinogen=2.2\nclotting.platelets=104"},
	{schema.Stage3, "No blood products whatsoever were needed. Last dose of heparin was at 12:15.", "blood.products=none\nanticoagulation.heparinLast=12:15"},
	// none of a thing
	{schema.Reexploration, "Pleurals none.", "none drain variety=right-pleural\nnone drain variety=left-pleural"},
	{schema.Stage1, "Chest open, membrane, no packs.", "none left-on-purpose variety=packs\ncounts.packsLeft=none"},
	{schema.Stage3, "Wires two atrial, none ventricular.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage2, "No pacing wires were placed.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Closure, "The right pleural drain was removed, the mediastinal drain remains in place.", "drain variety=mediastinal\n!drain variety=right-pleural"},
	{schema.Closure, "The old mediastinal drain was exchanged for a new fifteen French.", "drain variety=mediastinal size=15"},
	{schema.SupportOff, "Arterial and venous cannulas out.", "!support-cannula variety=arterial\n!support-cannula variety=venous"},
	// a pressure said twice, the second to keep
	{schema.Stage2, "The Glenn pressure read eighteen until the line was flushed, and thirteen after that.", "stage2.cavalPressure=13\n!stage2.cavalPressure=18"},
	{schema.Stage2, "Glenn sixteen, fourteen since we brought the PEEP down.", "stage2.cavalPressure=14\n!stage2.cavalPressure=16"},
	{schema.Stage3, "Fontan pressure seventeen at first, settled at fourteen, atrium six.", "stage3.conduitPressure=14\nstage3.atrialPressure=6\n!stage3.conduitPressure=17"},
	// a shunt that only its ends and its size name, or that came for another
	{schema.Stage1, "Norwood. Three and a half Gore-Tex, innominate to RPA.", "supply.kind=modified-blalock-taussig-thomas\nsupply.shuntDiameter=3.5\nsupply.from=innominate-artery\nsupply.to=right-pulmonary-artery"},
	{schema.ShuntRevision, "Three and a half out, four in, Gore-Tex.", "supply.shuntDiameter=4\nbetween.shuntDone=upsized\n!supply.shuntDiameter=3.5"},
	{schema.ShuntRevision, "The shunt was blocked.", "between.shuntFound=blocked\nbetween.reason=shunt-blocked"},
	{schema.ShuntRevision, "The BT shunt was too big.", "between.shuntFound=too-large\nbetween.reason=high-lung-flow"},
	{schema.SupportOn, "For arrest. Chest opened.", "mechanical.reasonOn=arrest\nbetween.reason=arrest"},
	{schema.Takedown, "She did not tolerate her Glenn.", "between.reason=failed-connection"},
	{schema.Stage2, "Glenn fourteen, atrium five, so nine across.", "stage2.gradient=9"},
	{schema.Stage3, "Eighteen Gore-Tex tube, eight centimetres.", "stage3.conduitDiameter=18\nstage3.conduitLength=80"},
	{schema.Stage1, "The arch was patched with aortic homograft.", "stage1.archPatch=aortic-homograft\n!stage1.archPatch=pulmonary-homograft"},
	{schema.Stage1, "Arch interdigitating, no patch.", "stage1.archPatch=none"},
	{schema.Stage2, "PAs left alone, no patch.", "stage2.enlargement=none"},
	{schema.Stage2, "The right cava was divided and joined to the right pulmonary artery.", "stage2.rightCavalVein=connected"},
	{schema.Stage2, "Pressure fifteen in the Glenn, that was before the nitric, now thirteen.", "stage2.cavalPressure=13\n!stage2.cavalPressure=15"},
	// what the catheter measured, told on
	{schema.Stage2, "Pre-op cath: mPAP 12, EDP 8. RPA 9 LPA 8 DAo 10.", "catheter.rightBranch=9\ncatheter.leftBranch=8\ncatheter.descendingAorta=10"},
	{schema.Stage3, "Left femoral vein occluded on ultrasound.", "before.vessels vessel=femoral-vein side=left state=blocked how=ultrasound"},
	{schema.Stage1, "39/40, BW 3.05 kg, op wt 3.3 kg, no known allergies.", "child.gestationWeeks=39\nchild.birthWeight=3.05\nmeasures.weight=3.3\nchild.allergies=none"},
	{schema.Stage1, "When I let it go the diastolic dropped by nine.", "supply.diastolicFall=9"},
	{schema.ShuntRevision, "The shunt was found kinked at its top end.", "between.shuntFound=kinked"},
	// a deed with its subject begins a statement in speech that runs on
	{schema.Stage1, "we did the arch with a homograft patch and then the septum was cut out coarctation excised duct ligated and the sano is a five millimetre ringed gore tex", "stage1.coarctation=excised\nstage1.duct=ligated\nsupply.material=eptfe-ringed"},
	{schema.Stage3, "Fontan pressure eighteen with the fenestration shut, fifteen with it open.", "stage3.conduitPressure=15\n!stage3.conduitPressure=18"},
	{schema.Stage3, "A twenty-two conduit, no, I put in a twenty.", "stage3.conduitDiameter=20\n!stage3.conduitDiameter=22"},
	{schema.Stage1, "Bilateral branch bands, each from a three millimetre tube, and the gradient was thirty-five on both sides.", "hybrid.bands side=right size=3 gradient=35\nhybrid.bands side=left size=3 gradient=35"},
	{schema.Stage1, "F, 39/40, op wt 3.3 kg, B pos.", "child.sex=female\nchild.bloodGroup=b-positive"},
	{schema.Stage2, "Bilateral Glenn. LSVC to LPA, RSVC to RPA.", "stage2.leftCavalVein=connected\n!stage2.enlargement=left"},
	{schema.Stage2, "At catheter six weeks ago the mean pulmonary artery pressure was thirteen.", "catheter.meanPulmonaryPressure=13\n!catheter.meanPulmonaryPressure=6"},
	// the size that was put in
	{schema.Stage3, "I had a twenty conduit, but the vein is small and we went down to an eighteen.", "stage3.conduitDiameter=18\n!stage3.conduitDiameter=20"},
	{schema.Stage3, "A twenty millimetre Gore-Tex tube, no, it kinked, eighteen it is.", "stage3.conduitDiameter=18\n!stage3.conduitDiameter=20"},
	{schema.Stage1, "Blalock shunt. Four millimetre Gore-Tex. No, scratch that, the four was opened and put back, what went in is a three and a half.", "supply.shuntDiameter=3.5\n!supply.shuntDiameter=4"},
	{schema.ShuntRevision, "The shunt was narrowed, I first said blocked.", "between.shuntFound=narrowed\n!between.shuntFound=blocked"},
	{schema.Stage1, "A four millimetre BT shunt, no, we opened the four and put it back, it was a three and a half.", "supply.shuntDiameter=3.5\n!supply.shuntDiameter=4"},
	// how the child was, told on
	{schema.Stage1, "Before the operation the baby was ventilated. The septum was restrictive.", "before.ventilation=ventilated\nbefore.septum=restrictive\n!echo.septum=restrictive"},
	// what lies behind the sternum
	{schema.Stage3, "On the CT the conduit was five millimetres from the sternum.", "approach.nearestStructure=conduit\napproach.imagingDistance=5\napproach.imagingMethod=ct"},
	// the two bands, in whichever order
	{schema.Stage1, "Bands: on the right a three and a half Gore-Tex ring, on the left a three.", "hybrid.bands side=right size=3.5 material=eptfe method=cut-ring\nhybrid.bands side=left size=3 material=eptfe method=cut-ring"},
	{schema.Stage1, "Bands three and a half right, three left, gradients thirty eight right and forty left.", "hybrid.bands side=right size=3.5 gradient=38\nhybrid.bands side=left size=3 gradient=40"},
	{schema.Stage1, "Hybrid, LPA band three, RPA band three and a half, both cut from Gore-Tex.", "hybrid.bands side=left size=3 material=eptfe method=cut-ring\nhybrid.bands side=right size=3.5 material=eptfe method=cut-ring"},
	{schema.Stage1, "Hybrid with two bands, three on the right, three and a half on the left.", "hybrid.bands side=right size=3\nhybrid.bands side=left size=3.5"},
	{schema.Stage1, "RPA band: 3.5 GoreTex, cut ring, grad 38. LPA band: 3 GoreTex cut ring, grad 34.", "hybrid.bands side=right size=3.5 gradient=38 material=eptfe\nhybrid.bands side=left size=3 gradient=34 material=eptfe"},
	{schema.Stage1, "Bands: right three millimetres, left three and a half, cut rings.", "hybrid.bands side=right size=3 method=cut-ring\nhybrid.bands side=left size=3.5 method=cut-ring"},
	{schema.Stage1, "I banded the left pulmonary artery with a ring of three millimetres, the gradient was thirty.", "hybrid.bands side=left size=3 gradient=30 method=cut-ring"},
	{schema.ShuntRevision, "The diastolic fell by twelve when we opened it.", "supply.diastolicFall=12\nsupply.proof=diastolic-fall"},
	{schema.Stage1, "Hybrid. Septum ballooned, residual gradient three.", "hybrid.septum=balloon\nhybrid.septumGradient=3\n!stage1.archGradient=3"},
	{schema.Stage1, "Hybrid. Prostaglandin to be weaned tonight. The septum will be ballooned next week.", "hybrid.prostaglandinAfter=weaning\nhybrid.septum=planned\n!hybrid.septum=balloon"},
	{schema.Stage3, "Extracardiac Fontan with a four millimetre punch fenestration.", "stage3.fenestrationDiameter=4\nstage3.fenestration=open"},
	{schema.Takedown, "Failing Fontan, taken down to a bidirectional Glenn.", "between.takenDown=fontan\n!between.takenDown=glenn"},
	// a material after what was enlarged
	{schema.Stage3, "LPA enlarged, bovine pericardium.", "stage3.enlargement=left\nstage3.enlargementMaterial=bovine-pericardium\n!stage3.conduitMaterial=bovine-pericardium"},
	// a number beside a thing that is not its number
	{schema.Closure, "Closure on day three the membrane came off.", "!left-on-purpose variety=membrane"},
	{schema.Stage3, "Drains on suction at minus twenty two atrial and two ventricular wires.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
	{schema.Stage1, "R pleural #12 to suction.", "drain variety=right-pleural size=12 drainage=suction\n!drain suction=12"},
	// a number that a later one puts right
	{schema.Stage2, "Glenn pressure came up as fifteen, we re-zeroed, and it's twelve.", "stage2.cavalPressure=12\n!stage2.cavalPressure=15"},
	{schema.Stage1, "Nitric got as high as forty, we leave on ten.", "ventilation.nitricOxide=10\n!ventilation.nitricOxide=40"},
	{schema.Stage1, "Clamp fifty, or fifty five, perfusion says fifty eight.", "support.clampTotal=58"},
	{schema.Stage1, "Sats eighty eight, sorry, that's the other twin, eighty one.", "leaving.saturation=81\n!leaving.saturation=88"},
	{schema.Stage3, "Fontan pressure seventeen? No, seventeen was before the fenestration. Fifteen now.", "stage3.conduitPressure=15\n!stage3.conduitPressure=17"},
	{schema.Stage1, "Lactate 5.1. Sats 78. The five point one I said was wrong, it is six.", "gas.lactate=6\nleaving.saturation=78\n!gas.lactate=5.1"},
	{schema.Stage1, "Clamp fifty one. Sorry, the clamp was fifty eight.", "support.clampTotal=58"},
	{schema.Stage1, "I'd written nine minutes of arrest; there was none.", "support.arrests=none\n!support.arrestTotal=9"},
	{schema.Stage2, "Left Glenn, no, that was yesterday's child, a right Glenn.", "stage2.connection=glenn-right\n!stage2.connection=glenn-left"},
	{schema.Stage1, "Right atrial line? No, common atrial.", "intracardiac-line variety=common-atrial\n!intracardiac-line variety=right-atrial"},
	{schema.SupportOn, "Fifteen venous, no, eighteen.", "support-cannula variety=venous size=18"},
	{schema.Stage2, "Third sternotomy, did I say third, it is the second.", "approach.sternotomyNumber=2\n!approach.sternotomyNumber=3"},
	// what was meant, asked for or told before, and what was done
	{schema.Stage2, "The azygos I was going to clip, but it's ligated.", "stage2.azygos=ligated"},
	{schema.Stage1, "Arch patch: bovine pericardium is what I asked for, pulmonary homograft is what it got.", "stage1.archPatch=pulmonary-homograft\n!stage1.archPatch=bovine-pericardium"},
	{schema.ShuntRevision, "I said on the phone that the shunt was kinked, but it was blocked.", "between.shuntFound=blocked\n!between.shuntFound=kinked"},
	// packs
	{schema.Closure, "Two packs came out, two of two.", "removals.packsRetrieved=2\nremovals.packsExpected=2"},
	{schema.Closure, "Membrane out, packs 1/1 out.", "removals.packsRetrieved=1\nremovals.packsExpected=1"},
	// the chest, the shunt
	{schema.Reexploration, "Chest was closed, now left open.", "closing.sternum=open\n!closing.sternum=closed"},
	{schema.Reexploration, "The shunt was open and nothing was done to it.", "between.shuntFound=open\nbetween.shuntDone=none"},
	{schema.ShuntRevision, "In the end we replaced it with a three and a half.", "between.shuntDone=replaced"},
	{schema.SupportOn, "The shunt was left open but partially clipped.", "mechanical.shunt=narrowed"},
	{schema.SupportOn, "Vent: left atrium, fourteen.", "mechanical.vent=left-atrium\nsupport-cannula variety=vent size=14"},
	{schema.SupportOn, "LV vent n/a.", "mechanical.vent=none"},
	{schema.SupportOn, "Right neck cannulation: carotid ten, jugular fourteen.", "mechanical.cannulation=neck\nsupport-cannula variety=arterial size=10\nsupport-cannula variety=venous size=14"},
	{schema.ShuntRevision, "Sats 93. One clip on the shunt. Sats 80 after.", "between.saturationBeforeWork=93\nbetween.saturationAfterWork=80"},
	// times and temperatures as they are jotted down
	{schema.Stage3, "On 08:51 off 10:46, XC 09:17-10:05.", "support.runs on=08:51 off=10:46\nsupport.clamps on=09:17 off=10:05"},
	{schema.Stage1, "We clamped the aorta at nine fifty five. The clamp came off at eleven oh four.", "support.clamps on=09:55 off=11:04"},
	{schema.Stage2, "Temp 28 bladder.", "perfusion.lowestTemperature=28\nperfusion.lowestTemperatureSite=bladder\n!leaving.temperature=28"},
	{schema.Stage3, "T 30 NP.", "perfusion.lowestTemperature=30\nperfusion.lowestTemperatureSite=nasopharyngeal"},
	{schema.SupportOn, "On ECMO at four forty in the morning.", "mechanical.startedAt=04:40"},
	{schema.SupportOff, "Trial yesterday failed. Trial at 12:20 down to 25 mL per kilo, passed.", "mechanical.trials outcome=failed\nmechanical.trials outcome=passed at=12:20 flow=25"},
	{schema.Closure, "MAP 48->47, SBP 66->64, SpO2 80->79, RAP 7->8.", "closing.tolerance measure=systolic before=66 after=64\nclosing.tolerance measure=atrial before=7 after=8"},
	{schema.Stage1, "NIRS R 48 L 66.", "leaving.cerebralRight=48\nleaving.cerebralLeft=66"},
	{schema.Stage1, "Cerebral NIRS fifty five left, fifty eight right.", "leaving.cerebralLeft=55\nleaving.cerebralRight=58"},
	{schema.Stage3, "Extracardiac. Conduit 18 by 80.", "stage3.conduitDiameter=18\nstage3.conduitLength=80"},
	{schema.Stage3, "Fenestration 4 mm snared, snare left open.", "stage3.fenestration=snared-open\nstage3.fenestrationDiameter=4"},
	{schema.Stage2, "Chest drains: mediastinal and right pleural, 15 and 12 French.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12\n!drain variety=left-pleural"},
	{schema.Closure, "Packs: expected three, found three.", "removals.packsExpected=3\nremovals.packsRetrieved=3\n!left-on-purpose variety=packs"},
	{schema.Reexploration, "Packs two out, none put back.", "removals.packsRetrieved=2\n!left-on-purpose variety=packs"},
	{schema.ShuntRevision, "Patch plasty of the distal anastomosis with bovine pericardium.", "!supply.material=bovine-pericardium"},
	{schema.Stage2, "The Sano conduit was excised.", "stage2.oldSupply=taken-out"},
	{schema.Stage1, "Sats were sixty eight came up to seventy six in sixty percent.", "leaving.saturation=76\nleaving.inspiredOxygen=0.6\n!leaving.saturation=68"},
	{schema.Stage1, "Sano on day five six millimetre.", "supply.conduitDiameter=6\n!supply.conduitDiameter=5"},
	{schema.Stage1, "Chest open with a membrane and two swabs behind the heart.", "left-on-purpose variety=swabs count=2\n!left-on-purpose variety=membrane count=2"},
	{schema.Stage1, "Epi .05 via UVC distal, milr .5 same, CaCl 10 LA line.", "infusions.running drug=milrinone item=central-venous-line/umbilical-venous\ninfusions.running drug=calcium-chloride item=intracardiac-line/left-atrial"},
	{schema.Reexploration, "Six weeks after the Norwood.", "before.operations operation=stage-1"},
	{schema.Stage2, "Previous Glenn pressure fifteen.", "!before.operations operation=stage-2"},
	{schema.Stage1, "Two units of red cells still in the fridge.", "blood.available product=red-cells\n!blood.products product=red-cells"},
	{schema.Stage2, "Chest tubes times two, 15 French, mediastinal and left pleural, to 10 of suction.", "drain variety=mediastinal size=15\ndrain variety=left-pleural size=15\n!drain variety=right-pleural"},
	{schema.Stage2, "Right internal jugular 5 French, left internal jugular removed, right femoral venous triple lumen 5.5 French.", "central-venous-line variety=femoral side=right size=5.5 lumenCount=3\n!central-venous-line variety=jugular side=left"},
	{schema.Stage1, "Sano conduit to the left of the aorta.", "supply.neoAortaSide=left\n!supply.from=ascending-aorta"},
	{schema.SupportOn, "8 Fr in the aorta and 18 Fr single stage in the RA.", "support-cannula variety=arterial size=8\nsupport-cannula variety=venous size=18"},
	{schema.SupportOff, "off ecmo at ten past two in the afternoon after a hundred and ten hours trial this morning down to thirty mils per kilo passed", "mechanical.stoppedAt=14:10\nmechanical.trials outcome=passed flow=30\n!mechanical.trials at=14:10"},
	{schema.Stage2, "The l p a was small so patched with homograft.", "stage2.enlargement=left\nstage2.enlargementMaterial=pulmonary-homograft"},
	{schema.Stage1, "Homograft to the arch.", "stage1.archPatch=pulmonary-homograft"},
	{schema.Stage1, "Sats 70 up to 84 in 35%.", "leaving.saturation=84\n!leaving.saturation=70"},
	{schema.Takedown, "We took the hemi-Fontan down.", "between.takenDown=glenn\n!between.takenDown=fontan"},
	{schema.Stage3, "drains right pleural twenty four left pleural twenty four mediastinal twenty all on suction", "drain variety=right-pleural size=24\ndrain variety=mediastinal size=20\n!drain suction=20"},
	{schema.Stage3, "Blood cardioplegia two doses antegrade.", "perfusion.cardioplegia=blood\n!support.perfusionTotal=2"},
	{schema.Stage3, "nitric twenty drains right pleural twenty four left pleural sixteen", "drain variety=right-pleural size=24\ndrain variety=left-pleural size=16"},
	// limits that name nothing
	{schema.Stage2, "Call below seventy.", "plan.calls what=saturation direction=below value=70"},
	{schema.Stage2, "Aim 75 to 85.", "plan.targets what=saturation low=75 high=85"},
	{schema.Stage2, "Call below thirty five.", "!plan.calls value=35"},
	// two words alike
	{schema.Stage2, "Blood loss 60 mL.", "work.estimatedLoss=60\n!blood.products volume=60"},
	{schema.Stage1, "A three and a half modified BT from the innominate.", "supply.shuntDiameter=3.5\n!perfusion.ultrafiltration volume=3.5"},
	{schema.Stage1, "Platelets 60, FFP 40, cryo 20.", "blood.products product=platelets volume=60\n!clotting.platelets=60"},
	{schema.Stage2, "Left radial art line, left femoral triple lumen 5 French.", "arterial-line variety=radial side=left\ncentral-venous-line variety=femoral side=left lumenCount=3"},
	{schema.Stage1, "R fem PICC 2F.", "central-venous-line variety=picc side=right size=2\n!central-venous-line variety=femoral"},
	{schema.Stage3, "SpO2 92 RA.", "leaving.saturation=92\nleaving.inspiredOxygen=0.21"},
	{schema.Stage1, "This little girl. Her mother's surgeon, he came too.", "child.sex=female"},
	// the child before this operation, in the words of the state now
	{schema.Stage2, "At clinic she was saturating seventy five and breathing for herself. Now it is eighty five.", "before.saturation=75\nbefore.ventilation=own-breathing\nleaving.saturation=85\n!leaving.saturation=75"},
	{schema.Stage1, "Preop echo had moderate TR and a good ventricle.", "before.avValveLeak=moderate\nbefore.ventricularFunction=good\n!echo.avValveLeak=moderate"},
	{schema.Stage1, "Sats sixty two before we revised it, seventy nine on leaving.", "leaving.saturation=79\n!before.saturation=62"},
	{schema.Stage1, "Prostin was running when we came to theatre.", "before.prostaglandin=running-to-theatre\n!infusions.running drug=alprostadil"},
	{schema.Stage1, "PGE at 0.02 up to the OR, stopped at ten past nine.", "before.prostaglandinDose=0.02\nbefore.prostaglandinStopped=09:10"},
	{schema.Stage1, "He had a balloon septostomy on day two.", "before.catheterProcedures procedure=balloon-septostomy"},
	{schema.Stage1, "This is the second twin.", "child.multiple=twin\nchild.birthOrder=2"},
	{schema.Stage1, "The first twin had a Norwood last month.", "!child.birthOrder=1"},
	{schema.Stage1, "A boy of three point four kilos, day six.", "measures.weight=3.4"},
	// one name for two numbers
	{schema.Stage1, "Lactate eleven on the pump, six now.", "perfusion.peakLactate=11\ngas.lactate=6"},
	{schema.Stage1, "Cerebral sats fifty eight on the left and sixty one on the right.", "leaving.cerebralLeft=58\nleaving.cerebralRight=61"},
	{schema.Stage1, "Dual paced at one fifty, atrial output five, ventricular eight.", "leaving.atrialOutput=5\nleaving.ventricularOutput=8"},
	{schema.Stage1, "Complete heart block underneath.", "leaving.rhythmBeneath=complete-block\n!leaving.rhythm=complete-block"},
	{schema.Stage1, "Knife to skin at nine oh five, on bypass nine fifty, off at twelve forty, out of theatre at fourteen thirty.", "operation.started=09:05\noperation.leftTheatre=14:30\nsupport.runs on=09:50 off=12:40"},
	{schema.SupportOn, "Adrenaline has been stopped and milrinone continues at point two five.", "infusions.running drug=adrenaline state=stopped\ninfusions.running drug=milrinone dose=0.25"},
	{schema.Stage1, "A left atrial line was put in and then taken out; a right atrial line is in instead.", "intracardiac-line variety=right-atrial\n!intracardiac-line variety=left-atrial"},
	// breathing
	{schema.Stage2, "On high flow at ten litres and thirty percent.", "ventilation.oxygenFlow=10\nleaving.inspiredOxygen=0.3"},
	{schema.Stage1, "Vent rate thirty two, pressures twenty one over five.", "ventilation.peakPressure=21\nventilation.endPressure=5\n!pressures.readings systolic=21"},
	{schema.Stage1, "She never needed nitric.", "ventilation.nitricOxide=none"},
	{schema.SupportOn, "On at four fifteen.", "mechanical.startedAt=04:15"},
	// without stops: a capital, or a name with its number, begins a sentence
	{schema.Stage2, "Bypass eighty eight minutes with a beating heart Chest closed Wires two and two Drains mediastinal fifteen and right twelve No left", "support.bypassTotal=88\npacing-wires variety=atrial count=2\ndrain variety=right-pleural size=12\nnone drain variety=left-pleural"},
}

func TestFamilies(t *testing.T) { holds(t, families) }

// family is a text with what must and must not be read from it.
type family struct {
	kind schema.Kind
	text string
	want string // one line for each proposal, row or item
}

// holds fails where a text is not read as its family wants.
func holds(t *testing.T, families []family) {
	t.Helper()
	for _, f := range families {
		got := told(f.kind, f.text)
		for _, line := range strings.Split(f.want, "\n") {
			line, not := strings.CutPrefix(line, "!")
			words := strings.Fields(line)
			none := words[0] == "none"
			found := slices.ContainsFunc(got, func(g string) bool {
				have := strings.Fields(g)
				if (have[0] == "none") != none {
					return false
				}
				return !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(have, w) })
			})
			if found == not {
				t.Errorf("%s: %s\n  said %q, wanted %v: %s", f.kind, f.text, got, !not, line)
			}
		}
	}
}
