package ui

import (
	"encoding/json"
	"strings"

	"fairlead/app/ui/civil"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// unitBoard is the board of the invented children.
func (g *gallery) unitBoard(filter string) {
	g.place = Place{Screen: "board"}
	g.board = board{read: true, filter: filter}
	for _, c := range append([]ledger.CaseID{g.full}, g.others...) {
		rec := ledger.FoldCase(c, g.events[c])
		child := lines.UnitChildOf(lines.RegisterOf(rec, g.profile(), civil.Now(g.zone)))
		id := identityIn(rec)
		child.Case, child.Who, child.Number = c, id.Name(), id.numberShown()
		g.board.all = append(g.board.all, child)
	}
	lines.SortUnit(g.board.all)
	g.boardDrawn()
}

// counting is what is counted over the invented children.
func (g *gallery) counting(kind string) {
	g.place, g.counts.kind, g.counts.of = Place{Screen: "counts"}, kind, lines.NewCounts(civil.Now(g.zone))
	for _, c := range append([]ledger.CaseID{g.full}, g.others...) {
		g.counts.of.Add(ledger.FoldCase(c, g.events[c]))
	}
}

// dictated is a dictation with something of every sort in it. What the reader would
// say is written out here: the reader is not a part of the app.
func (g *gallery) dictated() {
	g.open(g.full, 0, "dictate", "")
	text := "Clamp sixty two minutes. Milrinone at point five. Weight three point four, weight three point six. No left pleural drain. It went well."
	r := said{Text: text}
	piece := func(words string, p proposed) {
		at := r.end() + strings.Index(text[r.end():], words)
		if gap := r.end(); gap < at {
			r.add(gap, at)
		}
		p.Why = words
		r.Proposals = append(r.Proposals, p)
		r.add(at, at+len(words), len(r.Proposals)-1)
	}
	piece("Clamp sixty two minutes", proposed{Path: schema.SupportClampTotal, Value: "62", Sure: "sure"})
	piece("Milrinone at point five", proposed{Path: "infusions.running.*.drug", Group: "infusions.running#1", Value: "milrinone", Sure: "check", Note: "the unit was not said"})
	piece("Weight three point four, weight three point six", proposed{Path: schema.MeasuresWeight, Value: "", Other: []string{"3.4", "3.6"}, Sure: "conflict"})
	piece("left pleural drain", proposed{Path: "items.drain.variety", Group: "items#1", Value: "left-pleural", Sure: "sure"})
	r.add(r.end(), len(text))
	r.Groups = []grouped{{ID: "infusions.running#1", List: "infusions.running", Sure: "check"}, {ID: "items#1", List: "items", Kind: "drain", Denied: true, Sure: "sure", Why: "No left pleural drain"}}
	b, err := json.Marshal(r)
	if err != nil {
		panic(err) // plain data: it cannot fail
	}
	g.reader.fixed = string(b)
	g.child.half["dictated-"+string(g.place.Note)] = text
}

func (r *said) end() int {
	if len(r.Pieces) == 0 {
		return 0
	}
	return r.Pieces[len(r.Pieces)-1].End
}

func (r *said) add(from, to int, proposals ...int) {
	r.Pieces = append(r.Pieces, struct {
		Start, End int
		Proposals  []int
	}{from, to, proposals})
}
