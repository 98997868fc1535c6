package calc

import (
	"fmt"
	"strings"
	"time"

	"fairlead/schema"
	"fairlead/schema/profile"
)

func durationOf(minutes int64) time.Duration { return time.Duration(minutes) * time.Minute }

// fill replaces {name} by its value.
func fill(wording string, pairs ...string) string {
	return strings.NewReplacer(pairs...).Replace(wording)
}

// DosingWeight is a weight that could stand behind a dose: what it is, when it
// was taken and entered, and by whom.
type DosingWeight struct {
	Name  string // "dosing weight", "weight in the pump of milrinone"
	Path  schema.Path
	Kg    float64
	Date  schema.Date // of weighing; "" if not recorded
	At    string      // entered at, for people
	By    string
	Doubt string // why the unit or value is not clear; "" if it is
}

// CardLine is one dose on the emergency card.
type CardLine struct {
	Title    string
	Heading  string // "ARREST ONLY"
	Label    string // "first", "then"
	Amount   string // "32 mcg"
	Volume   string // "0.32 mL of 0.1 mg/mL"; "" without a concentration
	Routes   string
	Rule     string // "0.01 mg/kg, at most 1 mg"
	Capped   bool   // the maximum was applied
	Raised   bool   // the minimum was applied
	Source   string
	Activity string // who activated it, and when
	Low      float64
	High     float64 // equal to Low unless the dose is a range
	Unit     string  // UCUM of Low and High
	ML       float64 // volume of Low; 0 without a concentration
	MLHigh   float64
}

// Card is the emergency card. When Stopped is not empty no dose is printed and
// it says why.
type Card struct {
	Weight  DosingWeight
	Caution string // stands on every card
	Edition string
	Lines   []CardLine
	Empty   []string // rows the unit left empty, printed as such
	Stopped []Wanted
	Notes   []string // "the unit has set no limit to a weight's age"
}

// Beside words the weight that stands beside every dose: "3.2 kg of 14-Jul-2026,
// A. Example".
func (w DosingWeight) Beside() string {
	s := Shown(w.Kg, 3, "kg")
	if w.Date != "" {
		s += " of " + w.Date.Shown()
	}
	if w.By != "" {
		s += ", " + w.By
	}
	return s
}

// EmergencyCard computes the card. weights[0] is the dosing weight; the others
// are every other weight in use, and any that differs from it by more than the
// unit allows stops the card, as does a weight older than the unit allows on
// today. Maxima are applied and said; nothing else is altered.
func EmergencyCard(p *profile.Profile, weights []DosingWeight, today schema.Date) Card {
	var c Card
	if len(weights) == 0 {
		c.Stopped = append(c.Stopped, Wanted{Name: "dosing weight", Why: "not recorded", Do: "Record the dosing weight, who set it and when."})
		return c
	}
	w := weights[0]
	c.Weight = w
	if edition, ok := p.Wording(profile.CardEdition); ok {
		c.Edition = edition
	}
	if caution, ok := p.Wording(profile.CardCaution); ok {
		c.Caution = fill(caution, "{weight}", Number(w.Kg, 3), "{time}", orWords(w.At, "at a time not recorded"), "{name}", orWords(w.By, "somebody not recorded"))
	}
	stop := func(w DosingWeight, why, do string) {
		c.Stopped = append(c.Stopped, Wanted{Name: w.Name, Path: w.Path, Why: why, Do: do})
	}
	for _, x := range weights {
		switch {
		case x.Doubt != "":
			stop(x, x.Doubt, "Clear it up first.")
		case !usable(x.Kg) || x.Kg <= 0:
			stop(x, "not above zero", "Check it.")
		}
	}
	if w.By == "" {
		stop(w, "nobody is named for it", "Record who set the dosing weight.")
	}
	if w.At == "" {
		stop(w, "its time is not recorded", "Record when the dosing weight was set.")
	}
	if fraction, _, ok := p.Number(profile.WeightDifference); w.Kg > 0 {
		if !ok {
			fraction = 0 // without the unit's word any difference is one
		}
		for _, x := range weights[1:] {
			if x.Kg > 0 && differ(w.Kg, x.Kg, fraction) {
				stop(x, fmt.Sprintf("%s disagrees with the dosing weight, %s", Shown(x.Kg, 3, "kg"), Shown(w.Kg, 3, "kg")), "Weigh again, or correct the one that is wrong.")
			}
		}
	}
	age, dated := w.Date.DaysTo(today)
	if days, e, ok := p.Number(profile.WeightOldest); !ok {
		c.Notes = append(c.Notes, "The unit has set no limit to how old a weight may be.")
		if dated && age < 0 {
			c.Notes = append(c.Notes, "The weight is dated "+w.Date.Shown()+", after today: check the date, and the clock of this device.")
		}
	} else if !dated {
		stop(w, "its date is not recorded", "Record when the child was weighed.")
	} else if age < 0 {
		stop(w, "dated "+w.Date.Shown()+", after today", "Check the date, and the clock of this device.")
	} else if float64(age) > days {
		c.Stopped = append(c.Stopped, Wanted{Name: w.Name, Path: w.Path, Setting: e.ID, Why: fmt.Sprintf("%d days old, the unit allows %s", age, Number(days, 0)), Do: "Weigh the child again."})
	}
	if len(c.Stopped) > 0 {
		return c
	}
	for _, d := range p.Doses() {
		for _, s := range d.Steps {
			c.Lines = append(c.Lines, cardLine(d, s, w.Kg))
		}
	}
	for _, e := range p.EmptyDoses() {
		c.Empty = append(c.Empty, e.Title)
	}
	return c
}

