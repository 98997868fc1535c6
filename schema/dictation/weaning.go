package dictation

import "fairlead/schema"

// readWeaning reads the attempts to come off bypass: "weaned at the second
// attempt" failed once and then came off.
func (g *segment) readWeaning() {
	list := schema.SupportWeaning
	if !g.inNote(fieldAt(list)) {
		return
	}
	outcome := rowField(list, "outcome")
	if !g.mentions("attempt", "try", "wean") && !(g.mentions("time", "go") && (g.ctx.attempts > 0 || g.mentions("weaned", "came", "separated", "off"))) || g.ctx.attempts == 0 && !g.mentions("wean", "weaned", "weaning", "off", "bypass", "attempt") || g.lex.kind == schema.SupportOff {
		return
	}
	implied := func(k int) { // an attempt before the one told of, at a time not said
		c := g.claimIn(g.newGroup(list, k, k+1), outcome, "back-on", k, k+1, k, k+1)
		c.sure, c.note = Check, "taken from the number of attempts"
	}
	add := func(k int, v string) {
		gi := g.newGroup(list, k, k+1)
		c := g.claimIn(gi, outcome, v, k, k+1, k, k+1)
		c.sure, c.note = Check, "taken from the number of attempts"
		for n := g.nextSign(k); n < len(g.signs) && g.signs[n].from-k <= 6 && !g.crossesStop(k, g.signs[n].from); n++ {
			s := &g.signs[n]
			if s.num == nil || s.num.clock == "" || !s.num.surely && !g.is(s.from-1, "at", "@") {
				continue
			}
			g.claimIn(gi, rowField(list, "at"), s.num.clock, s.from, s.to, k, s.to)
			s.used = true
			return
		}
		for n := g.prevSign(k); n >= 0 && k-g.signs[n].to <= 4 && !g.crossesStop(g.signs[n].to, k); n-- { // "at 11:10 we tried to wean"
			if s := &g.signs[n]; s.num != nil && s.num.clock != "" && !s.used && s.num.surely && g.is(s.from-1, "at") {
				g.claimIn(gi, rowField(list, "at"), s.num.clock, s.from, s.to, s.from, k)
				s.used = true
				return
			}
		}
	}
	for k := 0; k+2 < len(g.toks); k++ { // "failed to wean at eleven fifteen"
		tried := g.is(k, "tried", "attempted") && g.wentBack(k)
		if (g.is(k, "failed") || tried) && g.is(k+1, "to") && g.is(k+2, "wean", "separate", "come") && g.lex.kind != schema.SupportOn && (tried || !g.unrealAt(k)) {
			add(k, "back-on")
			g.ctx.attempts = max(g.ctx.attempts, 1)
		}
	}
	for k := range g.toks {
		n := ordinals[g.toks[k].text]
		if n == 0 || !g.is(k+1, "attempt", "try", "wean", "go") && !(g.is(k+1, "time") && (n == 1 || g.ctx.attempts > 0) && g.mentions("bypass", "wean", "weaned", "separated")) || g.is(k+1, "go") && g.ctx.attempts == 0 && !g.mentions("bypass", "wean", "weaned") {
			continue
		}
		failed, came, support := false, false, false
		for j := k + 2; j < len(g.toks) && j < k+8 && ordinals[g.toks[j].text] == 0; j++ {
			failed = failed || g.is(j, "failed", "unsuccessful") || g.wentBack(j)
			came = came || g.is(j, "held", "worked") || g.is(j, "off", "successful") && !g.is(j+1, "bypass", "pump") && (g.is(j-1, "and", "came", ",", "was") || g.numberEnds(j) && g.is(j, "successful"))
		}
		for j := max(0, k-7); j < k; j++ {
			came = came || g.is(j, "weaned", "off", "separated", "wean")
			support = support || g.is(j, "failed")
		}
		switch {
		case failed:
			add(k, "back-on")
			g.ctx.attempts = max(g.ctx.attempts, n)
		case came && !support && n <= 4:
			said := g.mentions("failed")
			for m := g.ctx.attempts + 1; m < n && !said; m++ {
				implied(k)
			}
			add(k, "off")
		}
	}
	for k := 0; k+1 < len(g.toks); k++ { // "could not wean after two attempts"
		if g.is(k+1, "attempt", "try") && g.numberAt(k) && g.mentions("could", "couldnt", "failed", "unable") && g.lex.kind == schema.SupportOn {
			if c := smallCount(g.signs[g.at[k]].num.decimal); c > 1 {
				for m := 1; m < c; m++ {
					implied(k)
				}
				add(k, "to-support")
				g.signs[g.at[k]].used = true
			}
			break
		}
	}
}

// wentBack tells whether "went back on" is said within the sentence after token k.
func (g *segment) wentBack(k int) bool {
	for j := k; j+1 < len(g.toks) && j < k+14 && g.toks[j].kind != stop; j++ {
		if g.is(j, "back") && g.is(j+1, "on") {
			return true
		}
	}
	return false
}
