package lines

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

// Drainage is what came into one chamber: of a chamber, or of a drain that has
// none of its own. Drains that join share one.
type Drainage struct {
	Of        ledger.ItemID   // the chamber, or the drain
	Drains    []ledger.ItemID // that drain into it, by tag
	Readings  []Read          // as they were entered, oldest first
	Intervals []Interval      // what they come to, oldest first
	Gaps      []string        // what is not known, in words
	Unknown   []Unknown       // when that was
	Total     float64         // mL in all intervals
	Earlier   float64         // mL that came into what it took the place of
	Noted     bool            // counting begins with what a note says stood in it; else at nothing, when it was put in
	Days      []DayVolume     // by civil day, oldest first
	Across    []Interval      // over midnight and sparse: in no day, oldest first
	Look      Look
	Stop      *calc.Stop // it fell suddenly: never an improvement
	Caution   string     // the unit's words for that; "" without one

	base    []baseRead    // what its note says stood in it
	since   schema.Moment // when it was put in, or else was listed
	sure    bool          // which of the two
	changed schema.Moment // when another took its place; zero while none has
	before  bool          // not all that is in Earlier is known
}

// Unknown is a time of which it is not known what came, or, where it is Counted, how
// much of what came then came on which day.
type Unknown struct {
	From, To schema.Moment
	Counted  bool
}

// Interval is a volume between two moments. They are the same where only the end of
// it is known: it counts, and has no rate.
type Interval struct {
	From, To schema.Moment
	ML       float64
	Event    ledger.EventID // the reading that ended it
	Hourly   bool           // entered as a volume, not as a running total
	Fresh    bool           // the chamber was emptied or changed at its end
	First    bool           // all that came since it was put in
	Noted    bool           // since the note said what stood in it
}

// Timed tells whether it is known when it began.
func (i Interval) Timed() bool { return i.To.After(i.From) }

// Sparse tells whether it is longer than an hour, the unit in which a loss is judged:
// when in it the volume came is not known, and a rate of it is an average.
func (i Interval) Sparse() bool { return i.To.Sub(i.From) > time.Hour }

// PerKgHour is the rate in mL/kg/h, and false without a weight.
func (i Interval) PerKgHour(kg float64) (float64, bool) {
	h := i.To.Sub(i.From).Hours()
	if kg <= 0 || h <= 0 {
		return 0, false
	}
	return i.ML / kg / h, true
}

// DayVolume is what came on one civil day.
type DayVolume struct {
	Day schema.Date
	N   int // the day since it was put in: 1 is the first
	ML  float64
	Low bool // something that came is not known, or not of which day it is: at least ML
	Of  bool // a part of ML is half an hour or so before or after midnight, shared as even
}

// Look is what the drain looked like when it was last seen, each with its time.
type Look struct {
	Colour, Swing, Bubbling, Drainage, Suction, Milked string
	At                                                 schema.Moment
}

// Losses is what all chest drains gave together, against the unit's rules.
type Losses struct {
	calc.LossReport
	Intervals []Interval // of all chambers, by when they began
	Kg        float64    // the weight behind mL/kg; 0 if there is none
	Weight    string     // which weight that is, in words
	Since     schema.Moment
	Days      []DayVolume // by civil day, all chest drains together
	Across    []Interval  // over midnight and sparse: in no day, oldest first
	DayCount  int         // the day since the first chest drain that is still in was put in; 0 without one
	Rules     int         // of the unit that are in force
	Prolonged string      // worded when the unit's definition of a prolonged effusion is met

	readings []calc.Reading
	hourly   []profile.DrainRule // those in force that judge a single hour
}

// calls are the rules that are met and that nobody has answered for. Once somebody
// has, under the reading by which a rule was met, what came later is held against it
// anew: a second loss calls again.
func (l *Losses) calls(rec *ledger.Record) []Problem {
	var out []Problem
	for _, x := range l.Rulings {
		for rs := l.readings; x.Outcome == calc.Met; x = calc.Judge(x.Rule, rs, calc.Of(l.Kg, calc.Kilogram), l.Since) {
			p := Problem{Event: endedBy(l.Intervals, x.To), Name: "Chest drains together", What: ProblemLoss, Words: x.Rule.Entry.Title + ": " + x.Words, At: x.To}
			until := x.To
			for _, i := range l.Intervals {
				if i.Event == p.Event {
					until = i.To
				}
			}
			if x.Average { // it is known since it was read, and no earlier
				p.At = until
			}
			if p.Settled = rec.Settled(p.Event); p.Settled == nil {
				out = append(out, p)
				break
			}
			rs = slices.DeleteFunc(slices.Clone(rs), func(r calc.Reading) bool { return r.From.Before(until) })
		}
	}
	return out
}

