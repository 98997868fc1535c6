package dictation

import "fairlead/schema"

// readSupportCandidate reads whether the child would be put on support, answered after a
// colon or a question: "ECMO candidate: yes", "back on if she arrests? Yes", "nobody puts
// her back on without asking me".
func (g *segment) readSupportCandidate() {
	f := fieldAt(schema.CareSupportCandidate)
	if !g.inNote(f) || g.answered(f) {
		return
	}
	for k := range g.toks {
		if !g.is(k, "ecmo", "ecl", "support", "circuit") && !(g.is(k, "on") && g.is(k-1, "back")) {
			continue
		}
		asked := false
		for j := k + 1; j < len(g.toks) && j < k+10; j++ {
			v := ""
			switch {
			case g.is(j, "without") && g.is(j+1, "asking", "talking", "speaking", "calling"):
				v = "discuss"
			case !asked && g.is(j, "candidate", "cand", ":", "?", "if"):
				asked = true
			case !asked:
			case g.is(j, "yes"):
				v = "yes"
			case g.is(j, "no") && g.is(j-1, ":", "?") && (j+1 >= len(g.toks) || g.toks[j+1].kind == stop) && g.is(k+1, "candidate", "cand"):
				v = "no"
			case g.is(j, "discuss"):
				v = "discuss"
			}
			if v != "" {
				g.claimField(f, v, j, j+1, k, j+1)
				for n := range g.signs {
					if s := &g.signs[n]; s.from >= k && s.to <= j+1 {
						s.used = true
					}
				}
				return
			}
			if g.toks[j].kind == stop && !g.is(j, "?") || g.numberAt(j) {
				break
			}
		}
	}
}
