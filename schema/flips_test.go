package schema_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// judged is one note to judge: a note of the list, changed.
type judged struct {
	Note  int    `json:"note"`
	Edits []edit `json:"edits"`

	why  string // what the change is, for a flip
	want int    // 1 fits, 0 does not, -1 nobody knows
}

// flips are changes that turn over one requirement, choice, range or condition,
// each with the verdict it must have by the meaning of the words: for every field
// of the full note t.
type flips struct {
	note    int
	kind    schema.Kind
	out     []judged
	counted map[string]int
	seen    map[string]bool // definitions turned over in a note of another kind already
}

func (fl *flips) add(what string, want int, edits ...edit) {
	fl.counted[strings.Fields(what)[0]]++
	fl.out = append(fl.out, judged{fl.note, edits, what, want})
}

func at(way []any, names ...any) []any { return append(slices.Clone(way), names...) }

// field turns over one field that lies at way. siblings are the fields beside it.
func (fl *flips) field(f *schema.Field, way []any, siblings []*schema.Field, item string) {
	here := at(way, f.Name)
	key := fmt.Sprint(f.Path, f.Kinds)
	first := !fl.seen[key]
	fl.seen[key] = true
	if first {
		fl.values(f, here)
		fl.add("stated "+string(f.Path), 0, edit{At: at(way, "stated"), Set: tree{f.Name: "no"}})
		fl.add("bound "+string(f.Path), 0, edit{At: at(way, "bound"), Set: tree{f.Name: "="}})
	}
	if !f.Required.By(fl.kind) {
		if first {
			fl.add("optional "+string(f.Path), 1, edit{At: here, Del: true})
		}
		return
	}
	hold, breaks, ok := fl.conditions(f, way, siblings)
	if !ok {
		return
	}
	fl.add("required "+string(f.Path), 0, append(slices.Clone(hold), edit{At: here, Del: true})...)
	fl.add("answered "+string(f.Path), 1, append(slices.Clone(hold), edit{At: here, Del: true}, edit{At: at(way, "stated"), Set: tree{f.Name: "unknown"}})...)
	for _, b := range breaks {
		fl.add("condition "+string(f.Path), -1, append(slices.Clone(hold), b, edit{At: here, Del: true})...)
	}
}

// values turns over what the value itself must be.
func (fl *flips) values(f *schema.Field, here []any) {
	name := string(f.Path)
	fl.add("type "+name, 0, edit{At: here, Set: tree{"x": true}})
	fl.add("type "+name, 0, edit{At: here, Set: nil})
	switch f.Type {
	case "number", "integer":
		if f.Min != nil {
			fl.add("range "+name, 1, edit{At: here, Set: decimal(*f.Min)})
			fl.add("range "+name, 0, edit{At: here, Set: decimal(*f.Min - 1)})
		}
		if f.Max != nil {
			fl.add("range "+name, 1, edit{At: here, Set: decimal(*f.Max)})
			fl.add("range "+name, 0, edit{At: here, Set: decimal(*f.Max + 1)})
		}
		if f.Type == "integer" && f.Min != nil && *f.Max-*f.Min >= 1 {
			fl.add("range "+name, 0, edit{At: here, Set: json.Number("1.5")})
			fl.add("range "+name, 1, edit{At: here, Set: json.Number(decimal(*f.Min) + ".0")})
		}
	case "boolean":
		fl.add("type "+name, 0, edit{At: here, Set: "true"})
	case "list":
		fl.add("list "+name, 0, edit{At: here, Set: []any{}})
		if len(f.Enum) > 0 {
			fl.add("enum "+name, 0, edit{At: here, Set: []any{"no-such-choice"}})
			fl.add("list "+name, 0, edit{At: here, Set: []any{f.Enum[0], f.Enum[0]}})
			fl.add("enum "+name, -1, edit{At: here, Set: []any{f.Enum[len(f.Enum)-1]}})
		}
	case "rows":
		fl.add("list "+name, 0, edit{At: here, Set: []any{}})
		fl.add("row "+name, 0, edit{At: at(here, 0, "id"), Del: true})
		fl.add("row "+name, 0, edit{At: at(here, 0, "id"), Set: "a.b"})
	case "string":
		switch {
		case len(f.Enum) > 0:
			fl.add("enum "+name, 0, edit{At: here, Set: "no-such-choice"})
			fl.add("enum "+name, -1, edit{At: here, Set: f.Enum[len(f.Enum)-1]})
		case slices.Contains([]string{"moment", "date", "clock", "digits"}, f.Format):
			fl.add("pattern "+name, 0, edit{At: here, Set: "about ten"})
			fl.add("pattern "+name, 0, edit{At: here, Set: "2026-13-01T25:00Z"})
		case f.Format != "long-text":
			long := 2000
			if f.MaxLen > 0 {
				long = f.MaxLen
			}
			fl.add("length "+name, 0, edit{At: here, Set: strings.Repeat("é", long+1)})
			fl.add("length "+name, 1, edit{At: here, Set: strings.Repeat("é", long)})
		}
	}
}

