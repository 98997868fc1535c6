package dictation

import (
	"strings"

	"fairlead/schema"
)

// kin are words of the trade that are said for one another: "@tied" in a frame
// of the definitions stands for all of them. They are how people talk of what is
// seen and done; which thing is meant, the frame says. Common practice, no source.
var kin = map[string]string{
	"alone":    "left alone|left untouched|untouched|not touched|never touched|not interfered|left be|left as it was|left as is|nothing done",
	"good":     "good|fine|ok|okay|well|normal|nice|nicely|excellent|satisfactory|happy|perfect|lovely|great|normally",
	"seen":     "view|seen|saw|safe|protected|preserved|identified|intact|spared|visualized|visible|looked after|found|respected",
	"unseen":   "not seen|never seen|not identified|not visualized|did not see|didnt see|could not see|couldnt see|not found|never saw|not looked for",
	"atRisk":   "at risk|in danger|stretched|bruised|may have been|might have been|close to|singed|worried about|diathermy near",
	"hurt":     "injured|divided|cut|damaged|hurt|transected",
	"cut":      "excised|resected|removed|trimmed|cut out|cut away|cut off|cut back|cleared|taken out|cut right out|taken away|taken off|took out|took away|trimmed off|trimmed away|came out|came away|shaved",
	"tied":     "tied|ligated|tied off|suture ligated|doubly ligated|oversewn|clipped|clipped off",
	"divided":  "divided|cut|transected|severed|chopped",
	"widened":  "plastied|plasty|patchplasty|augmented|augmentation|enlarged|enlargement|patched|patch|widened|opened up",
	"bigger":   "bigger|larger|wider|enlarged|widened|extended|enlarge|widen|extend|opened up",
	"opened":   "opened|open|entered|breached|went into|widely open|holed",
	"shut":     "closed|shut|intact|not opened|unopened|not entered|not breached|kept closed|stayed closed|stayed shut",
	"shunt":    "shunt|sano|conduit|b t|bt|btt|bts",
	"noFlow":   "blocked|occluded|thrombosed|clotted|no flow|full of clot|solid",
	"avValve":  "a v valve|av valve|avv|atrioventricular valve|tricuspid|mitral|t v|tv|common valve|cleft|valve",
	"rpa":      "rpa|right pa|right p a|right pulmonary artery|right branch|right branch pa",
	"lpa":      "lpa|left pa|left p a|left pulmonary artery|left branch|left branch pa",
	"pas":      "pa|pas|p a|pulmonary artery|pulmonary arteries|branch|branches|branch pas|branch arteries|lpa|rpa|confluence",
	"trunk":    "main pulmonary artery|main pa|mpa|pulmonary trunk|m p a|main p a",
	"duct":     "duct|pda|ductus|p d a",
	"coarct":   "coarctation|coarct|shelf|ridge",
	"ductal":   "ductal tissue|duct tissue|ductus tissue|ductal remnant",
	"septum":   "septum|atrial septum|interatrial septum|asd|atrial communication|atrial defect|septal defect|foramen|atrial hole",
	"rsvc":     "right svc|rsvc|right superior cava|right superior vena cava|right superior caval vein|right cava|right caval vein|r svc",
	"lsvc":     "left svc|lsvc|left superior cava|left superior vena cava|left superior caval vein|left cava|left caval vein|l svc|persistent left svc",
	"ivc":      "ivc|i v c|inferior cava|inferior vena cava|inferior caval vein|vena cava inferior",
	"chest":    "chest|sternum|breastbone|sternal edges|bone",
	"coronary": "coronaries|coronary|coronary flow|coronary filling|coronary perfusion|coronary arteries|coronary buttons",
	"phrenics": "both phrenics|both phrenic nerves|phrenics both",
	"no":       "no|not|without|never|nothing|none|nil|zero",
	"put":      "used|given|needed|required|done|placed|taken|sent|made|performed|necessary|asked for",
	"left":     "left|leave|leaving|kept|keep|remains|remain|stays|stay|stayed|still",
	"in":       "in|in place|in situ|there|throat|behind",
	"unit":     "icu|picu|cicu|nicu|pcicu|intensive care|bedside|itu|unit",
}

// withKin is part of a frame with the kin it names written out.
func withKin(part string) string {
	if strings.IndexByte(part, '@') < 0 {
		return part
	}
	words := strings.Split(part, "|")
	for i, w := range words {
		if name, ok := strings.CutPrefix(strings.TrimSpace(w), "@"); ok {
			words[i] = kin[name]
		}
	}
	return strings.Join(words, "|")
}

// valueKin are the other words for a value that many lists share: said beside its
// field's name, "resected" is excised of a septum and of a shelf alike.
var valueKin = map[string]string{
	"ligated":     "tied|tied off|ligature",
	"divided":     "cut|transected|severed",
	"excised":     "cut out|resected|removed|taken out|cut away|trimmed away",
	"clipped":     "clip on|clips on|with clips|with a clip|clips",
	"oversewn":    "sewn over|over sewn|oversewed|sewn up|sewn shut",
	"restrictive": "tight|restricted",
	"narrowed":    "narrow|tight|stenosed|stenotic",
	"blocked":     "occluded|thrombosed|clotted|clotted off",
	"repaired":    "repair",
	"left-open":   "left patent|left alone|kept open|left open",
	"opened":      "open|entered|breached",
	"not-opened":  "intact|closed|kept closed|not entered|unopened|shut",
	"seen":        "identified|visualized|in view|preserved|protected|safe",
	"injured":     "damaged|cut|hurt",
	"at-risk":     "at risk|stretched|bruised|in danger",
}

// shareValueKin tells whether a field's values are said with words that others share:
// a plain choice, not an attribute of a thing or a row.
func shareValueKin(f *schema.Field) bool {
	return f.Path.List() == "" && f.Path.Section() != "items"
}