// drainageOf works out every drain and chamber, in the child or out of it. A
// drain that joins a chamber has the chamber's.
func drainageOf(rec *ledger.Record, p *profile.Profile) map[ledger.ItemID]*Drainage {
	out := map[ledger.ItemID]*Drainage{}
	tree := rec.Child()
	into := map[ledger.ItemID]ledger.ItemID{}
	var views []ledger.ItemView
	for _, v := range rec.Items() {
		it, ok := tree.Item(string(v.ID))
		if !ok || v.Withdrawn || v.Kind != "drain" && v.Kind != "drain-chamber" {
			continue
		}
		views = append(views, v)
		if v.Kind == "drain-chamber" {
			for _, d := range it.List("drains") {
				into[ledger.ItemID(d)] = v.ID
			}
		} else if c := it.Text("chamber"); c != "" {
			into[v.ID] = ledger.ItemID(c)
		}
	}
	// What took the place of a chamber has its drains; of a drain, its chamber.
	for _, v := range views {
		if f := exchangedFor(v); f != "" && into[f] == "" && into[v.ID] != "" {
			into[f] = into[v.ID]
		}
	}
	for d, c := range into {
		for range views {
			i := slices.IndexFunc(views, func(x ledger.ItemView) bool { return x.ID == c })
			if i < 0 || exchangedFor(views[i]) == "" {
				break
			}
			c = exchangedFor(views[i])
		}
		into[d] = c
	}
	for _, v := range views {
		of := v.ID
		if c, ok := into[v.ID]; ok && slices.ContainsFunc(views, func(x ledger.ItemView) bool { return x.ID == c }) {
			of = c
		}
		d := out[of]
		if d == nil {
			d = &Drainage{Of: of}
			out[of] = d
		}
		out[v.ID] = d
		if v.Kind == "drain" {
			d.Drains = append(d.Drains, v.ID)
		}
		for _, e := range v.Events {
			if e.Kind == ledger.KindOutputRead {
				d.Readings = append(d.Readings, Read{v.ID, e.Event, e.Kind, e.Facts, e.Author, e.Happened, e.Clock})
			}
		}
	}
	for of, d := range out {
		if d.Of != of {
			continue
		}
		sorting.By(d.Readings, func(a, b Read) int {
			return cmp.Or(a.At.Instant().Compare(b.At.Instant()), cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.Event, b.Event))
		})
		d.begin(rec)
		d.resolve()
		d.Days, d.Across = byDay(d.Intervals, d.Unknown, d.since)
		d.stop(p)
	}
	for _, v := range views { // what came before it was exchanged came all the same
		was, now := out[v.ID], out[exchangedFor(v)]
		for range views {
			if was == nil || now == nil || was == now || was.Of != v.ID {
				break
			}
			now.Earlier += was.Total
			now.before = now.before || was.AtLeast() || was.before
			i := slices.IndexFunc(views, func(x ledger.ItemView) bool { return x.ID == now.Of })
			if i < 0 {
				break
			}
			next := out[exchangedFor(views[i])]
			if next == now || next == was {
				break
			}
			now = next
		}
	}
	return out
}

// exchangedFor is what took the place of an item that is out, or "".
func exchangedFor(v ledger.ItemView) (fresh ledger.ItemID) {
	if v.Where != ledger.Exchanged && v.Where != ledger.RemovedPart && v.Where != ledger.PerhapsPart {
		return ""
	}
	for _, e := range v.Events {
		if e.Kind == ledger.KindExchanged {
			fresh = e.Facts.For
		}
	}
	return fresh
}

// see takes in what a reading says of how the drain looks.
func (l *Look) see(o *ledger.Output, at schema.Moment) {
	for _, x := range []struct {
		into *string
		said string
	}{{&l.Colour, o.Colour}, {&l.Swing, o.Swing}, {&l.Bubbling, o.Bubbling}, {&l.Drainage, o.Drainage}, {&l.Suction, o.Suction}} {
		if x.said != "" {
			*x.into, l.At = x.said, at
		}
	}
	if o.Milked == "yes" {
		l.Milked, l.At = at.Shown(), at
	}
}

