package lines

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Before lists the notes of what was done before a note's operation, the first first:
// by the day of the operation, or the day the note was begun while that is not
// recorded, then as they were begun. An operation may be written down late.
func Before(rec *ledger.Record, note ledger.NoteID) []ledger.NoteView {
	all := rec.Notes() // as they were begun
	day := map[ledger.NoteID]schema.Date{}
	for _, v := range all {
		if day[v.ID] = v.Happened.Date(); rec.Note(v.ID) != nil {
			day[v.ID] = cmp.Or(schema.Date(rec.Note(v.ID).Text(schema.OperationDate)), day[v.ID])
		}
	}
	sorting.By(all, func(a, b ledger.NoteView) int { return cmp.Compare(day[a.ID], day[b.ID]) })
	return all[:max(0, slices.IndexFunc(all, func(v ledger.NoteView) bool { return v.ID == note }))]
}

// Kept is what an earlier note says of the time before that a later note does not hold
// yet: an operation, a catheter procedure, where a stage was done. It is offered, and
// stands in the later note only when somebody takes it.
type Kept struct {
	By    ledger.NoteView // the note it stands in
	Parts []KeptPart

	list schema.Path
	row  string // of the later note, "" for a new one
	own  bool   // it is the operation the note itself is of
}

// KeptPart is one value of it.
type KeptPart struct {
	Title, Words string
	name         string      // in the row, or
	at           schema.Path // the place of a field that is in no list
	value        string
}

// history are the lists of a note that tell of the time before, what a row is of, and
// what tells two of one sort apart.
var history = []struct {
	list     schema.Path
	of, tell string
}{{schema.BeforeOperations, "operation", "facts"}, {schema.BeforeCatheterProcedures, "procedure", "detail"}}

// operations names each kind of note among the previous operations.
var operations = map[schema.Kind]string{schema.Stage1: "stage-1", schema.Stage2: "stage-2", schema.Stage3: "stage-3", schema.Closure: "delayed-closure",
	schema.Reexploration: "re-exploration", schema.ShuntRevision: "shunt-revision", schema.SupportOn: "support-on", schema.SupportOff: "support-off", schema.Takedown: "takedown"}

// firstStages are the forms of stage 1 that have a name of their own there.
var firstStages = map[string]string{"hybrid": "hybrid-stage-1", "shunt-alone": "shunt-alone", "main-pulmonary-band": "pulmonary-artery-band"}

// KeptBefore lists what the notes before one say that it does not hold yet, the first
// operation first. What two people say differently is left out, and what somebody
// wrote or took back in the later note is not offered again.
func KeptBefore(rec *ledger.Record, note ledger.NoteID) []Kept {
	n := rec.Note(note)
	if n == nil || schema.KindNamed(n.Kind()) == nil {
		return nil
	}
	before := Before(rec, note)
	var out []Kept
	for _, h := range history {
		var kept []Kept
		if h.list == schema.BeforeOperations {
			for _, v := range before {
				if k := operationOf(rec, v); len(k.Parts) > 1 {
					kept = append(kept, k)
				}
			}
		}
		for _, v := range slices.Backward(before) {
			then := rec.Note(v.ID)
			for _, row := range then.Rows(h.list) {
				k := Kept{By: v, list: h.list}
				for _, f := range schema.FieldAt(h.list).Rows {
					k.add(f, then.Text(schema.RowPath(h.list, row, f.Name)))
				}
				if len(k.Parts) > 0 && !slices.ContainsFunc(kept, func(o Kept) bool { return same(k.part, o.part, h.of, h.tell) }) {
					kept = append(kept, k)
				}
			}
		}
		sorting.By(kept, func(a, b Kept) int { return cmp.Compare(a.part("date"), b.part("date")) })
		taken := map[string]bool{}
		for _, k := range kept {
			for _, row := range n.Rows(h.list) {
				if !taken[row] && same(k.part, func(name string) string { return n.Text(schema.RowPath(h.list, row, name)) }, h.of, h.tell) {
					k.row, taken[row] = row, true
					k.Parts = slices.DeleteFunc(k.Parts, func(p KeptPart) bool { return len(rec.Values(note, schema.RowPath(h.list, row, p.name))) > 0 })
					break
				}
			}
			if len(k.Parts) > 0 {
				out = append(out, k)
			}
		}
	}
	for _, stage := range []struct {
		at   schema.Path
		kind schema.Kind
	}{{schema.BeforeStageOne, schema.Stage1}, {schema.BeforeStageTwo, schema.Stage2}} {
		f := schema.FieldAt(stage.at)
		if !f.In(n.Kind()) || len(rec.Values(note, stage.at)) > 0 {
			continue
		}
		by, value := ledger.NoteView{}, ""
		for _, v := range before {
			switch said := rec.Note(v.ID).Text(stage.at); {
			case v.Kind == stage.kind && len(operationOf(rec, v).Parts) > 1:
				by, value = v, "recorded-here"
			case value != "recorded-here" && said != "" && said != "recorded-here":
				by, value = v, said
			}
		}
		if value == "" {
			continue
		}
		i := slices.IndexFunc(out, func(k Kept) bool { return k.By.ID == by.ID && k.own })
		if i < 0 || value != "recorded-here" {
			i, out = len(out), append(out, Kept{By: by})
		}
		out[i].Parts = append(out[i].Parts, KeptPart{Title: f.Title, Words: f.Label(value), at: stage.at, value: value})
	}
	return out
}

