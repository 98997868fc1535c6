package sheet

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

// builder makes one sheet.
type builder struct {
	f    Facts
	n    *schema.Note
	prof *profile.Profile
	kind schema.Kind
	day  schema.Date // of the operation: times on it are shown by the clock alone

	items   []inside // what is still in the child
	answers map[schema.Path]*answer
	slab    []answer // room for the answers
	spans   []Span   // room for single spans
	at      map[string][]*schema.Field

	brevity int                           // how little the lines of the items say: 0 everything that is not for later, 1, 2, 3 the least
	places  []string                      // those that no block asks for
	amended map[schema.Path]schema.Moment // when a place or an item was changed after signing, last
	inList  map[schema.Path]bool          // places of the note that the list of items tells
	void    []Line                        // what was answered and does not apply any more
	others  []Line                        // concerns that are not the surgeon's own worries

	making *part             // the part being made, of a sheet that is kept; nil while a sheet is made once
	bits   map[string]uint64 // of the sections it may read
	bit    uint64            // of the section read last
	turn   int               // what was told up to it was told by drawings before this one
}

// Make builds the sheet. It is pure: the same facts give the same sheet. Where
// what must stand on the first page does not fit, the lines of the items say
// less and their details stand overleaf; so does, in the end, what is told of the
// stage. Who, the worries, the targets, whom to call and everything left in never
// give way, and the type is never smaller.
func Make(f Facts, paper Paper) *Sheet {
	b := newBuilder(f)
	s := b.sheet(paper)
	above := counted(b.state(), b.faults(), b.done())
	worries := b.worries()
	now, call := b.now(), b.call()
	changed := b.changed()
	beside := counted(now, call, changed)
	atStage := counted(b.top())
	below := counted(slices.Insert(b.below(), 1, b.clock())...)
	history := counted(b.history(), b.unplaced())
	drawing := counted(b.drawing())
	var staying, later []Block
	for b.brevity = 0; ; b.brevity++ {
		list, implants := b.left()
		// What stays inside goes below the map; below the list, where that is lower.
		set := func(stage []Block) (staying []Block, over float64) {
			first := slices.Concat(above, counted(b.moreWorries(worries)), beside, stage, drawing)
			staying = slices.Concat(first, counted(implants, list))
			if over = excess(staying, paper, s); over > 0 {
				below := implants
				below.Right = true
				other := slices.Concat(first, counted(list, below))
				if o := excess(other, paper, s); o < over {
					return other, o
				}
			}
			return staying, over
		}
		over := 0.0
		staying, over = set(atStage)
		if over > 0 && b.brevity > 0 && len(atStage) > 0 {
			short, rest, enough := atStage[0].spare(over, paper.width(), b.brevity == most)
			if enough || b.brevity == most {
				later = counted(rest)
				staying, _ = set(counted(short))
				break
			}
		}
		if over <= 0 || b.brevity == most {
			break
		}
	}
	s.Blocks = slices.Concat(staying, later, counted(b.concerns()), below, counted(b.details()), history)
	s.Pages = lay(s)
	return s
}

// Flow builds the sheet without pages: its blocks in their order, for a screen
// that shows them as they grow. It costs a fraction of [Make]. What is computed
// is on it only where the caller has computed it. [Kept] gives the same and makes
// only what changed.
func Flow(f Facts) *Sheet {
	b := newBuilder(flowing(f))
	s := b.sheet(A4)
	for _, blocks := range flow {
		for _, bl := range blocks(b) {
			if !bl.empty() {
				s.Blocks = append(s.Blocks, bl)
			}
		}
	}
	return s
}

// flowing are the facts of a sheet on screen: nothing is computed for it.
func flowing(f Facts) Facts {
	if f.Computed == nil {
		f.Computed = []calc.Result{}
	}
	return f
}

