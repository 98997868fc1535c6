package ledger

import (
	"cmp"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// linkKey is the register of whether two cases are one child, the same from both
// sides.
func linkKey(a, b CaseID) slotKey {
	if b < a {
		a, b = b, a
	}
	return slotKey{linkSlot, "", string(a) + "|" + string(b)}
}

// linked finds the cases that count as one child with c. While one person says
// that two records are one child and another has parted them, they are apart:
// mixing two children is the worse mistake.
func linked(c CaseID, events []*entry, void func(*entry) bool) map[CaseID]bool {
	links := map[slotKey]*slot{}
	for _, e := range events {
		b, ok := e.body.(*joined)
		if !ok || e.how != read || void(e) || e.Case == b.Other {
			continue
		}
		key := linkKey(e.Case, b.Other)
		if links[key] == nil {
			links[key] = &slot{key: key}
		}
		links[key].add(e)
	}
	next := map[CaseID][]CaseID{}
	for _, s := range links {
		if _, parted := partition(s.now(), KindCasesJoined); len(parted) > 0 {
			continue
		}
		e := s.now()[0]
		a, b := e.Case, e.body.(*joined).Other
		next[a], next[b] = append(next[a], b), append(next[b], a)
	}
	in := map[CaseID]bool{c: true}
	for todo := []CaseID{c}; len(todo) > 0; {
		at := todo[0]
		todo = todo[1:]
		for _, other := range next[at] {
			if !in[other] {
				in[other] = true
				todo = append(todo, other)
			}
		}
	}
	return in
}

// Joined lists the other cases that this child's events join to it, whether or not
// their events were given to the fold: whoever reads the log loads those too.
func (r *Record) Joined() []CaseID {
	var out []CaseID
	for c := range r.cases {
		if c != r.child {
			out = append(out, c)
		}
	}
	slices.Sort(out)
	return out
}

// link is what was said of whether two cases are one child, on both sides, as far
// as it was given to the record: also of a case that does not count as this child.
func (r *Record) link(a, b CaseID) *slot {
	s := &slot{key: linkKey(a, b)}
	for _, e := range r.all {
		if j, ok := e.body.(*joined); ok && e.how == read && e.Case != j.Other && linkKey(e.Case, j.Other) == s.key && !r.isVoid(e) {
			s.add(e)
		}
	}
	return s
}

// Link is what was said last of whether another record is of the same child.
type Link struct {
	Case   CaseID // in whose record it was said
	Other  CaseID
	Joined bool // false: parted
	Why    string
	Author Author
	At     schema.Moment
}

// Links lists what this child's records say of others, by the other case. While two
// people disagree the records are apart: see linked.
func (r *Record) Links() []Link {
	var out []Link
	for _, s := range r.slots {
		if s.key.kind != linkSlot || len(s.now()) == 0 {
			continue
		}
		now, parted := partition(s.now(), KindCasesJoined)
		if len(parted) > 0 {
			now = parted
		}
		e := now[len(now)-1]
		b := e.body.(*joined)
		l := Link{Case: e.Case, Other: b.Other, Joined: len(parted) == 0, Why: b.Why, Author: e.Author, At: e.Happened}
		if b.Other == r.child {
			l.Case, l.Other = b.Other, e.Case
		}
		out = append(out, l)
	}
	sorting.By(out, func(a, b Link) int { return cmp.Compare(a.Other, b.Other) })
	return out
}
