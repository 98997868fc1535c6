package dictation

import (
	"slices"

	"fairlead/schema"
)

// earlierThan are the operations that stand before a kind of note in the steps of
// palliation; those between the stages may follow any.
var earlierThan = map[schema.Kind][]string{
	schema.Stage2: {"stage-1", "hybrid-stage-1", "shunt-alone", "shunt-revision", "pulmonary-artery-band", "arch-repair"},
	schema.Stage3: {"stage-1", "hybrid-stage-1", "stage-2", "shunt-alone", "shunt-revision", "pulmonary-artery-band", "arch-repair"},
}

// readEarlier reads the operations before this one: "six weeks after the Norwood",
// "a Norwood in her first week and a Glenn at five months", "day nine of a Fontan".
func (g *segment) readEarlier() {
	list := schema.BeforeOperations
	if !g.inNote(fieldAt(list)) || g.lex.kind == schema.Stage1 {
		return
	}
	operation := rowField(list, "operation")
	last := -1 // the operation before, for one that is told with it
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, operation)
		if v == "" && s.is(history) && g.is(s.from, "previous", "prior", "post") {
			n, _ := g.lex.match(g.toks[:s.to], s.to-1)
			v = g.valueOf(&sign{senses: g.lex.senses[n]}, operation)
		}
		if v == "" && g.shuntAlone(i) {
			v = "shunt-alone"
		}
		if !earlierOperations[v] || v == string(g.lex.kind) || v == "pulmonary-artery-band" && g.mentions("hybrid") {
			continue
		}
		if only := earlierThan[g.lex.kind]; only != nil && !slices.Contains(only, v) || g.lex.kind == schema.Takedown && v == "stage-3" && !g.is(s.from-1, "after", "post") {
			continue
		}
		if s.scope&denied != 0 && v == "stage-1" {
			g.claimNotNeeded(s)
		}
		told := s.scope
		if g.hadBy(g.beforeName(s.from)) {
			told &^= hearsay // "a boy who had a hybrid in January"
		}
		if told&(intended|calling|aiming|weighed|hearsay|denied) != 0 {
			continue
		}
		k, ok := g.ledEarlier(s)
		if g.is(k, "had") && g.is(k-1, "we", "i") {
			continue // another child
		}
		if !ok && last >= 0 && g.is(k, "and", "then", ",") && s.from-g.signs[last].to <= 12 && !g.crossesStop(g.signs[last].to, s.from) {
			ok = true
		}
		if !ok && !g.datedEarlier(s) || g.is(s.to, "pressure", "tomorrow", "next", "again", "later", "line", "gradient", "candidate") || g.is(s.to, "had", "was") && g.is(k, "after", "since") {
			continue
		}
		last = i
		g.claimPlace(i, v)
		if slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == operation && c.value == v }) {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		c := g.claimIn(gi, operation, v, s.from, s.to, max(0, k), s.to)
		c.sure, c.note = Check, "named as what went before"
	}
}

// earlierOperations are those that are told of as what went before.
var earlierOperations = map[string]bool{"stage-1": true, "hybrid-stage-1": true, "stage-2": true, "stage-3": true, "pulmonary-artery-band": true, "shunt-alone": true, "shunt-revision": true, "arch-repair": true}

// beforeName is the last word before what qualifies the name of an operation: "her
// right bidirectional Glenn".
func (g *segment) beforeName(k int) int {
	k--
	for g.is(k, "the", "her", "his", "a", "an", "op", "right", "left", "bilateral", "bidirectional", "modified", "classic", "comprehensive", "r", "l", "three", "half", "four", "blalock") || k >= 0 && g.is(k, "and") && g.is(k+1, "a") && g.is(k+2, "half") {
		k--
	}
	return k
}

// hadBy tells whether the child is said to have had what follows token k: "who had",
// "had his", "has received in another hospital".
func (g *segment) hadBy(k int) bool {
	for j := k; j > k-5 && j >= 0 && g.toks[j].kind == word; j-- {
		switch {
		case g.is(j, "received", "underwent", "having"):
			return !g.is(j-1, "we", "i")
		case g.is(j, "had"):
			return j == k && !g.is(j-1, "we", "i", "which", "that") && !(g.is(j-1, "who") && g.oneIn(j-6, j-1, "another", "other", "next", "last", "previous"))
		}
	}
	return false
}