// flow is what a sheet on screen is made of, in the order of making and of the page.
var flow = []func(*builder) []Block{
	alone((*builder).state), alone((*builder).faults), alone((*builder).done),
	alone(func(b *builder) Block { return b.moreWorries(b.worries()) }),
	alone((*builder).now), alone((*builder).call), alone((*builder).changed), alone((*builder).top),
	func(b *builder) []Block {
		clear(b.inList)
		list, implants := b.left()
		return []Block{b.drawing(), implants, list}
	},
	alone((*builder).rest), alone((*builder).clock), alone((*builder).times), alone((*builder).infusions), alone((*builder).blood),
	alone((*builder).computed), alone((*builder).plan), alone((*builder).emergency), alone((*builder).signatures),
	alone((*builder).work), alone((*builder).voided), alone((*builder).details), alone((*builder).history), alone((*builder).unplaced),
}

// alone is a part of one block.
func alone(block func(*builder) Block) func(*builder) []Block {
	return func(b *builder) []Block { return []Block{block(b)} }
}

// sheet is the sheet before its blocks.
func (b *builder) sheet(paper Paper) *Sheet {
	s := &Sheet{Title: "Handover sheet", Note: b.n.ID(), Paper: paper}
	if d := schema.KindNamed(b.kind); d != nil {
		s.Title = "Handover sheet: " + d.Title
	}
	s.Head = b.head()
	s.Foot = b.foot()
	return s
}

// below are the blocks that move, in order.
func (b *builder) below() []Block {
	return []Block{b.rest(), b.times(), b.infusions(), b.blood(), b.computed(), b.plan(), b.emergency(), b.signatures(), b.work(), b.voided()}
}

// most is the greatest brevity: what happened to an item since is told overleaf too.
const most = 3

// counted leaves out the empty blocks and measures the others.
func counted(blocks ...Block) []Block {
	out := make([]Block, 0, len(blocks))
	for _, bl := range blocks {
		if !bl.empty() {
			bl.count()
			out = append(out, bl)
		}
	}
	return out
}

func newBuilder(f Facts) *builder {
	b := bareBuilder(f)
	b.setAside()
	b.answers = make(map[schema.Path]*answer, 1500)
	b.gather()
	return b
}

// bareBuilder has the facts and has looked at nothing yet.
func bareBuilder(f Facts) *builder {
	b := &builder{f: f, n: f.Note, prof: f.Profile, kind: f.Note.Kind(),
		answers: map[schema.Path]*answer{}, inList: map[schema.Path]bool{}}
	if b.prof == nil {
		b.prof = shipped()
	}
	b.dated()
	b.amended = map[schema.Path]schema.Moment{}
	for _, c := range f.Changes {
		// An item is marked once, on its line, whatever of it was changed.
		at := c.Path
		if item := at.Item(); item != "" {
			at = schema.ItemPath(item, "")
		}
		if at != "" && c.What != ledger.KindQuestionAnswered && (c.Is == "" || c.Is != c.Was) && b.amended[at].Before(c.At) {
			b.amended[at] = c.At
		}
	}
	return b
}

func (b *builder) dated() { b.day = schema.Date(b.n.Text(schema.OperationDate)) }

// gather looks at what all blocks begin from.
func (b *builder) gather() {
	b.at = placesOf(b.kind)
	for _, it := range b.still() {
		b.items = append(b.items, b.look(it))
	}
	b.places = strange(b.at)
}

// answer is what the note says at one place, read once.
type answer struct {
	value  any // nil: none
	stated string
	told   int // by which drawing up of the page it was told; 0: not yet

	section uint64 // the bit of its section
}

// read is the answer at a place.
func (b *builder) read(p schema.Path) *answer {
	if a, ok := b.answers[p]; ok {
		if b.making != nil {
			b.making.reads |= a.section
		}
		return a
	}
	b.bit = 0
	v, stated := b.n.Answer(p)
	return b.keep(p, v, stated)
}

func (b *builder) keep(p schema.Path, value any, stated string) *answer {
	if len(b.slab) == cap(b.slab) {
		b.slab = make([]answer, 0, 256)
	}
	b.slab = append(b.slab, answer{value: value, stated: stated, section: b.bit})
	a := &b.slab[len(b.slab)-1]
	b.answers[p] = a
	return a
}

