package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// weigh settles two values of one field of which nothing beside them says which
// holds, by what is known of telling: a limit is no reading, a state is told in the
// order of time, a number far from what its field holds was said of something else,
// and of some choices one is only part of the other's story. It tells whether it did;
// what stays is a conflict, and a person decides. What two sources say differently,
// "clamp 74 ... the sheet has 82", always stays one.
func (s *settling) weigh(q, p *Proposal) bool {
	f := fieldAt(p.Path)
	if q.Sure == Conflict {
		return false
	}
	stand := func(x *Proposal) bool {
		first := *q
		if x == p {
			*q = *p
			if state(p.Path) {
				s.earlier(&first, q)
			}
		}
		q.Sure, q.Note = Check, "another value was said too"
		return true
	}
	if f.Numeric() && q.Stated == "" && p.Stated == "" {
		kind := s.reading.Kind
		switch a, b := usual(f, kind, q.Value), usual(f, kind, p.Value); {
		case (q.Bound == "") != (p.Bound == ""): // "lactate 2.2 ... lactate over four, ring"
			if q.Bound != "" {
				return stand(p)
			}
			return stand(q)
		case s.anotherSource(q, p) || p.Path.Section() == "support":
			return false
		case a != b && !b:
			return stand(q)
		case a != b:
			return stand(p)
		case state(p.Path) && p.Spans[0].Start-q.Spans[0].End > 40 && !s.saidOfThen(p):
			return stand(p)
		}
		return false
	}
	if len(f.Enum) == 0 {
		return false
	}
	if a, b := givesWay(p.Path, q), givesWay(p.Path, p); a != b {
		if a {
			return stand(p)
		}
		return stand(q)
	}
	if state(p.Path) && p.Spans[0].Start >= q.Spans[0].End && !s.saidOfThen(p) {
		return stand(p)
	}
	return false
}

// weakValues are the values of a choice that give way to every other one: what they
// say may be true beside it, or was said of something else.
var weakValues = map[schema.Path]string{
	schema.ApproachEntry:        "uneventful",
	schema.ApproachAdhesions:    "none",
	schema.ApproachIncision:     "left-thoracotomy right-thoracotomy",
	schema.AnatomyDiagnosis:     "heterotaxy mitral-atresia",
	schema.SupplyKind:           "duct native-outflow",
	schema.SupplyMaterial:       "own-pericardium bovine-pericardium",
	schema.Stage1ArchPatch:      "eptfe none",
	schema.Stage1Form:           "ductal-stent-alone norwood",
	schema.SupportMode:          "off-pump",
	schema.ClosingSternum:       "closed",
	schema.CountsSwabs:          "none",
	schema.MechanicalReasonOn:   "arrhythmia bridge",
	schema.BetweenShuntFound:    "open",
	schema.VentilationBreathing: "own-breathing",
}

// givesWay tells whether a value gives way to every other one of its field.
func givesWay(path schema.Path, p *Proposal) bool {
	return slices.Contains(strings.Fields(weakValues[path]), p.Value+p.Stated)
}

// state tells whether a field is of how the child is when it is told, which changes
// while one tells of it.
func state(p schema.Path) bool {
	switch p.Section() {
	case "leaving", "gas", "ventilation", "echo":
		return true
	}
	switch p {
	case schema.Stage2CavalPressure, schema.Stage2AtrialPressure, schema.Stage2Gradient, schema.Stage3ConduitPressure, schema.Stage3AtrialPressure, schema.Stage3Gradient,
		schema.ClottingBleedingNow, schema.ClosingTolerated, schema.CountsSwabs, schema.HybridProstaglandinAfter, schema.MechanicalShunt, schema.MechanicalShuntAfter:
		return true
	}
	return false
}

// anotherSource tells whether one of two values is said to be what a record or
// another person has.
func (s *settling) anotherSource(q, p *Proposal) bool {
	for _, x := range []*Proposal{q, p} {
		from, to := x.Spans[0].Start, x.Spans[0].End
		if anyWord(strings.ToLower(s.reading.Text[max(0, from-70):min(len(s.reading.Text), to+30)]), "sheet", "chart", "record", "says", "for the form", " log", "my clock", "perfusion") {
			return true
		}
	}
	return false
}

// saidOfThen tells whether the sentence around a value says that it is of a time that
// is over, or of another.
func (s *settling) saidOfThen(p *Proposal) bool {
	t := s.reading.Text
	from, to := p.Spans[0].Start, p.Spans[0].End
	for from > 0 && p.Spans[0].Start-from < 60 && !strings.ContainsRune(".;!?\n", rune(t[from-1])) {
		from--
	}
	for to < len(t) && to-p.Spans[0].End < 60 && !strings.ContainsRune(".;!?\n", rune(t[to])) {
		to++
	}
	return anyWord(" "+strings.ToLower(t[from:to])+" ", " was ", " were ", " at first", " first ", " had ", " went to ", " went up to ", "ignore", " then ", " ago", " test ", " before ", " would ", " tried ", "until")
}

// earlier keeps the first of two saturations as the one before the work, in a note of
// work that was done for it.
func (s *settling) earlier(first, last *Proposal) {
	if first.Path != schema.LeavingSaturation || s.reading.Kind != schema.ShuntRevision && s.reading.Kind != schema.Reexploration {
		return
	}
	var before, after *Proposal
	for _, ps := range [][]*Proposal{s.plain, s.more} {
		for _, x := range ps {
			switch x.Path {
			case schema.BetweenSaturationBeforeWork:
				before = x
			case schema.BetweenSaturationAfterWork:
				after = x
			}
		}
	}
	if before == nil {
		before = &Proposal{}
		*before = *first
		before.Path, before.Sure, before.Note = schema.BetweenSaturationBeforeWork, Check, "another value was said of after the work"
		s.more = append(s.more, before)
	}
	if after == nil {
		after = &Proposal{}
		s.more = append(s.more, after)
	} else if !slices.Contains(s.more, after) {
		return
	}
	*after = *last
	after.Path, after.Sure, after.Note = schema.BetweenSaturationAfterWork, Check, "another value was said of before the work"
}

// refusedBefore weighs the thing that a clause begins with and then refuses at its end: "the
// left drain we talked about I decided against", "a left atrial line I chose not to leave".
func (g *segment) refusedBefore(i int, flags []scope) bool {
	s := &g.signs[i]
	if !g.is(s.to-1, "against", "not") && !g.is(s.to-2, "not") {
		return false
	}
	end := s.to
	for g.is(end, "to", "leave", "place", "put", "in", "use", "have", "insert", "it", "one", "today", "at", "all") {
		end++
	}
	if end < len(g.toks) && g.toks[end].kind == word {
		return false
	}
	for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 6 && !g.crosses(g.signs[j].to, s.from); j-- {
		p := &g.signs[j]
		if p.num != nil {
			return false
		}
		if p.has(isItem) || p.has(isVariety) {
			for k := p.from; k < p.to; k++ {
				flags[k] |= weighed
			}
			return true
		}
	}
	return false
}
