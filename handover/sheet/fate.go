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
	Cut   string // that it, or how many of it, was cut and left inside, in words
	Said  string // of what was cut: how much, who was told; by whom and when
	CutBy string
	CutAt schema.Moment
	How   string // removed in part, lost, taken back to theatre; "": it is in, whole, or only what was cut
	Words string // how much, where, who was told
	By    string
	At    schema.Moment
	Goes  string // that it goes with the child, who has not left, in words
	Moved *Told  // where to, last
	Runs  []Runs // what was connected or disconnected since, by lumen

	Stand, Then ledger.Stand // as what it counts now, and when the operation ended
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
	rest := lines.LeftOf(v, it)
	f.Left, f.Stand, f.Then = rest.Part, v.Stand(), v.Stand()
	if v.Going {
		f.Goes = lines.Went(*v)
	}
	if e := rest.By; e != nil {
		f.Cut, f.Said, f.CutBy, f.CutAt = rest.Cut, e.Facts.Note, e.Author.Name, e.Happened
	}
	for _, e := range v.Events {
		how := ""
		switch e.Kind {
		case ledger.KindCutLeft:
			if e.Facts.Others != "yes" {
				f.How = ""
			}
		case ledger.KindLost, ledger.KindToTheatre:
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
	state := func(how, words, by string, m schema.Moment) {
		if how == "" {
			return
		}
		w.sep(", ")
		w.add(Caution, strings.ToUpper(how))
		if words != "" && brevity < most {
			w.fixed(": ")
			w.strong(words)
		}
		at(m, name(by))
	}
	state(f.Cut, f.Said, f.CutBy, f.CutAt)
	state(f.How, f.Words, f.By, f.At)
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
func (f Fate) changed() bool { return f.How+f.Cut != "" || f.Moved != nil || len(f.Runs) > 0 }