// told tells whether a line already tells a place; tell marks it so. What the
// lines of the items tell counts for the present brevity alone.
func (b *builder) told(p schema.Path) bool {
	told := b.read(p).told
	if p.Section() == "items" {
		return told == b.turn+b.brevity+1
	}
	return told > b.turn
}

func (b *builder) tell(places ...schema.Path) {
	for _, p := range places {
		b.tells(p, b.read(p), b.turn+b.brevity+1)
	}
}

// untell lets a place be told again.
func (b *builder) untell(p schema.Path) { b.tells(p, b.read(p), 0) }

func (b *builder) tells(p schema.Path, a *answer, told int) {
	a.told = told
	if b.making != nil {
		b.making.told = append(b.making.told, telling{p, a, told != 0})
	}
}

var shipped = sync.OnceValue(profile.Default)

var (
	placesMu sync.Mutex
	placesBy = map[schema.Kind]map[string][]*schema.Field{}
)

// placesOf gathers the fields of a kind of note by their place on the sheet, in
// order.
func placesOf(k schema.Kind) map[string][]*schema.Field {
	placesMu.Lock()
	defer placesMu.Unlock()
	if m, ok := placesBy[k]; ok {
		return m
	}
	m := map[string][]*schema.Field{}
	for _, s := range schema.SectionsOf(k) {
		for _, f := range s.FieldsIn(k) {
			if f.Sheet.Place != "" {
				m[f.Sheet.Place] = append(m[f.Sheet.Place], f)
				if f.Sheet.Top {
					m["top"] = append(m["top"], f)
				}
			}
		}
	}
	for place, fs := range m {
		sortByOrder(fs)
		if place == "top" { // in the order of the places on the page
			sorting.By(fs, func(a, b *schema.Field) int {
				return cmp.Compare(slices.Index(topOrder, a.Sheet.Place), slices.Index(topOrder, b.Sheet.Place))
			})
		}
	}
	placesBy[k] = m
	return m
}

func sortByOrder(fs []*schema.Field) {
	sorting.By(fs, func(a, b *schema.Field) int { return cmp.Compare(a.Sheet.Order, b.Sheet.Order) })
}

// still are the items still in the child: those listed, without those that the
// record or the note says came out.
func (b *builder) still() []schema.Item {
	gone := map[string]bool{}
	for _, g := range b.f.Gone {
		gone[g.Item] = true
	}
	if b.f.News == nil { // a bare note knows no record
		for _, id := range b.n.OldSupplyOut() {
			gone[id] = true
		}
		for _, id := range b.n.Rows(schema.RemovalsOut) {
			switch b.n.Text(schema.RowPath(schema.RemovalsOut, id, "how")) {
			case "removed", "exchanged":
				if b.n.Text(schema.RowPath(schema.RemovalsOut, id, "complete")) != "no" {
					gone[b.n.Text(schema.RowPath(schema.RemovalsOut, id, "item"))] = true
				}
			}
		}
	}
	return slices.DeleteFunc(b.n.Items(), func(it schema.Item) bool { return gone[it.ID] })
}

// topOrder is the order of the places in the top third.
var topOrder = []string{"done", "who", "times", "now", "plan"}

// known are the places that the blocks ask for.
var known = []string{"who", "done", "worries", "items", "now", "targets", "times", "infusions", "blood", "plan", "call", "emergency", "signatures", "top"}

// strange are the places of fields that no block asks for.
func strange(at map[string][]*schema.Field) []string {
	var out []string
	for place := range at {
		if !slices.Contains(known, place) {
			out = append(out, place)
		}
	}
	slices.Sort(out)
	return out
}

// due tells whether a field belongs on this sheet: it is answered, people
// disagree about it, or it is wanted and must say "not recorded".
// in are the ids of the item and the row the place lies in.
func (b *builder) due(f *schema.Field, p schema.Path, in ...string) bool {
	return b.has(p) || b.f.Unread[p] != "" || f.Sheet.Required.By(b.kind) && b.n.Relevant(f, in...)
}

// show is what the reader sees of one place, and that it was changed after the
// note was signed. It marks the place as told.
func (b *builder) show(f *schema.Field, p schema.Path) []Span {
	shown := b.value(f, p)
	if at, ok := b.amended[p]; ok {
		w := words(slices.Clone(shown))
		b.mark(&w, at)
		return w
	}
	return shown
}

