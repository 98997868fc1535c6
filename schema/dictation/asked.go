package dictation

// onlyLimits tells whether a sentence says no more than what is watched and its bounds, and
// so goes on with a list of limits or targets: "Call: Glenn over eighteen. Sats under
// seventy five."
func (g *segment) onlyLimits(sort scope) bool {
	what, bound := false, false
	for i := range g.signs {
		s := &g.signs[i]
		switch {
		case s.is(calls), s.is(targets):
			return what && bound && s.is(calls) == (sort == calling) // "Targets ... Bleeding over ten: ring me"
		case s.scope&^(vague|aiming|calling) != 0 && !(s.num != nil && g.is(s.from-1, "from")), s.is(arrives), s.is(passing), s.is(history), s.is(denies):
			return false
		case g.whatAt(i) != "":
			what = true
		case s.is(above), s.is(below):
			bound = true
		case s.num != nil:
			bound = bound || sort == aiming && g.rangeAt(i) || g.direction(amount{from: s.from, to: s.to, sign: i}) != ""
		case s.content() && !s.has(isUnit):
			return false
		}
	}
	return what && bound
}

// rangeAt tells whether sign i is the lower number of a range: "forty to fifty five".
func (g *segment) rangeAt(i int) bool {
	k := g.signs[i].to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == k {
		k = g.signs[i+1].to
	}
	return g.signs[i].num != nil && g.is(k, "to", "-", "and") && g.numberAt(k+1)
}

// endOfRange is the token after the number at sign i, or after the range it begins.
func (g *segment) endOfRange(i int) int {
	if g.rangeAt(i) {
		return g.signs[i+1].to
	}
	return g.signs[i].to
}

// limitsBegun is calling or aiming where the sentence begins a list of limits or targets,
// or goes on with one; else 0.
func (g *segment) limitsBegun() scope {
	if n := len(g.toks); n > 0 && n <= 6 && (g.is(n-1, "limit") || n > 1 && g.toks[n-1].kind == stop && g.is(n-2, "limit")) {
		return aiming // "Limits."
	}
	for i := range g.signs {
		s := &g.signs[i]
		switch {
		case s.from > 2:
		case s.is(calls):
			return calling
		case s.is(targets):
			return aiming
		}
	}
	if g.ctx.limitsToo != 0 && g.onlyLimits(g.ctx.limitsToo) {
		return g.ctx.limitsToo
	}
	return 0
}

// askedLimits takes for targets the bounds that a plan begins with, and those that are
// asked for: "Plan: sat 75-85, mean over 38", "sats between seventy five and eighty five,
// please".
func (g *segment) askedLimits() {
	if g.is(0, "plan") && (g.is(1, ":") || len(g.signs) > 1 && (g.signs[0].from == 1 && g.whatAt(0) != "" || g.signs[1].from == 1 && g.whatAt(1) != "")) {
		g.aimAt(0)
	}
	for k := range g.toks {
		if !g.is(k, "please", "pls") && !g.suits(k) {
			continue
		}
		j := k - 1
		for g.is(j, ",", "and") {
			j--
		}
		if n := g.signEnding(j + 1); n > 0 {
			g.aimBefore(n)
		}
	}
	for i := 1; i+2 < len(g.signs); i++ { // "nitroprusside for a mean of 45 to 55"
		if s := &g.signs[i]; g.whatAt(i) != "" && (g.is(s.from-1, "for") || g.is(s.from-1, "a", "the") && g.is(s.from-2, "for")) && g.rangeAt(i+1) && g.signs[i+1].from-s.to <= 1 {
			g.aimBefore(i + 2)
		}
	}
	g.calledLast()
	g.aimAtLeast()
	if n := len(g.signs); n == 3 && g.whatAt(0) == "mean-arterial" && g.signs[0].from == 0 && g.signs[1].is(above) && g.signs[2].num != nil {
		for i := range g.signs {
			g.signs[i].scope |= aiming // "Mean over forty five.": nobody tells of a pressure so
		}
	}
}

// suits tells whether the words at token k say that a range before them is good: "will
// do", "is fine by me".
func (g *segment) suits(k int) bool {
	switch {
	case g.is(k, "will", "would"):
		return g.is(k+1, "do", "suit") || g.is(k+1, "be") && g.is(k+2, "fine", "good", "perfect", "ideal", "acceptable", "ok", "okay", "plenty", "lovely", "enough")
	case g.is(k, "is", "are"):
		return g.is(k+1, "fine", "acceptable", "ideal", "ok", "okay", "wanted", "plenty", "enough")
	}
	return g.is(k, "suit")
}

// callWords end a limit that asks for a call last.
var callWords = wordSet("ring call phone shout page bleep ringing calling")

