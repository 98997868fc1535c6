package dictation

import (
	"testing"

	"fairlead/schema"
)

// The operations that went before, with where they were done; what the child is called
// by. Written as families are.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestEarlierOperations(t *testing.T) {
	holds(t, []family{
		{schema.Stage3, "HLHS s/p Norwood (6 mm Sano, elsewhere) + R BDG here 2023.", "before.operations operation=stage-1\nbefore.operations operation=stage-2\nbefore.stageOne=done-elsewhere\nbefore.stageTwo=recorded-here"},
		{schema.Stage3, "S1 Norwood + BTT 3.5, S2 R BDG, both here.", "before.operations operation=stage-2\nbefore.stageOne=recorded-here\nbefore.stageTwo=recorded-here"},
		{schema.Stage3, "There had been two operations before this one, a Norwood in her first week and a bidirectional Glenn at five months.", "before.operations operation=stage-1\nbefore.operations operation=stage-2"},
		{schema.Stage3, "he had a pa band then a glenn he never had a norwood", "before.operations operation=pulmonary-artery-band\nbefore.operations operation=stage-2\nbefore.stageOne=not-needed\n!before.operations operation=stage-1"},
		{schema.Stage2, "no stage one he had a pee a band only at the county hospital", "before.operations operation=pulmonary-artery-band\nbefore.stageOne=not-needed"},
		{schema.Stage2, "The first operation, a Norwood, was made in another city, five months ago.", "before.operations operation=stage-1\nbefore.stageOne=done-elsewhere"},
		{schema.Stage2, "The first stage was performed at another institution.", "before.stageOne=done-elsewhere"},
		{schema.Stage2, "As a newborn he has received in another hospital a Blalock shunt of three and a half.", "before.operations operation=shunt-alone"},
		{schema.Stage2, "Comprehensive stage two for the boy who had a hybrid in January.", "before.operations operation=hybrid-stage-1"},
		{schema.Stage3, "Her hemi-Fontan here two years ago set her up for a lateral tunnel.", "before.operations operation=stage-2\nbefore.stageTwo=recorded-here"},
		{schema.Reexploration, "Back to theatre, day nine of a Fontan.", "before.operations operation=stage-3"},
		{schema.Reexploration, "Three kilo girl, six hours out from her Norwood.", "before.operations operation=stage-1\nchild.sex=female"},
		{schema.Closure, "DSC, POD 4 Norwood/Sano, theatre.", "before.operations operation=stage-1"},
		{schema.SupportOn, "baby three point zero kilos stage one with a sano six days before", "before.operations operation=stage-1"},
		{schema.SupportOff, "Reason on, fail to wean post BDG.", "before.operations operation=stage-2"},
		{schema.Takedown, "This is a takedown of the Glenn I did on Thursday.", "before.operations operation=stage-2"},
		// named, and not what went before
		{schema.Stage3, "The Glenn pressure was fourteen at the end.", "!before.operations operation=stage-2"},
		{schema.Takedown, "I believe another Glenn may be possible at six months.", "!before.operations operation=stage-2"},
		{schema.Stage2, "We did the Glenn here today.", "!before.operations operation=stage-2"},
		{schema.Stage2, "The temporary shunt ran for twenty minutes, he had a shunt to the atrium.", "!before.operations operation=shunt-alone"},
		{schema.ShuntRevision, "Shunt revision, three days ago he was fine.", "!before.operations operation=shunt-revision"},
		{schema.Stage2, "We had a Norwood last week in another child.", "!before.operations operation=stage-1"},
		// the sex, by a letter or by how the child is spoken of
		{schema.Stage1, "8 do M, 3.4 kg, HLHS.", "child.sex=male"},
		{schema.Stage3, "Fontan conversion, 61 kg F, TA.", "child.sex=female"},
		{schema.Stage1, "Hybrid S1, hybrid room. M, 2.35 kg, GA 36+2.", "child.sex=male"},
		{schema.Stage3, "F 13 / atr 5 / TPG 8.", "!child.sex=female"},
		{schema.Stage1, "The shunt is a four, he says, central.", "!child.sex=male"},
		{schema.Stage2, "She weighs seven kilos, no, that was the girl in bed four.", "!child.sex=male"},
	})
}