// mark says in words that a thing was changed after signing, and when: on paper
// there is no colour to say it.
func (b *builder) mark(w *words, at schema.Moment) {
	w.fixed(" [changed after signing, ")
	w.value(b.when(at))
	w.fixed("]")
}

// value is what the reader sees of one place, as it stands.
func (b *builder) value(f *schema.Field, p schema.Path) []Span {
	a := b.read(p)
	b.tells(p, a, b.turn+b.brevity+1)
	if text := b.f.Unread[p]; text != "" && a.value == nil {
		return []Span{{"“" + text + "” REFUSED: it cannot be read", Conflict}}
	}
	if ops := b.f.Opinions[p]; len(ops) > 1 {
		return b.conflict(ops)
	}
	if a.stated != "" {
		stated := low(schema.ShowStated(f, a.stated))
		if a.value == nil || f == nil {
			return b.one(stated, Stated)
		}
		return []Span{{"DISAGREE: ", Conflict}, {schema.ShowValue(f, a.value, b.n), Conflict}, {" / ", Fixed}, {stated, Conflict}}
	}
	if a.value == nil || f == nil {
		return b.one(schema.NotRecorded, Missing)
	}
	switch {
	case f.Type == "rows":
		return b.rows(f, p)
	case f.Format == "moment":
		text, _ := a.value.(string)
		if m, err := schema.ParseMoment(text); err == nil {
			return b.one(b.when(m), Value)
		}
	case f.Type == "list" && len(f.Enum) > 0:
		var list []string
		for _, v := range b.n.List(p) {
			list = append(list, low(f.Label(v)))
		}
		if len(list) > 0 {
			return b.one(strings.Join(list, ", "), Value)
		}
	}
	var shown string
	switch {
	case len(f.By) > 0:
		shown = schema.Show(f, b.n, p)
	case f.Numeric():
		shown = schema.ShowBound(b.n.Bound(p)) + schema.ShowValue(f, a.value, b.n)
		if v, ok := b.n.Number(p); ok && (f.Min != nil && v < *f.Min || f.Max != nil && v > *f.Max) {
			return []Span{{shown, Conflict}, {" REFUSED: outside what is possible", Conflict}}
		}
	default:
		shown = schema.ShowValue(f, a.value, b.n)
	}
	if shown == schema.NotRecorded {
		return b.one(shown, Missing)
	}
	if len(f.Enum) > 0 || f.Type == "boolean" {
		shown = low(shown)
	}
	return b.one(shown, Value)
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

// shown shows a place by its path.
func (b *builder) shown(p schema.Path) []Span { return b.show(b.n.FieldAt(p), p) }

// conflict shows every value with the name of the person who holds it.
func (b *builder) conflict(ops []Opinion) []Span {
	w := words{{"DISAGREE: ", Conflict}}
	for i, o := range ops {
		if i > 0 {
			w.fixed(" / ")
		}
		w.add(Conflict, o.Shown)
		w.fixed(" (")
		w.value(name(o.By))
		if !o.At.IsZero() {
			w.fixed(", ")
			w.value(b.when(o.At))
		}
		w.fixed(")")
	}
	return w
}

// name is a typed name, or the words for none.
func name(s string) string {
	if s == "" {
		return "name " + schema.NotRecorded
	}
	return s
}

// when words a moment: the clock alone on the day of the operation, date and
// clock on any other.
func (b *builder) when(m schema.Moment) string {
	if m.IsZero() {
		return "time " + schema.NotRecorded
	}
	if b.day != "" && m.Date() == b.day {
		return m.Clock()
	}
	return m.Shown()
}

// labelled is a field with its title.
func (b *builder) labelled(f *schema.Field, p schema.Path) Line {
	shown := b.show(f, p)
	w := make(words, 1, 1+len(shown))
	w[0] = Span{titleOf(f), Label}
	return Line{Spans: append(w, shown...)}
}

var titles sync.Map // *schema.Field → string

// titleOf is the title of a field before its value.
func titleOf(f *schema.Field) string {
	if s, ok := titles.Load(f); ok {
		return s.(string)
	}
	s := f.Title + ": "
	titles.Store(f, s)
	return s
}

// flow is the lines of the fields placed somewhere, except those already told.
func (b *builder) flow(place string) []Line {
	var out []Line
	for _, f := range b.at[place] {
		if !b.told(f.Path) && b.due(f, f.Path) {
			out = append(out, b.labelled(f, f.Path))
		}
	}
	return out
}

// bySection is flow with the fields of one section in one paragraph, which begins
// with the section's title.
func (b *builder) bySection(place string) []Line {
	var out []Line
	var sections []string // of the lines
	for _, f := range b.at[place] {
		if b.told(f.Path) || !b.due(f, f.Path) {
			continue
		}
		var w words
		i := slices.Index(sections, f.Section)
		if i < 0 {
			i = len(out)
			sections, out = append(sections, f.Section), append(out, Line{})
			w = make(words, 0, 64)
			w.add(Head, schema.SectionNamed(f.Section).Title)
			w.fixed(" ")
		} else {
			w = out[i].Spans
			w.fixed(" · ")
		}
		w.add(Label, titleOf(f))
		w.append(b.show(f, f.Path))
		out[i].Spans = w
	}
	return out
}

// rows shows every row of a list, separated by semicolons.
func (b *builder) rows(f *schema.Field, p schema.Path) []Span {
	var w words
	for _, id := range b.n.Rows(p) {
		w.sep("; ")
		w.append(b.row(f, p, id))
	}
	if len(w) == 0 {
		w.missing()
	}
	return w
}

// row shows one row: the phrase of that list, or its answered fields in order,
// the first without its title.
func (b *builder) row(f *schema.Field, list schema.Path, id string) []Span {
	r := b.rowOf(f, list, id)
	if phrase, ok := phrases[f.Path]; ok {
		return phrase(b, r)
	}
	var w words
	for i, sub := range f.Rows {
		if !b.due(sub, r.paths[i], r.in...) {
			continue
		}
		if len(w) > 0 {
			w.fixed(", ")
			w.label(low(sub.Title) + " ")
		}
		w.append(b.show(sub, r.paths[i]))
	}
	if len(w) == 0 {
		w.missing()
	}
	return w
}

// row is one row of a list while it is put into words.
type row struct {
	b    *builder
	f    *schema.Field
	list schema.Path
	id   string
	in   []string // the ids of the item, if it lies in one, and of the row

	paths []schema.Path // of the fields
}

func (b *builder) rowOf(f *schema.Field, list schema.Path, id string) row {
	r := row{b: b, f: f, list: list, id: id, in: []string{id}, paths: make([]schema.Path, len(f.Rows))}
	if item := list.Item(); item != "" {
		r.in = []string{item, id}
	}
	for i, sub := range f.Rows {
		r.paths[i] = schema.RowPath(list, id, sub.Name)
	}
	return r
}

// path is the place of one field of the row.
func (r row) path(name string) schema.Path {
	for i, f := range r.f.Rows {
		if f.Name == name {
			return r.paths[i]
		}
	}
	return schema.RowPath(r.list, r.id, name)
}

func (r row) field(name string) *schema.Field {
	for _, f := range r.f.Rows {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// has tells whether the row answers the field.
func (r row) has(name string) bool { return r.b.has(r.path(name)) }

// get shows one field of the row.
func (r row) get(name string) []Span { return r.b.show(r.field(name), r.path(name)) }

// put appends before, the field and after, if the row answers the field.
func (r row) put(w *words, before, name, after string) bool {
	if !r.has(name) {
		return false
	}
	w.fixed(before)
	w.append(r.get(name))
	w.fixed(after)
	return true
}

// rest appends what the row holds beside what was told.
func (r row) rest(w *words) {
	for i, f := range r.f.Rows {
		if p := r.paths[i]; !r.b.told(p) && r.b.has(p) {
			w.fixed(", ")
			w.label(low(f.Title) + " ")
			w.append(r.b.show(f, p))
		}
	}
}
