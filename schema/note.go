package schema

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema/sorting"
)

// Format is the format of a note's file, written into each.
const Format = "fairlead-note/1"

// The answers that are not values. Neither a value nor one of these is "not
// recorded".
const (
	StatedNone         = "none"
	StatedUnknown      = "unknown"
	StatedNotMeasured  = "not measured"
	StatedUnrecordable = "unrecordable"
	StatedClotted      = "sample clotted"
)

// StatedAnswers lists them.
func StatedAnswers() []string {
	return []string{StatedNone, StatedUnknown, StatedNotMeasured, StatedUnrecordable, StatedClotted}
}

// Note is one operation's note, with the child's own facts and the items listed.
// It is a tree: what this version does not know stays in it. The zero Note is
// not usable; see [NewNote] and [ParseNote]. A Note is not safe for concurrent
// writing.
type Note struct {
	tree map[string]any
	seen func(section string) // nil but in a watched note
}

// NewNote is an empty note.
func NewNote(kind Kind, note, child string) *Note {
	return &Note{map[string]any{"format": Format, "schema": Version(), "kind": string(kind), "note": note, "case": child}, nil}
}

// Kind is the kind of note.
func (n *Note) Kind() Kind { k, _ := n.tree["kind"].(string); return Kind(k) }

// ID and Case are the ids of the note and of the child.
func (n *Note) ID() string   { s, _ := n.tree["note"].(string); return s }
func (n *Note) Case() string { s, _ := n.tree["case"].(string); return s }

// JSON writes the note, members sorted by name.
func (n *Note) JSON() []byte {
	b, err := json.Marshal(n.tree)
	if err != nil {
		panic("schema: note tree holds what JSON cannot: " + err.Error())
	}
	return b
}

// holder is the object a path's last part is a member of, and that part's name.
// With create it makes the section, but never in place of something else that
// stands there: what this version does not know is not overwritten.
func (n *Note) holder(p Path, create bool) (map[string]any, string) {
	section, rest, ok := strings.Cut(string(p), ".")
	if !ok || section == "" || rest == "" {
		return nil, ""
	}
	n.reading(section)
	first, inner, more := strings.Cut(rest, ".")
	if section == itemsName {
		m := findRow(n.tree[itemsName], first)
		if m == nil || !more {
			return nil, ""
		}
		return within(m, inner)
	}
	if slices.Contains(reserved, section) {
		return nil, ""
	}
	if !more {
		return member(n.tree, section, create), first
	}
	return within(member(n.tree, section, false), rest)
}

// within finds "field" or "rows.<row id>.field" in an object.
func within(m map[string]any, path string) (map[string]any, string) {
	list, rest, more := strings.Cut(path, ".")
	if !more {
		return m, list
	}
	row, field, ok := strings.Cut(rest, ".")
	if !ok || strings.Contains(field, ".") {
		return nil, ""
	}
	return findRow(m[list], row), field
}

// reading tells a watcher that a section is being read.
func (n *Note) reading(section string) {
	if n.seen != nil {
		n.seen(section)
	}
}

// Watched is the same note, telling seen of every section (or "items") read
// through it. Whoever declares what it reads is held to it this way.
func (n *Note) Watched(seen func(section string)) *Note { return &Note{n.tree, seen} }

// reserved are the members of a note that are not sections.
var reserved = []string{"format", "schema", "kind", "note", "case", "answers"}

// member is the object of that name; with create an empty one is made where
// there is nothing.
func member(m map[string]any, name string, create bool) map[string]any {
	sub, ok := m[name].(map[string]any)
	if !ok && create && m != nil && m[name] == nil {
		sub = map[string]any{}
		m[name] = sub
	}
	return sub
}

func findRow(list any, id string) map[string]any {
	rows, _ := list.([]any)
	for _, r := range rows {
		if m, ok := r.(map[string]any); ok && m["id"] == id {
			return m
		}
	}
	return nil
}

// Value is what stands at p: string, json.Number, bool or []any; ok is false if
// nothing does.
func (n *Note) Value(p Path) (any, bool) {
	m, name := n.holder(p, false)
	v, ok := m[name]
	return v, ok && v != nil
}

// Answer is what stands at p: a value, or nil, and what was stated; like Value and
// Stated, in one search.
func (n *Note) Answer(p Path) (value any, stated string) {
	m, name := n.holder(p, false)
	return m[name], textIn(m, statedName, name)
}

// Has tells whether a value stands at p.
func (n *Note) Has(p Path) bool { _, ok := n.Value(p); return ok }

// Answered tells whether p has a value or a stated answer.
func (n *Note) Answered(p Path) bool { return n.Has(p) || n.Stated(p) != "" }

