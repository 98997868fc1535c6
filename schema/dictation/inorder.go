package dictation

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// elective are the kinds of note of operations done by day; common practice, no source.
var elective = map[schema.Kind]bool{schema.Stage1: true, schema.Stage2: true, schema.Stage3: true, schema.Closure: true, schema.ShuntRevision: true, schema.Takedown: true}

// theatreTimes are the sections whose times of day lie within one operation.
var theatreTimes = map[string]bool{"operation": true, "support": true, "perfusion": true, "clotting": true, "blood": true, "supply": true}

// inOrder takes times of day said without morning or afternoon as they follow on
// the first of the operation: after "knife at ten to nine", "off at half past two"
// is fourteen thirty; after "in theatre at twenty one forty", "knife at twenty past
// ten" is twenty two twenty.
func (s *settling) inOrder() {
	var times []*Proposal
	take := func(p *Proposal) {
		if f := fieldAt(p.Path); f != nil && f.Format == "moment" && p.Stated == "" && len(p.Value) == 5 &&
			(theatreTimes[f.Section] || p.Path == schema.MechanicalStartedAt) {
			times = append(times, p)
		}
	}
	for _, p := range s.plain {
		take(p)
	}
	for _, x := range s.groups {
		for _, p := range x.values {
			if !x.gone {
				take(p)
			}
		}
	}
	for _, p := range s.plain {
		if p.Path == schema.AnticoagulationStartAt && p.twelve && len(p.Value) == 5 {
			text := s.reading.Text
			near := text[max(0, p.Spans[0].Start-40):min(len(text), p.Spans[0].End+20)]
			if t := minuteOf(p.Value) + 12*60; t < 24*60 && anyWord(strings.ToLower(near), "tonight", "evening") {
				p.Value = clockText(t/60, t%60) // "tonight from ten o'clock"
			}
		}
	}
	if elective[s.reading.Kind] && !slices.ContainsFunc(times, func(p *Proposal) bool { return !p.twelve && p.Value < "07:00" }) {
		for _, p := range times {
			if t := minuteOf(p.Value) + 12*60; p.twelve && p.Value < "07:00" { // "opened at ten to five"
				p.Value = clockText(t/60, t%60)
				if p.Sure == Certain {
					p.Sure, p.Note = Check, "taken as in the afternoon"
				}
			}
		}
	}
	if len(times) < 2 {
		return
	}
	first := slices.MinFunc(times, func(a, b *Proposal) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Spans[0].Start, b.Spans[0].Start))
	})
	from := minuteOf(first.Value)
	for _, p := range times {
		if !p.twelve || p == first {
			continue
		}
		if p.Spans[0].Start < first.Spans[0].Start && p.Path.List() != first.Path.List() { // it does not follow on what was said later
			continue
		}
		t := minuteOf(p.Value)
		later := (t + 12*60) % (24 * 60)
		if (t-from+24*60)%(24*60) < 21*60 && (later-from+24*60)%(24*60) < (t-from+24*60)%(24*60) {
			p.Value = clockText(later/60, later%60)
		}
	}
}

// rank says how early in an operation a time comes.
func rank(p *Proposal) int {
	switch {
	case p.Path == schema.OperationIntoTheatre:
		return 0
	case p.Path == schema.OperationStarted:
		return 1
	case p.Path.List() == schema.SupportRuns && p.Path.Last() == "on":
		return 2
	case p.Path.Last() == "off":
		return 4
	}
	return 3
}

func minuteOf(clock string) int {
	h, _ := strconv.Atoi(clock[:2])
	m, _ := strconv.Atoi(clock[3:])
	return h*60 + m
}
