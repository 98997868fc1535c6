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
		// counts put right
		{schema.Stage2, "Two atrial wires, two ventricular, one of those pulled out, so one ventricular.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Wires two atrial, and I said two ventricular, it's one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Atrial wires two, ventricular two. Scratch the ventricular, only one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Two and two for wires. No, the ventricular is just one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Atrial wires two, ventricular two. Correction, ventricular is one.", "pacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Right pleural drain fifteen, left fifteen. No, make the left a twelve.", "drain variety=right-pleural size=15\ndrain variety=left-pleural size=12\n!drain variety=left-pleural size=15"},
		{schema.Stage3, "Mediastinal twenty, and I said right pleural twenty, it's a twenty four.", "drain variety=mediastinal size=20\ndrain variety=right-pleural size=24\n!drain variety=right-pleural size=20"},
	})
}