// Text is the word or text at p, or "".
func (n *Note) Text(p Path) string {
	v, _ := n.Value(p)
	s, _ := v.(string)
	return s
}

// Bool is the yes or no at p; ok is false if there is neither.
func (n *Note) Bool(p Path) (yes, ok bool) {
	v, _ := n.Value(p)
	yes, ok = v.(bool)
	return yes, ok
}

// Decimal is the number at p as it was written, or "".
func (n *Note) Decimal(p Path) string {
	v, _ := n.Value(p)
	d, _ := v.(json.Number)
	return string(d)
}

// Number is the number at p for computing with; equality is decided on Decimal.
func (n *Note) Number(p Path) (float64, bool) {
	return numberOf(n.Decimal(p))
}

func numberOf(decimal string) (float64, bool) {
	if decimal == "" {
		return 0, false
	}
	f, err := strconv.ParseFloat(decimal, 64)
	return f, err == nil
}

// Moment is the time at p; ok is false if there is none or it cannot be read.
func (n *Note) Moment(p Path) (Moment, bool) {
	text := n.Text(p)
	if text == "" {
		return Moment{}, false
	}
	m, err := ParseMoment(text)
	return m, err == nil
}

// List is the chosen words of a list at p.
func (n *Note) List(p Path) []string {
	v, _ := n.Value(p)
	return wordsOf(v)
}

