package dictation

import "fairlead/schema"

// readGasTime reads when the gas was taken, said right beside it and not with "at":
// "Gas 15:50: 7.29", "the 14:20 gas", "ABG taken at quarter past two". Only a time that
// can be nothing else is taken where no word says that it is one.
func (g *segment) readGasTime() {
	f := fieldAt(schema.GasSampled)
	if !g.inNote(f) || g.answered(f) {
		return
	}
	for k := range g.toks {
		if !g.is(k, "gas", "abg", "vbg") || g.is(k+1, "flow", "exchange", "sweep") {
			continue
		}
		j := k + 1
		for g.is(j, "of", "taken", "sent", "done", "sampled", "was", "timed", "drawn", "from", "off", "the", "line", "(", ":") {
			j++
		}
		at := g.is(j, "at", "@")
		if at {
			j++
		}
		i := -1
		if g.clockAt(j, at) {
			i = int(g.at[j])
		} else if n := g.prevSign(k); n >= 0 && g.signs[n].to == k && g.clockAt(g.signs[n].from, false) && g.is(g.signs[n].from-1, "the", "our", "and") {
			i = n
		} else if n = g.prevSign(k); n >= 0 && g.is(k-1, "the", "our", "a") && g.signs[n].to == k-1 && g.is(g.signs[n].from-1, "at") && g.clockAt(g.signs[n].from, true) {
			i = n // "at 16:10 the gas showed"
		}
		if i < 0 {
			continue
		}
		s := &g.signs[i]
		c := g.claimField(f, s.num.clock, s.from, s.to, min(k, s.from), max(k+1, s.to))
		if later := g.afternoon(i); later != "" {
			c.value, c.sure, c.note = later, Check, "taken as in the afternoon"
		}
		s.used = true
		return
	}
}

// clockAt tells whether a free time of day stands at token k. Where no word says that
// it is one, it must be written as one.
func (g *segment) clockAt(k int, said bool) bool {
	if !g.numberAt(k) {
		return false
	}
	i := int(g.at[k])
	s := &g.signs[i]
	return s.num.clock != "" && !s.used && s.scope&(denied|unreal&^hearsay) == 0 && (s.num.surely || said && s.num.clock >= "07:00" || said && g.afternoon(i) != "")
}

// relatives are those who are told how it went; telling are the words of it.
var relatives = wordSet("family parents parent mother mum mummy mom father dad daddy grandparents grandmother guardian guardians")

var telling = wordSet("told spoke spoken talked talk updated update informed seen debriefed called phoned rang met saw explained")

// readFamilyAt reads when the family was told: "spoke with the parents at quarter past
// four", "mum and dad updated 15:45".
func (g *segment) readFamilyAt() {
	f := fieldAt(schema.CareFamilyAt)
	if !g.inNote(f) || g.answered(f) {
		return
	}
	who, said := -1, -1
	for k := range g.toks {
		t := g.toks[k].text
		if g.toks[k].kind == stop {
			who, said = -1, -1
		}
		if relatives[t] {
			who = k
		}
		if telling[t] && !g.is(k-1, "be", "to") {
			said = k
		}
		if who < 0 || said < 0 || max(who, said) < k-8 || !g.numberAt(k) || g.is(k-1, "to", "past") || int(g.signs[g.at[k]].from) != k {
			continue
		}
		if at := g.is(k-1, "at", "@"); g.clockAt(k, at) {
			i := int(g.at[k])
			s := &g.signs[i]
			c := g.claimField(f, s.num.clock, s.from, s.to, min(who, said), s.to)
			if later := g.afternoon(i); later != "" {
				c.value, c.sure, c.note = later, Check, "taken as in the afternoon"
			}
			s.used = true
			return
		}
	}
}

// allergens are what children are commonly allergic to, and its kind.
var allergens = map[string]string{
	"latex": "latex", "chlorhexidine": "chlorhexidine", "chlorhex": "chlorhexidine", "contrast": "contrast",
	"penicillin": "drug", "amoxicillin": "drug", "cefazolin": "drug", "cephalosporin": "drug", "cephalosporins": "drug", "vancomycin": "drug", "protamine": "drug", "aspirin": "drug", "ibuprofen": "drug", "morphine": "drug", "codeine": "drug", "teicoplanin": "drug", "gentamicin": "drug", "sulfa": "drug", "antibiotics": "drug", "augmentin": "drug",
	"plaster": "adhesive", "plasters": "adhesive", "tape": "adhesive", "elastoplast": "adhesive", "adhesive": "adhesive", "adhesives": "adhesive",
	"egg": "food", "eggs": "food", "nut": "food", "nuts": "food", "peanut": "food", "peanuts": "food", "milk": "food", "soya": "food", "soy": "food", "fish": "food",
	"platelets": "blood-product", "plasma": "blood-product",
}

// readAllergies reads what the child is allergic to by its kind: "latex allergy",
// "allergic to penicillin and chlorhexidine".
func (g *segment) readAllergies() {
	list := schema.ChildAllergies
	if !g.inNote(fieldAt(list)) || !g.mentions("allergy", "allergic", "allergie", "react") || g.mentions("mother", "mum", "mom", "father", "dad", "family") {
		return
	}
	for k := range g.toks {
		kind := allergens[g.toks[k].text]
		if kind == "" || g.crossedOut(k) {
			continue
		}
		beside := g.is(k+1, "allergy", "allergie", "allergic")
		for j := k - 1; j >= 0 && j >= k-6 && (g.toks[j].kind != stop || g.is(j, ":")) && !beside; j-- {
			if g.denyingAt(j) || g.is(j, "known", "unlike", "but") && !g.is(j+1, "latex") {
				break
			}
			beside = g.is(j, "allergic", "allergy", "allergie", "react")
		}
		if !beside || g.is(k-1, "no", "not", "nil") || g.is(k-2, "no", "not", "nil") {
			continue
		}
		gi := g.newGroup(list, k, k+1)
		g.claimIn(gi, rowField(list, "kind"), kind, k, k+1, k, k+1)
		sp := g.toks[k].span
		g.claimIn(gi, rowField(list, "substance"), g.text[sp.Start:sp.End], k, k+1, k, k+1)
		if n := g.at[k]; n >= 0 {
			g.signs[n].used = true
		}
	}
}

// crossedOut tells whether token k is said of another time or taken back.
func (g *segment) crossedOut(k int) bool {
	n := g.nextSign(k)
	if n < len(g.signs) && g.signs[n].from <= k {
		return g.signs[n].scope&(unreal|denied) != 0
	}
	if n = g.prevSign(k + 1); n >= 0 && k-g.signs[n].to <= 2 {
		return g.signs[n].scope&(denied|hearsay) != 0
	}
	return false
}

// notOurs tells whether the words from token k on end in saying that it was another
// child: "was 5, not her", "had a six, not this one".
func (g *segment) notOurs(k int) bool {
	for ; k+1 < len(g.toks) && g.toks[k].kind != stop; k++ {
		if g.is(k, "not") && g.is(k+1, "her", "him", "his", "this", "our", "mine") && (k+2 >= len(g.toks) || g.toks[k+2].kind != word || g.is(k+2, "one", "child", "baby")) {
			return true
		}
	}
	return false
}
