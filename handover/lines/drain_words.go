package lines

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// DrainWords says of a drain or a chamber what a nurse asks of it first, a sentence
// each: the last reading, what came over the last interval, since when nothing came,
// and what came in all; each rate and total for the weight too. None of it is a verdict.
func (r Register) DrainWords(it InChild) []string {
	d := it.Drainage
	if d == nil {
		return nil
	}
	var out []string
	if d.Of != it.ID || len(d.Drains) > 1 {
		var flags []string
		for _, id := range d.Drains {
			if x, ok := r.Item(id); ok && id != it.ID {
				flags = append(flags, strconv.Itoa(x.Tag))
			}
		}
		with := map[bool]string{true: "shared with ", false: "for "}[d.Of != it.ID] + plural(len(flags), "tag ", "tags ") + listed(flags)
		switch c, in := r.Item(d.Of); {
		case d.Of == it.ID:
			out = append(out, "One chamber "+with+".")
		case in && len(flags) > 0:
			out = append(out, "Of the chamber, tag "+strconv.Itoa(c.Tag)+", "+with+":")
		case in:
			out = append(out, "Of the chamber, tag "+strconv.Itoa(c.Tag)+":")
		}
	}
	last, ok := d.lastRead()
	if !ok {
		out = append(out, "Output not read yet"+d.notedWords()+".")
	} else {
		out = append(out, "Last read "+last.At.Shown()+": "+figureRead(last.Facts.Output)+colourWords(d, it)+".")
	}
	kg := r.Losses.Kg
	if n := len(d.Intervals); n > 0 {
		switch i := d.Intervals[n-1]; {
		case ok && last.At.After(i.To):
			out = append(out, "What came since "+i.To.Shown()+" is not known.")
		case !i.Timed() && i.First:
			out = append(out, "First reading, since it was put in: "+volume(i.ML, kg)+"; when it was put in is not recorded, so there is no rate.")
		case !i.Timed():
			out = append(out, "First reading, since the note: "+volume(i.ML, kg)+"; the time of the note's figure is not recorded, so there is no rate.")
		default:
			words := "Last interval, "
			if i.First {
				words = "First reading, since it was put in, "
			}
			words += i.Words(kg) + "; "
			if i.Sparse() {
				words += "on average "
			}
			words += tenth(i.ML/i.To.Sub(i.From).Hours(), "mL/h")
			if rate, ok := i.PerKgHour(kg); ok {
				words += ", " + tenth(rate, "mL/kg/h")
			}
			out = append(out, words+".")
		}
		out = append(out, d.nothing()...)
	} else if ok {
		out = append(out, "What came until then is not known.")
	}
	if words := d.InAll(kg); words != "" {
		out = append(out, words)
	}
	return out
}

// LastOutput is the last reading at the bed of a chamber, or of a drain that has none.
type LastOutput struct {
	Item  ledger.ItemID
	Tag   int
	Words string // "50 mL in it"
	InAll string // what came in all
	At    schema.Moment
}

// LastOutputs lists what was read last of each chest drain that is still looked for at
// the bed, drains that join as their chamber, by tag.
func LastOutputs(rec *ledger.Record) []LastOutput {
	var out []LastOutput
	var drains map[ledger.ItemID]*Drainage
	for _, v := range rec.Items() {
		it, ok := rec.Child().Item(string(v.ID))
		if !ok || v.Withdrawn || !v.AtBedside() || v.Kind != "drain-chamber" && !chestDrain(it) {
			continue
		}
		if drains == nil {
			drains = drainageOf(rec, profile.Of())
		}
		d := drains[v.ID]
		if d == nil || d.Of != v.ID {
			continue
		}
		if last, ok := d.lastRead(); ok {
			out = append(out, LastOutput{v.ID, v.Tag, figureRead(last.Facts.Output), strings.TrimSuffix(d.InAll(0), "."), last.At})
		}
	}
	return out
}

