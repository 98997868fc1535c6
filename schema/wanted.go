package schema

import "slices"

// Spot is one place of a note: a field in the section, the item or the row that
// holds it, found once.
type Spot struct {
	Field *Field
	holds Entry
	in    Path // of what holds it
}

// Path is where the answer stands or would stand.
func (s Spot) Path() Path { return s.in + Path("."+s.Field.Name) }

// Answered tells whether it has a value or a stated answer.
func (s Spot) Answered() bool { return s.holds.Answered(s.Field.Name) }

// Wanted calls each for every field that the note wants an answer to: required of
// its kind and relevant, in its sections, in the rows there are, and of every item
// of a known kind. With sheet, it is also called for what only the sheet requires:
// of that the sheet says that it is not recorded rather than leave it out, and a
// note may be signed without it.
func (n *Note) Wanted(sheet bool, each func(Spot)) {
	kind := n.Kind()
	wanted := func(f *Field) bool { return f.Required.By(kind) || sheet && f.Sheet.Required.By(kind) }
	all := func(fields []*Field, e Entry, in Path) {
		for _, f := range fields {
			if wanted(f) && n.RelevantIn(e, f) {
				each(Spot{f, e, in})
			}
			if f.Type != "rows" || e.held[f.Name] == nil || !f.In(kind) || !slices.ContainsFunc(f.Rows, wanted) {
				continue
			}
			for _, row := range n.RowsIn(e.held[f.Name]) {
				at := in + Path("."+f.Name+"."+row.ID)
				for _, sub := range f.Rows {
					if wanted(sub) && n.RelevantIn(row.Entry, sub) {
						each(Spot{sub, row.Entry, at})
					}
				}
			}
		}
	}
	for _, s := range SectionsOf(kind) {
		all(s.Fields, n.Section(s.Name), Path(s.Name))
	}
	for _, it := range n.Items() {
		if k := ItemKindNamed(it.Kind); k != nil {
			all(k.Fields, it.Entry, itemsName+"."+Path(it.ID))
		}
	}
}