// How the chest was entered: which time, what was hurt and what it cost, what was ready
// before the saw.
func TestEntry(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "On the way in the innominate vein tore, we lost perhaps thirty millilitres.", "approach.entry=injury\napproach.injuries structure=innominate-vein loss=30"},
		{schema.Stage2, "With the oscillating saw the innominate vein was opened nevertheless; thirty-five millilitres were lost and one stitch has controlled it.", "approach.injuries structure=innominate-vein loss=35\n!work.estimatedLoss=35"},
		{schema.Stage3, "We got into the right atrium with the saw and lost about eighty.", "approach.entry=injury\napproach.injuries structure=right-atrium loss=80"},
		{schema.Stage3, "I nicked the conduit. It cost fifty mils.", "approach.injuries structure=conduit\napproach.entry=injury"},
		{schema.Stage2, "The reopening was quiet.", "approach.entry=uneventful"},
		{schema.Stage2, "The right atrium was opened for the septectomy.", "!approach.entry=injury"},
		{schema.Stage3, "The saw went through and on bypass the right atrium was opened.", "!approach.entry=injury"},
		{schema.Stage2, "We exposed the right groin before the saw, but we have cannulated nothing there.", "approach.vesselsExposed=right-groin\napproach.vesselsCannulated=none\n!approach.vesselsCannulated=right-groin"},
		{schema.Stage3, "The right femoral artery and vein were cannulated and bypass was running from the groin before I took up the saw.", "approach.vesselsCannulated=right-groin\napproach.bypassBeforeEntry=groin"},
		{schema.Stage3, "we went on through the right groin before the saw cut", "approach.vesselsCannulated=right-groin\napproach.bypassBeforeEntry=groin"},
		{schema.Stage3, "R groin + R axilla exposed pre-saw, R groin cannulated, CPB on standby.", "approach.vesselsExposed=right-groin\napproach.vesselsExposed=right-axilla\napproach.vesselsCannulated=right-groin"},
		{schema.Stage2, "We did not need to put him on bypass before the saw.", "approach.bypassBeforeEntry=none\n!support.mode=off-pump"},
		{schema.Stage2, "We went on bypass before dividing the shunt, the right groin line stays.", "!approach.bypassBeforeEntry=groin\n!approach.vesselsCannulated=right-groin"},
		{schema.Stage3, "3rd stern, osc saw, CT ao 4 mm behind bone.", "approach.sternotomyNumber=3\napproach.nearestStructure=aorta\napproach.imagingDistance=4\napproach.imagingMethod=ct"},
		{schema.Takedown, "Redo sternotomy #3, entry clean.", "approach.sternotomyNumber=3\napproach.incision=reopened-sternotomy\n!approach.sternotomyNumber=2"},
		{schema.Stage2, "Second time in. No trouble at the saw.", "approach.sternotomyNumber=2"},
		{schema.Stage3, "the number of sternotomies with today is three", "approach.sternotomyNumber=3"},
		{schema.Takedown, "We reopened the sternum, her third time through it, without trouble.", "approach.sternotomyNumber=3\napproach.entry=uneventful"},
		{schema.Stage1, "We went in through a first time sternotomy.", "approach.incision=median-sternotomy\napproach.sternotomyNumber=1"},
		{schema.Stage2, "We went back on bypass for the second time in theatre.", "!approach.sternotomyNumber=2"},
		{schema.Reexploration, "I saw the phrenic nerve on the right.", "approach.rightPhrenic=seen\n!approach.leftPhrenic=seen"},
		{schema.Stage2, "The right pleura was in view and never opened.", "approach.rightPleura=not-opened\n!approach.rightPleura=opened"},
		{schema.Stage3, "Collaterals, we saw none. The duct I never clearly saw.", "!approach.saw=none"},
		{schema.SupportOff, "Shunt open, thrill felt, echo agrees. MRI tmw.", "!approach.imagingMethod=echo\n!approach.imagingMethod=mr"},
	})
}

// Which time the chest was opened and how that went, in short and long ways.
func TestEntryTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Second sternotomy, no drama.", "approach.sternotomyNumber=2\napproach.entry=uneventful"},
		{schema.Stage3, "third sternum entry, oscillating saw", "approach.sternotomyNumber=3\napproach.saw=oscillating"},
		{schema.Stage3, "redo sternum third time in no injury on entry", "approach.sternotomyNumber=3\napproach.entry=uneventful"},
		{schema.Stage3, "In clean. Third time.", "approach.sternotomyNumber=3\napproach.entry=uneventful"},
		{schema.Stage2, "Redo (2nd) sternotomy, entry ok.", "approach.sternotomyNumber=2\napproach.incision=reopened-sternotomy\n!approach.incision=median-sternotomy"},
		{schema.Stage2, "Redo x1, entry clean.", "approach.entry=uneventful\n!approach.sternotomyNumber=1"},
		{schema.Stage3, "Redo x3 (3rd sternotomy), osc saw.", "approach.sternotomyNumber=3"},
		{schema.Stage3, "We opened for the third time, and nothing bled.", "approach.sternotomyNumber=3\napproach.entry=uneventful"},
		{schema.Stage3, "We went on bypass for the third time.", "!approach.sternotomyNumber=3"},
		{schema.Stage3, "Resternotomy (third), innominate vein nicked on the way in, 60 mL lost.", "approach.sternotomyNumber=3\napproach.incision=reopened-sternotomy\napproach.injuries structure=innominate-vein loss=60"},
		{schema.Takedown, "I went in through the old wound.", "approach.incision=reopened-sternotomy"},
		{schema.Stage3, "I did not open either pleura.", "approach.leftPleura=not-opened\napproach.rightPleura=not-opened"},
		{schema.Stage2, "Two atrial wires, no drama with them.", "pacing-wires variety=atrial count=2"},
	})
}
