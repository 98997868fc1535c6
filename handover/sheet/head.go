package sheet

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// head is the child's banner. The order of its parts is that of published
// identification guidance: surname, given name, number, date of birth.
func (b *builder) head() Banner {
	var h Banner
	h.Name = b.fullName()
	var w words
	w.label("Number ")
	w.append(loud(b.shown(schema.ChildHospitalNumber)))
	if yes, _ := b.n.Bool(schema.ChildNumberProvisional); yes {
		w.add(Strong, " PROVISIONAL")
		b.tell(schema.ChildNumberProvisional)
	}
	w.label(" · Born ")
	w.append(loud(b.shown(schema.ChildBirthDate)))
	w.append(b.age())
	w.fixed(" · ")
	if !b.n.Has(schema.ChildSex) {
		w.label("sex ")
	}
	w.append(b.shown(schema.ChildSex))
	h.Number = w
	h.Lines = append(h.Lines, b.weights(), b.allergies())
	h.Operation = b.operation()
	h.Short = plainName(b.n)
	return h
}

// fullName is SURNAME, Given; a child without a given name is the baby of
// somebody, and twins say which.
func (b *builder) fullName() []Span {
	var w words
	up := func(p schema.Path) []Span {
		spans := b.shown(p)
		out := make([]Span, len(spans))
		for i, s := range spans {
			if s.Kind == Value {
				s = Span{strings.ToUpper(s.Words), Strong}
			}
			out[i] = s
		}
		return out
	}
	if !b.n.Answered(schema.ChildSurname) {
		w.label("SURNAME ")
	}
	w.append(up(schema.ChildSurname))
	switch {
	case b.n.Has(schema.ChildGivenName) || len(b.f.Opinions[schema.ChildGivenName]) > 1:
		w.fixed(", ")
		w.append(loud(b.shown(schema.ChildGivenName)))
	case b.n.Has(schema.ChildBabyOf):
		w.fixed(", baby of ")
		w.append(loud(b.shown(schema.ChildBabyOf)))
	default:
		w.fixed(", given name ")
		w.append(b.shown(schema.ChildGivenName))
	}
	if m := b.n.Text(schema.ChildMultiple); m != "" && m != "single" {
		w.fixed(" (")
		w.append(loud(b.shown(schema.ChildMultiple)))
		if b.n.Answered(schema.ChildBirthOrder) {
			w.fixed(" ")
			w.append(loud(b.shown(schema.ChildBirthOrder)))
		}
		w.fixed(")")
	}
	return w
}

// plainName is the name and number for a label or a file's title.
func plainName(n *schema.Note) string {
	s := strings.ToUpper(n.Text(schema.ChildSurname))
	if s == "" {
		s = "Surname not recorded"
	}
	if g := n.Text(schema.ChildGivenName); g != "" {
		s += ", " + g
	} else if g := n.Text(schema.ChildBabyOf); g != "" {
		s += ", baby of " + g
	}
	if num := n.Text(schema.ChildHospitalNumber); num != "" {
		return s + " · " + num
	}
	return s + " · number not recorded"
}

// age is the age on the day of the operation, and today's beside it where it
// reads otherwise.
func (b *builder) age() []Span {
	birth := schema.Date(b.n.Text(schema.ChildBirthDate))
	if _, err := schema.ParseDate(string(birth)); err != nil || len(b.f.Opinions[schema.ChildBirthDate]) > 1 {
		return nil
	}
	then, today := "", ""
	if b.day != "" && len(b.f.Opinions[schema.OperationDate]) <= 1 {
		then = schema.AgeShown(birth, b.day)
	}
	if at := b.made(); !at.IsZero() {
		today = schema.AgeShown(birth, at.Date())
	}
	w := words{{" (", Fixed}}
	switch {
	case then == "" && today == "":
		return nil
	case then == "":
		w.strong(today)
		w.fixed(" today")
	default:
		w.strong(then)
		w.fixed(" at operation")
		if today != "" && today != then {
			w.fixed(", ")
			w.strong(today)
			w.fixed(" today")
		}
	}
	w.fixed(")")
	return w
}

