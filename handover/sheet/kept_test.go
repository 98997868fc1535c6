package sheet

import (
	"encoding/json"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fairlead/handover/calc"
	"fairlead/schema"
)

// What is kept is what would be made: after any change of the note, of what was
// typed and not read, of what is computed, and of the time.
func TestKeptIsWhatWouldBeMade(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := randomNote(t)
		f, gathered := Facts{Note: n, At: at}, new(Facts)
		var k Kept
		serial := 1000
		sections := schema.SectionsOf(n.Kind())
		for range rapid.IntRange(1, 8).Draw(t, "changes") {
			ids := []string{}
			for _, it := range n.Items() {
				ids = append(ids, it.ID)
			}
			s := rapid.SampledFrom(sections).Draw(t, "section")
			fields := s.FieldsIn(n.Kind())
			switch rapid.IntRange(0, 9).Draw(t, "change") {
			case 0:
				f.At = at.Add(time.Duration(rapid.IntRange(1, 5000).Draw(t, "later")) * time.Minute)
			case 1:
				f.Computed = calc.New(nil, calc.About{}).Compute(n)
			case 2:
				if len(fields) > 0 {
					f.Unread = map[schema.Path]string{rapid.SampledFrom(fields).Draw(t, "unread").Path: "12,"}
				}
			case 3:
				if len(ids) > 0 {
					it, _ := n.Item(rapid.SampledFrom(ids).Draw(t, "of"))
					for _, field := range schema.ItemKindNamed(it.Kind).Fields {
						respond(t, n, field, it.Path(field.Name), &serial, ids)
					}
				}
			case 4:
				if len(fields) > 0 {
					n.Clear(rapid.SampledFrom(fields).Draw(t, "cleared").Path)
				}
			case 5:
				f.Gone = append(f.Gone[:len(f.Gone):len(f.Gone)], Gone{Item: "x", Tag: 90, Words: "Drain", How: "removed", At: at})
				gathered = &Facts{Gone: f.Gone}
			default:
				for range 3 {
					if len(fields) > 0 {
						field := rapid.SampledFrom(fields).Draw(t, "field")
						respond(t, n, field, field.Path, &serial, ids)
					}
				}
			}
			kept, made := k.Flow(gathered, f), Flow(f).BlocksHTML()
			if len(kept) != len(made) {
				t.Fatalf("%d parts are kept, %d would be made", len(kept), len(made))
			}
			for i := range made {
				if kept[i] != made[i] {
					t.Fatalf("kept:\n%s\nwould be made:\n%s", kept[i].HTML, made[i].HTML)
				}
			}
		}
	})
}

// A part leaves out what an earlier one tells, and must follow it when it tells no
// more, though nothing changed in what the part itself read.
func TestKeptFollowsWhatEarlierPartsTell(t *testing.T) {
	defer func(was []func(*builder) []Block) { flow = was }(flow)
	flow = []func(*builder) []Block{
		alone(func(b *builder) Block {
			bl := Block{ID: "first"}
			if b.has(schema.LeavingSaturation) {
				bl.Lines = []Line{b.labelled(b.read(schema.GasLactate))}
			}
			return bl
		}),
		alone(func(b *builder) Block {
			bl := Block{ID: "second"}
			if !b.told(schema.GasLactate) {
				bl.Lines = []Line{b.labelled(b.read(schema.GasLactate))}
			}
			return bl
		}),
	}
	n := schema.NewNote(schema.Stage1, "note", "case")
	n.Set(schema.GasLactate, json.Number("3.1"))
	n.Set(schema.LeavingSaturation, json.Number("79"))
	var k Kept
	gathered := new(Facts)
	for _, want := range []string{"sheet-first", "sheet-second", "sheet-first"} {
		if got := k.Flow(gathered, Facts{Note: n, At: at}); len(got) != 3 || got[1].ID != want {
			t.Fatalf("it is told in %s, not in %s", got[1].ID, want)
		}
		if n.Has(schema.LeavingSaturation) {
			n.Clear(schema.LeavingSaturation)
		} else {
			n.Set(schema.LeavingSaturation, json.Number("79"))
		}
	}
}
