package sheet

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// TransferOf makes the transfer sheet: what is in the child on leaving for another
// ward or home, item by item, with who there knows of it and when it must come out,
// as was said. It is a pure function of the record, the unit's settings and the
// moment. It is nil while the record says nothing of a child.
func TransferOf(rec *ledger.Record, prof *profile.Profile, at schema.Moment, paper Paper) *Sheet {
	if rec.Len() == 0 {
		return nil
	}
	if prof == nil {
		prof = shipped()
	}
	r := lines.RegisterOf(rec, prof, at)
	n := rec.Child()
	f := Facts{Note: n, Profile: prof, At: at, News: map[string]News{}}
	if r.Note != "" {
		if facts, ok := FromRecord(rec, r.Note, prof, at); ok {
			f = facts
		}
	}
	who := newBuilder(f)
	f.Note, f.Fates = n, map[string]Fate{}
	for _, e := range r.Items {
		f.Fates[e.Item.ID] = fateOf(&e.View, e.Item)
	}
	b := newBuilder(f)
	b.day = "" // every moment with its date
	s := &Sheet{Title: "Transfer sheet", Note: string(r.Note), Paper: paper, Head: who.head()}
	s.Foot = []Span{{"Made " + at.Shown() + " from what was recorded until then. Look at the child: what is there counts, not this sheet. Local protocols and the clinicians in charge decide.", Fixed}}

	to := Block{ID: "transfer-to", Title: "Goes to", Stays: true}
	stays := Block{ID: "transfer-stays", Title: "Stays inside for good, by tag", Form: Table, Heads: []string{"Tag", "What", "Placed"}, Widths: []int{6, 70, 24}, Stays: true}
	goes := Block{ID: "transfer-items", Title: "Everything in the child, by tag", Form: Table, Heads: []string{"Tag", "What, and where it comes out", "In since", "Last read, and seen", "Who there knows of it", "Must come out, or stays because"},
		Widths: []int{5, 27, 12, 22, 15, 19}, Stays: true}
	var wards []string
	for _, e := range r.Items {
		in := b.look(e.Item)
		l := b.itemLine(&in)
		l.Checks = nil
		what := words(l.Spans)
		if who.cavopulmonary() && neckLine(e.Item) && e.View.Where.In() {
			to.Lines = append(to.Lines, Line{Frame: true, Spans: []Span{{"Tag " + strconv.Itoa(e.Tag) + ": " + b.wording(profile.WordsNeckLine, cautionNeck), Caution}}})
		}
		tag, since := []Span{{strconv.Itoa(e.Tag), Strong}}, words{{e.Since.Shown(), Value}}
		if !e.SinceSure {
			since.fixed(" (listed; when it was placed is not recorded)")
		}
		if e.Implant {
			l.Cells = [][]Span{tag, what, since}
			stays.Lines = append(stays.Lines, l)
			continue
		}
		var said *ledger.ItemEvent
		for i := range e.View.Events {
			switch x := &e.View.Events[i]; x.Kind {
			case ledger.KindTransferred, ledger.KindGoneHome:
				said = x
			}
		}
		var knows, out words
		if said != nil && (e.View.Where == ledger.Transferred || e.View.Where == ledger.GoneHome) {
			ward := "home"
			if said.Kind == ledger.KindTransferred {
				ward = said.Facts.Ward
			}
			if ward != "" && !slices.Contains(wards, ward) {
				wards = append(wards, ward)
			}
			knows.value(said.Facts.Knows)
			out.value(said.Facts.OutBy)
			if said.Facts.Note != "" {
				out.sep(" · ")
				out.value(said.Facts.Note)
			}
			if len(knows) > 0 {
				knows.fixed(", says " + name(said.Author.Name) + ", " + said.Happened.Shown())
			}
		}
		for _, w := range []*words{&knows, &out} {
			if len(*w) == 0 {
				w.missing()
			}
		}
		if e.Dwell.Limit > 0 {
			out.fixed(" · ")
			out.value(e.Dwell.Words)
		}
		l.Cells = [][]Span{tag, what, since, lastRead(e, r), knows, out}
		goes.Lines = append(goes.Lines, l)
	}
	w := words{}
	for i, ward := range wards {
		if i > 0 {
			w.fixed("; ")
		}
		w.strong(ward)
	}
	if len(w) == 0 {
		w.missing()
	}
	to.Lines = append([]Line{{Spans: w}}, to.Lines...)
	if len(goes.Lines) == 0 {
		goes.Form, goes.Lines = Listed, []Line{{Spans: []Span{{"Nothing is listed that would have to come out. Look at the child.", Caution}}, Frame: true}}
	}
	for _, x := range r.Left {
		to.Lines = append(to.Lines, Line{Spans: []Span{{strings.ToUpper(x.Words), Caution}}, Frame: true, Loud: true})
	}
	open := Block{ID: "transfer-open", Title: "Open: to be settled by whoever takes the child over", Stays: true}
	for _, p := range r.Open {
		w := words{}
		if p.Tag > 0 {
			w.strong("Tag " + strconv.Itoa(p.Tag) + " ")
		}
		w.value(p.Name)
		w.sep(": ")
		w.add(Caution, p.Words)
		if !p.At.IsZero() {
			w.fixed(" (" + name(p.By.Name) + ", " + p.At.Shown() + ")")
		}
		open.Lines = append(open.Lines, Line{Spans: w})
	}
	for _, x := range r.Faults {
		open.Lines = append(open.Lines, Line{Spans: []Span{{x.What + " " + x.Do, Conflict}}})
	}
	if len(open.Lines) == 0 {
		open.Lines = []Line{{Spans: []Span{{"None is recorded as open.", Fixed}}}}
	}
	asked := Block{ID: "transfer-asked", Title: "Asked before the child went home with it", Stays: true}
	if ended, ok := rec.StayEnded(); ok && lines.StayOver(rec) {
		for _, c := range rec.StayAsked() {
			asked.Lines = append(asked.Lines, Line{Spans: words{{c.What + " ", Value}, {c.Answer, Strong}, {", recorded by ", Fixed}, {name(ended.Author.Name) + ", " + ended.Happened.Shown(), Value}}})
		}
	}
	due := Block{ID: "transfer-due", Title: "To be looked at again", Stays: true}
	for _, d := range r.Due {
		if d.What == lines.DueSite || d.What == lines.DueLook {
			due.Lines = append(due.Lines, Line{Spans: words{{"Tag " + strconv.Itoa(d.Tag) + " ", Strong}, {d.Name, Value}, {": " + d.Words + ", by ", Fixed}, {d.At.Shown(), Value}}})
		}
	}
	hands := Block{ID: "transfer-hands", Title: "Looked at together, item by item", Form: Table, Heads: []string{"Who", "Name and role", "Date and time"}, Widths: []int{24, 46, 30}, Stays: true}
	for _, who := range []string{"Handed over by", "Taken over by"} {
		hands.Lines = append(hands.Lines, Line{Cells: [][]Span{{{who, Label}}, {{" ", Fixed}}, {{" ", Fixed}}}})
	}
	s.take(counted(to, goes, stays, open, asked, due, hands))
	s.Pages = lay(s)
	return s
}

