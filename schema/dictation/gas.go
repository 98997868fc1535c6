package dictation

import (
	"strconv"
	"strings"

	"fairlead/schema"
)

// readBarePh reads the pH that opens a gas without its name: "Gas 15:50: 7.29 / pCO2
// 49". Nothing else in a gas is near seven with two decimals.
func (g *segment) readBarePh() {
	f := fieldAt(schema.GasPh)
	if !g.inNote(f) || !g.mentions("gas", "abg", "vbg", "pco2", "co2", "lactate", "lac") || g.mentions("ph") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || !g.plainTalk(i) {
			continue
		}
		_, decimals, _ := strings.Cut(s.num.decimal, ".")
		v, err := strconv.ParseFloat(s.num.decimal, 64)
		if err != nil || len(decimals) < 2 || v < 6.8 || v > 7.8 {
			continue
		}
		if n := g.prevSign(s.from); n >= 0 && g.signs[n].to == s.from && g.signs[n].content() && !g.within(&g.signs[n], "gas", "abg", "vbg") {
			continue // it has a name
		}
		a, _ := g.amountAt(i)
		c := g.claimField(f, s.num.decimal, s.from, s.to, s.from, s.to)
		c.sure, c.note = Check, "no word said that this is the pH"
		g.useAmount(a)
		return
	}
}