// calledLast takes for limits the bounds that a word for a call ends: "lactate above
// five, ring", "drains over ten per kilo: call".
func (g *segment) calledLast() {
	for k := range g.toks {
		j := k + 1
		for g.is(j, "me", "us", "please", "now", "immediately", "straight", "away") {
			j++
		}
		if !callWords[g.toks[k].text] || k == 0 || j < len(g.toks) && g.toks[j].kind != stop || !(j > k+1 && g.signEnding(k) >= 0 || g.toks[k-1].kind == mark || g.is(k-1, "please", "just", "then", "to", "must", "a")) {
			continue
		}
		if n := g.at[k]; n >= 0 && g.signs[n].to == k+1 {
			g.signs[n].used = true // "ring" is no ringed tube
		}
		for n := g.prevSign(k); n >= 0 && !g.crossesStop(g.signs[n].to, k); n-- {
			s := &g.signs[n]
			if s.scope&(aiming|past|denied|hearsay) != 0 || s.is(arrives) || s.is(turns) {
				break
			}
			s.scope = s.scope&^intended | calling
		}
	}
}

// aimAtLeast takes for targets what is to be no lower, or no higher: "haemoglobin no lower
// than twelve", "mean not below forty".
func (g *segment) aimAtLeast() {
	for i := 1; i < len(g.signs); i++ {
		s := &g.signs[i]
		if s.num == nil || s.scope&(calling|aiming|past|hearsay) != 0 {
			continue
		}
		k := s.from - 1
		if g.is(k, "than") && g.is(k-1, "lower", "less", "higher", "more", "greater") {
			k--
		} else if !g.is(k, "below", "under", "above", "over") {
			continue
		}
		if !g.is(k-1, "no", "not") {
			continue
		}
		j := i - 1
		for j >= 0 && g.signs[j].from >= k-1 {
			j--
		}
		if j >= 0 && g.whatAt(j) != "" && k-1-g.signs[j].to <= 3 && !g.crosses(g.signs[j].to, k-1) && !g.is(k-2, "was", "were", "is", "are", "went", "fell") {
			for m := j; m <= i; m++ {
				g.signs[m].scope = g.signs[m].scope&^(denied|intended|weighed) | aiming
			}
		}
	}
}

// signEnding is the number sign that ends at token k, its unit included, or -1.
func (g *segment) signEnding(k int) int {
	for n := range g.signs {
		if s := &g.signs[n]; s.to == k {
			if s.num == nil && s.has(isUnit) && n > 0 {
				n--
			}
			if g.signs[n].num != nil {
				return n
			}
		}
	}
	return -1
}

// aimBefore makes a target of the range that ends with the number at sign n.
func (g *segment) aimBefore(n int) {
	j := n - 1
	for j > 0 && (g.signs[j].num != nil || g.signs[j].has(isUnit) || g.signs[j].is(weighs)) {
		j--
	}
	low := -1
	for m := j; m < n; m++ {
		if m >= 0 && g.rangeAt(m) {
			low = m
		}
	}
	if j < 0 || low < 0 || g.whatAt(j) == "" || g.signs[j].scope&^(intended|weighed|vague|aiming) != 0 || g.is(g.signs[j].to, "was", "were") {
		return
	}
	for m := j; m <= n; m++ {
		g.signs[m].scope = g.signs[m].scope&^(intended|weighed) | aiming
	}
}

// aimAt makes targets of the bounds from sign i on, as long as nothing else is said.
func (g *segment) aimAt(i int) {
	last := -1
	for ; i < len(g.signs); i++ {
		s := &g.signs[i]
		switch {
		case g.whatAt(i) != "" && s.num == nil:
			last = i
		case last < 0 && !s.content():
			continue
		case s.num != nil && last >= 0 && (g.rangeAt(i) || i > 0 && g.rangeAt(i-1) || g.direction(amount{from: s.from, to: s.to, sign: i}) != ""):
			if end := g.endOfRange(i); g.is(end, "month", "week", "year", "day", "mo", "wk", "yr", "/") || end < len(g.toks) && g.at[end] >= 0 && g.is(g.signs[g.at[end]].from, "month", "week", "year", "day") {
				return // "Plan: Glenn at 4 to 6 months"
			}
			for m := last; m <= i; m++ {
				g.signs[m].scope = g.signs[m].scope&^intended | aiming
			}
		case s.is(above), s.is(below), s.has(isUnit):
		default:
			return
		}
	}
}

// backIntent are the last words of cues that follow what they speak of.
var backIntent = wordSet("wk poss tomorrow later tonight due pending awaited removal days week month morning evening scheduled raised mooted needed future time eventually once considered discussed out start")

// backLimit takes in "sats below sixty five, call me": a limit said first.
func (g *segment) backLimit(i int, flags []scope, f scope) {
	from := g.signs[i].from
	first := -1
	for j := i - 1; j >= 0 && from-g.signs[j].from < 26 && !g.crossesStop(g.signs[j].to, from); j-- {
		if (g.signs[j].is(above) || g.signs[j].is(below) || g.signs[j].is(depends) || g.signs[j].num != nil && g.is(g.signs[j].from-1, "past")) && flags[g.signs[j].from]&aiming == 0 {
			first = j
		}
	}
	if first >= 0 {
		start := g.startOf(g.signs[first].from, 6)
		if n := first + 1; g.signs[first].is(depends) && n < i && g.signs[n].from == g.signs[first].to && g.whatAt(n) != "" && g.is(g.signs[first].from, "if", "when") {
			start = g.signs[first].from // "lactate one point one if the Glenn crosses twenty call me"
		}
		for k := start; k < from; k++ {
			flags[k] |= f
		}
	}
}
