package sheet

import (
	"encoding/json"
	"slices"
	"strings"

	"fairlead/schema"
)

// answer is one place of the note with all that is known of it, looked up once.
type answer struct {
	field  *schema.Field // nil if this version does not know the place
	in     *holder       // what holds it; nil where it was looked up by its path alone
	at     schema.Path   // "" until asked for
	value  any           // nil: none
	stated string
	more   *doubts // nil for most
	kept   *worded // nil until asked for
	told   int     // by which drawing up of the page it was told; 0: not yet

	section uint64 // the bit of its section
}

// holder is what holds answers: a section, an item or a row.
type holder struct {
	schema.Entry
	at      schema.Path // its own
	item    bool        // it is an item, or a row of one
	section uint64
}

// worded is what is gathered of a place once it is asked for.
type worded struct {
	rows  []*row // of a list
	shown []Span // of an item, where the sheet is made once: its line is worded at each brevity
}

func (a *answer) keeps() *worded {
	if a.kept == nil {
		a.kept = &worded{}
	}
	return a.kept
}

// doubts are what is known of a place beside what stands there.
type doubts struct {
	opinions []Opinion
	unread   string
	amended  schema.Moment
}

// path is the place of the answer.
func (a *answer) path() schema.Path {
	if a.at == "" {
		a.at = a.in.at + schema.Path("."+a.field.Name)
	}
	return a.at
}

// has tells whether the place is answered or disputed. A nil answer is none.
func (a *answer) has() bool {
	return a != nil && (a.value != nil || a.stated != "" || a.disputed())
}

// disputed tells whether people disagree about it.
func (a *answer) disputed() bool { return a != nil && a.more != nil && len(a.more.opinions) > 1 }

// bound is "<", ">" or "".
func (b *builder) bound(a *answer) string {
	if a.in == nil {
		return b.n.Bound(a.at)
	}
	return a.in.Bound(a.field.Name)
}

// read is the answer at a place of a section.
func (b *builder) read(p schema.Path) *answer {
	if a, ok := b.answers[p]; ok {
		if b.making != nil {
			b.making.reads |= a.section
		}
		return a
	}
	if section, name, _ := strings.Cut(string(p), "."); section != "items" && !strings.Contains(name, ".") {
		return b.inSection(b.sectionHeld(section), schema.FieldAt(p), name, p)
	}
	b.bit = 0
	a := b.room()
	*a = answer{field: b.n.FieldAt(p), at: p}
	a.value, a.stated = b.n.Answer(p)
	a.section = b.bit
	b.doubt(a)
	b.answers[p] = a
	return a
}

// of is the answer to a field of a section.
func (b *builder) of(f *schema.Field) *answer {
	if a, ok := b.answers[f.Path]; ok {
		if b.making != nil {
			b.making.reads |= a.section
		}
		return a
	}
	return b.inSection(b.sectionHeld(f.Section), f, f.Name, f.Path)
}

func (b *builder) inSection(in *holder, f *schema.Field, name string, p schema.Path) *answer {
	a := b.room()
	*a = answer{field: f, in: in, at: p, section: in.section}
	a.value, a.stated = in.Answer(name)
	b.doubt(a)
	b.answers[p] = a
	return a
}

// sectionHeld is a section, found once.
func (b *builder) sectionHeld(name string) *holder {
	h, ok := b.sections[name]
	if !ok {
		b.bit = 0
		h = &holder{Entry: b.n.Section(name), at: schema.Path(name)}
		h.section = b.bit
		b.sections[name] = h
	} else if b.making != nil {
		b.making.reads |= h.section
	}
	return h
}

// room is room for one answer more.
func (b *builder) room() *answer {
	if len(b.slab) == cap(b.slab) {
		b.slab = make([]answer, 0, 128)
	}
	b.slab = b.slab[:len(b.slab)+1]
	return &b.slab[len(b.slab)-1]
}

// doubt adds what is known of the place beside what stands there.
func (b *builder) doubt(a *answer) {
	if len(b.f.Opinions) == 0 && len(b.f.Unread) == 0 && len(b.amended) == 0 {
		return
	}
	p := a.path()
	if d := (doubts{b.f.Opinions[p], b.f.Unread[p], b.amended[p]}); len(d.opinions) > 0 || d.unread != "" || !d.amended.IsZero() {
		a.more = &d
	}
}

// told tells whether a line already tells a place; tell marks it so. What the
// lines of the items tell counts for the present brevity alone.
func (b *builder) told(p schema.Path) bool { return b.isTold(b.read(p)) }

func (b *builder) isTold(a *answer) bool {
	if a.in != nil && a.in.item {
		return a.told == b.turn+b.brevity+1
	}
	return a.told > b.turn
}

