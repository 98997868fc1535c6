package dictation

import (
	"slices"

	"fairlead/schema"
)

// pacedRhythm is the rhythm of a child whose chambers are paced.
var pacedRhythm = map[string]string{"atrial": "atrial-paced", "ventricular": "ventricular-paced", "dual": "dual-paced"}

// coveredRhythm makes the rhythm that a sentence tells before it tells of pacing what lies
// beneath: "junctional at eighty, so we pace the atrium at one thirty", "SR 148
// underlying, paced DDD 150".
func (g *segment) coveredRhythm() {
	rhythm, beneath := fieldAt(schema.LeavingRhythm), fieldAt(schema.LeavingRhythmBeneath)
	own, paced := -1, -1
	for i := range g.claims {
		c := &g.claims[i]
		switch {
		case c.gone || c.stated != "" || c.group >= 0:
		case c.field == beneath:
			return
		case c.field == rhythm && (own >= 0 || !slices.Contains(beneath.Enum, c.value)):
			return
		case c.field == rhythm:
			own = i
		case c.field.Path == schema.LeavingPacing && pacedRhythm[c.value] != "":
			paced = i
		}
	}
	if own < 0 || paced < 0 {
		return
	}
	c, p := &g.claims[own], &g.claims[paced]
	under := g.is(c.to, "underneath", "beneath", "underlying") || g.numberAt(c.to) && g.is(g.signs[g.at[c.to]].to, "underneath", "beneath", "underlying")
	for k := c.to; k < p.from; k++ {
		if g.toks[k].kind == stop || g.is(k, "after", "before", "backup", "standby") {
			return
		}
	}
	if c.from > p.from && !under || g.is(c.from-1, "now", "in") && g.is(c.from-2, "now", "back") || g.is(p.from-1, "was", "briefly", "initially") || g.mentions("briefly", "initially", "stopped", "available", "needed", "capture") {
		return
	}
	c.field = beneath
	g.claimField(rhythm, pacedRhythm[p.value], p.from, p.to, p.why, p.whyTo)
}

// beneathWords say of a rhythm, and of its rate, that it is the child's own under pacing.
var beneathWords = wordSet("underneath beneath underlying below intrinsic")

// rateBeneath drops the rate of the rhythm that lies under pacing, and one that only led to
// it: "sinus at one ten underneath", "sinus brady at eighty eight, so we're pacing at one
// twenty". The heart does not beat at it.
func (g *segment) rateBeneath() {
	for i := range g.claims {
		c := &g.claims[i]
		if c.gone || c.field.Path != schema.LeavingHeartRate || c.stated != "" {
			continue
		}
		paced := g.mentions("pace", "paced", "pacing", "ddd", "aai", "vvi") && !g.mentions("standby", "off", "stopped", "not", "any", "while")
		for k := max(0, c.from-6); k < min(len(g.toks), c.to+3); k++ {
			opens := k == 0 && g.is(k, "underneath", "beneath", "underlying")       // "Underneath, junctional 90."
			over := k < c.from && g.is(k, "over", "own") && g.numberAfterPace(0, k) // "paced at one forty over a sinus rate of ninety"
			if (opens || paced && (over || beneathWords[g.toks[k].text])) && !g.crossesStop(min(k, c.from), max(k, c.from)) {
				c.gone = true
			}
		}
		if k := c.to; paced && (g.is(k, "paced", "pacing", "pace") || g.is(k, ",") && g.is(k+1, "paced", "pacing")) && g.numberAfterPace(k, min(len(g.toks), k+8)) {
			c.gone = true // "junctional ninety, paced AAI at one ten"
		}
		for k := c.to; k < len(g.toks) && k < c.to+8 && g.toks[k].kind != stop && paced; k++ {
			if g.is(k, "so") && g.anyWithin(k+1, min(k+8, len(g.toks)), "pacing", "paced", "pace") {
				c.gone = true
			}
		}
		if g.is(c.from-1, "to") && g.is(c.from-2, "went", "dropped", "fell", "slowed") && g.fellSo(c.to) {
			c.gone = true // "the heart rate went to ninety, so we backed off"
		}
	}
}

// numberAfterPace tells whether the words from token a to b tell the rate of pacing.
func (g *segment) numberAfterPace(a, b int) bool {
	for k := a; k < b; k++ {
		if g.is(k, "paced", "pacing", "ddd", "aai", "vvi") && g.numberIn(k, b) {
			return true
		}
	}
	return false
}

// fellSo tells whether what stands before token k is what something was done for.
func (g *segment) fellSo(k int) bool {
	if g.is(k, ",") {
		k++
	}
	return g.is(k, "so") && g.is(k+1, "we", "i", "they", "it") || g.is(k, "and") && g.is(k+1, "we", "i") && g.is(k+2, "had", "backed", "let", "loosened", "stopped")
}