// part is what is known of it under a name.
func (k *Kept) part(name string) string {
	for _, p := range k.Parts {
		if p.name == name {
			return p.value
		}
	}
	return ""
}

func (k *Kept) add(f *schema.Field, value string) {
	if value == "" {
		return
	}
	words := value
	switch {
	case len(f.Enum) > 0:
		words = f.Label(value)
	case f.Format == "date":
		words = schema.Date(value).Shown()
	}
	k.Parts = append(k.Parts, KeptPart{Title: f.Title, Words: words, name: f.Name, value: value})
}

// same tells whether two rows are about one thing: of one sort, and on one day as far
// as both say; where the sort says little, in like words. A first stage has several
// names, and there is one on a day.
func same(a, b func(string) string, of, tell string) bool {
	alike := func(name string) bool { return a(name) == "" || b(name) == "" || a(name) == b(name) }
	first := func(name string) bool {
		return name == "stage-1" || slices.Contains(slices.Collect(maps.Values(firstStages)), name)
	}
	if a(of) != b(of) {
		return a("date") != "" && a("date") == b("date") && first(a(of)) && first(b(of))
	}
	return alike("date") && (a(of) != "" && a(of) != "other" || alike(tell))
}

// operationOf is the operation a note is of, as a row of the previous operations.
func operationOf(rec *ledger.Record, v ledger.NoteView) Kept {
	k, n := Kept{By: v, list: schema.BeforeOperations, own: true}, rec.Note(v.ID)
	what := operations[v.Kind]
	if n == nil || what == "" {
		return k
	}
	values := map[string]string{
		"date":      n.Text(schema.OperationDate),
		"operation": cmp.Or(firstStages[n.Text(schema.Stage1Form)], what),
		"surgeon":   n.Text(schema.OperationSurgeon),
		"facts":     used(rec, v, n),
		"trouble":   trouble(rec, v, n),
	}
	for _, f := range schema.FieldAt(schema.BeforeOperations).Rows {
		k.add(f, values[f.Name])
	}
	return k
}

// used is what was done and used, in the surgeon's two lines and what the sheet tells
// first of the repair: sizes, materials, where it lies.
func used(rec *ledger.Record, v ledger.NoteView, n *schema.Note) string {
	var told []string
	if words := n.Text(schema.WorkSummary); words != "" {
		told = append(told, strings.TrimRight(words, ". "))
	}
	for _, s := range schema.SectionsOf(v.Kind) {
		switch s.Name {
		case "stage1", "supply", "hybrid", "stage2", "stage3", "between", "mechanical", "removals":
			for _, f := range s.FieldsIn(v.Kind) {
				if f.Sheet.Place == "done" && f.Sheet.Top && len(rec.Values(v.ID, f.Path)) < 2 && n.Relevant(f) && f.Format != "moment" {
					if words := toldOf(rec, v.ID, n, f); words != "" && n.Stated(f.Path) != schema.StatedUnknown {
						told = append(told, f.Title+": "+words)
					}
				}
			}
		}
	}
	return strings.Join(told, ". ")
}

// trouble is what went wrong at entry and after, as the note has it.
func trouble(rec *ledger.Record, v ledger.NoteView, n *schema.Note) string {
	var told []string
	for _, at := range []schema.Path{schema.ApproachInjuries, schema.WorkProblems} {
		if words := toldOf(rec, v.ID, n, schema.FieldAt(at)); words != "" && n.Stated(at) == "" {
			told = append(told, schema.FieldAt(at).Title+": "+words)
		}
	}
	return strings.Join(told, ". ")
}

// Take writes it into the later note, saying of each value from which note it is.
// from is the name of that note.
func (k Kept) Take(w *ledger.Writer, rec *ledger.Record, note ledger.NoteID, from string) []ledger.Event {
	var events []ledger.Event
	row := k.row
	for _, p := range k.Parts {
		at := p.at
		if at == "" {
			if row == "" {
				row = w.NewRow()
				events = append(events, w.AddRow(rec, note, k.list, row)...)
			}
			at = schema.RowPath(k.list, row, p.name)
		}
		events = append(events, w.Set(rec, note, at, ledger.Entry{Value: p.value, Origin: ledger.Origin{How: ledger.HowCopied, Words: from}}))
	}
	return events
}
