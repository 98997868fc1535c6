package dictation

// itIs are the words right before a number that say it is the right one.
var itIs = splitPhrases("it; it is; its; it was; it is a; its a; her is; hers is; his is; ours is; hers was; his was; this is; this one is; the right one is; so it is; is really; write; put; take; use; so; theirs is; make it; been at; been on; been down at; been down to; been up at; have him on; has him on; have her on; has her on; got him on; got her on; have them on; have it at; have it on; has it at; has it on; got it at; got it on; sitting at; running at; down at")

// longRepair puts right a number after a correction with much said between: "twenty two
// tube, no hang on, Katie, hand me the box, it's a twenty four", "junctional at one ten.
// No, he was back in sinus by the door, one twenty four", "Eighty. Not eighty, ninety".
func (g *segment) longRepair() {
	g.misreadDigits()
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.from == 0 {
			continue
		}
		if g.is(s.from, "not") && s.to-s.from == 1 {
			g.notButThis(i)
			continue
		}
		if s.num != nil || !(s.is(corrects) && !g.weakCue(s) || s.is(scratches) || g.is(s.from, "no") && g.interjected(s)) {
			continue
		}
		a := g.numberEnding(i)
		if a < 0 {
			continue
		}
		b, many := -1, 0
		for j := i + 1; j < len(g.signs) && g.signs[j].from-s.to <= 24; j++ {
			p := &g.signs[j]
			if p.is(calls) || p.is(targets) || p.scope&(calling|aiming) != 0 {
				break
			}
			if p.num == nil || p.used {
				continue
			}
			if many++; b < 0 {
				b = j
			}
			if g.toks[p.from-1].kind == stop {
				break // the next statement
			}
		}
		if b < 0 || g.signs[b].from-s.to < 3 || !sameSort(&g.signs[a], &g.signs[b]) || g.unitsDiffer(a, b) || !g.nearEnough(&g.signs[a], &g.signs[b]) || !g.nearTo(a, b, 1.5) || g.namesAnother(a, i, b) {
			continue
		}
		_, said := g.endsIn(itIs, s.to, g.signs[b].from)
		if !said && !(many == 1 && g.is(g.signs[b].from-1, ",") && g.endsSentence(b)) {
			continue
		}
		for j := i; j < b; j++ {
			if g.signs[j].is(corrects) || g.signs[j].is(scratches) || g.signs[j].is(denies) {
				g.signs[j].used = true
			}
		}
		g.takePlace(a, b)
	}
}

// numberEnding is the last number before sign i, with no more than its unit, its noun or
// when it held between; -1 where there is none.
func (g *segment) numberEnding(i int) int {
	for j := i - 1; j >= 0 && j >= i-4 && g.signs[i].from-g.signs[j].to <= 6; j-- {
		p := &g.signs[j]
		if p.has(isItem) || p.has(isVariety) {
			return -1 // "mediastinal sixteen and a left pleural, no, right"
		}
		if p.num != nil {
			if p.used || p.content() || p.scope&(calling|aiming) != 0 {
				return -1
			}
			return j
		}
	}
	return -1
}

// namesAnother tells whether something with a number of its own is named between the
// correction at sign i and the number at sign b, and it is not named before sign a too.
func (g *segment) namesAnother(a, i, b int) bool {
	for j := i + 1; j < b; j++ {
		p := &g.signs[j]
		for _, x := range p.senses {
			if x.kind != namesField || x.field == nil || !x.field.Numeric() || x.field.Path.List() != "" || g.signs[b].from-p.to > 4 {
				continue
			}
			known := false
			for q := max(0, a-4); q < a; q++ {
				known = known || sameField(&g.signs[q], p)
			}
			if !known {
				return true
			}
		}
	}
	return false
}

// endsSentence tells whether nothing but a unit follows sign i in its sentence.
func (g *segment) endsSentence(i int) bool {
	k := g.signs[i].to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == k {
		k = g.signs[i+1].to
	}
	return k >= len(g.toks) || g.toks[k].kind == stop
}

