package dictation

// Of an inotrope many say only the nought where others say the point: "adrenaline oh
// five".

// saysPoint tells whether token i stands for the point of a decimal; keep, whether it
// is a figure of it too.
func (g *segment) saysPoint(i int) (says, keep bool) {
	switch g.toks[i].text {
	case "oh", "o":
		return i > 0 && i+1 < len(g.toks) && units[g.toks[i+1].text] > 0 && !g.is(i+2, "point", "comma") && !g.is(i-1, "point", "comma", "nought", "zero") && g.spokenOf(i-1, smallDosed), true
	}
	return false, false
}

// spokenOf tells whether one of some names, or a few words from it up to token k, are
// what is spoken of.
func (g *segment) spokenOf(k int, names map[string]bool) bool {
	for end := k - 8; k >= 0 && k > end; k-- {
		if names[g.toks[k].text] {
			return true
		}
		if !leadsToNumber[g.toks[k].text] && units[g.toks[k].text] == 0 {
			return false
		}
	}
	return false
}

// leadsToNumber are words between a name and its number.
var leadsToNumber = wordSet("s is at was now to of be used on up down from went oh back been then no sorry point nought zero it they had are and we , - 2 o2")