// measuredBy tells whether a reading has a figure.
func measuredBy(x lines.Read) bool {
	p := x.Facts.Pressure
	return p != nil && p.Mean+p.Systolic+p.Diastolic != ""
}

// lastRead says what was read of an item last, when and by whom, and when it was
// seen since. Where a reading is to be expected and there is none, it says so.
func lastRead(e lines.InChild, r lines.Register) words {
	var w words
	add := func(said string, x lines.Read) {
		w.sep(" · ")
		w.value(said)
		w.fixed(" (" + x.At.Shown() + ", " + name(x.By.Name) + ")")
	}
	wanted, last := "", schema.Moment{}
	if d := e.Drainage; d != nil && d.Of != e.ID {
		c, _ := r.Item(d.Of)
		w.fixed("volume: see tag " + strconv.Itoa(c.Tag))
	} else if d != nil {
		wanted = "what it drained"
		if d.Total > 0 {
			w.strong(calc.Shown(d.Total, 1, "mL"))
			w.fixed(" in all, as far as is known")
		}
	}
	var read []lines.Read
	if e.Drainage != nil {
		for _, x := range e.Drainage.Readings {
			for _, own := range e.View.Events {
				if own.Event == x.Event {
					read = append(read, x)
				}
			}
		}
		read = read[max(0, len(read)-1):]
	}
	if k := schema.ItemKindNamed(e.Item.Kind); k != nil && k.Intracardiac {
		wanted = "pressure"
	}
	if n := len(e.Pressures); n > 0 {
		figure := n - 1 // the newest that has one: a trace alone is no pressure
		for figure > 0 && !measuredBy(e.Pressures[figure]) {
			figure--
		}
		if figure < n-1 && measuredBy(e.Pressures[figure]) {
			read = append(read, e.Pressures[figure])
		}
		read = append(read, e.Pressures[n-1])
	}
	if e.Item.Kind == "pacing-wires" {
		wanted = "threshold"
	}
	told := map[[2]string]bool{} // the newest test that says each thing, wire by wire
	for i := len(e.Tests) - 1; i >= 0; i-- {
		t, news := e.Tests[i].Facts.Test, false
		if t == nil {
			continue
		}
		for thing, said := range [...]bool{t.Threshold != "", t.Sensing != "", t.Mode+t.Rate+t.Output+t.Connection != "", !t.LastNeeded.IsZero()} {
			if key := [2]string{t.Site, strconv.Itoa(thing)}; said && !told[key] {
				told[key], news = true, true
			}
		}
		if news {
			read = append(read, e.Tests[i])
		}
	}
	for _, x := range read {
		if x.At.After(last) {
			last = x.At
		}
		add(strings.Join(x.Facts.Words(), ", "), x)
	}
	if len(read) == 0 && wanted != "" {
		w.sep(" · ")
		w.label(wanted + " ")
		w.missing()
	}
	switch {
	case e.Seen == nil:
		w.sep(" · ")
		w.fixed("not seen since it was listed")
	case len(read) == 0 || e.Seen.At.After(last):
		w.sep(" · ")
		w.fixed(e.Seen.How + " " + e.Seen.At.Shown() + ", " + name(e.Seen.By.Name))
	}
	return w
}
