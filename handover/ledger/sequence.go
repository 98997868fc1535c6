package ledger

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// The faults of a register whose events cannot all be so. Each is settled by
// [Writer.Settle] under the last of its events, or by retracting one of them;
// until then it is named, and the item stands in dispute.
const (
	RuleOutTwice        = "out-twice"
	RuleLeftAfterOut    = "left-after-out"
	RuleSaidAfterOut    = "said-after-out"
	RuleBeforePlaced    = "before-placed"
	RulePlacedTwice     = "placed-twice"
	RuleTotalFalls      = "total-falls"
	RuleHappenedLater   = "happened-later-than-entered"
	RuleExchangeUnknown = "exchanged-for-unknown"
	RuleUnlisted        = "register-of-unlisted-item"
	RuleRoundUnknown    = "round-not-begun"
	FaultCaseNotOpened  = "child-not-known"
)

// itemFault is a fault with the item it is of.
type itemFault struct {
	Fault
	item ItemID
}

// registerFaults lists what cannot be in the register, by item.
func (r *Record) registerFaults() []Fault {
	var out []Fault
	for _, v := range r.listing() {
		if !v.Withdrawn {
			out = append(out, r.sequenceFaults(v)...)
		}
	}
	for _, f := range r.unlistedFaults() {
		out = append(out, f.Fault)
	}
	out = append(out, r.twinFaults()...)
	rounds := map[EventID]bool{}
	for _, e := range r.kinds[KindRoundOpened] {
		rounds[e.ID] = true
	}
	var stray []*entry
	for _, e := range r.kinds[KindNeedAnswered] {
		if id := e.body.(*registered).Round; id != "" && !rounds[id] {
			stray = append(stray, e)
		}
	}
	for _, e := range r.kinds[KindRoundClosed] {
		if !rounds[e.body.(*roundClosed).Round] {
			stray = append(stray, e)
		}
	}
	if len(stray) > 0 {
		stray = sortedEntries(stray)
		out = append(out, Fault{RuleRoundUnknown, idsOf(stray),
			count(len(stray), "answer") + " of a round of what is still needed that was not begun on this device, the first by " + stray[0].Author.String() + ".",
			"Wait until the device it was begun on has shared it, or ask the round again."})
	}
	if len(r.kinds[KindCaseOpened]) == 0 && len(r.notes) == 0 && len(r.kinds) > 0 && r.noChild() {
		var all []*entry
		for _, es := range r.kinds {
			all = append(all, es...)
		}
		all = sortedEntries(all)
		out = append(out, Fault{FaultCaseNotOpened, idsOf(all),
			count(len(all), "event") + " of a child this device has never heard of, the first by " + all[0].Author.String() + ".",
			"Wait until the device the child was entered on has shared the record, or ask whose it is."})
	}
	return out
}

// twinFaults are the flags that stand on several things of which one is in: two
// devices apart each gave the next one.
func (r *Record) twinFaults() []Fault {
	var out []Fault
	twins := r.Twins()
	for _, tag := range slices.Sorted(maps.Keys(twins)) {
		f, in := Fault{Rule: RuleTagTwice, Do: "Give all but one of them another tag, here and on the child; " + strconv.Itoa(r.NextTag()) + " is free."}, false
		for _, id := range twins[tag] {
			v, _ := r.Item(id)
			f.Events, in = append(f.Events, v.Listed), in || v.Where.In()
		}
		if f.What = "Tag " + strconv.Itoa(tag) + " stands on " + strconv.Itoa(len(f.Events)) + " things."; in {
			out = append(out, f)
		}
	}
	return out
}

// noChild tells whether nothing is known of who the child is.
func (r *Record) noChild() bool {
	return !slices.ContainsFunc(r.content[""], func(s *slot) bool { return schema.Path(s.key.name).Section() == "child" })
}

// unlistedFaults are the register events of items that nobody listed, an item each.
func (r *Record) unlistedFaults() []itemFault {
	var out []itemFault
	for id, it := range r.items {
		if len(it.register) == 0 || slices.ContainsFunc(it.presence.all, func(e *entry) bool { return e.Kind == KindItemListed }) {
			continue
		}
		es := sortedEntries(it.register)
		out = append(out, itemFault{Fault{RuleUnlisted, idsOf(es),
			es[0].Author.String() + " recorded of an item that is not listed that it " + cmp.Or(happenedWords[es[0].Kind], "was asked about") + " at " + es[0].Happened.Shown() + ".",
			"List the item, or wait until the device it was listed on has shared it."}, id})
	}
	sorting.By(out, func(a, b itemFault) int { return cmp.Compare(a.item, b.item) })
	return out
}

