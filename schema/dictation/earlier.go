package dictation

import (
	"slices"

	"fairlead/schema"
)

// earlierThan are the operations that stand before a kind of note in the steps of
// palliation; those between the stages may follow any.
var earlierThan = map[schema.Kind][]string{
	schema.Stage2: {"stage-1", "hybrid-stage-1", "shunt-alone"},
	schema.Stage3: {"stage-1", "hybrid-stage-1", "stage-2", "shunt-alone"},
}

// readEarlier reads the operations before this one: "six weeks after the Norwood",
// "previous Glenn", "at stage one".
func (g *segment) readEarlier() {
	list := schema.BeforeOperations
	if !g.inNote(fieldAt(list)) || g.lex.kind == schema.Stage1 {
		return
	}
	operation := rowField(list, "operation")
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, operation)
		if v != "stage-1" && v != "hybrid-stage-1" && v != "stage-2" && v != "stage-3" || s.scope&(intended|calling|aiming|weighed|hearsay|denied) != 0 {
			continue
		}
		if only := earlierThan[g.lex.kind]; only != nil && !slices.Contains(only, v) || g.lex.kind == schema.Takedown && v == "stage-3" && !g.is(s.from-1, "after", "post") {
			continue
		}
		k := s.from - 1
		for g.is(k, "the", "her", "his", "a", "an", "op") {
			k--
		}
		if !g.is(k, "after", "post", "since", "following", "previous", "earlier", "prior") && !(g.is(k, "at") && s.scope&past != 0) && !(g.is(k, "p") && g.is(k-1, "/")) || g.is(s.to, "pressure", "tomorrow", "next") || g.is(s.to, "had", "was") && g.is(k, "after", "since") {
			continue
		}
		if slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == operation && c.value == v }) {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		c := g.claimIn(gi, operation, v, s.from, s.to, max(0, k), s.to)
		c.sure, c.note = Check, "named as what went before"
	}
}

// readAvailable reads the products that are still there for the child: "two units of
// red cells in the fridge".
func (g *segment) readAvailable() {
	list := schema.BloodAvailable
	if !g.inNote(fieldAt(list)) || !g.mentions("available", "fridge", "crossmatched", "reserved", "unopened") || g.mentions("unavailable", "prime") {
		return
	}
	product, quantity := rowField(list, "product"), rowField(list, "quantity")
	for i := range g.signs {
		s := &g.signs[i]
		v := ""
		for _, x := range s.senses {
			if x.kind == isValue && !x.inner && x.field == product {
				v = x.value
			}
		}
		if v == "" || v == "other" || !g.plainTalk(i) || s.item {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		g.claimIn(gi, product, v, s.from, s.to, s.from, s.to)
		s.used = true
		for j := i - 1; j >= 0 && j >= i-2 && s.from-g.signs[j].to <= 2; j-- {
			if g.signs[j].num == nil {
				continue
			}
			if a, ok := g.amountAt(j); ok {
				g.claimIn(gi, quantity, g.words(a.from, a.to), a.from, a.to, a.from, s.to)
				g.useAmount(a)
			}
			break
		}
	}
}
