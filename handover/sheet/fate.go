package sheet

import (
	"slices"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// Fate is what happened to an item at the bed that its note does not say.
type Fate struct {
	Left  string // how much of it is left in, in words, if it came out in part
	How   string // cut and left, removed in part, lost, taken back to theatre; "": it is in, whole
	Words string // how much, where, who was told
	By    string
	At    schema.Moment
	Moved *Told  // where to, last
	Runs  []Runs // what was connected or disconnected since, by lumen
}

// Runs is what was recorded last of one lumen.
type Runs struct {
	Lumen string // "" for the only one, or not said
	What  string // "" for disconnected
	At    schema.Moment
}

// fateOf gathers it. Going with the child to another ward does not make a stump
// whole.
func fateOf(v *ledger.ItemView, it schema.Item) (f Fate) {
	_, _, f.Left = lines.LeftOf(v, it)
	for _, e := range v.Events {
		how := ""
		switch e.Kind {
		case ledger.KindCutLeft, ledger.KindLost, ledger.KindToTheatre:
			how = e.Kind
		case ledger.KindRemoved, ledger.KindExchanged:
			if e.Facts.RemovedPart() {
				how = string(e.Facts.Part())
			} else {
				f.How = ""
			}
		case ledger.KindMoved:
			f.Moved = &Told{Who: e.Facts.To, By: e.Author.Name, At: e.Happened}
			f.found()
		case ledger.KindConfirmed:
			f.found()
		case ledger.KindPlaced:
			f.How = ""
		case ledger.KindConnected, ledger.KindDisconnected:
			f.Runs = slices.DeleteFunc(f.Runs, func(r Runs) bool { return r.Lumen == e.Facts.Lumen })
			f.Runs = append(f.Runs, Runs{e.Facts.Lumen, e.Facts.Runs, e.Happened})
			if e.Kind == ledger.KindDisconnected {
				f.Runs[len(f.Runs)-1].What = ""
			}
		}
		if how == "" {
			continue
		}
		said := e.Facts.LeftBehind()
		for _, x := range [...]struct {
			is    bool
			words string
		}{
			{e.Facts.Time != "", "found out, its time is not known"},
			{e.Facts.Number != "", schema.ShowNumber(e.Facts.Number) + " came out"},
			{e.Facts.Length != "", schema.ShowNumber(e.Facts.Length) + " cm came out"},
			{e.Facts.Note != "", e.Facts.Note},
		} {
			if x.is {
				said = append(said, x.words)
			}
		}
		f.How, f.Words, f.By, f.At = how, strings.Join(said, ", "), e.Author.Name, e.Happened
	}
	return f
}

// found is that it was seen again: it is not lost, and a stump is a stump still.
func (f *Fate) found() {
	if f.How == ledger.KindLost || f.How == ledger.KindToTheatre {
		f.How = ""
	}
}

// fate adds what happened to an item to the words about it: all of it; without when
// and by whom; or, at the most brevity, only what it is now.
func (b *builder) fate(w *words, f Fate, brevity int) {
	at := func(m schema.Moment, by string) {
		if brevity == 0 {
			w.fixed(" (")
			if by != "" {
				w.value(by)
				w.fixed(", ")
			}
			w.value(b.when(m))
			w.fixed(")")
		}
	}
	if f.How != "" {
		w.sep(", ")
		w.add(Caution, strings.ToUpper(f.How))
		if f.Words != "" && brevity < most {
			w.fixed(": ")
			w.strong(f.Words)
		}
		at(f.At, name(f.By))
	}
	if f.Moved != nil {
		w.sep(", ")
		w.fixed("MOVED to ")
		if f.Moved.Who == "" {
			w.missing()
		}
		w.strong(f.Moved.Who)
		at(f.Moved.At, "")
	}
	for _, r := range f.Runs {
		w.sep(", ")
		if r.Lumen != "" {
			w.value(r.Lumen)
			w.fixed(": ")
		}
		if r.What == "" {
			w.fixed("now disconnected")
		} else {
			w.fixed("now runs ")
			w.strong(r.What)
		}
		at(r.At, "")
	}
}

// changed tells whether anything happened to it.
func (f Fate) changed() bool { return f.How != "" || f.Moved != nil || len(f.Runs) > 0 }
