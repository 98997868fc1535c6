package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// lumenNames are the lumens of a line as they are named at the bedside, each with
// what it is written as.
var lumenNames = map[string]string{"proximal": "proximal", "prox": "proximal", "distal": "distal", "dist": "distal", "middle": "middle", "medial": "medial"}

// lumenColours are the colours of the hubs, which name a lumen only in talk of lumens.
var lumenColours = wordSet("brown blue white red yellow grey gray green")

// lumenName is the lumen that token k names, or "".
func (g *segment) lumenName(k int) string {
	w := g.toks[k].text
	if lumenColours[w] && g.lumenTalk() && (g.is(k-1, "the") && g.is(k-2, "on", "down", "through", "via", "in", "into") || (k == 0 || g.toks[k-1].kind == stop || g.is(k-1, ":", ",", ";")) && (g.is(k+1, ",", ":", "is", "has", "carrie") || k+1 < len(g.toks) && g.at[k+1] >= 0 && g.drugAt(int(g.at[k+1])) != "")) {
		return w // "milrinone on the brown", "Blue, milrinone", "White's dexmedetomidine"
	}
	if lumenColours[w] && (g.is(k+1, "lumen", "port", "limb", "hub") || g.mentions("lumen") && g.is(k+1, "for", ":", "has", "carrie", "is", "take", "with")) {
		return w
	}
	return lumenNames[w]
}

// lumenTalk tells whether a line with lumens is spoken of, here or in the sentence before.
func (g *segment) lumenTalk() bool {
	return g.mentions("lumen") || strings.HasPrefix(g.ctx.line, "central-venous-line/")
}

// drip is an infusion read in a segment.
type drip struct {
	sign  int // of the drug
	group int
	end   int // the token where the next drug begins
}

// readLumens reads which lumen a drug runs through, and gives a drug whose lumen is
// named without its line the line of the one before: "milrinone through the proximal
// lumen, adrenaline through the distal".
func (g *segment) readLumens(drips []drip) {
	f := fieldAt(schema.RowPath(running, "*", "lumen"))
	item := fieldAt(schema.RowPath(running, "*", "item"))
	if f == nil {
		return
	}
	said := make([]bool, len(drips))
	first := g.lumensFirst(drips)
	for n, d := range drips {
		s := &g.signs[d.sign]
		if first {
			if k := g.lumenBefore(s.from); k >= 0 {
				g.claimIn(d.group, f, g.lumenName(k), k, k+1, k, s.to)
				said[n] = true
			}
			continue
		}
		for k := s.to; k < d.end && k < s.to+14 && g.toks[k].kind != stop; k++ {
			if g.toks[k].kind != word || g.lumenName(k) == "" || g.unrealAt(k) {
				continue
			}
			g.claimIn(d.group, f, g.lumenName(k), k, k+1, s.from, k+1)
			said[n] = true
			break
		}
		if k := g.sameLumen(d); k >= 0 && !said[n] {
			same := g.ctx.lumen
			for m := 0; m < n; m++ {
				if v := g.claimOf(drips[m].group, f); v != "" {
					same = v
				}
			}
			if same != "" {
				g.claimIn(d.group, f, same, k, k+2, s.from, k+2)
				said[n] = true
			}
		}
	}
	if n := len(drips) - 1; n > 0 && said[n] && !said[n-1] && !first { // "morphine 20 and midazolam 100, both down the blue lumen"
		for k := g.signs[drips[n].sign].to; k < len(g.toks) && g.lumenName(k) == ""; k++ {
			if g.is(k, "both", "all") {
				for m := 0; m < n; m++ {
					if !said[m] {
						p := &g.signs[drips[m].sign]
						g.claimIn(drips[m].group, f, g.claimOf(drips[n].group, f), p.from, p.to, p.from, p.to)
						said[m] = true
					}
				}
			}
		}
	}
	linked := func(n int) int { // the link of a drip, or -1
		for i, l := range g.links {
			if l.group == drips[n].group {
				return i
			}
		}
		return -1
	}
	// "milrinone proximal, adrenaline distal, both femoral"
	if n := len(drips) - 1; n > 0 && said[n] && said[n-1] && linked(n) < 0 {
		for j := drips[n].sign + 1; j+1 < len(g.signs); j++ {
			p, q := &g.signs[j], &g.signs[j+1]
			if !p.is(both) || p.content2() || q.from != p.to || !q.has(isVariety) && !q.has(isItem) {
				continue
			}
			p.used, p.senses = true, nil // both drugs, not both sides
			for m := range drips {
				if said[m] && linked(m) < 0 {
					g.links = append(g.links, link{group: drips[m].group, sign: j + 1, field: item})
				}
			}
			q.item = true
			break
		}
	}
	for n := range drips {
		if !said[n] || linked(n) >= 0 {
			continue
		}
		if n > 0 {
			if i := linked(n - 1); i >= 0 {
				g.links = append(g.links, link{group: drips[n].group, sign: g.links[i].sign, field: item})
				continue
			}
		}
		if !strings.HasPrefix(g.ctx.line, "central-venous-line/") || g.claimed(drips[n].group, item) {
			continue
		}
		s := &g.signs[drips[n].sign]
		c := g.claimIn(drips[n].group, item, g.ctx.line, s.from, s.to, s.from, s.to)
		c.sure, c.note = Check, "the lumen was named without its line: the line named before it is taken"
	}
}

