package dictation

import "fairlead/schema"

// readCatheterProcedures reads what was done by catheter before this operation:
// "had a balloon septostomy on day one", "stented in the lab last week". What is
// done here has fields of its own.
func (g *segment) readCatheterProcedures() {
	list := schema.BeforeCatheterProcedures
	if !g.inNote(fieldAt(list)) {
		return
	}
	procedure := rowField(list, "procedure")
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, procedure)
		if v == "" && g.within(s, "balloon", "ballooned") && (g.mentions("septum", "septostomy") || g.is(s.to, "on", "at", "in", "before", "last", "yesterday")) {
			v = "balloon-septostomy"
		}
		if v == "" || v == "diagnostic" || v == "other" || s.used || s.scope&(denied|intended|hearsay|weighed|calling) != 0 {
			continue
		}
		if s.scope&(coming|formerly) == 0 && !g.daysBefore(s.to) && !g.hadBefore(s.from) && !(s.scope&past != 0 && g.mentions("cath", "lab", "ago", "week", "birth", "born")) {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		g.claimIn(gi, procedure, v, s.from, s.to, s.from, s.to)
		s.used = true
	}
}

// daysBefore tells whether a day before this one follows token k: "on day two", "at
// birth".
func (g *segment) daysBefore(k int) bool {
	for j := k; j < len(g.toks) && j < k+4 && g.toks[j].kind != stop && !g.is(j, ","); j++ {
		if g.is(j, "day", "birth", "yesterday", "ago", "week", "dol") {
			return true
		}
	}
	return false
}

// hadBefore tells whether the words before token k tell of something that was had:
// "after his septostomy", "she had had a".
func (g *segment) hadBefore(k int) bool {
	for j := k - 1; j >= 0 && j >= k-4 && g.toks[j].kind != stop && !g.is(j, ","); j-- {
		if g.is(j, "after", "following", "since", "underwent") || g.is(j, "had") && g.is(j-1, "had", "already", "has") {
			return true
		}
	}
	return false
}