// oneIn tells whether one of the words stands between tokens a and b.
func (g *segment) oneIn(a, b int, words ...string) bool {
	for k := max(a, 0); k < b && k < len(g.toks); k++ {
		if g.is(k, words...) {
			return true
		}
	}
	return false
}

// ledEarlier tells whether the words before an operation's name make it one that went
// before, and where they begin.
func (g *segment) ledEarlier(s *sign) (int, bool) {
	k := g.beforeName(s.from)
	switch {
	case g.is(k, "after", "post", "since", "following", "previous", "previously", "prev", "earlier", "prior", "failed"), g.is(k, "p") && g.is(k-1, "/"), g.is(k, "at") && s.scope&past != 0:
		return k, true
	case s.is(history), g.is(k, "1", "2") && g.is(k-1, "s") && earlierThan[g.lex.kind] != nil:
		return k, true
	case g.is(k, "from") && g.is(k-1, "out"), g.hadBy(k):
		return k, true
	case g.is(k, ",", ":") && (g.is(k-1, "previously", "prev", "previous", "before") || g.is(k-1, "operation") && g.oneIn(k-3, k-1, "first", "previous", "earlier", "only")), g.is(k, "one") && g.is(k-1, "this") && g.is(k-2, "before"):
		return k, true
	}
	j := k
	if g.is(j, "of") {
		j--
	}
	if g.numberAt(j) && g.is(g.signs[g.at[j]].from-1, "day", "pod", "d") { // "day nine of a Fontan"
		return g.signs[g.at[j]].from - 1, true
	}
	return k, false
}

// weekdays and months tell when an operation was.
var calendarWords = wordSet("monday tuesday wednesday thursday friday saturday sunday mon tue tues wed thur thurs fri january february march april may june july august september october november december spring summer autumn winter")

// datedEarlier tells whether the words after an operation's name say when or where it
// was: "here two years ago", "at five months", "made on Thursday", "as a newborn".
func (g *segment) datedEarlier(s *sign) bool {
	staged := earlierThan[g.lex.kind] != nil // none of those named is the one of today
	if !staged && (g.is(s.to, "girl", "boy", "baby", "child", "patient") || g.is(s.to, "who")) {
		return true
	}
	for j := s.to; j < len(g.toks) && j < s.to+10 && g.toks[j].kind != stop; j++ {
		n := g.at[j]
		if n >= 0 && j > s.to && g.valueOf(&g.signs[n], rowField(schema.BeforeOperations, "operation")) != "" && !g.is(j, "sano") {
			return false
		}
		if g.unrealAt(j) && g.signs[max(n, 0)].scope&(intended|calling|aiming) != 0 || g.is(j, "today") {
			return false
		}
		switch {
		case g.is(j, "ago"), g.elsewhereAt(j), g.is(j, "newborn", "neonate") && g.is(j-1, "a"), g.is(j, "birth") && g.is(j-1, "at"), g.is(j, "with") && g.is(j+1, "us"):
			return true
		case g.is(j, "here") && staged && !g.is(j-1, "is", "are"), g.is(j, "last") && g.is(j+1, "week", "month", "year", "night"), calendarWords[g.toks[j].text] && g.is(j-1, "in", "on", "last", "done", "this", "the") || calendarWords[g.toks[j].text] && j == s.to:
			return true
		case g.is(j, "first") && g.is(j+1, "week", "month", "day", "year") && g.is(j-1, "his", "her", "the"):
			return true
		case g.is(j, "pod"), g.is(j, "day") && j <= s.to+1 && g.numberAt(j+1) && !staged, g.is(j, "day") && g.is(j-1, "op") && g.numberAt(j+1), g.is(j, "morning") && g.is(j-1, "this") && !staged:
			return true
		case g.is(j, "at", "in", "of") && g.numberAt(j+1):
			p := &g.signs[g.at[j+1]]
			if g.is(p.to, "day", "week", "month", "year", "mo", "wk", "hour") && !g.is(j, "of") || g.is(j, "in") && len(p.num.decimal) == 4 {
				return true
			}
		case g.is(j, "before") && g.is(j-1, "day", "week", "month", "year", "hour"), g.is(j, "before") && staged && (j+1 == len(g.toks) || g.toks[j+1].kind == stop || g.is(j+1, "and", ",")):
			return true
		}
	}
	return false
}