// lineOfLumens gives a drug whose lumen is named without its line the only line of the text
// that has lumens: "Right jugular, two lumens." and, further on, "Milrinone 0.5, proximal."
func (s *settling) lineOfLumens() {
	line := s.onlyLumens()
	if line == nil {
		return
	}
	for _, x := range s.groups {
		if x.gone || x.Denied || x.List != running || x.value("item") != "" {
			continue
		}
		for _, p := range x.values {
			if p.Path != schema.InfusionsRunningLumen {
				continue
			}
			x.values = append(x.values, &Proposal{Path: schema.RowPath(running, "*", "item"), Value: line.Kind + "/" + line.variety, Spans: p.Spans, Why: p.Why,
				Sure: Check, Note: "the lumen was named without its line: the only one with lumens is taken"})
			break
		}
	}
}

// onlyLumens is the central line that lumens named without one belong to: the only one said
// to have several, or the only one there is; nil where that is not clear.
func (s *settling) onlyLumens() *settled {
	var one, several *settled
	ones, severals := 0, 0
	for _, x := range s.groups {
		if x.gone || x.Denied || x.List != "items" || x.Kind != "central-venous-line" || x.value("lumenCount") == "1" {
			continue
		}
		one, ones = x, ones+1
		if x.value("lumenCount") != "" {
			several, severals = x, severals+1
		}
	}
	switch {
	case severals == 1:
		return several
	case ones == 1:
		return one
	}
	return nil
}

// sameLumen is the token of "same lumen", or "with it", after a drug, or -1.
func (g *segment) sameLumen(d drip) int {
	for k := g.signs[d.sign].to; k+1 < d.end && g.toks[k].kind != stop; k++ {
		if g.is(k, "same") && g.is(k+1, "lumen", "port", "limb") || g.withIt(k) {
			return k
		}
	}
	return -1
}

// withIt tells whether the words at token k say of a drug that it runs with the one before it:
// "milrinone 0.5 with it".
func (g *segment) withIt(k int) bool {
	return g.is(k, "with", "alongside") && g.is(k+1, "it", "that", "them") && (k+2 >= len(g.toks) || g.toks[k+2].kind == stop || g.is(k+2, ","))
}

// claimOf is the value that a group has been given for a field, or "".
func (g *segment) claimOf(gi int, f *schema.Field) string {
	for i := range g.claims {
		if c := &g.claims[i]; c.group == gi && c.field == f {
			return c.value
		}
	}
	return ""
}

// lumensFirst tells whether the lumens are named before what runs in them:
// "proximal: milrinone 0.5; distal: adrenaline 0.05".
func (g *segment) lumensFirst(drips []drip) bool {
	if len(drips) == 0 {
		return false
	}
	s := &g.signs[drips[0].sign]
	k := g.lumenBefore(s.from)
	if k < 0 || g.unrealAt(k) {
		return false
	}
	for j := k + 1; j < s.from; j++ {
		if !g.is(j, ":", ",", "-", "lumen", "port", "limb", "the", "has", "is", "with", "got", "carrie", "carrying", "carry", "running", "run", "for", "taking", "take", "in", "it") {
			return false
		}
	}
	return true
}

