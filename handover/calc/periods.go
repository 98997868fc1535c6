package calc

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Period is one stretch of bypass, clamp, arrest or perfusion: by the clock, by
// minutes, or both. Clock times are moments, so midnight and a change of the
// clocks count as they truly passed.
type Period struct {
	Row     string // the row of the note it comes from
	From    schema.Moment
	To      schema.Moment
	Minutes *float64 // as entered; nil if not
}

// Clocked tells whether both clock times are there.
func (p Period) Clocked() bool { return !p.From.IsZero() && !p.To.IsZero() }

// Span is a stretch of time in whole minutes on one common scale.
type Span struct{ From, To int64 }

// span is the period on the scale of minutes since 1970, UTC.
func (p Period) span() Span { return Span{minute(p.From), minute(p.To)} }

func minute(m schema.Moment) int64 { return m.Instant().Unix() / 60 }

// Length is the period's minutes: by the clock where there is one.
func (p Period) Length() (min float64, ok bool) {
	switch {
	case p.Clocked():
		s := p.span()
		return float64(s.To - s.From), s.To >= s.From
	case p.Minutes != nil:
		return *p.Minutes, usable(*p.Minutes) && *p.Minutes >= 0
	}
	return 0, false
}

// Finding is something about periods that wants a look. Rows are the rows
// concerned.
type Finding struct {
	What string // "reversed", "overlap", "gap", "minutes differ", "half"
	Rows []string
	Min  int // minutes of overlap, gap or difference
}

// Totals are the summed minutes of one kind of period. Union counts every minute
// once; it is less than Sum only where periods overlap.
type Totals struct {
	Sum      float64
	Union    float64
	Each     []float64 // in the order given; NaN where it has no length
	Findings []Finding
	Complete bool // every period has a length
}

// Total sums periods of one kind. tolerance is by how many minutes entered
// minutes and clock times may differ.
func Total(periods []Period, tolerance float64) Totals {
	t := Totals{Complete: true}
	var spans []Span
	var rows []string
	alone := 0.0
	for _, p := range periods {
		length, ok := p.Length()
		switch {
		case ok:
			t.Each = append(t.Each, length)
			t.Sum += length
		case p.Clocked():
			t.Findings = append(t.Findings, Finding{"reversed", []string{p.Row}, int(minute(p.From) - minute(p.To))})
			fallthrough
		default:
			t.Complete = false
			t.Each = append(t.Each, math.NaN())
			if p.From.IsZero() != p.To.IsZero() {
				t.Findings = append(t.Findings, Finding{"half", []string{p.Row}, 0})
			}
			continue
		}
		if p.Clocked() {
			spans, rows = append(spans, p.span()), append(rows, p.Row)
			if p.Minutes != nil && math.Abs(*p.Minutes-length) > tolerance {
				t.Findings = append(t.Findings, Finding{"minutes differ", []string{p.Row}, int(math.Round(math.Abs(*p.Minutes - length)))})
			}
		} else {
			alone += length
		}
	}
	union := Union(spans)
	for _, s := range union {
		t.Union += float64(s.To - s.From)
	}
	t.Union += alone
	order := make([]int, len(spans))
	for i := range order {
		order[i] = i
	}
	sorting.By(order, func(a, b int) int { return int(spans[a].From - spans[b].From) })
	for n, i := range order {
		for _, j := range order[n+1:] {
			if over := min(spans[i].To, spans[j].To) - max(spans[i].From, spans[j].From); over > 0 {
				t.Findings = append(t.Findings, Finding{"overlap", []string{rows[i], rows[j]}, int(over)})
			}
		}
	}
	for i := 1; i < len(union); i++ {
		t.Findings = append(t.Findings, Finding{"gap", nil, int(union[i].From - union[i-1].To)})
	}
	return t
}

// Union merges spans: sorted, apart, none empty. Spans that touch become one.
func Union(spans []Span) []Span {
	var out []Span
	spans = slices.Clone(spans)
	sorting.By(spans, func(a, b Span) int {
		if a.From != b.From {
			return int(a.From - b.From)
		}
		return int(a.To - b.To)
	})
	for _, s := range spans {
		switch n := len(out); {
		case s.To <= s.From:
		case n > 0 && s.From <= out[n-1].To:
			out[n-1].To = max(out[n-1].To, s.To)
		default:
			out = append(out, s)
		}
	}
	return out
}

// Outside is what of inner lies in none of outer: a clamp outside every run.
func Outside(inner, outer []Span) []Span {
	var out []Span
	cover := Union(outer)
	for _, s := range Union(inner) {
		from := s.From
		for _, c := range cover {
			if c.To <= from || c.From >= s.To {
				continue
			}
			if c.From > from {
				out = append(out, Span{from, c.From})
			}
			from = c.To
			if from >= s.To {
				break
			}
		}
		if from < s.To {
			out = append(out, Span{from, s.To})
		}
	}
	return out
}

// Common is where two sets of spans overlap: arrest during cerebral perfusion.
func Common(a, b []Span) []Span {
	var out []Span
	for _, x := range Union(a) {
		for _, y := range Union(b) {
			if from, to := max(x.From, y.From), min(x.To, y.To); from < to {
				out = append(out, Span{from, to})
			}
		}
	}
	return Union(out)
}

// Spans are the spans of the periods that have clock times in order.
func Spans(periods []Period) []Span {
	var out []Span
	for _, p := range periods {
		if s := p.span(); p.Clocked() && s.To > s.From {
			out = append(out, s)
		}
	}
	return out
}

// After proposes the moment meant by a clock reading, "00:10", that follows
// start: the same civil day, or the next when the reading lies before start's.
// note is empty when nothing was assumed; otherwise it is shown beside the
// value. The offset is start's: where clocks change that night, the caller
// resolves it in the zone and asks.
func After(start schema.Moment, clock string) (m schema.Moment, note string, err error) {
	hh, mm, ok := strings.Cut(strings.TrimSpace(clock), ":")
	h, err1 := strconv.Atoi(hh)
	n, err2 := strconv.Atoi(mm)
	if !ok || err1 != nil || err2 != nil || len(mm) != 2 || len(hh) == 0 || len(hh) > 2 || h < 0 || h > 23 || n < 0 || n > 59 {
		return schema.Moment{}, "", fmt.Errorf("%q is not a time: expected one like 09:42, in 24 hours", clock)
	}
	if start.IsZero() {
		return schema.Moment{}, "", fmt.Errorf("%q has no date: enter the start with its date first", clock)
	}
	var sh, sm int
	if _, err := fmt.Sscanf(start.Clock(), "%d:%d", &sh, &sm); err != nil {
		return schema.Moment{}, "", fmt.Errorf("the start %q cannot be read: enter it again", start.Clock())
	}
	d := time.Duration(h*60+n-sh*60-sm) * time.Minute
	if d < 0 {
		d += 24 * time.Hour
		m = start.Add(d)
		return m, "next day, " + m.Date().Shown(), nil
	}
	return start.Add(d), "", nil
}