// weights is the dosing weight with who set it and when, and the weight at the
// operation: two different things.
func (b *builder) weights() []Span {
	w := words{{"DOSING WEIGHT ", Label}}
	w.append(loud(b.shown(schema.MeasuresDosingWeight)))
	w.fixed(" set by ")
	w.append(b.shown(schema.MeasuresDosingWeightBy))
	w.fixed(" at ")
	w.append(b.shown(schema.MeasuresDosingWeightAt))
	w.label(" · Weight ")
	w.append(b.shown(schema.MeasuresWeight))
	if b.n.Answered(schema.MeasuresWeightDate) {
		w.fixed(" on ")
		w.append(b.shown(schema.MeasuresWeightDate))
	}
	if b.n.Answered(schema.MeasuresLength) {
		w.label(" · Length ")
		w.append(b.shown(schema.MeasuresLength))
	}
	return w
}

func (b *builder) allergies() []Span {
	w := words{{"ALLERGIES ", Label}}
	w.append(loud(b.shown(schema.ChildAllergies)))
	return w
}

// operation is what, when and by whom, with the way to reach the surgeon.
func (b *builder) operation() []Span {
	var w words
	w.strong(kindTitle(b.kind))
	w.fixed(", ")
	w.append(loud(b.shown(schema.OperationDate)))
	w.label(", closed or covered ")
	w.append(loud(b.shown(schema.OperationClosed)))
	w.label(" · Surgeon ")
	w.append(loud(b.shown(schema.OperationSurgeon)))
	w.fixed(", ")
	if !b.has(schema.OperationSurgeonReach) {
		w.label("reach on ")
	}
	w.append(loud(b.shown(schema.OperationSurgeonReach)))
	return w
}

// state is the child's state at one glance: framed words, the alarming ones
// reversed.
func (b *builder) state() Block {
	bl := Block{ID: "state", Title: "State", Form: Boxes, Stays: true}
	box := func(alarm bool, spans ...Span) {
		bl.Lines = append(bl.Lines, Line{Spans: spans, Loud: alarm})
	}
	left, now := b.held()
	old := left != now || b.since() || len(b.f.Later) > 0
	if old {
		w := words{{"AS LEFT ON ", Fixed}}
		w.append(loud(b.shown(schema.OperationDate)))
		box(false, append(w, Span{":", Fixed})...)
	}
	b.boxField(&bl, "CHEST ", schema.ClosingSternum, map[string]string{"open": "OPEN", "closed": "CLOSED", "not-opened": "NOT OPENED"}, b.packed(schema.ClosingSternum), "open")
	b.boxField(&bl, "PACKS ", schema.CountsPacksLeft, nil, b.packed(schema.CountsPacksLeft))
	b.boxField(&bl, "SUPPORT ", schema.LeavingSupport, map[string]string{"yes": "YES", "no": "NO"}, nil, "yes")
	b.boxField(&bl, "DIFFICULT AIRWAY ", schema.AirwayDifficult, map[string]string{"no": "NO", "expected": "EXPECTED", "was-difficult": "YES"}, nil, "expected", "was-difficult")
	for _, it := range b.items {
		if left := b.f.Fates[it.ID].Left; left != "" {
			box(true, words{{strings.ToUpper(left), Caution}, {": TAG ", Fixed}, {strconv.Itoa(it.Tag), Strong}}...)
		}
	}
	box(false, inWords("", left)...)
	if old {
		box(false, inWords("OF THESE NOW ", now)...)
	}
	if n := len(b.f.Later); n > 0 {
		w := words{{"LATER NOTE: ", Fixed}}
		w.strong(kindTitle(b.f.Later[n-1].Kind))
		if d := b.f.Later[n-1].Date; d != "" {
			w.fixed(", ")
			w.strong(d.Shown())
		}
		box(true, w...)
	}
	b.signing(box)
	return bl
}