func (b *builder) tell(places ...schema.Path) {
	for _, p := range places {
		b.tells(b.read(p))
	}
}

// tells marks an answer as told; nil is none.
func (b *builder) tells(a *answer) { b.marks(a, b.turn+b.brevity+1) }

// untell lets a place be told again.
func (b *builder) untell(a *answer) { b.marks(a, 0) }

func (b *builder) marks(a *answer, told int) {
	if a == nil {
		return
	}
	a.told = told
	if b.making != nil {
		b.making.told = append(b.making.told, telling{a, told != 0})
	}
}

// due tells whether a field belongs on this sheet: it is answered, people
// disagree about it, or it is wanted and must say "not recorded".
func (b *builder) due(a *answer) bool {
	return a.has() || a.more != nil && a.more.unread != "" || a.field.Sheet.Required.By(b.kind) && b.relevant(a)
}

func (b *builder) relevant(a *answer) bool {
	if a.in == nil {
		return b.n.Relevant(a.field)
	}
	return b.n.RelevantIn(a.in.Entry, a.field)
}

// show is what the reader sees of one place, and that it was changed after the
// note was signed. It marks the place as told.
func (b *builder) show(a *answer) []Span {
	b.tells(a)
	if a.kept != nil && a.kept.shown != nil {
		return a.kept.shown
	}
	shown := b.value(a)
	if a.more != nil && !a.more.amended.IsZero() {
		w := words(slices.Clone(shown))
		b.mark(&w, a.more.amended)
		shown = w
	}
	if b.making == nil && a.in != nil && a.in.item {
		a.keeps().shown = slices.Clip(shown)
	}
	return shown
}

// showTo is show at the end of a line being worded.
func (b *builder) showTo(w *words, a *answer) {
	if a.more == nil {
		if s, kind, ok := b.plainly(a); ok {
			b.tells(a)
			w.add(kind, s)
			return
		}
	}
	w.append(b.show(a))
}

// shown shows a place by its path.
func (b *builder) shown(p schema.Path) []Span { return b.show(b.read(p)) }

// mark says in words that a thing was changed after signing, and when: on paper
// there is no colour to say it.
func (b *builder) mark(w *words, at schema.Moment) {
	w.fixed(" [changed after signing, ")
	w.value(b.when(at))
	w.fixed("]")
}

// value is what the reader sees of one place, as it stands.
func (b *builder) value(a *answer) []Span {
	f := a.field
	if d := a.more; d != nil && d.unread != "" && a.value == nil {
		return []Span{{"“" + d.unread + "” REFUSED: it cannot be read", Conflict}}
	}
	if a.disputed() {
		return b.conflict(a.more.opinions)
	}
	if s, kind, ok := b.plainly(a); ok {
		return b.one(s, kind)
	}
	shown := schema.ShowBound(b.bound(a)) + schema.ShowValue(f, a.value, b.n)
	switch {
	case a.stated != "":
		return []Span{{"DISAGREE: ", Conflict}, {schema.ShowValue(f, a.value, b.n), Conflict}, {" / ", Fixed}, {low(schema.ShowStated(f, a.stated)), Conflict}}
	case f.Type == "rows":
		return b.list(a)
	}
	return []Span{{shown, Conflict}, {" REFUSED: outside what is possible", Conflict}}
}

// plainly is what the reader sees of a place that says one thing; ok is false where
// it says more.
func (b *builder) plainly(a *answer) (words string, kind Kind, ok bool) {
	f := a.field
	switch {
	case a.stated != "" && (a.value == nil || f == nil):
		return low(schema.ShowStated(f, a.stated)), Stated, true
	case a.stated != "":
		return "", 0, false
	case a.value == nil || f == nil:
		return schema.NotRecorded, Missing, true
	case f.Type == "rows":
		return "", 0, false
	}
	switch v := a.value.(type) {
	case []any:
		if f.Type == "list" && len(f.Enum) > 0 {
			var labels []string
			for _, x := range v {
				if s, ok := x.(string); ok {
					labels = append(labels, low(f.Label(s)))
				}
			}
			if len(labels) > 0 {
				return strings.Join(labels, ", "), Value, true
			}
		}
	case string:
		if f.Format == "moment" {
			if m, err := schema.ParseMoment(v); err == nil {
				return b.when(m), Value, true
			}
		}
	}
	shown := ""
	switch number, ok := a.value.(json.Number); {
	case ok && len(f.By) > 0:
		shown = schema.ShowBound(b.bound(a)) + schema.ShowQuantity(string(number), b.unit(a))
	case ok && f.Numeric():
		shown = schema.ShowBound(b.bound(a)) + schema.ShowValue(f, number, b.n)
		if v, err := number.Float64(); err == nil && (f.Min != nil && v < *f.Min || f.Max != nil && v > *f.Max) {
			return "", 0, false
		}
	case len(f.By) > 0 || f.Numeric():
		shown = schema.ShowBound(b.bound(a)) + schema.ShowValue(f, a.value, b.n)
	default:
		shown = schema.ShowValue(f, a.value, b.n)
	}
	if shown == schema.NotRecorded {
		return shown, Missing, true
	}
	if len(f.Enum) > 0 || f.Type == "boolean" {
		shown = low(shown)
	}
	return shown, Value, true
}

