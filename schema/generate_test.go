package schema_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// Notes for tests, made from the definitions: full ones that fit, and edits that
// may or may not break them.

// tree is a note, or a part of one, as JSON holds it.
type tree = map[string]any

// texts are what people type, and what they do not.
var texts = []string{"as planned", "tom & <b>jerry</b>", "\u202eright to left", "ä ö ü ß", "子供", "👶🏽", "0.5", "null", " ", strings.Repeat("long ", 60), "a\nb\tc", "“quoted”"}

// number writes f with few decimals inside the plausible range.
func numberIn(rnd *rand.Rand, f *schema.Field) json.Number {
	low, high := -1000.0, 1000.0
	if f.Min != nil {
		low = *f.Min
	}
	if f.Max != nil {
		high = *f.Max
	}
	if r, ok := f.Usual["*"]; ok && rnd.IntN(2) == 0 {
		if r.Low != nil {
			low = *r.Low
		}
		if r.High != nil {
			high = *r.High
		}
	}
	v := low + rnd.Float64()*(high-low)
	if f.Type == "integer" {
		return json.Number(strconv.Itoa(int(min(max(v, low), high))))
	}
	s := strconv.FormatFloat(v, 'f', 3, 64)
	if g, _ := strconv.ParseFloat(s, 64); g < low || g > high {
		s = strconv.FormatFloat(low, 'f', -1, 64)
	}
	return json.Number(s)
}

// valueOf is a value that fits the field. ids are the items it may name.
func valueOf(rnd *rand.Rand, f *schema.Field, k schema.Kind, ids []string) any {
	switch f.Type {
	case "rows":
		var rows []any
		for i := range 1 + rnd.IntN(2)*rnd.IntN(2) {
			row := tree{"id": fmt.Sprint("row-", i)}
			fill(rnd, row, f.Rows, k, 1, ids)
			rows = append(rows, row)
		}
		return rows
	case "list":
		var list []any
		for i, w := range f.Enum {
			if i == 0 || rnd.IntN(3) == 0 {
				list = append(list, w)
			}
		}
		if len(f.Enum) == 0 {
			list = append(list, ids[rnd.IntN(len(ids))])
		}
		return list
	case "boolean":
		return rnd.IntN(2) == 0
	case "number", "integer":
		return numberIn(rnd, f)
	}
	if len(f.Enum) > 0 {
		return f.Enum[rnd.IntN(len(f.Enum))]
	}
	switch f.Format {
	case "moment":
		return fmt.Sprintf("2026-07-%02dT%02d:%02d+01:00[Europe/London]", 1+rnd.IntN(28), rnd.IntN(24), rnd.IntN(60))
	case "date":
		return fmt.Sprintf("2026-%02d-%02d", 1+rnd.IntN(12), 1+rnd.IntN(28))
	case "clock":
		return fmt.Sprintf("%02d:%02d", rnd.IntN(24), rnd.IntN(60))
	case "digits":
		return strconv.Itoa(rnd.IntN(1e9))
	case "item":
		return ids[rnd.IntN(len(ids))]
	}
	return texts[rnd.IntN(len(texts))]
}

// fill sets each field of an object with the given chance, most with a value and
// some with an answer that is not one.
func fill(rnd *rand.Rand, into tree, fields []*schema.Field, k schema.Kind, chance float64, ids []string) {
	for _, f := range fields {
		if !f.In(k) || rnd.Float64() > chance {
			continue
		}
		if chance < 1 && rnd.IntN(6) == 0 {
			stated, _ := into["stated"].(tree)
			if stated == nil {
				stated = tree{}
				into["stated"] = stated
			}
			answers := schema.StatedAnswers()
			stated[f.Name] = answers[rnd.IntN(len(answers))]
			continue
		}
		into[f.Name] = valueOf(rnd, f, k, ids)
	}
}

