package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// nitricOff are words that say after its name that nitric oxide is not given now.
var nitricOff = wordSet("off stopped finished gone")

// readNitric reads the dose of nitric oxide that stands right after its name, and that it
// is off: "with nitric at twenty it came down to fifteen", "nitric was twenty, we're at
// ten", "nitric stopped", "came off nitric".
func (g *segment) readNitric() {
	f := fieldAt(schema.VentilationNitricOxide)
	if !g.inNote(f) || g.mentions("sorry", "correction") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.num != nil || !g.meansName(s, f) || s.scope&(unreal&^past|denied) != 0 {
			continue
		}
		k := s.to
		if g.is(k, ",") && g.is(k+1, "at") {
			k++
		}
		for g.is(k, "at", "is", "on", "was", "of", "oxide", "now", ":", "to", "been", "has") {
			k++
		}
		if g.nitricNever(i) {
			g.claimField(f, "", s.from, s.to, s.from, s.to).stated = schema.StatedNone
			s.used = true
			continue
		}
		off := nitricOff[g.wordAt(k)] && !g.is(k+1, "the", "pump", "bypass") || g.is(k, "weaned") && g.is(k+1, "off", "to") && (g.is(k+1, "off") || g.is(k+2, "nothing", "off", "zero"))
		off = off || g.is(s.from-1, "off") && g.is(s.from-2, "came", "weaned", "is", "now") || g.is(s.from-1, "stopped") && !g.is(s.to, "and")
		if off && s.scope&past == 0 && !g.numberIn(s.to, len(g.toks)) {
			c := g.claimField(f, "", s.from, s.to, min(s.from, max(0, s.from-2)), min(len(g.toks), k+2))
			c.stated = schema.StatedNone
			s.used = true
			continue
		}
		if !g.numberAt(k) || k-s.to > 3 {
			continue
		}
		n := int(g.at[k])
		if g.signs[n].used || g.signs[n].scope&(unreal&^past|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(n)
		end := a.to
		for g.is(end, "part", "ppm", "per", "million") {
			end++
		}
		switch v, _, ok := fits(f, a); {
		case !ok, g.anyWithin(end, end+5, "off"), g.anyWithin(end, end+5, "stopped"):
			continue
		case g.is(k-1, "was") && g.isNow(end):
			if m := g.nextSign(end); m < len(g.signs) && g.signs[m].num != nil || m+1 < len(g.signs) && g.signs[m+1].num != nil {
				if g.signs[m].num == nil {
					m++
				}
				b, _ := g.amountAt(m)
				if w, _, ok := fits(f, b); ok {
					g.useAmount(a)
					g.judge(g.claimField(f, w, b.from, b.to, s.from, b.to), b)
					g.useAmount(b)
					s.used = true
				}
			}
		case g.signs[n].scope&past == 0 && !g.is(end, "down", "up", "then", "to", "→", ">", "(", "and", "but", "for", "after", "at") && !(g.is(end, ",") && (g.numberIn(end, min(len(g.toks), end+4)) || g.anyWithin(end, min(len(g.toks), end+6), "off", "stopped", "down", "weaned", "now", "then"))), !g.is(k-1, "was") && g.is(end, "it", "she", "he", "they"):
			g.judge(g.claimField(f, v, a.from, a.to, s.from, a.to), a)
			g.useAmount(a)
			s.used = true
		}
	}
}

// nitricNever tells whether the nitric oxide named at sign i is said never to have been
// given: "nitric was in the room, never used", "nitric we did not need".
func (g *segment) nitricNever(i int) bool {
	for k := g.signs[i].to; k < len(g.toks) && k < g.signs[i].to+10 && g.toks[k].kind != stop && !g.numberAt(k); k++ {
		if g.neverAt(k) > 0 {
			return !g.anyWithin(k, k+6, "yet", "until", "interrupted", "interrupt")
		}
		if g.is(k, "if", "until", "unless", "when", "interrupt", "stop", "wean") || g.is(k, "gone", "off") {
			return false
		}
		if n := g.at[k]; n >= 0 && g.signs[n].from == k && n > int32(i) && g.speaksOther(k) && !g.within(&g.signs[n], "room", "theater", "in", "set", "up") {
			return false
		}
	}
	return false
}

// saysOff tells whether a proposal was read from words for the end of what ran before.
func (p *Proposal) saysOff() bool {
	return slices.ContainsFunc(strings.Fields(strings.ToLower(p.Why)), func(w string) bool { return nitricOff[strings.Trim(w, ",.")] })
}
