package dictation

import (
	"strconv"

	"fairlead/schema"
)

var (
	packsOutWords  = wordSet("out retrieved removed recovered")
	packsThenWords = wordSet("expected documented recorded")
)

// readPacksTold reads packs by what each clause says became of them: "two expected,
// two out, none left", "took two packs out and put one fresh one back".
func (g *segment) readPacksTold() {
	out, in := fieldAt(schema.RemovalsPacksRetrieved), fieldAt(schema.RemovalsPacksExpected)
	put, left := fieldAt(schema.CountsPacksPut), fieldAt(schema.CountsPacksLeft)
	kind := schema.ItemKindNamed("left-on-purpose")
	if !g.inNote(out) || !g.mentions("pack") || g.mentions("of", "/") || len(g.toks) > 30 {
		return
	}
	type clause struct {
		from, to, n, count int
		out, then, back    bool
	}
	var cs []clause
	cur := clause{n: -1}
	cut := func(k int) bool {
		if g.is(k, "put", "placed", "left") && !cur.out && !cur.then && !cur.back {
			return false // "none was put back"
		}
		return g.toks[k].kind == stop || g.is(k, ",", "and", ":", "but", "then", "put", "placed", "left") && !(g.is(k, "left") && k > 0 && (g.numberAt(k-1) || g.is(k-1, "none", "pack", "one")))
	}
	flush := func(k int) {
		cur.to = k
		if m := len(cs) - 1; m >= 0 && cs[m].out && cs[m].n < 0 && cur.n >= 0 && !cur.out && !cur.back && (g.is(cur.n, "both") || g.is(cur.n-1, "all")) {
			cs[m].n, cs[m].count, cs[m].to = cur.n, cur.count, k // "the packs came out, all three"
			cur = clause{from: k, n: -1}
			return
		}
		cs = append(cs, cur)
		cur = clause{from: k, n: -1}
	}
	for k := range g.toks {
		if cut(k) && k > cur.from {
			flush(k)
		}
		n := g.at[k]
		switch {
		case g.is(k, "both"):
			cur.n, cur.count = k, 2
		case g.is(k, "none", "no", "nil", "0", "zero"):
			cur.n, cur.count = k, 0
		case n >= 0 && g.signs[n].num != nil && g.signs[n].from == k && smallCount(g.signs[n].num.decimal) > 0 && (cur.n < 0 || cur.count == 2 && g.is(cur.n, "both")) && !g.signs[n].used:
			cur.n, cur.count = k, smallCount(g.signs[n].num.decimal)
		}
		w := g.toks[k].text
		cur.out = cur.out || packsOutWords[w]
		cur.then = cur.then || packsThenWords[w] || w == "in" && (k > 0 && (g.numberAt(k-1) || g.is(k-1, "pack") && g.numberAt(k-2)) && g.mentions("out") || g.is(k+1, "from") || g.is(k-1, "went", "put") && g.mentions("out")) || w == "from" && g.is(k+1, "yesterday", "the", "last", "stage")
		cur.back = cur.back || w == "fresh" || w == "new" && g.is(k+1, "one", "pack", "gauze", "swab") || w == "more" && k > 0 && g.numberAt(k-1) || w == "put" || w == "placed" || w == "left" && g.is(k-1, "none") || w == "left" && k == cur.from
		if g.unrealAt(k) && n >= 0 && g.signs[n].scope&(intended|calling) != 0 {
			return
		}
	}
	flush(len(g.toks))
	worth, all := 0, false
	for _, c := range cs {
		if c.n >= 0 && (c.out || c.then || c.back) {
			worth++
			all = all || c.out && (g.is(c.n, "both") || g.is(c.n-1, "all")) // "both packs came out"
		}
	}
	if worth < 2 && !all {
		return
	}
	said := 0
	for _, c := range cs {
		if c.n < 0 || !(c.out || c.then || c.back) {
			continue
		}
		v := strconv.Itoa(c.count)
		switch {
		case c.back && c.count == 0 && !g.anyWithin(c.from, c.to, "put") && !g.anyWithin(c.from, c.to, "placed"):
			g.claimField(left, "", c.n, c.n+1, c.from, c.to).stated = schema.StatedNone
		case c.back && c.count == 0:
			g.claimField(put, "", c.n, c.n+1, c.from, c.to).stated = schema.StatedNone
			gi := g.newGroup("items", c.from, c.to)
			g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, "packs", true
			g.claimIn(gi, kind.Field("variety"), "packs", c.n, c.n+1, c.from, c.to)
		case c.back:
			g.claimField(put, v, c.n, c.n+1, c.from, c.to)
			gi := g.newGroup("items", c.from, c.to)
			g.groups[gi].item, g.groups[gi].variety = kind, "packs"
			g.claimIn(gi, kind.Field("variety"), "packs", c.n, c.n+1, c.from, c.to)
			g.claimIn(gi, kind.Field("count"), v, c.n, c.n+1, c.from, c.to)
		case c.count == 0:
			if x := fieldAt(schema.CountsPacksIn); c.then && g.inNote(x) && (g.anyWithin(c.from, c.to, "start") || g.anyWithin(c.from, c.to, "beginning")) {
				g.claimField(x, "", c.n, c.n+1, c.from, c.to).stated = schema.StatedNone // "0 in at the start"
			}
			continue
		case c.out:
			g.claimField(out, v, c.n, c.n+1, c.from, c.to)
			said = c.count
		case c.then:
			g.claimField(in, v, c.n, c.n+1, c.from, c.to)
			said = c.count
		}
		for k := c.from; k < c.to; k++ {
			if n := g.at[k]; n >= 0 && !g.signs[n].has(isUnit) {
				g.signs[n].used = true
			}
		}
	}
	if said > 0 {
		for k := range g.toks {
			if n := g.at[k]; n >= 0 && g.within(&g.signs[n], "pack") {
				g.signs[n].used = true
			}
		}
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
