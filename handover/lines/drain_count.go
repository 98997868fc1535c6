package lines

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// level is what a chamber held at a moment.
type level struct {
	ml    float64
	known bool          // it was read, or is noted; else what was counted since it was put in
	noted bool          // as its note has it
	at    schema.Moment // zero: nothing was read yet
}

// baseRead is what a note says stood in a chamber, at a time that the note has for it
// or, undated, when it was entered.
type baseRead struct {
	Read
	dated bool
}

// begin finds where counting starts: the level on leaving theatre, then on arrival, or
// the drain's output so far; at the times the item's note has for them, or else when
// they were entered. A chamber without a level held on leaving what its drains had
// given, where that is noted of each of them.
func (d *Drainage) begin(rec *ledger.Record) {
	d.since, d.sure = rec.Since(d.Of)
	v, _ := rec.Item(d.Of)
	if exchangedFor(v) != "" {
		for _, e := range v.Events {
			if e.Kind == ledger.KindExchanged {
				d.changed = e.Happened
			}
		}
	}
	n := rec.Note(v.Note)
	noted := func(of ledger.ItemID, field string, at schema.Path) (baseRead, bool) {
		vs := rec.Values("", schema.ItemPath(string(of), field))
		if len(vs) != 1 || vs[0].Cleared() || vs[0].Bound != "" {
			return baseRead{}, false
		}
		number, _ := vs[0].Value.(json.Number)
		total := string(number)
		if vs[0].Stated == "none" {
			total = "0"
		}
		if _, err := strconv.ParseFloat(total, 64); err != nil {
			return baseRead{}, false
		}
		b := baseRead{Read: Read{Item: d.Of, Event: vs[0].Event, Facts: &ledger.RegisterFacts{Output: &ledger.Output{Total: total}}, By: vs[0].Author, At: vs[0].Happened}}
		if n != nil {
			if m, ok := n.Moment(at); ok {
				b.At, b.dated = m, true
			}
		}
		if d.sure && d.since.After(b.At) { // it was put in since
			b.At, b.dated = d.since, true
		}
		return b, true
	}
	for _, b := range []struct {
		field string
		at    schema.Path
	}{{"output", schema.OperationLeftTheatre}, {"level", schema.OperationLeftTheatre}, {"levelArrival", schema.ArrivalArrived}} {
		if r, ok := noted(d.Of, b.field, b.at); ok {
			d.base = append(d.base, r)
		}
	}
	if v.Kind != "drain-chamber" || len(d.base) > 0 || len(d.Drains) == 0 {
		return
	}
	var all baseRead
	sum := 0.0
	for i, of := range d.Drains {
		b, ok := noted(of, "output", schema.OperationLeftTheatre)
		// A chamber that took the place of another never held what they gave in theatre.
		if w, _ := rec.Item(of); !ok || w.Note != v.Note || d.sure && !d.since.Before(b.At) {
			return
		}
		ml, _ := number(b.Facts.Output.Total)
		sum += ml
		if i == 0 || b.At.After(all.At) {
			all = b
		}
	}
	all.Facts = &ledger.RegisterFacts{Output: &ledger.Output{Total: strconv.FormatFloat(sum, 'f', -1, 64)}}
	d.base = []baseRead{all}
}

// counted are the readings that count, after what the note says: of two of one minute
// the later. What is noted of a time after the first reading says nothing new; what is
// noted of no time stood in it before that.
func (d *Drainage) counted() (base, out []Read) {
	for _, r := range d.Readings {
		o := r.Facts.Output
		if o == nil {
			continue
		}
		if n := len(out) - 1; n >= 0 && out[n].At.Instant().Equal(r.At.Instant()) {
			was := out[n].Facts.Output
			// Two drains give two volumes; a running total is the chamber's.
			if o.Corrects(was) && (o.Volume == "" || was.Volume == "" || out[n].Item == r.Item) {
				facts := *r.Facts
				facts.Output = o.InPlaceOf(was)
				r.Facts = &facts
				out[n] = r
				continue
			}
		}
		if o.Total+o.Volume != "" || o.Fresh() {
			out = append(out, r)
		}
	}
	for _, b := range d.base {
		if len(out) > 0 && b.At.After(out[0].At) {
			if b.dated {
				continue
			}
			b.At = out[0].At
		}
		base = append(base, b.Read)
	}
	sorting.By(base, func(a, b Read) int { return a.At.Instant().Compare(b.At.Instant()) })
	return base, out
}

