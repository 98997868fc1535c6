package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// readPeakOverEnd reads the two pressures of a ventilator said as one: "pressures
// twenty one over five".
func (g *segment) readPeakOverEnd() {
	peak, end := fieldAt(schema.VentilationPeakPressure), fieldAt(schema.VentilationEndPressure)
	if !g.inNote(peak) || !g.ventTalk() && !g.mentions("peak", "fio2", "nitric", "rate") {
		return
	}
	for _, a := range g.plainAmounts() {
		if !g.is(a.to, "over", "/") || !g.numberAt(a.to+1) || !g.plainTalk(int(g.at[a.to+1])) {
			continue
		}
		b, _ := g.amountAt(int(g.at[a.to+1]))
		v, _, ok := fits(peak, a)
		w, _, ok2 := fits(end, b)
		if !ok || !ok2 || !usual(peak, g.lex.kind, v) || !usual(end, g.lex.kind, w) {
			continue
		}
		g.claimField(peak, v, a.from, a.to, a.from, b.to)
		g.claimField(end, w, b.from, b.to, a.from, b.to)
		g.useAmount(a)
		g.useAmount(b)
		return
	}
}

// partedOff tells whether an amount stands between commas or stops with nothing beside.
func (g *segment) partedOff(a amount) bool {
	return (a.from == 0 || g.toks[a.from-1].kind == stop || g.is(a.from-1, ",")) && (a.to >= len(g.toks) || g.toks[a.to].kind == stop || g.is(a.to, ","))
}

// readTidal reads the volume of a breath where only the mode says what it is: "volume
// control, ninety mils, twenty two a minute".
func (g *segment) readTidal() {
	f := fieldAt(schema.VentilationTidalVolume)
	if !g.inNote(f) || !(g.mentions("control") && g.mentions("volume")) && !g.mentions("prvc", "simv") || g.mentions("tidal", "vt", "tv", "urine", "drain") {
		return
	}
	for i := range g.signs {
		if g.signs[i].num == nil || !g.plainTalk(i) {
			continue
		}
		a, _ := g.amountAt(i)
		if v, _, ok := fits(f, a); ok && slices.Contains(a.units, "mL") && usual(f, g.lex.kind, v) {
			g.judge(g.claimField(f, v, a.from, a.to, a.from, a.to), a)
			g.useAmount(a)
			return
		}
	}
}

// ventTalk tells whether the segment speaks of the ventilator.
func (g *segment) ventTalk() bool {
	return g.mentions("vent", "ventilator", "ventilated", "ventilation", "pip", "peep", "inspiratory", "pc", "simv", "breath", "tidal") || g.mentions("control") && g.mentions("pressure", "volume")
}

// readOxygenFlow reads litres of oxygen or gas: "high flow at ten litres", "two litres
// nasal".
func (g *segment) readOxygenFlow() {
	f := fieldAt(schema.VentilationOxygenFlow)
	if !g.inNote(f) || !g.mentions("high", "nasal", "prong", "hfnc", "optiflow", "vapotherm", "spec", "mask", "extubated", "ventilating", "breathing") || g.mentions("sweep") {
		return
	}
	for _, a := range g.plainAmounts() {
		if !slices.Contains(a.units, "L/min") && !slices.Contains(a.units, "L") {
			continue
		}
		if v, _, ok := fits(f, amount{sign: a.sign, decimal: a.decimal}); ok {
			g.judge(g.claimField(f, v, a.from, a.to, a.from, a.to), a)
			g.useAmount(a)
			return
		}
	}
}

