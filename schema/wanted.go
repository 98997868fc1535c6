package schema

import "slices"

// Wanted calls each for every field that the note wants an answer to: required of
// its kind and relevant, in its sections, in the rows there are, and of every item
// of a known kind. at is where the answer stands or would stand. With sheet, it is
// also called for what only the sheet requires: of that the sheet says that it is
// not recorded rather than leave it out, and a note may be signed without it.
func (n *Note) Wanted(sheet bool, each func(f *Field, at Path)) {
	kind := n.Kind()
	wanted := func(f *Field) bool { return f.Required.By(kind) || sheet && f.Sheet.Required.By(kind) }
	one := func(f *Field, at Path, in ...string) {
		if wanted(f) && n.Relevant(f, in...) {
			each(f, at)
		}
	}
	all := func(f *Field, at Path, in ...string) {
		one(f, at, in...)
		if f.Type != "rows" || !slices.ContainsFunc(f.Rows, wanted) {
			return
		}
		for _, row := range n.Rows(at) {
			for _, sub := range f.Rows {
				one(sub, RowPath(at, row, sub.Name), append(in, row)...)
			}
		}
	}
	for _, s := range SectionsOf(kind) {
		for _, f := range s.Fields {
			if f.In(kind) {
				all(f, f.Path)
			}
		}
	}
	for _, it := range n.Items() {
		if k := ItemKindNamed(it.Kind); k != nil {
			for _, f := range k.Fields {
				all(f, it.Path(f.Name), it.ID)
			}
		}
	}
}
