package dictation

import "fairlead/schema"

// readProstaglandin reads what became of the prostaglandin that ran before the
// operation: how it came to theatre, at what dose, and when it was stopped. What
// runs on leaving is an infusion.
func (g *segment) readProstaglandin() {
	fate, dose, stopped := fieldAt(schema.BeforeProstaglandin), fieldAt(schema.BeforeProstaglandinDose), fieldAt(schema.BeforeProstaglandinStopped)
	if !g.inNote(fate) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if g.drugAt(i) != "alprostadil" && !g.meansName(s, stopped) || s.scope&(denied|intended|calling|hearsay|weighed) != 0 {
			continue
		}
		end := g.endOfDrug(i)
		came := s.scope&coming != 0 || g.ranToTheatre(s.to, end)
		for j := i + 1; j < len(g.signs) && g.signs[j].from < end; j++ {
			p := &g.signs[j]
			if p.num == nil || p.used {
				continue
			}
			if p.num.clock != "" && g.stoppedBefore(s.from, p.from) {
				g.claimField(stopped, p.num.clock, p.from, p.to, s.from, p.to)
				p.used = true
				if f := fieldAt(schema.HybridProstaglandinAfter); g.ctx.form == "hybrid" && g.inNote(f) && !g.answered(f) {
					g.claimField(f, "stopped", s.from, p.from, s.from, p.to)
				}
				continue
			}
			if ran := g.is(p.from-1, "on", "at", "was") && g.anyWithin(p.from-3, p.from, "was", "had"); !ran && (!came && !g.is(s.to, "was") || g.stoppedBefore(s.to, p.from)) {
				continue // but "off ten fifty, was on point oh one"
			}
			a, _ := g.amountAt(j)
			if v, _, ok := fits(dose, a); ok && p.from-s.to <= 8 {
				g.judge(g.claimField(dose, v, a.from, a.to, s.from, a.to), a)
				g.useAmount(a)
			}
		}
		if came {
			was := "running-to-theatre"
			if !g.ranToTheatre(s.to, end) && g.is(s.to, "was", "came") && g.stoppedBefore(s.to, min(end, s.to+3)) {
				was = "stopped-before" // "prostaglandin came off yesterday on the ward"
			}
			g.claimField(fate, was, s.from, s.to, s.from, s.to)
			s.used = true
		}
	}
}

// endOfDrug is where what is said of the drug at sign i ends: at a stop, or at the
// next drug.
func (g *segment) endOfDrug(i int) int {
	end := g.signs[i].to
	for end < len(g.toks) && g.toks[end].kind != stop {
		if n := g.at[end]; n > int32(i) && g.drugAt(int(n)) != "" {
			break
		}
		end++
	}
	return end
}

// ranToTheatre tells whether tokens from..to say that something ran until the
// operation: "was running when we came to theatre", "up to the OR".
func (g *segment) ranToTheatre(from, to int) bool {
	for k := from; k < to; k++ {
		if !g.is(k, "theater", "or", "operating", "table", "induction", "room") || g.is(k, "or") && !g.is(k-1, "the") && g.words(k, k+1) != "OR" {
			continue
		}
		for j := k - 1; j >= from && k-j <= 4; j-- {
			if g.is(j, "to", "into", "until", "till", "reached", "in", "→") {
				return true
			}
		}
	}
	return false
}

// stoppedBefore tells whether tokens from..to say that something was stopped.
func (g *segment) stoppedBefore(from, to int) bool {
	for k := from; k < to; k++ {
		if g.is(k, "stopped", "off", "discontinued", "ceased", "stop") {
			return true
		}
	}
	return false
}