// inWords is how many tags are in, and how many things stand otherwise.
func inWords(before string, h ledger.Held) words {
	w := words{{before, Fixed}}
	for i, part := range strings.Split(strings.ToUpper(h.Words("tag")), ", ") {
		if i > 0 {
			w.fixed(" + ")
		}
		n, rest, _ := strings.Cut(part, " ")
		w.strong(n)
		w.fixed(" " + rest)
	}
	return w
}

// since tells whether something that was in when the operation ended has come out or
// gone after it.
func (b *builder) since() bool {
	return slices.ContainsFunc(b.f.Gone, func(g Gone) bool { return g.Since })
}

// held is how many things of the note were in when the operation ended, and are in now.
func (b *builder) held() (left, now ledger.Held) {
	for _, it := range b.items {
		s := ledger.StandsIn
		if !it.checked {
			s = ledger.StandsImplant
		}
		if f, ok := b.f.Fates[it.ID]; ok {
			left[f.Then]++
			now[f.Stand]++
			continue
		}
		left[s]++
		now[s]++
	}
	for _, g := range b.f.Gone {
		if g.Since {
			left[g.Fate.Then]++
			now[g.Fate.Stand]++
		}
	}
	return left, now
}

func kindTitle(k schema.Kind) string {
	if d := schema.KindNamed(k); d != nil {
		return d.Title
	}
	return string(k)
}

// boxField is the box of one field, with what is listed and the field does not say.
// A number above zero alarms, and so do what is listed and the values named.
func (b *builder) boxField(bl *Block, label string, p schema.Path, upper map[string]string, listed words, alarming ...string) {
	a := b.read(p)
	if a.field == nil {
		return
	}
	w := words{{label, Label}}
	v := b.n.Text(p)
	alarm := a.disputed() || len(listed) > 0
	alarm = alarm || slices.Contains(alarming, v)
	if x, ok := b.n.Number(p); ok && x > 0 {
		alarm = true
	}
	if up, ok := upper[v]; ok && !a.disputed() {
		b.tells(a)
		w.strong(up)
	} else {
		w.append(loud(b.show(a)))
	}
	w.append(listed)
	bl.Lines = append(bl.Lines, Line{Spans: w, Loud: alarm})
}

// speaking are the varieties of what is left on purpose that speak of a field of
// the note.
var speaking = map[schema.Path][]string{
	schema.CountsPacksLeft: {"packs", "swabs"},
	schema.ClosingSternum:  {"membrane", "sternal-spreader"},
	schema.ClosingCovering: {"membrane", "negative-pressure-dressing"},
}

// packed are the listed items that say of a field what its answer does not: packs
// beside a count of none, a membrane beside a chest that nobody called open.
func (b *builder) packed(p schema.Path) words {
	var w words
	sum := 0.0
	for _, in := range b.items {
		if in.Kind != "left-on-purpose" || !slices.Contains(speaking[p], in.Text("variety")) {
			continue
		}
		k, counted := in.Number("count")
		if !counted {
			k = 1
		}
		sum += k
		if len(w) == 0 {
			w.fixed("; LISTED: ")
		} else {
			w.fixed(", ")
		}
		w.fixed("tag ")
		w.strong(strconv.Itoa(in.Tag))
		w.fixed(" ")
		w.strong(low(in.name))
		if counted && k != 1 {
			w.fixed(", ")
			w.strong(in.Decimal("count"))
		}
	}
	said := b.n.Text(p)
	if x, ok := b.n.Number(p); ok && x >= sum || said == "open" || p == schema.ClosingCovering && said != "" {
		return nil
	}
	return w
}