// sequenceFaults lists what cannot be in what was said of one item, in order.
func (r *Record) sequenceFaults(v ItemView) []Fault {
	if len(v.Events) == 0 {
		return nil
	}
	var out []Fault
	name := "Tag " + strconv.Itoa(v.Tag)
	add := func(rule, what, do string, es ...ItemEvent) {
		f := Fault{Rule: rule, What: what, Do: do}
		for _, e := range es {
			if e.Event != "" {
				f.Events = append(f.Events, e.Event)
			}
		}
		if n := len(f.Events); n == 0 || r.settlements()[f.Events[n-1]] == nil {
			out = append(out, f)
		}
	}
	said := func(e ItemEvent) string {
		words := cmp.Or(happenedWords[e.Kind], "was asked about")
		if f, ok := r.Item(e.Facts.For); ok && e.Kind == KindExchanged {
			words += " for tag " + strconv.Itoa(f.Tag)
		}
		return words + " at " + e.When() + " (" + e.Author.String() + ")"
	}
	placed, known := r.placedAt(v)
	var gone, put *ItemEvent // the event that took it out, or put it in, last
	var total *ItemEvent     // the last reading whose running total is known
	level := 0.0
	var reading *Output // the last one with a figure, and what stood before it
	var read, totalBefore *ItemEvent
	levelBefore := 0.0
	for i := range v.Events {
		e := &v.Events[i]
		if known && e.Kind != KindPlaced && e.Happened.Before(placed) {
			add(RuleBeforePlaced, name+" was placed at "+placed.Shown()+", and "+said(*e)+": earlier than that.", "Correct the time that is wrong.", *e)
		}
		if e.Event != "" && e.Happened.Sub(e.Entered) > MaxAhead {
			add(RuleHappenedLater, name+" "+said(*e)+", and that was entered at "+e.Entered.Shown()+": "+words(e.Happened.Sub(e.Entered))+" before it can have happened.",
				"Correct the time, or set the device's clock right.", *e)
		}
		switch e.Kind {
		case KindRemoved, KindExchanged:
			if gone != nil && (gone.Event != "" && e.Event != "" || gone.Kind != e.Kind) {
				do := "Say which is so: take back the other, or settle it by name."
				if gone.Facts.For != "" && e.Facts.For != "" && gone.Facts.For != e.Facts.For {
					do = "Look at the child: which of the new ones is in? Take the other off the list, or settle it by name."
				}
				add(RuleOutTwice, name+" "+said(*gone)+", and again "+said(*e)+".", do, *gone, *e)
			}
		case KindCutLeft, KindLost, KindToTheatre, KindGoneHome, KindTransferred:
			if gone != nil && !(e.Facts.Others == "yes" && gone.Facts.Number != "") { // of several some came out, and then others were cut
				add(RuleLeftAfterOut, name+" "+said(*gone)+", and then "+said(*e)+".", "Look at the child and say which is so.", *gone, *e)
			}
		case KindOutputRead, KindPressureRead, KindWiresTested, KindConnected, KindDisconnected, KindProblem, KindNeedAnswered, KindMoved:
			if gone != nil {
				add(RuleSaidAfterOut, name+" "+said(*gone)+", and then "+said(*e)+".", "Look at the child: is it in? Correct the item, or the time.", *gone, *e)
			}
		case KindPlaced:
			if put != nil && gone == nil {
				add(RulePlacedTwice, name+" "+said(*put)+", and again "+said(*e)+".", "Is it another item? List that one, and take this back.", *put, *e)
			}
			put = e
		}
		if f := e.Facts.For; e.Kind == KindExchanged && f != "" {
			if _, listed := r.views.at[f]; !listed || f == v.ID {
				add(RuleExchangeUnknown, name+" "+said(*e)+" for an item that is not listed.", "List the item that took its place, or wait until the other device has shared it.", *e)
			}
		}
		if o := e.Facts.Output; e.Kind == KindOutputRead && o != nil {
			switch {
			case read != nil && e.Happened.Instant().Equal(read.Happened.Instant()) && o.Corrects(reading):
				total, level, o = totalBefore, levelBefore, o.InPlaceOf(reading)
				read, reading = e, o
			case o.Total+o.Volume != "":
				read, reading, totalBefore, levelBefore = e, o, total, level
			case o.Fresh():
				read = nil
			}
			if at, err := strconv.ParseFloat(o.Total, 64); err == nil {
				if total != nil && at < level {
					add(RuleTotalFalls, name+" held "+schema.ShowNumber(strconv.FormatFloat(level, 'f', -1, 64))+" mL at "+total.Happened.Shown()+", and "+schema.ShowNumber(o.Total)+" mL at "+e.Happened.Shown()+" ("+e.Author.String()+"), less than before.",
						"Was it emptied or changed? Say so with the reading, or read it again.", *total, *e)
				}
				total, level = e, at
			} else if ml, err := strconv.ParseFloat(o.Volume, 64); err == nil && total != nil {
				total, level = e, level+ml
			}
			if o.Fresh() {
				total = e
				level, _ = strconv.ParseFloat(cmp.Or(o.Begins, "0"), 64)
			}
		}
		if e.Leaves != "" {
			gone = nil
			if !e.Leaves.In() {
				gone = e
			}
		}
	}
	return out
}

// placedAt is when an item was put in, as far as that was said: by an event, or in
// its own field.
func (r *Record) placedAt(v ItemView) (at schema.Moment, ok bool) {
	for _, e := range v.Events {
		if e.Kind == KindPlaced {
			return e.Happened, true
		}
	}
	if now := r.fieldSlot("", schema.ItemPath(string(v.ID), "placed")).now(); len(now) > 0 && allSame(now) {
		text, _ := now[0].body.(*fieldBody).entry.Value.(string)
		if at, err := schema.ParseMoment(text); err == nil {
			return at, true
		}
	}
	return at, false
}

// Since is since when an item has been in: when it was placed, or, with sure
// false, when it was listed.
func (r *Record) Since(id ItemID) (at schema.Moment, sure bool) {
	v, ok := r.Item(id)
	if !ok {
		return at, false
	}
	if at, ok := r.placedAt(v); ok {
		return at, true
	}
	return v.Happened, false
}
