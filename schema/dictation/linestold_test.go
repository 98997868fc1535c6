package dictation

import (
	"testing"

	"fairlead/schema"
)

// Lines and the vessels they lie in: which were tried for in vain, which vessels were only
// looked at, what is told by side and size alone, and what is a cannula of the circuit.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestLinesTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Failed L rad, L fem art. R rad 22G.", "!arterial-line side=left\narterial-line variety=radial side=right gauge=22"},
		{schema.Stage2, "Failed right IJ x2, left femoral vein 5 Fr.", "!central-venous-line side=right\ncentral-venous-line variety=femoral side=left size=5"},
		{schema.Stage2, "attempted left radial and left femoral, right brachial 24 gauge.", "!arterial-line side=left\narterial-line variety=brachial side=right gauge=24"},
		{schema.Stage2, "Right internal jugular, nothing, we left that side alone.", "none central-venous-line variety=jugular side=right"},
		{schema.Stage3, "Vessels: R fem v blocked, L fem v ok, RIJ ok.", "!central-venous-line"},
		{schema.Stage1, "No femoral lines, both groins are untouched.", "none central-venous-line variety=femoral\n!central-venous-line side=right"},
		{schema.SupportOff, "She has her left internal jugular and her right femoral arterial; the umbilical artery line went on Thursday.", "central-venous-line variety=jugular side=left\narterial-line variety=femoral side=right\n!arterial-line variety=umbilical-arterial"},
		{schema.Stage2, "central line in the right jugular four french single lumen arterial line left femoral", "central-venous-line variety=jugular side=right size=4 lumenCount=1\narterial-line variety=femoral side=left"},
		{schema.Stage3, "left femoral venous four french art line right radial twenty two gauge", "central-venous-line variety=femoral side=left size=4\narterial-line variety=radial side=right gauge=22"},
		{schema.Stage3, "Jugular right, 5.5, three lumens.", "central-venous-line variety=jugular side=right size=5.5 lumenCount=3"},
		{schema.Stage2, "Left radial 24. Right foot 24.", "peripheral-cannula variety=foot side=right gauge=24"},
		{schema.SupportOn, "R carotid 8F art, RIJ 12F ven.", "support-cannula variety=arterial side=right size=8\nsupport-cannula variety=venous side=right size=12\n!central-venous-line"},
		{schema.SupportOn, "right carotid twelve French, in at six centimetres; right internal jugular, seventeen French, ten and a half centimetres.", "support-cannula variety=arterial side=right size=12 depth=6\nsupport-cannula variety=venous side=right size=17 depth=10.5"},
		{schema.SupportOn, "right carotid ten french arterial and right i j fourteen french venous", "support-cannula variety=arterial side=right size=10\nsupport-cannula variety=venous side=right size=14"},
		{schema.SupportOn, "through the right neck the carotid is an eight french the jugular is a ten french at seven", "support-cannula variety=arterial side=right size=8\nsupport-cannula variety=venous side=right size=10 depth=7"},
		{schema.SupportOn, "Arterial 10 French in the right carotid, venous 12 French in the right internal jugular.", "support-cannula variety=arterial side=right size=10\nsupport-cannula variety=venous side=right size=12"},
		{schema.SupportOn, "RIJ 5Fr TL, left internal jugular line 5 French.", "central-venous-line variety=jugular side=right size=5\ncentral-venous-line variety=jugular side=left size=5"},
	})
}

// How the chest was left and how it took the closing, what was left in it, and how the
// counts came out. From memory, no source.
func TestChestTold(t *testing.T) {
	holds(t, []family{
		{schema.Closure, "Not tolerated. He is open again.", "closing.tolerated=no\nclosing.sternum=open"},
		{schema.Closure, "She stays open.", "closing.sternum=open"},
		{schema.Takedown, "Skin closed, bone not.", "closing.sternum=open\nclosing.covering=skin-only"},
		{schema.Takedown, "Bone open, skin shut over it.", "closing.sternum=open\nclosing.covering=skin-only"},
		{schema.Closure, "Tolerated w/ iNO 20 (new) and epi up to .06 from .02.", "closing.tolerated=with-support"},
		{schema.Closure, "Tolerated but dop up 5 to 7.", "closing.tolerated=with-support"},
		{schema.Closure, "She tolerated it with a bit more adrenaline.", "closing.tolerated=with-support"},
		{schema.Closure, "He tolerated closure once we had gone up on the nitric.", "closing.tolerated=with-support"},
		{schema.Closure, "Tolerated without more adrenaline.", "closing.tolerated=yes"},
		{schema.Closure, "Not tolerated even with more adrenaline.", "closing.tolerated=no"},
		{schema.Closure, "Tried, failed.", "!between.reason=failed-connection"},
		{schema.Closure, "Wires in, six. Closed at 14:10. Wires out. Sternum open again 14:16.", "closing.sternum=open\n!closing.sternalSutures"},
		{schema.Closure, "Stays shut. PDS x4.", "closing.sternum=closed\nclosing.sternalMaterial=absorbable\nclosing.sternalSutures=4"},
		{schema.Reexploration, "Thoracic duct ligated at the diaphragm, ethibond x3.", "!closing.sternalSutures"},
		{schema.Closure, "One swab sent to the lab and a bit of the membrane.", "between.cultures=swab\nbetween.cultures=membrane\n!left-on-purpose"},
		{schema.Stage1, "Sternum's shut, I changed my mind about the membrane.", "closing.sternum=closed\n!left-on-purpose"},
		{schema.Stage1, "Open, under a silicone membrane, with two small swabs in there that must come out.", "left-on-purpose variety=swabs count=2"},
		{schema.Stage1, "One large pack behind the membrane.", "left-on-purpose variety=packs count=1"},
		{schema.Closure, "A vac on top of it, and one fresh pack behind the membrane.", "left-on-purpose variety=packs count=1"},
		{schema.ShuntRevision, "Chest already open (membrane off, 1 pack out, was 1 in).", "removals.packsRetrieved=1\ncounts.packsIn=1\n!counts.packsPut"},
		{schema.Stage1, "chest left open under a patch of silicone no packs", "left-on-purpose variety=membrane material=silicone\n!stage1.archPatch"},
		{schema.Stage1, "Needle short by one, X-ray taken, nothing on it.", "counts.needles=incorrect\ncounts.countXray=nothing-seen"},
	})
}

// What was found at an operation between the stages and what was left as it was.
// From memory, no source.
func TestLeftAsItWas(t *testing.T) {
	holds(t, []family{
		{schema.Takedown, "Nobody had to compress her chest.", "between.cprMinutes=none"},
		{schema.Takedown, "Diaphragms: both move, not plicated.", "!between.plication=both"},
		{schema.Reexploration, "The conduit was soft. I put a clip on it and took it straight off again.", "!between.shuntDone=clipped"},
		{schema.Reexploration, "the shunt was open good thrill i did not touch it", "between.shuntFound=open\nbetween.shuntDone=none"},
		{schema.SupportOn, "Shunt: no flow seen, nothing done.", "between.shuntDone=none"},
		{schema.Reexploration, "The aortic suture line I went over twice and it was dry.", "!between.source=suture-line"},
		{schema.Closure, "stuck down on the aorta by the suture line", "!between.source=suture-line"},
		{schema.Closure, "W/O abx saline.", "between.washOut=antibiotic"},
		{schema.Reexploration, "Pleural fluid and a strip of pleura have gone for culture.", "between.cultures=fluid\nbetween.cultures=tissue"},
		{schema.SupportOn, "sweep 1.2 litres, blender 0.5", "mechanical.sweepOxygen=0.5"},
	})
}
