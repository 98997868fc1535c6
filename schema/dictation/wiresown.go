package dictation

import (
	"slices"

	"fairlead/schema"
)

// ownWords may stand between a chamber and what is said of its wires alone.
var ownWords = wordSet("one wire lead pair set are is were was both all left now the only")

// hearWirePairs puts the number in the place of a pair counted with its chamber between:
// "one atrial pair", "a pair on the atrium"; wires that go to a chamber are on it; a number
// after a chamber may be heard as "too", or said with "times".
func (g *segment) hearWirePairs() {
	for k := 2; k < len(g.toks); k++ {
		if v := chamberWord[g.wordAt(k+3)]; g.is(k-1, "a", "one") && g.is(k, "pair") && g.is(k+1, "on", "to") && g.is(k+2, "the") && len(v) > 1 {
			g.hearAs(k-1, k+4, "two "+v+" wires")
			continue
		}
		if g.is(k, "too") && g.is(k-1, "wire") && len(chamberWord[g.toks[k-2].text]) > 1 && (chamberWord[g.wordAt(k+1)] != "" || k < 3 || !smallNumber(g.toks[k-3].text) || g.is(k-4, "wire")) {
			g.hearAs(k, k+1, "two") // "a wires too v wires too"
		}
		if g.is(k-1, "time", "x") && smallNumber(g.toks[k].text) && len(chamberWord[g.toks[k-2].text]) > 1 && !g.is(k-2, "a", "v") {
			g.hearAs(k-2, k+1, g.toks[k].text+" "+g.toks[k-2].text) // "wires atrial times two ventricular times one"
		}
		if v := chamberWord[g.toks[k-1].text]; g.is(k, "pair") && len(v) > 1 && g.is(k-1, v) && g.is(k-2, "one", "a", "1") {
			g.hearAs(k-2, k+1, "two "+v)
		}
		if g.is(k-1, "wire", "pair") && g.is(k, "to") && g.is(k+1, "the") && g.is(k+2, "atrium", "ventricle") {
			g.hearAs(k, k+1, "on")
		}
	}
}

// chambersOwn gives what is said of the wires of one chamber, named again after the list
// of them, to those alone: "atrial two, ventricular two, atrial connected".
func (g *segment) chambersOwn() {
	kind := schema.ItemKindNamed("pacing-wires")
	end := 0
	for i := range g.groups {
		x := &g.groups[i]
		listed := func(y group) bool { return y.item == kind && y.variety == x.variety }
		if x.item == kind && !x.denied && !slices.ContainsFunc(g.groups[:i], listed) {
			end = max(end, x.to)
		}
	}
	if end == 0 {
		return
	}
	for k := end; k < len(g.toks); k++ {
		v := chamberWord[g.toks[k].text]
		j := k + 1
		for ; j < len(g.toks) && ownWords[g.toks[j].text]; j++ {
		}
		if v == "" || j >= len(g.toks) || g.at[j] < 0 || g.signs[g.at[j]].from != j || g.maybe(k) {
			continue
		}
		n := int(g.at[j])
		f, value := g.attributeValue(kind, n, nil)
		if f == nil || f.Numeric() || g.signs[n].scope&unreal != 0 {
			continue
		}
		if g.signs[n].scope&denied != 0 {
			value = g.deniedOf(&g.signs[n], f, value)
		}
		g.giveOwn(kind, f, v, value, k, j, g.signs[n].to)
	}
}

// giveOwn claims the value for the wires of one chamber, and takes it from the others.
func (g *segment) giveOwn(kind *schema.ItemKind, f *schema.Field, variety, value string, k, from, to int) {
	own := -1
	for i := range g.groups {
		if x := &g.groups[i]; own < 0 && x.item == kind && !x.denied && !x.gone && x.variety == variety {
			own = i
		}
	}
	if own < 0 || value == "" {
		return
	}
	for i := range g.claims {
		if c := &g.claims[i]; c.group >= 0 && c.field == f && c.from >= from && c.to <= to && g.groups[c.group].item == kind {
			c.gone = true
		}
	}
	for i := range g.claims {
		if c := &g.claims[i]; c.group == own && c.field == f && !c.gone {
			return
		}
	}
	g.claimIn(own, f, value, from, to, k, to)
	if n := g.at[from]; n >= 0 {
		g.signs[n].used = true
	}
}

// wiresSaid gives the mth of the wires jotted down what is said after it, and the others
// what ends the list: "A wires two, V wires two, insulated". A number is the last one's
// own where it is not said of all.
func (g *segment) wiresSaid(kind *schema.ItemKind, made []int, m int, variety string, limit int, all bool) {
	t := thing{head: -1, to: g.groups[made[m]].to, of: kind, varieties: []string{variety}}
	for _, c := range g.attributesOf(&t, kind, limit) {
		if c.field.Name == "count" {
			continue
		}
		for k, other := range made {
			if k == m || (all || !c.field.Numeric()) && m == len(made)-1 && !g.claimed(other, c.field) {
				c.group = other
				g.claims = append(g.claims, c)
			}
		}
	}
}

// denyLetters lists the chamber that is denied by its letter beside the other's count:
// "V x2, A none", "V x2, no A", "A wires x2, no temp V".
func (g *segment) denyLetters(kind *schema.ItemKind, letter func(int) string) {
	for k := range g.toks {
		v := letter(k)
		if v == "" || slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && x.variety == v && !x.gone }) {
			continue
		}
		from, to := k, k+1
		for g.is(from-1, "temporary", "temp") {
			from--
		}
		switch {
		case (g.is(to, "none", "nil", "0", "zero") || g.is(to, "x") && g.is(to+1, "0", "zero", "none")) && (k == 0 || g.is(k-1, ",", "and", ";", ":", "wire")):
			to++
		case g.is(from-1, "no", "0") && (to >= len(g.toks) || g.toks[to].kind != word):
			from--
		default:
			continue
		}
		gi := g.newGroup("items", from, to)
		g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, v, true
		g.claimIn(gi, kind.Field("variety"), v, k, k+1, from, to)
		if n := g.at[k]; n >= 0 {
			g.signs[n].used = true
		}
	}
}
