package calc

import (
	"fmt"
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

// Reading is the volume a drain, or all drains together, gave between two
// moments.
type Reading struct {
	From, To schema.Moment
	Volume   Volume
}

// Level is a chamber's total at one moment; Reset marks a chamber emptied or
// changed, after which counting begins again at the level.
type Level struct {
	At    schema.Moment
	Total Volume
	Reset bool
}

// Readings turns a chamber's levels into readings. A level below the one before
// without a reset cannot be and is named.
func Readings(levels []Level) ([]Reading, *Refusal) {
	levels = slices.Clone(levels)
	sorting.By(levels, func(a, b Level) int { return int(minute(a.At) - minute(b.At)) })
	var out []Reading
	for i := 1; i < len(levels); i++ {
		a, b := levels[i-1], levels[i]
		v := b.Total.Minus(a.Total)
		if b.Reset {
			continue
		}
		if v.In(Millilitre) < 0 {
			return nil, refuse("chamber", fmt.Sprintf("At %s the chamber held %s, less than the %s before.", b.At.Shown(), b.Total.Show(Millilitre, 1), a.Total.Show(Millilitre, 1)), "Was it emptied or changed? Say so with the reading.")
		}
		if b.At.After(a.At) {
			out = append(out, Reading{a.At, b.At, v})
		}
	}
	return out, nil
}

// Loss is a total over a stretch of time.
type Loss struct {
	Total VolumePerMass
	Rate  FlowPerMass // average
	Over  Duration
}

// TotalLoss sums readings and averages them over the time they cover.
func TotalLoss(rs []Reading, weight Mass) (Loss, *Refusal) {
	if r := positive("weight", weight.In(Kilogram)); r != nil {
		return Loss{}, r
	}
	var ml, minutes float64
	for _, r := range rs {
		ml += r.Volume.In(Millilitre)
		minutes += float64(minute(r.To) - minute(r.From))
	}
	if minutes <= 0 {
		return Loss{}, refuse("readings", "There are no two readings with time between them.", "Read the chamber again and enter the time.")
	}
	kg := weight.In(Kilogram)
	return Loss{Of(ml/kg, MLPerKg), Of(ml/kg/minutes, MLPerKgMin), Of(minutes, Minute)}, nil
}

// Outcome is how a rule stands.
type Outcome string

// The outcomes. NotAssessable: the readings are too far apart to tell.
const (
	Met           Outcome = "met"
	NotMet        Outcome = "not met"
	NotAssessable Outcome = "not assessable"
)

// Ruling is one configured rule against the readings, with the exact window that
// met it.
type Ruling struct {
	Rule    profile.DrainRule
	Outcome Outcome
	From    schema.Moment // the window that met it
	To      schema.Moment
	Loss    Volume // in that window
	Average bool   // an even flow was assumed within a reading longer than the rule's window
	Words   string
}

// Judge holds the readings against one rule. since is when counting begins (skin
// closed); a rule with a time limit looks only at windows that end within it, and
// cannot be assessed when since is not known. Within one reading the flow is
// taken as even, which is said when a reading is longer than the rule's window.
func Judge(rule profile.DrainRule, rs []Reading, weight Mass, since schema.Moment) Ruling {
	out := Ruling{Rule: rule}
	kg := weight.In(Kilogram)
	window := int64(rule.Hours*60 + 0.5)
	length := window * int64(rule.Times)
	if kg <= 0 || window <= 0 || rule.Times <= 0 || len(rs) == 0 {
		out.Outcome, out.Words = NotAssessable, "no readings, or no weight"
		return out
	}
	rs = slices.Clone(rs)
	sorting.By(rs, func(a, b Reading) int { return int(minute(a.From) - minute(b.From)) })
	ss := spansOf(rs)
	begin, end := ss[0].from, ss[0].to
	for _, r := range ss { // of several chambers, the one begun last need not end last
		end = max(end, r.to)
	}
	if rule.Within > 0 {
		if since.IsZero() {
			out.Outcome, out.Words = NotAssessable, fmt.Sprintf("the rule holds for the first %s h, and the time of closure is not recorded", Number(rule.Within, 1))
			return out
		}
		begin = max(begin, minute(since))
		end = min(end, minute(since)+int64(rule.Within*60+0.5))
	}
	need := rule.PerKg * kg
	longest := int64(0)
	for _, r := range ss {
		longest = max(longest, r.to-r.from)
	}
	lossWithin := func(a, b int64) (ml float64, even span) { return lossOf(ss, longest, a, b, window) }
	total, _ := lossWithin(begin, end)
	// A window's loss only has its largest value where it begins or ends at a
	// reading: those are all the windows worth trying. Time not yet read counts
	// as nothing, so a window that is not over yet can already be met.
	var starts []int64
	for _, r := range ss {
		for _, at := range [2]int64{r.from, r.to} {
			for k := int64(0); k <= int64(rule.Times); k++ {
				starts = append(starts, at-k*window)
			}
		}
	}
	slices.Sort(starts)
	for _, s := range slices.Compact(starts) {
		if s < begin || s >= end {
			continue
		}
		met, average := true, span{}
		for k := int64(0); k < int64(rule.Times) && met; k++ {
			ml, even := lossWithin(s+k*window, min(s+(k+1)*window, end))
			met = compare(ml, need) >= 0
			average = average.orLonger(even)
		}
		if !met {
			continue
		}
		// The window that met it ends with the first reading by which it had.
		lastFrom := s + length - window
		to := min(s+length, end)
		for _, r := range ss {
			if r.to <= lastFrom || r.to >= to {
				continue
			}
			if ml, _ := lossWithin(lastFrom, r.to); compare(ml, need) >= 0 {
				to = r.to
			}
		}
		ml, _ := lossWithin(s, to)
		out.Outcome, out.Average, out.Loss = Met, average != (span{}), Of(ml, Millilitre)
		out.From, out.To = momentAt(rs, s), momentAt(rs, to)
		out.Words = fmt.Sprintf("%s (%s) in %s, from %s to %s", out.Loss.Show(Millilitre, 1), Shown(ml/kg, 1, "mL/kg"), Minutes(int(to-s)), out.From.Shown(), out.To.Shown())
		if out.Average {
			out.Words += fmt.Sprintf("; %s from %s to %s were read once, after %s, and are taken as even: when they came is not known",
				Of(average.ml, Millilitre).Show(Millilitre, 1), momentAt(rs, average.from).Shown(), momentAt(rs, average.to).Shown(), Minutes(int(average.to-average.from)))
		}
		return out
	}
	switch {
	case compare(total, need) < 0:
		out.Outcome, out.Words = NotMet, "less than that in all"
	case longest > window:
		out.Outcome, out.Words = NotAssessable, "average over "+Minutes(int(longest))+"; "+hourly(rule)+" not assessable"
	default:
		out.Outcome, out.Words = NotMet, "not in any window"
	}
	return out
}

func hourly(r profile.DrainRule) string {
	if r.Hours == 1 {
		return "hourly rule"
	}
	return Number(r.Hours, 1) + " h rule"
}

// span is a reading in minutes and mL.
type span struct {
	from, to int64
	ml       float64
}

func spansOf(rs []Reading) []span {
	out := make([]span, len(rs))
	for i, r := range rs {
		out[i] = span{minute(r.From), minute(r.To), r.Volume.In(Millilitre)}
	}
	return out
}

func (s span) orLonger(o span) span {
	if o.to-o.from > s.to-s.from {
		return o
	}
	return s
}

// lossOf is the volume lost from a to b, taking each reading as even. even is the
// longest reading that is longer than window and was cut, if one was. The readings are in the order in which
// they began; none is longer than longest.
func lossOf(ss []span, longest, a, b, window int64) (ml float64, even span) {
	first, _ := slices.BinarySearchFunc(ss, a-longest, func(r span, at int64) int { return int(r.from - at) })
	for _, r := range ss[first:] {
		if r.from >= b {
			break
		}
		if part := min(b, r.to) - max(a, r.from); part > 0 && r.to > r.from {
			ml += r.ml * float64(part) / float64(r.to-r.from)
			if part < r.to-r.from && r.to-r.from > window {
				even = even.orLonger(r)
			}
		}
	}
	return ml, even
}

// momentAt words a minute on the common scale in the offset of the readings.
func momentAt(rs []Reading, at int64) schema.Moment {
	m := rs[0].From
	for _, r := range rs {
		if minute(r.From) <= at {
			m = r.From
		}
	}
	return m.Add(durationOf(at - minute(m)))
}

// Stop is a drain whose loss fell suddenly. It never counts as improvement.
type Stop struct {
	Before Reading // the stretch it is compared with
	Fell   Reading // the latest readings together
	Part   float64 // of the rate before
}

// Stopped tells whether each of the latest n readings ran at less than fraction
// of the average rate over the stretch of the same length before them (all there
// is, if it is shorter). It is the settings' job to say both.
func Stopped(rs []Reading, fraction float64, n int) (Stop, bool) {
	if n < 1 || len(rs) <= n {
		return Stop{}, false
	}
	rs = slices.Clone(rs)
	sorting.By(rs, func(a, b Reading) int { return int(minute(a.From) - minute(b.From)) })
	late, early := rs[len(rs)-n:], rs[:len(rs)-n]
	fell := joined(late)
	length := minute(fell.To) - minute(fell.From)
	at := len(early) - 1
	for at > 0 && minute(early[len(early)-1].To)-minute(early[at].From) < length {
		at--
	}
	before := joined(early[at:])
	was := rate(before)
	if was <= 0 {
		return Stop{}, false
	}
	for _, r := range late {
		if compare(rate(r), was*fraction) >= 0 {
			return Stop{}, false
		}
	}
	return Stop{before, fell, rate(fell) / was}, true
}

func joined(rs []Reading) Reading {
	out := Reading{From: rs[0].From, To: rs[len(rs)-1].To}
	for _, r := range rs {
		out.Volume = out.Volume.Plus(r.Volume)
	}
	return out
}

// rate is mL/min.
func rate(r Reading) float64 {
	if m := minute(r.To) - minute(r.From); m > 0 {
		return r.Volume.In(Millilitre) / float64(m)
	}
	return 0
}

// Caution words a stop as the unit has it: one wording for no output at all, another
// for output that fell, with {hours}, {before} and {now}.
func (s Stop) Caution(p *profile.Profile) string {
	id := profile.WordsDrainFell
	if s.Fell.Volume.In(Millilitre) <= 0 {
		id = profile.WordsDrainStopped
	}
	wording, ok := p.Wording(id)
	if !ok {
		return "The loss fell suddenly. Look now."
	}
	return fill(wording, "{hours}", Minutes(int(minute(s.Fell.To)-minute(s.Fell.From))),
		"{before}", Shown(rate(s.Before)*60, 1, "mL/h"), "{now}", Shown(rate(s.Fell)*60, 1, "mL/h"))
}
