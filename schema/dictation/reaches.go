package dictation

// startOf is where the clause of token k begins, at most n back.
func (g *segment) startOf(k, n int) int {
	c := g.clause[min(k, len(g.clause)-1)]
	j := k
	for j > 0 && k-j < n && g.clause[j-1] == c {
		if s := g.at[j-1]; s >= 0 && (g.signs[s].is(arrives) || g.signs[s].is(turns)) || g.is(j-1, "(") {
			break // what is said in brackets is not of what stands before them
		}
		j--
	}
	if j > 0 && g.toks[j].text == "," {
		j++
	}
	return j
}

// stateStart is where the statement that the cue at sign i ends began: back to
// the clause's start, but not past one name and its number.
func (g *segment) stateStart(i, n int) int {
	from := g.startOf(g.signs[i].from, n)
	at, number, name := g.signs[i].from, false, false
	for j := i - 1; j >= 0 && g.signs[j].from >= from; j-- {
		p := &g.signs[j]
		if p.num != nil && !p.content() {
			if number {
				break
			}
			number, at = true, p.from
			continue
		}
		if p.content() {
			if name && number || name && at-p.to > 0 && !number {
				break
			}
			name, at = true, p.from
			if number {
				break
			}
		}
	}
	return at
}

// endOf is where the clause of token k ends, at most n on.
func (g *segment) endOf(k, n int) int {
	if k >= len(g.toks) {
		return len(g.toks)
	}
	c := g.clause[k]
	j := k
	for j < len(g.toks) && j-k < n && g.clause[j] == c {
		if s := g.at[j]; s >= 0 && (g.signs[s].is(arrives) || g.signs[s].is(turns)) {
			break
		}
		j++
	}
	return j
}

// endState is where a state of affairs ends: at the end of the segment, at
// "now" or "but", or after n words where no punctuation helps.
func (g *segment) endState(k, n int) int {
	j, inside := k, 0
	for j < len(g.toks) {
		if g.is(j, "(") {
			inside++
		} else if g.is(j, ")") {
			if inside--; inside < 0 {
				break // said in brackets, it ends with them
			}
		}
		if s := g.at[j]; s >= 0 && g.signs[s].from == j && (g.signs[s].is(arrives) && !g.signs[s].is(passing) || g.signs[s].is(turns) && g.toks[j].text != "also") {
			break
		}
		if j > k && g.isSoNow(j) {
			break
		}
		if j-k >= n && !g.commaAhead(j) {
			break
		}
		if j-k >= 3*n {
			break
		}
		j++
	}
	return j
}

// commaAhead tells whether the segment has punctuation at all to go by.
func (g *segment) commaAhead(j int) bool {
	for _, t := range g.toks {
		if t.kind == mark && t.text == "," || t.kind == stop {
			return len(g.toks) < 45
		}
	}
	return len(g.toks) < 25
}

// endOfPassing is where a passing state ends: at a comma, at "now", or after n.
func (g *segment) endOfPassing(k, n int) int {
	j := k
	fronted := g.is(k-1, ",") || g.opensWith(k) // "Before we came off, the pressure was eighteen"
	if j < len(g.toks) && g.toks[j].text == "," && !g.is(j+1, "on", "back") {
		j++ // "Coming off, the pressure was eighteen"
	}
	for j < len(g.toks) && j-k < n {
		if g.is(j, "and") && g.numberAt(j+1) && g.is(g.signs[g.at[j+1]].to, "after", "afterward", "now") {
			break // "five before we filled him and seven after"
		}
		if g.toks[j].text == "," {
			if fronted && !g.numberIn(k, j) && !g.namedIn(k, j) {
				fronted, n = false, n+j-k
				j++
				continue
			}
			break
		}
		if s := g.at[j]; s >= 0 && g.signs[s].from == j && (g.signs[s].is(arrives) || g.signs[s].is(turns)) || j > k && g.isSoNow(j) {
			break
		}
		j++
	}
	return j
}

// isSoNow tells whether words begin at token k that turn from how something was to how it is,
// with no punctuation between: "was running at point one it is off milrinone point three three".
func (g *segment) isSoNow(k int) bool {
	if g.is(k, "back") && g.is(k+1, "on", "up") || g.is(k, "on") && g.is(k+1, "again") || g.is(k, "restarted") {
		return g.is(k-1, ",", "and", "now", "then", "but", "is")
	}
	return g.is(k, "it") && g.is(k+1, "is") && g.is(k+2, "off", "stopped", "now", "back") && !g.is(k-1, "if", "when", "once", "until", "unless", "that")
}

// opensWith tells whether the cue that ends before token k opens its sentence.
func (g *segment) opensWith(k int) bool {
	if k < 1 || g.at[k-1] < 0 {
		return false
	}
	from := g.signs[g.at[k-1]].from
	return from == 0 || g.toks[from-1].kind == stop || g.is(from-1, "and") && from == 1
}

// namedIn tells whether something of a note is named among tokens a to b.
func (g *segment) namedIn(a, b int) bool {
	for k := a; k < b; k++ {
		if n := g.at[k]; n >= 0 && g.signs[n].content() {
			return true
		}
	}
	return false
}

// endIntent is where an intention ends: it may run over commas, not to what was done
// instead.
func (g *segment) endIntent(k, n int) int {
	end := g.endState(k, n)
	for j := k; j < end; j++ {
		if g.is(j, ">", "→") || j > k && g.is(j, "did") && !g.is(j+1, "not") { // "booked as a Sano, did a shunt"
			return j
		}
	}
	return end
}

// endWeigh is where a first thought ends: where something is chosen.
func (g *segment) endWeigh(k, n int) int {
	j := k
	for j < len(g.toks) && j-k < n {
		if s := g.at[j]; s >= 0 && g.signs[s].from == j && (g.signs[s].is(chooses) || g.signs[s].is(turns) || g.signs[s].is(corrects) || g.signs[s].is(arrives)) {
			break
		}
		if g.toks[j].text == "," || g.toks[j].text == "and" && g.clause[j] != g.clause[k] {
			break
		}
		j++
	}
	return j
}

// endTold is where what is told of an earlier time ends: "ended up with" and its like
// are of that time too, "now" and "today" are not.
func (g *segment) endTold(k, n int) int {
	end := g.endState(k, n)
	for end < len(g.toks) && g.at[end] >= 0 {
		s := &g.signs[g.at[end]]
		if s.from != end || !s.is(arrives) || !g.is(end-1, "and") || !g.is(end, "came", "ended", "settled", "improved", "rose", "went") {
			break
		}
		end = g.endState(s.to, n)
	}
	return end
}
