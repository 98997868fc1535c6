package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// hurtWords tell that something was injured; openedWords do so where they are said of
// the way into the chest.
var (
	hurtWords   = wordSet("injury injured tore torn tear nicked nick lacerated laceration breached")
	openedWords = wordSet("entered opened hit cut holed hole into")
)

// readInjuries reads what was hurt on the way in, and what it cost.
func (g *segment) readInjuries() {
	list := schema.ApproachInjuries
	if !g.inNote(fieldAt(list)) {
		return
	}
	structure, loss, entry := rowField(list, "structure"), rowField(list, "loss"), fieldAt(schema.ApproachEntry)
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, structure)
		if v == "" || v == "other" || v == "none-near" || s.item || !g.plainTalk(i) {
			continue
		}
		word := -1
		for k := max(0, s.from-5); k < min(len(g.toks), s.to+4); k++ {
			w := g.toks[k].text
			if (hurtWords[w] || openedWords[w] && g.onTheWayIn(k, s) && !(w == "into" && !g.is(k-1, "got", "went", "straight", "saw"))) && !g.unrealAt(k) && (g.at[k] < 0 || g.signs[g.at[k]].scope&denied == 0) {
				word = k
			}
		}
		if word < 0 {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		g.claimIn(gi, structure, v, s.from, s.to, min(word, s.from), max(word+1, s.to))
		s.used = true
		for j := g.nextSign(s.to); j < len(g.signs) && g.signs[j].from-s.to <= 14; j++ {
			if g.signs[j].num == nil || !g.plainTalk(j) {
				continue
			}
			a, _ := g.amountAt(j)
			lost := g.oneIn(a.from-4, a.to+3, "lost", "loss", "cost", "bled")
			if g.crossesStop(s.to, a.from) && !lost {
				break
			}
			if slices.Contains(a.units, "mL") && !slices.Contains(a.units, "mL/kg") || a.units == nil && lost && len(a.decimal) > 1 {
				g.claimIn(gi, loss, a.decimal, a.from, a.to, s.from, a.to)
				g.useAmount(a)
				break
			}
		}
		if !slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == entry }) {
			g.claimField(entry, "injury", word, word+1, min(word, s.from), max(word+1, s.to))
		}
		return
	}
}

// onTheWayIn tells whether the word at token k, said of sign s, is told of the way into
// the chest: "with the saw the innominate vein was opened".
func (g *segment) onTheWayIn(k int, s *sign) bool {
	from, to := max(0, min(k, s.from)-8), max(k, s.to)+7
	for j := from; j < to && j < len(g.toks); j++ {
		if g.is(j, "bypass", "clamp", "cannulated", "septum", "patched") {
			return false
		}
	}
	for j := from; j < to && j < len(g.toks); j++ {
		if g.is(j, "saw", "entry", "reentry", "reopening") || g.is(j, "way", "going", "getting", "coming") && g.is(j+1, "in") {
			return true
		}
	}
	return false
}

// tellsLoss tells whether a sentence tells what an injury before it cost: "We lost about
// fifty.", "thirty five millilitres were lost and one stitch held it".
func tellsLoss(before, rest string) bool {
	words := words(rest, 7)
	if !slices.Contains(words, "lost") && !slices.Contains(words, "loss") || slices.Contains(words, "blood") || slices.Contains(words, "total") {
		return false
	}
	return slices.ContainsFunc(words, func(w string) bool { _, _, ok := Number(w); return ok }) && slices.ContainsFunc(tokenize(before, 0), func(t token) bool { return hurtWords[t.text] || t.text == "opened" || t.text == "entered" })
}

// words are the first n words of a text in their normal form.
func words(text string, n int) []string {
	var out []string
	for _, t := range tokenize(text[:min(len(text), 12*n)], 0) {
		if t.kind == stop || len(out) == n {
			break
		}
		if t.kind != mark {
			out = append(out, t.text)
		}
	}
	return out
}

