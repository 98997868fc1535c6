package dictation

import (
	"testing"

	"fairlead/schema"
)

// What proved the flow of a shunt and what did not, where the bleeding was, with what it
// was washed, what was taken down and what may follow.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestRevisionsTold(t *testing.T) {
	holds(t, []family{
		{schema.Stage1, "Shunt opened, diastolic fell from 38 to 27, thrill felt.", "supply.diastolicFall=11\nsupply.proof=thrill"},
		{schema.Stage1, "The diastolic went from thirty eight to twenty six so a drop of twelve.", "supply.diastolicFall=12"},
		{schema.Stage1, "Proved by a fall of the diastolic by eight.", "supply.diastolicFall=8"},
		{schema.ShuntRevision, "Diastolic rose from 19 to 31.", "!supply.diastolicFall=12"},
		{schema.Stage1, "Shunt open. Flow probe not available.", "!supply.proof=flow-probe"},
		{schema.ShuntRevision, "Proof by saturation and echo.", "supply.proof=saturation\nsupply.proof=echo"},
		{schema.ShuntRevision, "Echo also showed flow in it.", "supply.proof=echo\necho.supplyFlow=seen"},
		{schema.ShuntRevision, "New shunt, up from three and a half to four.", "between.shuntDone=upsized"},
		{schema.ShuntRevision, "The old graft was excised and a fresh four millimetre put in its place.", "between.shuntDone=replaced"},
		{schema.Reexploration, "No clot, nothing bleeding.", "between.source=none"},
		{schema.Reexploration, "The bleeding was from the suture line of the arch patch and a little from the sternum itself.", "between.source=suture-line\nbetween.source=sternum"},
		{schema.Reexploration, "Washed out, saline, two liters warm.", "between.washOut=saline\n!blood.products product=crystalloid volume=2000"},
		{schema.Reexploration, "washed out with warm sail in", "between.washOut=saline"},
		{schema.Takedown, "This is a takedown of the Glenn done four days ago.", "between.takenDown=glenn"},
		{schema.Takedown, "What next, I'd say another Glenn in some months.", "between.nextStage=same-stage-later"},
		{schema.Takedown, "The next step, we have not decided.", "between.nextStage=not-decided"},
		{schema.Takedown, "transplant thats the talk tomorrow not decided", "between.nextStage=not-decided"},
		{schema.Stage1, "Sano, six ringed, top end onto the confluence with a cuff.", "supply.distalSite=confluence\nsupply.distalEnd=cuff"},
		{schema.Stage1, "Five millimetre Sano from the infundibulum to the confluence.", "supply.to=confluence"},
	})
}
