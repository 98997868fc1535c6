package dictation

// The point of a decimal is said in other ways than "point": much of the world says
// "comma", and of an inotrope many say only the nought: "adrenaline oh five".

// saysPoint tells whether token i stands for the point of a decimal; keep, whether it
// is a figure of it too.
func (g *segment) saysPoint(i int) (says, keep bool) {
	switch g.toks[i].text {
	case "comma":
		return g.commaPoint(i), false
	case "oh", "o":
		return i > 0 && i+1 < len(g.toks) && units[g.toks[i+1].text] > 0 && !g.is(i+2, "point", "comma") && g.spokenOf(i-1, smallDosed), true
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
var leadsToNumber = wordSet("s is at was now to of be used on up down from went oh back been then , - 2 o2")

// commaPoint tells whether the word "comma" at token i is a decimal's, and not the sign
// someone dictates: figures stand behind it, and before it the whole, or the name of
// what is always less than one.
func (g *segment) commaPoint(i int) bool {
	v, n, digits := under(g.toks, i+1)
	if n == 0 || i+1+n < len(g.toks) && counted[g.toks[i+1+n].text] && v > 0 && digits == 1 && g.toks[i+1].text != "oh" {
		return false // "fifteen comma two wires"
	}
	if i == 0 {
		return false
	}
	w := g.toks[i-1].text
	if _, ok := units[w]; ok || teens[w] > 0 || tens[w] > 0 || w == "hundred" {
		return digits == 1 || n == 2
	}
	if digits != 1 && v%5 != 0 {
		return false
	}
	if g.spokenOf(i-1, belowOne) {
		return true
	}
	for k := i + 1 + n; g.toks[i-1].text == "," && k < len(g.toks) && k < i+5; k++ {
		if g.is(k, "mil", "ml", "milligram", "mg", "microgram", "mic", "mcg", "unit", "liter", "l") && g.is(k+1, "per", "a", "/") {
			return true
		}
	}
	return false
}

// belowOne are names whose values are less than one, and are said from the comma on.
var belowOne = wordSet("adrenaline epinephrine epi adr noradrenaline norepinephrine norepi norad milrinone milr vasopressin vaso fio fio2 oxygen furosemide frusemide dexmedetomidine dex sweep levosimendan")
