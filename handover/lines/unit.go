package lines

import (
	"cmp"
	"slices"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// UnitChild is one child on the board of the unit: what is in, what is due, what is
// in dispute. It is a pure function of the child's register.
type UnitChild struct {
	Case                  ledger.CaseID
	Who, Number, Born     string // as the caller words them
	Alike                 string // whom the name is like, as the caller words it, or ""
	Items                 []UnitItem
	Held                  ledger.Held // how many of these are in, and of what stays for good
	Also                  []UnitAlso  // what is open or due and about none of Items
	Left                  []Left      // open chest, packs, membrane
	Open, Overdue, Faults int         // problems that are open, things whose time is past, what cannot be
	Oldest                schema.Moment
}

// UnitItem is one thing in a child, as the board has it; implants are not on it.
type UnitItem struct {
	ID            ledger.ItemID
	Tag           int
	Kind, Variety string
	Stand         ledger.Stand
	Name          string // with where it is, if not simply in: "Gastric tube (lost)"
	In            string // how long: "3 days 4 h"
	Since         schema.Moment
	Due           string // what is due first, in words, or ""
	Overdue       bool
	Problem       string // what is open about it, in words, or ""
}

// UnitAlso is something open or due of a child that is about no thing that is in:
// what came out in part, a loss, what was found and not listed, a site to look at,
// what cannot be.
type UnitAlso struct {
	Tag   int // 0: about no one thing
	Words string
	Open  bool // in dispute; else due, and its time is past
}

// UnitChildOf is a child's line on the board.
func UnitChildOf(r Register) UnitChild {
	listed := func(id ledger.ItemID) bool {
		e, ok := r.Item(id)
		return ok && !e.Implant
	}
	c := UnitChild{Left: r.Left, Held: r.Tally.Held, Open: len(r.Open), Faults: len(r.Faults)}
	for _, p := range r.Open {
		if !listed(p.Item) {
			c.Also = append(c.Also, UnitAlso{p.Tag, p.Name + ": " + p.Words, true})
		}
	}
	for _, f := range r.Faults {
		c.Also = append(c.Also, UnitAlso{Words: f.What, Open: true})
	}
	for _, d := range r.Due {
		if d.Overdue {
			c.Overdue++
			if !listed(d.Item) {
				c.Also = append(c.Also, UnitAlso{Tag: d.Tag, Words: d.Name + ": " + d.Words})
			}
		}
	}
	for _, it := range r.Items {
		if it.Implant {
			continue
		}
		u := UnitItem{ID: it.ID, Stand: it.View.Stand(), Tag: it.Tag, Kind: it.Item.Kind, Variety: it.Item.Text("variety"), Name: it.Name, In: it.In, Since: it.Since}
		if !it.SinceSure {
			u.In += " or more" // only when it was listed is known
		}
		if w := it.View.Where; w != ledger.InChild && w != ledger.CutAndLeft { // the name of a stump says so
			u.Name += " (" + string(w) + ")"
		}
		if len(it.Due) > 0 {
			u.Due, u.Overdue = it.Due[0].Words, it.Due[0].Overdue
		}
		for _, p := range it.Problems {
			if p.Settled == nil {
				u.Problem = p.Words
				break
			}
		}
		c.Items = append(c.Items, u)
		if c.Oldest.IsZero() || u.Since.Before(c.Oldest) {
			c.Oldest = u.Since
		}
	}
	sorting.By(c.Items, func(a, b UnitItem) int { return a.Since.Instant().Compare(b.Since.Instant()) })
	return c
}

// SortUnit puts the child with the oldest thing in first, those with nothing in last.
func SortUnit(all []UnitChild) {
	sorting.By(all, func(a, b UnitChild) int {
		switch {
		case len(a.Items) == 0 || len(b.Items) == 0:
			return cmp.Compare(len(b.Items), len(a.Items))
		}
		return a.Oldest.Instant().Compare(b.Oldest.Instant())
	})
}

// UmbilicalCatheters is a variety to ask [UnitChild.Only] for with no kind: those in
// the artery and those in the vein, which are of two kinds.
const UmbilicalCatheters = "umbilical"

// Only is the child with the items of one kind, and of one variety if it is not "";
// what is due and open is then counted over these.
func (c UnitChild) Only(kind, variety string) UnitChild {
	if kind == "" && variety == "" {
		return c
	}
	c.Items = slices.DeleteFunc(slices.Clone(c.Items), func(u UnitItem) bool {
		if kind == "" {
			return !u.umbilical()
		}
		return u.Kind != kind || variety != "" && u.Variety != variety
	})
	c.Overdue, c.Open, c.Faults, c.Also, c.Held = 0, 0, 0, nil, ledger.Held{}
	for _, u := range c.Items {
		c.Held[u.Stand]++
		if u.Overdue {
			c.Overdue++
		}
		if u.Problem != "" {
			c.Open++
		}
	}
	return c
}

func (u UnitItem) umbilical() bool { return strings.HasPrefix(u.Variety, UmbilicalCatheters) }

// UnitKind is one kind of thing that is in some child, with how many there are.
type UnitKind struct {
	Kind, Variety string
	Words         string
	N             int
}

// UnitKinds lists what there is to choose from: each kind and, below it, each
// variety, as the definitions order them.
func UnitKinds(all []UnitChild) []UnitKind {
	count := map[[2]string]int{}
	for _, c := range all {
		for _, u := range c.Items {
			count[[2]string{u.Kind, ""}]++
			if u.Variety != "" {
				count[[2]string{u.Kind, u.Variety}]++
			}
			if u.umbilical() {
				count[[2]string{"", UmbilicalCatheters}]++
			}
		}
	}
	var out []UnitKind
	for _, k := range schema.ItemKinds() {
		n := count[[2]string{k.Name, ""}]
		if n == 0 {
			continue
		}
		out = append(out, UnitKind{Kind: k.Name, Words: k.Title + ": all", N: n})
		if f := k.Field("variety"); f != nil {
			for _, v := range f.Enum {
				if n := count[[2]string{k.Name, v}]; n > 0 {
					out = append(out, UnitKind{Kind: k.Name, Variety: v, Words: k.Title + ": " + f.Label(v), N: n})
				}
			}
		}
	}
	if n := count[[2]string{"", UmbilicalCatheters}]; n > 0 {
		out = append(out, UnitKind{Variety: UmbilicalCatheters, Words: "Umbilical catheters, artery and vein: all", N: n})
	}
	return out
}
