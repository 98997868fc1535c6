package values

import (
	"encoding/json"

	"fairlead/handover/calc"
	"fairlead/handover/calc/growth"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// Kept keeps what was worked out of one note and, when the record has grown, works
// out again only what depends on what was said since. It is told of every event by
// Took; of one it was not told, it works out all again. The zero Kept is ready.
type Kept struct {
	of     kept
	len    int // events in the record when it was last worked out
	took   []ledger.Event
	engine *calc.Engine
	grown  []calc.Result
	v      Values
	ran    int
}

// kept is what the values hold for.
type kept struct {
	rec   *ledger.Record
	note  ledger.NoteID
	prof  *profile.Profile
	today schema.Date
}

// Took says which events the record takes in that it did not have. It is called
// before or after the record takes them.
func (k *Kept) Took(fresh ...ledger.Event) { k.took = append(k.took, fresh...) }

// Ran is how many parts the last call of Values worked out, out of how many there
// are: the calculations, growth, the infusions both ways, the picture and the card.
func (k *Kept) Ran() (ran, of int) {
	if k.engine == nil {
		return 0, 0
	}
	_, of = k.engine.Ran()
	return k.ran, of + 4
}

// Values is what [FromRecord] gives.
func (k *Kept) Values(r *ledger.Record, note ledger.NoteID, p *profile.Profile, today schema.Date) Values {
	of, took := kept{r, note, p, today}, k.took
	grew := r.Len() - k.len
	k.took, k.len, k.ran = nil, r.Len(), 0
	if k.engine != nil && of == k.of && grew == 0 && len(took) == 0 {
		return k.v
	}
	n, about := r.Whole(note), calc.FromRecord(r, note)
	if n == nil {
		*k = Kept{}
		return Values{}
	}
	changed, elsewhere, told := changes(took, note)
	if k.engine == nil || of != k.of || grew != len(took) || !told {
		k.of, k.engine = of, calc.New(p, about)
		changed = []schema.Path{""}
	}
	all := len(changed) == 1 && changed[0] == ""
	due := func(reads []schema.Path) bool {
		if all || calc.Concerns(reads, changed) {
			k.ran++
			return true
		}
		return false
	}
	var results []calc.Result
	if all {
		results = k.engine.Compute(n)
	} else {
		results = k.engine.Update(n, changed...)
	}
	ran, _ := k.engine.Ran()
	k.ran += ran
	if due(calc.InfusionReads) {
		k.v.Infusions = calc.Infusions(n, p)
	}
	if due(calc.TimelineReads) {
		k.v.Timeline = calc.TimelineOf(n)
	}
	if due(calc.CardReads) {
		k.v.Card = calc.CardOf(n, p, about, today)
	}
	if elsewhere && !all && !calc.Concerns(growth.Reads, changed) {
		changed = append(changed, growth.Reads...)
	}
	if due(growth.Reads) {
		k.grown = growth.Results(n, p, about, Earlier(r, note))
	}
	k.v.group(results, k.grown)
	return k.v
}

// changes are the places of the note that events speak of; elsewhere is true if
// one speaks of another note. ok is false if one may change anything.
func changes(events []ledger.Event, note ledger.NoteID) (places []schema.Path, elsewhere, ok bool) {
	for _, e := range events {
		switch e.Kind {
		case ledger.KindFieldSet, ledger.KindRowAdded, ledger.KindRowRemoved:
		default:
			return nil, false, false
		}
		var b struct{ Path, List schema.Path }
		if json.Unmarshal(e.Body, &b) != nil || b.Path+b.List == "" {
			return nil, false, false
		}
		if e.Note != "" && e.Note != note {
			elsewhere = true
			continue
		}
		places = append(places, b.Path+b.List)
	}
	return places, elsewhere, true
}
