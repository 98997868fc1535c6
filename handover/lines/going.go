package lines

import (
	"slices"
	"strconv"

	"fairlead/handover/ledger"
)

// Going is what is asked before a child goes home with it: it can be answered by who
// decided it and why, and is never passed over.
type Going struct {
	Key   string // the item, or a name of its own
	Words string
}

// GoingHome lists what is asked before a child goes home: an open chest, what stands on
// the banner until it is reconciled, and what lies in the heart or in an artery.
func GoingHome(rec *ledger.Record) []Going {
	var out []Going
	var asked []ledger.ItemID
	for _, l := range LeftIn(rec) {
		g := Going{string(l.Item), "Flag " + strconv.Itoa(l.Tag) + ", " + l.Words + ", is still in."}
		switch {
		case l.What == ChestOpen:
			g = Going{ChestOpen, "The chest is on record as open. If it is closed, record that in a note of the closure first."}
		case l.Item == "":
			g = Going{l.What, l.Words + ": they are counted as left in, and nothing says that they came out."}
		}
		asked = append(asked, l.Item)
		out = append(out, g)
	}
	tree := rec.Child()
	for _, v := range rec.ItemsIn() {
		where := inHeartOrArtery(v.Kind)
		it, ok := tree.Item(string(v.ID))
		if where == "" || !ok || slices.Contains(asked, v.ID) {
			continue
		}
		words := "Flag " + strconv.Itoa(v.Tag) + ", " + FullName(it) + ", lies in " + where + "."
		if v.Where == ledger.Lost {
			words = "Flag " + strconv.Itoa(v.Tag) + ", " + FullName(it) + ", is on record as lost: whether any of it lies in " + where + " is not known."
		}
		out = append(out, Going{string(v.ID), words})
	}
	return out
}

// inHeartOrArtery words where things of a kind lie, if that is the heart or an artery;
// else "".
func inHeartOrArtery(kind string) string {
	switch {
	case intracardiac(kind):
		return "the heart"
	case kind == "arterial-line":
		return "an artery"
	case kind == "support-cannula":
		return "the heart or a great vessel"
	}
	return ""
}

// StayOver tells whether the last stay ended and no other has begun: nothing was listed,
// no note opened since, and nothing is looked for at the bed.
func StayOver(rec *ledger.Record) bool {
	ended, ok := rec.StayEnded()
	if !ok {
		return false
	}
	for _, n := range rec.Notes() {
		if n.Clock > ended.Clock {
			return false
		}
	}
	for _, v := range rec.Items() {
		if !v.Withdrawn && v.Clock > ended.Clock || !v.Withdrawn && v.Where.In() && ledger.Bedside(v.Kind) && v.Where != ledger.GoneHome && v.Where != ledger.Transferred {
			return false
		}
	}
	return true
}

// Went says of a thing that it went, or is to go, with the child: where to, who said so
// and when; "" for any other.
func Went(v ledger.ItemView) string {
	words := map[ledger.Whereabouts]string{ledger.GoneHome: "gone home with the child", ledger.Transferred: "gone with the child"}[v.Where]
	if words == "" {
		return ""
	}
	if v.Going {
		words = map[ledger.Whereabouts]string{ledger.GoneHome: "goes home with the child", ledger.Transferred: "goes with the child"}[v.Where]
	}
	for i := len(v.Events) - 1; i >= 0; i-- {
		if e := v.Events[i]; e.Kind == ledger.KindGoneHome || e.Kind == ledger.KindTransferred {
			if e.Facts.Ward != "" {
				words += " to " + e.Facts.Ward
			}
			return words + ", " + e.Author.String() + ", " + e.Happened.Shown()
		}
	}
	return words
}
