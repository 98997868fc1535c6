package dictation

import (
	"testing"

	"fairlead/schema"
)

// What was done, in words that no fixed phrase holds: a verb and a thing apart, a
// verb after "did", a deed said twice. The sentences are written by hand; "!" marks
// what must not be read. Common practice of the trade, no source.
var deedsTold = []family{
	// a verb and a thing, whatever stands between
	{schema.ShuntRevision, "A clip was put across the three and a half shunt.", "between.shuntDone=clipped\nsupply.shuntDiameter=3.5"},
	{schema.ShuntRevision, "The clip from stage one was taken off the shunt.", "between.shuntDone=clip-removed"},
	{schema.ShuntRevision, "We fished the clot out of the shunt with a Fogarty.", "between.shuntDone=clot-removed"},
	{schema.Reexploration, "No surgical bleeding point was found.", "between.source=none"},
	{schema.Stage2, "The Sano was stuck to the back of the sternum.", "approach.adherentConduit=yes"},
	{schema.Stage2, "Stent removed from the arch, atrial septum resected.", "stage2.archWork=stent-removed\nstage2.septumWork=excised"},
	{schema.Stage2, "Nothing was done to the valve.", "stage2.valveWork=none"},
	{schema.Stage1, "Distal end onto the confluence with a cuff.", "supply.distalSite=confluence\nsupply.distalEnd=cuff"},
	{schema.Stage1, "Hybrid. The septum was ballooned.", "hybrid.septum=balloon"},
	{schema.Stage1, "The septum was ballooned, no wait, it was left alone.", "!hybrid.septum=balloon"},
	{schema.Closure, "The sternum was left open, no, we closed it with wires.", "closing.sternum=closed\n!closing.sternum=open"},
	// "did" before a verb, and what only "it" names
	{schema.Stage2, "The azygos was left, actually no, I did tie it before testing.", "stage2.azygos=ligated\n!stage2.azygos=left-open"},
	{schema.Stage2, "I tied the azygos, good God no, I did not tie the azygos.", "!stage2.azygos=ligated\n!stage2.azygos=none"},
	{schema.Reexploration, "Swab sent, no tissue.", "!between.cultures=tissue"},
	// beside what it was done instead of
	{schema.Stage2, "A hemi-Fontan rather than a Glenn was done.", "stage2.connection=hemi-fontan\n!stage2.connection=glenn-right"},
	{schema.Stage2, "The leak went from moderate to mild.", "echo.avValveLeak=mild\n!echo.avValveLeak=moderate"},
	{schema.SupportOn, "ECPR on the unit.", "mechanical.mode=veno-arterial-arrest\nmechanical.reasonOn=arrest"},
	{schema.Takedown, "Glenn taken down for failure.", "between.takenDown=glenn\nbetween.reason=failed-connection\n!between.shuntDone=taken-down"},
	{schema.Stage3, "IVC divided at the atrium, its cardiac end oversewn.", "stage3.cardiacEnd=oversewn\n!stage3.antegradeFlow=closed"},
	// numbers
	{schema.Stage1, "Vacuum minus thirty.", "support.vacuum=30"},
	{schema.Stage1, "Selective cerebral perfusion through the innominate graft at fifty mils per kilo for fifty one minutes, right radial at forty eight.", "support.perfusions minutes=51 flow=50 pressure=48 pressureSite=right-radial"},
	{schema.Stage1, "pH stat on the way down and alpha stat coming up.", "perfusion.acidBase strategy=ph-stat phase=cooling\nperfusion.acidBase strategy=alpha-stat phase=rewarming"},
	{schema.Stage1, "Zero balance filtration during rewarming took four hundred and fifty out.", "perfusion.ultrafiltration kind=zero-balance volume=450"},
	{schema.Stage1, "Lowest ACT on pump four eighty, after protamine one thirty one.", "clotting.clottingTimeBypass=480\nclotting.clottingTimeAfter=131"},
	{schema.ShuntRevision, "Sats went from forty eight to seventy six.", "between.saturationBeforeWork=48\nbetween.saturationAfterWork=76"},
}

func TestDeedsTold(t *testing.T) { holds(t, deedsTold) }
