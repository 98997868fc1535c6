package sheet

import (
	"cmp"
	"slices"
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
	draft   words    // room for the line being worded
	at      map[string][]*schema.Field

	sections map[string]*holder

	brevity int                           // how little the lines of the items say: 0 everything that is not for later, 1, 2, 3 the least
	places  []string                      // those that no block asks for
	amended map[schema.Path]schema.Moment // when a place or an item was changed after signing, last
	inList  map[schema.Path]bool          // places of the note that the list of items tells
	void    []Line                        // what was answered and does not apply any more
	worked  []calc.Result                 // the values computed here, where the caller has computed none
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
	width, room := paper.width(), s.room()
	var staying, later []*Block
	for b.brevity = 0; ; b.brevity++ {
		list, implants := b.left()
		more, left := counted(b.moreWorries(worries)), counted(implants, list)
		// What stays inside goes below the map; below the list, where that is lower.
		set := func(stage []*Block) (staying []*Block, over float64) {
			first := slices.Concat(above, more, beside, stage, drawing)
			staying = slices.Concat(first, left)
			if over = excess(staying, width, room); over > 0 && len(left) == 2 {
				below := *left[0]
				below.Right = true
				other := append(first, left[1], &below)
				if o := excess(other, width, room); o < over {
					return other, o
				}
			}
			return staying, over
		}
		over := 0.0
		staying, over = set(atStage)
		if over > 0 && b.brevity > 0 && len(atStage) > 0 {
			short, rest, enough := atStage[0].spare(over, width, b.brevity == most)
			if enough || b.brevity == most {
				later = counted(*rest)
				staying, _ = set(counted(*short))
				break
			}
		}
		if over <= 0 || b.brevity == most {
			break
		}
	}
	s.take(slices.Concat(staying, later, counted(b.concerns()), below, counted(b.details()), history))
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
func counted(blocks ...Block) []*Block {
	out := make([]*Block, 0, len(blocks))
	for i := range blocks {
		if bl := &blocks[i]; !bl.empty() {
			bl.count()
			out = append(out, bl)
		}
	}
	return out
}

func newBuilder(f Facts) *builder {
	b := bareBuilder(f)
	b.setAside()
	b.sections = map[string]*holder{}
	b.answers = make(map[schema.Path]*answer, 600)
	b.gather()
	return b
}

// bareBuilder has the facts and has looked at nothing yet.
func bareBuilder(f Facts) *builder {
	b := &builder{f: f, n: f.Note, prof: f.Profile, kind: f.Note.Kind(),
		answers: map[schema.Path]*answer{}, sections: map[string]*holder{}, inList: map[schema.Path]bool{}}
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
	still := b.still()
	b.items = make([]inside, len(still))
	for i, it := range still {
		b.items[i] = b.look(it)
	}
	b.places = strange(b.at)
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
		for _, r := range b.rowsAt(schema.RemovalsOut) {
			switch r.Text("how") {
			case "removed", "exchanged":
				if r.Text("complete") != "no" {
					gone[r.Text("item")] = true
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
	if b.day != "" && m.On(b.day) {
		return m.Clock()
	}
	return m.Shown()
}

// labelled is a field with its title.
func (b *builder) labelled(a *answer) Line {
	w := make(words, 1, 2)
	w[0] = Span{titleOf(a.field), Label}
	b.showTo(&w, a)
	return Line{Spans: w}
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
		if a := b.of(f); !b.isTold(a) && b.due(a) {
			out = append(out, b.labelled(a))
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
		a := b.of(f)
		if b.isTold(a) || !b.due(a) {
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
		b.showTo(&w, a)
		out[i].Spans = w
	}
	return out
}
