package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// packRole is what a clause says became of the packs it counts.
type packRole uint8

const (
	packsUntold packRole = iota
	packsThen            // they were in the chest when it was opened, or were said to be
	packsInward          // "in", which what stands around it makes one or the other
	packsOut
	packsPut  // put in now, and left
	packsLeft // in the child now
)

// packClause is one count of packs with what became of them: "two expected", "all
// three out", "one fresh one put back".
type packClause struct {
	from, to  int
	num       int // the token of the count, or -1
	count     int
	of        int // the token of the second number of "two of three", or -1
	ofCount   int
	all       bool // "all" of them, no number said
	role      packRole
	roleAt    int   // the token that says so
	foreignAt []int // tokens that name another thing
	listed    bool  // by a note, a board or a person, and not by what was seen
	earlier   bool  // at the start, or at another operation
	later     bool  // meant for another day
	again     bool  // taken out once more of what was put in now
	foreign   bool  // it counts another thing
	old       bool  // those of before, and not those put in now
}

// packTalk is what the sentences before said of packs, for the ones that go on: "Two
// packs expected. Both out. None left."
type packTalk struct {
	told bool
	in   int8 // how many were there; 0 where it was not said
}

var (
	packNouns     = wordSet("pack swab gauze sponge")
	packsGone     = wordSet("out retrieved removed recovered got found dish bowl")
	packsListed   = wordSet("expected expecting expect exp documented recorded listed supposed")
	packsSay      = wordSet("say said told has have had show showed give gave")
	packLists     = wordSet("board sheet list note paperwork record chart told")
	packsBefore   = wordSet("before already originally previously yesterday earlier start beginning last first previous stage norwood")
	packsStaying  = wordSet("left remain remaining remained inside rest stay now")
	packNear      = wordSet("in there him her it inside")
	packsNew      = wordSet("put placed new fresh repacked replaced back more")
	packsWhen     = wordSet("will must should need needs plan tomorrow next until comes")
	packsElse     = wordSet("sent culture lab micro micros correct counted needle instrument")
	packsNoOuting = wordSet("wash washed rinsed ruled worked come be turned point")
	packsPutRight = wordSet("no sorry wrong actually so correction wait rather mean")
	packNothing   = wordSet("none no nil zero 0 nothing")
)

// readPacksTold reads packs by what each clause says became of them: "two expected,
// two out, none left", "took two packs out and put one fresh one back", and of the
// sentence after, where that only counts on.
func (g *segment) readPacksTold() {
	g.packsOfBlood()
	named := g.mentions("pack")
	if !named && g.mentions("swab", "gauze", "sponge") {
		named = !slices.ContainsFunc(g.toks, func(t token) bool { return packsElse[t.text] || t.text == "count" }) && g.swabsCounted()
	}
	confirmed := g.lex.kind == schema.Closure && g.mentions("of", "/") && g.mentions("out", "confirm", "confirmed", "nurse")
	if !named && !g.ctx.packs.told && !confirmed {
		return
	}
	cs := g.packClauses()
	g.weighPacks(cs)
	if !named {
		cs = slices.DeleteFunc(cs, func(c packClause) bool { return c.of < 0 && (!g.ctx.packs.told || !g.countsOn(&c)) })
	}
	if !slices.ContainsFunc(cs, func(c packClause) bool {
		return c.num >= 0 && (c.role == packsOut || c.role == packsThen || g.ctx.packs.told && c.role != packsUntold)
	}) {
		g.packs.told = named && !g.unrealPacks()
		return
	}
	g.packs.told = true
	g.claimPacks(cs)
}

// swabsCounted tells whether swabs are spoken of as packs are, with how many: "two
// swabs came out", and not as what was sent or counted.
func (g *segment) swabsCounted() bool {
	for k := 1; k < len(g.toks); k++ {
		if packNouns[g.toks[k].text] && (g.numberAt(k-1) || g.is(k-1, "small", "old", "little") && g.numberAt(k-2)) {
			return true
		}
	}
	return false
}

// unrealPacks tells whether the packs named are of another time, or only thought of.
func (g *segment) unrealPacks() bool {
	for i := range g.signs {
		if s := &g.signs[i]; g.within(s, "pack") && s.scope&(intended|calling|hearsay) != 0 {
			return true
		}
	}
	return false
}

