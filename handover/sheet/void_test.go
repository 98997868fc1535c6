package sheet

import (
	"strings"
	"testing"

	"fairlead/schema"
)

// TestChangedSupply: a conduit's diameter and side, left in the note when the lung
// supply was changed to a shunt, are not printed as the shunt's; they are kept where
// the sheet says that they do not apply. With the kind of supply not answered, or
// answered as before, they are printed as they were.
func TestChangedSupply(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "0198a000-0000-7000-8000-0000000000b1", "0198a000-0000-7000-8000-0000000000b2")
	n.Set(schema.SupplyKind, "ventricle-pulmonary-conduit")
	n.Set(schema.SupplyConduitDiameter, 6)
	n.Set(schema.SupplyMaterial, "eptfe-ringed")
	n.Set(schema.SupplyNeoAortaSide, "left")
	supply := func(s *Sheet) string {
		for _, l := range s.Block("done").Lines {
			if x := Text(l.Spans); strings.Contains(x, "ung supply: ") {
				return x
			}
		}
		return ""
	}
	made := func() []*Sheet { return []*Sheet{Make(Facts{Note: n, At: at}, A4), Flow(Facts{Note: n, At: at})} }
	for _, s := range made() {
		if got, want := supply(s), "Only lung supply: ventricle-to-pulmonary conduit 6 mm ePTFE, ringed, left of the neo-aorta"; got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
		if s.Block("void") != nil {
			t.Errorf("all applies, and the sheet sets aside %s", Text(blockSpans(*s.Block("void"))))
		}
	}
	n.Set(schema.SupplyKind, "central-shunt")
	for _, s := range made() {
		want := "Only lung supply: central shunt, shunt diameter not recorded ePTFE, ringed, from not recorded, to not recorded, side of the shunt not recorded"
		if got := supply(s); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
		all := Text(blockSpans(*s.Block("void")))
		for _, want := range []string{"Conduit diameter: 6 mm", "Side of the neo-aorta: left of the neo-aorta"} {
			if !strings.Contains(all, want) {
				t.Errorf("what does not apply lacks %q: %s", want, all)
			}
		}
		var rest []Block
		for _, bl := range s.Blocks {
			if bl.ID != "void" {
				rest = append(rest, bl)
			}
		}
		for _, bl := range rest {
			if x := Text(blockSpans(bl)); strings.Contains(x, "6 mm") || strings.Contains(x, "neo-aorta") {
				t.Errorf("block %s prints the conduit's: %s", bl.ID, x)
			}
		}
	}
	n.Clear(schema.SupplyKind)
	for _, s := range made() {
		if s.Block("void") != nil || !strings.Contains(Text(spansOf(s)), "6 mm") {
			t.Errorf("with no supply answered nothing is set aside: %s", supply(s))
		}
	}
}
