package dictation

import (
	"testing"

	"fairlead/schema"
)

// Wires jotted down by their letters, what is said of both or of one chamber, and counts
// that are put right. From memory, no source.
func TestWiresOfEachChamber(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "A x2 V x2. Med drain x1 15F -10.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage3, "SR 96, no pacing. A x2 V x1. R rad 22g.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1"},
		{schema.Stage2, "Chest open 24 h, membrane. V x2, A x2.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage2, "V x2 only, no A.", "pacing-wires variety=ventricular count=2\nnone pacing-wires variety=atrial"},
		{schema.Stage2, "Grade 2 A view. Five volts.", "!pacing-wires variety=atrial"},
		{schema.Closure, "A-wires two, V-wires two, capped off, insulated.", "pacing-wires variety=atrial count=2 connection=insulated\npacing-wires variety=ventricular count=2 connection=insulated"},
		{schema.Closure, "Atrial wires two, ventricular two, insulated.", "pacing-wires variety=atrial count=2 connection=insulated\npacing-wires variety=ventricular count=2 connection=insulated"},
		{schema.Stage2, "PW A x2 V x1, tested.", "pacing-wires variety=atrial count=2 tested=yes\npacing-wires variety=ventricular count=1 tested=yes"},
		{schema.Stage3, "Wires: two and two, both pairs tested, atrials connected.", "pacing-wires variety=atrial count=2 tested=yes connection=connected\n!pacing-wires variety=ventricular connection=connected"},
		{schema.Stage3, "Wires, two atrial, two ventricular, the atrial ones tested.", "pacing-wires variety=atrial count=2 tested=yes\n!pacing-wires variety=ventricular tested=yes"},
		{schema.Stage3, "two and two for wires atrial ones taped ventricular ones on the box", "pacing-wires variety=atrial count=2 connection=taped\npacing-wires variety=ventricular count=2 connection=connected"},
		{schema.SupportOn, "Complete block, so we're pacing both chambers at one forty on two and two.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage1, "Two atrial and two ventricular pacing wires, brought out either side of the drain.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage1, "Right pleural drain twelve, brought out laterally.", "drain variety=right-pleural size=12"},
		{schema.Stage1, "pacing wires one atrial pair no ventricular", "pacing-wires variety=atrial count=2\nnone pacing-wires variety=ventricular"},
		{schema.Stage1, "a pair of wires to the atrium and another pair to the ventricle", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage3, "We pace through the wires. There is a pair on the atrium and a pair on the ventricle.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage3, "no pacing needed a wires too v wires too chest tubes right pleural nineteen", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage2, "no right one wires atrial times two ventricular times one sinus rhythm", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1"},
		{schema.Stage2, "two ventricle wires and two atrial the box standby at one ten", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage3, "DDD 80, underlying junct 50. 2 temp V wires.", "pacing-wires variety=ventricular count=2"},
		{schema.Stage1, "A wires 2, V wires 1, skin gnd 1.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\npacing-wires variety=skin-earth count=1"},
		{schema.SupportOn, "Packs 3. Med CT 15F x2. A 2, V 2.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.Stage2, "Pacing wires: atrial two, ventricular two, tested, atrial not captured.", "pacing-wires variety=atrial count=2 tested=yes\npacing-wires variety=ventricular count=2 tested=yes"},
		{schema.SupportOff, "Two ventricular wires, the atrial ones are dead and I cut them flush.", "pacing-wires variety=ventricular count=2\n!pacing-wires variety=atrial"},
		{schema.Stage2, "Wires two and two... no, I threw the atrials away, two ventricular only.", "pacing-wires variety=ventricular count=2\n!pacing-wires variety=atrial"},
		// counts put right
		{schema.Stage2, "Two atrial wires, two ventricular, one of those pulled out, so one ventricular.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Wires two atrial, and I said two ventricular, it's one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Atrial wires two, ventricular two. Scratch the ventricular, only one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Two and two for wires. No, the ventricular is just one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Atrial wires two, ventricular two. Correction, ventricular is one.", "pacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Wires, atrial two, ventricular one, scratch that, ventricular two.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2\n!pacing-wires variety=ventricular count=1"},
		{schema.Stage3, "Wires: atrial two, ventricular two, no, atrial one.", "pacing-wires variety=atrial count=1\npacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Drains: right pleural 12, mediastinal 15, no, mediastinal 16.", "drain variety=right-pleural size=12\ndrain variety=mediastinal size=16\n!drain variety=mediastinal size=15"},
		{schema.Stage2, "Two drains, right pleural and mediastinal, both twelve. Did I say twelve? Fifteens.", "drain variety=right-pleural size=15\ndrain variety=mediastinal size=15\n!drain variety=mediastinal size=12"},
		{schema.Stage2, "Clamp fifty two. Did I say fifty two? Sixty two.", "support.clampTotal=62"},
		// refused, and left as it was
		{schema.Reexploration, "PICC in the left arm: no, that one was refused by radiology, there is none.", "!central-venous-line variety=picc"},
		{schema.Closure, "Over it an adhesive drape; the vacuum dressing we discussed I prefer not.", "!left-on-purpose variety=negative-pressure-dressing"},
		{schema.Stage2, "The left pleural drain we talked about I decided against.", "!drain variety=left-pleural"},
		{schema.Stage2, "Left pleural drain twelve, I decided against a right one.", "drain variety=left-pleural size=12\n!drain variety=right-pleural"},
		{schema.Closure, "Tube: three-five nasal, not touched. Foley: six.", "airway variety=nasal-tube size=3.5\n!none airway variety=nasal-tube"},
		{schema.Closure, "The mediastinal drain was not touched.", "drain variety=mediastinal"},
		// the number of a line is no size
		{schema.Closure, "Three, airway, unchanged: nasal tube, four, uncuffed, right nostril, thirteen at the nostril.", "airway variety=nasal-tube size=4 depth=13\n!airway variety=nasal-tube size=3"},
		{schema.Stage3, "Six, nasal tube four, cuffed.", "airway variety=nasal-tube size=4"},
		{schema.Stage3, "Four, cuffed, oral tube, twelve at the lips.", "airway variety=oral-tube size=4 depth=12"},
		{schema.Stage2, "tube is oral four oh cuffed and shes saturating eighty one", "airway variety=oral-tube size=4"},
		{schema.Stage3, "Right pleural drain fifteen, left fifteen. No, make the left a twelve.", "drain variety=right-pleural size=15\ndrain variety=left-pleural size=12\n!drain variety=left-pleural size=15"},
		{schema.Stage3, "Mediastinal twenty, and I said right pleural twenty, it's a twenty four.", "drain variety=mediastinal size=20\ndrain variety=right-pleural size=24\n!drain variety=right-pleural size=20"},
	})
}

