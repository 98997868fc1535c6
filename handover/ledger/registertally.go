package ledger

import (
	"slices"
	"strings"
)

// RegisterTally says what became of everything that was ever listed. Each item
// that was not withdrawn stands in exactly one of the lists, by tag: see [Stand].
type RegisterTally struct {
	Placed      []ItemID // all of them
	In          []ItemID // at the bed: a part that was left too, what went back to theatre, and what goes with a child who has not left
	Implants    []ItemID // in for good
	Removed     []ItemID
	Exchanged   []ItemID
	GoneHome    []ItemID
	CutAndLeft  []ItemID
	Transferred []ItemID
	Lost        []ItemID
	Disputed    []Dispute // by tag; each stands in a list above as well, if it was listed
	Balances    bool      // placed = all the others together
	Held        Held      // how many are in, by how they stand
}

// Dispute is an item whose whereabouts are in doubt, and why, in a sentence.
type Dispute struct {
	Item ItemID
	Tag  int // 0 if it is not listed
	Rule string
	Why  string
}

// RegisterTally works the tally out.
func (r *Record) RegisterTally() RegisterTally {
	var t RegisterTally
	for _, v := range r.Items() {
		if v.Withdrawn {
			continue
		}
		t.Placed = append(t.Placed, v.ID)
		stand := v.Stand()
		t.Held[stand]++
		list := map[Stand]*[]ItemID{StandsIn: &t.In, StandsImplant: &t.Implants, StandsCut: &t.CutAndLeft, StandsLost: &t.Lost}[stand]
		if list == nil {
			list = map[Whereabouts]*[]ItemID{Removed: &t.Removed, Exchanged: &t.Exchanged, GoneHome: &t.GoneHome, Transferred: &t.Transferred}[v.Where]
		}
		*list = append(*list, v.ID)
		for _, d := range r.disputes(v) {
			t.Disputed = append(t.Disputed, Dispute{v.ID, v.Tag, d.Rule, d.What})
		}
	}
	for _, f := range r.unlistedFaults() {
		t.Disputed = append(t.Disputed, Dispute{f.item, 0, f.Rule, f.What})
	}
	t.Balances = len(t.Placed) == len(t.In)+len(t.Implants)+len(t.Removed)+len(t.Exchanged)+len(t.GoneHome)+len(t.CutAndLeft)+len(t.Transferred)+len(t.Lost)
	return t
}

// disputes are the faults of an item that put in doubt where it is.
func (r *Record) disputes(v ItemView) []Fault {
	var out []Fault
	if v.Clash {
		out = append(out, Fault{Rule: RuleItemClash, What: r.tagOf(v.ID) + " was withdrawn by one, and changed or checked by another who had not seen that."})
	}
	if found, ok := r.foundAfter(v); ok {
		out = append(out, Fault{Rule: RuleOutAndFound, What: r.tagOf(v.ID) + " was " + string(v.Where) + ", and found at the bed by " + found.Author.String() + "."})
	}
	for _, f := range r.sequenceFaults(v) {
		switch f.Rule {
		case RuleOutTwice, RuleLeftAfterOut, RuleSaidAfterOut, RuleBeforePlaced:
			out = append(out, f)
		}
	}
	return out
}

// Words is the tally in one sentence.
func (t RegisterTally) Words() string {
	var parts []string
	if len(t.Placed) > 0 {
		parts = append(parts, t.Held.Words(""))
	}
	for _, x := range []struct {
		list  []ItemID
		words string
	}{{t.Removed, "removed"}, {t.Exchanged, "exchanged"}} {
		if n := len(x.list); n > 0 {
			parts = append(parts, joinInts([]int{n})+" "+x.words)
		}
	}
	s := count(len(t.Placed), "tag") + " listed"
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, ", ")
	}
	s += "."
	var doubt []ItemID
	for _, d := range t.Disputed {
		if !slices.Contains(doubt, d.Item) {
			doubt = append(doubt, d.Item)
		}
	}
	if n := len(doubt); n > 0 {
		s += " " + count(n, "item") + " in dispute."
	}
	return s
}
