package dictation

import (
	"slices"

	"fairlead/schema"
)

// partway are the words that say of a clip, or of the lumen under it, that it shuts
// only a part.
var partway = wordSet("partway halfway partial partially partly narrow narrowed narrowing half third twothirds quarter")

// readNarrowed reads a shunt that a clip only narrows: "one clip, halfway", "clipped,
// lumen down a third", "narrowed it with a clip", "a clip across part of the shunt".
func (g *segment) readNarrowed() {
	f := fieldAt(schema.SupplyState)
	if g.lex.kind == schema.SupportOn {
		f = fieldAt(schema.MechanicalShunt)
	}
	if !g.inNote(f) || !g.mentions("clip", "clipped") || g.mentions("removed", "off", "away") || g.anyPrefix("azyg", "collat", "duct", "lsvc", "band") {
		return
	}
	clip, part := -1, -1
	for k := range g.toks {
		switch {
		case g.is(k, "clip", "clipped") && clip < 0 && !g.unrealAt(k) && !g.is(k-1, "not", "no", "didnt") && !g.is(k-2, "not", "no"):
			clip = k
		case partway[g.toks[k].text] && !g.is(k-1, "not"), g.is(k, "part") && g.is(k+1, "way", "of", "the"), g.is(k, "half") && g.is(k+1, "way"):
			if part < 0 && (clip >= 0 && k-clip <= 12 || g.is(k, "narrowed", "narrow")) && !g.unrealAt(k) && !(g.is(k, "half", "third", "quarter") && g.is(k-2, "and") && g.is(k-1, "a")) {
				part = k
			}
		}
	}
	if clip < 0 || part < 0 || part-clip > 12 || clip-part > 6 {
		return
	}
	from, to := min(clip, part), max(clip, part)+1
	if g.anyWithin(to, to+5, "no", "sorry", "wait", "actually") {
		return
	}
	for i := range g.claims {
		if c := &g.claims[i]; c.field == f && c.group < 0 {
			c.gone = true // "found open, and we narrowed it with a clip"
		}
	}
	g.claimField(f, "narrowed", part, part+1, from, to)
	if done := fieldAt(schema.BetweenShuntDone); g.lex.kind == schema.ShuntRevision && !slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == done }) {
		g.claimField(done, "clipped", clip, clip+1, from, to)
	}
	for k := from; k < to; k++ {
		if n := g.at[k]; n >= 0 && (k == clip || k == part) {
			g.signs[n].used = true
		}
	}
}
