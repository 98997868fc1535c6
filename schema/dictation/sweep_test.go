package dictation

import (
	"fmt"
	"strings"
	"testing"

	"fairlead/schema"
)

// A choice becomes dictatable where it is defined: every value of every plain
// field is read when the field is named before it.
func TestEveryChoiceByName(t *testing.T) {
	missed, all := 0, 0
	for _, k := range schema.Kinds() {
		for _, s := range schema.SectionsOf(k.Kind) {
			for _, f := range s.FieldsIn(k.Kind) {
				for _, v := range f.Enum {
					if v == "other" || v == "no" || v == "none" || v == "yes" {
						continue
					}
					label := strings.ToLower(f.Label(v))
					text := fmt.Sprintf("%s %s.", f.Title, label)
					if f.Section == "before" || f.Section == "catheter" {
						text = "Before the operation " + text
					}
					all++
					found := false
					r := Read(k.Kind, text)
					for _, p := range r.Proposals {
						found = found || p.Path == f.Path && p.Value == v
					}
					if !found {
						missed++
						t.Logf("%s: %q is not read as %s = %s", k.Kind, text, f.Path, v)
					}
				}
			}
		}
	}
	t.Logf("%d of %d choices are not read by name", missed, all)
	if missed*100 > all*6 {
		t.Errorf("%d of %d choices are not read when their field is named before them", missed, all)
	}
}
