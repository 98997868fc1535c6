package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// readTemperatures reads how cold bypass was, how long that took, and what the child
// was warmed to, each with the place it was read at: "cooled over twenty two minutes
// to twenty degrees in the nose", "Eighteen, nasopharyngeal", "warmed to 36 bladder".
func (g *segment) readTemperatures() {
	lowest, warmed := fieldAt(schema.PerfusionLowestTemperature), fieldAt(schema.PerfusionRewarmedTo)
	if !g.inNote(lowest) {
		return
	}
	taken := map[*schema.Field]bool{}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(calling|aiming|denied|hearsay|formerly|weighed) != 0 || s.scope&intended != 0 && !g.is(s.from-1, "to", "said", "read", "reached", "showed") {
			continue
		}
		a, _ := g.amountAt(i)
		v, err := strconv.ParseFloat(a.decimal, 64)
		if err != nil || v < 12 || v > 38 || a.units != nil && !slices.Contains(a.units, "Cel") || g.is(a.to, "/", "x") || g.is(a.to, "by") && g.numberAt(a.to+1) {
			continue
		}
		siteSign, siteName := g.temperatureSite(a)
		word, how := g.temperatureTalk(a)
		f := lowest
		switch {
		case how == "" && v > 34.5 && (siteName != "" || slices.Contains(a.units, "Cel") && g.mentions("leave", "leaving", "left", "now", "temp", "temperature")) && !g.mentions("cooled", "cooling", "arrest", "drifted", "mattress", "blanket", "keep") && (a.units == nil || !g.mentions("bypass", "pump", "cpb")):
			f = fieldAt(schema.LeavingTemperature) // "leaves at thirty six four, nasopharyngeal"
			if s.scope&past != 0 || !g.inNote(f) {
				continue
			}
		case g.is(a.from-1, "warm") && v <= 36:
			how = "cold" // bypass was warm
		case how == "warm" && v >= 30:
			f = warmed
		case how == "cold" && (a.units != nil || siteName != "" || word), how == "" && v <= 34.5 && (siteName != "" && (a.units != nil || g.standsAlone2(a, siteSign)) || a.units != nil && g.mentions("bypass", "cpb", "pump", "ran") && !g.mentions("head", "up")):
			if v > 36 || g.lex.kind == schema.SupportOn && !g.mentions("bypass", "pump") {
				continue
			}
		default:
			continue
		}
		if taken[f] || how == "" && f == lowest && !(v <= 28 && a.units != nil && siteName != "") && g.mentions("arrest", "leaving", "now", "gas", "french", "line", "arrested", "dhca") {
			continue
		}
		taken[f] = true
		from, to := a.from, a.to
		if siteSign >= 0 {
			p := &g.signs[siteSign]
			from, to = min(from, p.from), max(to, p.to)
			place := fieldAt(schema.PerfusionLowestTemperatureSite)
			switch f.Path {
			case schema.LeavingTemperature:
				place = fieldAt(schema.LeavingTemperatureSite)
			case warmed.Path:
				place = fieldAt(schema.PerfusionRewarmedSite)
			}
			g.claimField(place, siteName, p.from, p.to, from, to)
			p.used, p.item = true, true
		}
		c := g.claimField(f, a.decimal, a.from, a.to, from, to)
		g.judge(c, a)
		g.readWhen(f, a)
		g.useAmount(a)
		for n := g.prevSign(a.from); n >= 0 && a.from-g.signs[n].to <= 6; n-- { // it has its number
			if p := &g.signs[n]; p.num == nil && !p.has(isItem) && slices.ContainsFunc(p.senses, func(x sense) bool { return x.kind == namesField && x.field == f }) && !slices.ContainsFunc(p.senses, func(x sense) bool { return x.kind == isValue }) {
				p.used = true
			}
		}
	}
	g.readCooling()
}

// measuredOnPump are other things of which the lowest is told.
var measuredOnPump = wordSet("hct crit haematocrit hematocrit lactate lac map mean pressure saturation sat sats nirs hb haemoglobin hemoglobin peep head")

// temperatureSite is the place named beside a temperature: "twenty in the nose",
// "nasopharyngeal eighteen", "thirty six by the bladder probe".
func (g *segment) temperatureSite(a amount) (int, string) {
	site := fieldAt(schema.PerfusionLowestTemperatureSite)
	near := func(n int) string {
		if n < 0 || n >= len(g.signs) || g.signs[n].scope&(denied|unreal&^past) != 0 {
			return ""
		}
		for k := g.signs[n].from; k < g.signs[n].to; k++ {
			for _, v := range site.Enum {
				if g.is(k, normal(v)) && (g.signs[n].has(isItem) || g.signs[n].has(isVariety) || g.valueOf(&g.signs[n], site) != "") {
					return v
				}
			}
		}
		return g.valueOf(&g.signs[n], site)
	}
	for n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from-a.to <= 4 && !g.crossesStop(a.to, g.signs[n].from); n++ {
		if v := near(n); v != "" {
			return n, v
		}
		if s := &g.signs[n]; s.num != nil || s.content() && !s.is(through) {
			break
		}
	}
	for n := g.prevSign(a.from); n >= 0 && a.from-g.signs[n].to <= 3 && !g.crossesStop(g.signs[n].to, a.from); n-- {
		if v := near(n); v != "" {
			return n, v
		}
		if s := &g.signs[n]; s.num != nil && !s.used {
			break
		}
	}
	return -1, ""
}

