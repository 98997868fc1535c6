package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fairlead/schema"
	"fairlead/schema/profile"
)

var shipped = sync.OnceValue(profile.Default)

// look is one rule looking at one note.
type look struct {
	*schema.Note
	profile *profile.Profile
	ctx     *Context
	rule    Rule
	found   []schema.Problem
}

// find records a problem: where, what (one sentence that names the field), what
// to do, and the other places it speaks of.
func (l *look) find(at schema.Path, what, do string, others ...schema.Path) {
	l.found = append(l.found, schema.Problem{Rule: l.rule.ID, Path: at, Severity: l.rule.Severity,
		Section: at.Section(), What: what, Do: do, Others: others})
}

// number is a setting of the profile; ok is false where it is not in force.
func (l *look) number(id profile.ID) (float64, bool) {
	v, _, ok := l.profile.Number(id)
	return v, ok
}

// is tells whether the word at p is one of these.
func (l *look) is(p schema.Path, words ...string) bool { return slices.Contains(words, l.Text(p)) }

// chose tells whether the list at p holds one of these.
func (l *look) chose(p schema.Path, words ...string) bool {
	return slices.ContainsFunc(l.List(p), func(w string) bool { return slices.Contains(words, w) })
}

// none tells whether p is stated to be none.
func (l *look) none(p schema.Path) bool { return l.Stated(p) == schema.StatedNone }

// title is the field's title, with the row or the item it lies in.
func (l *look) title(p schema.Path) string {
	f := l.FieldAt(p)
	if f == nil {
		return string(p)
	}
	if where := l.where(p); where != "" {
		return f.Title + " (" + where + ")"
	}
	return f.Title
}

// where words the row or the item a path lies in, "" if neither.
func (l *look) where(p schema.Path) string {
	if p.Item() != "" {
		it, _ := l.Item(p.Item())
		return name(it)
	}
	list := p.List()
	if list == "" {
		return ""
	}
	for i, row := range l.Rows(list) {
		if f := l.FieldAt(list); f != nil && row == p.Row() {
			title, _, _ := strings.Cut(f.Title, ",")
			return title + " " + strconv.Itoa(i+1)
		}
	}
	return ""
}

// said is the title with what stands there: "Operation weight 3.2 kg", "Sternum
// “Open”".
func (l *look) said(p schema.Path) string {
	f := l.FieldAt(p)
	if f == nil {
		return string(p)
	}
	s := f.Title + " " + l.value(p)
	if where := l.where(p); where != "" {
		s += " (" + where + ")"
	}
	return s
}

// value is what stands at p, as shown; words are quoted, figures and times are
// not.
func (l *look) value(p schema.Path) string {
	f := l.FieldAt(p)
	s := schema.Show(f, l.Note, p)
	plain := f == nil || f.Numeric() || f.Type == "rows" || f.Format == "moment" || f.Format == "date" || f.Format == "item" || f.Format == "items"
	if l.Stated(p) != "" || l.Has(p) && !plain {
		return quoted(s)
	}
	return s
}

// label is the words of a choice of the field at p.
func (l *look) label(p schema.Path, word string) string {
	if f := l.FieldAt(p); f != nil {
		return f.Label(word)
	}
	return word
}

// name words an item: "Right pleural drain, tag 4".
func name(it schema.Item) string {
	k := schema.ItemKindNamed(it.Kind)
	if k == nil {
		return "Item, tag " + strconv.Itoa(it.Tag)
	}
	s := k.Title
	if f := k.Field("variety"); f != nil && it.Text("variety") != "" {
		s = f.Label(it.Text("variety"))
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	return s + ", tag " + strconv.Itoa(it.Tag)
}

// lower makes the first letter small, unless the word is all capitals.
func lower(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// shown writes a computed number to at most three decimals.
func shown(v float64) string {
	return schema.ShowNumber(strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64))
}

// significant writes a computed number to three figures.
func significant(v float64) string {
	return schema.ShowNumber(strconv.FormatFloat(v, 'g', 3, 64))
}

func minutes(n float64) string { return shown(n) + " min" }

// items lists the items of these kinds; with no kind, all.
func (l *look) items(kinds ...string) []schema.Item {
	all := l.Items()
	if len(kinds) == 0 {
		return all
	}
	return slices.DeleteFunc(all, func(it schema.Item) bool { return !slices.Contains(kinds, it.Kind) })
}

// of lists the items of a kind and one of the varieties.
func (l *look) of(kind string, varieties ...string) []schema.Item {
	return slices.DeleteFunc(l.items(kind), func(it schema.Item) bool { return !slices.Contains(varieties, it.Text("variety")) })
}

// stillIn lists this note's items and those of earlier notes that are still in,
// less those this note says came out.
func (l *look) stillIn(kind string, varieties ...string) []schema.Item {
	out := map[string]bool{}
	for _, row := range l.Rows(schema.RemovalsOut) {
		if l.is(schema.RemovalsOutHow.In(row), "removed", "exchanged", "lost") {
			out[l.Text(schema.RemovalsOutItem.In(row))] = true
		}
	}
	seen := map[string]bool{}
	return slices.DeleteFunc(append(l.Items(), l.ctx.Register...), func(it schema.Item) bool {
		drop := it.Kind != kind || out[it.ID] || seen[it.ID] || it.Text("state") == "unplanned-removal" ||
			len(varieties) > 0 && !slices.Contains(varieties, it.Text("variety"))
		seen[it.ID] = true
		return drop
	})
}

// listedAll lists this note's items and those of earlier notes, each once.
func (l *look) listedAll() []schema.Item {
	all := l.Items()
	for _, it := range l.ctx.Register {
		if _, here := l.Item(it.ID); !here {
			all = append(all, it)
		}
	}
	return all
}

// earlier tells whether an item was put in before this operation's note.
func (l *look) earlier(it schema.Item) bool {
	if slices.ContainsFunc(l.ctx.Register, func(x schema.Item) bool { return x.ID == it.ID }) || it.Text("placedWhere") == "earlier-stay" {
		return true
	}
	placed, ok1 := it.Moment("placed")
	day, ok2 := l.civil(schema.OperationDate)
	return ok1 && ok2 && placed.Date() < day
}

// listed finds an item by id in this note or among those still in.
func (l *look) listed(id string) (schema.Item, bool) {
	if it, ok := l.Item(id); ok {
		return it, true
	}
	for _, it := range l.ctx.Register {
		if it.ID == id {
			return it, true
		}
	}
	return schema.Item{}, false
}

// at is the path of an item's attribute, or, for an item of an earlier note, of
// the whole list: its own note is the place to correct it.
func (l *look) at(it schema.Item, field string) schema.Path {
	if _, ok := l.Item(it.ID); ok {
		return it.Path(field)
	}
	return "items"
}

// over tells whether v is above limit by more than the rounding of floats.
func over(v, limit float64) bool { return v > limit+1e-9 }

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

func quoted(s string) string {
	if r := []rune(s); len(r) > 80 {
		s = string(r[:80]) + "…"
	}
	return "“" + s + "”"
}
