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
