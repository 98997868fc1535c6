// Package shift invents the record of a child in intensive care: a note with a
// thing of most kinds, and then readings, rounds and removals until there are as
// many events as asked for. It serves benchmarks, native and in the browser.
package shift

import (
	"fmt"
	"math/rand/v2"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// items are what is in the child: kind and variety.
var items = [][2]string{{"airway", "nasal-tube"}, {"intracardiac-line", "left-atrial"}, {"intracardiac-line", "right-atrial"},
	{"central-venous-line", "jugular"}, {"arterial-line", "radial"}, {"arterial-line", "umbilical-arterial"}, {"peripheral-cannula", "hand"},
	{"pacing-wires", "atrial"}, {"pacing-wires", "ventricular"}, {"drain", "mediastinal"}, {"drain", "right-pleural"}, {"drain-chamber", ""},
	{"gut-and-bladder", "urinary-catheter"}, {"surface-probe", "cerebral-near-infrared"}, {"left-on-purpose", "membrane"}}

// Events are the first n events of the child with that seed, and when the last of
// them happened.
func Events(seed byte, n int) (child ledger.CaseID, note ledger.NoteID, out []ledger.Event, now schema.Moment) {
	wall := time.Date(2026, 7, 14, 14, 0, 0, 0, time.UTC)
	ids := ledger.NewIDs(rand.NewChaCha8([32]byte{seed}), func() time.Time { return wall })
	civil := func() schema.Moment {
		return schema.MomentOf(wall.Year(), int(wall.Month()), wall.Day(), wall.Hour(), wall.Minute(), 0, "")
	}
	child = ledger.CaseID(ids.New())
	w := ledger.NewWriterAt(child, ledger.Author{Name: "N. Example", Role: "intensive-care nurse"}, func() time.Time { return wall }, ids, civil)
	rec := ledger.FoldCase(child, nil)
	do := func(es ...ledger.Event) { out = append(out, es...) }
	note = w.NewNote()
	do(w.OpenCase(), w.OpenNote(note, schema.Stage1))
	do(w.Set(rec, note, schema.ChildSurname, ledger.Entry{Value: fmt.Sprintf("Invented-%d", seed)}))
	do(w.Set(rec, note, schema.MeasuresDosingWeight, ledger.Number("3.2")))
	do(w.Set(rec, note, schema.OperationClosed, ledger.Entry{Value: civil().String()}))
	var in []ledger.ItemID
	for i, k := range items {
		id := w.NewItem()
		in = append(in, id)
		do(w.ListItem(note, id, k[0], i+1))
		if k[1] != "" {
			do(w.Set(rec, note, schema.ItemPath(string(id), "variety"), ledger.Entry{Value: k[1]}))
		}
	}
	chamber, total := in[11], 0
	var round ledger.EventID
	for i := 0; len(out) < n; i++ {
		wall = wall.Add(7 * time.Minute)
		id := in[i%len(in)]
		switch i % 6 {
		case 0:
			total += 1 + i%5
			o := ledger.Output{Total: fmt.Sprint(total), Colour: "serous", Swing: "yes"}
			if total > 1900 {
				total, o.Changed = 0, "yes"
			}
			do(w.ReadOutput(chamber, o))
		case 1:
			do(w.ReadPressure(in[1], ledger.Pressure{Mean: fmt.Sprint(6 + i%4)}))
		case 2:
			if i%300 == 2 {
				e := w.OpenRound()
				round = e.ID
				do(e)
			} else {
				do(w.AnswerNeed(round, id, ledger.StillNeeded, "in use"))
			}
		case 3:
			do(w.TestWires(in[7], ledger.WireTest{Threshold: "1.2", Rhythm: "sinus"}))
		default:
			do(w.Happen(ledger.KindChecked, id, ledger.RegisterFacts{Answer: ledger.Found}))
		}
	}
	return child, note, out[:n], civil()
}
