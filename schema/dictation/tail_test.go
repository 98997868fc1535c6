package dictation

import (
	"testing"

	"fairlead/schema"
)

// What is rarely said of the operation itself, in the words of many: from memory,
// common practice, no source. "!" marks what must not be read.
func TestRarelySaidOfTheOperation(t *testing.T) {
	holds(t, []family{
		// where and how soon
		{schema.Reexploration, "This was an emergency reopening.", "operation.urgency=emergency"},
		{schema.Stage1, "Urgent list, duct dependent.", "operation.urgency=urgent"},
		// why, and what was found
		{schema.Reexploration, "Sternal wound infection, here for washout.", "between.reason=infection"},
		{schema.SupportOn, "Down time thirty two minutes.", "between.cprMinutes=32"},
		{schema.ShuntRevision, "Opened the shunt, pulled out fresh clot and closed it again.", "between.shuntDone=clot-removed"},
		{schema.ShuntRevision, "Converted from BT to Sano.", "between.shuntDone=converted"},
		{schema.ShuntRevision, "The distal end was narrowed to about two millimetres.", "between.shuntFound=narrowed"},
		{schema.ShuntRevision, "Shunt was not looked at.", "between.shuntFound=not-seen"},
		{schema.Reexploration, "We did not see the shunt.", "between.shuntFound=not-seen\n!between.shuntFound=open"},
		{schema.Reexploration, "Found a sternal bleeder.", "between.source=sternum"},
		{schema.Reexploration, "Bleeding around the left atrial line.", "between.source=line-site"},
		{schema.Reexploration, "Large clot behind the right atrium, evacuated.", "between.source=clot"},
		{schema.Reexploration, "Washout with saline and vancomycin.", "between.washOut=antibiotic\n!between.washOut=saline"},
		{schema.Closure, "Mediastinal swab taken.", "between.cultures=swab"},
		{schema.Closure, "Membrane off, swabbed.", "between.cultures=swab"},
		{schema.Reexploration, "We repacked with two swabs.", "counts.packsPut=2"},
		// how the chest was left
		{schema.Reexploration, "Skin was closed over the open bone.", "closing.sternum=open\nclosing.covering=skin-only"},
		{schema.Stage1, "We did not attempt to close.", "closing.sternum=open\n!closing.sternum=closed"},
		{schema.Closure, "We used four figure of eight wires.", "closing.sternalSutures=4\nclosing.sternalMaterial=steel-wire\n!closing.sternalSutures=8"},
		{schema.Closure, "The chest came together without any change in haemodynamics.", "closing.sternum=closed\nclosing.tolerated=yes"},
		{schema.Closure, "No haemodynamic change with closing.", "closing.tolerated=yes"},
		{schema.Closure, "Tolerated with a small increase in adrenaline.", "closing.tolerated=with-support\n!closing.tolerated=yes"},
		// the branches and the veins
		{schema.Stage2, "Both branch PAs were patched out to the hilum with homograft.", "stage2.enlargement=right\nstage2.enlargement=left"},
		{schema.Stage2, "Branches good, not touched.", "stage2.enlargement=none"},
		{schema.Stage2, "PAs needed nothing.", "stage2.enlargement=none"},
		{schema.Stage3, "Did not need to do anything to the branch PAs.", "stage3.enlargement=none"},
		{schema.Stage2, "SVC to RPA, end to side.", "stage2.connection=glenn-right\nstage2.rightCavalVein=connected"},
		{schema.Stage2, "Both SVCs hooked up.", "stage2.rightCavalVein=connected\nstage2.leftCavalVein=connected"},
		{schema.Stage2, "Left SVC small, tied off.", "stage2.leftCavalVein=tied\n!stage2.leftCavalVein=connected"},
		{schema.Stage2, "Collaterals not seen.", "stage2.collaterals=none"},
		{schema.Stage3, "Unfenestrated extracardiac Fontan.", "stage3.fenestration=none"},
		{schema.Stage2, "Systemic RV.", "anatomy.dominantVentricle=right"},
		{schema.Stage3, "Hepatic veins come in separately on the left.", "veins.hepaticVeins=separate-one-side"},
		{schema.Stage1, "Hypoplastic arch with a discrete coarctation.", "anatomy.archForm=hypoplastic-with-coarctation"},
		// the first stage
		{schema.Stage1, "RMBTS 3.5 Gore-Tex, IA to RPA.", "supply.from=innominate-artery"},
		{schema.Stage1, "Homograft used for the arch.", "stage1.archPatch=pulmonary-homograft"},
		{schema.Stage1, "Tricuspid valve repair with a Kay annuloplasty.", "stage1.valveRepair=annuloplasty"},
		{schema.Stage1, "Septum ballooned, gradient two.", "hybrid.septumGradient=2\n!stage1.archGradient=2"},
		{schema.Stage1, "ASD open, mean grad 2, leave.", "hybrid.septumGradient=2"},
		{schema.Stage1, "No obstruction to retrograde flow round the arch.", "hybrid.retrogradeArch=unobstructed\n!hybrid.retrogradeArch=narrowed"},
		{schema.Stage1, "Prostin off after stenting.", "hybrid.prostaglandinAfter=stopped"},
		{schema.Stage1, "We carry on with prostaglandin.", "hybrid.prostaglandinAfter=continues"},
		{schema.Stage1, "Intact septum, needed an emergency septostomy.", "!operation.urgency=emergency"},
		// the way in
		{schema.Stage3, "Nobody hit anything.", "approach.entry=uneventful"},
		{schema.Stage3, "Got in without harm.", "approach.entry=uneventful"},
		{schema.Stage2, "Median sternotomy through the old scar.", "approach.incision=reopened-sternotomy"},
		{schema.Stage2, "Adhesions were surprisingly mild.", "approach.adhesions=filmy"},
		{schema.Stage3, "The groin was prepped and on standby.", "approach.bypassBeforeEntry=standby"},
		{schema.SupportOn, "Holding anticoagulation for now because of bleeding.", "mechanical.anticoagulant=none"},
		// and more of each
		{schema.Stage1, "I resected the isthmus.", "stage1.coarctation=excised"},
		{schema.Stage1, "Most of the coarctation tissue was removed.", "stage1.coarctation=partly-excised\n!stage1.coarctation=excised"},
		{schema.Stage1, "RMBTS 3.5 Gore-Tex.", "supply.side=right"},
		{schema.Stage1, "Left modified BT shunt, four.", "supply.side=left"},
		{schema.Stage2, "The Glenn is the only source of flow.", "stage2.additionalFlow=none"},
		{schema.Stage2, "Pulsatile flow was preserved with the band in place.", "stage2.additionalFlow=antegrade-banded"},
		{schema.Stage2, "Neither branch needed enlarging.", "stage2.enlargement=none"},
		{schema.Stage2, "Unbalanced AV canal to the right.", "anatomy.dominantVentricle=right"},
		{schema.Stage3, "We did not leave any permanent pacing leads.", "stage3.leads=none"},
		{schema.Stage3, "The saw caught the innominate vein.", "approach.entry=injury\n!approach.entry=uneventful"},
		{schema.ShuntRevision, "Sats before 57, after 83.", "between.saturationBeforeWork=57\nbetween.saturationAfterWork=83"},
		{schema.ShuntRevision, "Leaving with the shunt widely open.", "supply.state=open"},
		{schema.Closure, "Three packs out, three were expected.", "removals.packsExpected=3\nremovals.packsRetrieved=3"},
		{schema.Closure, "Two packs came out, which is what we expected.", "removals.packsExpected=2\nremovals.packsRetrieved=2"},
		{schema.Closure, "Closure was fine but needed a bit more volume.", "!closing.tolerated=no"},
		{schema.Takedown, "No decision has been made about what comes next.", "between.nextStage=not-decided"},
	})
}
