package lines

import (
	"slices"
	"strconv"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Going is what is asked before a child goes home with it: it can be answered by who
// decided it and why, and is never passed over.
type Going struct {
	Key   string // the item, or a name of its own
	Words string
}

// GoingHome lists what is asked before a child goes home: an open chest, what stands on
// the banner until it is reconciled, and what lies in the heart or on it, in a great
// vessel, in the chest or in the windpipe. Wires that were cut on purpose have been
// answered already.
func GoingHome(rec *ledger.Record) []Going {
	var out []Going
	var asked []ledger.ItemID
	for _, l := range LeftIn(rec) {
		g := Going{string(l.Item), "Tag " + strconv.Itoa(l.Tag) + ", " + l.Words + ", is still in."}
		switch {
		case l.Cut && !slices.Contains(bannered, l.What):
			continue
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
		it, ok := tree.Item(string(v.ID))
		where := deepIn(it)
		if where == "" || !ok || slices.Contains(asked, v.ID) || v.Stand() == ledger.StandsCut {
			continue
		}
		words := "Tag " + strconv.Itoa(v.Tag) + ", " + FullName(it) + ", lies " + where + "."
		if v.Where == ledger.Lost {
			words = "Tag " + strconv.Itoa(v.Tag) + ", " + FullName(it) + ", is on record as lost: whether any of it lies " + where + " is not known."
		}
		out = append(out, Going{string(v.ID), words})
	}
	return out
}

// deepIn words where a thing lies, if it is nothing that a child simply goes home with;
// else "". A line made to stay (tunnelled, a port) and a tracheostomy are.
func deepIn(it schema.Item) string {
	switch {
	case intracardiac(it.Kind):
		return "in the heart"
	case it.Kind == "pacing-wires":
		return "on the heart"
	case it.Kind == "arterial-line":
		return "in an artery"
	case it.Kind == "support-cannula":
		return "in the heart or a great vessel"
	}
	variety := it.Text("variety")
	switch {
	case it.Kind == "central-venous-line" && variety != "tunnelled" && variety != "port",
		it.Kind == "dialysis-catheter" && variety == "venous":
		return "in a great vein"
	case it.Kind == "airway" && (variety == "oral-tube" || variety == "nasal-tube"):
		return "in the windpipe"
	case it.Kind == "drain" && variety != "peritoneal":
		return "in the chest"
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