// resolve turns readings into intervals.
func (d *Drainage) resolve() {
	d.Intervals, d.Gaps, d.Unknown, d.Total, d.Look, d.Noted = nil, nil, nil, 0, Look{}, false
	for _, r := range d.Readings {
		if r.Facts.Output != nil {
			d.Look.see(r.Facts.Output, r.At)
		}
	}
	var l level
	var holes []Unknown // between hourly volumes, until a running total covers them
	base, readings := d.counted()
	for i, r := range base {
		total, _ := number(r.Facts.Output.Total)
		if i > 0 && total >= l.ml && r.At.After(l.at) {
			d.add(Interval{From: l.at, To: r.At, ML: total - l.ml, Event: r.Event, Noted: true})
		} else if i > 0 && total < l.ml {
			d.fell(l, r)
		}
		l = level{total, true, true, r.At}
		d.Noted = !d.sure || d.since.Before(r.At)
	}
	for _, r := range readings {
		o := r.Facts.Output
		total, isTotal := number(o.Total)
		volume, isVolume := number(o.Volume)
		i := Interval{From: l.at, To: r.At, Event: r.Event, Fresh: o.Fresh(), Noted: l.noted}
		switch {
		case isVolume:
			span := 60.0
			if m, ok := number(o.Minutes); ok && m > 0 {
				span = m
			}
			from := r.At.Add(-time.Duration(span * float64(time.Minute)))
			if !l.at.IsZero() && l.at.After(from) && l.at.Before(r.At) {
				from = l.at // what came since the reading before cannot have come earlier
			}
			if begin := d.from(l); begin.IsZero() || from.After(begin) {
				holes = append(holes, Unknown{From: begin, To: from})
			}
			i.From, i.ML, i.Hourly, i.Noted = from, volume, true, false
			d.add(i)
			l.ml, l.at = l.ml+volume, r.At
		case isTotal:
			i.ML = total - l.ml
			switch {
			case i.ML < 0 && (l.known || !l.at.IsZero()):
				d.fell(l, r)
			case !l.known:
				i.First, i.From = true, r.At
				if begin := d.from(l); l.at.IsZero() && !begin.IsZero() && begin.Before(r.At) {
					i.From = begin
				}
				if d.add(i); !i.Timed() {
					d.Unknown = append(d.Unknown, Unknown{d.earliest(r.At), r.At, true})
				}
				holes = nil
			case r.At.After(l.at):
				d.add(i)
				holes = nil
			case l.noted && i.ML > 0: // how long after the note is not known
				i.From = r.At
				d.add(i)
				d.Unknown = append(d.Unknown, Unknown{d.earliest(r.At), r.At, true})
			}
			l = level{total, true, false, r.At}
		}
		if o.Fresh() {
			if !isTotal && !isVolume && !r.At.Instant().Equal(l.at.Instant()) {
				d.gap(l.at, r.At, "At "+r.At.Shown()+" it was emptied or changed without being read: what came since the reading before is not known.")
			}
			begins, _ := number(o.Begins)
			l = level{begins, true, false, r.At}
		}
	}
	for _, h := range holes {
		words := "What came from " + h.From.Shown() + " to " + h.To.Shown() + " was not read."
		if h.From.IsZero() || h.From.Instant().Equal(d.since.Instant()) {
			words = "What came before " + h.To.Shown() + " since it was put in was not read."
		}
		d.gap(h.From, h.To, words)
	}
	if !d.changed.IsZero() && (l.at.IsZero() || d.changed.After(l.at)) {
		d.gap(l.at, d.changed, "At "+d.changed.Shown()+" another took its place without a last reading of this one: what came since the reading before is not known.")
	}
}

