package schema

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"sync"
)

// Kind names a kind of note.
type Kind string

// The kinds of note, in the order of kinds.json.
const (
	Stage1        Kind = "stage1"
	Stage2        Kind = "stage2"
	Stage3        Kind = "stage3"
	Closure       Kind = "closure"
	Reexploration Kind = "reexploration"
	ShuntRevision Kind = "shunt-revision"
	SupportOn     Kind = "support-on"
	SupportOff    Kind = "support-off"
	Takedown      Kind = "takedown"
)

const (
	itemsName  = "items"  // the member of a note that holds its items
	statedName = "stated" // the map of answers that are not values
	boundName  = "bound"  // the map of comparators
)

// KindDef is one kind of note: its title and the sections it is made of.
type KindDef struct {
	Kind     Kind
	Title    string
	Sections []string
}

// Section is a group of at most 25 fields filled and signed by one owner.
type Section struct {
	Name   string
	Title  string
	Help   string
	Owner  string // the role that fills and signs it
	Scope  string // "child": holds for every note of the child; "note"
	Fields []*Field
}

// ItemKind is a kind of thing that may be left in the child.
type ItemKind struct {
	Name         string
	Title        string // "Intracardiac line"
	Help         string
	Group        string          // the row of the list it stands in
	Intracardiac bool            // its tip lies in the heart
	Raw          json.RawMessage // the whole x-item object, for rooms that need more
	Fields       []*Field
}

// Range is a span of numbers; a nil end is open.
type Range struct{ Low, High *float64 }

// Holds tells whether v lies in the range, ends included.
func (r Range) Holds(v float64) bool {
	return (r.Low == nil || v >= *r.Low) && (r.High == nil || v <= *r.High)
}

// Condition is one part of a field's relevance: the field it looks at must have
// a value, and that value must be in, or not in, the list.
type Condition struct {
	Field Path // absolute, or ".sibling" inside a row or an item
	In    []any
	NotIn []any
}

// Place is where a field stands on the sheet.
type Place struct {
	Place    string // who, done, worries, items, now, targets, times, infusions, blood, plan, call, emergency, signatures
	Order    int
	Required Requirement // the sheet says "not recorded" rather than leave it out
	Top      bool        // in the top third
}

// Requirement lists the kinds of note that want something; "always" is all.
type Requirement struct {
	Always bool
	Kinds  []Kind
}

// By tells whether notes of kind k want it.
func (r Requirement) By(k Kind) bool { return r.Always || slices.Contains(r.Kinds, k) }

// Field is one clinical field, defined once.
type Field struct {
	Path    Path   // the general path: "support.runs.*.on", "items.drain.size"
	Section string // the section, or the item kind for an item's attribute
	Name    string
	Title   string
	Help    string

	Type     string // string, number, integer, boolean, list (of words), rows
	Format   string // "", moment, date, clock, text, long-text, item, items, name, digits
	Enum     []string
	Labels   map[string]string
	Unit     string   // UCUM
	Min, Max *float64 // plausible: outside is refused
	Usual    map[string]Range
	Picks    []json.RawMessage
	MaxLen   int

	Kinds    []Kind // the kinds of note that have it; empty: all that have its section
	Required Requirement
	When     []Condition
	None     string // the words of the answer "none"; "" where none means nothing

	By    []Variant  // what differs with a sibling: a depth by the kind of tube
	PerKg *PerWeight // ranges for the value divided by the weight

	Spoken       []string
	SpokenValues map[string][]string
	SpokenFrames map[string][]string // by value, or "none": words that need not touch
	SpokenAs     Path                // the field of the state now whose words tell of this one too, said of a time before
	Sheet        Place
	Next         string // the section of later notes beside which it is shown again; "" none
	Source       string // where the ranges come from
	Export       json.RawMessage
	Rows         []*Field // the fields of one row
}

// Variant is the unit and the ranges of a field where its conditions hold.
type Variant struct {
	When  []Condition
	Unit  string
	Min   *float64
	Max   *float64
	Usual map[string]Range
}

// PerWeight is the ranges of a value divided by the weight in kg.
type PerWeight struct {
	Plausible Range
	Usual     map[string]Range
}

// UsualIn is the range that holds in notes of kind k, by kind or for all ("*").
func UsualIn(usual map[string]Range, k Kind) (Range, bool) {
	if r, ok := usual[string(k)]; ok {
		return r, true
	}
	r, ok := usual["*"]
	return r, ok
}

// VariantAt is the field as it is at one place of a note: with the unit and the
// ranges that hold there. in are the ids of item and row, as for Relevant.
func (n *Note) VariantAt(f *Field, in ...string) *Field {
	for _, v := range f.By {
		holds := true
		for _, c := range v.When {
			v, _ := n.Value(f.hangsOn(c, in))
			holds = holds && c.holds(v)
		}
		if !holds {
			continue
		}
		at := *f
		if v.Unit != "" {
			at.Unit = v.Unit
		}
		if v.Min != nil || v.Max != nil {
			at.Min, at.Max = v.Min, v.Max
		}
		if v.Usual != nil {
			at.Usual = v.Usual
		}
		return &at
	}
	return f
}

// UsualFor is the usual range in notes of kind k.
func (f *Field) UsualFor(k Kind) (Range, bool) {
	return UsualIn(f.Usual, k)
}

// In tells whether notes of kind k have the field.
func (f *Field) In(k Kind) bool { return len(f.Kinds) == 0 || slices.Contains(f.Kinds, k) }

