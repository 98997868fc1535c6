package dictation

import "fairlead/schema"

// Where it was done: the staged operations are not done in intensive care, and their
// notes speak of it as where the child went; the other operations may be, and their
// notes open with the place.

var (
	unitNames = wordSet("icu picu cicu nicu pcicu itu unit bedside")
	// befalls are what befalls a child somewhere before the operation is begun there.
	befalls = wordSet("from left leave leaving dropped fell fall desaturated crashed bled seen noticed noted saw decided until since after minute sat saturation lactate return returned yesterday reason hour ran unstable stable")
	arrests = wordSet("cpr compression arrested arrest")
	// leaveFor are the words before a place where something else was done, or where the
	// child goes.
	leaveFor = wordSet("extub extubate extubated extubating extubation extubates extube out pulled remove removed come coming wean weaned weaning standby cpr compression compressions arrest arrested dropped fell crashed sats stats goes went going go sent returned back transferred transfer they ask wait waiting dictating happy now already tell nurse nurses")
	doneIn   = wordSet("done closed closure performed carried operation procedure washout opened reopened cutdown in")
)

// staged tells whether the note is of one of the staged operations.
func (l *lexicon) staged() bool {
	return l.kind == schema.Stage1 || l.kind == schema.Stage2 || l.kind == schema.Stage3
}

// readPlace claims the place that the opening of a note says: "we reopened in the
// unit", "Chest closure, theatre six", "brought to the OR".
func (g *segment) readPlace() {
	if g.lex.staged() || g.ctx.opening > 4 || g.answered(fieldAt(schema.OperationPlace)) {
		return
	}
	for k := range g.toks {
		value, n := g.placeAt(k)
		if n == 0 || k > 40 {
			continue
		}
		from := k
		for g.is(from-1, "the", "main", "proper", "our", "or") {
			from--
		}
		switch {
		case g.is(from-1, "in", "at"), value == "theatre" && g.is(from-1, "to", "into", "→", ">"), value != "theatre" && g.is(from-1, "on"):
			from--
		case from == k && (k == 0 || g.is(k-1, ",", ":") || g.toks[k-1].kind == stop) && (k+n >= len(g.toks) || g.toks[k+n].kind == stop || g.is(k+n, ",", "bed", "bay") || g.numberAt(k+n)):
		default:
			continue
		}
		if g.elsewhereThan(from, k+n) || g.placeOfElse(value, k, k+n) {
			continue
		}
		g.claimField(fieldAt(schema.OperationPlace), value, k, k+n, from, k+n)
		return
	}
}

// placeAt is the place that token k names, and in how many words.
func (g *segment) placeAt(k int) (string, int) {
	switch {
	case g.is(k, "theater"):
		return "theatre", 1
	case g.is(k, "operating") && g.is(k+1, "room", "theater"):
		return "theatre", 2
	case g.is(k, "or") && g.words(k, k+1) == "OR" && g.is(k-1, "in", "to", "the"), g.is(k, "or") && g.is(k-1, "the") && g.is(k-2, "in", "to"):
		return "theatre", 1
	case g.is(k, "intensive") && g.is(k+1, "care"):
		return "intensive-care", 2
	case unitNames[g.toks[k].text] && !g.numberAt(k-1):
		return "intensive-care", 1
	}
	return "", 0
}

// elsewhereThan tells whether the place told from token from up to to is where
// something else befell, was denied or is only planned.
func (g *segment) elsewhereThan(from, to int) bool {
	for j := from - 1; j >= 0 && j >= from-8 && g.toks[j].kind != stop && g.clause[j] == g.clause[from]; j-- {
		if befalls[g.toks[j].text] || g.lex.kind != schema.SupportOn && arrests[g.toks[j].text] || g.denyingAt(j) {
			return true
		}
	}
	for j := from; j < to; j++ {
		if n := g.at[j]; n >= 0 && g.signs[n].scope&(intended|weighed|hearsay) != 0 && !g.mentions("tonight", "today") {
			return true
		}
	}
	return g.is(to, "would", "not", "said", "team", "staff", "had", "nurse", "was", "is", "echo", "gas") || g.is(to, "round")
}

// notWhereDone tells whether a place said from token from up to to is where the child
// came from or goes, or where something else befell.
func (g *segment) notWhereDone(place string, from, to int) bool {
	return g.is(from-1, "the") && g.is(from-2, "leave", "left", "leaving", "of", "from") ||
		g.is(from-1, "to") && g.is(from-2, "go", "goe", "going", "went", "back", "on", "up") ||
		g.is(from, "in") && g.is(from-1, "out", "extubated", "removed", "pulled") ||
		place == "intensive-care" && (g.lex.staged() && !g.mentions("done", "did", "performed", "operated", "bedside") || g.elsewhereThan(from, to)) ||
		place == "theatre" && g.lex.staged() && g.mentions("out", "extubated", "ext", "extub", "removed", "pulled") ||
		g.placeOfElse(place, from, to)
}

// placeOfElse tells whether a place told from token from up to to is, by the nearest
// deed before it or by the word after it, that of something else.
func (g *segment) placeOfElse(place string, from, to int) bool {
	for k := from - 1; k >= 0 && k >= from-7 && g.toks[k].kind != stop && !g.is(k, ","); k-- {
		switch {
		case doneIn[g.toks[k].text],
			place == "theatre" && g.is(k, "back", "brought", "took", "taken", "went"),
			g.lex.kind == schema.SupportOn && arrests[g.toks[k].text]:
			return false
		case leaveFor[g.toks[k].text] && !g.is(k-1, "carried"):
			return true
		}
	}
	return g.is(to, "summary", "list", "report", "charge", "fellow", "team") || g.is(to-1, "bed") && to-from <= 3 && (to >= len(g.toks) || g.numberAt(to) || g.is(to, "the")) && !g.is(to, "space")
}
