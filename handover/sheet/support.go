package sheet

import (
	"fairlead/handover/calc"
	"fairlead/handover/sheet/timeline"
	"fairlead/schema"
)

// supportLists are the lists of periods, with the short names the minutes go by and
// the value that they come to.
var supportLists = []struct {
	path schema.Path
	name string
	id   calc.ID
}{
	{schema.SupportRuns, "bypass", "bypass-time"},
	{schema.SupportClamps, "clamp", "clamp-time"},
	{schema.SupportArrests, "circulatory arrest", "arrest-time"},
	{schema.SupportPerfusions, "selective cerebral perfusion", "perfusion-time"},
}

// minutes is the line of the support times in minutes, summed over the periods.
func (b *builder) minutes() (Line, bool) {
	w := words{{"Minutes: ", Label}}
	any := false
	minutes := b.totals()
	for _, s := range supportLists {
		a := b.read(s.path)
		if a.field == nil || !inKind(b.kind, a.field) || !b.due(a) {
			continue
		}
		if any {
			w.fixed(", ")
		}
		any = true
		w.label(s.name + " ")
		switch r, _ := calc.Find(minutes, s.id); {
		case r.OK:
			w.strong(calc.Number(r.Value, 0))
		case len(r.Wanted) > 0 && (len(b.rows(a)) > 0 || r.Wanted[0].Path != s.path):
			w.fixed("not computed: ")
			w.add(Missing, r.Wanted[0].Name+" "+r.Wanted[0].Why)
		default:
			w.append(loud(b.show(a)))
			b.untell(a) // the times tell it again, in full
		}
	}
	return Line{Spans: w}, any
}

// totals are the minutes of support, as they are worked out everywhere; of the note
// as it stands, whatever the caller has computed.
func (b *builder) totals() []calc.Result {
	if b.f.Computed == nil {
		return b.computedNow()
	}
	return calc.Some(b.n, b.prof, b.about(), totals...)
}

// totals are the values that the lists of periods come to.
var totals = func() (ids []calc.ID) {
	for _, s := range supportLists {
		ids = append(ids, s.id)
	}
	return ids
}()

// clock is the drawing of the times of support, for the printed page.
func (b *builder) clock() Block {
	bl := Block{ID: "clock", Title: "Support by the clock", Form: Clock, Keep: 2}
	for _, s := range supportLists { // a drawing shows no disagreement
		for _, r := range b.rowsAt(s.path) {
			if r.at("on").disputed() || r.at("off").disputed() || r.at("minutes").disputed() {
				return bl
			}
		}
	}
	if d, ok := timeline.Draw(calc.TimelineOf(b.n), clockWidth); ok {
		bl.Times = &d
	}
	return bl
}

// clockWidth is the width of the drawing in its own units: its type is then the
// size of the page's in half the width of the page.
const clockWidth = 380

// times are the times of the operation and of support.
func (b *builder) times() Block {
	bl := Block{ID: "times", Title: "Support and times", Form: Listed, Keep: 3}
	bl.Lines = b.bySection("times")
	return bl
}
