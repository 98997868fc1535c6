package rules

import (
	"fmt"
	"slices"
	"strconv"
	"sync"

	"fairlead/schema"
)

// The three rules over every field, read from the definitions. Each section, and
// the list of items, has its own entry, so that a keystroke looks at one section.
var (
	usualRule = Rule{"usual", "A value outside the usual range for the stage", schema.Question, "ranges.md, from memory; each field's own source is in its definition"}
	wrongRule = Rule{"impossible", "A value outside what is possible for its kind or for the weight", schema.Error, "ranges.md, from memory; each field's own source is in its definition"}
	hideRule  = Rule{"hidden-value", "A value in a field that does not apply", schema.Question, "decisions.md 3: a hidden field that holds a value is kept and questioned"}
)

var rangeEntries = sync.OnceValue(func() []entry {
	var out []entry
	seen := map[string]bool{}
	add := func(section string, fields []*schema.Field, each func(*look, func(f *schema.Field, in ...string))) {
		if seen[section] {
			return
		}
		seen[section] = true
		over := func(check func(*look, *schema.Field, ...string)) func(*look) {
			return func(l *look) { each(l, func(f *schema.Field, in ...string) { check(l, f, in...) }) }
		}
		reads := readBy(section, fields)
		out = append(out, entry{usualRule, reads, over(askUsual)}, entry{wrongRule, reads, over(refuse)}, entry{hideRule, reads, over(askHidden)})
	}
	for _, k := range schema.Kinds() {
		for _, s := range schema.SectionsOf(k.Kind) {
			add(s.Name, s.Fields, func(l *look, do func(*schema.Field, ...string)) { l.each(s.Fields, do) })
		}
	}
	var attributes []*schema.Field
	for _, k := range schema.ItemKinds() {
		attributes = append(attributes, k.Fields...)
	}
	add("items", attributes, func(l *look, do func(*schema.Field, ...string)) {
		for _, it := range l.Items() {
			if k := schema.ItemKindNamed(it.Kind); k != nil {
				l.each(k.Fields, do, it.ID)
			}
		}
	})
	return out
})

// each calls do for every field and every row's field.
func (l *look) each(fields []*schema.Field, do func(*schema.Field, ...string), in ...string) {
	for _, f := range fields {
		do(f, in...)
		if f.Type != "rows" {
			continue
		}
		for _, row := range l.Rows(f.Path.In(in...)) {
			for _, rf := range f.Rows {
				do(rf, append(slices.Clip(in), row)...)
			}
		}
	}
}

// formatted lists the fields of a section or an item kind that have one of the
// formats, and the lists whose rows do.
func formatted(fields []*schema.Field, formats []string) []*schema.Field {
	var out []*schema.Field
	for _, f := range fields {
		if f.Type == "rows" {
			if rows := formatted(f.Rows, formats); rows != nil {
				list := *f
				list.Rows = rows
				out = append(out, &list)
			}
		} else if slices.Contains(formats, f.Format) {
			out = append(out, f)
		}
	}
	return out
}

var (
	formattedMu   sync.Mutex
	formattedKept = map[string][]*schema.Field{}
)

// eachWith calls do for the place of every field with one of the formats in the
// sections ("items" is one) that the note has.
func (l *look) eachWith(sections, formats []string, do func(schema.Path)) {
	some := func(key string, fields func() []*schema.Field) []*schema.Field {
		formattedMu.Lock()
		defer formattedMu.Unlock()
		key += " " + formats[0]
		fs, ok := formattedKept[key]
		if !ok {
			fs = formatted(fields(), formats)
			formattedKept[key] = fs
		}
		return fs
	}
	visit := func(f *schema.Field, in ...string) {
		if f.Type != "rows" {
			do(f.Path.In(in...))
		}
	}
	for _, section := range sections {
		if section != "items" {
			if s := schema.SectionNamed(section); s != nil {
				l.each(some(section, func() []*schema.Field { return s.Fields }), visit)
			}
			continue
		}
		for _, it := range l.Items() {
			if k := schema.ItemKindNamed(it.Kind); k != nil {
				l.each(some("items/"+k.Name, func() []*schema.Field { return k.Fields }), visit, it.ID)
			}
		}
	}
}

// readBy lists the sections a look at these fields reads: their own first, those
// their conditions name, and the weight's.
func readBy(section string, fields []*schema.Field) []string {
	reads := []string{section}
	conditions := func(cs []schema.Condition) {
		for _, c := range cs {
			if s := c.Field.Section(); s != "" && !slices.Contains(reads, s) {
				reads = append(reads, s)
			}
		}
	}
	var walk func([]*schema.Field)
	walk = func(fields []*schema.Field) {
		for _, f := range fields {
			conditions(f.When)
			for _, v := range f.By {
				conditions(v.When)
			}
			// An item is shown by its tag.
			if (f.Format == "item" || f.Format == "items") && !slices.Contains(reads, "items") {
				reads = append(reads, "items")
			}
			if f.PerKg != nil && !slices.Contains(reads, "measures") {
				reads = append(reads, "measures")
			}
			walk(f.Rows)
		}
	}
	walk(fields)
	return reads
}

