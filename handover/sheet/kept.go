package sheet

import (
	"slices"

	"fairlead/handover/calc"
	"fairlead/handover/sheet/page"
	"fairlead/schema"
)

// Kept is a sheet on screen that grows with its note. [Kept.Flow] gives what
// [Flow] gives of the same facts, and makes again only the parts that read a
// section of the note in which something changed. What changed it finds out by
// itself, against its own copy. The zero Kept is ready; it is not safe for
// concurrent use.
type Kept struct {
	b     *builder
	aside part   // what decides whether anything is set aside
	base  part   // what all parts begin from
	parts []part // head and foot, then those of [flow]

	note     *schema.Note // as it was when they were made
	gathered *Facts
	unread   map[schema.Path]string
	at       schema.Moment
}

// part is one part of the sheet as it was made last.
type part struct {
	reads uint64    // a bit for every section it read
	told  []telling // the places it told, in order
	html  []BlockHTML
}

// telling is one place that a part told, or left for another to tell.
type telling struct {
	in   *answer
	told bool
}

// anything is the bits of all sections.
const anything = ^uint64(0)

// Flow is the sheet without pages, part by part: [Flow] and [Sheet.BlocksHTML] of
// the facts gathered, with what is now in the place of Note, Unread, Computed and
// At. The gathered facts are the same as long as the pointer is, and must be.
func (k *Kept) Flow(gathered *Facts, now Facts) []BlockHTML {
	f := *gathered
	f.Note, f.Unread, f.Computed, f.At = now.Note, now.Unread, now.Computed, now.At
	f = flowing(f)
	changed := k.changed(gathered, f)
	if k.b == nil || changed&(k.aside.reads|k.base.reads) != 0 || len(k.b.void) > 0 {
		changed = k.begin(f, changed)
	}
	b := k.b
	b.f = f
	if len(b.void) == 0 {
		b.n = f.Note.Watched(b.watch)
	}
	clear(b.sections)
	b.turn += most + 1
	for at, a := range b.answers {
		if a.section&changed != 0 {
			delete(b.answers, at)
		}
	}
	for i := range k.parts {
		switch p := &k.parts[i]; {
		case p.reads&changed == 0:
			p.tellAgain(b.turn + b.brevity + 1)
		case k.make(i):
			changed = anything // what those after it leave out may be another
		}
	}
	out := slices.Clone(k.parts[0].html)
	for _, p := range k.parts[2:] {
		out = append(out, p.html...)
	}
	return append(out, k.parts[1].html...)
}

// begin looks again at what is set aside, and unless that is nothing as before, and
// nothing changed in what all parts begin from, forgets all of them. It returns the
// bits of what changed for them.
func (k *Kept) begin(f Facts, changed uint64) uint64 {
	b := bareBuilder(f)
	b.n, b.bits = b.n.Watched(b.watch), map[string]uint64{}
	if k.b != nil {
		b.bits = k.b.bits
	}
	k.aside = part{}
	b.making = &k.aside
	b.setAside()
	if k.b != nil && changed&k.base.reads == 0 && len(b.void) == 0 && len(k.b.void) == 0 {
		return changed
	}
	k.b, k.base, k.parts = b, part{}, make([]part, 2+len(flow))
	b.answers, b.sections = make(map[schema.Path]*answer, 600), map[string]*holder{}
	b.n = b.n.Watched(b.watch)
	b.making = &k.base
	b.dated()
	b.gather()
	for i := range k.parts {
		k.parts[i].reads = anything
	}
	return anything
}

// make makes a part, and reports whether it tells other places than before.
func (k *Kept) make(i int) bool {
	b, p := k.b, &k.parts[i]
	before := p.told
	*p = part{html: p.html[:0:0]}
	b.making = p
	var w page.Builder
	w.Grow(4 << 10)
	switch i {
	case 0:
		s := Sheet{Head: b.head()}
		s.writeHead(&w, true)
		p.html = append(p.html, taken("head", &w))
	case 1:
		s := Sheet{Foot: b.foot()}
		s.writeFoot(&w, nil, 0, 0)
		p.html = append(p.html, taken("foot", &w))
	default:
		for _, bl := range flow[i-2](b) {
			if !bl.empty() {
				bl.write(&w)
				p.html = append(p.html, taken(bl.ID, &w))
			}
		}
	}
	return !slices.EqualFunc(before, p.told, func(x, y telling) bool { return x.told == y.told && (x.in == y.in || x.in.path() == y.in.path()) })
}

// tellAgain does for the parts after it what making it would.
func (p *part) tellAgain(turn int) {
	for _, t := range p.told {
		t.in.told = 0
		if t.told {
			t.in.told = turn
		}
	}
}

// changed are the bits of what is not as it was. What is computed counts always: it
// is cheaper to show than to compare.
func (k *Kept) changed(gathered *Facts, f Facts) uint64 {
	unread, at := k.unread, k.at
	k.unread, k.at = f.Unread, f.At
	if k.note == nil || gathered != k.gathered {
		k.note, k.gathered = f.Note.Clone(), gathered
		return anything
	}
	changed := k.b.bitOf(computedBit)
	for _, section := range k.note.CatchUp(f.Note) {
		changed |= k.b.bitOf(section)
	}
	for _, texts := range [][2]map[schema.Path]string{{f.Unread, unread}, {unread, f.Unread}} {
		for at, text := range texts[0] {
			if texts[1][at] != text {
				changed |= k.b.bitOf(at.Section())
			}
		}
	}
	if f.At != at {
		changed |= k.b.bitOf(clockBit)
	}
	return changed
}

// watch notes that a section is being read.
func (b *builder) watch(section string) {
	b.bit = b.bitOf(section)
	b.making.reads |= b.bit
}

// watched notes that something beside the note is being read.
func (b *builder) watched(what string) {
	if b.making != nil {
		b.making.reads |= b.bitOf(what)
	}
}

// made is when the sheet is made.
func (b *builder) made() schema.Moment {
	b.watched(clockBit)
	return b.f.At
}

// computedBefore is what the caller computed, or nil.
func (b *builder) computedBefore() []calc.Result {
	b.watched(computedBit)
	return b.f.Computed
}

// What is watched beside sections: their names are no section's.
const (
	clockBit    = "."
	computedBit = ".."
)

// bitOf is the bit of a section, or of what else is watched; those beyond the
// sixty-third share one.
func (b *builder) bitOf(name string) uint64 {
	bit, ok := b.bits[name]
	if !ok {
		bit = 1 << min(len(b.bits), 63)
		b.bits[name] = bit
	}
	return bit
}