// countsOn tells whether a clause that names no pack counts those of the sentence
// before, and nothing else.
func (g *segment) countsOn(c *packClause) bool {
	for k := c.from; k < c.to; k++ {
		n := g.at[k]
		if n < 0 {
			continue
		}
		if s := &g.signs[n]; s.content2() && !g.within(s, "out", "retrieved", "removed", "left", "expected", "in") {
			return false
		}
	}
	return c.to-c.from <= 12
}

// packClauses cuts a segment into the counts of packs it tells.
func (g *segment) packClauses() []packClause {
	var cs []packClause
	cur := packClause{num: -1, of: -1}
	flush := func(k int) {
		cur.to = k
		cur.foreign = cur.countsElse()
		if cur.to > cur.from {
			cs = append(cs, cur)
		}
		cur = packClause{from: k, num: -1, of: -1}
	}
	for k := range g.toks {
		full := cur.num >= 0 && cur.role != packsUntold
		n := g.at[k]
		if g.toks[k].kind == stop || g.is(k, ",", "and", "but", "then", "so", "(", ")", "→") || g.is(k, ":") && full || g.is(k, "where", "throat") {
			flush(k)
			continue
		}
		switch count, ok := g.packCount(k); {
		case ok && count == 0 && cur.num < 0 && cur.role != packsUntold && g.packRoleAt(k+1) != packsUntold:
			flush(k) // "the two we were expecting nothing left in there"
			cur.num = k
		case ok && cur.num >= 0 && cur.of < 0 && count > 0 && g.pairsWith(cur.num, k):
			cur.of, cur.ofCount = k, count
		case ok && (full || cur.num >= 0 && cur.count != count && !g.is(cur.num, "both")):
			flush(k)
			cur.num, cur.count = k, count
		case ok && (cur.num < 0 || !g.is(k, "both")):
			if cur.role != packsUntold && k-cur.roleAt > 4 {
				cur.role = packsUntold // of what went before, in talk without commas
			}
			cur.num, cur.count = k, count
		case g.is(k, "all") && !g.is(k+1, "the") && cur.num < 0:
			cur.all = true
		}
		if n >= 0 && g.signs[n].from == k && g.foreignToPacks(&g.signs[n]) || packsElse[g.toks[k].text] {
			cur.foreignAt = append(cur.foreignAt, k)
		}
		g.markPacks(&cur, k)
		if role := g.packRoleAt(k); role != packsUntold {
			switch {
			case cur.role == packsUntold, cur.role == packsInward, cur.role == packsThen && role == packsOut && cur.num < 0:
				cur.role, cur.roleAt = role, k
			case cur.role == packsPut || role == packsInward || role == cur.role:
			case cur.num >= 0 && k > cur.num && g.packCountSoon(k):
				flush(k)
				cur.role, cur.roleAt = role, k
				g.markPacks(&cur, k)
			case role == packsPut && cur.role != packsOut, cur.role == packsLeft && role == packsOut && cur.earlier:
				cur.role, cur.roleAt = role, k
			}
		}
	}
	flush(len(g.toks))
	return g.joinPacks(cs)
}

// countsElse tells whether a clause names another thing where it counts: from its number
// to what became of it.
func (c *packClause) countsElse() bool {
	lo, hi := c.from, c.to
	if c.num >= 0 && c.role != packsUntold {
		lo, hi = min(c.num, c.roleAt), max(c.num, c.roleAt)+2
	}
	return slices.ContainsFunc(c.foreignAt, func(k int) bool { return k >= lo && k < hi })
}

// markPacks notes what a word says of when a count of packs holds, and who gave it.
func (g *segment) markPacks(c *packClause, k int) {
	w := g.toks[k].text
	c.listed = c.listed || packsListed[w] || packsSay[w]
	c.earlier = c.earlier || packsBefore[w] && !(g.is(k, "last") && g.is(k+1, "one", "pack")) || w == "had" && g.is(k+1, "been", "gone", "put", "left")
	c.old = c.old || w == "old"
	c.later = c.later || packsWhen[w] || w == "to" && g.is(k+1, "come", "be") || g.is(k, "come") && g.is(k+1, "out")
	c.again = c.again || g.is(k, "again", "back") && (g.is(k-1, "out") || g.is(k+1, "out"))
	c.all = c.all || c.num < 0 && g.is(k, "those", "them") || c.num < 0 && g.is(k, "that", "it") && g.is(k+1, "came", "was", "is") && g.ctx.packs.in == 1
}