func wordsOf(v any) []string {
	list, _ := v.([]any)
	var out []string
	for _, x := range list {
		if s, ok := x.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

// Stated is the answer that is not a value at p, or "".
func (n *Note) Stated(p Path) string {
	m, name := n.holder(p, false)
	return textIn(m, statedName, name)
}

// Bound is "<", ">" or "".
func (n *Note) Bound(p Path) string {
	m, name := n.holder(p, false)
	return textIn(m, boundName, name)
}

func textIn(m map[string]any, sub, name string) string {
	s, _ := member(m, sub, false)[name].(string)
	return s
}

// Rows lists the ids of the rows of a list, in order.
func (n *Note) Rows(list Path) []string {
	m, name := n.holder(list, false)
	return idsOf(m[name])
}

func idsOf(list any) []string {
	rows, _ := list.([]any)
	var out []string
	for _, r := range rows {
		if m, ok := r.(map[string]any); ok {
			if id, ok := m["id"].(string); ok {
				out = append(out, id)
			}
		}
	}
	return out
}

// FeedsLungs tells whether it is what the lungs are fed through after stage 1, or what
// limits that: a shunt, a conduit from the ventricle, a band, a stent in the duct.
func (i Item) FeedsLungs() bool {
	switch i.Text("variety") {
	case "shunt", "band":
		return i.Kind == "implant"
	case "conduit":
		return i.Kind == "implant" && i.Text("site") != "fontan-pathway"
	case "stent":
		return i.Kind == "implant" && i.Text("site") == "duct"
	}
	return false
}

// OldSupplyOut lists the items that a stage 2 note says were the earlier lung supply
// and were taken out.
func (n *Note) OldSupplyOut() []string {
	if n.Text(Stage2OldSupply) != "taken-out" {
		return nil
	}
	return n.List(Stage2OldSupplyItems)
}

// Items lists the items of the note in order of tag, then as listed.
func (n *Note) Items() []Item {
	n.reading(itemsName)
	rows, _ := n.tree[itemsName].([]any)
	var out []Item
	for _, r := range rows {
		m, _ := r.(map[string]any)
		id, ok := m["id"].(string)
		if !ok {
			continue
		}
		out = append(out, n.itemFrom(id, m))
	}
	sorting.By(out, func(a, b Item) int { return a.Tag - b.Tag })
	return out
}

// Item is the item of that id; ok is false if the note has none.
func (n *Note) Item(id string) (Item, bool) {
	n.reading(itemsName)
	m := findRow(n.tree[itemsName], id)
	if m == nil {
		return Item{}, false
	}
	return n.itemFrom(id, m), true
}

func (n *Note) itemFrom(id string, m map[string]any) Item {
	it := Item{ID: id, Entry: Entry{n, m}}
	it.Kind, _ = m["kind"].(string)
	if t, ok := m["tag"].(json.Number); ok {
		it.Tag, _ = strconv.Atoi(string(t))
	}
	return it
}

// FieldAt is the definition of a path of this note, items' paths included.
func (n *Note) FieldAt(p Path) *Field {
	if p.Section() == itemsName {
		it, ok := n.Item(p.Item())
		if !ok {
			return nil
		}
		p = p.In(it.Kind)
	}
	return FieldAt(p)
}

// Set writes a value (string, bool, json.Number, float64, int or []string) at p
// and takes back what was stated there. An empty list is no choice, so it makes
// p not recorded. A row or item that does not exist is left so; ok is false then.
func (n *Note) Set(p Path, value any) (ok bool) {
	m, name := n.holder(p, true)
	if m == nil {
		return false
	}
	switch v := value.(type) {
	case nil:
		n.Clear(p)
		return true
	case []string:
		if len(v) == 0 {
			n.Clear(p)
			return true
		}
	case []any:
		if len(v) == 0 {
			n.Clear(p)
			return true
		}
	}
	switch v := value.(type) {
	case int:
		value = json.Number(strconv.Itoa(v))
	case float64:
		value = asNumber(json.Number(strconv.FormatFloat(v, 'f', -1, 64)))
	case json.Number:
		value = asNumber(v)
	case []string:
		list := make([]any, len(v))
		for i, s := range v {
			list[i] = s
		}
		value = list
	}
	m[name] = value
	dropIn(m, statedName, name)
	return true
}

// asNumber is the number as JSON writes one; what is no number is kept as text, so
// that it is shown and refused rather than lost.
func asNumber(v json.Number) any {
	for _, s := range []string{string(v), ShowNumber(string(v))} {
		if json.Valid([]byte(s)) && strings.Trim(s, "+-.0123456789eE") == "" {
			return json.Number(s)
		}
	}
	return string(v)
}

// State records an answer that is not a value and takes back the value.
func (n *Note) State(p Path, answer string) (ok bool) {
	m, name := n.holder(p, true)
	if m == nil {
		return false
	}
	stated := member(m, statedName, true)
	if stated == nil {
		return false // something unreadable stands there, and is kept
	}
	delete(m, name)
	dropIn(m, boundName, name)
	stated[name] = answer
	return true
}

// SetBound records "<" or ">" beside the number at p; "" takes it back.
func (n *Note) SetBound(p Path, bound string) {
	m, name := n.holder(p, true)
	if m == nil {
		return
	}
	if bound == "" {
		dropIn(m, boundName, name)
		return
	}
	if bounds := member(m, boundName, true); bounds != nil {
		bounds[name] = bound
	}
}

// Clear makes p not recorded.
func (n *Note) Clear(p Path) {
	m, name := n.holder(p, false)
	if m == nil {
		return
	}
	delete(m, name)
	dropIn(m, statedName, name)
	dropIn(m, boundName, name)
}

func dropIn(m map[string]any, sub, name string) {
	if s := member(m, sub, false); s != nil {
		delete(s, name)
		if len(s) == 0 {
			delete(m, sub)
		}
	}
}

// AddRow appends a row to a list and takes back a stated "none" there.
func (n *Note) AddRow(list Path, id string) {
	m, name := n.holder(list, true)
	if m == nil || slices.Contains(idsOf(m[name]), id) {
		return
	}
	rows, ok := m[name].([]any)
	if !ok && m[name] != nil {
		return // something unreadable stands there, and is kept
	}
	m[name] = append(rows, map[string]any{"id": id})
	dropIn(m, statedName, name)
}

// RemoveRow takes a row out of a list.
func (n *Note) RemoveRow(list Path, id string) {
	m, name := n.holder(list, false)
	rows, _ := m[name].([]any)
	rows = slices.DeleteFunc(slices.Clone(rows), func(r any) bool {
		x, ok := r.(map[string]any)
		return ok && x["id"] == id
	})
	if len(rows) > 0 {
		m[name] = rows
	} else if _, ok := m[name].([]any); ok {
		delete(m, name)
	}
}

// AddItem lists an item. Its tag is kept until it is out.
func (n *Note) AddItem(kind, id string, tag int) {
	rows, ok := n.tree[itemsName].([]any)
	if !ok && n.tree[itemsName] != nil || findRow(n.tree[itemsName], id) != nil {
		return
	}
	n.tree[itemsName] = append(rows, map[string]any{"id": id, "kind": kind, "tag": json.Number(strconv.Itoa(tag))})
}

// RemoveItem takes an item off the note.
func (n *Note) RemoveItem(id string) {
	rows, _ := n.tree[itemsName].([]any)
	rows = slices.DeleteFunc(slices.Clone(rows), func(r any) bool {
		x, ok := r.(map[string]any)
		return ok && x["id"] == id
	})
	if len(rows) > 0 {
		n.tree[itemsName] = rows
	} else if _, ok := n.tree[itemsName].([]any); ok {
		delete(n.tree, itemsName)
	}
}

// Answer is what a person said to a question about the note.
type Answer struct {
	Rule   string `json:"rule"`
	Path   Path   `json:"path"`
	Answer string `json:"answer"`
	By     string `json:"by"`
	Why    string `json:"why,omitempty"`
	Saw    string `json:"saw,omitempty"` // the values the question was about, as Problem.Saw words them; "" holds whatever they become
}

// Answers lists the answered questions.
func (n *Note) Answers() []Answer {
	list, _ := n.tree["answers"].([]any)
	var out []Answer
	for _, x := range list {
		m, _ := x.(map[string]any)
		get := func(k string) string { s, _ := m[k].(string); return s }
		out = append(out, Answer{get("rule"), Path(get("path")), get("answer"), get("by"), get("why"), get("saw")})
	}
	return out
}

// SetAnswers replaces the answered questions.
func (n *Note) SetAnswers(as []Answer) {
	list := make([]any, len(as))
	for i, a := range as {
		m := map[string]any{"rule": a.Rule, "path": string(a.Path), "answer": a.Answer, "by": a.By}
		if a.Why != "" {
			m["why"] = a.Why
		}
		if a.Saw != "" {
			m["saw"] = a.Saw
		}
		list[i] = m
	}
	n.tree["answers"] = list
}

// Paths lists every concrete path that holds a value, a stated answer or a
// comparator, sorted.
func (n *Note) Paths() []Path {
	found := map[Path]bool{}
	for section := range n.tree {
		n.pathsIn(section, found)
	}
	return slices.Sorted(maps.Keys(found))
}

// PathsIn lists those of one section, or of "items".
func (n *Note) PathsIn(section string) []Path {
	found := map[Path]bool{}
	n.pathsIn(section, found)
	return slices.Sorted(maps.Keys(found))
}

func (n *Note) pathsIn(section string, found map[Path]bool) {
	n.reading(section)
	switch v := n.tree[section].(type) {
	case map[string]any:
		pathsUnder(section+".", v, true, found)
	case []any:
		for _, r := range v {
			if m, id := identified(r); section == itemsName && id != "" {
				pathsUnder(itemsName+"."+id+".", m, true, found)
			}
		}
	}
}

func pathsUnder(prefix string, m map[string]any, rows bool, found map[Path]bool) {
	for name, v := range m {
		if name == statedName || name == boundName || name == "id" {
			continue
		}
		found[Path(prefix+name)] = true
		list, _ := v.([]any)
		for _, r := range list {
			if m, id := identified(r); rows && id != "" {
				pathsUnder(prefix+name+"."+id+".", m, false, found)
			}
		}
	}
	for _, sub := range []string{statedName, boundName} {
		for name := range member(m, sub, false) {
			found[Path(prefix+name)] = true
		}
	}
}

// identified is a row or an item with its id, "" if it has none.
func identified(r any) (map[string]any, string) {
	m, _ := r.(map[string]any)
	id, _ := m["id"].(string)
	return m, id
}

// Relevant tells whether a field applies, given the rest of the note. in are the
// ids of the item and the row the field lies in, those that there are.
func (n *Note) Relevant(f *Field, in ...string) bool {
	if !f.In(n.Kind()) {
		return false
	}
	_, held := n.HeldBy(f, in...)
	return !held
}

// HeldBy is the place of the first answer that keeps f from applying: one that is
// missing, or is not one of those that f hangs on. ok is false if none does.
func (n *Note) HeldBy(f *Field, in ...string) (p Path, ok bool) {
	for _, c := range f.When {
		p := f.hangsOn(c, in)
		if v, _ := n.Value(p); !c.holds(v) {
			return p, true
		}
	}
	return "", false
}

// hangsOn is the place that a condition of f looks at; a dot before its name is a
// field of the same row or item.
func (f *Field) hangsOn(c Condition, in []string) Path {
	if sib, ok := strings.CutPrefix(string(c.Field), "."); ok {
		own := string(f.Path.In(in...))
		return Path(own[:strings.LastIndexByte(own, '.')+1] + sib)
	}
	return c.Field
}

// holds judges one condition on a value. Without one it is false.
func (c Condition) holds(v any) bool {
	if v == nil {
		return false
	}
	isIn := func(list []any) bool {
		among := func(x any) bool { return slices.ContainsFunc(list, func(y any) bool { return sameValue(x, y) }) }
		if chosen, ok := v.([]any); ok {
			return slices.ContainsFunc(chosen, among)
		}
		return among(v)
	}
	if c.In != nil {
		return isIn(c.In)
	}
	return !isIn(c.NotIn)
}

// sameValue compares a note's value with one from a definition, where numbers
// are float64.
func sameValue(v, defined any) bool {
	if num, ok := v.(json.Number); ok {
		f, err := strconv.ParseFloat(string(num), 64)
		return err == nil && any(f) == defined
	}
	switch v.(type) {
	case string, bool:
		return v == defined
	}
	return false
}