// Drains that are told to be as they were, on a bare suction, or misheard. From memory,
// no source.
func TestDrainsTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Right pleural and left pleural drains, fifteen French, on ten.", "drain variety=right-pleural size=15 suction=10\ndrain variety=left-pleural size=15 suction=10"},
		{schema.Stage3, "Drains: right pleural twenty, left pleural twenty. All on fifteen.", "drain variety=right-pleural size=20 suction=15\ndrain variety=left-pleural size=20 suction=15"},
		{schema.Closure, "med 15F + R pl 12F stay -10", "drain variety=mediastinal size=15 suction=10\ndrain variety=right-pleural size=12 suction=10"},
		{schema.Closure, "Mediastinal drain fifteen, right pleural twelve stays on ten.", "drain variety=right-pleural size=12 suction=10\n!drain variety=mediastinal suction=10"},
		{schema.Closure, "I pulled the right pleural drain; the mediastinal, a fifteen, stays on ten of suction.", "drain variety=mediastinal size=15 suction=10"},
		{schema.Reexploration, "Mediastinal drain swapped, 15 now. Right pleural untouched.", "drain variety=mediastinal size=15\ndrain variety=right-pleural"},
		{schema.Reexploration, "Mediastinal drain fifteen. Right pleural left alone.", "drain variety=mediastinal size=15\ndrain variety=right-pleural"},
		{schema.Stage3, "right plural drain and left plural drain the pair of them nineteens", "drain variety=right-pleural size=19\ndrain variety=left-pleural size=19"},
		{schema.Takedown, "drains left plural twenty right plural twenty medias tinal twenty four peri cardial nineteen", "drain variety=mediastinal size=24\ndrain variety=pericardial size=19"},
		{schema.Stage1, "Drains: medi 12, right pleural 10, left none.", "drain variety=mediastinal size=12\ndrain variety=right-pleural size=10\nnone drain variety=left-pleural"},
		{schema.SupportOn, "MCT 20 Fr stays.", "drain variety=mediastinal size=20"},
		{schema.Stage1, "He's closed, one twelve French in the mediastinum, no wires.", "drain variety=mediastinal size=12\nnone pacing-wires variety=atrial\n!none drain variety=mediastinal"},
		{schema.Stage1, "One drain mediastinal, no lines.", "drain variety=mediastinal"},
		{schema.Stage1, "Mediastinal twelve. Right pleural, no drain.", "none drain variety=right-pleural"},
		// a new one in the place of another, and drains from before
		{schema.Closure, "Old mediastinal drain out. New one, fifteen, suction fifteen. Right pleural twelve stays.", "drain variety=mediastinal size=15 suction=15\ndrain variety=right-pleural size=12"},
		{schema.Closure, "Old left pleural drain removed; new one, 12 French, suction 10.", "drain variety=left-pleural size=12 suction=10"},
		{schema.Closure, "Mediastinal drain changed, now a fifteen, ten of suction.", "drain variety=mediastinal size=15 suction=10"},
		{schema.Reexploration, "old fourteen french mediastinal was blocked so that is gone a sixteen in its place the left pleural ten french stays", "drain variety=mediastinal size=16\ndrain variety=left-pleural size=10\n!drain variety=mediastinal size=14"},
		{schema.Reexploration, "The two mediastinal drains were changed for new ones, both sixteen French.", "drain variety=mediastinal size=16"},
		{schema.Reexploration, "Drains from the first operation still in, mediastinal 15 and right pleural 12.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12"},
		{schema.Reexploration, "The two drains from last night remain, a mediastinal fifteen and a right pleural twelve.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12"},
		{schema.Reexploration, "Drains: both from before, mediastinal 15, right pleural 12.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12"},
		{schema.Reexploration, "The mediastinal drain from the first operation was removed.", "!drain variety=mediastinal"},
		// sizes before the noun, of both, and what was lost
		{schema.Stage3, "There's a twenty French drain in each pleura and a twenty-four in the mediastinum, all on fifteen of suction.", "drain variety=right-pleural size=20 suction=15\ndrain variety=left-pleural size=20 suction=15\ndrain variety=mediastinal size=24"},
		{schema.SupportOn, "Drains, two mediastinal, both fifteen, suction ten.", "drain variety=mediastinal size=15 suction=10"},
		{schema.Stage3, "drains both pleural spaces twenty four french and a twenty four mediastinal hundred and thirty mils so far", "drain variety=mediastinal size=24\nleaving.drainLoss=130\n!drain variety=mediastinal output=130"},
		{schema.SupportOn, "two drains two mediastinal fifteens two hundred mils out", "drain variety=mediastinal size=15\nleaving.drainLoss=200\n!drain variety=mediastinal output=200"},
		{schema.Stage2, "Drains: mediastinal 15 with 20 mL, right pleural 12 with 35 mL so far.", "drain variety=mediastinal output=20\ndrain variety=right-pleural output=35\n!leaving.drainLoss=35"},
		{schema.Stage1, "NG, an eight. Urinary catheter, six French, eighteen mils all case.", "gut-and-bladder variety=urinary-catheter size=6\nleaving.urine=18\n!gut-and-bladder variety=urinary-catheter output=18"},
		{schema.Stage3, "Right pleura left open, left pleural drain twenty.", "!drain variety=right-pleural"},
	})
}

