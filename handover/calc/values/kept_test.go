package values

import (
	"math/rand/v2"
	"reflect"
	"strconv"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"

	"pgregory.net/rapid"
)

// record is the committed stage-1 note as a child's record, and one who writes.
func record(t testing.TB) (*ledger.Record, *ledger.Writer, ledger.NoteID) {
	t.Helper()
	wall := time.Date(2026, 7, 14, 7, 0, 0, 0, time.UTC)
	now := func() time.Time { wall = wall.Add(time.Second); return wall }
	ids := ledger.NewIDs(rand.NewChaCha8([32]byte{5}), now)
	civil := func() schema.Moment { return schema.MomentOf(2026, 7, 14, 15, 30, 60, "Europe/London") }
	n := committed(t)
	w := ledger.NewWriterAt(ledger.CaseID(n.Case()), ledger.Author{Name: "A. Invented", Role: "anaesthetist"}, now, ids, civil)
	r := ledger.FoldCase(ledger.CaseID(n.Case()), nil)
	r.Apply(w.OpenCase())
	r.Apply(w.OpenNote(ledger.NoteID(n.ID()), n.Kind()))
	r.Apply(ledger.Enter(r, w, n)...)
	return r, w, ledger.NoteID(n.ID())
}

// A change of one field works out again only what depends on it. The counts are
// those of the parts that declare the place.
func TestOnlyWhatDependsIsWorkedOutAgain(t *testing.T) {
	r, w, id := record(t)
	p := profile.Default()
	var k Kept
	k.Values(r, id, p, "2026-07-14")
	ran, of := k.Ran()
	if ran != of || of < 30 {
		t.Fatalf("at first %d of %d", ran, of)
	}
	k.Values(r, id, p, "2026-07-14")
	if ran, _ := k.Ran(); ran != 0 {
		t.Errorf("nothing changed, and %d were worked out", ran)
	}
	for _, c := range []struct {
		at   schema.Path
		to   string
		most int
		line string
	}{
		{schema.GasOxygen, "50", 1, "oxygenation-index"},
		{schema.WorkEstimatedLoss, "90", 1, "blood-loss"},
		{schema.MeasuresDosingWeight, "3.3", 4, ""}, // infusions, the score, infusions both ways, the card
		{schema.PlanBleeding, "", 0, ""},
	} {
		e := w.Set(r, id, c.at, ledger.Number(c.to))
		if c.to == "" {
			e = w.Set(r, id, c.at, ledger.Entry{Value: "Nobody real"})
		}
		k.Took(e)
		r.Apply(e)
		v := k.Values(r, id, p, "2026-07-14")
		if ran, of := k.Ran(); ran != c.most {
			t.Errorf("%s: %d of %d were worked out again, not %d", c.at, ran, of, c.most)
		}
		if c.line != "" {
			if x, _ := v.Find("blood-loss"); c.line == "blood-loss" && x.Shown != "90 mL, 28.1 mL/kg" { // 90 / 3.2
				t.Errorf("%s", x.Line())
			}
		}
	}
	r.Apply(w.Set(r, id, schema.MeasuresWeight, ledger.Number("3.4"))) // nobody told
	k.Values(r, id, p, "2026-07-14")
	if ran, of := k.Ran(); ran != of {
		t.Errorf("an event nobody told of: %d of %d", ran, of)
	}
	e := w.OpenNote(w.NewNote(), schema.Closure)
	k.Took(e)
	r.Apply(e)
	k.Values(r, id, p, "2026-07-14")
	if ran, of := k.Ran(); ran != of {
		t.Errorf("a note was opened: %d of %d", ran, of)
	}
}

// Whatever is changed, and whether or not it was told, the values are those that
// are worked out from nothing.
func TestKeptIsAsWorkedOutAnew(t *testing.T) {
	first, w, id := record(t)
	events := first.Events()
	numbers := []schema.Path{schema.MeasuresWeight, schema.MeasuresLength, schema.MeasuresDosingWeight, schema.ChildBirthWeight, schema.ChildGestationWeeks,
		schema.GasOxygen, schema.GasSaturation, schema.PerfusionLowestTemperature, schema.PerfusionUrine, schema.WorkEstimatedLoss, schema.SupportBypassTotal,
		schema.CatheterRightBranch, schema.VentilationTidalVolume, schema.LeavingEndTidal}
	lists := []schema.Path{schema.SupportRuns, schema.SupportClamps, schema.PerfusionReadings, schema.InfusionsRunning, schema.BloodProducts}
	rapid.Check(t, func(t *rapid.T) {
		r := ledger.FoldCase(first.Case(), events)
		p := profile.Default()
		second := w.NewNote()
		r.Apply(w.OpenNote(second, schema.Closure))
		var k Kept
		for i := range rapid.IntRange(2, 12).Draw(t, "changes") {
			var es []ledger.Event
			value := ledger.Number(strconv.FormatFloat(float64(rapid.IntRange(1, 600).Draw(t, "tenths"))/10, 'f', -1, 64))
			if rapid.IntRange(0, 5).Draw(t, "cleared") == 0 {
				value = ledger.Entry{}
			}
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0, 1:
				es = append(es, w.Set(r, id, rapid.SampledFrom(numbers).Draw(t, "field"), value))
			case 2:
				list := rapid.SampledFrom(lists).Draw(t, "list")
				if rows := r.Whole(id).Rows(list); len(rows) > 0 {
					es = append(es, w.RemoveRow(r, id, list, rapid.SampledFrom(rows).Draw(t, "row")))
				}
			case 3:
				list := rapid.SampledFrom(lists).Draw(t, "list")
				row := "z" + strconv.Itoa(i)
				es = append(es, w.AddRow(r, id, list, row)...)
			case 4:
				if rows := r.Whole(id).Rows(schema.InfusionsRunning); len(rows) > 0 {
					row := rapid.SampledFrom(rows).Draw(t, "infusion")
					field := rapid.SampledFrom([]schema.Path{schema.InfusionsRunningDose, schema.InfusionsRunningRate, schema.InfusionsRunningPumpWeight}).Draw(t, "part")
					es = append(es, w.Set(r, id, field.In(row), value))
				}
			default:
				es = append(es, w.Set(r, second, schema.MeasuresWeight, value), w.Set(r, second, schema.MeasuresWeightDate, ledger.Entry{Value: "2026-07-12"}))
			}
			for _, e := range es {
				if rapid.IntRange(0, 9).Draw(t, "told") > 0 {
					k.Took(e)
				}
				r.Apply(e)
			}
			if rapid.Bool().Draw(t, "look") {
				got, want := k.Values(r, id, p, "2026-07-14"), FromRecord(r, id, p, "2026-07-14")
				if !reflect.DeepEqual(got, want) {
					for j, x := range want.All() {
						if all := got.All(); j >= len(all) || !reflect.DeepEqual(all[j], x) {
							t.Fatalf("after %v: %s differs", es, x.Line())
						}
					}
					t.Fatalf("after %v: infusions, picture or card differ", es)
				}
			}
		}
	})
}
