package dictation

import "fairlead/schema"

var birthOrders = map[string]string{"one": "1", "1": "1", "a": "1", "i": "1", "first": "1", "two": "2", "2": "2", "b": "2", "ii": "2", "second": "2", "three": "3", "3": "3", "c": "3", "third": "3"}

// readBirthOrder reads which of several born together the child is: "the second
// twin", "twin two", "first of twins". What is told of another of them is not of
// this child: "the first twin had".
func (g *segment) readBirthOrder() {
	multiple, order := fieldAt(schema.ChildMultiple), fieldAt(schema.ChildBirthOrder)
	if !g.inNote(order) {
		return
	}
	for k := range g.toks {
		value := ""
		switch {
		case g.is(k, "twin"):
			value = "twin"
		case g.is(k, "triplet"):
			value = "triplet"
		default:
			continue
		}
		from, to := k, k+1
		said := birthOrders[g.wordAt(k+1)]
		switch {
		case said != "" && g.wordAt(k+1) != "a":
			to = k + 2
		case birthOrders[g.wordAt(k-1)] != "" && g.wordAt(k-1) != "a":
			said, from = birthOrders[g.wordAt(k-1)], k-1
		case g.is(k-1, "of") && birthOrders[g.wordAt(k-2)] != "":
			said, from = birthOrders[g.wordAt(k-2)], k-2
		}
		if said == "" || g.is(to, "had", "has", "was", "went", "died", "did") || g.is(from-1, "other") {
			continue
		}
		if g.unrealAt(k) && !g.is(k-1, "second", "first", "third") {
			continue
		}
		g.claimField(multiple, value, k, k+1, from, to)
		g.claimField(order, said, from, to, from, to)
		for n := g.nextSign(from); n < len(g.signs) && g.signs[n].from < to; n++ {
			g.signs[n].used = true
		}
	}
}