// readSternotomy reads "first time sternotomy", "redo", "third sternotomy".
func (g *segment) readSternotomy() {
	f := fieldAt(schema.ApproachSternotomyNumber)
	if f == nil || !g.inNote(f) {
		return
	}
	for k := range g.toks {
		if g.is(k, "redo") && g.is(k+1, "x") && g.numberAt(k+2) && !g.unrealAt(k) {
			if smallCount(g.signs[g.at[k+2]].num.decimal) == 1 { // "redo x1" is no first sternotomy
				g.signs[g.at[k+2]].used = true
				continue
			}
		}
		noun := g.is(k, "sternotomy", "resternotomy") || g.is(k, "sternum") && ordinals[g.wordAt(k-1)] > 0 && g.is(k+1, "entry", "opening", "time") || g.is(k, "chest", "sternum") && g.is(k-1, "time") || g.is(k, "time") && g.timeIn(k) || g.is(k, "stern", "sterno", "st") && g.is(k-1, "redo") || g.is(k, "stern") && (ordinals[g.wordAt(k-1)] > 0 || g.is(k-1, "nd", "rd", "th"))
		n, from := 0, k
		if g.is(k, "chest", "sternum", "bone") && !noun { // "the third time through that sternum", "second opening of the sternum"
			for j := k - 1; j > 0 && j >= k-4; j-- {
				if noun = g.is(j, "time", "opening", "entry", "reopening") && ordinals[g.wordAt(j-1)] > 0; noun {
					n, from = ordinals[g.wordAt(j-1)], j-1
					break
				}
			}
		}
		if !noun || g.unrealAt(k) {
			continue
		}
		for j := k - 1; j >= 0 && j >= k-4; j-- {
			switch g.toks[j].text {
			case "first", "primary", "1st":
				n, from = n+1, j
			case "second", "2nd":
				n, from = n+2, j
			case "third", "3rd":
				n, from = n+3, j
			case "fourth", "4th":
				n, from = n+4, j
			case "fifth":
				n, from = n+5, j
			case "redo", "repeat":
				n, from = n+1, j
				if !(j > 0 && g.is(j-1, "first", "second", "third", "fourth", "time")) {
					n++
				}
				if j > 0 && g.is(j-1, "time") { // "second time redo": the second sternotomy
					n--
				}
			case "nd", "rd", "th", "st":
				if c := smallCountAt(g, j-1); c > 0 {
					n, from = n+c, j-1
				}
				j = -1
			case "time", "median", "do", "re", "midline", "a", "his", "her", "(", ")":
			default:
				j = -1
			}
			if j < 0 {
				break
			}
		}
		to := k + 1
		if j := k + 1; n == 0 || g.mentions("redo") { // "redo sternotomy, his second", "sternotomy number three"
			counted := g.is(k-1, "of") && g.is(k-2, "number") // "the number of sternotomies is three"
			for g.is(j, ",", "(", "his", "her", "the", "number", "no", "a", "was", "is", "today", "with", "this", "now", "it", "its") {
				counted = counted || g.is(j, "number", "no")
				j++
			}
			if c := smallCountAt(g, j); c > 0 && g.is(j+1, "nd", "rd", "th") && !g.is(j+2, "redo") {
				n, to = c, j+2 // "redo sternotomy, 3rd"
			} else if c := ordinals[g.wordAt(j)]; c > 0 && !g.is(j+1, "attempt", "rib", "space", "space") {
				n, to = c, j+1
			} else if g.numberAt(j) && (counted || j == k+1 && g.toks[j].kind == figure && (j+1 == len(g.toks) || g.toks[j+1].kind == stop || g.is(j+1, ",", "("))) {
				if c := smallCount(g.signs[g.at[j]].num.decimal); c > 0 {
					n, to = c, j+1
				}
			}
		}
		if m, at := g.ordinalInstead(k + 1); m > 0 && n > 0 {
			n, to = m, at+1
		}
		if n > 0 && n < 10 {
			g.claimField(f, strconv.Itoa(n), from, to, from, to)
			g.claimIncision(k, n, from, to)
		}
	}
}

