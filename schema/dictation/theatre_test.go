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
