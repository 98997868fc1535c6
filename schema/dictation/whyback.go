package dictation

import "fairlead/schema"

// whyBackEnds are words that end what brought the child back: from them on the sentence
// tells of the operation, or of now.
var whyBackEnds = wordSet("now after afterward then so we i leaving leave left post went opened reopened closed chest today currently bypass cpb pump improved rose until")

// readWhyBack takes the numbers that stand with the reason for an operation for those of
// before it: "Tamponade, lactate 9, sats 62", "Fontan pressure 24 all along, lac 6". They
// are why the child came back, and never how it left.
func (g *segment) readWhyBack() {
	switch g.lex.kind {
	case schema.Reexploration, schema.ShuntRevision, schema.Takedown:
	default:
		return
	}
	if g.ctx.opening > 2 && !g.is(0, "why", "reason", "indication") {
		return
	}
	var why []int
	for i := range g.claims {
		switch c := &g.claims[i]; {
		case c.gone:
		case c.field.Path == schema.BetweenReason && c.value != "planned-closure",
			g.lex.kind == schema.ShuntRevision && g.ctx.opening == 0 && c.field.Path == schema.BetweenShuntFound,
			g.lex.kind == schema.Takedown && c.field.Path == schema.PressuresReadingsPressure && c.value == "fontan":
			why = append(why, c.from)
		}
	}
	for k := range g.toks {
		if g.is(k, "all") && g.is(k+1, "along", "night", "day", "week", "weekend") {
			why = append(why, k)
		}
	}
	before := fieldAt(schema.BetweenSaturationBeforeWork)
	if !g.inNote(before) {
		before = fieldAt(schema.BeforeSaturation)
	}
	for i := range g.claims {
		c := &g.claims[i]
		state := c.field.Section == "gas" || c.field.Path == schema.LeavingSaturation || c.field.Path == schema.LeavingInspiredOxygen || c.field.Path.List() == schema.PressuresReadings
		if c.gone || !state || c.stated != "" || !g.nearAny(why, c.from) {
			continue
		}
		if c.field.Path == schema.LeavingSaturation && g.inNote(before) && !g.answered(before) && !(g.at[c.from] >= 0 && g.rangeAt(int(g.at[c.from]))) {
			c.field = before
			continue
		}
		c.gone = true
		if c.group >= 0 {
			g.groups[c.group].gone = true
		}
	}
}

// whyScope is how a statement is meant where it may tell why the child is here: what opens
// a note tells of the time before, and is the reason for now.
func (g *segment) whyScope(f *schema.Field, sc scope) scope {
	if g.ctx.opening <= 2 && (f.Path == schema.BetweenReason || f.Path == schema.MechanicalReasonOn) {
		return sc &^ (past | coming)
	}
	return sc
}

// nearAny tells whether one of the tokens of why stands near token k with no word
// between, or around k, that ends a reason.
func (g *segment) nearAny(why []int, k int) bool {
	for _, w := range why {
		a, b := min(w, k), max(w, k)
		if b-a > 16 || g.crossesStop(a, b) {
			continue
		}
		ended := false
		for j := max(0, a-3); j <= min(b+3, len(g.toks)-1) && !ended; j++ {
			if j > b && g.toks[j].kind != word {
				break
			}
			ended = whyBackEnds[g.toks[j].text] && !(g.is(j, "so") && j == w-1) // "sats fifty four, so failed connection"
		}
		if !ended {
			return true
		}
	}
	return false
}
