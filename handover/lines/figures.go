package lines

import (
	"cmp"
	"strconv"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Doubt is what is wrong with a figure read at the bed, or wants a second look.
type Doubt struct {
	Figure string // which: "mean", "total", "minutes" …
	What   string // what is wrong, in a sentence
	Do     string
	Ask    bool // it can be so, and is unusual: it goes through with a reason
}

// Words are both sentences.
func (d Doubt) Words() string { return d.What + " " + d.Do }

// figureOf names the note's own definition of what a figure at the bed can be: a
// field of the item, the first it has, or of a section. usual tells whether what is
// usual on leaving theatre is also usual later.
var figureOf = map[string]struct {
	item  []string
	field schema.Path
	usual bool
	title string // where the note's own would mislead
}{
	"total":     {item: contents, title: "Running total"},
	"volume":    {item: contents, title: "Volume"},
	"begins":    {item: contents, title: "Beginning of counting"},
	"suction":   {item: []string{"suction"}, usual: true},
	"mean":      {field: schema.PressuresReadingsMean, usual: true},
	"systolic":  {field: schema.PressuresReadingsSystolic, usual: true},
	"diastolic": {field: schema.PressuresReadingsDiastolic, usual: true},
	"threshold": {item: []string{"threshold"}, usual: true},
	"sensing":   {item: []string{"sensing"}, usual: true},
	"output":    {item: []string{"threshold"}, title: "Output of the box"}, // a box gives and senses what a test can find
	"sense":     {item: []string{"sensing"}, title: "Sensitivity of the box"},
	"rate":      {field: schema.LeavingPacingRate, usual: true},
	"delay":     {field: schema.LeavingAvDelay, usual: true},
}

// contents are the fields that say what a chamber or a drain holds.
var contents = []string{"level", "output"}

// atBedOnly are the figures that no note has. Common practice, no source: a reading
// is not of more than a day, and a site is looked at within two; nothing longer than
// a wire or a long line comes out of a child.
var atBedOnly = map[string]*schema.Field{
	"minutes": atBed("Minutes", "min", 1, 24*60), "next": atBed("Next look", "min", 1, 48*60), "length": atBed("Length", "cm", 0.5, 150),
}

func atBed(title, unit string, low, high float64) *schema.Field {
	return &schema.Field{Title: title, Type: "number", Unit: unit, Min: &low, Max: &high}
}

// Figure is the definition of one figure of an item read in the stay after a note of
// that kind: unit, what is possible, and in Usual what is usual, if that is known. It
// is nil for a figure that the item does not have.
func Figure(stage schema.Kind, it schema.Item, name string) *schema.Field {
	if f := atBedOnly[name]; f != nil {
		return f
	}
	def := figureOf[name]
	var f *schema.Field
	if def.field != "" {
		f = schema.FieldAt(def.field)
	}
	if k := schema.ItemKindNamed(it.Kind); k != nil {
		for _, own := range def.item {
			if f == nil {
				f = k.Field(own)
			}
		}
	}
	if f == nil {
		return nil
	}
	at := *f
	if def.field.Section() == schema.PressuresReadings.Section() { // the ranges are those of what the line measures
		n := schema.NewNote(stage, "", "")
		n.AddRow(schema.PressuresReadings, "read")
		n.Set(schema.RowPath(schema.PressuresReadings, "read", "pressure"), pressureOf(stage, it))
		if !n.Relevant(f, "read") {
			return nil
		}
		at = *n.VariantAt(f, "read")
	} else if len(def.item) > 0 {
		at = *it.Note().VariantAt(f, it.ID)
	}
	if r, ok := at.UsualFor(stage); def.usual && ok {
		at.Usual = map[string]schema.Range{"*": r}
	} else {
		at.Usual = nil
	}
	at.Title = cmp.Or(def.title, at.Title)
	return &at
}

// pressureOf is what a line measures in the circulation of a stage, in the words of
// the note's own list. After stage 2 the upper caval vein, and after stage 3 both,
// carry the pressure of the lung arteries (clinical.md 10).
func pressureOf(stage schema.Kind, it schema.Item) string {
	variety := it.Text("variety")
	upper := variety == "jugular" || variety == "subclavian"
	switch {
	case it.Kind == "intracardiac-line":
		return variety
	case it.Kind == "arterial-line":
		return "arterial"
	case stage == schema.Stage2 && upper:
		return "glenn"
	case stage == schema.Stage3 && (upper || variety == "femoral"):
		return "fontan"
	case variety == "femoral", variety == "umbilical-venous":
		return "femoral-venous"
	}
	return "central-venous"
}

// Doubts holds figures read together at the bed against what they can be, and against
// each other; at is when they were read. What is refused comes first.
func (r Register) Doubts(it InChild, figures map[string]float64, at schema.Moment) []Doubt {
	var refused, asked []Doubt
	for _, name := range []string{"total", "volume", "minutes", "begins", "suction", "mean", "systolic", "diastolic", "threshold", "sensing", "rate", "output", "sense", "delay", "length", "next"} {
		v, given := figures[name]
		f := Figure(r.Stage, it.Item, name)
		if !given || f == nil {
			continue
		}
		said := f.Title + " " + amount(v, f.Unit)
		possible := schema.Range{Low: f.Min, High: f.Max}
		usual, known := f.UsualFor(r.Stage)
		switch {
		case !possible.Holds(v):
			refused = append(refused, Doubt{name, said + " is outside what is possible: " + span(possible, f.Unit) + ".", "Check the figure and its unit.", false})
		case known && !usual.Holds(v):
			asked = append(asked, Doubt{name, said + " is unusual: " + span(usual, f.Unit) + " is usual.", "Check the figure; if it is right, say why.", true})
		}
	}
	sys, hasSys := figures["systolic"]
	dia, hasDia := figures["diastolic"]
	mean, hasMean := figures["mean"]
	switch {
	case hasSys && hasDia && sys < dia:
		refused = append(refused, Doubt{"systolic", "The systolic pressure is below the diastolic.", "Check both figures.", false})
	case hasMean && (hasSys && mean > sys || hasDia && mean < dia):
		refused = append(refused, Doubt{"mean", "The mean pressure does not lie between the systolic and the diastolic.", "Check the figures.", false})
	}
	if d, ok := r.captureDoubt(it, figures, at); ok {
		asked = append(asked, d)
	}
	if i, name, since := r.came(it, figures, at); name != "" && r.Losses.Kg > 0 && it.Item.Kind != "dialysis-catheter" {
		limits := (*schema.PerWeight)(nil)
		if k := schema.ItemKindNamed("drain"); k != nil && k.Field("output") != nil {
			limits = k.Field("output").PerKg
		}
		if limits != nil {
			perKg := i.ML / r.Losses.Kg
			usual, known := schema.UsualIn(limits.Usual, r.Stage)
			over := ", over a time that is not known"
			if i.Timed() {
				over = ", in " + lasted(i)
			}
			said := tenth(i.ML, "mL") + since + over + ", " + perKilogram(perKg, "mL") + ","
			fast := r.fast(it, i, since, usual)
			switch {
			case !limits.Plausible.Holds(perKg):
				refused = append(refused, Doubt{name, said + " is outside what is possible: " + span(limits.Plausible, "mL") + " per kg.", "Check the figure and the weight.", false})
			case known && !usual.Holds(perKg):
				words := said + " is unusual: " + span(usual, "mL") + " per kg is usual."
				if fast != "" {
					words += " " + fast
				}
				asked = append(asked, Doubt{name, words, "Check the figure; if it is right, act on it, and say why.", true})
			case fast != "":
				asked = append(asked, Doubt{name, fast, "Check the figure and its time; if they are right, act on it, and say why.", true})
			}
		}
	}
	return append(refused, asked...)
}

// fast says that what came came fast; "" if it did not. No source has a usual range of
// what a drain gives in an hour: the most that is usual in all, in one hour, is asked
// about, and what an hourly rule of the unit that is in force is about.
func (r Register) fast(it InChild, i Interval, since string, usual schema.Range) string {
	rate, ok := i.PerKgHour(r.Losses.Kg)
	if !ok {
		return ""
	}
	const hair = 1e-9 // of arithmetic
	said := tenth(i.ML, "mL") + since + ", in " + lasted(i) + ", is " + perKilogram(rate, "mL") + " per hour: "
	if usual.High != nil && rate > *usual.High+hair {
		return said + "in one hour more than the " + span(usual, "mL") + " per kg that is usual in all."
	}
	if it.Item.Kind == "drain" && !chestDrain(it.Item) {
		return ""
	}
	for _, rule := range r.Losses.hourly {
		over := rule.Within > 0 && !r.Losses.Since.IsZero() && i.From.Sub(r.Losses.Since).Hours() >= rule.Within
		if per := rule.PerKg / rule.Hours; rule.Hours > 0 && !over && rate >= per-hair {
			return said + "the unit's rule \"" + rule.Entry.Title + "\" is about " + perKilogram(per, "mL") + " per hour."
		}
	}
	return ""
}

// came is what one reading says has come since the one before it; name is the figure
// that says so, "" if none does.
func (r Register) came(it InChild, figures map[string]float64, at schema.Moment) (i Interval, name, since string) {
	var o ledger.Output
	for _, x := range []struct {
		name string
		into *string
	}{{"volume", &o.Volume}, {"total", &o.Total}, {"minutes", &o.Minutes}} {
		if v, ok := figures[x.name]; ok {
			*x.into = strconv.FormatFloat(v, 'f', -1, 64)
		}
	}
	name = "total"
	if o.Volume != "" {
		name, o.Total = "volume", ""
	}
	if it.Drainage == nil || o.Volume+o.Total == "" {
		return i, "", ""
	}
	i, ok := it.Drainage.with(o, at)
	switch {
	case !ok:
		return i, "", ""
	case i.Hourly:
	case i.First:
		since = " so far"
	case i.Noted:
		since = " since the note"
	default:
		since = " since " + i.From.Shown()
	}
	return i, name, since
}

// NextLook says what is wrong with so many minutes until a site is looked at again,
// counted from when the item came out; "" for nothing.
func NextLook(next, now schema.Moment) string {
	if next.After(now) {
		return ""
	}
	return "The next look at the site would have been at " + next.Shown() + ", which is past. Enter the minutes to a look that is still to come, or leave it empty."
}

// amount words a figure with its unit.
func amount(v float64, unit string) string {
	words := schema.ShowNumber(strconv.FormatFloat(v, 'f', -1, 64))
	if unit != "" && unit != "1" {
		words += " " + schema.UnitShown(unit)
	}
	return words
}

// perKilogram words what came for each kilogram, to one decimal.
func perKilogram(v float64, unit string) string { return tenth(v, unit) + " per kg" }

// tenth words what was worked out, to one decimal.
func tenth(v float64, unit string) string {
	return amount(float64(int(v*10+0.5))/10, unit)
}

// span words a range with its unit.
func span(r schema.Range, unit string) string {
	switch {
	case r.Low != nil && r.High != nil:
		return amount(*r.Low, "") + " to " + amount(*r.High, unit)
	case r.Low != nil:
		return amount(*r.Low, unit) + " or more"
	case r.High != nil:
		return amount(*r.High, unit) + " or less"
	}
	return "any"
}
