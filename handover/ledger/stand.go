package ledger

import (
	"encoding/json"
	"strings"

	"fairlead/schema"
)

// way follows a thing through what happened to it, event after event.
type way struct {
	where  Whereabouts
	cut    bool // something of it was cut, and is left inside
	only   bool // and beside that nothing of it is in
	others bool // and others of the same sort are in: when they come out, it is in still
}

// newWay is a thing that was put in.
func newWay() way { return way{where: InChild} }

// take goes on by one event; it tells whether the event says where the thing is. Only an
// event that says how takes an item off the list; finding it again puts it back. Of
// several of one sort some may be cut and left while the others are in.
func (w *way) take(e *ItemEvent) bool {
	switch e.Kind {
	case KindRemoved, KindExchanged:
		switch {
		case e.Facts.RemovedPart(): // another may have its place: a part is in all the same
			w.where, w.only = e.Facts.Part(), false
		case w.others:
			w.where, w.only, w.others = CutAndLeft, true, false
		default:
			*w = way{where: map[string]Whereabouts{KindRemoved: Removed, KindExchanged: Exchanged}[e.Kind]}
		}
	case KindCutLeft:
		w.cut = true
		if e.Facts.Others == "yes" && w.where.In() && !w.only {
			w.others = true
			return false
		}
		w.where, w.only, w.others = CutAndLeft, true, false
	case KindLost:
		w.where = Lost
	case KindToTheatre:
		w.where = InTheatre
	case KindGoneHome:
		w.where = GoneHome
	case KindTransferred:
		w.where = Transferred
	case KindPlaced:
		*w = newWay()
	case KindMoved, KindConfirmed: // a stump is a stump still
		w.where, w.only = InChild, false
	default:
		return false
	}
	return true
}

// Stand is what a thing counts as: one meaning for every list, screen and sheet. A thing
// is what wears one tag: a pair of wires under one tag is one.
type Stand int

// The standings.
const (
	StandsOut     Stand = iota // withdrawn, or out with nothing left
	StandsIn                   // at the bed, seen or inside: all of it, or a part that is to come out
	StandsLost                 // may be in: it must be found
	StandsCut                  // cut, and nothing of it is in but what was left inside
	StandsAlong                // went with the child, who has left
	StandsImplant              // in for good
)

// Stand is what the thing counts as now.
func (v *ItemView) Stand() Stand {
	if v.Withdrawn {
		return StandsOut
	}
	return v.stands(way{where: v.Where, cut: v.Cut, only: v.only}, v.Going)
}

// StandAt is what it counted as after those of its events that are named.
func (v *ItemView) StandAt(before func(*ItemEvent) bool) Stand {
	w := newWay()
	for i := range v.Events {
		if e := &v.Events[i]; before(e) {
			w.take(e)
		}
	}
	return v.stands(w, false)
}

func (v *ItemView) stands(w way, going bool) Stand {
	switch {
	case !w.where.In():
		return StandsOut
	case !Bedside(v.Kind):
		return StandsImplant
	case w.only:
		return StandsCut
	case going:
		return StandsIn
	case w.where == Lost:
		return StandsLost
	case w.where == GoneHome || w.where == Transferred:
		return StandsAlong
	}
	return StandsIn
}

// several tells whether a thing may be several of one sort, by its kind and the number
// that is listed: what came out in part may then be one of them, whole.
func (r *Record) several(v *ItemView) bool {
	k := schema.ItemKindNamed(v.Kind)
	if k == nil || k.Field("count") == nil {
		return false
	}
	for _, e := range r.fieldSlot("", schema.ItemPath(string(v.ID), "count")).now() {
		if e.body.(*fieldBody).entry.Value == json.Number("1") {
			return false
		}
	}
	return true
}

// piece tells whether of a thing that is so no more is in than a piece.
func (r *Record) piece(v *ItemView, where Whereabouts) bool {
	return (where == RemovedPart || where == PerhapsPart) && !r.several(v)
}

// InUse tells whether it is at the bed and more than a piece of it: it can be read,
// tested, moved, and it is asked whether it is still needed.
func (v *ItemView) InUse() bool { return v.AtBedside() && !v.Piece }

// Held is how many things are in a child, one a tag, by how they stand.
type Held [StandsImplant + 1]int

// Words says how many of what: "5 tags in, 1 lost, 1 cut and left inside, 3 implants".
// It is "5 in" for what "".
func (h Held) Words(what string) string {
	var out []string
	for s, words := range []string{StandsIn: "in", StandsLost: "lost", StandsCut: "cut and left inside", StandsAlong: "gone with the child", StandsImplant: "implant"} {
		switch n := h[s]; {
		case s == int(StandsOut):
		case s == int(StandsIn) && n == 0:
			out = append(out, map[bool]string{true: "none in", false: "no " + what + " in"}[what == ""])
		case s == int(StandsIn) && what != "":
			out = append(out, count(n, what)+" in")
		case n > 0 && s == int(StandsImplant):
			out = append(out, count(n, words))
		case n > 0 || s == int(StandsIn):
			out = append(out, joinInts([]int{n})+" "+words)
		}
	}
	return strings.Join(out, ", ")
}

// HeldOf counts things.
func HeldOf(things []ItemView) (h Held) {
	for i := range things {
		h[things[i].Stand()]++
	}
	return h
}
