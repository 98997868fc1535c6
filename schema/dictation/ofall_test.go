package dictation

import (
	"testing"

	"fairlead/schema"
)

// What is said of several drains at once, in a clause of its own or in the next
// sentence; written as families are.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestSaidOfAllDrains(t *testing.T) {
	holds(t, []family{
		{schema.Stage3, "Drains: right pleural, left pleural, mediastinal. Twenty-four French, all three.", "drain variety=right-pleural size=24\ndrain variety=mediastinal size=24"},
		{schema.Stage3, "Drains: right pleural, left pleural, no mediastinal. Twenties.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\nnone drain variety=mediastinal"},
		{schema.Stage2, "One mediastinal and one right pleural drain, the two of twelve French.", "drain variety=mediastinal size=12\ndrain variety=right-pleural size=12"},
		{schema.Stage2, "Drains mediastinal and right pleural, fifteen French, both of them.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=15"},
		{schema.Stage3, "Drains all to -15 cmH2O: R pl 20 Fr, L pl 20 Fr, med 24 Fr.", "drain variety=right-pleural size=20 suction=15\ndrain variety=mediastinal size=24 suction=15"},
		{schema.Stage3, "Drains on twenty of suction: right pleural 20, left pleural 16.", "drain variety=right-pleural size=20 suction=20\ndrain variety=left-pleural size=16 suction=20"},
		{schema.Stage3, "tubes two plurals twenty four french each one media steinal twenty eight all three suction twenty", "drain variety=right-pleural size=24 suction=20\ndrain variety=left-pleural size=24 suction=20\ndrain variety=mediastinal size=28 suction=20"},
		{schema.Stage2, "One mediastinal, nineteen French; right pleural, fifteen; they both go to minus ten.", "drain variety=mediastinal size=19 suction=10\ndrain variety=right-pleural size=15 suction=10"},
		{schema.Stage2, "CTs: MS 15F, R pl 12F, both -15. No L CT.", "drain variety=mediastinal size=15 suction=15\ndrain variety=right-pleural size=12 suction=15\nnone drain variety=left-pleural"},
		{schema.Stage2, "Right pleural 20, left pleural 20. Minus fifteen on both.", "drain variety=right-pleural size=20 suction=15\ndrain variety=left-pleural size=20 suction=15"},
		{schema.Stage3, "Drains. Right pleural twenty-four, blood, forty so far. Left pleural twenty, serous, ten so far. All on suction, fifteen.", "drain variety=right-pleural size=24 suction=15 colour=blood output=40\ndrain variety=left-pleural size=20 suction=15 colour=serous output=10\n!blood.products product=red-cells"},
		{schema.Stage3, "Drains two pleural, a right and a left, twenties, and a mediastinal twenty four.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=24"},
		// one the size of another
		{schema.Stage3, "There are two mediastinal drains, each of twenty French, and one in the left pleura of the same gauge.", "drain variety=left-pleural size=20"},
		{schema.Stage3, "Mediastinal 24 Fr, right pleural ditto.", "drain variety=mediastinal size=24\ndrain variety=right-pleural size=24"},
		// what is said of all does not reach further than what it counts, nor to other things
		{schema.Stage3, "Drains: mediastinal twenty, both pleurals twenty four.", "drain variety=mediastinal size=20\ndrain variety=left-pleural size=24"},
		{schema.Closure, "Drains, mediastinal fifteen and right pleural twelve, both stay, no left.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12\nnone drain variety=left-pleural"},
		{schema.Stage3, "Mediastinal, right pleural and left pleural drains. Both sixteen French.", "drain variety=mediastinal\n!drain variety=mediastinal size=16"},
		{schema.Stage3, "Right pleural drain twenty French. Right jugular and left femoral lines, both five French.", "drain variety=right-pleural size=20\n!drain variety=right-pleural size=5"},
		{schema.Stage3, "Glenn pressure in the low twenties. Sats eighty.", "!stage3.fontanPressure=20"},
		{schema.Stage1, "HLHS, MS/AA. Norwood.", "anatomy.subtype=mitral-stenosis-aortic-atresia\n!drain variety=mediastinal"},
	})
}

