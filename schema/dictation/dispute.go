package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// saidAfter tells whether a value is said of after what was done: "sats 80 after",
// "after: sats 82", "sats after seventy six".
func (g *segment) saidAfter(from, to int) bool {
	if g.is(0, "after", "afterward") && g.is(1, ":", ",") {
		return true
	}
	ends := func(k int) bool {
		return k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", "on", "and", "in", "with")
	}
	return g.is(to, "after") && ends(to+1) || g.is(from-1, "after") && g.numberAt(from)
}

// between is the text between the places of two proposals, small; "" where they do
// not follow one another closely in one sentence.
func (s *settling) between(q, p *Proposal) string {
	from, to := q.Spans[0].End, p.Spans[0].Start
	if from > to || to-from > 90 {
		return ""
	}
	t := strings.ToLower(s.reading.Text[from:to])
	if strings.ContainsAny(t, ".!?\n") {
		return ""
	}
	return t
}

func anyWord(t string, words ...string) bool {
	for _, w := range words {
		if strings.Contains(t, w) {
			return true
		}
	}
	return false
}

// saidInstead tells whether the words between two proposals put the second in the
// place of the first.
func (s *settling) saidInstead(q, p *Proposal) bool {
	from, to := q.Spans[0].End, p.Spans[0].Start
	if from > to || to-from > 90 {
		return false
	}
	return anyWord(strings.ToLower(s.reading.Text[from:to]), " well", "actually", "sorry", "correction", " so ", "although", "though ", " but ", "wait")
}

// dispute settles two values of one field that the words between them order: of a
// choice the later stands after "so", "then" or "but"; none gives way to what is said
// after a "but". It tells whether it did.
func (s *settling) dispute(q, p *Proposal) bool {
	f := fieldAt(p.Path)
	if f == nil || q.Sure == Conflict || p.Sure == Conflict || len(f.Enum) == 0 {
		return false
	}
	take := func() {
		spans := q.Spans
		*q = *p
		q.Sure, q.Note = Check, "another value was said before"
		q.Spans = append(slices.Clone(q.Spans), spans...)
	}
	t := s.between(q, p)
	switch {
	case p.Path == schema.BetweenPlication && p.Stated != "" && !strings.Contains(strings.ToLower(q.Why), "plicat"):
		*q = *p // "the left diaphragm looked low, so no plication"
		return true
	case p.Path == schema.Stage2OldSupply && (q.Value == "left-open") != (p.Value == "left-open"):
		x := q // what was left open was something else
		if p.Value == "left-open" {
			x = p
		}
		if anyWord(strings.ToLower(x.Why), "shunt", "sano", "supply", "duct", "conduit", "flow") {
			return false
		}
		if x == q {
			*q = *p
		}
		return true
	case t == "":
		return false
	case q.Stated == schema.StatedNone && p.Stated == "" && anyWord(t, " but ", "however", "except"):
		take()
		return true
	case laterStands[p.Path] && anyWord(t, " so ", "so ", " but ", " then ", "in the end", "sorry", "actually", " now ", " well"):
		take()
		return true
	}
	return false
}

// laterStands are choices of which one can hold and that may change while one tells.
var laterStands = map[schema.Path]bool{schema.MechanicalReasonOn: true, schema.MechanicalShunt: true, schema.LeavingRhythm: true, schema.SupplyState: true, schema.ClosingSkin: true, schema.Stage2Connection: true}

// beforeWork gives the saturation before the work and the one after it their own
// fields, where an operation between the stages was done for it.
func (s *settling) beforeWork(q, p *Proposal) bool {
	if p.Path != schema.LeavingSaturation || s.reading.Kind != schema.ShuntRevision && s.reading.Kind != schema.Reexploration || q.leaving || !p.leaving || q.Sure == Conflict {
		return false
	}
	for _, x := range s.plain {
		if x.Path == schema.BetweenSaturationBeforeWork || x.Path == schema.BetweenSaturationAfterWork {
			return false
		}
	}
	after := *p
	after.Path = schema.BetweenSaturationAfterWork
	q.Path, q.Sure, q.Note = schema.BetweenSaturationBeforeWork, Check, "another value was said of after the work"
	s.more = append(s.more, &after)
	return true
}

// undone drops a clip that was put on and taken off again, of the list of what was
// done to the shunt.
func (s *settling) undone() {
	var on, off, instead *Proposal
	for _, p := range s.plain {
		if p.Path != schema.BetweenShuntDone {
			continue
		}
		switch p.Value {
		case "clipped":
			on = p
		case "clip-removed":
			off = p
		case "replaced":
			instead = p
		}
	}
	if on == nil || off == nil || on.Spans[0].Start > off.Spans[0].Start {
		return
	}
	s.plain = slices.DeleteFunc(s.plain, func(p *Proposal) bool { return p == on || p == off && instead != nil })
}
