package dictation

import (
	"slices"

	"fairlead/schema"
)

// beginWords and endWords tell whether a time of day is when a period began or
// ended.
var (
	beginWords = wordSet("on from started start began applied begun between")
	endWords   = wordSet("off until till to - ended ending finished released unclamped removed through stopped →")
)

// readTimes reads periods from the times of day that begin and end them, in the
// order they are said: "on bypass five to ten and off at twenty to two, back on ten
// past two, off ten to three, clamp on ten forty, off eleven thirty".
func (g *segment) readTimes() {
	if !g.inNote(fieldAt(schema.SupportRuns)) {
		return
	}
	list, dir, anchor := schema.Path(""), "", 0
	open := map[schema.Path]int{}
	bare := g.lex.kind != schema.SupportOn && g.lex.kind != schema.SupportOff
	for k := 0; k < len(g.toks); k++ {
		if g.toks[k].kind == stop {
			list, dir = "", ""
			continue
		}
		if g.is(k, "run") && bare && (g.is(k+1, "one", "two", "1", "2", ":", "from") || g.is(k-1, "first", "second", "third")) {
			if list != schema.SupportRuns {
				list, anchor, dir = schema.SupportRuns, k, ""
			}
			if g.is(k+1, "one", "two", "1", "2") {
				k++
			}
			continue
		}
		if n := g.at[k]; n >= 0 && g.signs[n].from == k {
			s := &g.signs[n]
			l := g.listNamed(s)
			switch {
			case s.num != nil && !s.used && list != "" && s.scope&(unreal&^past|denied) == 0:
				a, _ := g.amountAt(int(n))
				if h := smallHour(a); h != "" && g.is(a.from-1, "at") && endsTime(g.toks, a.to) {
					a.clock, a.decimal = h, "" // "came off at eleven"
				}
				if _, running := open[list]; !g.timeHere(a, dir) && !(running && g.is(a.from-1, "and") && g.mentions("between") && a.clock != "" && a.units == nil) {
					if a.units == nil && !g.is(a.from-1, "at") && !(smallCount(a.decimal) > 0 && g.toks[a.from].glued) {
						list = ""
					}
					k = max(k, a.to-1)
					continue
				}
				g.putTime(list, dir, a, anchor, open)
				k, dir = a.to-1, ""
				continue
			case l == schema.SupportRuns && !bare && !g.within(s, "bypass", "cpb"):
				// the pump of mechanical support
			case g.is(s.from, "off") && g.is(s.from+1, "pump", "bypass") && s.to == s.from+2 && g.numberAt(s.to) && len(open) > 0:
				list, dir, s.used = schema.SupportRuns, "off", true // "off pump eleven fifty"
				k = s.to - 1
				continue
			case l != "" && s.scope&(unreal&^past|denied) == 0 && (s.scope&past == 0 || g.onPump()):
				if l != list {
					list, anchor, dir = l, s.from, ""
				}
				for j := s.from; j < s.to; j++ {
					dir = g.beginsOrEnds(j, dir)
				}
				k = s.to - 1
				continue
			case s.scope&denied != 0 && s.num == nil && s.content() && l != "":
				list = ""
			case list != "" && g.otherTime(s) && !g.is(s.from-1, "for") && !(g.is(s.from-1, "the", "a") && g.is(s.from-2, "for")): // "back on for the fenestration"
				list = ""
			}
		}
		if g.is(k, "on") && bare && (k == 0 || g.toks[k-1].kind == stop || g.is(k-1, "back", ",", "went", "again") || list == schema.SupportRuns) && !g.is(k+1, "the", "a", "his", "her") {
			if list == "" || g.is(k-1, "back") {
				list, anchor = schema.SupportRuns, k
			}
		}
		dir = g.beginsOrEnds(k, dir)
	}
}

// onPump tells whether the segment begins with "on bypass", which is of this operation
// though it has passed.
func (g *segment) onPump() bool {
	return len(g.signs) > 0 && g.signs[0].is(passing) && g.listNamed(&g.signs[0]) == schema.SupportRuns
}

// otherTime tells whether a sign names something else that has a time of day of its
// own, or that its number is a dose of.
func (g *segment) otherTime(s *sign) bool {
	if s.has(isUnit) || g.directs(s) || !s.content() || s.to-s.from == 1 && everydayWords()[g.toks[s.from].text] {
		return false
	}
	for _, x := range s.senses {
		switch {
		case x.kind == isItem:
			return true
		case x.kind == isValue && x.field.Path.List() != "" && x.field.Section != "support", x.kind == namesField && x.field.Section != "support":
			return true
		}
	}
	return false
}