// Drains of which the size is told with the side alone, before the places, or once for
// more than one of them; written as families are.
func TestDrainSizes(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "Drains: a 12 and a 10, mediastinal and right pleura.", "drain variety=mediastinal size=12\ndrain variety=right-pleural size=10"},
		{schema.Stage3, "Drains are 20, 18 and 16: right, left, mediastinal.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=18\ndrain variety=mediastinal size=16"},
		{schema.Stage2, "Two drains, a 15 in the mediastinum and a 12 on the right.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=12"},
		{schema.Stage2, "Two drains, fifteen mediastinal, twelve on the left side.", "drain variety=mediastinal size=15\ndrain variety=left-pleural size=12"},
		{schema.Stage3, "Drains R 24 / L 20 / M 16.", "drain variety=right-pleural size=24\ndrain variety=left-pleural size=20\ndrain variety=mediastinal size=16"},
		{schema.Stage2, "Drains: R pl 16 + med 15, -10.", "drain variety=right-pleural size=16 suction=10\ndrain variety=mediastinal size=15 suction=10"},
		{schema.Stage1, "2 x med drains 12F -10.", "drain variety=mediastinal size=12 suction=10"},
		{schema.Stage1, "Two mediastinal drains, one 15 and one 12, both to minus ten.", "drain variety=mediastinal size=15 suction=10\ndrain variety=mediastinal size=12 suction=10"},
		{schema.Stage1, "Two mediastinal drains, one is a sixteen, the other a twelve.", "drain variety=mediastinal size=16\ndrain variety=mediastinal size=12"},
		{schema.Stage1, "Mediastinal drains two, a twelve in front and a ten behind.", "drain variety=mediastinal size=12\ndrain variety=mediastinal size=10"},
		{schema.Stage2, "One fifteen Blake in the mediastinum and one in the right chest, none in the left.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=15\nnone drain variety=left-pleural"},
		{schema.Stage2, "A fifteen French drain in the mediastinum and another in the right pleura.", "drain variety=mediastinal size=15\ndrain variety=right-pleural size=15"},
		{schema.Stage2, "A fifteen Blake in the mediastinum and one in the right pleura, a twelve.", "drain variety=right-pleural size=12\n!drain variety=right-pleural size=15"},
		{schema.Stage3, "Both pleurae have drains, twenty French, and I left none in the mediastinum.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\nnone drain variety=mediastinal"},
		{schema.Stage3, "Each pleural cavity has a 24 French drain, mediastinum has a 20.", "drain variety=right-pleural size=24\ndrain variety=left-pleural size=24\ndrain variety=mediastinal size=20"},
		{schema.Stage3, "Both pleural spaces drained with twenties, a sixteen in the mediastinum.", "drain variety=right-pleural size=20\ndrain variety=mediastinal size=16"},
		{schema.Stage3, "Both pleurals, 20s, no mediastinal.", "drain variety=right-pleural size=20\ndrain variety=left-pleural size=20\nnone drain variety=mediastinal"},
		{schema.Stage2, "drains right pleural fifteen and a mediastinal fifteen total out fifty five cc", "drain variety=mediastinal size=15\nleaving.drainLoss=55"},
		{schema.Closure, "Left alone: both atrial wires, both ventricular wires.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		// a side that is none of a drain's
		{schema.Reexploration, "Mediastinal drain flushed and left, a 12.", "drain variety=mediastinal size=12\n!drain variety=left-pleural"},
		{schema.Stage1, "Mediastinal drain twelve. A 24 in the left hand.", "!drain variety=left-pleural"},
		{schema.Stage2, "Both pleurae have been opened.", "!drain variety=right-pleural"},
	})
}

// Counts, in whatever words they are said to be right.
func TestCountsSaid(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Sponges, needles, instruments correct.", "counts.swabs=correct\ncounts.needles=correct\n!left-on-purpose variety=swabs"},
		{schema.Stage2, "counts needles good instruments good sponges good allowing for the pack", "counts.swabs=correct\ncounts.instruments=correct"},
		{schema.Stage2, "counts are all good", "counts.swabs=correct\ncounts.needles=correct\ncounts.instruments=correct"},
		{schema.Stage1, "Chest open, membrane. S/N counts ok.", "counts.swabs=correct\ncounts.needles=correct\n!counts.instruments=correct"},
		{schema.Stage1, "sw/need/instr all correct.", "counts.swabs=correct\ncounts.needles=correct"},
		{schema.Stage1, "Swabs and needles correct; instruments we did not count.", "counts.instruments=none"},
		{schema.Stage1, "Swabs and needles all fine but instruments one short.", "counts.swabs=correct\ncounts.instruments=incorrect"},
		{schema.Stage1, "Function good, swabs not counted.", "counts.swabs=none\n!counts.swabs=correct"},
	})
}

// Wires counted in letters, and what is left of them when one came out.
func TestWiresCounted(t *testing.T) {
	holds(t, []family{
		{schema.Stage2, "Mediastinal fifteen. Two A, one V.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1"},
		{schema.ShuntRevision, "Wires: two atrial, two ventricular as before.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=2"},
		{schema.ShuntRevision, "She had two ventricular wires from before, I took one out and it came whole, the other is still there.", "pacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Stage3, "Wires, two atrial, and ventricular: two, one fell off, so one.", "pacing-wires variety=atrial count=2\npacing-wires variety=ventricular count=1\n!pacing-wires variety=ventricular count=2"},
		{schema.Closure, "Wires: still two ventricular; one of the atrial ones fell out as we moved her, so atrial, one.", "pacing-wires variety=ventricular count=2\npacing-wires variety=atrial count=1"},
		{schema.SupportOff, "Wires V x1 only, A x0.", "pacing-wires variety=ventricular count=1\nnone pacing-wires variety=atrial"},
		{schema.Stage1, "Tube grade two A, video. Five volts.", "!pacing-wires variety=atrial"},
		{schema.Stage1, "Two ventricular wires; I took them out.", "!pacing-wires variety=ventricular"},
		// a drain changed for another
		{schema.Closure, "Old mediastinal drain changed, new one fifteen.", "drain variety=mediastinal size=15"},
		{schema.Closure, "The mediastinal I changed, was twelve, is now a fifteen.", "drain variety=mediastinal size=15\n!drain variety=mediastinal size=12"},
		{schema.Stage1, "Drains one, fifteen French, in the mediastinum, and none in either pleura.", "drain variety=mediastinal size=15\nnone drain variety=right-pleural"},
	})
}
