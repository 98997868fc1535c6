package dictation

import (
	"testing"

	"fairlead/schema"
)

// Wires and drains that are denied by their place, with what looks like it and is no
// such denial. From memory, no source.
var notThereSaid = []family{
	{schema.Stage1, "I put two wires on the ventricle and did not put any on the atrium.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage1, "Mediastinal drain, twelve. Pleural drains, neither side.", "drain variety=mediastinal size=12\nnone drain variety=right-pleural\nnone drain variety=left-pleural"},
	{schema.Stage1, "No pleural drains; one mediastinal, fifteen.", "none drain variety=right-pleural\nnone drain variety=left-pleural\ndrain variety=mediastinal size=15"},
	{schema.Stage1, "No wires anywhere.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage1, "No wires on either chamber.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage1, "One mediastinal drain, a ten. Right pleural? No, didn't need one.", "drain variety=mediastinal size=10\nnone drain variety=right-pleural"},
	{schema.Stage1, "The right pleura was not opened. One mediastinal drain fifteen.", "drain variety=mediastinal size=15"},
	{schema.Stage1, "Two wires on the atrium. The ventricle has none.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage1, "Two wires on the ventricle, on the atrium I have put none.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage1, "Ventricular wires, two. None on the atrium.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage1, "We didn't leave any wires.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage1, "Wires: none.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage1, "one media steinal drain fifteen french we did not drain the right plural sats eighty one", "drain variety=mediastinal size=15\nnone drain variety=right-pleural\nleaving.saturation=81"},
	{schema.Stage1, "one mediastinal drain fifteen french we did not drain the right pleural", "drain variety=mediastinal size=15\nnone drain variety=right-pleural"},
	{schema.Stage1, "wires two atrial we did not put any on the ventricle drains one mediastinal fifteen", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular\ndrain variety=mediastinal size=15"},
	// a denial ends at the noun of another kind
	{schema.Stage2, "No pleural drains wires two and two.", "none drain variety=right-pleural\nnone drain variety=left-pleural\npacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2\n!none pacing-wires variety=atrial"},
	{schema.Stage2, "no drains wires two and two", "pacing-wires variety=atrial count=2\n!none pacing-wires variety=ventricular"},
	{schema.Stage2, "no packs wires two and two", "none left-on-purpose variety=packs\npacing-wires variety=ventricular count=2\n!none pacing-wires variety=atrial"},
	{schema.Stage2, "no ventricular wires drains mediastinal fifteen", "none pacing-wires variety=ventricular\ndrain variety=mediastinal size=15\n!none drain variety=mediastinal"},
	{schema.Stage2, "pacing wires two ventricular atrial none", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial\n!none pacing-wires variety=ventricular"},
	// a side that has none, and why
	{schema.Stage2, "Right pleural, sixteen. Mediastinal, twenty. Left pleura not opened, no drain.", "drain variety=right-pleural size=16\ndrain variety=mediastinal size=20\nnone drain variety=left-pleural"},
	{schema.Stage1, "Drains: mediastinal twelve French, left pleura untouched and no drain there.", "drain variety=mediastinal size=12\nnone drain variety=left-pleural"},
	{schema.Stage1, "Mediastinal drain 15. Right pleura intact, none.", "drain variety=mediastinal size=15\nnone drain variety=right-pleural"},
	{schema.Stage1, "Drains mediastinal and right pleural, both nineteens. Left side nothing, that pleura was never opened.", "drain variety=right-pleural size=19\nnone drain variety=left-pleural"},
	{schema.Closure, "drains a new twelve in left pleural right side nothing wires are two ventricular no atrial", "none drain variety=right-pleural\npacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage1, "Mediastinal drain 15. Left pleural: never had one.", "drain variety=mediastinal size=15\nnone drain variety=left-pleural\n!drain variety=left-pleural"},
	{schema.Stage1, "Drains: mediastinal fifteen, right pleural twelve. There never was a left one.", "none drain variety=left-pleural"},
	{schema.Reexploration, "Mediastinal drain nineteen. Right pleural's the same fifteen. Nothing left-sided, ever.", "none drain variety=left-pleural"},
	{schema.Stage3, "He has a nineteen drain in each chest and nothing in front.", "drain variety=right-pleural size=19\nnone drain variety=mediastinal"},
	{schema.Stage2, "Lungs clear, left side nothing found on ultrasound.", "!none drain variety=left-pleural"},
	{schema.Stage2, "Drains: one mediastinal. Nothing left.", "!none drain variety=left-pleural"},
	// chambers by their letters, and wires all told
	{schema.Stage1, "Wires A none, V x2.", "none pacing-wires variety=atrial\npacing-wires variety=ventricular count=2"},
	{schema.Stage3, "Temp A wires x2, no temp V.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage2, "No wires, A or V.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage2, "She has one mediastinal drain, sixteen, and no atrial wires but two ventricular.", "none pacing-wires variety=atrial\npacing-wires variety=ventricular count=2"},
	{schema.Stage2, "No wires needed. One ventricular wire for luck.", "pacing-wires variety=ventricular count=1\nnone pacing-wires variety=atrial\n!none pacing-wires variety=ventricular"},
	{schema.Stage2, "Atrial wires two. I meant to put ventricular ones in too but never did.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage2, "Drains: mediastinal, right pleural. Nineteens. Left: nil.", "drain variety=mediastinal size=19\ndrain variety=right-pleural size=19\nnone drain variety=left-pleural"},
	{schema.Stage2, "Drains: one left pleural twelve; I said I'd do the right and I didn't.", "drain variety=left-pleural size=12\nnone drain variety=right-pleural"},
	{schema.Stage2, "No pacing wires of either sort.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage2, "One mediastinal drain, sixteen, no pleural drains on the right or the left.", "drain variety=mediastinal size=16\nnone drain variety=right-pleural\nnone drain variety=left-pleural"},
	{schema.Stage2, "Right pleural fourteen. I was going to leave a left drain and didn't.", "none drain variety=left-pleural\ndrain variety=right-pleural size=14"},
	{schema.Stage2, "Two ventricular wires, and none for the atrium.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage2, "Two ventricular wires; I'd planned atrial ones as well and then didn't bother.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage3, "At the Glenn there was no left drain. Right pleural twenty.", "drain variety=right-pleural size=20"},
	{schema.Stage3, "Drains R pl 20, L pl nil, med 24.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural\ndrain variety=mediastinal size=24"},
	{schema.Stage3, "Drains R pl 20, no L pl, med 24.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural\ndrain variety=mediastinal size=24"},
	{schema.Stage3, "Drains: right 20, none on the left.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural"},
	{schema.Stage3, "Drains: right 20, the left side has none.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural"},
	{schema.Stage3, "Drains: right pleural, twenty. Left pleural, none. Mediastinal, twenty-four.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural\ndrain variety=mediastinal size=24"},
	{schema.Stage3, "If there is no drainage from the left, take it out. Left pleural drain twenty.", "drain variety=left-pleural size=20"},
	{schema.Stage3, "Just the one drain, right pleural, twenty. Didn't leave anything in the mediastinum.", "drain variety=right-pleural size=20\nnone drain variety=mediastinal"},
	{schema.Stage3, "Left pleural drain twenty, not on suction.", "drain variety=left-pleural size=20 drainage=gravity"},
	{schema.Stage3, "Left radial arterial, twenty gauge, none on the right.", "arterial-line variety=radial gauge=20 side=left"},
	{schema.Stage3, "Neither atrial nor ventricular wires.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage3, "Neither pleura has a drain. One mediastinal, fifteen.", "none drain variety=right-pleural\nnone drain variety=left-pleural\ndrain variety=mediastinal size=15"},
	{schema.Stage3, "Neither pleura was drained. One mediastinal, fifteen.", "none drain variety=right-pleural\nnone drain variety=left-pleural\ndrain variety=mediastinal size=15"},
	{schema.Stage3, "No left atrial line. Right atrial line in.", "none intracardiac-line variety=left-atrial\nintracardiac-line variety=right-atrial"},
	{schema.Stage3, "No temp wires.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage3, "No temporary wires, she has the permanent ones.", "none pacing-wires variety=atrial\nnone pacing-wires variety=ventricular"},
	{schema.Stage3, "One right pleural twenty and that's the only drain.", "drain variety=right-pleural size=20"},
	{schema.Stage3, "Pacing wires: a pair on the ventricle, nothing on the atrium.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Stage3, "Right pleural drain, a twenty. I didn't bother with the left.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural"},
	{schema.Stage3, "Right pleural drain, a twenty. Never put one in the left.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural"},
	{schema.Stage3, "Right pleural twenty. Left one? No.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural"},
	{schema.Stage3, "Two atrial wires, no wires on the ventricle.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage3, "Two atrial wires. We left none on the ventricle.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage3, "Two atrial, two ventricular wires, not connected.", "pacing-wires variety=atrial count=2 connection=insulated\npacing-wires variety=ventricular count=2 connection=insulated"},
	{schema.Stage3, "Two wires on the atrium but we didn't put any on the ventricle.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Stage3, "Wires on the atrium, two of them, and the ventricle was left without.", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
	{schema.Reexploration, "Drains: two mediastinal, fifteens. Explored, nothing in the right chest.", "drain variety=mediastinal size=15\ndrain variety=mediastinal size=15"},
	{schema.Reexploration, "Left chest tube, a sixteen. Nothing in the right chest.", "drain variety=left-pleural size=16\nnone drain variety=right-pleural"},
	{schema.ShuntRevision, "Wires 2V, 0 A.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.ShuntRevision, "Wires: V x2, no A.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
	{schema.Takedown, "drains mediastinal fifteen right pleural twelve no left two atrial two ventricular wires", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12\nnone drain variety=left-pleural\npacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
	{schema.Takedown, "drains one media steinal one left plural both twelves right plural drain we did not put in bleeding dry now", "drain variety=mediastinal size=12\ndrain variety=left-pleural size=12\nnone drain variety=right-pleural"},
	{schema.Takedown, "drains one mediastinal one left pleural both twelves right pleural drain we did not put in", "drain variety=mediastinal size=12\ndrain variety=left-pleural size=12\nnone drain variety=right-pleural"},
}

func TestNotThere(t *testing.T) { holds(t, notThereSaid) }

// Drains by their place in plain words, counted, sized together and changed. From
// memory, no source.
var drainsSaid = []family{
	{schema.Stage3, "Drains: twenty each side, twenty in the middle.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=20"},
	{schema.Stage3, "Drains are twenty four French in the middle, twenty four right chest and a twenty left chest.", "drain variety=mediastinal size=24\ndrain variety=right-pleural size=24\ndrain variety=left-pleural size=20"},
	{schema.Stage3, "Three Blakes, all nineteens: one in each pleura and one in front of the heart.", "drain variety=right-pleural size=19\ndrain variety=left-pleural size=19\ndrain variety=mediastinal size=19"},
	{schema.Stage2, "Blakes in both chests, twelve French each, no mediastinal tube.", "drain variety=right-pleural size=12\ndrain variety=left-pleural size=12\nnone drain variety=mediastinal"},
	{schema.Stage2, "Blake drains to both pleural spaces, sixteen French.", "drain variety=right-pleural size=16\ndrain variety=left-pleural size=16"},
	{schema.Stage3, "Pleural drains both sides, twenties, and one twenty-four in the mediastinum.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=24"},
	{schema.Reexploration, "One drain each side, both sixteen French, on water seal.", "drain variety=right-pleural size=16 drainage=water-seal\ndrain variety=left-pleural size=16 drainage=water-seal"},
	{schema.Stage3, "Drains, one either side, both twenty, and a twenty four in the middle.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=24"},
	{schema.Stage3, "Chest drains: one on each side, 20 French; one in the middle, 24 French.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=24"},
	{schema.Stage3, "Drains, three: right chest, left chest and mediastinum, all Blakes, nineteen.", "drain variety=right-pleural size=19\ndrain variety=left-pleural size=19\ndrain variety=mediastinal size=19"},
	{schema.Stage3, "Three twenty French drains, one in the middle and one each side.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=20"},
	{schema.Stage3, "Drains both sides, twenty.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20"},
	{schema.Stage3, "Pleural drains, a twenty each side.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20"},
	{schema.Stage3, "Pleural drains each side, twenty French, on suction of ten.", "drain variety=right-pleural size=20 drainage=suction suction=10\ndrain variety=left-pleural size=20 drainage=suction suction=10"},
	{schema.Stage3, "Three drains: right 20, left 20, mediastinal 24. All Blakes.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=24"},
	{schema.Reexploration, "the two mediastinals, both twelves, were flushed and left.", "drain variety=mediastinal size=12\ndrain variety=mediastinal size=12"},
	{schema.Reexploration, "New right pleural drain twelve French; the two mediastinals, both twelves, were flushed and left.", "drain variety=right-pleural size=12\ndrain variety=mediastinal size=12\ndrain variety=mediastinal size=12"},
	{schema.ShuntRevision, "two mediastinal drains fifteen and twelve", "drain variety=mediastinal size=15\ndrain variety=mediastinal size=12"},
	{schema.Stage1, "Two mediastinals, a fifteen and a twelve.", "drain variety=mediastinal size=15\ndrain variety=mediastinal size=12"},
	{schema.ShuntRevision, "Med drain 12Fr x2.", "drain variety=mediastinal size=12\ndrain variety=mediastinal size=12"},
	{schema.ShuntRevision, "Med drains 12Fr x2, R pl 10Fr.", "drain variety=mediastinal size=12\ndrain variety=mediastinal size=12\ndrain variety=right-pleural size=10"},
	{schema.Stage1, "mediastinal drains times two, fifteen French", "drain variety=mediastinal size=15\ndrain variety=mediastinal size=15"},
	{schema.Stage2, "Mediastinal drain and a left pleural, both sixteens, sorry, the pleural is a twelve.", "drain variety=mediastinal size=16\ndrain variety=left-pleural size=12"},
	{schema.Stage3, "One right pleural, two left pleural, one mediastinal, sixteen French every one.", "drain variety=right-pleural size=16\ndrain variety=left-pleural size=16\ndrain variety=left-pleural size=16\ndrain variety=mediastinal size=16"},
	{schema.Closure, "Mediastinal drain swapped, twelve out, fifteen in.", "drain variety=mediastinal size=15"},
	{schema.Closure, "Mediastinal drain changed from a twelve to a fifteen.", "drain variety=mediastinal size=15"},
	{schema.Closure, "Mediastinal drain upsized to an eighteen.", "drain variety=mediastinal size=18"},
	{schema.Reexploration, "drains both swapped for two mediastinal fifteens", "drain variety=mediastinal size=15\ndrain variety=mediastinal size=15"},
	{schema.Stage2, "Drains: a sixteen in the mediastinum and a twelve in the right pleura.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12"},
	{schema.Stage2, "Drains: mediastinal and right pleural, sixteen and twelve.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12"},
	{schema.Stage2, "Drains: mediastinal and right pleural, sixteen and twelve respectively.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12"},
	{schema.Stage2, "Mediastinal's a sixteen, right pleural's a twelve.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12"},
	{schema.Stage2, "Chest tubes: med 16, R 12.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12"},
	{schema.Stage2, "A sixteen mediastinal and a twelve right pleural.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=12"},
	{schema.Stage2, "Drains, all sixteens, are in the mediastinum and both pleurae.", "drain variety=mediastinal size=16\ndrain variety=right-pleural size=16\ndrain variety=left-pleural size=16"},
}

func TestDrainsSaid(t *testing.T) { holds(t, drainsSaid) }

// Tubes named by their way and their cuff, with what is said of the view, and the other
// lines, probes and packs. From memory, no source.
var tubesSaid = []family{
	{schema.Stage1, "Tube: nasal, three and a half, cuffed, eleven at the right nostril, grade one with the video scope, first go.", "airway variety=nasal-tube size=3.5 cuffed=cuffed depth=11 depthAt=nostril nostril=right view=1 device=video attempts=1"},
	{schema.Stage3, "Oral tube, five, cuffed, fifteen at the lips. Grade 2a, ordinary blade, one attempt.", "airway variety=oral-tube size=5 cuffed=cuffed depth=15 depthAt=lip view=2a device=direct attempts=1"},
	{schema.Stage1, "Airway: oral tube, three point five, cuffed, nine and a half at the lip, two-a view with the video scope, second attempt.", "airway variety=oral-tube size=3.5 cuffed=cuffed depth=9.5 depthAt=lip view=2a device=video attempts=2"},
	{schema.Stage1, "Ventilated on a three oh uncuffed, by mouth.", "airway variety=oral-tube size=3 cuffed=uncuffed\nventilation.breathing=ventilated"},
	{schema.Stage1, "Airway is a four, no, four and a half, oral, cuffed, twelve at the lip.", "airway variety=oral-tube size=4.5 cuffed=cuffed depth=12 depthAt=lip"},
	{schema.Stage1, "Airway: nasal, three and a half cuffed, left nostril, eleven centimetres, videolaryngoscope, grade two a, second attempt.", "airway variety=nasal-tube size=3.5 cuffed=cuffed depth=11 depthAt=nostril nostril=left view=2a device=video attempts=2"},
	{schema.Stage2, "Airway: nasal tube, four, cuffed, fourteen at the right nostril, easy grade one.", "airway variety=nasal-tube size=4 cuffed=cuffed depth=14 depthAt=nostril nostril=right view=1"},
	{schema.Stage3, "Oral RAE five, cuffed, sixteen at the teeth, one attempt, grade one direct.", "airway variety=oral-tube size=5 cuffed=cuffed depth=16 depthAt=lip view=1 device=direct attempts=1"},
	{schema.Stage1, "tube is a three five uncuffed oral at nine and a half", "airway variety=oral-tube size=3.5 cuffed=uncuffed depth=9.5"},
	{schema.Stage1, "Intubated nasally with a three and a half cuffed tube, twelve centimetres at the left nostril.", "airway variety=nasal-tube size=3.5 cuffed=cuffed depth=12 depthAt=nostril nostril=left"},
	{schema.Stage1, "He came down with a three and a half oral tube; we changed it for a nasal three and a half, cuffed, twelve at the right nostril.", "airway variety=nasal-tube size=3.5 cuffed=cuffed depth=12 depthAt=nostril nostril=right"},
	{schema.Stage3, "Extubated in theatre, the five oral tube is out.", "!airway"},
	{schema.Stage3, "Five and a half cuffed oral, fifteen at the teeth... she's extubated so ignore that, it's out.", "!airway"},
	{schema.Stage1, "Nasotracheal tube size 3.5 with cuff, taped at 12 cm, right naris. View grade 1, McGrath, first attempt.", "airway variety=nasal-tube size=3.5 cuffed=cuffed depth=12 depthAt=nostril nostril=right view=1 device=video attempts=1 fixation=taped"},
	{schema.Stage1, "Laryngoscopy was grade two b with the Miller, took two goes. Oral tube three, uncuffed, nine at the gum.", "airway variety=oral-tube size=3 cuffed=uncuffed depth=9 depthAt=gum view=2b device=direct attempts=2"},
}

func TestTubesSaid(t *testing.T) { holds(t, tubesSaid) }
