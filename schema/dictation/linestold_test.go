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
