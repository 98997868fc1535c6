package dictation

import (
	"slices"
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

// readSampled reads when the gas was taken, by the time beside one of its values:
// "lactate 4.6 at 13:35". The time beside its name is readGasTime's.
func (g *segment) readSampled() {
	f := fieldAt(schema.GasSampled)
	if !g.inNote(f) || g.answered(f) || g.mentions("bypass", "pump", "first") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		n := g.prevSign(s.from)
		if s.num == nil || s.num.clock == "" || !s.num.surely || !g.plainTalk(i) || n <= 0 || !g.is(s.from-1, "at", "@") ||
			g.signs[n].num == nil || g.signs[n].to != s.from-1 || s.to >= len(g.toks) || g.signs[n].from-g.signs[n-1].to > 1 {
			continue
		}
		if slices.ContainsFunc(g.signs[n-1].senses, func(x sense) bool { return x.kind == namesField && x.field.Section == "gas" }) {
			g.claimField(f, s.num.clock, s.from, s.to, s.from-1, s.to)
			s.used = true
			return
		}
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

// readGasOxygen reads the "O2" of a gas, which elsewhere is what the child breathes: "CO2
// 41, O2 39".
func (g *segment) readGasOxygen() {
	f := fieldAt(schema.GasOxygen)
	if !g.inNote(f) || !g.mentions("ph", "co2", "bicarb", "bicarbonate", "base", "pco2") {
		return
	}
	for k := range g.toks {
		if !g.is(k, "o2", "oxygen") && !(g.is(k, "two", "2") && g.is(k-1, "o")) || !g.numberAt(k+1) || !g.plainTalk(int(g.at[k+1])) || g.is(k-1, "inspired", "in", "on", "p") || g.is(k-2, "p", "i", "in", "on", "a") {
			continue
		}
		a, _ := g.amountAt(int(g.at[k+1]))
		if v, _, ok := fits(f, a); ok && (a.units == nil || slices.Contains(a.units, "mm[Hg]") || slices.Contains(a.units, "kPa")) {
			g.judge(g.claimField(f, v, a.from, a.to, k, a.to), a)
			g.useAmount(a)
			return
		}
	}
}

// readSlashed reads what follows the pH of a gas in the order machines print it: "7.36
// / 42 / 38 / 24 / -1" is carbon dioxide, oxygen, bicarbonate and base excess. Where a
// gas is spoken of, commas part them too: "gas seven thirty four, forty four, thirty eight".
func (g *segment) readSlashed() {
	ph := fieldAt(schema.GasPh)
	if !g.inNote(ph) {
		return
	}
	spoken := g.mentions("gas", "abg")
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || !g.plainTalk(i) {
			continue
		}
		own := s.num.decimal
		if spoken && len(own) == 3 && !strings.Contains(own, ".") && !g.mentions("ph") {
			own = shift(own, -2)
		}
		v, err := strconv.ParseFloat(own, 64)
		if err != nil || !strings.Contains(own, ".") || v < 6.8 || v > 7.8 {
			continue
		}
		var then []amount
		for k := s.to; (g.is(k, "/") || spoken && g.is(k, ",")) && len(then) < 4; k = then[len(then)-1].to {
			n := k + 1
			if g.is(n, "-") && !g.numberAt(n) {
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
		if len(then) < 3 && !(spoken && len(then) == 2) {
			continue
		}
		if own != s.num.decimal {
			a, _ := g.amountAt(i)
			c := g.claimField(ph, own, a.from, a.to, s.from, a.to)
			c.sure, c.note = Check, "by its place in the gas"
			g.useAmount(a)
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
