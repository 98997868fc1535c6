package lines

import (
	"strconv"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// Removal is what is asked before an item comes out.
type Removal struct {
	Conditions []string      // the unit's, for its kind; each to be answered
	Entry      profile.Entry // the setting: Entry.Basis() is its source, Entry.Standing() why there are none
	InForce    bool
	OwnWords   []string // what the note says of this item's removal: who, not before, only if
	Questions  []string // what speaks against it now; it can be answered, never silently
}

// RemovalOf is what is asked before an item comes out at the moment now.
func RemovalOf(rec *ledger.Record, p *profile.Profile, id ledger.ItemID, now schema.Moment) Removal {
	var out Removal
	v, ok := rec.Item(id)
	it, known := rec.Child().Item(string(id))
	if !ok || !known {
		return out
	}
	out.Conditions, out.Entry, out.InForce = p.Removal(v.Kind)
	if k := schema.ItemKindNamed(v.Kind); k != nil {
		for _, name := range []string{"removeBy", "notBefore", "removeConditions"} {
			if f := k.Field(name); f != nil && it.Note().Answered(it.Path(name)) {
				out.OwnWords = append(out.OwnWords, f.Title+": "+schema.Show(f, it.Note(), it.Path(name)))
			}
		}
	}
	if day := schema.Date(it.Text("notBefore")); day != "" && now.Date() < day {
		out.Questions = append(out.Questions, "It was not to come out before "+day.Shown()+". Take it out today all the same?")
	}
	var hearts, lost, drains, still []string
	for _, o := range rec.ItemsIn() {
		x, ok := rec.Child().Item(string(o.ID))
		if !ok || o.ID == id || !o.AtBedside() {
			continue
		}
		name := strconv.Itoa(o.Tag) + " " + FullName(x)
		switch {
		case intracardiac(o.Kind) && o.Where == ledger.Lost:
			lost = append(lost, name)
		case intracardiac(o.Kind):
			hearts = append(hearts, name)
		case chestDrain(x) && (o.Where == ledger.InChild || o.Where == ledger.InTheatre): // a piece that was left drains nothing
			drains = append(drains, name)
			if s := x.Text("drainage"); s == "clamped" || x.Text("state") == "clamped" || x.Text("state") == "blocked" {
				still = append(still, name)
			}
		}
	}
	switch {
	case chestDrain(it) && len(drains) == 0 && len(hearts)+len(lost) > 0:
		words := "This is the last chest drain"
		if len(hearts) > 0 {
			words += ", and " + listed(hearts) + " " + plural(len(hearts), "is", "are") + " still in the heart: a line that bleeds on its way out then has nowhere to drain"
		}
		words += "."
		if len(lost) > 0 { // nobody knows whether it is in
			words += " " + listed(lost) + " " + plural(len(lost), "is", "are") + " on record as lost: whether any of it is in the heart is not known."
		}
		out.Questions = append(out.Questions, words+" Take the drain out first all the same?")
	case intracardiac(v.Kind) && len(drains) == 0:
		out.Questions = append(out.Questions, "No chest drain is in. An intracardiac line may bleed on its way out. Take it out all the same?")
	case intracardiac(v.Kind) && len(still) == len(drains):
		out.Questions = append(out.Questions, "The drain is recorded as not working ("+listed(still)+"). An intracardiac line may bleed on its way out. Take it out all the same?")
	}
	return out
}

func intracardiac(kind string) bool {
	k := schema.ItemKindNamed(kind)
	return k != nil && k.Intracardiac
}

// chestDrain tells whether the item drains the chest.
func chestDrain(it schema.Item) bool {
	return it.Kind == "drain" && it.Text("variety") != "peritoneal"
}

func listed(names []string) string {
	s := ""
	for i, n := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			s += " and "
		default:
			s += ", "
		}
		s += n
	}
	return s
}