// generated is a note of kind k: with chance 1 it holds everything and one item of
// each kind, and fits.
func generated(rnd *rand.Rand, k schema.Kind, chance float64) tree {
	t := tree{"format": schema.Format, "schema": schema.Version(), "kind": string(k), "note": "note-1", "case": "case-1"}
	var items []any
	var ids []string
	for i := range schema.ItemKinds() {
		ids = append(ids, fmt.Sprint("item-", i))
	}
	for i, it := range schema.ItemKinds() {
		if rnd.Float64() > chance {
			continue
		}
		m := tree{"id": ids[i], "kind": it.Name, "tag": json.Number(strconv.Itoa(i + 1))}
		fill(rnd, m, it.Fields, k, chance, ids)
		items = append(items, m)
	}
	if items != nil {
		t["items"] = items
	}
	for _, s := range schema.SectionsOf(k) {
		if chance < 1 && rnd.IntN(3) == 0 {
			continue
		}
		m := tree{}
		fill(rnd, m, s.Fields, k, chance, ids)
		t[s.Name] = m
	}
	return t
}

// edit changes one place of a note: At is a way of names and numbers from the
// root; without Set the member is taken out.
type edit struct {
	At  []any `json:"at"`
	Set any   `json:"set,omitempty"`
	Del bool  `json:"del,omitempty"`
}

// apply makes the edits in t and returns what takes them back. An edit whose place
// is not there is left out.
func apply(t tree, edits []edit) (undo func()) {
	var undos []func()
	for _, e := range edits {
		var at any = t
		for _, step := range e.At[:len(e.At)-1] {
			at = child(at, step)
		}
		switch m := at.(type) {
		case tree:
			name, ok := e.At[len(e.At)-1].(string)
			if !ok {
				continue
			}
			was, had := m[name]
			undos = append(undos, func() {
				if had {
					m[name] = was
				} else {
					delete(m, name)
				}
			})
			if e.Del {
				delete(m, name)
			} else {
				m[name] = e.Set
			}
		case []any:
			i, ok := e.At[len(e.At)-1].(int)
			if !ok || i >= len(m) || e.Del {
				continue
			}
			was := m[i]
			undos = append(undos, func() { m[i] = was })
			m[i] = e.Set
		}
	}
	return func() {
		for _, u := range slices.Backward(undos) {
			u()
		}
	}
}

func child(at, step any) any {
	switch m := at.(type) {
	case tree:
		if name, ok := step.(string); ok {
			return m[name]
		}
	case []any:
		if i, ok := step.(int); ok && i < len(m) {
			return m[i]
		}
	}
	return nil
}

// junk is a value of some other kind than what stood there.
func junk(rnd *rand.Rand) any {
	all := []any{nil, true, json.Number("-1"), json.Number("0"), json.Number("1.5"), json.Number("1e9"), json.Number("3.0"), "", "no-such-choice", "2026-02-31T10:00Z", "2026-13-01", "unknown", "<",
		[]any{}, []any{"a", "a"}, []any{nil}, []any{tree{"id": "x"}}, []any{tree{"id": "a.b"}}, tree{}, tree{"id": "x", "kind": "drain", "tag": json.Number("1")}, tree{"weight": "unknown"}, strings.Repeat("x", 2001)}
	return all[rnd.IntN(len(all))]
}

// mutation is a random edit somewhere in t.
func mutation(rnd *rand.Rand, t tree) edit {
	var at []any
	var here any = t
	for {
		var step any
		switch m := here.(type) {
		case tree:
			if len(m) == 0 {
				return edit{At: append(at, "stated"), Set: junk(rnd)}
			}
			names := make([]string, 0, len(m))
			for name := range m {
				names = append(names, name)
			}
			slices.Sort(names)
			step = names[rnd.IntN(len(names))]
			if rnd.IntN(25) == 0 {
				step = []string{"stated", "bound", "id", "kind", "tag", "fromLater"}[rnd.IntN(6)]
			}
		case []any:
			if len(m) == 0 {
				return edit{At: at, Set: junk(rnd)}
			}
			step = rnd.IntN(len(m))
		default:
			if rnd.IntN(3) == 0 {
				return edit{At: at, Del: true}
			}
			return edit{At: at, Set: junk(rnd)}
		}
		at = append(at, step)
		here = child(here, step)
		if len(at) > 1 && rnd.IntN(8) == 0 {
			if rnd.IntN(2) == 0 {
				return edit{At: at, Del: true}
			}
			return edit{At: at, Set: junk(rnd)}
		}
	}
}