func decimal(f float64) json.Number {
	return json.Number(strconv.FormatFloat(f, 'f', -1, 64))
}

// conditions are the edits that make every condition of a field hold, and those
// each of which breaks one.
func (fl *flips) conditions(f *schema.Field, way []any, siblings []*schema.Field) (hold, breaks []edit, ok bool) {
	for _, c := range f.When {
		place, target := at(way, c.Field.Last()), (*schema.Field)(nil)
		if c.Field[0] == '.' {
			for _, s := range siblings {
				if s.Name == c.Field.Last() {
					target = s
				}
			}
		} else {
			place, target = []any{c.Field.Section(), c.Field.Last()}, schema.FieldAt(c.Field)
		}
		if target == nil || !target.In(fl.kind) || schema.SectionNamed(c.Field.Section()) == nil && c.Field[0] != '.' {
			return nil, nil, false
		}
		if c.Field[0] != '.' && !slices.ContainsFunc(schema.SectionsOf(fl.kind), func(s *schema.Section) bool { return s.Name == c.Field.Section() }) {
			return nil, nil, false // it never holds in notes of this kind
		}
		value := func(holds bool) any {
			for _, v := range target.Enum {
				in := slices.Contains(c.In, any(v))
				if c.In == nil {
					in = !slices.Contains(c.NotIn, any(v))
				}
				if in != holds {
					continue
				}
				if target.Type == "list" {
					return []any{v}
				}
				return v
			}
			return nil
		}
		if v := value(true); v != nil {
			hold = append(hold, edit{At: place, Set: v})
		} else if target.Type == "boolean" {
			hold = append(hold, edit{At: place, Set: c.In[0]})
		}
		breaks = append(breaks, edit{At: place, Del: true})
		if v := value(false); v != nil {
			breaks = append(breaks, edit{At: place, Set: v})
		}
	}
	return hold, breaks, true
}

func (fl *flips) whole(t tree) {
	for _, s := range schema.SectionsOf(fl.kind) {
		way := []any{s.Name}
		fl.add("type "+s.Name, 0, edit{At: way, Set: "x"})
		for _, f := range s.Fields {
			if !f.In(fl.kind) {
				continue
			}
			fl.field(f, way, s.Fields, "")
			for _, rf := range f.Rows {
				if rf.In(fl.kind) {
					fl.field(rf, at(way, f.Name, 0), f.Rows, "")
				}
			}
		}
	}
	items := t["items"].([]any)
	for i := range items {
		way := []any{"items", i}
		k := schema.ItemKindNamed(items[i].(tree)["kind"].(string))
		if !fl.seen[k.Name] {
			fl.seen[k.Name] = true
			for _, e := range []edit{{At: at(way, "tag"), Del: true}, {At: at(way, "tag"), Set: json.Number("0")}, {At: at(way, "id"), Set: ""}, {At: at(way, "kind"), Del: true}} {
				fl.add("item "+k.Name, 0, e)
			}
			fl.add("item "+k.Name, 1, edit{At: at(way, "kind"), Set: "from-a-newer-version"})
		}
		for _, f := range k.Fields {
			if !f.In(fl.kind) {
				continue
			}
			fl.field(f, way, k.Fields, k.Name)
			for _, rf := range f.Rows {
				if rf.In(fl.kind) {
					fl.field(rf, at(way, f.Name, 0), f.Rows, k.Name)
				}
			}
		}
	}
	for _, name := range []string{"format", "kind", "note", "case"} {
		fl.add("head "+name, 0, edit{At: []any{name}, Del: true})
		fl.add("head "+name, 0, edit{At: []any{name}, Set: json.Number("1")})
	}
	fl.add("head answers", 0, edit{At: []any{"answers"}, Set: []any{tree{"rule": "usual"}}})
	fl.add("head answers", 1, edit{At: []any{"answers"}, Set: []any{tree{"rule": "usual", "path": "p", "answer": "yes", "by": "B"}}})
	fl.add("head later", 1, edit{At: []any{"fromLater"}, Set: tree{"x": json.Number("1")}})
}

func mustJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(b)
}