// differ tells whether two weights differ by more than a fraction of the lighter.
func differ(a, b, fraction float64) bool {
	lo, hi := min(a, b), max(a, b)
	return compare(hi-lo, fraction*lo) > 0
}

func orWords(s, words string) string {
	if s == "" {
		return words
	}
	return s
}

func cardLine(d profile.Dose, s profile.DoseStep, kg float64) CardLine {
	l := CardLine{Title: d.Entry.Title, Heading: d.Heading, Label: s.Label, Routes: strings.Join(d.Routes, " or "), Source: d.Entry.Basis(), Unit: d.Shown}
	if d.Entry.Active != nil {
		l.Activity = "Activated by " + d.Entry.Active.By + ", " + d.Entry.Active.At
	}
	bound := func(v float64) float64 {
		switch {
		case s.Max != nil && compare(v, *s.Max) > 0:
			l.Capped = true
			return *s.Max
		case s.Min != nil && compare(v, *s.Min) < 0:
			l.Raised = true
			return *s.Min
		}
		return v
	}
	low, high := bound(s.PerKg*kg), 0.0
	l.Rule = Number(s.PerKg, 4)
	if s.To != nil {
		high = bound(*s.To * kg)
		l.Rule += " to " + Number(*s.To, 4)
	} else {
		high = low
	}
	l.Rule += " " + UnitShown(d.Unit) + "/kg"
	if s.Max != nil {
		l.Rule += ", at most " + Shown(*s.Max, 4, d.Unit)
	}
	if s.Min != nil {
		l.Rule += ", at least " + Shown(*s.Min, 4, d.Unit)
	}
	if d.Concentration != nil {
		l.ML, l.MLHigh = low/d.Concentration.Amount, high/d.Concentration.Amount
		l.Volume = spanShown(l.ML, l.MLHigh, "mL") + " of " + d.Concentration.Named
	}
	l.Low, l.High = low, high
	if d.Shown != d.Unit {
		l.Low, _ = Convert(low, d.Unit, d.Shown)
		l.High, _ = Convert(high, d.Unit, d.Shown)
	}
	l.Amount = spanShown(l.Low, l.High, d.Shown)
	return l
}

// spanShown writes an amount with three significant digits, which every syringe
// and every defibrillator is read to.
func spanShown(low, high float64, ucum string) string {
	if low == high {
		return Shown(low, Significant(low, 3), ucum)
	}
	return Number(low, Significant(low, 3)) + " to " + Shown(high, Significant(high, 3), ucum)
}
