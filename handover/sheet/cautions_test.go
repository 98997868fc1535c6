package sheet

import (
	"strings"
	"testing"

	"fairlead/schema"
)

// The cautions stand on the sheet, in the trade's words (clinical.md 10), where they
// hold, and nowhere else: each with a note it is wanted on and one just outside.
func TestCautions(t *testing.T) {
	words := func(kind schema.Kind, change func(*schema.Note)) string {
		t.Helper()
		n := committed(t)["notes/"+string(kind)+".json"].Clone()
		if change != nil {
			change(n)
		}
		var all []string
		for _, b := range Make(Facts{Note: n, At: at}, A4).Blocks {
			for _, l := range b.Lines {
				all = append(all, Text(l.Spans))
			}
		}
		return strings.Join(all, "\n")
	}
	set := func(p schema.Path, v any) func(*schema.Note) { return func(n *schema.Note) { n.Set(p, v) } }
	shunt := func(side string) func(*schema.Note) {
		return func(n *schema.Note) {
			n.Set(schema.SupplyKind, "modified-blalock-taussig-thomas")
			n.Set(schema.SupplySide, side)
		}
	}
	withoutNeckLines := func(n *schema.Note) {
		for _, it := range n.Items() {
			if neckLine(it) {
				n.RemoveItem(it.ID)
			}
		}
	}
	withNeckLine := func(n *schema.Note) {
		n.AddItem("central-venous-line", "0190a1b2-0000-7000-8000-00000000c0de", 40)
		n.Set(schema.ItemPath("0190a1b2-0000-7000-8000-00000000c0de", "variety"), "jugular")
	}
	cases := []struct {
		name   string
		kind   schema.Kind
		change func(*schema.Note)
		words  string
		wanted bool
	}{
		{"a shunt from the right arm", schema.Stage1, shunt("right"), "Right-arm pressure may read low on the side of this shunt: compare another limb.", true},
		{"a shunt from the left arm", schema.Stage1, shunt("left"), "Left-arm pressure may read low on the side of this shunt: compare another limb.", true},
		{"a shunt from the left arm, the right", schema.Stage1, shunt("left"), "Right-arm pressure", false},
		{"a conduit from the ventricle", schema.Stage1, set(schema.SupplyKind, "ventricle-pulmonary-conduit"), "-arm pressure may read low", false},
		{"a neck line after stage 2", schema.Stage2, withNeckLine, "This neck line measures lung-artery pressure. Clot or air here goes to the lungs: ask daily whether it can come out.", true},
		{"no neck line after stage 2", schema.Stage2, withoutNeckLines, "This neck line measures", false},
		{"a neck line after stage 1", schema.Stage1, withNeckLine, "This neck line measures", false},
		{"a line into a vein, before stage 3", schema.Stage1, withNeckLine, "Air filter, no bubbles: blood can cross to the brain.", true},
		{"stage 3, fenestrated", schema.Stage3, set(schema.Stage3Fenestration, "open"), "Air filter, no bubbles", true},
		{"stage 3, no fenestration", schema.Stage3, func(n *schema.Note) { n.State(schema.Stage3Fenestration, schema.StatedNone) }, "Air filter, no bubbles", false},
		{"vessels not known to be open", schema.Stage2, func(n *schema.Note) { n.State(schema.BeforeVessels, schema.StatedUnknown) }, "Patency unknown is not open.", true},
	}
	for _, c := range cases {
		if has := strings.Contains(words(c.kind, c.change), c.words); has != c.wanted {
			t.Errorf("%s: %q on the sheet is %t", c.name, c.words, has)
		}
	}
}