// notButThis carries out "not eighty, ninety" and "not kinked, narrowed": what was said
// before, and is denied by its own name, gives way to what comes after the comma.
func (g *segment) notButThis(i int) {
	if i+2 >= len(g.signs) {
		return
	}
	s, x, y := &g.signs[i], &g.signs[i+1], &g.signs[i+2]
	if x.from != s.to || !g.is(x.to, ",", "but") || y.from-x.to > 4 || x.used || y.used || !sameSort(x, y) || y.num == nil && !y.has(isValue) {
		return
	}
	for j := i - 1; j >= 0 && j >= i-8; j-- {
		p := &g.signs[j]
		switch {
		case p.used || p.scope&(calling|aiming) != 0:
		case y.num != nil && p.num != nil && p.num.decimal == x.num.decimal && !p.content():
			s.used, x.used = true, true
			g.takePlace(j, i+2)
			return
		case y.num == nil && p.num == nil && p.node == x.node:
			for n := j + 1; n <= i+1; n++ {
				g.signs[n].used = true
			}
			g.substitute(j, i+2)
			return
		}
	}
}

// misreadDigits leaves out a digit that is only told to have been misread: "ninety eight,
// I misread the eight".
func (g *segment) misreadDigits() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.num != nil && g.is(s.from-1, "the") && g.is(s.from-2, "misread", "mistook", "misheard", "transposed") {
			s.used = true
		}
	}
}

// saidElse carries out "I said eighty seven to the family, it's eighty one", "I say four, the
// one inside him is three and a half", "I keep saying twenty, nineteen": the number that was
// only said gives way, here or where a sentence before has it.
func (g *segment) saidElse() {
	for k := range g.toks {
		if !g.is(k, "said", "say", "told", "saying") || !g.is(k-1, "i", "we", "keep", "kept") {
			continue
		}
		a := g.nextSign(k + 1)
		for a < len(g.signs) && g.signs[a].num == nil && g.signs[a].from-k <= 4 {
			a++
		}
		if a >= len(g.signs) || g.signs[a].num == nil || g.signs[a].used || g.signs[a].from-k > 4 || g.crosses(k, g.signs[a].from) {
			continue
		}
		if g.wronglySaid(a) {
			g.leaveOut(k, a)
			continue
		}
		keep := g.is(k, "saying")
		for b := a + 1; b < len(g.signs) && g.signs[b].from-g.signs[a].to <= 16 && !g.crossesStop(g.signs[a].to, g.signs[b].from); b++ {
			p := &g.signs[b]
			if p.num == nil || p.used || p.content() || p.num.decimal == g.signs[a].num.decimal || !sameSort(&g.signs[a], p) || !g.nearEnough(&g.signs[a], p) || g.unitsDiffer(a, b) || g.namedAfter(b) {
				continue
			}
			j := p.from - 1
			for g.is(j, "a", "an", "the", "only", "just", "really", "actually", "now") {
				j--
			}
			its := g.is(j, "it") && g.is(j-1, ",", "but", "and") || g.is(j, "is", "was", "are") && g.is(j-1, "it", "that", "they")
			if !its && !g.putIn(b) && !(keep && g.is(j, ",")) {
				continue
			}
			g.letStand(k, a, b)
			break
		}
	}
}

// wronglySaid tells whether the number at sign a is told to have been said wrong: "I said
// twelve to the nurses and that was wrong".
func (g *segment) wronglySaid(a int) bool {
	for k := g.signs[a].to; k < len(g.toks) && k < g.signs[a].to+9 && g.toks[k].kind != stop && !g.numberAt(k); k++ {
		if g.is(k, "wrong", "incorrect", "mistaken", "rubbish", "nonsense", "mistake") {
			return true
		}
	}
	return false
}

// leaveOut leaves out the words from token k that tell of the number at sign a, and the number.
func (g *segment) leaveOut(k, a int) {
	for i := range g.signs {
		if s := &g.signs[i]; i == a || s.from >= k-1 && s.from-g.signs[a].to <= 9 && (s.is(corrects) || s.is(scratches)) {
			s.used = true
		}
	}
}