// lumenBefore is the token that names a lumen last before token k, in the same
// sentence, or -1.
func (g *segment) lumenBefore(k int) int {
	for k--; k >= 0 && g.toks[k].kind != stop; k-- {
		if g.toks[k].kind == word && g.lumenName(k) != "" {
			return k
		}
	}
	return -1
}

// inLumen tells whether the drug at sign i, with no dose, is said to run in a lumen: "white is
// maintenance", "maintenance in the middle".
func (g *segment) inLumen(i int) bool {
	s := &g.signs[i]
	if g.is(s.from-1, "is", "has", "carrie", "for", ":") && s.from > 1 && g.lumenName(s.from-2) != "" {
		return true
	}
	k := s.to
	if !g.is(k, "in", "on", "through", "down", "into") {
		return false
	}
	for k++; g.is(k, "the", "its", "her", "his"); k++ {
	}
	return k < len(g.toks) && g.lumenName(k) != "" && g.lumenTalk()
}

// saysIt tells whether the drug at sign i is said to run in what was named before:
// "dopamine five on it".
func (g *segment) saysIt(i, end int) bool {
	for k := g.signs[i].to; k+1 < min(end, g.signs[i].to+9) && g.toks[k].kind != stop; k++ {
		if g.is(k, "on", "in", "through", "into", "via", "down") && g.is(k+1, "it", "that", "there", "them") && (k+2 >= len(g.toks) || g.toks[k+2].kind == stop || g.is(k+2, ",", "and", "line", "one")) {
			return true
		}
	}
	return false
}

// lineNamedBefore is the sign of the line named last before sign i, or -1.
func (g *segment) lineNamedBefore(i int) int {
	for j := i - 1; j >= 0; j-- {
		if g.lineAt(j) {
			return j
		}
	}
	return -1
}

// lineAt tells whether sign j names a line.
func (g *segment) lineAt(j int) bool {
	return slices.ContainsFunc(g.signs[j].senses, func(x sense) bool {
		return (x.kind == isItem || x.kind == isVariety) && x.item.Group == "lines" && !ignored[x.item.Name]
	})
}

// lineHeading is the line that a sentence lists with its size, depth and lumens
// before it says what runs there, the drug at sign i first: "Right jugular, five
// French, two lumens: milrinone 0.5". It is -1 where there is none.
func (g *segment) lineHeading(i int) int {
	j := i - 1
	for ; j >= 0 && !g.lineAt(j); j-- {
		s := &g.signs[j]
		line := s.num != nil || s.has(isUnit) || g.lumensAt(j) > 0 || g.lumenWord(s) || g.attributeSign(j) || g.sideOf(s) != "" && !s.content2() || s.is(through) || s.is(filler) || s.has(isHead) || g.lumenName(s.from) != "" || g.namesDrips(s)
		if !line || g.drugAt(j) != "" || s.scope&(unreal|denied) != 0 {
			return -1
		}
	}
	if j < 0 || g.signs[j].scope&(unreal|denied) != 0 {
		return -1
	}
	s := &g.signs[j]
	bare := !s.has(isItem)
	for k := s.to; k < g.signs[i].from; k++ {
		if g.toks[k].kind == stop || g.is(k, "and", "read", "reading", "pressure", "with", "for") && !g.is(k, "with", "for") {
			return -1
		}
	}
	gap := g.signs[i].from - 1
	if g.is(gap, "the") {
		gap--
	}
	if !g.is(gap, ",", ":", "-", "with", "for", "has", "running", "run", "carrying", "carry", "take", "in", "it") && !(g.at[gap] >= 0 && (g.lumenWord(&g.signs[g.at[gap]]) || g.signs[g.at[gap]].has(isUnit) || g.lumensAt(int(g.at[gap])) > 0)) && g.lumenName(gap) == "" {
		return -1
	}
	from := s.from
	for from > 0 && (g.is(from-1, "a", "the", "my", "her", "his", "in") || g.at[from-1] >= 0 && (g.sideOf(&g.signs[g.at[from-1]]) != "" || g.signs[g.at[from-1]].num != nil || g.signs[g.at[from-1]].has(isUnit) || g.signs[g.at[from-1]].is(through))) {
		from--
	}
	if from > 0 && g.toks[from-1].kind != stop && !g.is(from-1, ",", ":", "line") {
		return -1
	}
	for _, x := range s.senses { // "LA 9" is a pressure
		if x.item != nil && x.item.Name == "intracardiac-line" && bare && g.numberAt(s.to) {
			return -1
		}
	}
	return j
}