// Numeric tells whether the field holds a number.
func (f *Field) Numeric() bool { return f.Type == "number" || f.Type == "integer" }

// Label is the words shown for a value of an enum.
func (f *Field) Label(value string) string {
	if l, ok := f.Labels[value]; ok {
		return l
	}
	return value
}

// bundle is what gen writes: everything, sections and items not yet read.
type bundle struct {
	version  string
	kinds    []KindDef
	units    map[string]unitDef
	sections map[string]string
	items    []value
}

type unitDef struct {
	shown  string
	spoken []string
}

var load = sync.OnceValue(func() *bundle {
	all, err := read(definitions, false)
	if err != nil {
		panic("schema: generated/definitions.json: " + err.Error()) // built in, checked by tests
	}
	b := &bundle{version: all.member("version").text(), units: map[string]unitDef{}, sections: map[string]string{}}
	for _, k := range mustRead(all.member("kinds")).list {
		b.kinds = append(b.kinds, KindDef{Kind(k.member("kind").text()), k.member("title").text(), k.member("sections").texts()})
	}
	for _, u := range mustRead(all.member("units")).members {
		b.units[u.name] = unitDef{u.value.member("shown").text(), u.value.member("spoken").texts()}
	}
	sections, err := read(all.member("sections").raw, false)
	if err != nil {
		panic("schema: generated/definitions.json: " + err.Error())
	}
	for _, s := range sections.members {
		b.sections[s.name] = s.value.raw
	}
	items, err := read(all.member("items").raw, false)
	if err != nil {
		panic("schema: generated/definitions.json: " + err.Error())
	}
	b.items = items.list
	return b
})

func mustRead(v value) value {
	v, err := read(v.raw, true)
	if err != nil {
		panic("schema: generated/definitions.json: " + err.Error())
	}
	return v
}

// Version is the version of the definitions, written into every note.
func Version() string { return load().version }

// Kinds lists the kinds of note.
func Kinds() []KindDef { return load().kinds }

// KindNamed is the definition of one kind, or nil.
func KindNamed(k Kind) *KindDef {
	for i, d := range load().kinds {
		if d.Kind == k {
			return &load().kinds[i]
		}
	}
	return nil
}

// UnitShown is how a UCUM unit is shown: "ug/kg/min" as "mcg/kg/min".
func UnitShown(ucum string) string {
	if u, ok := load().units[ucum]; ok {
		return u.shown // "" for pH and for pure numbers
	}
	return ucum
}

// Units lists the UCUM units the definitions use.
func Units() []string { return slices.Sorted(maps.Keys(load().units)) }

// UnitSpoken lists the ways a unit is said.
func UnitSpoken(ucum string) []string { return load().units[ucum].spoken }

var (
	defMu      sync.Mutex
	sections   = map[string]*Section{}
	items      []*ItemKind
	itemsNamed = map[string]*ItemKind{}
)

// SectionNamed is one section, or nil. It is read when first asked for.
func SectionNamed(name string) *Section {
	defMu.Lock()
	defer defMu.Unlock()
	if s, ok := sections[name]; ok {
		return s
	}
	raw, ok := load().sections[name]
	if !ok {
		return nil
	}
	s := mustRead(value{raw: raw}).section(name)
	sections[name] = s
	return s
}

// SectionsOf lists the sections of a kind of note, in order.
func SectionsOf(k Kind) []*Section {
	var out []*Section
	if d := KindNamed(k); d != nil {
		for _, name := range d.Sections {
			if s := SectionNamed(name); s != nil {
				out = append(out, s)
			}
		}
	}
	return out
}

// ItemKinds lists the kinds of item, in order.
func ItemKinds() []*ItemKind {
	defMu.Lock()
	defer defMu.Unlock()
	if items == nil {
		for _, raw := range load().items {
			k := mustRead(raw).item()
			items, itemsNamed[k.Name] = append(items, k), k
		}
	}
	return items
}

// ItemKindNamed is one kind of item, or nil.
func ItemKindNamed(name string) *ItemKind {
	ItemKinds()
	return itemsNamed[name]
}

// FieldsIn lists the fields of a section that notes of kind k have.
func (s *Section) FieldsIn(k Kind) []*Field {
	var out []*Field
	for _, f := range s.Fields {
		if f.In(k) {
			out = append(out, f)
		}
	}
	return out
}

// Field is the field of that name, or nil.
func (s *Section) Field(name string) *Field { return fieldNamed(s.Fields, name) }

// Field is the attribute of that name, or nil.
func (k *ItemKind) Field(name string) *Field { return fieldNamed(k.Fields, name) }

func fieldNamed(fs []*Field, name string) *Field {
	for _, f := range fs {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// FieldAt is the definition of a path, concrete or general, or nil. An item's
// concrete path does not name its kind: use Note.FieldAt for those.
func FieldAt(p Path) *Field {
	var fields []*Field
	section, rest, _ := strings.Cut(string(p), ".")
	if section == itemsName {
		var kind string
		kind, rest, _ = strings.Cut(rest, ".")
		if k := ItemKindNamed(kind); k != nil {
			fields = k.Fields
		}
	} else if s := SectionNamed(section); s != nil {
		fields = s.Fields
	}
	name, rest, inRow := strings.Cut(rest, ".")
	f := fieldNamed(fields, name)
	if !inRow || f == nil {
		return f
	}
	if _, name, ok := strings.Cut(rest, "."); ok {
		return fieldNamed(f.Rows, name)
	}
	return nil
}
