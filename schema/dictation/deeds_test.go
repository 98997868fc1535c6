package dictation

import (
	"testing"

	"fairlead/schema"
)

// What was done, in words that no fixed phrase holds: a verb and a thing apart, a
// verb after "did", a deed said twice. The sentences are written by hand; "!" marks
// what must not be read. Common practice of the trade, no source.
var deedsTold = []family{
	// a verb and a thing, whatever stands between
	{schema.ShuntRevision, "A clip was put across the three and a half shunt.", "between.shuntDone=clipped\nsupply.shuntDiameter=3.5"},
	{schema.ShuntRevision, "The clip from stage one was taken off the shunt.", "between.shuntDone=clip-removed"},
	{schema.ShuntRevision, "We fished the clot out of the shunt with a Fogarty.", "between.shuntDone=clot-removed"},
	{schema.Reexploration, "No surgical bleeding point was found.", "between.source=none"},
	{schema.Stage2, "The Sano was stuck to the back of the sternum.", "approach.adherentConduit=yes"},
	{schema.Stage2, "Stent removed from the arch, atrial septum resected.", "stage2.archWork=stent-removed\nstage2.septumWork=excised"},
	{schema.Stage2, "Nothing was done to the valve.", "stage2.valveWork=none"},
	{schema.Stage1, "Distal end onto the confluence with a cuff.", "supply.distalSite=confluence\nsupply.distalEnd=cuff"},
	{schema.Stage1, "Hybrid. The septum was ballooned.", "hybrid.septum=balloon"},
	{schema.Stage1, "The septum was ballooned, no wait, it was left alone.", "!hybrid.septum=balloon"},
	{schema.Closure, "The sternum was left open, no, we closed it with wires.", "closing.sternum=closed\n!closing.sternum=open"},
	// two verbs of one thing
	{schema.Stage1, "The right branch was narrow and I patched it with a bit of homograft.", "stage1.branchWork=right"},
	{schema.Takedown, "The Glenn failed and was taken down.", "between.takenDown=glenn"},
	{schema.Takedown, "The thoracic duct was tied en masse.", "between.thoracicDuct=mass-ligated"},
	{schema.Stage1, "All the coarctation shelf came out with the ductal tissue.", "stage1.coarctation=excised\nstage1.ductalTissue=excised"},
	{schema.Stage1, "A sliver of ductal tissue had to be left behind.", "stage1.ductalTissue=partly-excised"},
	{schema.Stage1, "General anaesthesia with a paravertebral block.", "operation.anaesthesia=general-with-block"},
	{schema.Stage1, "The right branch was patched with autologous pericardium.", "stage1.branchMaterial=own-pericardium\n!stage1.stumpPatch=own-pericardium"},
	// "did" before a verb, and what only "it" names
	{schema.Stage2, "The azygos was left, actually no, I did tie it before testing.", "stage2.azygos=ligated\n!stage2.azygos=left-open"},
	{schema.Stage2, "I tied the azygos, good God no, I did not tie the azygos.", "!stage2.azygos=ligated\n!stage2.azygos=none"},
	{schema.Reexploration, "Swab sent, no tissue.", "!between.cultures=tissue"},
	// beside what it was done instead of
	{schema.Stage2, "A hemi-Fontan rather than a Glenn was done.", "stage2.connection=hemi-fontan\n!stage2.connection=glenn-right"},
	{schema.Stage2, "The leak went from moderate to mild.", "echo.avValveLeak=mild\n!echo.avValveLeak=moderate"},
	{schema.SupportOn, "ECPR on the unit.", "mechanical.mode=veno-arterial-arrest\nmechanical.reasonOn=arrest"},
	{schema.Takedown, "Glenn taken down for failure.", "between.takenDown=glenn\nbetween.reason=failed-connection\n!between.shuntDone=taken-down"},
	{schema.Stage3, "IVC divided at the atrium, its cardiac end oversewn.", "stage3.cardiacEnd=oversewn\n!stage3.antegradeFlow=closed"},
	// numbers
	{schema.Stage1, "Vacuum minus thirty.", "support.vacuum=30"},
	{schema.Stage1, "Selective cerebral perfusion through the innominate graft at fifty mils per kilo for fifty one minutes, right radial at forty eight.", "support.perfusions minutes=51 flow=50 pressure=48 pressureSite=right-radial"},
	{schema.Stage1, "pH stat on the way down and alpha stat coming up.", "perfusion.acidBase strategy=ph-stat phase=cooling\nperfusion.acidBase strategy=alpha-stat phase=rewarming"},
	{schema.Stage1, "Zero balance filtration during rewarming took four hundred and fifty out.", "perfusion.ultrafiltration kind=zero-balance volume=450"},
	{schema.Stage1, "Lowest ACT on pump four eighty, after protamine one thirty one.", "clotting.clottingTimeBypass=480\nclotting.clottingTimeAfter=131"},
	{schema.ShuntRevision, "Sats went from forty eight to seventy six.", "between.saturationBeforeWork=48\nbetween.saturationAfterWork=76"},
	// two grades of one valve, and two valves
	{schema.Stage2, "Echo after: mild leak, moderate before.", "echo.avValveLeak=mild\nbefore.avValveLeak=moderate"},
	{schema.Stage3, "AVVR mild (mod preop), fen open.", "echo.avValveLeak=mild\nbefore.avValveLeak=moderate\nstage3.fenestration=open\n!before.septum=open"},
	{schema.Stage1, "TEE: AVV leak trivial, neo-aortic leak mild.", "echo.avValveLeak=trivial\necho.outletLeak=mild"},
	// when the products were given, said after all of them
	{schema.Stage1, "Red cells, forty mils, platelets, thirty mils, all after bypass.", "blood.products product=red-cells volume=40 phase=after-bypass\nblood.products product=platelets volume=30 phase=after-bypass"},
	{schema.Stage1, "Two hundred mils of red cells and a hundred of FFP went in during bypass.", "blood.products product=plasma volume=100 phase=on-bypass"},
	// why a child was taken back, and not why
	{schema.Reexploration, "Re-exploration in PICU, emergency, for bleeding + tamponade.", "between.reason=bleeding\nbetween.reason=tamponade"},
	{schema.Reexploration, "Reopened at the bedside. Low output, not bleeding.", "between.reason=low-output\n!between.reason=bleeding"},
	// where the lung arteries were enlarged
	{schema.Stage2, "Pulmonary homograft to augment the central pulmonary arteries and the left branch.", "stage2.enlargement=central\nstage2.enlargement=left"},
	{schema.Stage2, "The left PA was patched, and then the confluence needed it too, so left and central.", "stage2.enlargement=left\nstage2.enlargement=central\n!stage2.enlargement=right"},
	{schema.Stage2, "We did not need to enlarge the branch pulmonary arteries.", "stage2.enlargement=none"},
	// how long bypass took
	{schema.Stage3, "All of this was done on bypass with the heart beating, ninety-four minutes, without a cross-clamp.", "support.bypassTotal=94"},
	{schema.Stage1, "We went back on bypass for thirty two minutes to revise the shunt.", "support.runs minutes=32\n!support.bypassTotal=32"},
	{schema.Stage1, "Bypass runs, two: 132 and 28.", "support.runs minutes=132\nsupport.runs minutes=28"},
	{schema.Stage1, "Bypass was, let me see, one hundred and four.", "support.bypassTotal=104"},
	{schema.Stage1, "Bypass eighty-two minutes, hang on, the perfusionist says eighty-eight.", "support.bypassTotal=88\n!support.bypassTotal=82"},
	{schema.Stage1, "Booked as a Sano, did a four millimetre BT shunt.", "supply.kind=modified-blalock-taussig-thomas\nsupply.shuntDiameter=4\n!supply.kind=ventricle-pulmonary-conduit"},
	{schema.Stage1, "Arch fine, no patch.", "!stage1.archTechnique=direct-no-patch"},
	// what was measured at the catheter
	{schema.Stage2, "Last Friday's catheter: mean PA eleven.", "catheter.meanPulmonaryPressure=11\ncatheter.method=catheter\n!pressures.readings mean=11"},
	{schema.Stage2, "Pre-op cath mPAP 13, EDP 8.", "catheter.meanPulmonaryPressure=13\ncatheter.endDiastolicPressure=8"},
	{schema.Stage3, "His pressures at the catheter were excellent, a mean of ten in the lung artery.", "catheter.meanPulmonaryPressure=10"},
	{schema.Stage2, "2nd sternotomy, entry uneventful.", "approach.sternotomyNumber=2\napproach.entry=uneventful"},
	{schema.Stage3, "We reopened the sternum without any trouble.", "approach.entry=uneventful"},
	{schema.Stage1, "We never had to stop the circulation altogether.", "support.arrests=none"},
	{schema.Stage1, "We did not use bypass at any point, although the pump was primed in the room.", "support.mode=off-pump\n!support.mode=bypass"},
	{schema.Reexploration, "Shunt open, left alone.", "between.shuntDone=none"},
	{schema.ShuntRevision, "We swapped the three and a half for a four.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.Stage1, "Prebypass ultrafiltration: two hundred.", "perfusion.ultrafiltration kind=prebypass volume=200"},
	{schema.ShuntRevision, "We narrowed the shunt with a single clip.", "between.shuntDone=clipped"},
	{schema.ShuntRevision, "Sats were fifty five, now eighty one.", "between.saturationBeforeWork=55\nleaving.saturation=81\n!leaving.saturation=55"},
	{schema.Stage1, "DHCA 0 SACP 52 min @ 50.", "support.arrests=none\nsupport.perfusions minutes=52 flow=50\n!support.arrests minutes=52"},
	{schema.Stage1, "ACT stayed above four eighty.", "clotting.clottingTimeBypass=>480"},
	{schema.Takedown, "Failing Fontan, so we took it down to a Glenn.", "between.takenDown=fontan\n!between.takenDown=glenn"},
	{schema.Stage2, "The catheter in March gave a mean PA of twelve. Function was good then.", "catheter.meanPulmonaryPressure=12\n!echo.function=good"},
	{schema.Stage2, "The left branch was tight where the shunt came in and we opened it out with bovine pericardium.", "stage2.enlargement=left\nstage2.enlargementMaterial=bovine-pericardium"},
	{schema.Stage1, "Del Nido 300 into the root.", "perfusion.cardioplegiaDoses volume=300 route=aortic-root"},
	{schema.Stage1, "We took off another hundred and fifty by MUF.", "perfusion.ultrafiltration kind=modified volume=150"},
	{schema.Stage1, "Two units of platelets were ordered, none given.", "!blood.products product=platelets"},
	{schema.Stage3, "Epicardial leads on the atrium and the ventricle, generator pocket behind the left rectus.", "stage3.leads=atrial\nstage3.leads=ventricular\nstage3.pocket=behind-rectus\n!pacing-wires variety=atrial"},
	{schema.Stage1, "The graft later became the shunt.", "support.inflowGraftFate=became-shunt"},
	{schema.Closure, "Skin only closed today, sternum left apart.", "closing.sternum=open\n!closing.sternum=closed"},
	{schema.Stage1, "The prime was one unit of red cells three days old and a unit of plasma.", "perfusion.prime product=red-cells age=3\nperfusion.prime product=plasma"},
	{schema.Stage2, "Arch patched with homograft, Glenn on the right.", "!stage2.enlargementMaterial=pulmonary-homograft"},
	// what was not used after all
	{schema.Stage1, "A bovine patch was opened but the arch has pulmonary homograft.", "stage1.archPatch=pulmonary-homograft\n!stage1.archPatch=bovine-pericardium"},
	{schema.Stage1, "My colleague did the last one of these with a Sano, but here I used a central shunt.", "supply.kind=central-shunt\n!supply.kind=ventricle-pulmonary-conduit"},
	{schema.Stage3, "Not fenestrated, 5 mm fen only if Fontan P >17.", "stage3.fenestration=none\n!stage3.fenestrationDiameter=5\n!stage3.conduitPressure=>17"},
	{schema.Reexploration, "Source, distal arch suture line, one stitch. Cannulation site dry.", "between.source=suture-line\n!between.source=cannulation-site"},
	{schema.SupportOn, "I found the shunt open and put a clip on it, so it is narrowed.", "mechanical.shunt=narrowed\n!mechanical.shunt=open"},
	{schema.Stage3, "We arrested for seven minutes at twenty five degrees, no sorry, eight minutes.", "support.arrestTotal=8\n!support.arrestTotal=7"},
	// a line broken by hand
	{schema.Stage1, "For the lungs we put in a three and a half millimetre shunt, from the ascending aorta to the confluence. My\ncolleague did the last one of these with a Sano, and here I did not want to open the ventricle at all.", "supply.shuntDiameter=3.5\n!supply.kind=ventricle-pulmonary-conduit"},
}

func TestDeedsTold(t *testing.T) { holds(t, deedsTold) }

// When a thing was done, and what is said of it between two commas, takes nothing from the
// deed; and what became of a graft or a shunt is told far from its size.
var deedsInTime = []family{
	{schema.Stage1, "The septum was then excised.", "stage1.septectomy=excised"},
	{schema.Stage1, "The septum was later excised.", "stage1.septectomy=excised"},
	{schema.Stage1, "During the arrest the septum was excised.", "stage1.septectomy=excised"},
	{schema.Stage2, "The azygos was ligated before we rewarmed.", "stage2.azygos=ligated"},
	{schema.Stage2, "The azygos was then ligated.", "stage2.azygos=ligated"},
	{schema.Stage1, "Before the revision the saturation was sixty.", "!leaving.saturation=60"},
	{schema.Stage2, "The azygos, which was large, was ligated.", "stage2.azygos=ligated"},
	{schema.Stage2, "The old left BT shunt, a three and a half from her first operation elsewhere, was clipped and divided.", "stage2.oldSupply=clipped-and-divided\n!stage2.oldSupply=left-open"},
	{schema.Stage2, "The shunt, which we had clipped last week, was divided.", "!stage2.oldSupply=clipped"},
	{schema.Stage2, "The Sano, put in in March, was taken out.", "stage2.oldSupply=taken-out"},
	{schema.Stage2, "The left BT shunt was clipped and divided.", "stage2.oldSupply=clipped-and-divided\n!stage2.oldSupply=left-open\n!stage2.additionalFlow=shunt-banded"},
	{schema.Stage2, "The confluence and the left branch were both small, so they were patched with bovine pericardium.", "stage2.enlargement=central\nstage2.enlargement=left"},
	{schema.Stage2, "The left PA was pinched under the band so that got bovine pericardium.", "stage2.enlargement=left"},
	{schema.Stage2, "The left PA was fine. The arch was narrow, so it was patched with homograft.", "!stage2.enlargement=left"},
	{schema.Stage2, "The right PA is good, the arch was small so it was patched.", "!stage2.enlargement=right"},
	{schema.Stage1, "We cannulated through a three and a half Gore-Tex tube on the innominate. The tube was then brought down to the right pulmonary artery as his shunt.", "support.inflowGraftFate=became-shunt\nsupply.kind=modified-blalock-taussig-thomas\nsupply.shuntDiameter=3.5\nsupply.material=eptfe\nsupply.to=right-pulmonary-artery\nsupply.from=innominate-artery"},
	{schema.Stage1, "We cannulated through a four millimetre graft on the innominate. The graft was clipped and left as a stump. Sano, five ringed.", "!supply.shuntDiameter=4\n!supply.from=innominate-artery"},
	{schema.Stage1, "Cannulated the innominate through a Gore-Tex tube of three and a half.", "support.inflowGraft=3.5"},
	{schema.ShuntRevision, "So out with the old three and a half and a new one in, four millimetre Gore-Tex.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.ShuntRevision, "The old one was three point five, the new is four.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.ShuntRevision, "BT shunt of four, blocked. We took the shunt down. It's now a three and a half, same route.", "supply.shuntDiameter=3.5\n!supply.shuntDiameter=4"},
	{schema.ShuntRevision, "Four, up from three and a half, Gore-Tex.", "supply.shuntDiameter=4\n!supply.shuntDiameter=3.5"},
	{schema.Stage1, "The coarctation and every bit of ductal tissue came out.", "stage1.coarctation=excised\nstage1.ductalTissue=excised"},
	{schema.Stage1, "I cut out the shelf and all the ductal tissue.", "stage1.coarctation=excised\nstage1.ductalTissue=excised"},
	{schema.Stage1, "Coarct shelf out.", "stage1.coarctation=excised"},
	{schema.Stage1, "Shelf excised, some ductal tissue was left.", "stage1.coarctation=excised\n!stage1.ductalTissue=excised"},
	{schema.Stage1, "PGE 0.02 running into OR, stopped on CPB.", "before.prostaglandin=running-to-theatre\nbefore.prostaglandinDose=0.02\n!infusions.running"},
	{schema.Stage1, "Prostaglandin off 10:50, was on point oh one.", "before.prostaglandinStopped=10:50\nbefore.prostaglandinDose=0.01"},
	{schema.Stage1, "Hybrid stage one. The prosta glandin was stopped at eleven twenty.", "before.prostaglandinStopped=11:20\nhybrid.prostaglandinAfter=stopped"},
	{schema.Stage3, "Fontan seventeen coming off; once the left chest was drained it was twelve.", "stage3.conduitPressure=12\n!leaving.drainLoss"},
	{schema.Stage3, "Fontan 15, LA 7, TPG 8 (Glenn at cath was 11).", "stage3.atrialPressure=7\n!catheter.atrialPressure=7"},
	{schema.ShuntRevision, "Lactate now 3.5.", "!supply.shuntDiameter=3.5"},
}

func TestDeedsInTime(t *testing.T) { holds(t, deedsInTime) }
