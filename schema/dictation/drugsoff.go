package dictation

import (
	"slices"
	"strconv"
	"strings"
)

// offByNow tells whether it is told of the drug at sign i, however far on, that it is
// off: "the vasopressin that was running overnight is off", "vaso, well, vaso's been
// stopped". Nothing else may be named between, and no number.
func (g *segment) offByNow(i, end int) bool {
	for k := g.signs[i].to; k < min(end, g.signs[i].to+10) && g.toks[k].kind != stop; k++ {
		if g.denyingAt(k) && !(g.is(k, "no") && g.is(k+1, ",")) || g.is(k, "if", "until", "once", "when", "before") {
			return false
		}
		if g.is(k, "off", "stopped", "discontinued") && !g.is(k+1, "the", "bypass", "pump") && !g.comesOff(k) {
			j := k - 1
			for g.is(j, "now", "already", "since", "just", "all", "turned", "switched", "all") {
				j--
			}
			if g.is(j, "is", "been", "its", "was", "are") || j >= 0 && strings.HasSuffix(g.words(j, j+1), "'s") {
				return true
			}
		}
		if n := g.at[k]; n >= 0 && (g.signs[n].num != nil || g.signs[n].has(isItem) || !g.rowWord(&g.signs[n], running) && slices.ContainsFunc(g.signs[n].senses, func(x sense) bool {
			return x.field != nil && !whereRun[x.field.Section]
		})) {
			return false
		}
	}
	return false
}

// comesOff tells whether the "off" at token k is of bypass: "point one to get off".
func (g *segment) comesOff(k int) bool {
	return g.is(k, "off") && g.is(k-1, "get", "come", "getting", "coming", "wean", "weaning") && g.is(k-2, "to", "for", "on", "us", "her", "him")
}

// whereRun are the sections whose words only say where or when a drug ran: "on pump",
// "in theatre".
var whereRun = wordSet("support blood operation")

// loadOf tells whether sign i is followed by more units by the kilo than any infusion
// runs in an hour, and no hour is said: "heparin, fifty units per kilo".
func (g *segment) loadOf(i int) bool {
	j := g.nextSign(g.signs[i].to)
	if j >= len(g.signs) || g.signs[j].num == nil || g.signs[j].from-g.signs[i].to > 3 || g.crossesStop(g.signs[i].to, g.signs[j].from) || g.signs[i].scope&denied != 0 || g.mentions("infusion", "running", "hourly") {
		return false
	}
	a, _ := g.amountAt(j)
	v, err := strconv.ParseFloat(a.decimal, 64)
	return err == nil && v >= 40 && slices.Contains(a.units, "[iU]/kg") && !g.wholeUnit(a)
}
