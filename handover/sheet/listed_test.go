package sheet

import (
	"strings"
	"testing"

	"fairlead/schema"
)

// packedNote is the full stage-1 note with nothing said of the chest and the packs, and
// a membrane and two packs listed.
func packedNote(t *testing.T) *schema.Note {
	n := committed(t)["notes/stage1.json"].Clone()
	for _, p := range []schema.Path{schema.ClosingSternum, schema.ClosingCovering, schema.CountsPacksLeft} {
		n.Clear(p)
	}
	for _, it := range n.Items() {
		if it.Kind == "left-on-purpose" {
			n.Set(it.Path("variety"), "snare")
		}
	}
	n.AddItem("left-on-purpose", "0198a000-0000-7000-8000-0000000000a1", 31)
	n.Set(schema.ItemPath("0198a000-0000-7000-8000-0000000000a1", "variety"), "membrane")
	n.AddItem("left-on-purpose", "0198a000-0000-7000-8000-0000000000a2", 32)
	n.Set(schema.ItemPath("0198a000-0000-7000-8000-0000000000a2", "variety"), "packs")
	n.Set(schema.ItemPath("0198a000-0000-7000-8000-0000000000a2", "count"), 2)
	return n
}

// TestBoxesSayWhatIsListed: packs and a membrane that are listed stand in the boxes
// at the top, whatever the fields about them say or leave out; a list that agrees
// with the field adds nothing.
func TestBoxesSayWhatIsListed(t *testing.T) {
	says := func(n *schema.Note) string {
		s := Make(Facts{Note: n, At: at}, A4)
		for _, l := range s.Block("state").Lines {
			if x := Text(l.Spans); strings.Contains(x, "LISTED") && !l.Loud {
				t.Errorf("%q does not alarm", x)
			}
		}
		return Text(blockSpans(*s.Block("state"))) + " | " + Text(spansOf(s))
	}
	n := packedNote(t)
	for _, want := range []string{"CHEST not recorded; LISTED: tag 31 open-chest membrane", "PACKS not recorded; LISTED: tag 32 packs, 2"} {
		if got := says(n); !strings.Contains(got, want) {
			t.Errorf("want %q in %s", want, got)
		}
	}
	n.Set(schema.CountsPacksLeft, 1)
	n.Set(schema.ClosingSternum, "closed")
	for _, want := range []string{"CHEST CLOSED; LISTED: tag 31 open-chest membrane", "PACKS 1; LISTED: tag 32 packs, 2"} {
		if got := says(n); !strings.Contains(got, want) {
			t.Errorf("want %q in %s", want, got)
		}
	}
	n.Set(schema.CountsPacksLeft, 2)
	n.Set(schema.ClosingSternum, "open")
	got := says(n)
	if strings.Contains(got, "PACKS 2;") || strings.Contains(got, "CHEST OPEN;") || !strings.Contains(got, "Chest covered with: not recorded; LISTED: tag 31 open-chest membrane") {
		t.Errorf("the fields agree with the list: %s", got)
	}
}