// claimIncision takes a sternotomy for the first, or for one reopened, by its number.
func (g *segment) claimIncision(k, n, from, to int) {
	f := fieldAt(schema.ApproachIncision)
	s := g.at[k]
	if s < 0 || g.signs[s].used || g.valueOf(&g.signs[s], f) == "" || g.answered(f) {
		return
	}
	v := "reopened-sternotomy"
	if n == 1 {
		v = "median-sternotomy"
	}
	g.claimField(f, v, from, to, from, to)
	g.signs[s].used = true
}

// timeIn tells whether "time" at token k counts how often the chest was opened: "Second
// time in.", "her third time through it".
func (g *segment) timeIn(k int) bool {
	if ordinals[g.wordAt(k-1)] == 0 || earlierThan[g.lex.kind] == nil && g.lex.kind != schema.Takedown {
		return false
	}
	if g.is(k+1, "in") {
		return k+2 >= len(g.toks) || g.toks[k+2].kind != word || g.is(k+2, "no", "without", "and", "with", "entry")
	}
	if g.is(k-2, "the") && g.is(k-3, "for") && (g.mentions("scar", "sternum", "sternotomy") || g.mentions("opened", "reopened", "opening") && !g.mentions("bypass", "pump", "fenestration")) {
		return true // "through the same scar for the third time"
	}
	if k == 1 && (k+1 == len(g.toks) || g.toks[k+1].kind == stop) && g.ctx.opening <= openingOf {
		return true // "In clean. Third time."
	}
	return g.is(k+1, "through") && g.mentions("sternum", "sternotomy", "chest", "bone", "scar")
}

// regions are the words for where vessels lie, in the lists of the approach.
var regions = map[string]string{"groin": "groin", "femoral": "groin", "neck": "neck", "carotid": "neck", "jugular": "neck", "axilla": "axilla", "axillary": "axilla"}

// beforeEntry tells whether what is said around token k is said to have come before the
// chest was opened: "before the saw", "pre-saw", "beforehand".
func (g *segment) beforeEntry(k, reach int) bool {
	for j := max(0, k-reach); j < len(g.toks) && j < k+reach && (j < k || g.toks[j].kind != stop); j++ {
		switch {
		case g.is(j, "beforehand", "presaw"):
			return true
		case g.is(j, "pre", "before"):
			for m := j + 1; m < len(g.toks) && m < j+7 && g.toks[m].kind != stop; m++ {
				if g.is(m, "saw", "sternum", "sternotomy", "entry", "reentry", "chest", "bone", "reopening", "opening", "opened") {
					return true
				}
			}
		}
	}
	return false
}