// untilTime tells whether sign i is the "until" of a period that has been.
func (g *segment) untilTime(i int) bool {
	s := &g.signs[i]
	if !g.is(s.from, "until") || i+1 >= len(g.signs) || g.signs[i+1].from != s.to || g.signs[i+1].num == nil || g.signs[i+1].num.clock == "" {
		return false
	}
	for j := i - 1; j >= 0; j-- {
		if g.listNamed(&g.signs[j]) != "" || g.within(&g.signs[j], "on", "back") {
			return true
		}
	}
	return false
}

// directs tells whether a sign is only a word such as "on" or "off".
func (g *segment) directs(s *sign) bool {
	for k := s.from; k < s.to; k++ {
		if beginWords[g.toks[k].text] || endWords[g.toks[k].text] {
			return true
		}
	}
	return false
}

// beginsOrEnds is what token k says of the time that follows.
func (g *segment) beginsOrEnds(k int, dir string) string {
	switch w := g.toks[k].text; {
	case w == "on" && dir == "off", w == "to" && g.is(k-1, "on", "went"):
		return dir // "taken off on ..."
	case beginWords[w]:
		return "on"
	case endWords[w]:
		return "off"
	}
	return dir
}

// timeHere tells whether an amount in talk of a period is a time of day.
func (g *segment) timeHere(a amount, dir string) bool {
	if a.clock == "" || a.units != nil {
		return false
	}
	num := g.signs[a.sign].num
	if num.surely || a.decimal == "" {
		return true
	}
	if num.figures {
		return len(g.words(a.from, a.to)) >= 4
	}
	if len(a.decimal) < 3 && !g.is(a.from-1, "at") {
		return false
	}
	if dir != "" && (g.is(a.from-1, "at", "from", "to", "until", "till", "on", "off", "-", "again", "between") || g.is(a.from-2, "on", "off")) {
		return true
	}
	// "run one: eight forty seven to eleven twenty"
	for j := a.to; j < len(g.toks) && j <= a.to+1; j++ {
		if g.is(j, "to", "until", "till", "-", "off", "and") && g.numberAt(j+1) || g.is(j, "off") && g.is(j+1, "at") && g.numberAt(j+2) {
			if j++; g.is(j, "at") {
				j++
			}
			b, _ := g.amountAt(int(g.at[j]))
			return b.clock != "" && b.units == nil
		}
	}
	return false
}

// putTime makes a period of a time that begins one, or ends it.
func (g *segment) putTime(list schema.Path, dir string, a amount, anchor int, open map[schema.Path]int) {
	gi, running := open[list]
	name := dir
	if name == "" {
		if name = "on"; running {
			name = "off"
		}
	}
	if last := g.lastPeriod(list); name == "on" && last >= 0 && !g.claimed(last, rowField(list, "on")) {
		gi = last // "came off at ten past one, on at quarter past twelve"
		g.groups[gi].mention = false
		open = map[schema.Path]int{}
	} else if name == "off" && !running || name == "on" {
		gi = g.newGroup(list, min(anchor, a.from), a.to)
		g.groups[gi].mention = true
	}
	if name == "on" {
		open[list] = gi
	} else {
		delete(open, list)
		if running {
			g.groups[gi].mention = false
		}
	}
	g.groups[gi].to = max(g.groups[gi].to, a.to)
	g.claimIn(gi, rowField(list, name), a.clock, a.from, a.to, min(anchor, a.from), a.to)
	g.useAmount(a)
	for n := g.prevSign(a.from); n >= 0 && g.signs[n].from >= anchor; n-- {
		if s := &g.signs[n]; s.num == nil && g.listNamed(s) == list {
			s.used = true
		}
	}
}

// lastPeriod is the row of a list made last in the segment, or -1.
func (g *segment) lastPeriod(list schema.Path) int {
	for gi := len(g.groups) - 1; gi >= 0; gi-- {
		if g.groups[gi].list == list && !g.groups[gi].gone && slices.ContainsFunc(g.claims, func(c claim) bool { return c.group == gi }) {
			return gi
		}
	}
	return -1
}

// smallHour is the time of day that a bare number is where an hour is wanted: "eleven".
func smallHour(a amount) string {
	if a.clock != "" || a.units != nil || len(a.decimal) > 2 {
		return ""
	}
	return clockOf(a.decimal, "00")
}
