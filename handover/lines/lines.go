// Package lines is what is in the child as people at the bed see it: what each
// thing is called, where it comes out, what is compared with the sheet, the check
// on leaving theatre and on arrival, and the register until the last one is out.
//
// The key types are [Check], one occasion, and [Register], what is in with what is
// due, open and read. Both are worked out from the record alone, so that either can
// be left and taken up at any answer. Nothing here stores anything, and nothing is
// taken as found because nobody said otherwise.
//
//	c := lines.CheckOf(rec, note, ledger.Arrival)
//	event := w.Check(rec, note, c.Entries[0].Found())
//	r := lines.RegisterOf(rec, profile, now)
package lines

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// about is what a kind of item says of itself beside its fields.
type about struct {
	Sites  []string `json:"sites"`
	Places []string `json:"places"`
	Order  int      `json:"order"`
	Usual  []string `json:"usual"`
}

var kinds = sync.OnceValue(func() map[string]about {
	out := map[string]about{}
	for _, k := range schema.ItemKinds() {
		var a about
		if len(k.Raw) > 0 {
			if err := json.Unmarshal(k.Raw, &a); err != nil {
				panic("lines: x-item of " + k.Name + ": " + err.Error()) // built in, checked by tests
			}
		}
		out[k.Name] = a
	}
	return out
})

// Usual lists the varieties of a kind that are quick to list, in order; Sites and
// Places the usual sites, and the usual places where one comes out.
func Usual(kind string) []string  { return slices.Clone(kinds()[kind].Usual) }
func Sites(kind string) []string  { return slices.Clone(kinds()[kind].Sites) }
func Places(kind string) []string { return slices.Clone(kinds()[kind].Places) }

// Place is the named place on the map of the child where the item comes out, or "".
func Place(it schema.Item) string {
	if it.Kind == "drain-chamber" { // it can stand nowhere else
		return "off-body"
	}
	return it.Text("exit")
}

// sided are the kinds whose name takes the child's side before it. Before others
// it would be read as part of the name: right atrial wires are not atrial wires
// that come out on the right.
var sided = []string{"central-venous-line", "arterial-line", "peripheral-cannula", "intraosseous-needle", "surface-probe", "wound-catheter"}

// Name is what an item is called: "Left atrial line", "Right radial arterial line".
func Name(it schema.Item) string {
	k := schema.ItemKindNamed(it.Kind)
	if k == nil {
		words := strings.ReplaceAll(it.Kind, "-", " ")
		if words == "" {
			return "Item of a kind not known here"
		}
		return strings.ToUpper(words[:1]) + words[1:]
	}
	name := k.Title
	if f := k.Field("variety"); f != nil && it.Text("variety") != "" {
		name = f.Label(it.Text("variety"))
	}
	side := it.Text("side")
	if (side == "right" || side == "left") && slices.Contains(sided, it.Kind) && !strings.HasPrefix(name, "Right") && !strings.HasPrefix(name, "Left") {
		name = strings.ToUpper(side[:1]) + side[1:] + " " + lower(name)
	}
	return name
}