// namesDrips tells whether a sign names the infusions as such: "carries the drugs".
func (g *segment) namesDrips(s *sign) bool {
	return slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == namesField && x.field.Path.Section() == "infusions" })
}

// sizesEach gives each of several things of one kind its own size: "two right pleural
// drains, a 12 French and a 15 French". Where it is not clear which has which, no
// size is given.
func (g *segment) sizesEach(t *thing, lists []int, attrs []claim, limit, copies int) []claim {
	if len(lists) < 2 {
		return attrs
	}
	f := t.of.Field("size")
	if f == nil {
		return attrs
	}
	var sizes []amount
	last := t.to
	for i := g.nextSign(t.to); i < len(g.signs) && g.signs[i].from < limit && g.signs[i].from-last <= 4; i++ {
		s := &g.signs[i]
		if s.num == nil {
			if lies := g.within(s, "front", "behind", "anterior", "posterior"); s.content2() || s.content() && !s.has(isUnit) && !lies || g.sideOf(s) != "" {
				break
			} else if lies {
				last = s.to // "a twelve in front and a ten behind"
			}
			continue
		}
		if one := s.num.decimal == "1" && i+1 < len(g.signs) && g.signs[i+1].from <= s.to+2; one && g.numberAt(g.signs[i+1].from) && (len(sizes) == 0 || g.is(last, ",", "and")) {
			if g.toks[last].kind != mark || len(sizes) == 0 {
				last = s.to // "one twelve, one ten", "one is a twelve, the other a ten"
			}
			if len(sizes) > 0 {
				last = s.from - 1
			}
			continue
		}
		a, ok := g.amountIgnoringUse(i)
		if !ok || g.attributeFor(t.of, a) != f || g.is(a.from-1, "at", "to") {
			break
		}
		if len(sizes) > 0 && !g.is(last, ",", "and", "a", "one", "the", "other") {
			break
		}
		sizes, last = append(sizes, a), a.to
	}
	distinct := len(sizes) > 1 && sizes[0].decimal != sizes[1].decimal
	if !distinct {
		return attrs
	}
	var rest []claim
	for _, c := range attrs {
		if c.field != f {
			rest = append(rest, c)
		}
	}
	if len(sizes) == len(lists) && (copies == len(sizes) || t.of.Name == "drain" && g.groups[lists[0]].variety == g.groups[lists[1]].variety) {
		for i, a := range sizes {
			if v, _, ok := fits(f, a); ok {
				c := g.claimIn(lists[i], f, v, a.from, a.to, t.from, a.to)
				if a.units == nil {
					c.sure, c.note = Check, "the unit was not said"
				}
			}
		}
	}
	for _, a := range sizes {
		g.useAmount(a)
	}
	return rest
}

// amountIgnoringUse reads an amount though another reading has taken it.
func (g *segment) amountIgnoringUse(i int) (amount, bool) {
	s := &g.signs[i]
	was := s.used
	s.used = false
	var unit bool
	if i+1 < len(g.signs) {
		unit = g.signs[i+1].used
		g.signs[i+1].used = false
	}
	a, ok := g.amountAt(i)
	s.used = was
	if i+1 < len(g.signs) {
		g.signs[i+1].used = unit
	}
	return a, ok
}

// denialOf is the sign that denies what was read from tokens from to to: the
// nearest before it, or right after it. It is -1 where there is none.
func (g *segment) denialOf(from, to int) int {
	for j := len(g.signs) - 1; j >= 0; j-- {
		s := &g.signs[j]
		if s.to > from {
			continue
		}
		if from-s.to > 6 || g.crossesStop(s.to, from) {
			break
		}
		if s.is(denies) || s.is(deniesBefore) || s.is(neither) {
			return j
		}
		if s.content2() && s.scope&denied == 0 {
			break
		}
	}
	for j := range g.signs {
		s := &g.signs[j]
		if s.from < to {
			continue
		}
		if s.from-to > 3 || g.crossesStop(to, s.from) {
			break
		}
		if s.is(denies) || s.is(deniesBefore) {
			return j
		}
	}
	return -1
}

// lumenWord tells whether sign p ends in a word for a lumen.
func (g *segment) lumenWord(p *sign) bool { return g.is(p.to-1, "lumen", "port", "limb") }