// InAll is what came since theatre, or since it was put in, with what it took the
// place of; "" before anything was read.
func (d *Drainage) InAll(kg float64) string {
	if len(d.Intervals) == 0 && d.Earlier == 0 {
		return ""
	}
	since := "since it was put in"
	if d.Noted {
		since = "since theatre"
	}
	words := "In all "
	if d.Earlier > 0 || d.before {
		words += "with what it took the place of: "
	} else {
		words += since + ": "
	}
	if d.AtLeast() || d.before {
		return words + "at least " + volume(d.Total+d.Earlier, kg) + ", as far as is known."
	}
	return words + volume(d.Total+d.Earlier, kg) + "."
}

// Words is what came and over which time: with its days, where it is over midnight.
func (i Interval) Words(kg float64) string {
	from, to := i.From.Clock(), i.To.Clock()
	if i.From.Date() != i.To.Date() {
		from, to = i.From.Shown(), i.To.Shown()
	}
	return from + " to " + to + " (" + lasted(i) + "): " + volume(i.ML, kg)
}

// nothing says since when nothing came, where nothing came over the last interval.
func (d *Drainage) nothing() []string {
	n := len(d.Intervals)
	for n > 0 && d.Intervals[n-1].ML == 0 && d.Intervals[n-1].Timed() {
		n--
	}
	if n == len(d.Intervals) {
		return nil
	}
	words := "Nothing since " + d.Intervals[n].From.Shown() + "."
	if !slices.ContainsFunc(d.Intervals[:n], func(i Interval) bool { return i.ML > 0 }) {
		words = "Nothing yet, since " + d.Intervals[n].From.Shown() + "."
	}
	return []string{words}
}

// lastRead is the last reading that has a figure, or says that it was emptied.
func (d *Drainage) lastRead() (Read, bool) {
	_, counted := d.counted()
	if len(counted) == 0 {
		return Read{}, false
	}
	return counted[len(counted)-1], true
}

// notedWords is what stood in it as its note has it.
func (d *Drainage) notedWords() string {
	base, _ := d.counted()
	if len(base) == 0 {
		return ""
	}
	b := base[len(base)-1]
	return "; " + amountOf(b.Facts.Output.Total) + " as noted for " + b.At.Shown()
}

// figureRead words the figure of a reading.
func figureRead(o *ledger.Output) string {
	words := "not measured"
	if o.Total != "" {
		words = amountOf(o.Total) + " in it"
	} else if o.Volume != "" {
		minutes := o.Minutes
		if minutes == "" {
			minutes = "60"
		}
		words = amountOf(o.Volume) + " in " + schema.ShowNumber(minutes) + " min"
	}
	switch {
	case o.Changed == "yes":
		words += ", then changed"
	case o.Emptied == "yes":
		words += ", then emptied"
	}
	return words
}

func amountOf(ml string) string { return schema.ShowNumber(ml) + " mL" }

// colourWords is the colour that was said last of the item itself, or else of its chamber,
// with its time where that is not the last reading's.
func colourWords(d *Drainage, it InChild) string {
	last, _ := d.lastRead()
	for _, of := range []ledger.ItemID{it.ID, d.Of} {
		for i := len(d.Readings) - 1; i >= 0; i-- {
			x := d.Readings[i]
			if o := x.Facts.Output; x.Item != of || o == nil || o.Colour == "" {
				continue
			} else if x.At.Instant().Equal(last.At.Instant()) {
				return ", " + strings.ReplaceAll(o.Colour, "-", " ")
			} else {
				return ", " + strings.ReplaceAll(o.Colour, "-", " ") + " at " + x.At.Shown()
			}
		}
	}
	return ", colour not recorded"
}

// volume words what came, and for each kilogram where there is a weight.
func volume(ml, kg float64) string {
	words := tenth(ml, "mL")
	if kg > 0 {
		words += ", " + tenth(ml/kg, "mL/kg")
	}
	return words
}

// lasted is how long an interval was: "15 min", "3 h 10 min".
func lasted(i Interval) string { return calc.Minutes(int(i.To.Sub(i.From).Minutes() + 0.5)) }