// Drains whose place is said once and referred to, sides that have none for a reason, and
// drains taken off the list. From memory, no source.
func TestDrainsReferredTo(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "I'd opened the left pleura so there's a twelve in there, and a sixteen in the mediastinum.", "drain variety=left-pleural size=12\ndrain variety=mediastinal size=16"},
		{schema.Stage1, "We left a fifteen French drain in the mediastinum and, because the right pleura was open, a twelve there.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12"},
		{schema.Stage2, "Drains: one mediastinal fifteen, left pleural twelve, right side dry so none.", "drain variety=left-pleural size=12\nnone drain variety=right-pleural"},
		{schema.Stage1, "One mediastinal drain, fifteen. I'd meant to put a right pleural but never opened that side, so no.", "none drain variety=right-pleural\n!drain variety=right-pleural"},
		{schema.Stage3, "I left a mediastinal and a left pleural drain, both eighteen French, and since the right side was never opened there is nothing there.", "drain variety=left-pleural size=18\nnone drain variety=right-pleural"},
		{schema.Stage3, "The right pleura was opened so a twenty there, left not opened so no drain.", "drain variety=right-pleural size=20\nnone drain variety=left-pleural\n!none drain variety=right-pleural"},
		{schema.Reexploration, "Not there: right pleural drain.", "none drain variety=right-pleural\n!drain variety=right-pleural"},
		{schema.Reexploration, "med drain blocked w clot -> new 20F -10. R pl 12F unchanged", "drain variety=mediastinal size=20 suction=10\ndrain variety=right-pleural size=12"},
		{schema.Reexploration, "the mediastinal drain was changed for a french sixteen", "drain variety=mediastinal size=16"},
		{schema.Stage3, "chest tubes right and left twenty eights and a media steinal twenty four", "drain variety=right-pleural size=28\ndrain variety=left-pleural size=28\ndrain variety=mediastinal size=24"},
		{schema.Stage3, "Right pleural drain twenty, left pleural drain twenty. Scratch the left one, that pleura was never opened.", "drain variety=right-pleural size=20\n!drain variety=left-pleural"},
	})
}
