package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// sources are who or what gives a time: two of them with a number each leave the
// choice to a person.
var sources = wordSet("chart sheet log notes note clock record perfusionist perfusion anaesthetist anaesthetic anaes pump screen mine hers his")

// settledWords tell that one of two sources was chosen.
var settledWords = wordSet("right correct use take go trust believe wrong misread wait sorry no actually wins stands")

// readTwoSources reads a time that two records give differently: "clamp: my clock 61,
// pump sheet 68, could not reconcile".
func (g *segment) readTwoSources() {
	if !g.inNote(fieldAt(schema.SupportRuns)) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		total := totalOf[g.listNamed(s)]
		if total == "" || s.used || s.scope&denied != 0 {
			continue
		}
		var found []amount
		told, last, between := 0, s.to, false
		for k := s.to; k < len(g.toks) && len(found) < 3; k++ {
			if g.toks[k].kind == stop || settledWords[g.toks[k].text] && !g.numberAt(k) {
				if settledWords[g.toks[k].text] {
					found = nil
				}
				break
			}
			if sources[g.toks[k].text] {
				told++
				between = between || len(found) == 1 && g.is(k, "sheet", "chart", "log", "record", "clock", "perfusionist", normal("anaesthetist"))
			}
			n := g.at[k]
			if n < 0 || g.signs[n].from != k {
				continue
			}
			p := &g.signs[n]
			if l := g.listNamed(p); l != "" && totalOf[l] != total && !sources[g.toks[k].text] || k-last > 9 {
				break
			}
			if p.num == nil || p.used {
				continue
			}
			a, _ := g.amountAt(int(n))
			if _, err := strconv.Atoi(a.decimal); err != nil || a.units != nil && !slices.Contains(a.units, "min") || p.num.surely {
				found = nil
				break
			}
			found = append(found, a)
			k, last = a.to-1, a.to
		}
		if len(found) != 2 || told < 2 && !between || found[0].decimal == found[1].decimal {
			continue
		}
		for _, a := range found {
			c := g.claimField(fieldAt(total), a.decimal, a.from, a.to, s.from, a.to)
			c.leaving = false
			g.useAmount(a)
		}
		s.used = true
		for n := i + 1; n < len(g.signs) && g.signs[n].from < found[1].to+3; n++ {
			if g.listNamed(&g.signs[n]) != "" {
				g.signs[n].used = true // "the pump sheet"
			}
		}
	}
}

// doors are the words that, right before a time of day in a list of such times, say
// where the child or the knife was.
var doors = map[string]schema.Path{
	"in": schema.OperationIntoTheatre, "theater": schema.OperationIntoTheatre, "room": schema.OperationIntoTheatre,
	"kt": schema.OperationStarted, "kts": schema.OperationStarted, "knife": schema.OperationStarted, "incision": schema.OperationStarted, "skin": schema.OperationStarted,
	"closed": schema.OperationClosed, "covered": schema.OperationClosed, "closure": schema.OperationClosed,
	"out": schema.OperationLeftTheatre, "left": schema.OperationLeftTheatre, "leave": schema.OperationLeftTheatre,
}

// readDoors reads the times of the operation as a list: "In 08:05, KTS 09:02, closed
// 15:40, out 16:10."
func (g *segment) readDoors() {
	type door struct {
		k int
		a amount
	}
	var found []door
	for k := 0; k+1 < len(g.toks); k++ {
		if doors[g.toks[k].text] == "" || g.toks[k].kind != word {
			continue
		}
		j := k + 1
		for g.is(j, "at", ":", "theater", "skin") {
			j++
		}
		if !g.numberAt(j) || !g.plainTalk(int(g.at[j])) || g.signs[g.at[j]].from != j {
			continue
		}
		a, _ := g.amountAt(int(g.at[j]))
		if a.clock == "" || a.units != nil || !g.signs[a.sign].num.surely && !(g.signs[a.sign].num.figures && len(g.words(a.from, a.to)) == 4) && len(a.decimal) < 3 {
			continue
		}
		found = append(found, door{k, a})
	}
	if len(found) == 1 && found[0].k == 0 && g.signs[found[0].a.sign].num.figures && (g.is(0, "out", "left", "leave", "in", "covered", "closed")) && (found[0].a.to >= len(g.toks) || g.toks[found[0].a.to].kind == stop || g.is(found[0].a.to, ",", ":")) {
		d := found[0] // "out 17:05: sinus 146"
		g.claimField(fieldAt(doors[g.toks[0].text]), d.a.clock, d.a.from, d.a.to, 0, d.a.to)
		g.useAmount(d.a)
		return
	}
	if len(found) < 2 || !slices.ContainsFunc(found, func(d door) bool { return doors[g.toks[d.k].text] == schema.OperationStarted }) {
		return
	}
	for _, d := range found {
		path := doors[g.toks[d.k].text]
		if path == schema.OperationIntoTheatre && (g.is(d.k-1, "of", "left", "leaving") || g.is(d.k-2, "left", "leaving")) {
			path = schema.OperationLeftTheatre // "out of theatre at"
		}
		g.claimField(fieldAt(path), d.a.clock, d.a.from, d.a.to, d.k, d.a.to)
		g.useAmount(d.a)
		for j := d.k; j < d.a.from; j++ {
			if n := g.at[j]; n >= 0 {
				g.signs[n].used = true
			}
		}
	}
}
