package sheet

import (
	"strconv"
	"sync"

	"fairlead/handover/lines"
	"fairlead/schema"
)

// Some fields apply only beside a certain answer to another: a conduit's diameter,
// where there is a conduit. When that answer is changed, what they held is kept in
// the note and questioned; on the sheet it must never read as if it still applied.

// setAside takes out of the builder's note what does not apply any more, and keeps
// it in words. Where the answer that decides is missing or disputed, all applies.
func (b *builder) setAside() {
	kept, rest := b.n, b.n
	hangs := func(e schema.Entry, f *schema.Field) bool {
		return len(f.When) > 0 && e.Answered(f.Name) && !kept.RelevantIn(e, f)
	}
	each := func(f *schema.Field, in ...string) bool {
		if !b.aside(kept, f, in) {
			return false
		}
		if rest == kept {
			rest = kept.Clone()
		}
		p, title := f.Path.In(in...), titleOf(f)
		if it, ok := kept.Item(p.Item()); ok {
			title = "Tag " + strconv.Itoa(it.Tag) + " " + low(lines.Name(it)) + ", " + low(title)
		}
		b.void = append(b.void, Line{Spans: append([]Span{{title, Label}}, b.shown(p)...)})
		rest.Clear(p)
		return true
	}
	withRows := func(e schema.Entry, f *schema.Field, in ...string) {
		if hangs(e, f) && each(f, in...) || f.Type != "rows" {
			return
		}
		list, _ := e.Answer(f.Name)
		for _, row := range kept.RowsIn(list) {
			for _, sub := range f.Rows {
				if hangs(row.Entry, sub) {
					each(sub, append(in, row.ID)...)
				}
			}
		}
	}
	for _, f := range hangingOf(b.kind) {
		withRows(kept.Section(f.Section), f)
	}
	for _, it := range kept.Items() {
		if k := schema.ItemKindNamed(it.Kind); k != nil {
			for _, f := range k.Fields {
				if len(f.When) > 0 || len(f.Rows) > 0 {
					withRows(it.Entry, f, it.ID)
				}
			}
		}
	}
	if rest != kept {
		b.n = rest
	}
}

// aside tells whether a field hangs on an answer that is another now.
func (b *builder) aside(n *schema.Note, f *schema.Field, in []string) bool {
	one := *f
	for i := range f.When {
		one.When = f.When[i : i+1]
		if at, held := n.HeldBy(&one, in...); held && n.Has(at) && len(b.f.Opinions[at]) <= 1 {
			return true
		}
	}
	return false
}

var (
	hangingMu sync.Mutex
	hangingBy = map[schema.Kind][]*schema.Field{}
)

// hangingOf are the fields of a kind of note that hang on others, or whose rows do.
func hangingOf(k schema.Kind) []*schema.Field {
	hangingMu.Lock()
	defer hangingMu.Unlock()
	if fs, ok := hangingBy[k]; ok {
		return fs
	}
	fs := []*schema.Field{}
	for _, s := range schema.SectionsOf(k) {
		for _, f := range s.FieldsIn(k) {
			hangs := len(f.When) > 0
			for _, sub := range f.Rows {
				hangs = hangs || len(sub.When) > 0
			}
			if hangs {
				fs = append(fs, f)
			}
		}
	}
	hangingBy[k] = fs
	return fs
}

// voided is what was set aside.
func (b *builder) voided() Block {
	return Block{ID: "void", Title: "In the note, and does not apply any more", Form: Running, Keep: 1, Lines: b.void}
}
