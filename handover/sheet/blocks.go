package sheet

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

// done is the operation in two lines and the one phrase on which the child's
// circulation hangs.
func (b *builder) done() Block {
	bl := Block{ID: "done", Title: "What was done", Form: Listed, Stays: true}
	b.tell(schema.OperationDate, schema.OperationClosed, schema.OperationSurgeon)
	if b.has(schema.WorkSummary) || b.wanted(schema.WorkSummary) {
		bl.Lines = append(bl.Lines, Line{Spans: loud(b.shown(schema.WorkSummary)), Loud: true})
	}
	for _, p := range []schema.Path{schema.BetweenCirculationNow, schema.RemovalsChanged} {
		if f := schema.FieldAt(p); f != nil && (b.has(p) || b.wanted(p)) {
			l := b.labelled(b.read(p))
			l.Spans, l.Loud = loud(l.Spans), true
			bl.Lines = append(bl.Lines, l)
		}
	}
	if phrase := b.supplyPhrase(); phrase != nil {
		label := "Lung supply: "
		if b.kind == schema.Stage1 || b.kind == schema.ShuntRevision {
			label = "Only lung supply: "
		}
		w := words{{label, Label}}
		w.append(phrase)
		bl.Lines = append(bl.Lines, Line{Spans: w, Loud: true})
	}
	return bl
}

