package ledger

import "fairlead/schema"

// Offer is a value, or several, entered on another child first and offered here.
type Offer struct {
	Event  EventID
	From   CaseID
	Why    string
	Author Author
	At     schema.Moment
	Sets   []OfferedValue
}

// OfferedValue is one value of an offer, and who entered it first.
type OfferedValue struct {
	Path   schema.Path
	Entry  Entry
	Author Author
}

// Offers lists the offers that nobody has answered, by clock.
func (r *Record) Offers() []Offer {
	answered := map[EventID]bool{}
	for _, e := range r.kinds[KindOfferAnswered] {
		answered[e.body.(*offerAnswered).Offer] = true
	}
	var out []Offer
	for _, e := range sortedEntries(r.kinds[KindOffered]) {
		if answered[e.ID] {
			continue
		}
		b := e.body.(*offered)
		o := Offer{Event: e.ID, From: b.From, Why: b.Why, Author: e.Author, At: e.Happened}
		for _, s := range b.Sets {
			entry, err := readEntry(s.Value, s.Decimal, s.Stated, s.Bound)
			if err != nil || !placeable(s.Path) {
				continue
			}
			entry.Origin = Origin{How: HowOffered}
			o.Sets = append(o.Sets, OfferedValue{s.Path, entry, s.Author})
		}
		out = append(out, o)
	}
	return out
}