// unit is the unit that holds at a place.
func (b *builder) unit(a *answer) string {
	if a.in == nil {
		return b.n.VariantAt(a.field, a.at.Row()).Unit
	}
	return b.n.UnitIn(a.in.Entry, a.field)
}

// one is one span, out of the builder's store: most places are shown by one.
func (b *builder) one(s string, k Kind) []Span {
	if len(b.spans) == cap(b.spans) {
		b.spans = make([]Span, 0, 256)
	}
	b.spans = append(b.spans, Span{s, k})
	last := len(b.spans)
	return b.spans[last-1 : last : last]
}

// row is one row of a list while it is put into words.
type row struct {
	holder
	ID      string
	b       *builder
	f       *schema.Field // of the list
	answers []answer      // of its fields
}

// rows are the rows of a list, looked up once.
func (b *builder) rows(a *answer) []*row {
	if a.kept != nil && a.kept.rows != nil {
		return a.kept.rows
	}
	if a.value == nil || a.field == nil || a.field.Type != "rows" {
		return nil
	}
	fields := a.field.Rows
	list := b.n.RowsIn(a.value)
	rows := make([]*row, len(list))
	a.keeps().rows = rows
	for i, in := range list {
		r := &row{ID: in.ID, b: b, f: a.field, answers: make([]answer, len(fields))}
		r.holder = holder{Entry: in.Entry, at: a.path() + schema.Path("."+in.ID), item: a.in != nil && a.in.item, section: a.section}
		for i, f := range fields {
			x := &r.answers[i]
			*x = answer{field: f, in: &r.holder, section: a.section}
			x.value, x.stated = in.Answer(f.Name)
			b.doubt(x)
		}
		rows[i] = r
	}
	return rows
}

// rowsAt are the rows of a list by its path.
func (b *builder) rowsAt(p schema.Path) []*row { return b.rows(b.read(p)) }

// at is one field of the row.
func (r *row) at(name string) *answer {
	for i, f := range r.f.Rows {
		if f.Name == name {
			return &r.answers[i]
		}
	}
	return r.b.read(r.holder.at + schema.Path("."+name)) // of another version
}

// knows tells whether rows of the list have a field of that name.
func (r *row) knows(name string) bool { return r.at(name).field != nil }

// has tells whether the row answers the field.
func (r *row) has(name string) bool { return r.at(name).has() }

// get shows one field of the row.
func (r *row) get(name string) []Span { return r.b.show(r.at(name)) }

// tell marks fields of the row as told.
func (r *row) tell(names ...string) {
	for _, name := range names {
		r.b.tells(r.at(name))
	}
}

// put appends before, the field and after, if the row answers the field.
func (r *row) put(w *words, before, name, after string) bool {
	a := r.at(name)
	if !a.has() {
		return false
	}
	w.fixed(before)
	r.b.showTo(w, a)
	w.fixed(after)
	return true
}

// rest appends what the row holds beside what was told.
func (r *row) rest(w *words) {
	for i := range r.answers {
		if a := &r.answers[i]; a.has() && !r.b.isTold(a) {
			w.fixed(", ")
			w.label(low(a.field.Title) + " ")
			r.b.showTo(w, a)
		}
	}
}

// list shows every row of a list, separated by semicolons.
func (b *builder) list(a *answer) []Span {
	var w words
	for _, r := range b.rows(a) {
		w.sep("; ")
		w.append(b.row(r))
	}
	if len(w) == 0 {
		w.missing()
	}
	return w
}

// row shows one row: the phrase of that list, or its answered fields in order,
// the first without its title.
func (b *builder) row(r *row) []Span {
	if phrase, ok := phrases[r.f.Path]; ok {
		return phrase(b, r)
	}
	var w words
	for i := range r.answers {
		a := &r.answers[i]
		if !b.due(a) {
			continue
		}
		if len(w) > 0 {
			w.fixed(", ")
			w.label(low(a.field.Title) + " ")
		}
		b.showTo(&w, a)
	}
	if len(w) == 0 {
		w.missing()
	}
	return w
}
