package lines

import (
	"math"
	"slices"
	"strconv"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Counts is what the unit can learn from over time. It is worked out from the
// events of each child's record alone, and names nobody: no child and no person.
type Counts struct {
	Now      schema.Moment
	Children int
	Kinds    map[string]*KindCounts // by kind of item; "" is all of them
	Arrival  Monthly                // answers at the check on arrival that found a difference, of all that could be given
	Signed   Monthly                // notes signed with nothing left open, of all that were signed
	Complete Monthly                // fields answered when the note was first signed, of all that the sheet has to say
	Fields   map[string]Share       // the same by field, under its general path
	Unsigned int                    // notes that nobody signed
	Untold   int                    // notes of which it cannot be told what was signed
}

// KindCounts are the counts of one kind of item.
type KindCounts struct {
	Items, Children int
	Days            map[string]float64 // days in a child, by month
	Removals        Monthly            // removals with a problem, of all removals
	Unsaid          int                // removals of which it was not said whether all came out
}

// Monthly is a count with its denominator, by month as "2026-07".
type Monthly map[string]Share

// Share is N of Of.
type Share struct{ N, Of int }

func (m Monthly) add(month string, counts bool) {
	s := m[month]
	s.Of++
	if counts {
		s.N++
	}
	m[month] = s
}

// Total is the sum over all months.
func (m Monthly) Total() (sum Share) {
	for _, s := range m {
		sum.N, sum.Of = sum.N+s.N, sum.Of+s.Of
	}
	return sum
}

// NewCounts are the counts of no child yet, as of a moment. Months are those of the
// moment's own offset from UTC.
func NewCounts(now schema.Moment) *Counts {
	return &Counts{Now: now, Kinds: map[string]*KindCounts{}, Arrival: Monthly{}, Signed: Monthly{}, Complete: Monthly{}, Fields: map[string]Share{}}
}

// Add counts one child's record.
//
// A day is 24 h that one item was in the child, since it was placed (since it was
// listed, where that is not recorded) until it came out, was exchanged, cut, or left
// the unit with the child; what was lost counts on, until it is found. It is time
// passed and not a count at a fixed hour of the day. What stays inside for good is
// left out. An exchange removes the old one. A removal has a problem if not all came out, the tip was not seen, it
// bled, or it was not planned.
func (c *Counts) Add(rec *ledger.Record) {
	if rec.Len() == 0 {
		return
	}
	c.Children++
	seen := map[string]bool{}
	for _, v := range rec.Items() {
		if v.Withdrawn || !ledger.Bedside(v.Kind) {
			continue
		}
		since, _ := rec.Since(v.ID)
		until := c.Now
		if w := v.Where; w != ledger.InChild && w != ledger.InTheatre && w != ledger.Lost && !v.Since.IsZero() && v.Since.Before(until) {
			until = v.Since
		}
		for _, kind := range []string{"", v.Kind} {
			k := c.Kinds[kind]
			if k == nil {
				k = &KindCounts{Days: map[string]float64{}, Removals: Monthly{}}
				c.Kinds[kind] = k
			}
			k.Items++
			if !seen[kind] {
				seen[kind] = true
				k.Children++
			}
			c.days(k.Days, since, until)
			for _, e := range v.Events {
				if e.Kind != ledger.KindRemoved && e.Kind != ledger.KindExchanged {
					continue
				}
				f := e.Facts
				k.Removals.add(c.month(e.Happened), f.Complete == "no" || f.TipSeen == "no" || f.Planned == "no" || f.Bleeding != "" && f.Bleeding != "no" && f.Bleeding != "none")
				if f.Complete == "" {
					k.Unsaid++
				}
			}
		}
	}
	for _, n := range rec.Notes() {
		for _, x := range rec.Checks(n.ID, ledger.Arrival) {
			switch x.Answer {
			case ledger.Found, ledger.Differs, ledger.NotFound, ledger.Extra:
				c.Arrival.add(c.month(x.Happened), x.Answer != ledger.Found)
			}
		}
		signed := false
		for _, s := range rec.Signatures(n.ID) {
			if s.Section == "" && !signed { // the first one: what the sheet was when it left the surgeon's hand
				signed = true
				c.Signed.add(c.month(s.At), s.Open == 0)
				c.complete(rec, n.ID, s)
			}
		}
		if !signed {
			c.Unsigned++
		}
	}
}

// complete counts what the sheet of a note has to say, and what of it was answered,
// when the note was signed. What two people answered differently is answered. A
// field of a row or of an item is wanted once in each.
func (c *Counts) complete(rec *ledger.Record, note ledger.NoteID, s ledger.Signature) {
	then, ok := rec.AsSigned(s.Event)
	if !ok || s.Broken {
		c.Untold++
		return
	}
	n := then.Note(note)
	if n == nil {
		c.Untold++
		return
	}
	month := c.month(s.At)
	all := c.Complete[month]
	n.Wanted(true, func(s schema.Spot) {
		answered := s.Answered()
		if !answered {
			_, answered = then.Disagreement(note, s.Path())
		}
		key := string(s.Field.Path)
		x := c.Fields[key]
		x.Of, all.Of = x.Of+1, all.Of+1
		if answered {
			x.N, all.N = x.N+1, all.N+1
		}
		c.Fields[key] = x
	})
	c.Complete[month] = all
}

func (c *Counts) zone() *time.Location {
	_, offset := c.Now.Zone()
	return time.FixedZone("", offset*60)
}

func (c *Counts) month(m schema.Moment) string { return monthOf(m.Instant().In(c.zone())) }

func monthOf(t time.Time) string {
	m := strconv.Itoa(int(t.Month()))
	if len(m) < 2 {
		m = "0" + m
	}
	return strconv.Itoa(t.Year()) + "-" + m
}

// days spreads the time between two moments over the months it lies in.
func (c *Counts) days(by map[string]float64, since, until schema.Moment) {
	if since.IsZero() {
		return
	}
	at, end := since.Instant().In(c.zone()), until.Instant()
	for months := 0; at.Before(end) && months < 1200; months++ { // a wrong year is not counted for ever
		next := time.Date(at.Year(), at.Month()+1, 1, 0, 0, 0, 0, at.Location())
		stop := next
		if end.Before(stop) {
			stop = end
		}
		by[monthOf(at)] += stop.Sub(at).Hours() / 24
		at = next
	}
}

// Picture is one picture of the counts: bars with their figures in words, under a
// sentence that says what is counted.
type Picture struct {
	ID, Title, Means string
	Heads            [2]string // over what each bar is of, and over its figure
	Bars             []Bar
}

// Bar is one bar: how long it is, from 0 to 1, and the figure it stands for.
type Bar struct {
	Of, Words string
	Long      float64
}

// MonthsShown is how many months a picture shows: the last ones.
const MonthsShown = 12

// Pictures are the pictures of the counts, for one kind of item or, with "", for
// all. Nothing in them is ordered by size, and no bar stands for a person.
func (c *Counts) Pictures(kind string) []Picture {
	months := c.months()
	name := "all kinds"
	if k := schema.ItemKindNamed(kind); k != nil {
		name = lower(k.Title)
	}
	k := c.Kinds[kind]
	if k == nil {
		k = &KindCounts{}
	}
	byKind := Picture{ID: "days-by-kind", Title: "Device days by kind", Heads: [2]string{"Kind", "Days in a child"},
		Means: "Days that things were in a child, added up over all months. The figure says in how many things and children."}
	removed := Picture{ID: "removals-by-kind", Title: "Removals with a problem, by kind", Heads: [2]string{"Kind", "With a problem"},
		Means: "Not all came out, the tip was not seen, it bled, or it was not planned; of all removals of that kind."}
	for _, d := range schema.ItemKinds() {
		x := c.Kinds[d.Name]
		if x == nil {
			continue
		}
		sum := 0.0
		for _, v := range x.Days {
			sum += v
		}
		byKind.Bars = append(byKind.Bars, Bar{Of: d.Title, Long: sum, Words: tenths(sum) + " in " + strconv.Itoa(x.Items) + " " + plural(x.Items, "thing", "things") + " of " + strconv.Itoa(x.Children) + " " + plural(x.Children, "child", "children")})
		s := x.Removals.Total()
		b := s.bar(d.Title)
		if x.Unsaid > 0 {
			b.Words += "; of " + strconv.Itoa(x.Unsaid) + " it was not said whether all came out"
		}
		removed.Bars = append(removed.Bars, b)
	}
	scale(byKind.Bars)
	days := Picture{ID: "days", Title: "Device days by month: " + name, Heads: [2]string{"Month", "Days in a child"}, Means: "The time that things were in a child in that month, added up."}
	for _, m := range months {
		days.Bars = append(days.Bars, Bar{Of: monthShown(m), Long: k.Days[m], Words: tenths(k.Days[m])})
	}
	scale(days.Bars)
	monthly := func(id, title, means string, of Monthly) Picture {
		p := Picture{ID: id, Title: title, Means: means, Heads: [2]string{"Month", "Of how many"}}
		for _, m := range months {
			p.Bars = append(p.Bars, of[m].bar(monthShown(m)))
		}
		return p
	}
	unsigned := strconv.Itoa(c.Unsigned) + " " + plural(c.Unsigned, "note is", "notes are") + " not signed."
	if c.Untold > 0 {
		unsigned += " Of " + strconv.Itoa(c.Untold) + " it cannot be told here what was signed."
	}
	return []Picture{byKind, days, removed,
		monthly("removals", "Removals with a problem, by month: "+name, "Of all removals in that month.", k.Removals),
		monthly("arrival", "Differences found on arrival", "Answers at the check on arrival that say differs, not found, or found and not listed; of all answers to what could be seen.", c.Arrival),
		monthly("signed", "Notes signed with nothing left open", "When the whole note was first signed; of all notes signed in that month. "+unsigned, c.Signed),
		monthly("complete", "Fields answered on the sheet", "Of all that a sheet has to say or else prints as “not recorded”, as it was when the whole note was first signed. “None” and “not known” are answers.", c.Complete),
		c.fields()}
}

// fields shows each field that was left out of some sheet, as the definitions
// order them.
func (c *Counts) fields() Picture {
	p := Picture{ID: "fields", Title: "Fields that were left out", Heads: [2]string{"Field", "Answered"}}
	always := 0
	add := func(title string, all []*schema.Field) {
		for _, f := range all {
			for _, f := range append([]*schema.Field{f}, f.Rows...) {
				switch s := c.Fields[string(f.Path)]; {
				case s.Of > s.N:
					p.Bars = append(p.Bars, s.bar(title+": "+f.Title))
				case s.Of > 0:
					always++
				}
			}
		}
	}
	seen := map[string]bool{}
	for _, k := range schema.Kinds() {
		for _, s := range schema.SectionsOf(k.Kind) {
			if !seen[s.Name] {
				seen[s.Name] = true
				add(s.Title, s.Fields)
			}
		}
	}
	for _, k := range schema.ItemKinds() {
		add(k.Title, k.Fields)
	}
	p.Means = "How often each was answered when the whole note was first signed, of how often the sheet had to say it; over all months. " + strconv.Itoa(always) + " other " + plural(always, "field was", "fields were") + " always answered."
	return p
}

func (s Share) bar(of string) Bar {
	if s.Of == 0 {
		return Bar{Of: of, Words: "none in which to count"}
	}
	return Bar{Of: of, Long: float64(s.N) / float64(s.Of), Words: strconv.Itoa(s.N) + " of " + strconv.Itoa(s.Of)}
}

// scale makes the longest bar 1.
func scale(bars []Bar) {
	longest := 0.0
	for _, b := range bars {
		longest = max(longest, b.Long)
	}
	for i := range bars {
		if longest > 0 {
			bars[i].Long /= longest
		}
	}
}

// months are the months from the first that counts, or the last year, until now.
func (c *Counts) months() []string {
	var all []string
	for _, k := range c.Kinds {
		for m := range k.Days {
			all = append(all, m)
		}
		for m := range k.Removals {
			all = append(all, m)
		}
	}
	for _, of := range []Monthly{c.Arrival, c.Signed, c.Complete} {
		for m := range of {
			all = append(all, m)
		}
	}
	now := c.Now.Instant().In(c.zone())
	all = append(all, monthOf(now))
	first := slices.Min(all)
	var out []string
	for i := MonthsShown - 1; i >= 0; i-- {
		if m := monthOf(time.Date(now.Year(), now.Month()-time.Month(i), 1, 0, 0, 0, 0, time.UTC)); m >= first {
			out = append(out, m)
		}
	}
	return out
}

func monthShown(m string) string { return schema.Date(m + "-01").Shown()[3:] }

// tenths shows a figure to one tenth, without a 0 behind the point.
func tenths(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}
