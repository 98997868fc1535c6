package dictation

// Some tell an operation from its end: "Before that was the bypass, 137 minutes. Before
// that, the fourth sternotomy." What is so told was done at this operation, and only
// what the child's state was is of a time that has passed.

// passingStates are words of states that change, of which "before that" tells how they
// were.
var passingStates = wordSet("sat saturation stats lactate pressure mean systolic diastolic gradient ph hb haemoglobin hemoglobin potassium rate running nitric glenn fontan fio2 oxygen heart milrinone adrenaline epi noradrenaline")

// stepsBack tells whether a segment opens a step of an account told backwards.
func (g *segment) stepsBack() bool {
	k := 0
	for g.is(k, "and", "just", "then", "so", "even") {
		k++
	}
	if !g.is(k, "before") {
		return false
	}
	k++
	switch {
	case g.is(k, "that", "this", "it", ",", ":"):
		k++
	case g.is(k, "all") && g.is(k+1, "this", "that"):
		k += 2
	case g.is(k, "the") && g.is(k+1, "closing", "closure") && g.is(k+2, ","), g.is(k, "closing", "closure") && g.is(k+1, ","):
		k++
	case g.is(k, "we") && g.is(k+1, "closed") && g.is(k+2, ","):
		k += 2
	default:
		return false
	}
	for end := k + 12; k < len(g.toks) && k < end && g.toks[k].kind != stop; k++ {
		if passingStates[g.toks[k].text] {
			return false
		}
	}
	return true
}

// aimsAtNext tells whether the target cue at sign i speaks of the measure that follows it, so
// that a number before it is of the measure before: "mean 52 target sats 75 to 85".
func (g *segment) aimsAtNext(i int) bool {
	n := i + 1
	for n < len(g.signs) && g.signs[n].from-g.signs[i].to <= 3 && !g.signs[n].content() && g.signs[n].num == nil {
		n++
	}
	return i > 1 && g.signs[i-1].num != nil && g.signs[i-1].to == g.signs[i].from && n < len(g.signs) && g.signs[n].from-g.signs[i].to <= 3 && g.whatAt(n) != ""
}

// keepsThing tells whether "keep" at sign s is said of a thing that stays, and sets no
// target: "we keep it for the journey", "I keep the tube in".
func (g *segment) keepsThing(s *sign) bool {
	if s.to-s.from != 1 && !(s.to-s.from == 2 && g.is(s.to-1, "the")) || !g.is(s.from, "keep", "keeping", "kept") {
		return false
	}
	k := s.to
	if g.is(k, "it", "him", "her", "them", "that") && g.is(k+1, "for", "in", "as", "there", "running", "going", "until", "till", "through", ",") {
		return true
	}
	if g.is(k, "the", "this", "his", "her") {
		k++
	}
	return g.is(k, "tube", "line", "drain", "catheter", "membrane", "wire", "cannula", "probe") && !g.numberAt(k+1)
}
