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

// readDeficit reads a base deficit, which is a base excess below nought.
func (g *segment) readDeficit() {
	f := fieldAt(schema.GasBaseExcess)
	if !g.inNote(f) || !g.mentions("deficit") {
		return
	}
	for k := range g.toks {
		if !g.is(k, "deficit") {
			continue
		}
		j := k + 1
		for g.is(j, "of", "is", "was", "at", "now", ":", "only") {
			j++
		}
		if !g.numberAt(j) || !g.plainTalk(int(g.at[j])) {
			continue
		}
		a, ok := g.amountAt(int(g.at[j]))
		if !ok || a.decimal == "0" || strings.HasPrefix(a.decimal, "-") {
			continue
		}
		a.decimal = "-" + a.decimal
		if v, _, ok := fits(f, a); ok {
			g.claimField(f, v, a.from, a.to, k, a.to)
			g.useAmount(a)
		}
	}
}

// readSlashed reads what follows the pH of a gas in the order machines print it: "7.36
// / 42 / 38 / 24 / -1" is carbon dioxide, oxygen, bicarbonate and base excess.
func (g *segment) readSlashed() {
	if !g.inNote(fieldAt(schema.GasPh)) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || !g.plainTalk(i) {
			continue
		}
		v, err := strconv.ParseFloat(s.num.decimal, 64)
		if err != nil || !strings.Contains(s.num.decimal, ".") || v < 6.8 || v > 7.8 {
			continue
		}
		var then []amount
		for k := s.to; g.is(k, "/") && len(then) < 4; k = then[len(then)-1].to {
			n := k + 1
			if g.is(n, "-") {
				n++
			}
			if !g.numberAt(n) {
				break
			}
			a, ok := g.amountAt(int(g.at[n]))
			if !ok || a.to <= n {
				break
			}
			if n > k+1 {
				a.decimal = "-" + a.decimal
			}
			then = append(then, a)
		}
		if len(then) < 3 {
			continue
		}
		for n, p := range []schema.Path{schema.GasCarbonDioxide, schema.GasOxygen, schema.GasBicarbonate, schema.GasBaseExcess}[:len(then)] {
			a := then[n]
			if x, err := strconv.ParseFloat(a.decimal, 64); err == nil && n < 2 && a.units == nil && x < 15 {
				a.units = []string{"kPa"} // nobody has so little in mm[Hg]
			}
			if x, _, ok := fits(fieldAt(p), a); ok {
				c := g.claimField(fieldAt(p), x, a.from, a.to, s.from, a.to)
				c.sure, c.note = Check, "by its place in the gas"
				g.useAmount(a)
			}
		}
		return
	}
}