// explained leaves out a number that is said again only to tell what it was, and lets the one
// between stand for it: "six kilos, sorry, six point four, six was the clinic weight", "four,
// no, five, the four was last week's".
func (g *segment) explained() {
	for i := 2; i < len(g.signs); i++ {
		s := &g.signs[i]
		if s.num == nil || s.used || s.num.decimal == "" || !g.is(s.to, "was", "is", "were") || !tellsWhat[g.wordAt(s.to+1)] {
			continue
		}
		k := s.from - 1
		for g.is(k, "the", "that", "because", "as", "and") {
			k--
		}
		if k < 1 || !g.is(k, ",") && g.toks[k].kind != stop {
			continue
		}
		b := g.prevSign(k + 1)
		if b > 0 && g.signs[b].num == nil && g.signs[b].has(isUnit) && g.signs[b].from == g.signs[b-1].to {
			b--
		}
		if b < 0 || k-g.signs[b].to > 1 || g.signs[b].num == nil || g.signs[b].used || g.signs[b].num.decimal == s.num.decimal {
			continue
		}
		for a := b - 1; a >= 0 && g.signs[b].from-g.signs[a].to <= 6; a-- {
			p := &g.signs[a]
			if p.num == nil {
				continue
			}
			if p.num.decimal != s.num.decimal || p.used || !g.nearEnough(p, &g.signs[b]) || g.unitsDiffer(a, b) {
				break
			}
			for n := i; n < len(g.signs) && !g.crosses(s.from, g.signs[n].from); n++ {
				g.signs[n].used = true
			}
			for n := a + 1; n < b; n++ {
				if c := &g.signs[n]; c.is(corrects) || c.is(scratches) || c.is(denies) {
					c.used = true
				}
			}
			g.takePlace(a, b)
			break
		}
	}
}

// tellsWhat are the words after "was" with which it is told what a number was of.
var tellsWhat = wordSet("the her his my our their last yesterday this from in on at for what only just before by with another another's")

// opensWithRight carries out a correction that opens a sentence and is owned to after it:
// "A twenty-two tube, extracardiac. Twenty-four, I beg your pardon, I'd asked for ...".
func (g *segment) opensWithRight(i int) bool {
	r := i - 1
	for r > 0 && g.signs[r].num == nil && g.signs[r].has(isUnit) && g.signs[r].from == g.signs[r-1].to {
		r--
	}
	if r < 1 || g.signs[r].num == nil || g.signs[r].used || g.signs[r].from < 2 || g.toks[g.signs[r].from-1].kind != stop || g.signs[i].from-g.endOfAmount(r) > 1 {
		return false
	}
	for a := r - 1; a >= 0 && g.signs[r].from-g.signs[a].to <= 6; a-- {
		p := &g.signs[a]
		if p.num == nil {
			continue
		}
		if p.used || p.content() || !sameSort(p, &g.signs[r]) || g.unitsDiffer(a, r) || !g.nearTo(a, r, 1.5) {
			return false
		}
		g.takePlace(a, r)
		g.signs[i].used = true
		return true
	}
	return false
}

// letStand puts the number at sign b, for which the one at sign a was only said at token k,
// in the place of what was said before of the same.
func (g *segment) letStand(k, a, b int) {
	for i := range g.signs {
		if s := &g.signs[i]; s.num == nil && s.from >= k-2 && s.to <= g.signs[b].from && !s.content() {
			s.used = true
		}
	}
	if g.namedAfter(a) || a > 0 && g.signs[a-1].from > k && g.signs[a-1].content() {
		g.takePlace(a, b) // "I said two ventricular, it's one"
		return
	}
	wrong, right := g.signs[a].num.decimal, g.signs[b].num.decimal
	g.signs[a].used = true
	for p := a - 1; p >= 0 && k-g.signs[p].to <= 12; p-- {
		if x := &g.signs[p]; x.num != nil && !x.used && !x.content() && (x.num.decimal == wrong || x.num.decimal == right) {
			g.takePlace(p, b)
			return
		}
	}
	switch {
	case k > 3: // "One drain, a mediastinal. I said twelve French to the nurse, it is a ten."
		g.signs[a].used = false
		g.takePlace(a, b)
	case wrong != right && wrong != "":
		g.amends = append(g.amends, amend{wrong, right})
		g.signs[b].used = true
	}
}