// from is since when what comes next is counted: the last reading, or when it was put
// in; zero where neither is known.
func (d *Drainage) from(l level) schema.Moment {
	if l.at.IsZero() && d.sure {
		return d.since
	}
	return l.at
}

// earliest is from when something that was read at a moment may have come.
func (d *Drainage) earliest(at schema.Moment) schema.Moment {
	if d.since.IsZero() || d.since.After(at) {
		return at
	}
	return d.since
}

func (d *Drainage) add(i Interval) {
	d.Intervals = append(d.Intervals, i)
	d.Total += i.ML
}

func (d *Drainage) fell(l level, r Read) {
	d.gap(l.at, r.At, "At "+r.At.Shown()+" it held less than before and nobody said that it was emptied: what came since "+l.at.Shown()+" is not known.")
}

func (d *Drainage) gap(from, to schema.Moment, words string) {
	if from.IsZero() {
		from = d.earliest(to)
	}
	d.Gaps, d.Unknown = append(d.Gaps, words), append(d.Unknown, Unknown{From: from, To: to})
}

// AtLeast tells whether more came than is counted: something was not read.
func (d *Drainage) AtLeast() bool {
	return slices.ContainsFunc(d.Unknown, func(u Unknown) bool { return !u.Counted })
}

// with is the interval that a further reading would end, and whether it would end one.
func (d *Drainage) with(o ledger.Output, at schema.Moment) (Interval, bool) {
	as := *d
	r := Read{Item: d.Of, Event: "asked", Facts: &ledger.RegisterFacts{Output: &o}, At: at}
	i := len(d.Readings)
	for i > 0 && d.Readings[i-1].At.After(at) {
		i--
	}
	as.Readings = slices.Insert(slices.Clone(d.Readings), i, r)
	as.resolve()
	for _, i := range as.Intervals {
		if i.Event == r.Event {
			return i, true
		}
	}
	return Interval{}, false
}

// byDay adds up what came on each civil day. What was read once over midnight and more
// than an hour stands apart: how much of it came on which day is not known, and it is in
// the figure of neither. Of an hour or less each day has its share, as even. What is not
// known of a day makes its figure the least that came.
func byDay(is []Interval, unknown []Unknown, since schema.Moment) (out []DayVolume, across []Interval) {
	at := map[schema.Date]*DayVolume{}
	on := func(day schema.Date) *DayVolume {
		if at[day] == nil {
			n, _ := since.Date().DaysTo(day)
			at[day] = &DayVolume{Day: day, N: n + 1}
		}
		return at[day]
	}
	for _, u := range unknown {
		on(u.To.Date())
	}
	unknown = slices.Clip(unknown)
	for _, i := range is {
		if over := midnightAfter(i.From).Before(i.To); over && i.Sparse() {
			unknown = append(unknown, Unknown{From: i.From, To: i.To, Counted: true})
			n := slices.IndexFunc(across, func(a Interval) bool {
				return a.From.Instant().Equal(i.From.Instant()) && a.To.Instant().Equal(i.To.Instant())
			})
			if n < 0 {
				across = append(across, i)
			} else { // of several chambers, read together
				across[n].ML += i.ML
			}
			continue
		}
		all := i.To.Sub(i.From)
		for from := i.From; from.Before(i.To); {
			to := midnightAfter(from)
			if to.After(i.To) {
				to = i.To
			}
			day := on(from.Date())
			day.ML += i.ML * float64(to.Sub(from)) / float64(all)
			day.Of = day.Of || to.Sub(from) < all && i.ML > 0
			from = to
		}
	}
	for day, v := range at {
		v.Low = slices.ContainsFunc(unknown, func(u Unknown) bool { return u.From.Date() <= day && day <= u.To.Date() })
		out = append(out, *v)
	}
	sorting.By(out, func(a, b DayVolume) int { return cmp.Compare(a.Day, b.Day) })
	sorting.By(across, func(a, b Interval) int { return a.To.Instant().Compare(b.To.Instant()) })
	return out, across
}