// packRoleAt is what the word at token k says became of the packs.
func (g *segment) packRoleAt(k int) packRole {
	w := g.wordAt(k)
	switch {
	case packsGone[w]:
		if w == "out" && k > 0 && packsNoOuting[g.toks[k-1].text] || g.is(k, "dish", "bowl") && !g.is(k-1, "the") || g.is(k, "got") && g.is(k+1, "to") {
			return packsUntold
		}
		return packsOut
	case packsListed[w], packsSay[w] && slices.ContainsFunc(g.toks[max(0, k-5):k+1], func(t token) bool { return packLists[t.text] }):
		return packsThen
	case w == "in":
		if g.is(k+1, "the") && g.is(k+2, "dish", "bowl") || g.is(k+1, "theater") || g.numberAt(k+1) && g.unitAfter(int(g.at[k+1])) != "" {
			return packsUntold
		}
		return packsInward
	case packsStaying[w]:
		if w == "left" && (g.is(k-1, "the", "on", "right") || g.is(k+1, "side", "pleural", "atrial", "ventricular", "lateral", "gutter", "chest", "hand")) || w == "now" && (k == 0 || !packNear[g.toks[k-1].text]) || w == "rest" && !g.is(k+1, "inside", "in") {
			return packsUntold
		}
		return packsLeft
	case packsNew[w]:
		if g.is(k, "back") && (g.is(k+1, "out") || g.is(k-1, "out", "going", "went")) || g.is(k, "more") && !(k > 0 && g.numberAt(k-1)) {
			return packsUntold
		}
		return packsPut
	case w == "before" || w == "start":
		return packsInward
	}
	return packsUntold
}

// packCount is the count of packs that token k says, where it says one.
func (g *segment) packCount(k int) (int, bool) {
	if packNothing[g.toks[k].text] {
		if g.is(k, "nothing") {
			return 0, g.is(k+1, "left", "remain", "inside", "in")
		}
		plain := !g.is(k, "no") || g.is(k+1, "pack", "swab", "new", "fresh", "more", "further")
		return 0, plain && !g.is(k+1, "ml", "bleeding")
	}
	if g.is(k, "both") {
		return 2, true
	}
	n := g.at[k]
	if n < 0 {
		return 0, false
	}
	s := &g.signs[n]
	if s.num == nil || s.from != k || s.used || s.scope&(intended|calling) != 0 || g.unitAfter(int(n)) != "" || g.is(s.to, ":") && s.num.clock != "" || g.is(s.to, "oh", "o", "prolene") {
		return 0, false
	}
	if g.is(k, "one") && (g.is(k-1, "new", "fresh") && k > 1 && g.numberAt(k-2) || g.is(k-1, "the", "no")) {
		return 0, false // "one new one"
	}
	c := smallCount(s.num.decimal)
	return c, c > 0
}

// packCountSoon tells whether a count of packs follows the word at token k.
func (g *segment) packCountSoon(k int) bool {
	for j := k + 1; j < min(len(g.toks), k+3); j++ {
		if _, ok := g.packCount(j); ok && !g.is(j, "both") {
			return true
		}
	}
	return false
}

// pairsWith tells whether the number at token k is what the one at token a is counted
// of: "two of three", "two packs out of two", "2/2".
func (g *segment) pairsWith(a, k int) bool {
	if g.is(k-1, "/") {
		return k-a == 2 && (g.is(a-1, "pack", "swab") || g.is(k+1, "pack", "swab", "out"))
	}
	if !g.is(k-1, "of") || !g.numberAt(a) {
		return false
	}
	for j := a + 1; j < k-1; j++ {
		if !g.is(j, "out", "pack", "swab") {
			return false
		}
	}
	return true
}

// foreignToPacks tells whether a sign names a thing that is no pack.
func (g *segment) foreignToPacks(s *sign) bool {
	if g.within(s, "pack", "swab", "packed", "repacked", "gauze", "sponge", "left", "out", "retrieved", "removed", "in") {
		return false
	}
	return s.has(isItem) || s.has(isVariety) || s.has(isHead)
}

