package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// edgesApart and edgesMet are how the chest is said to be before and after its edges are
// brought together.
var (
	edgesApart = wordSet("before open opened apart beforehand initially")
	edgesMet   = wordSet("after shut closed together afterward approximated wired closing closure tight tightened")
)

// measureAt is what sign i names of that which is read before and after closing, or "".
func (g *segment) measureAt(i int) string {
	s := &g.signs[i]
	for _, x := range s.senses {
		if x.kind == isValue && x.field == rowField(schema.ClosingTolerance, "measure") {
			return x.value
		}
	}
	switch g.pressureAt(i) {
	case "right-atrial", "left-atrial", "common-atrial":
		return "atrial"
	case "glenn", "fontan", "central-venous":
		return "caval"
	}
	if s.has(isItem) && g.within(s, "atrial") && g.within(s, "line") && g.is(s.to, "went", "from", "rose", "fell", "crept", "climbed", "came", "up") || s.to-s.from == 1 && g.is(s.from, "atrium") && g.numberAt(s.to) {
		return "atrial"
	}
	return ""
}

// readTolerance reads what closing the chest did: "the mean went from fifty one to forty
// eight", "atrial eight open, eleven shut", "peak airway twenty two, then twenty five".
func (g *segment) readTolerance() {
	closure := g.lex.kind == schema.Closure
	if !g.inNote(fieldAt(schema.ClosingTolerance)) || !closure && !g.edgesBrought() {
		return
	}
	only := false
	if closure {
		g.readToleranceBlocks()
		only = g.onlyMeasures()
	}
	for i := range g.signs {
		s := &g.signs[i]
		measure := ""
		if !s.used && s.num == nil {
			measure = g.measureAt(i)
		}
		if measure == "" || measure == "lactate" && !g.mentions("before", "after") {
			continue
		}
		j := g.nextNumber(i, 5)
		if j >= 0 && (g.is(g.signs[j].from-1, "by") || changedBy[g.wordAt(g.signs[j].from-1)]) {
			j = g.nextNumber(j, 3) // "dropped four, from fifty to forty six"
		}
		if j < 0 {
			continue
		}
		x, _ := g.amountAt(j)
		n := g.nextNumber(max(j, x.unitSign), 7)
		if n < 0 {
			continue
		}
		y, _ := g.amountAt(n)
		if x.decimal == "" || y.decimal == "" || !g.beforeAndAfter(s, x, y) && !(only && g.plainPair(x, y)) {
			continue
		}
		gi := g.newGroup(schema.ClosingTolerance, s.from, y.to)
		g.claimIn(gi, rowField(schema.ClosingTolerance, "measure"), measure, s.from, s.to, s.from, y.to)
		g.claimIn(gi, rowField(schema.ClosingTolerance, "before"), x.decimal, x.from, x.to, s.from, y.to)
		g.claimIn(gi, rowField(schema.ClosingTolerance, "after"), y.decimal, y.from, y.to, s.from, y.to)
		g.useAmount(x)
		g.useAmount(y)
		s.used = !s.has(isItem) // a line that read it is still there
		for m := j; m < len(g.signs) && g.signs[m].from <= y.to+4; m++ {
			if p := &g.signs[m]; p.num == nil && (edgesApart[g.toks[p.to-1].text] || m > n && edgesMet[g.toks[p.to-1].text] && g.is(p.from-1, "it", "chest", "with", "when")) {
				p.used = true // how the chest was when it was read
			}
		}
	}
}