// temperatureTalk tells whether the words before an amount speak of cooling or of
// warming, and whether they say the very temperature.
func (g *segment) temperatureTalk(a amount) (word bool, how string) {
	ends := func(k int) bool { return k < 0 || k >= len(g.toks) || g.toks[k].kind == stop }
	if g.is(a.to, "lowest", "coldest", "nadir") && ends(a.from-1) && ends(a.to+1) {
		return true, "cold" // "Thirty four lowest."
	}
	for k := a.from - 1; k >= 0 && k >= a.from-10 && g.toks[k].kind != stop; k-- {
		switch w := g.toks[k].text; {
		case w == "cold" && g.is(k+1, "to") && k+2 == a.from:
			return true, "cold"
		case w == "lowest" && k+1 == a.from && ends(k-1) && (ends(a.to) || g.is(a.to, ",")):
			return true, "cold"
		case strings.HasPrefix(w, "rewarm"), w == "warmed", w == "warming", w == "warm" && g.is(k+1, "to", "back", "up"):
			return true, "warm"
		case w == "now", w == "leaving":
			return false, ""
		case w == "cooled", w == "cooling", w == "cool":
			near := g.is(a.from-1, "to", "at", "→", "was", "of", "reached", ":") || a.from-k <= 2 || a.units != nil
			return near, "cold"
		case measuredOnPump[w]:
			return false, ""
		case w == "nadir" && k > 0 && measuredOnPump[g.toks[k-1].text]:
			return false, ""
		case w == "coldest", w == "coolest", w == "nadir", w == "tmin", w == "drifted", w == "drifting", w == "drift", w == "hypothermia", w == "hypothermic":
			return true, "cold"
		case w == "lowest", w == "minimum", w == "min", w == "low":
			if g.is(k+1, "temp", "temperature", "core", "nasopharyngeal", "nasal", "bladder", "rectal", "esophageal", "np", "t") || k+1 == a.from || g.is(k+1, "was", ":") && k+2 == a.from {
				return g.is(k+1, "temp", "temperature", "core"), "cold"
			}
			return false, ""
		case w == "down" && g.is(k+1, "to") && k+2 == a.from:
			return false, "cold"
		}
		if n := g.at[k]; n >= 0 && (g.signs[n].num != nil && !g.signs[n].used && a.from-k > 6 || g.signs[n].content() && g.signs[n].has(isHead)) {
			return false, ""
		}
	}
	return false, ""
}

// standsAlone2 tells whether a temperature and its place stand together with nothing
// between them: "20 NP", "Lowest thirty, oesophageal".
func (g *segment) standsAlone2(a amount, site int) bool {
	p := &g.signs[site]
	if p.has(isItem) {
		return false
	}
	for k := a.to; k < p.from; k++ {
		if !g.is(k, ",", "in", "the", "at", "by", "on", "from") {
			return false
		}
	}
	for k := p.to; k < a.from; k++ {
		if !g.is(k, ",", "temp", "temperature", "of", "was", "at", ":") {
			return false
		}
	}
	return true
}

// readCooling reads how long cooling took: "cooled to eighteen over twenty five
// minutes", "Cooled 24 min", "cooling took twenty six minutes".
func (g *segment) readCooling() {
	f := fieldAt(schema.PerfusionCoolingMinutes)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		if v, err := strconv.ParseFloat(a.decimal, 64); !slices.Contains(a.units, "min") || err != nil || v > 120 {
			continue
		}
		cooled, at := false, a.from
		for k := a.from - 1; k >= 0 && k >= a.from-12 && !cooled; k-- {
			if g.is(k, "arrest", "clamp", "rewarmed", "warmed", "rewarming", "perfusion", "bypass", "icu") || g.toks[k].kind == stop {
				break
			}
			if cooled = g.is(k, "cooled", "cooling", "cool"); cooled {
				at = k
			}
		}
		if !cooled && (g.is(a.from-1, "took", "over") || g.is(a.from-2, "took", "over")) {
			for c := range g.claims { // "core temperature down to twenty, took eighteen minutes"
				x := &g.claims[c]
				if cooled = x.field.Path == schema.PerfusionLowestTemperature && x.to <= a.from && a.from-x.to <= 8 && !g.crossesStop(x.to, a.from); cooled {
					at = x.from
					break
				}
			}
		}
		if !cooled && g.is(a.to, "of", "to") && g.is(a.to+1, "cooling", "cool") {
			cooled = true
		}
		if !cooled {
			continue
		}
		g.claimField(f, a.decimal, a.from, a.to, at, a.to)
		g.useAmount(a)
	}
}