func number(s string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

func midnightAfter(m schema.Moment) schema.Moment {
	c := m.Clock()
	h, _ := strconv.Atoi(c[:2])
	min, _ := strconv.Atoi(c[3:])
	return m.Add(24*time.Hour - time.Duration(h)*time.Hour - time.Duration(min)*time.Minute)
}

// readings is what calc works on.
func (d *Drainage) readings() []calc.Reading {
	var out []calc.Reading
	for _, i := range d.Intervals {
		if !i.Timed() { // it has no rate, and would look like a stop
			continue
		}
		out = append(out, calc.Reading{From: i.From, To: i.To, Volume: calc.Of(i.ML, calc.Millilitre)})
	}
	return out
}

// endedBy is the reading that ended at a moment, or the first after it.
func endedBy(is []Interval, at schema.Moment) ledger.EventID {
	var by Interval
	for _, i := range is {
		if !i.To.Before(at) && (by.Event == "" || i.To.Before(by.To)) {
			by = i
		}
	}
	return by.Event
}

func (d *Drainage) endedBy(at schema.Moment) ledger.EventID { return endedBy(d.Intervals, at) }

// stop asks whether the loss fell suddenly, as the unit has set it.
func (d *Drainage) stop(p *profile.Profile) {
	part, _, ok1 := p.Number(profile.DrainStopFraction)
	n, _, ok2 := p.Number(profile.DrainStopReadings)
	if s, stopped := calc.Stopped(d.readings(), part, int(n)); ok1 && ok2 && stopped {
		d.Stop = &s
		d.Caution = s.Caution(p)
	}
}

// lossesOf holds all chest drains together against the unit's rules.
func lossesOf(rec *ledger.Record, drains map[ledger.ItemID]*Drainage, p *profile.Profile, now schema.Moment) Losses {
	var out Losses
	var rs []calc.Reading
	var unknown []Unknown
	for _, rule := range p.DrainRules() {
		if out.Rules++; rule.Hours <= 1 {
			out.hourly = append(out.hourly, rule)
		}
	}
	var first schema.Moment // since when a chest drain that is still in has been in
	for _, v := range rec.Items() {
		d := drains[v.ID]
		it, ok := rec.Child().Item(string(v.ID))
		if d == nil || !ok {
			continue
		}
		if at, _ := rec.Since(v.ID); chestDrain(it) && v.InUse() && (first.IsZero() || at.Before(first)) {
			first = at
		}
		if d.Of != v.ID || it.Kind == "drain" && !chestDrain(it) {
			continue
		}
		out.Intervals = append(out.Intervals, d.Intervals...)
		unknown = append(unknown, d.Unknown...)
		rs = append(rs, d.readings()...)
		if d.Stop != nil && v.InUse() { // one chamber's: the sum of several would hide it
			out.Stop, out.Caution = d.Stop, d.Caution
		}
	}
	sorting.By(out.Intervals, func(a, b Interval) int {
		return cmp.Or(a.From.Instant().Compare(b.From.Instant()), a.To.Instant().Compare(b.To.Instant()), cmp.Compare(a.Event, b.Event))
	})
	sorting.By(rs, func(a, b calc.Reading) int {
		return cmp.Or(a.From.Instant().Compare(b.From.Instant()), a.To.Instant().Compare(b.To.Instant()))
	})
	out.Kg, out.Weight = weightOf(rec)
	out.Since = closedAt(rec)
	if len(rs) > 0 {
		out.readings = rs
		stop, caution := out.Stop, out.Caution
		out.LossReport = calc.Losses(rs, calc.Of(out.Kg, calc.Kilogram), p, out.Since)
		out.Stop, out.Caution = stop, caution
		if out.Kg > 0 {
			out.Loss = allTogether(rs, out.Kg)
		}
	}
	if !first.IsZero() {
		n, _ := first.Date().DaysTo(now.Date())
		out.DayCount = n + 1
		if prolonged, e, ok := calc.Prolonged(now.Sub(first).Hours()/24, p); ok && prolonged {
			out.Prolonged = "Drained for " + Span(now.Sub(first)) + ": " + lower(e.Title) + " " + calc.ShowEntry(e)
		}
	}
	out.Days, out.Across = byDay(out.Intervals, unknown, first)
	return out
}

// allTogether is the loss of several chambers over the time in which any was read.
func allTogether(rs []calc.Reading, kg float64) calc.Loss {
	all := calc.Reading{From: rs[0].From}
	var covered time.Duration
	var until schema.Moment
	for _, r := range rs {
		all.Volume = all.Volume.Plus(r.Volume)
		from := r.From
		if !until.IsZero() && until.After(from) {
			from = until
		}
		if r.To.After(from) {
			covered += r.To.Sub(from)
			until = r.To
		}
	}
	all.To = all.From.Add(covered)
	loss, _ := calc.TotalLoss([]calc.Reading{all}, calc.Of(kg, calc.Kilogram))
	return loss
}

// weightOf is the weight behind mL/kg: the dosing weight of the latest note that
// has one, or else the weight at operation. One that is disputed is not used.
func weightOf(rec *ledger.Record) (kg float64, words string) {
	notes := rec.Notes()
	for _, c := range []struct {
		path schema.Path
		name string
	}{{schema.MeasuresDosingWeight, "dosing weight"}, {schema.MeasuresWeight, "weight at operation"}} {
		for i := len(notes) - 1; i >= 0; i-- {
			if _, differ := rec.Disagreement(notes[i].ID, c.path); differ {
				return 0, "different weights were entered"
			}
			n := rec.Note(notes[i].ID)
			if doubt := calc.Doubt(n, c.path, false); doubt != "" { // 3200 for 3.2 would hide every loss
				return 0, c.name + ": " + doubt
			}
			if v, ok := n.Number(c.path); ok && v > 0 {
				words = c.name + " " + schema.ShowNumber(n.Decimal(c.path)) + " kg"
				if vs := rec.Values(notes[i].ID, c.path); len(vs) > 0 {
					words += ", entered " + vs[len(vs)-1].Happened.Shown() + " by " + vs[len(vs)-1].Author.String()
				}
				return v, words
			}
		}
	}
	return 0, "no weight is recorded"
}

// closedAt is when the skin was closed last.
func closedAt(rec *ledger.Record) schema.Moment {
	notes := rec.Notes()
	for i := len(notes) - 1; i >= 0; i-- {
		if m, ok := rec.Note(notes[i].ID).Moment(schema.OperationClosed); ok {
			return m
		}
	}
	return schema.Moment{}
}