// edgesBrought tells whether a sentence of another note than a closure tells of trying
// to close: "the CVP went from eight to fourteen when I brought the edges together".
func (g *segment) edgesBrought() bool {
	for k := range g.toks {
		switch {
		case g.is(k, "together", "opposed", "apposed", "approximated") && g.anyWithin(max(0, k-7), k+1, "edge", "sternum", "chest", "bone"),
			g.is(k, "trial", "attempt", "attempted", "tried", "trying", "test") && g.anyWithin(k+1, min(len(g.toks), k+5), "close", "closing", "closure"),
			g.is(k, "sternum", "chest", "edge") && g.is(k-1, "the", "her", "his") && g.is(k-2, "closed", "closing", "close", "pulled", "brought", "approximated") && g.is(k-3, "i", "we", "with", "on", "when"):
			return true
		}
	}
	return false
}

// changedBy are words before the amount by which a number changed.
var changedBy = wordSet("dropped fell rose lost gained")

// nextNumber is the sign of the first number after sign i, at most n words on, with nothing
// else named between, or -1.
func (g *segment) nextNumber(i, n int) int {
	last := g.signs[i].to
	for j := i + 1; j < len(g.signs) && g.signs[j].from-last <= n && !g.crossesStop(last, g.signs[j].from); j++ {
		p := &g.signs[j]
		switch {
		case p.num != nil && p.used, p.is(corrects), p.is(scratches):
			return -1
		case p.num != nil:
			return j
		case g.measureAt(j) != "" && !edgesApart[g.toks[p.to-1].text]:
			return -1
		case p.content() && !p.has(isUnit) && !g.rowWord(p, schema.ClosingTolerance) && !edgesApart[g.toks[p.to-1].text] && !edgesMet[g.toks[p.to-1].text] && !g.within(p, "chest", "sternum", "edge", "bone", "before", "after", "wire", "pressure"):
			return -1
		}
	}
	return -1
}

// beforeAndAfter tells whether two amounts are said to be of before and after.
func (g *segment) beforeAndAfter(s *sign, x, y amount) bool {
	early, late := edgesApart[g.wordAt(s.from-1)] || edgesApart[g.wordAt(s.from-2)], false
	moved, joined := false, false
	for k := s.to; k < x.from; k++ {
		early = early || edgesApart[g.toks[k].text]
	}
	ofX := true
	for k := x.to; k < y.from; k++ {
		w := g.toks[k].text
		ofX = ofX && !g.is(k, ",", "and", "to", "→", ">", "then", "/")
		if ofX && edgesMet[w] && !g.is(k-1, "before") {
			return false // "eleven when closed, seven now"
		}
		early, late = early || edgesApart[w], late || edgesMet[w]
		moved = moved || g.is(k, "to", "→", ">", "then", "became", "becoming")
		joined = joined || g.is(k, "and", "before", "after", "/")
	}
	for k := y.to; k < len(g.toks) && k < y.to+4 && g.toks[k].kind == word; k++ {
		late = late || edgesMet[g.toks[k].text]
	}
	switch {
	case early && late:
		return true
	case moved:
		return y.from-x.to <= 5
	case late && y.from-x.to <= 4:
		return true
	case joined && y.from-x.to <= 4:
		return g.is(x.from-1, "from", "was", "of") || g.mentions("before")
	}
	return false
}

// onlyMeasures tells whether a sentence says nothing but what was measured, and numbers.
func (g *segment) onlyMeasures() bool {
	for i := range g.signs {
		s := &g.signs[i]
		if s.scope&(aiming|calling|intended|denied) != 0 || s.num == nil && s.content() && !s.has(isUnit) && g.measureAt(i) == "" && !edgesApart[g.toks[s.to-1].text] && !edgesMet[g.toks[s.to-1].text] {
			return false
		}
	}
	return true
}

// plainPair tells whether two amounts with no more than a comma between can be one
// measure before and after, and no saturation in oxygen.
func (g *segment) plainPair(x, y amount) bool {
	a, err := strconv.ParseFloat(x.decimal, 64)
	b, err2 := strconv.ParseFloat(y.decimal, 64)
	return err == nil && err2 == nil && y.from-x.to == 1 && g.is(x.to, ",") && !slices.Contains(y.units, "%") && (b >= 5 && a < 60 || b > 55)
}