// joinPacks puts a count beside what became of it where a comma parts them: "the packs
// came out, all three", "two swabs documented: found and removed both".
func (g *segment) joinPacks(cs []packClause) []packClause {
	var out []packClause
	for _, c := range cs {
		if m := len(out) - 1; m >= 0 && !c.foreign && !out[m].foreign {
			p := &out[m]
			bare := c.role == packsUntold && c.num >= 0 && (g.is(c.num, "both") || g.is(c.num-1, "all") || c.to-c.from <= 2)
			switch {
			case p.role != packsUntold && p.num < 0 && !p.later && bare:
				p.num, p.count, p.to, p.of, p.ofCount = c.num, c.count, c.to, c.of, c.ofCount
				continue
			case p.num >= 0 && p.of < 0 && p.role == packsUntold && c.num < 0 && !c.later && (c.role == packsOut || c.role == packsThen) && c.to-c.from <= 5:
				p.role, p.to, p.listed = c.role, c.to, c.listed
				continue
			case p.num >= 0 && c.num < 0 && (c.role == packsOut && p.role != packsOut) && !c.later && !c.all && g.onlyPackRoles(&c):
				c.num, c.count = p.num, p.count // "two expected and retrieved"
			}
		}
		out = append(out, c)
	}
	return out
}

// onlyPackRoles tells whether a clause says no more than what became of the packs that
// the one before counted: "and taken out".
func (g *segment) onlyPackRoles(c *packClause) bool {
	for k := c.from; k < c.to; k++ {
		if !packsGone[g.toks[k].text] && !g.is(k, "and", ",", "taken", "came", "were", "was", "then") {
			return false
		}
	}
	return c.to-c.from >= 2 && g.is(c.from, "and", ",", "→")
}

// weighPacks settles what the words leave open: which "in" was before and which is
// now, how many "all" are, and which of two counts stands.
func (g *segment) weighPacks(cs []packClause) {
	goneAfter := func(i int) bool {
		return slices.ContainsFunc(cs[i+1:], func(c packClause) bool {
			return c.role == packsOut && (c.num >= 0 || c.all) && !c.later && c.count <= cs[i].count
		})
	}
	goneBefore, in := false, int(g.ctx.packs.in)
	for i := range cs {
		c := &cs[i]
		switch {
		case c.foreign:
			c.role, c.of, c.num = packsUntold, -1, -1
		case c.of >= 0 && (c.role == packsUntold || c.role == packsOut):
			c.role = packsOut
		case c.role == packsOut && (c.later || c.num >= 0 && c.count == 0), g.unsaidNext(c), g.farApart(c):
			c.role = packsUntold
		case c.earlier && (c.role == packsInward || c.role == packsLeft || c.role == packsPut):
			c.role = packsThen
		case c.role == packsInward && c.num > 0 && g.is(c.num-1, "was", "were", "had"):
			c.role = packsThen // "one pack out, was one in"
		case c.role == packsInward && goneBefore:
			c.role = packsPut
		case (c.role == packsInward || c.role == packsPut) && goneAfter(i) && !g.inNote(fieldAt(schema.RemovalsPacksExpected)):
			c.role = packsUntold // all of it in this operation
		case c.role == packsInward && goneAfter(i), c.role == packsPut && !goneBefore && goneAfter(i) && !g.freshIn(c):
			c.role = packsThen
		case c.role == packsInward && c.num >= 0 && c.count > 0 && i+1 < len(cs) && cs[i+1].role == packsInward && cs[i+1].earlier:
			c.role = packsPut // "two packs in, none before"
		case c.role == packsThen && g.anyWithin(c.from, c.to, "told") && !goneAfter(i):
			c.role = packsUntold
		}
		if c.role == packsThen && c.num >= 0 {
			in = c.count
		}
		if c.role == packsOut && c.num < 0 && c.all && in > 0 {
			c.num, c.count = c.from, in
			for k := c.from; k < c.to; k++ {
				if g.is(k, "all", "that", "it") {
					c.num = k
				}
			}
		}
		goneBefore = goneBefore || c.role == packsOut && !c.later
	}
	if slices.ContainsFunc(cs, func(c packClause) bool { return c.again && c.role == packsOut }) {
		for i := range cs { // "packed with three, then took two back out": all of it now
			c := &cs[i]
			if c.role == packsOut || c.role == packsThen && !c.listed && !c.earlier || c.role == packsPut {
				c.role = packsUntold
			}
		}
	}
	for role := packsThen; role <= packsLeft; role++ {
		g.lastCount(cs, role)
	}
}