// readVesselsReady reads which vessels were exposed, or cannulated, and whether the
// child was on bypass before the chest was opened: "both groins were exposed, none
// cannulated", "we went on through the right groin before the saw".
func (g *segment) readVesselsReady() {
	exposed, cannulated := fieldAt(schema.ApproachVesselsExposed), fieldAt(schema.ApproachVesselsCannulated)
	if !g.inNote(exposed) {
		return
	}
	g.readBypassFirst()
	any := false
	for k := range g.toks {
		region := regions[g.toks[k].text]
		if region == "" || g.unrealAt(k) && g.signs[g.at[k]].scope&(denied|intended|calling) != 0 {
			continue
		}
		first := g.beforeEntry(k, 16)
		f, verb := exposed, -1
		for j := max(0, k-6); j < len(g.toks) && j < k+8; j++ {
			if g.crossesStop(min(j, k), max(j, k)) {
				continue
			}
			switch {
			case g.is(j, "exposed", "exposing", "dissected") && (verb < 0 || f == exposed):
				verb, f = j, exposed
			case g.is(j, "cannulated", "cannulating") && first && (verb < 0 || j-k < 4 && j > k) && !g.deniedNear(j), g.is(j, "through", "via", "from") && j < k && first && g.pumpBefore(j):
				verb, f = j, cannulated
			}
		}
		if verb < 0 {
			continue
		}
		from, to := min(verb, k), max(verb+1, k+1)
		both := g.pluralAt(k) || g.is(k-1, "both")
		sides := []string{}
		for j := max(0, k-4); j <= min(k+2, len(g.toks)-1); j++ {
			if j < k && regions[g.toks[j].text] != "" {
				sides, both = nil, false
			} else if g.is(j, "right", "left") && !slices.Contains(sides, g.toks[j].text) && (j < k || len(sides) == 0) {
				sides = append(sides, g.toks[j].text)
			} else if g.is(j, "both") {
				both = true
			}
		}
		if len(sides) == 0 && both {
			sides = []string{"right", "left"}
		}
		for _, w := range sides {
			if v := w + "-" + region; !slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f && c.value == v }) {
				g.claimField(f, v, k, k+1, from, to)
			}
			any = true
		}
		for j := from; j < to && len(sides) > 0 && f == exposed; j++ {
			if n := g.at[j]; n >= 0 {
				g.signs[n].used = true
			}
		}
	}
	for j := range g.toks { // "but nothing was cannulated there"
		if any && !g.answered(cannulated) && g.is(j, "cannulated", "cannulate", "cannulating", "cannulation") && g.deniedNear(j) {
			g.claimField(cannulated, "", j, j+1, max(0, j-2), j+2).stated = schema.StatedNone
			return
		}
	}
}

// deniedNear tells whether the verb at token k is denied by a word beside it: "nothing
// was cannulated", "none cannulated", "cannulated nothing there".
func (g *segment) deniedNear(k int) bool {
	for j := max(0, k-5); j < k+3 && j < len(g.toks); j++ {
		if g.toks[j].kind == stop && j < k {
			continue
		}
		if g.denyingAt(j) && !(j > k && g.is(j, "no", "without", "not")) {
			return true
		}
	}
	return false
}

// pumpBefore tells whether bypass was gone on to in the words before token k: "we went
// on through", "bypass was running from".
func (g *segment) pumpBefore(k int) bool {
	for j := k - 1; j >= 0 && j > k-5; j-- {
		if g.is(j, "bypass", "pump", "cpb") || g.is(j, "on") && g.is(j-1, "went", "gone", "going", "was", "were") {
			return !g.deniedNear(j)
		}
	}
	return false
}

// readBypassFirst reads whether the child was on bypass before the chest was opened.
func (g *segment) readBypassFirst() {
	f := fieldAt(schema.ApproachBypassBeforeEntry)
	for i := range g.signs {
		s := &g.signs[i]
		k := s.to - 1
		if !g.within(s, "bypass", "pump", "cpb") && !g.is(s.to, "on", "through", "via", "from") || s.used || g.answered(f) {
			continue
		}
		if !g.within(s, "bypass", "pump", "cpb") && !g.pumpBefore(s.to+1) || !g.beforeEntry(k, 12) {
			continue
		}
		end := k
		for end < len(g.toks) && end < k+12 && g.toks[end].kind != stop && !g.is(end, "before", "pre", "beforehand") {
			end++
		}
		value, at := "", -1
		for j := max(0, k-3); j < end; j++ {
			if r := regions[g.toks[j].text]; r == "groin" || r == "neck" {
				value, at = r, j
			}
		}
		switch {
		case s.scope&(intended|weighed|hearsay|calling) != 0:
			continue
		case s.scope&denied != 0 || g.deniedNear(k):
			if at < 0 && g.is(end, "before") {
				g.claimField(f, "", s.from, s.to, s.from, s.to).stated = schema.StatedNone
				s.used = true
			}
		case g.oneIn(k, k+5, "standby"):
			g.claimField(f, "standby", k, k+1, k, k+4)
			s.used = true
		case at >= 0:
			g.claimField(f, value, at, at+1, min(at, k), end)
		}
	}
}
