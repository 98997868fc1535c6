package dictation

import (
	"testing"

	"fairlead/schema"
)

// What closing the chest did, in lists of two halves and one by one, and how it was borne.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestToleranceTold(t *testing.T) {
	holds(t, []family{
		{schema.Closure, "Mean before 54, once the wires were tight 51.", "closing.tolerance measure=mean-arterial before=54 after=51"},
		{schema.Closure, "CA pressure, seven before, nine after.", "closing.tolerance measure=atrial before=7 after=9"},
		{schema.Closure, "The left atrial line crept up from eight to eleven.", "closing.tolerance measure=atrial before=8 after=11"},
		{schema.Closure, "Before and after: mean fifty-four, forty-nine.", "closing.tolerance measure=mean-arterial before=54 after=49"},
		{schema.Closure, "Baseline mean fifty-two, LA nine, sats eighty. Edges together, three minutes: mean thirty-three, LA sixteen, sats sixty-eight.", "closing.tolerance measure=mean-arterial before=52 after=33\nclosing.tolerance measure=atrial before=9 after=16\nclosing.tolerance measure=saturation before=80 after=68\n!leaving.saturation=68"},
		{schema.Closure, "Tolerated, but on more adrenaline.", "closing.tolerated=with-support\n!closing.tolerated=yes"},
		{schema.Closure, "Haemodynamically stable after closing.", "closing.tolerated=yes"},
		{schema.Stage1, "He's closed.", "closing.sternum=closed"},
		{schema.SupportOn, "We couldn't get her off.", "mechanical.reasonOn=failed-weaning"},
		{schema.SupportOn, "Mode: veno-arterial in arrest.", "mechanical.mode=veno-arterial-arrest"},
		{schema.SupportOff, "Clip on the shunt removed 08:50.", "mechanical.shuntAfter=clip-removed\n!mechanical.shunt=clipped"},
	})
}

// A text may begin with any word of a dictation: what is looked for before it is not there.
func TestBeginsWithNumber(t *testing.T) {
	holds(t, []family{
		{schema.Closure, "two expected, two retrieved. Chest still open, new", "closing.sternum=open"},
		{schema.Closure, "three expected, three retrieved, none left.", "!removals.packsExpected=2"},
	})
}