// worries are the surgeon's own, in order, each with its first action, and what
// to do in a sudden desaturation.
func (b *builder) worries() Block {
	b.others = nil
	bl := Block{ID: "worries", Title: "Worries, and what to do first", Form: Listed, Stays: true, Strip: 1}
	p := schema.PlanWorries
	rows := b.rowsAt(p)
	if b.read(p).disputed() || len(rows) == 0 {
		bl.Lines = append(bl.Lines, b.labelled(b.read(p)))
		bl.Lines = append(bl.Lines, b.before(p, "worry", "worries")...)
	} else {
		b.tell(p)
		for i, r := range rows {
			w := words{{strconv.Itoa(i+1) + ". ", Fixed}}
			w.append(b.row(r))
			bl.Lines = append(bl.Lines, Line{Spans: w, Loud: true})
		}
	}
	var w words
	for _, f := range b.at["worries"] {
		switch a := b.of(f); {
		case b.isTold(a) || !b.due(a):
		case f.Sheet.Top:
			w.sep(" · ")
			w.append(b.labelled(a).Spans)
		default:
			b.others = append(b.others, b.labelled(a))
		}
	}
	if len(w) > 0 {
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	return bl
}

// moreWorries adds the other concerns to the worries, where there is room.
func (b *builder) moreWorries(bl Block) Block {
	if b.brevity > 0 || len(b.others) == 0 {
		return bl
	}
	var w words
	for _, l := range b.others {
		w.sep(" · ")
		w.append(l.Spans)
	}
	bl.Lines = append(slices.Clone(bl.Lines), Line{Spans: w})
	return bl
}

// concerns are the other concerns, where the first page has no room for them.
func (b *builder) concerns() Block {
	bl := Block{ID: "concerns", Title: "Other concerns", Form: Running, Keep: 9}
	if b.brevity > 0 {
		bl.Lines = b.others
	}
	return bl
}

// call is whom to call, and for what.
func (b *builder) call() Block {
	bl := Block{ID: "call", Title: "Whom to call", Form: Running, Stays: true}
	if b.has(schema.PlanFirstCall) || b.wanted(schema.PlanFirstCall) {
		w := words{{"First: ", Label}}
		w.append(loud(b.shown(schema.PlanFirstCall)))
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	b.tell(schema.PlanCalls) // in the table of targets
	bl.Lines = append(bl.Lines, b.flow("call")...)
	return bl
}

// top is what else the first third of the page must say at this stage: the
// fields say so themselves.
func (b *builder) top() Block {
	bl := Block{ID: "top", Title: "At this stage", Form: Running, Stays: true}
	b.tell(schema.PlanTargets) // in the table of targets
	for _, f := range b.at["top"] {
		a := b.of(f)
		if b.isTold(a) || !b.due(a) || f.Sheet.Place == "items" || inTable[f.Path] || inMinutes(f.Path) || f.Section == "child" {
			continue
		}
		if a.value == false {
			continue // "number is provisional: no" is for the history
		}
		l := b.labelled(a)
		if f.Path == schema.ClosingCovering {
			l.Spans = append(l.Spans, b.packed(f.Path)...)
		}
		l.Spans, l.Done = loud(l.Spans), f.Sheet.Place == "done"
		bl.Lines = append(bl.Lines, l)
	}
	if l, ok := b.minutes(); ok {
		bl.Lines = append(bl.Lines, l)
	}
	cautions := b.armCautions()
	if b.patencyUnknown() {
		cautions = append(cautions, b.wording(profile.WordsPatency, cautionPatency))
	}
	if b.veins() && b.crossing() {
		cautions = append(cautions, b.wording(profile.WordsAir, cautionAir))
	}
	var w words
	for _, c := range cautions {
		w.sep(" · ")
		w.add(Caution, c)
	}
	if len(w) > 0 {
		bl.Lines = append(bl.Lines, Line{Spans: w, Frame: true})
	}
	return bl
}

// spansOfTags writes tags in order, three or more in a row as a span.
func spansOfTags(tags []int) string {
	var parts []string
	for i := 0; i < len(tags); {
		j := i
		for j+1 < len(tags) && tags[j+1] == tags[j]+1 {
			j++
		}
		switch {
		case j-i >= 2:
			parts = append(parts, strconv.Itoa(tags[i])+"–"+strconv.Itoa(tags[j]))
		case j > i:
			parts = append(parts, strconv.Itoa(tags[i]), strconv.Itoa(tags[j]))
		default:
			parts = append(parts, strconv.Itoa(tags[i]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// out are the items no longer in the child, as the record has them, else as the
// note lists them; and in words of their own those that left the unit in the child.
func (b *builder) out(loudly bool) []Line {
	w, goes := words{{"OUT: ", Label}}, words{{"WENT WITH THE CHILD, STILL IN: ", Label}}
	f := schema.FieldAt(schema.RemovalsOut)
	if f != nil && inKind(b.kind, f) && b.has(schema.RemovalsOut) {
		w.append(loud(b.shown(schema.RemovalsOut)))
	}
	said := map[string]bool{}
	for _, r := range b.rowsAt(schema.RemovalsOut) {
		said[r.Text("item")] = true
	}
	for _, g := range b.f.Gone {
		to := &w
		if g.withChild() {
			to = &goes
		} else if said[g.Item] {
			continue
		}
		if len(*to) > 1 {
			to.fixed("; ")
		}
		to.strong("tag " + strconv.Itoa(g.Tag))
		to.fixed(" ")
		to.value(low(g.Words))
		if f := g.Fate; g.withChild() {
			f.Moved, f.Runs = nil, nil
			b.fate(to, f, 0)
		}
		to.fixed(", " + g.How)
		if !g.At.IsZero() {
			to.fixed(" ")
			to.value(b.when(g.At))
		}
	}
	var out []Line
	switch {
	case len(w) > 1:
		out = []Line{{Spans: w, Loud: loudly}}
	case len(goes) == 1 || loudly:
		w.missing()
		out = []Line{{Spans: w, Loud: loudly}}
	}
	if len(goes) > 1 {
		out = append(out, Line{Spans: goes, Loud: loudly})
	}
	return out
}

// going are the items that go with the child, who has not left: they are in and at the bed.
func (b *builder) going() []Line {
	w := words{{"TO GO WITH THE CHILD: ", Label}}
	for _, in := range b.items {
		if goes := b.f.Fates[in.ID].Goes; goes != "" {
			if len(w) > 1 {
				w.fixed("; ")
			}
			w.strong("tag " + strconv.Itoa(in.Tag))
			w.fixed(" ")
			w.value(low(in.name) + ", " + goes)
		}
	}
	if len(w) == 1 {
		return nil
	}
	return []Line{{Spans: w}}
}

func inMinutes(p schema.Path) bool {
	for _, s := range supportLists {
		if s.path == p {
			return true
		}
	}
	return false
}

// changed is, for the operations in between, what is new, what is out and what
// is as it was.
func (b *builder) changed() Block {
	bl := Block{ID: "changed", Title: "Changed", Form: Listed, Stays: true}
	switch b.kind {
	case schema.Stage1, schema.Stage2, schema.Stage3:
		return bl
	}
	var fresh, same []int
	since := words{{"CHANGED SINCE IT WAS LISTED: ", Label}}
	for _, it := range b.items {
		tag := it.Tag
		switch fate := b.f.Fates[it.ID]; {
		case b.news(it.Item) == New:
			fresh = append(fresh, tag)
		case fate.changed():
			if len(since) > 1 {
				since.fixed("; ")
			}
			since.strong("tag " + strconv.Itoa(tag))
			since.fixed(" ")
			since.value(low(it.name))
			b.fate(&since, fate, most) // its row says more
		default:
			same = append(same, tag)
		}
	}
	tags := func(label string, list []int) {
		w := words{{label, Label}}
		if len(list) == 0 {
			w.add(Stated, "none")
		} else {
			w.strong("tags " + spansOfTags(list))
		}
		bl.Lines = append(bl.Lines, Line{Spans: w, Loud: true})
	}
	tags("NEW: ", fresh)
	bl.Lines = append(bl.Lines, b.out(true)...)
	if len(since) > 1 {
		bl.Lines = append(bl.Lines, Line{Spans: since, Loud: true})
	}
	tags("UNCHANGED: ", same)
	if b.has(schema.RemovalsPacksExpected) || b.has(schema.RemovalsPacksRetrieved) || b.wanted(schema.RemovalsPacksRetrieved) {
		w := words{{"PACKS RETRIEVED: ", Label}}
		w.append(loud(b.shown(schema.RemovalsPacksRetrieved)))
		w.fixed(" of ")
		w.append(loud(b.shown(schema.RemovalsPacksExpected)))
		short := b.n.Decimal(schema.RemovalsPacksRetrieved) != b.n.Decimal(schema.RemovalsPacksExpected)
		bl.Lines = append(bl.Lines, Line{Spans: w, Loud: true, Frame: short})
	}
	return bl
}

// news is how an item stands to this operation: as the record says, else by
// where it was put in.
func (b *builder) news(it schema.Item) News {
	if n, ok := b.f.News[it.ID]; ok {
		return n
	}
	if at, ok := it.Moment("placed"); ok && b.day != "" {
		if days, ok := b.day.DaysTo(at.Date()); ok && days < 0 {
			return Unchanged
		}
	}
	switch it.Text("placedWhere") {
	case "before-theatre", "intensive-care", "catheter-laboratory", "delivery-unit", "elsewhere", "earlier-stay":
		return Unchanged
	}
	return New
}

// infusions are by line and lumen, the lines in order of their tags.
func (b *builder) infusions() Block {
	bl := Block{ID: "infusions", Title: "Infusions, by line and lumen", Form: Listed, Keep: 8}
	p := schema.InfusionsRunning
	f := schema.FieldAt(p)
	if f == nil || !inKind(b.kind, f) {
		return bl
	}
	rows := slices.Clone(b.rowsAt(p))
	if len(rows) == 0 || b.read(p).disputed() {
		if b.has(p) || b.wanted(p) {
			bl.Lines = append(bl.Lines, b.labelled(b.read(p)))
		}
	}
	b.tell(p)
	tag := func(r *row) int {
		it, ok := b.n.Item(r.Text("item"))
		if !ok {
			return 1 << 20
		}
		return it.Tag
	}
	sorting.By(rows, func(x, y *row) int {
		if d := tag(x) - tag(y); d != 0 {
			return d
		}
		return strings.Compare(x.Text("lumen"), y.Text("lumen"))
	})
	for _, r := range rows {
		w := words{}
		w.append(loud(r.get("item")))
		if w[0].Kind == Missing {
			w = words{{"Line ", Label}, w[0]}
		}
		r.put(&w, " ", "lumen", "")
		w.fixed(": ")
		w.append(infusion(b, r))
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	bl.Lines = append(bl.Lines, b.flow("infusions")...)
	return bl
}

// blood is products and clotting, the last doses and the next.
func (b *builder) blood() Block {
	return Block{ID: "blood", Title: "Blood, clotting and doses", Form: Listed, Keep: 4, Lines: b.bySection("blood")}
}

func (b *builder) plan() Block {
	return Block{ID: "plan", Title: "Plan", Form: Listed, Keep: 6, Lines: b.bySection("plan")}
}

// work is what was done, in full.
func (b *builder) work() Block {
	return Block{ID: "work", Title: "What was done, in full", Form: Listed, Keep: 2, Lines: b.bySection("done")}
}

// history is who the child is beyond the banner.
func (b *builder) history() Block {
	return Block{ID: "history", Title: "The child's heart and history", Form: Listed, Keep: 1, Lines: b.bySection("who")}
}

// state now that no target speaks of.
func (b *builder) rest() Block {
	return Block{ID: "state-now", Title: "State now, in full", Form: Listed, Keep: 7, Lines: b.bySection("now")}
}

// unplaced are fields that name a place this version does not know: shown
// rather than lost.
func (b *builder) unplaced() Block {
	bl := Block{ID: "more", Title: "More", Form: Running, Keep: 1}
	for _, place := range b.places {
		bl.Lines = append(bl.Lines, b.flow(place)...)
	}
	return bl
}

// signatures are the people, the names that stand for the note, and what
// happened to it since.
func (b *builder) signatures() Block {
	bl := Block{ID: "signatures", Title: "Names (typed, not authenticated)", Form: Running, Keep: 5}
	for _, s := range b.f.Signatures {
		title := "Note"
		for _, p := range []schema.Path{schema.SigningWrittenBy, schema.SigningWrittenAt} {
			if s.Section == "" && !b.has(p) {
				b.tell(p) // the signature says it
			}
		}
		if sec := schema.SectionNamed(s.Section); sec != nil {
			title = sec.Title
		}
		w := words{{title + " signed: ", Label}}
		w.value(name(s.Name))
		if s.Role != "" {
			w.fixed(" (")
			w.value(s.Role)
			w.fixed(")")
		}
		w.fixed(", ")
		w.value(b.when(s.At))
		if s.Open > 0 {
			w.fixed(", with ")
			w.value(strconv.Itoa(s.Open))
			w.fixed(items(s.Open) + " open")
		}
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	for _, c := range b.f.Changes {
		w := words{{"Changed after signing: ", Label}}
		b.changedWhat(&w, c)
		switch {
		case c.Is != "" && c.Is == c.Was:
			w.fixed(", and back to ")
			w.value(c.Is)
		case c.Is != "":
			w.fixed(" from ")
			w.value(c.Was)
			w.fixed(" to ")
			w.value(c.Is)
		}
		w.fixed(", ")
		w.value(name(c.By))
		w.fixed(", ")
		w.value(b.when(c.At))
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	for _, r := range b.f.Reasons {
		w := words{{"Why: ", Label}}
		w.value(r.Why)
		w.fixed(", ")
		w.value(name(r.By))
		w.fixed(", ")
		w.value(b.when(r.At))
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	for _, t := range b.f.Told {
		w := words{{"Told again after the change: ", Label}}
		w.value(name(t.Who))
		w.fixed(", by ")
		w.value(name(t.By))
		w.fixed(", ")
		w.value(b.when(t.At))
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	for i, c := range b.f.Checks {
		if !c.Closed {
			continue
		}
		w := words{{"Bedside check, " + low(occasions[i]) + ": ", Label}}
		switch {
		case c.Changed:
			w.add(Caution, "CHANGED SINCE IT WAS CLOSED, ")
		case c.Signed:
			w.fixed("closed with a difference signed for, ")
		default:
			w.fixed("closed, ")
		}
		w.value(b.when(c.ClosedAt))
		for _, by := range c.By {
			w.fixed(", ")
			w.value(name(by))
		}
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	bl.Lines = append(bl.Lines, b.acknowledged()...)
	bl.Lines = append(bl.Lines, b.flow("signatures")...)
	return bl
}

// changedWhat words what a change is about.
func (b *builder) changedWhat(w *words, c Change) {
	if it, ok := b.n.Item(c.Path.Item()); ok {
		w.fixed("tag ")
		w.value(strconv.Itoa(it.Tag))
		w.fixed(" ")
		w.value(low(lines.Name(it)))
		if f := b.n.FieldAt(c.Path); f != nil {
			w.label(", " + low(f.Title))
		} else {
			w.fixed(", " + c.What)
		}
		return
	}
	if f := b.n.FieldAt(c.Path); f != nil {
		w.label(low(f.Title))
		return
	}
	w.fixed(c.What)
}

// acknowledged are the calls that somebody has said they heard.
func (b *builder) acknowledged() []Line {
	var out []Line
	for _, r := range b.rowsAt(schema.PlanCalls) {
		if !r.has("acknowledgedAt") && !r.has("acknowledgedBy") {
			continue
		}
		what, _ := b.quantityName(r.Text("what"))
		w := words{{"Call heard, " + low(what) + ": ", Label}}
		w.append(r.get("acknowledgedBy"))
		w.fixed(", ")
		w.append(r.get("acknowledgedAt"))
		out = append(out, Line{Spans: w})
	}
	return out
}

// foot stands at the bottom of every page.
func (b *builder) foot() []Span {
	w := words{{"Made ", Fixed}}
	w.value(b.made().Shown())
	w.fixed(" from the record. Local protocols and licensed clinicians decide. Times without a date are of the day of the operation.")
	return w
}