// shuntAlone tells whether sign i names a shunt that was an operation of its own: "a
// Blalock shunt as a newborn". With a Norwood it was a part of that.
func (g *segment) shuntAlone(i int) bool {
	s := &g.signs[i]
	if g.lex.kind != schema.Stage2 && g.lex.kind != schema.Stage3 || !g.within(s, "shunt", "bts", "btt", "mbtt") || g.within(s, "revision", "caval", "temporary") || g.mentions("norwood", "hybrid", "stage", "temporary", "damus", "dks") {
		return false
	}
	for k := s.to; k < len(g.toks) && k < s.to+10 && g.toks[k].kind != stop; k++ {
		if g.is(k, "newborn", "neonate", "birth") {
			return true
		}
	}
	return g.hadBy(g.beforeName(s.from))
}

// stageField is the field that says where an earlier operation is on record.
func (g *segment) stageField(operation string) *schema.Field {
	var f *schema.Field
	switch operation {
	case "stage-1", "hybrid-stage-1":
		f = fieldAt(schema.BeforeStageOne)
	case "stage-2":
		f = fieldAt(schema.BeforeStageTwo)
	}
	if f == nil || !g.inNote(f) || slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f }) {
		return nil
	}
	return f
}

// otherPlaces follow "another" or "the referring" where an operation was done
// elsewhere.
var otherPlaces = wordSet("hospital institution center unit city country place team department")

// elsewhereAt tells whether another place than this hospital ends at token j.
func (g *segment) elsewhereAt(j int) bool {
	return g.is(j, "elsewhere", "abroad", "oversea") || otherPlaces[g.toks[j].text] && (g.is(j-1, "another", "other", "different", "referring", "local", "county", "regional") || g.is(j-2, "another", "other", "referring"))
}

// claimPlace reads where an earlier operation was done: "here", "at another
// institution", "both with us".
func (g *segment) claimPlace(i int, operation string) {
	f := g.stageField(operation)
	if f == nil {
		return
	}
	more := false // another operation has come: only what is said of both counts
	for j := g.signs[i].to; j < len(g.toks) && j < g.signs[i].to+14 && g.toks[j].kind != stop; j++ {
		if n := g.at[j]; n >= 0 && g.signs[n].from == j && !g.is(j, "sano") && earlierOperations[g.valueOf(&g.signs[n], rowField(schema.BeforeOperations, "operation"))] {
			more = true
		}
		v := ""
		switch {
		case g.elsewhereAt(j):
			v = "done-elsewhere"
		case g.is(j, "here") && !g.is(j-1, "is", "are", "come", "came", "back", "say"), g.is(j, "us") && g.is(j-1, "with", "by"):
			v = "recorded-here"
		}
		if v == "" {
			continue
		}
		if !more || g.is(j-1, "both", "all") || g.is(j, "us") && g.is(j-2, "both", "all") {
			g.claimField(f, v, j, j+1, g.signs[i].from, j+1)
		}
		return
	}
}

// claimNotNeeded takes "no stage one" and "he never had a Norwood", said before a
// later stage, for a child that needed none.
func (g *segment) claimNotNeeded(s *sign) {
	k := g.beforeName(s.from)
	if earlierThan[g.lex.kind] == nil || !g.is(k, "no", "never") && !(g.is(k, "had") && g.is(k-1, "never")) || g.is(s.to, "today", "this") {
		return
	}
	if f := g.stageField("stage-1"); f != nil {
		g.claimField(f, "not-needed", s.from, s.to, k, s.to)
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