// signing says whether the note is signed, complete or with open items, amended
// since, or not signed; a signature never gates the sheet.
func (b *builder) signing(box func(alarm bool, spans ...Span)) {
	open := b.open()
	var last *Signature
	for i, s := range b.f.Signatures {
		if s.Section == "" {
			last = &b.f.Signatures[i]
		}
	}
	if last == nil {
		w := words{{"UNSIGNED", Fixed}}
		if open > 0 {
			w.fixed(": ")
			w.strong(strconv.Itoa(open))
			w.fixed(map[bool]string{true: " wanted field", false: " wanted fields"}[open == 1] + " " + schema.NotRecorded)
		}
		box(true, w...)
		return
	}
	w := words{{"SIGNED ", Fixed}}
	alarm := false
	if last.Open > 0 {
		w.fixed("WITH OPEN ITEMS: ")
		w.strong(strconv.Itoa(last.Open))
		w.fixed(", ")
		alarm = true
	}
	w.value(b.when(last.At))
	box(alarm, w...)
	if n := len(b.f.Changes); n > 0 {
		c := b.f.Changes[n-1]
		w := words{{"AMENDED ", Fixed}}
		w.strong(b.when(c.At))
		w.fixed(" by ")
		w.value(name(c.By))
		box(true, w...)
	}
	if b.f.Untold > 0 {
		box(true, Span{"RECEIVER NOT TOLD", Fixed})
	}
}

func items(n int) string {
	if n == 1 {
		return " item"
	}
	return " items"
}

// open is how many wanted fields have no answer, as on the screen where the note
// is signed.
func (b *builder) open() int {
	if b.f.Open != nil {
		return *b.f.Open
	}
	return Unrecorded(b.n)
}

// SaidBySigning are the fields that signing answers: who signs, and when. Nobody
// need fill them in, and they are not counted as not recorded.
var SaidBySigning = []schema.Path{schema.SigningWrittenBy, schema.SigningWrittenAt}

// Unrecorded counts the fields of a note that are wanted and have no answer: the
// number of the problems of severity Missing that schema.Validate finds, without
// those of [SaidBySigning].
func Unrecorded(n *schema.Note) int {
	open := 0
	n.Wanted(false, func(s schema.Spot) {
		if !s.Answered() && !slices.Contains(SaidBySigning, s.Path()) {
			open++
		}
	})
	return open
}

// faults are the things about the record that the reader must know before
// trusting the rest.
func (b *builder) faults() Block {
	bl := Block{ID: "faults", Title: "Look at this first", Form: Listed, Stays: true}
	if n := len(b.f.Opinions); n > 0 {
		places := " places where"
		if n == 1 {
			places = " place where"
		}
		bl.Lines = append(bl.Lines, Line{Frame: true, Spans: words{{strconv.Itoa(n) + places, Caution}, {" different values were recorded: look for DISAGREE and settle each.", Caution}}})
	}
	for _, l := range b.f.Inside {
		w := words{{strings.ToUpper(l.Words[:1]) + l.Words[1:] + " (tag ", Caution}, {strconv.Itoa(l.Tag), Caution}, {"): ", Caution}}
		w.value(l.Said)
		bl.Lines = append(bl.Lines, Line{Spans: w, Frame: true})
	}
	for _, s := range b.f.Faults {
		bl.Lines = append(bl.Lines, Line{Spans: []Span{{s, Caution}}, Frame: true})
	}
	count := map[int]int{}
	for _, it := range b.items {
		count[it.Tag]++
	}
	for _, tag := range slices.Sorted(maps.Keys(count)) {
		if count[tag] > 1 {
			bl.Lines = append(bl.Lines, Line{Frame: true, Spans: []Span{{strconv.Itoa(count[tag]), Caution},
				{" items carry tag ", Caution}, {strconv.Itoa(tag), Caution}, {": give each its own before anything is removed.", Caution}}})
		}
	}
	return bl
}