// lower makes the first letter small unless the word is an abbreviation.
func lower(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// sizes are the attributes that say how large an item is, the first recorded one.
var sizes = []string{"size", "french", "gauge", "diameter"}

// FullName is the name with its size or number: "Right pleural drain 12 Fr",
// "Packs, 3".
func FullName(it schema.Item) string {
	name := Name(it)
	k := schema.ItemKindNamed(it.Kind)
	if k == nil {
		return name
	}
	for _, s := range sizes {
		if f := k.Field(s); f != nil && it.Decimal(s) != "" {
			name += " " + schema.Show(f, it.Note(), it.Path(s))
			break
		}
	}
	if k.Field("count") != nil && it.Decimal("count") != "" {
		name += ", " + schema.ShowNumber(it.Decimal("count"))
	}
	return name
}

// Sequence orders items for the check: what the child lives by first (airway,
// lines in the heart, support), and what cannot be seen last; within that by tag.
func Sequence(items []schema.Item) []schema.Item {
	out := slices.Clone(items)
	sorting.By(out, func(a, b schema.Item) int {
		return cmp.Or(rank(inside(a))-rank(inside(b)), cmp.Compare(order(a.Kind), order(b.Kind)), cmp.Compare(a.Tag, b.Tag), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func rank(b bool) int {
	if b {
		return 1
	}
	return 0
}

// order is the place of a kind; what is not known here comes first, so that it is
// not overlooked.
func order(kind string) int { return kinds()[kind].Order }

// inside tells whether the item is recorded as one that cannot be seen.
func inside(it schema.Item) bool {
	return it.Text("visible") == "no" || strings.HasPrefix(it.Text("exit"), "inside-")
}

// Fact is one attribute to compare at the bed with what the sheet says.
type Fact struct {
	Field string // the attribute's name
	Title string
	Sheet string // as the sheet has it, in words; "not recorded" too
}

// compared are the attributes that can be seen or read at the bed, in the order
// they are looked at. Which of them are shown although not recorded depends on the
// item: see wanted.
var compared = []string{"exit", "side", "site", "size", "french", "gauge", "count", "mark", "depth", "depthAt", "cuffed", "lumenCount", "lumens",
	"runs", "drainage", "suction", "use", "chamber", "level", "levelArrival", "output", "connection", "boxPort", "filter", "state", "movedTo", "fixation",
	"skin", "material", "lengthOutside", "whoMayTouch", "trace", "working"}

// wanted are the attributes whose absence from the record is itself worth seeing
// at the bed.
var wanted = []string{"exit", "size", "gauge", "count", "mark", "depth", "lumens", "drainage"}

// Facts lists what is compared at the bed for an item.
func Facts(it schema.Item) []Fact {
	k := schema.ItemKindNamed(it.Kind)
	if k == nil {
		return nil
	}
	var out []Fact
	for _, name := range compared {
		f := k.Field(name)
		if f == nil || it.Kind == "drain-chamber" && name == "exit" || !it.Note().Relevant(f, it.ID) && !it.Note().Answered(it.Path(name)) {
			continue
		}
		if !it.Note().Answered(it.Path(name)) && !slices.Contains(wanted, name) {
			continue
		}
		out = append(out, Fact{name, f.Title, shownAtBed(f, it)})
	}
	return out
}

// shownAtBed is an attribute as it is compared. Of a list each entry is said, so
// that two lumens that changed places differ: "Proximal: Running, milrinone".
func shownAtBed(f *schema.Field, it schema.Item) string {
	n, list := it.Note(), it.Path(f.Name)
	rows := n.Rows(list)
	if f.Type != "rows" || len(rows) == 0 {
		return schema.Show(f, n, list)
	}
	var entries []string
	for _, row := range rows {
		words := ""
		for i, c := range f.Rows {
			at := schema.RowPath(list, row, c.Name)
			if !n.Answered(at) {
				continue
			}
			switch {
			case words == "":
			case i == 1:
				words += ": "
			default:
				words += ", "
			}
			words += schema.Show(c, n, at)
		}
		entries = append(entries, words)
	}
	return strings.Join(entries, "; ")
}

// Differing is one way an item can differ from the sheet, quick to pick.
type Differing struct {
	Field string // the attribute's name, "tag" for its flag, or "other"
	Title string
	Sheet string
	Picks []string // what stands at the bed, in words; empty: it is typed
}

// FieldTag and FieldOther are the ways an item can differ that are no attribute.
const (
	FieldTag   = "tag"
	FieldOther = "other"
)

// Differences lists the ways an item can differ, the likely ones first.
func Differences(it schema.Item) []Differing {
	var out []Differing
	k := schema.ItemKindNamed(it.Kind)
	if k != nil {
		for _, name := range append([]string{"state", "variety"}, compared...) {
			f := k.Field(name)
			if f == nil || name == "movedTo" || slices.ContainsFunc(out, func(d Differing) bool { return d.Field == name }) {
				continue
			}
			choice := *f
			if name == "state" {
				choice.Enum = slices.DeleteFunc(slices.Clone(f.Enum), func(s string) bool { return !canHave(k, s) })
			}
			title := f.Title
			if name == "variety" {
				title = "What it is"
			}
			out = append(out, Differing{name, title, shownAtBed(f, it), picks(&choice)})
		}
	}
	out = append(out, Differing{FieldTag, "Tag", strconv.Itoa(it.Tag), []string{"No tag"}})
	return append(out, Differing{FieldOther, "Something else", "", nil})
}

// picks words the choices of an attribute that has few.
func picks(f *schema.Field) []string {
	if len(f.Enum) == 0 || len(f.Enum) > 14 {
		return nil
	}
	var out []string
	for _, v := range f.Enum {
		out = append(out, f.Label(v))
	}
	return out
}

// Checked tells whether an item is looked for at the bed: see [ledger.Bedside].
func Checked(it schema.Item) bool { return ledger.Bedside(it.Kind) }
