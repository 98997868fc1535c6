package dictation

import "fairlead/schema"

// pronouns tell the sex of the child where nobody else is spoken of.
var pronouns = map[string]string{"she": "female", "her": "female", "girl": "female", "he": "male", "him": "male", "his": "male", "boy": "male"}

// otherPeople are those of whom "she" may be said as well.
var otherPeople = wordSet("mother mum mom father dad parent parents brother sister cousin twin grandmother registrar fellow consultant colleague perfusionist anaesthetist anesthesiologist anaesthesia nurse cardiologist surgeon intensivist doctor resident family")

// sayingWords follow the pronoun of a colleague: "she says four", "he corrects me", "his
// half of the list".
var sayingWords = wordSet("says say said tells told thinks reckons corrects reminds writes wrote shakes nods reads counts half list sheet chart handwriting")

// notePronouns keeps the first word of a segment that tells the child's sex.
func (s *settling) notePronouns(g *segment, base int) {
	for k := range g.toks {
		if otherPeople[g.toks[k].text] || pronouns[g.toks[k].text] != "" && sayingWords[g.wordAt(k+1)] {
			return
		}
	}
	for k := range g.toks {
		v := pronouns[g.toks[k].text]
		if g.is(k+1, "in") && g.is(k+2, "bed") {
			continue // another child: "that was the girl in bed four"
		}
		if g.ctx.opening < openingOf && g.sexLetter(k) {
			v = map[string]string{"f": "female", "m": "male"}[g.toks[k].text]
		}
		if v == "" {
			continue
		}
		if s.sex == nil {
			sp := g.toks[k].span
			s.sex = &Proposal{Path: schema.ChildSex, Value: v, Spans: []Span{{sp.Start + base, sp.End + base}}, Why: g.words(k, k+1), Sure: Check, Note: "taken from how the child is spoken of"}
		} else if s.sex.Value != v {
			s.mixed = true
		}
	}
}

// sexLetter tells whether token k is a letter for the sex among what opens a note: "F,
// 39 weeks", "8 do M, 3.4 kg", "61 kg F".
func (g *segment) sexLetter(k int) bool {
	t := &g.toks[k]
	if !g.is(k, "f", "m") || t.span.End-t.span.Start != 1 || g.text[t.span.Start] > 'Z' || g.numberAt(k-1) {
		return false
	}
	if g.is(k-1, "kg", "kilo", "yo", "do", "mo", "wo", "y", "o", "old", "day", "week", "month", "year", "wk", "d", "yr", "neonate", "infant", "term", "baby", "child") {
		return true
	}
	return (k == 0 || g.toks[k-1].kind == stop || g.is(k-1, ",", ":")) && (g.is(k+1, ",", ".") || g.numberAt(k+1) && g.is(g.signs[g.at[k+1]].to, "kg", "kilo", "week", "day", "month", "year", "wk"))
}

// sexSaid takes the child's sex from the pronouns, where they agree and it was not
// said.
func (s *settling) sexSaid() {
	if s.sex == nil || s.mixed || !hasSection(s.reading.Kind, "child") {
		return
	}
	for _, p := range s.plain {
		if p.Path == schema.ChildSex {
			return
		}
	}
	s.plain = append(s.plain, s.sex)
}

// saturationTwice takes the first of two saturations for the one before the work,
// where the second is said to be after it: "Sats 93 ... Sats 80 after".
func (s *settling) saturationTwice() {
	if s.reading.Kind != schema.ShuntRevision {
		return
	}
	var after *Proposal
	for _, p := range s.plain {
		switch {
		case p.Path == schema.BetweenSaturationBeforeWork:
			return
		case p.Path == schema.BetweenSaturationAfterWork && p.Stated == "":
			after = p
		}
	}
	if after == nil {
		return
	}
	for _, p := range s.plain {
		if p.Path == schema.LeavingSaturation && p.Stated == "" && p.Value != after.Value && p.Spans[0].Start < after.Spans[0].Start && !p.leaving {
			p.Path, p.Sure, p.Note = schema.BetweenSaturationBeforeWork, Check, "said first, and another after the work"
			return
		}
	}
}