// freshIn tells whether a clause says of packs put in that they are other ones than
// those that were there.
func (g *segment) freshIn(c *packClause) bool {
	for k := c.from; k < c.to; k++ {
		if g.is(k, "new", "fresh", "back", "more", "repacked", "replaced") {
			return true
		}
	}
	return false
}

// lastCount keeps of two counts that differ the one that puts the other right; where no
// word says that it does, neither.
func (g *segment) lastCount(cs []packClause, role packRole) {
	last := -1
	for i := range cs {
		if cs[i].role != role || cs[i].num < 0 {
			continue
		}
		if last >= 0 && cs[last].count != cs[i].count {
			if p := &cs[last]; slices.ContainsFunc(g.toks[p.to-1:cs[i].num], func(t token) bool { return packsPutRight[t.text] }) {
				p.role = packsUntold
			} else if role == packsOut || role == packsThen {
				p.role, cs[i].role = packsUntold, packsUntold
			}
		}
		last = i
	}
}

// claimPacks proposes what the clauses tell.
func (g *segment) claimPacks(cs []packClause) {
	kind := schema.ItemKindNamed("left-on-purpose")
	told := false
	in, out := -1, -1
	for i := range cs {
		c := &cs[i]
		if c.role == packsUntold || c.role == packsInward || c.num < 0 {
			continue
		}
		told = true
		switch c.role {
		case packsOut:
			out = c.count
			g.claimPackCount(c, schema.RemovalsPacksRetrieved, schema.CountsPacksOut)
			if c.of >= 0 {
				in = c.ofCount
				g.claimPackCount(&packClause{from: c.from, to: c.to, num: c.of, count: c.ofCount}, schema.RemovalsPacksExpected, schema.CountsPacksIn)
			}
			if in < 0 && g.ctx.packs.told {
				g.taken = append(g.taken, withdrawn{sense: sense{kind: isVariety, item: kind, value: "packs"}})
			}
		case packsThen:
			in = c.count
			if c.listed {
				g.claimPackCount(c, schema.RemovalsPacksExpected, schema.CountsPacksIn)
				break
			}
			g.claimPackCount(c, schema.CountsPacksIn, schema.RemovalsPacksExpected)
			if c.count > 0 {
				g.claimPackCount(c, schema.RemovalsPacksExpected, schema.CountsPacksIn)
			}
		case packsPut:
			g.claimPackCount(c, schema.CountsPacksPut)
			g.listPacks(cs, c)
			if f := fieldAt(schema.CountsPacksLeft); c.count == 0 && out > 0 && out == in && g.inNote(f) && !g.claimsStated(f) {
				x := g.claimField(f, "", c.num, c.num+1, c.from, c.to)
				x.stated, x.sure, x.note = schema.StatedNone, Check, "all that were in came out, and none was put back"
			}
		case packsLeft:
			g.claimPackCount(c, schema.CountsPacksLeft)
			if c.count > 0 && !slices.ContainsFunc(cs, func(x packClause) bool { return x.role == packsPut && x.num >= 0 && x.count > 0 }) {
				g.listPacks(cs, c)
			}
		}
		if !g.withAnother(cs, i) {
			g.usePacks(c)
		}
	}
	if in > 0 {
		g.packs.in = int8(in)
	}
	for i := range cs { // the head of the list is no thing: "Packs, three expected, ..."
		for k := cs[i].from; told && cs[i].num < 0 && k < cs[i].to; k++ {
			if n := g.at[k]; n >= 0 && g.within(&g.signs[n], "pack") {
				g.signs[n].used = true
			}
		}
	}
}

// usePacks takes the words of a clause as read, and leaves those that tell of anything
// else.
func (g *segment) usePacks(c *packClause) {
	for k := c.from; k < c.to; k++ {
		n := g.at[k]
		if n < 0 || g.signs[n].has(isUnit) {
			continue
		}
		s, w := &g.signs[n], g.toks[k].text
		switch {
		case k == c.num || k == c.of:
			s.used = true
		case s.num != nil:
		case w == "pack", packNouns[w] && k-c.num <= 2 && k > c.num:
			s.used = true
		case s.to-s.from == 1 && (w == "in" || packsGone[w] || packsListed[w] || packsStaying[w] || packsNew[w]):
			s.used = true
		}
	}
}

