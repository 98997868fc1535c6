package dictation

import (
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// How support in theatre is told: periods by their times in any order, perfusion of
// the head with flow, side and pressure, times of day that follow on one another.
// "!" marks what must not be read. Common practice of the trade, no source.
func TestTheatre(t *testing.T) {
	for _, f := range []struct {
		kind schema.Kind
		text string
		want string
	}{
		{schema.Stage1, "Knife to skin at ten past nine, on bypass five to ten and off at twenty to two.", "operation.started=09:10\nsupport.runs on=09:55 off=13:40"},
		{schema.Stage1, "In theatre at twenty one forty. Knife to skin was twenty past ten.", "operation.intoTheatre=21:40\noperation.started=22:20"},
		{schema.Stage2, "Into theatre ten to eight. Knife at half eight. Left theatre at half past three.", "operation.intoTheatre=07:50\noperation.started=08:30\noperation.leftTheatre=15:30"},
		{schema.Stage1, "Run one: eight forty seven to eleven twenty. Run two: eleven fifty eight to twelve thirty one.", "support.runs on=08:47 off=11:20\nsupport.runs on=11:58 off=12:31"},
		{schema.Stage1, "The clamp came off at ten past one, on at quarter past twelve.", "support.clamps on=12:15 off=13:10"},
		{schema.Stage1, "Head perfusion, right side, for forty one minutes, fifty per kilo, with a right radial pressure of thirty six.", "support.perfusions minutes=41 flow=50 side=right pressure=36 pressureSite=right-radial\n!arterial-line variety=radial"},
		{schema.Stage1, "Cerebral perfusion: nine thirty six to nine fifty eight at fifty per kilo, then ten oh five to ten twenty four at forty.", "support.perfusions on=09:36 off=09:58 flow=50\nsupport.perfusions on=10:05 off=10:24 flow=40"},
		{schema.Stage1, "Lower body perfused through the descending aorta at fifty per kilo for thirty minutes.", "support.lowerBody minutes=30 flow=50 route=descending-aorta"},
		{schema.Stage1, "Arrest: 0958 to 1005, at 18.2 degrees.", "support.arrests on=09:58 off=10:05 temperature=18.2"},
		{schema.Stage1, "Cooled over twenty two minutes to twenty degrees in the nose, pH stat going down and alpha stat on the way up.", "perfusion.coolingMinutes=22\nperfusion.lowestTemperature=20\nperfusion.lowestTemperatureSite=nasopharyngeal\nperfusion.acidBase phase=cooling strategy=ph-stat\nperfusion.acidBase phase=rewarming strategy=alpha-stat"},
		{schema.Stage1, "Rewarming from 11:45 to 36.2 bladder.", "perfusion.rewarmingFrom=11:45\nperfusion.rewarmedTo=36.2\nperfusion.rewarmedSite=bladder"},
		{schema.Stage2, "Clamp none, coolest thirty four. Crit nadir 27.", "perfusion.lowestTemperature=34\n!perfusion.lowestTemperature=27"},
		// lines broken for their width go on; short lines of a list do not
		{schema.Stage1, "The head was perfused on the right side and through the inflow graft at fifty\nmils per kilo for forty four minutes.", "support.perfusions minutes=44 flow=50 side=right"},
		{schema.Stage1, "Drains two\nwires two and two", "!drain size=2"},
		{schema.Stage1, "on pump at nine fifteen clamp on nine forty clamp off ten thirty five off pump eleven fifty", "support.runs on=09:15 off=11:50\nsupport.clamps on=09:40 off=10:35"},
		{schema.Stage1, "Bypass ran from twenty two fifty until one thirty five. The aorta was clamped between twenty three thirty and two minutes past midnight.", "support.runs on=22:50 off=01:35\nsupport.clamps on=23:30 off=00:02"},
		{schema.Stage1, "In 08:05, KTS 09:02, CPB1 09:48-13:31, closed 15:40, out 16:10.", "operation.intoTheatre=08:05\noperation.closed=15:40\noperation.leftTheatre=16:10\nsupport.runs on=09:48 off=13:31"},
		{schema.Stage3, "Two runs, sixty-four and eighteen minutes, eighty-two in all.", "support.runs minutes=64\nsupport.runs minutes=18\n!support.runs minutes=82"},
		{schema.Stage1, "Pump time two hours and forty minutes.", "support.bypassTotal=160"},
		{schema.Stage1, "XC: my clock 61, pump sheet 68, could not reconcile.", "support.clampTotal=61|68"},
		{schema.Stage1, "Prime: red cells a hundred and eighty, four days old, irradiated.", "perfusion.prime product=red-cells volume=180 age=4 irradiated=true"},
		{schema.Stage1, "MUF took off a hundred and ten mils, no plasma given.", "perfusion.ultrafiltration kind=modified volume=110\nnone blood.products product=plasma"},
		{schema.Stage1, "One dose of del Nido, seventy mils, was given into the root at ten twenty two.", "perfusion.cardioplegiaDoses volume=70 route=aortic-root at=10:22"},
		{schema.Stage1, "Lowest ACT on pump 440.", "clotting.clottingTimeBypass=440"},
		{schema.Stage2, "Ascending aorta and bicaval.", "support.arterialCannulation=ascending-aorta\nsupport.venousCannulation=bicaval"},
		{schema.Closure, "Packs: two expected, two out, none left.", "removals.packsExpected=2\nremovals.packsRetrieved=2\ncounts.packsLeft=none\n!left-on-purpose variety=packs"},
		{schema.Reexploration, "Took two packs out and put one fresh one back.", "removals.packsRetrieved=2\ncounts.packsPut=1\nleft-on-purpose variety=packs count=1"},
		// packs: each count with what became of it, over the sentences that go on counting
		{schema.Closure, "Packs three expected. All out. None put back.", "removals.packsExpected=3\nremovals.packsRetrieved=3\ncounts.packsPut=none\n!left-on-purpose variety=packs"},
		{schema.Closure, "We counted two packs in at the start, two out.", "counts.packsIn=2\nremovals.packsRetrieved=2\n!left-on-purpose variety=packs"},
		{schema.Closure, "Sister says the board has three packs, we found all three and nothing is left in.", "removals.packsExpected=3\nremovals.packsRetrieved=3\n!left-on-purpose variety=packs"},
		{schema.Closure, "Two swabs were behind the heart from the first operation; both came out.", "removals.packsRetrieved=2\n!left-on-purpose variety=packs"},
		{schema.Closure, "Packs: in 3, out 3, new 0.", "removals.packsExpected=3\nremovals.packsRetrieved=3\ncounts.packsPut=none\ncounts.packsLeft=none"},
		{schema.Closure, "Two packs recorded, one found, no sorry two found, none remain.", "removals.packsExpected=2\nremovals.packsRetrieved=2\ncounts.packsLeft=none\n!removals.packsRetrieved=1"},
		{schema.Closure, "The list said two packs but we retrieved three.", "removals.packsExpected=2\nremovals.packsRetrieved=3\n!left-on-purpose variety=packs"},
		{schema.Closure, "the membrane came off and we got two packs back nothing left in there washed out with warm saline", "removals.packsRetrieved=2\ncounts.packsLeft=none\n!left-on-purpose variety=packs"},
		{schema.SupportOff, "Packs three in. Three out. One new one put in by the aorta.", "removals.packsRetrieved=3\ncounts.packsPut=1\nleft-on-purpose variety=packs count=1\n!left-on-purpose variety=packs count=3"},
		{schema.Reexploration, "Packed with three, then took two packs back out, so one pack remains.", "left-on-purpose variety=packs count=1\n!left-on-purpose variety=packs count=3"},
		{schema.Reexploration, "Two packs in, none before.", "counts.packsPut=2\ncounts.packsIn=none\nleft-on-purpose variety=packs count=2"},
		{schema.ShuntRevision, "Packs: 2 out 2 in, change next time.", "counts.packsPut=2\nleft-on-purpose variety=packs count=2"},
		{schema.Stage2, "Heparin tonight from ten o'clock.", "anticoagulation.startAt=22:00"},
		{schema.Stage1, "PEEP at five to eight.", "!operation.started=07:55"},
	} {
		got := told(f.kind, f.text)
		for _, line := range strings.Split(f.want, "\n") {
			line, not := strings.CutPrefix(line, "!")
			words := strings.Fields(line)
			if found := slices.ContainsFunc(got, func(g string) bool { return holdsAll(g, words) }); found == not {
				t.Errorf("%s: %s\n  said %q, wanted %v: %s", f.kind, f.text, got, !not, line)
			}
		}
	}
}

// holdsAll tells whether a line of told has every one of the words.
func holdsAll(line string, words []string) bool {
	have := strings.Fields(line)
	return (have[0] == "none") == (words[0] == "none") && !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(have, w) })
}
