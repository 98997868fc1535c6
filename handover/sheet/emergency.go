package sheet

import (
	"fairlead/handover/calc"
)

// emergency is the card by weight: what the unit has activated and nothing else,
// and nothing at all where the weights disagree.
func (b *builder) emergency() Block {
	bl := Block{ID: "emergency", Title: "Emergency doses by weight", Form: Listed, Keep: 10}
	card := calc.CardOf(b.n, b.prof, b.about(), b.made().Date())
	line := func(w words) { bl.Lines = append(bl.Lines, Line{Spans: w}) }
	if len(card.Stopped) > 0 {
		w := words{{"STOPPED: ", Caution}}
		for i, s := range card.Stopped {
			if i > 0 {
				w.fixed("; ")
			}
			w.label(s.Name + " ")
			w.strong(s.Why)
			w.fixed(". " + s.Do)
		}
		line(w)
		return bl
	}
	if len(card.Lines) == 0 {
		line(words{{"Doses: ", Label}, {notSet, Stated}})
	} else {
		w := words{{"Dosing weight ", Label}}
		w.strong(calc.Shown(card.Weight.Kg, 3, "kg"))
		line(w)
	}
	for i, l := range card.Lines {
		w := words{}
		if i == 0 || card.Lines[i-1].Title != l.Title {
			if l.Heading != "" {
				w.add(Caution, l.Heading+" ")
			}
			w.label(l.Title + " ")
		} else {
			w = words(bl.Lines[len(bl.Lines)-1].Spans)
			bl.Lines = bl.Lines[:len(bl.Lines)-1]
			w.fixed("; ")
		}
		if l.Label != "" {
			w.fixed(l.Label + " ")
		}
		w.strong(l.Amount)
		if l.Volume != "" {
			w.fixed(" = ")
			w.strong(l.Volume)
		}
		w.fixed(" (" + l.Rule)
		switch {
		case l.Capped:
			w.fixed(", the maximum")
		case l.Raised:
			w.fixed(", the minimum")
		}
		w.fixed(")")
		if next := i + 1; next == len(card.Lines) || card.Lines[next].Title != l.Title {
			w.fixed(" for ")
			w.value(card.Weight.Beside())
			if l.Routes != "" {
				w.fixed(", " + l.Routes)
			}
		}
		line(w)
	}
	if len(card.Lines) > 0 {
		for _, title := range card.Empty {
			line(words{{title + " ", Label}, {notSet, Stated}})
		}
	}
	if text, ok := b.prof.Wording("emergency.by-stage"); ok && text != "" {
		line(words{{"In this unit: ", Label}, {text, Value}})
	}
	if card.Caution != "" && len(card.Lines) > 0 {
		bl.Lines = append(bl.Lines, Line{Spans: words{{card.Caution, Caution}}, Frame: true})
	}
	if card.Edition != "" && len(card.Lines) > 0 {
		line(words{{card.Edition + ".", Fixed}})
	}
	for _, n := range card.Notes {
		if len(card.Lines) > 0 {
			line(words{{n, Fixed}})
		}
	}
	return bl
}

// notSet is said where the unit profile holds nothing that is active.
const notSet = "not set by this unit"