// farApart tells whether a number and what would have become of the packs stand too far
// from one another to be said of the same, and no pack stands by the number.
func (g *segment) farApart(c *packClause) bool {
	if c.num < 0 || c.of >= 0 || c.role == packsUntold || c.roleAt-c.num <= 5 && c.num-c.roleAt <= 5 {
		return false
	}
	return !packNouns[g.wordAt(c.num+1)] && !packNouns[g.wordAt(c.num+2)]
}

// withAnother tells whether another thing came out with the packs of a clause, so that
// what became of both is said once: "took out two packs and the membrane".
func (g *segment) withAnother(cs []packClause, i int) bool {
	c := &cs[i]
	if c.role != packsOut {
		return false
	}
	if i > 0 && cs[i-1].foreign && cs[i-1].role == packsUntold && g.is(c.from, "and") && !g.is(c.from-1, "off", "away", "gone") {
		return true
	}
	if slices.ContainsFunc(c.foreignAt, func(k int) bool { return k < c.num }) && g.is(c.from, "and") {
		return true
	}
	return i+1 < len(cs) && g.is(c.to, "and") && slices.ContainsFunc(cs[i+1].foreignAt, func(k int) bool { return k <= c.to+2 })
}

// unsaidNext tells whether the one who counts takes it back at once: "I've put three new
// ones, no I haven't".
func (g *segment) unsaidNext(c *packClause) bool {
	for k := c.num; c.num >= 0 && k < min(len(g.toks), c.to+7); k++ {
		if g.is(k, "i", "we") && (g.is(k+1, "havent", "didnt") || g.is(k+1, "have", "did") && g.is(k+2, "not")) {
			return true
		}
	}
	return false
}

// claimPackCount claims a count of packs in the first of the fields that the note has.
func (g *segment) claimPackCount(c *packClause, paths ...schema.Path) {
	for _, p := range paths {
		f := fieldAt(p)
		if !g.inNote(f) {
			continue
		}
		to := c.num + 1
		if n := g.at[c.num]; n >= 0 && g.signs[n].num != nil {
			to = g.signs[n].to
		}
		x := g.claimField(f, strconv.Itoa(c.count), c.num, to, c.from, c.to)
		if c.count == 0 {
			x.value, x.stated = "", schema.StatedNone
		}
		return
	}
}

// listPacks lists the packs that a clause puts in or leaves, as many as are left in the
// end; or as not there where it puts in none.
func (g *segment) listPacks(cs []packClause, c *packClause) {
	kind := schema.ItemKindNamed("left-on-purpose")
	count := c.count
	for _, x := range cs {
		if x.role == packsLeft && x.num >= 0 && x.count > 0 && count > 0 {
			count = x.count
		}
	}
	gi := g.newGroup("items", c.from, c.to)
	g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, "packs", count == 0
	g.claimIn(gi, kind.Field("variety"), "packs", c.num, c.num+1, c.from, c.to)
	if count > 0 {
		g.claimIn(gi, kind.Field("count"), strconv.Itoa(count), c.num, c.num+1, c.from, c.to)
	}
}

// expectedToo reads that as many packs were expected as came out: "two packs came out,
// the two we expected".
func (g *segment) expectedToo() {
	f := fieldAt(schema.RemovalsPacksExpected)
	if !g.inNote(f) || g.answered(f) || !g.anyPrefix("expect") {
		return
	}
	for _, c := range g.claims {
		if c.field.Path != schema.RemovalsPacksRetrieved || c.gone || c.stated != "" {
			continue
		}
		for k := range g.toks {
			if !g.is(k, "expected", "expecting", "expect") || k-c.to > 12 || c.from-k > 12 || g.denyingAt(k-1) || g.denyingAt(k-2) || g.is(k-1, "than", "as", "un") {
				continue
			}
			for j := max(0, k-6); j < min(len(g.toks), k+4); j++ {
				if n := g.at[j]; n >= 0 && g.signs[n].num != nil && g.signs[n].num.decimal != c.value {
					return
				}
			}
			g.claimField(f, c.value, c.from, c.to, min(c.from, k), max(c.to, k+1))
			return
		}
	}
}