func askUsual(l *look, f *schema.Field, in ...string) {
	if f.Usual == nil && f.By == nil && f.PerKg == nil {
		return
	}
	p := f.Path.In(in...)
	v, ok := l.Number(p)
	if !ok {
		return
	}
	at := l.VariantAt(f, in...)
	if !(schema.Range{Low: at.Min, High: at.Max}).Holds(v) {
		return // refused
	}
	if r, ok := at.UsualFor(l.Kind()); ok && !r.Holds(v) {
		l.find(p, fmt.Sprintf("%s is unusual: %s is usual.", l.said(p), span(r, at.Unit)), "Check the figure; if it is right, say so, with your name and the reason.")
		return
	}
	if f.PerKg == nil {
		return
	}
	kg, weighed := l.Number(schema.MeasuresWeight)
	if r, ok := schema.UsualIn(f.PerKg.Usual, l.Kind()); ok && weighed && kg > 0 && f.PerKg.Plausible.Holds(v/kg) {
		l.perKg(p, v, f, r, "is unusual: %s is usual", "Check the figure and the weight; if both are right, say so, with your name and the reason.")
	}
}

func refuse(l *look, f *schema.Field, in ...string) {
	if f.By == nil && f.PerKg == nil {
		return // the schema itself has refused it
	}
	p := f.Path.In(in...)
	v, ok := l.Number(p)
	if !ok {
		return
	}
	if at := l.VariantAt(f, in...); at != f && !(schema.Range{Low: at.Min, High: at.Max}).Holds(v) {
		l.find(p, fmt.Sprintf("%s is outside what is possible here: %s.", l.said(p), span(schema.Range{Low: at.Min, High: at.Max}, at.Unit)), "Check the figure and its unit.")
		return
	}
	if f.PerKg != nil {
		l.perKg(p, v, f, f.PerKg.Plausible, "is outside what is possible: %s", "Check the figure, its unit and the weight.")
	}
}

// perKg holds a value divided by the operation weight against a range.
func (l *look) perKg(p schema.Path, v float64, f *schema.Field, r schema.Range, words, do string) {
	kg, ok := l.Number(schema.MeasuresWeight)
	if !ok || kg <= 0 || r.Holds(v/kg) {
		return
	}
	unit := f.Unit + "/kg"
	l.find(p, fmt.Sprintf("%s is %s %s, which "+words+".", l.said(p), significant(v/kg), schema.UnitShown(unit), span(r, unit)), do, schema.MeasuresWeight)
}

func askHidden(l *look, f *schema.Field, in ...string) {
	if len(f.When) == 0 && len(f.Kinds) == 0 {
		return
	}
	p := f.Path.In(in...)
	if !l.Has(p) || l.Relevant(f, in...) {
		return
	}
	var because []schema.Path
	for _, c := range f.When {
		if c.Field[0] != '.' {
			because = append(because, c.Field)
		}
	}
	what := fmt.Sprintf("%s holds %s", l.title(p), quoted(schema.Show(f, l.Note, p)))
	on, held := l.HeldBy(f, in...)
	switch {
	case held && !l.Answered(on):
		l.find(p, fmt.Sprintf("%s; %s, which it hangs on, is not recorded.", what, l.title(on)), fmt.Sprintf("Answer %s, or take it out.", l.title(on)), because...)
	case held:
		l.find(p, fmt.Sprintf("%s, and does not apply: %s.", what, l.said(on)), "Take it out, correct the answer it hangs on, or say why it stays.", because...)
	default:
		l.find(p, what+", and does not belong in this kind of note.", "Take it out, or say why it stays.", because...)
	}
}

// span words a range with its unit.
func span(r schema.Range, unit string) string {
	num := func(f float64) string { return schema.ShowNumber(strconv.FormatFloat(f, 'f', -1, 64)) }
	u := ""
	if shown := schema.UnitShown(unit); unit != "" && shown != "" {
		u = " " + shown
	}
	if unit == "1" {
		u = ""
	}
	switch {
	case r.Low != nil && r.High != nil:
		return num(*r.Low) + " to " + num(*r.High) + u
	case r.Low != nil:
		return num(*r.Low) + u + " or more"
	case r.High != nil:
		return num(*r.High) + u + " or less"
	}
	return "any figure"
}