// readOxygen reads "in forty per cent", "on room air".
func (g *segment) readOxygen() {
	f := fieldAt(schema.LeavingInspiredOxygen)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		if g.is(s.from-1, ",") && slices.Contains(a.units, "%") && i > 0 && (g.signs[i-1].num != nil || g.signs[i-1].has(isUnit)) && g.saturationBefore(i) && (a.to >= len(g.toks) || g.toks[a.to].kind == stop || g.is(a.to, ",")) {
			if w, _, ok := fits(f, amount{sign: a.sign, decimal: a.decimal, units: []string{"%"}}); ok { // "Sats ninety two, forty percent."
				g.claimField(f, w, a.from, a.to, a.from, a.to)
				g.useAmount(a)
				continue
			}
		}
		if slices.Contains(a.units, "%") && g.lex.kind != schema.SupportOn && g.partedOff(a) && (a.from == 0 && a.to+1 >= len(g.toks) || (g.ventTalk() || g.answered(fieldAt(schema.VentilationPeakPressure))) && !g.mentions("sweep")) {
			if w, _, ok := fits(f, amount{sign: a.sign, decimal: a.decimal, units: []string{"%"}}); ok && usual(f, g.lex.kind, w) { // "Fifty percent.", "twenty two over five, fifty percent"
				c := g.claimField(f, w, a.from, a.to, a.from, a.to)
				c.sure, c.note = Check, "what it is a part of was not said"
				g.useAmount(a)
				continue
			}
		}
		if a.units == nil && strings.HasPrefix(a.decimal, "0.") && plausible(f, a.decimal) && g.is(a.to, "oxygen", "o2") {
			g.claimField(f, a.decimal, a.from, a.to, a.from, a.to+1) // "point four five oxygen"
			g.useAmount(a)
			continue
		}
		if v, err := strconv.Atoi(a.decimal); err == nil && a.units == nil && v >= 21 && v <= 100 && g.is(s.from-1, "oxygen") && !g.is(s.from-2, "inspired", "of") && !g.mentions("ph", "co2", "pco2", "gas", "abg", "lactate", "bicarb", "base") {
			c := g.claimField(f, shift(a.decimal, -2), a.from, a.to, s.from-1, a.to) // "Oxygen sixty."
			c.sure, c.note = Check, "the unit was not said"
			g.useAmount(a)
			continue
		}
		flow := g.is(s.from-1, "and", ",", "at") && slices.Contains(a.units, "%") && g.mentions("flow", "liter", "prong", "nasal", "cannula", "vent", "ventilator", "peep", "inspiratory", "pip") // "ten litres and thirty percent"
		if !g.is(s.from-1, "in", "on") && !flow && !(slices.Contains(a.units, "%") && g.is(a.to, "oxygen", "o2")) {
			continue
		}
		if a.units == nil && strings.HasPrefix(a.decimal, "0.") && plausible(f, a.decimal) && g.mentions("sat", "saturation", "spo", "sao") && g.is(s.from-1, "in", "on") && g.drugBeforeToken(s.from) < 0 {
			g.claimField(f, a.decimal, a.from, a.to, s.from-1, a.to) // "91 in 0.5"
			g.useAmount(a)
			continue
		}
		if v, err := strconv.ParseFloat(a.decimal, 64); a.units == nil && err == nil && v >= 21 && v <= 100 && g.is(s.from-1, "in", "on") && g.numberBefore(s.from-1) && g.mentions("sat", "saturation", "spo2") && g.saturationBefore(i) && (a.to >= len(g.toks) || g.toks[a.to].kind == stop || g.is(a.to, ",")) {
			if w, _, ok := fits(f, amount{sign: a.sign, decimal: a.decimal, units: []string{"%"}}); ok { // "sats eighty five on thirty"
				c := g.claimField(f, w, a.from, a.to, s.from-1, a.to)
				c.sure, c.note = Check, "the unit was not said"
				g.useAmount(a)
				continue
			}
		}
		if !slices.Contains(a.units, "%") && !(g.is(a.to, "oxygen", "o2") && a.units == nil) {
			continue
		}
		if v, _, ok := fits(f, amount{sign: a.sign, decimal: a.decimal, units: []string{"%"}}); ok {
			to := a.to
			if g.is(to, "oxygen", "o2") {
				to++
			}
			if x := fieldAt(schema.MechanicalSweepOxygen); g.mentions("sweep") && g.inNote(x) {
				g.claimField(x, v, a.from, a.to, s.from-1, to)
				g.useAmount(a)
				continue
			}
			g.claimField(f, v, a.from, a.to, s.from-1, to)
			g.useAmount(a)
		}
	}
	flow := fieldAt(schema.VentilationOxygenFlow)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 || !g.is(s.from-1, "on", "with", "hfnc", "optiflow", "prong", "cannula", "flow", "at", "of") {
			continue
		}
		a, _ := g.amountAt(i)
		if !slices.Contains(a.units, "L") && !slices.Contains(a.units, "L/min") || !g.mentions("oxygen", "nasal", "cannula", "optiflow", "prong", "hfnc", "extubated", "o2") || g.mentions("ecmo", "sweep", "pump") {
			continue
		}
		if v, err := strconv.ParseFloat(a.decimal, 64); err != nil || v > 60 || !plausible(flow, a.decimal) {
			continue
		}
		g.claimField(flow, a.decimal, a.from, a.to, s.from-1, a.to)
		g.useAmount(a)
	}
	for k := 2; k < len(g.toks); k++ { // "sats eighty six, air"
		if g.is(k, "air") && (g.is(k-1, ",") && g.numberAt(k-2) || g.numberAt(k-1)) && (k+1 >= len(g.toks) || g.toks[k+1].kind == stop || g.is(k+1, ",")) && g.mentions("sat", "saturation", "spo", "spo2") && !g.unrealAt(k) {
			g.claimField(f, "0.21", k, k+1, k, k+1)
		}
	}
	for k := 0; k+1 < len(g.toks); k++ {
		if g.is(k, "in", "on") && (g.is(k+1, "air") || g.is(k+1, "room") && g.is(k+2, "air")) {
			to := k + 2
			if g.is(k+1, "room") {
				to++
			}
			if n := g.at[k+1]; n >= 0 && g.signs[n].scope&(unreal|denied) != 0 || g.at[k] >= 0 && g.signs[g.at[k]].scope&(unreal|denied) != 0 {
				continue
			}
			g.claimField(f, "0.21", k+1, to, k, to)
		}
	}
}
