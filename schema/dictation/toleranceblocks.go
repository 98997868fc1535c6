package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// blockHeads open the two halves of a list of what was measured before and after the
// chest was closed.
var blockHeads = [2]map[string]bool{
	wordSet("before open beforehand apart preclosure baseline"),
	wordSet("after afterward closed shut closing together postclosure"),
}

// blockLeads may stand before the head: "with the chest open".
var blockLeads = wordSet("and then with the it chest sternum edge edges")

// joinBlocks keeps the two halves in one stretch of text: "Before closing: mean 52, atrial
// 7. After: mean 50, atrial 9."
func joinBlocks(text string, spans []Span) []Span {
	var out []Span
	for _, s := range spans {
		if n := len(out); n > 0 && headsBlock(text[out[n-1].Start:out[n-1].End], 0) && headsBlock(text[s.Start:s.End], 1) {
			out[n-1].End = s.End
			continue
		}
		out = append(out, s)
	}
	return out
}

// headsBlock tells whether a sentence begins as a half does and has a number.
func headsBlock(s string, half int) bool {
	words := strings.FieldsFunc(strings.ToLower(s[:min(len(s), 160)]), func(r rune) bool { return strings.ContainsRune(" ,:.;\n", r) })
	for len(words) > 0 && blockLeads[normal(words[0])] {
		words = words[1:]
	}
	if len(words) < 2 || !blockHeads[half][normal(words[0])] {
		return false
	}
	for _, w := range words[1:] {
		if _, _, ok := Number(w); ok {
			return true
		}
	}
	return false
}

// measured is one number of a half, with what it measures; "" where that is left unsaid.
type measured struct {
	what string
	a    amount
}

// readToleranceBlocks reads what was measured before and after closing where each time
// has a list of its own, and the second may leave the names unsaid: "open mean 52,
// atrial 7; closed 50 and 9".
func (g *segment) readToleranceBlocks() {
	early := g.blockHead(0, 0)
	if early < 0 {
		return
	}
	late := g.blockHead(1, early+1)
	if late < 0 {
		return
	}
	before, after := g.measures(early, late), g.measures(late, len(g.toks))
	if len(before) < 2 || len(before) != len(after) && (len(after) == 0 || after[0].what == "") {
		return // one alone is read where it is said
	}
	for n, x := range before {
		for m, y := range after {
			if x.what == "" || y.what != x.what && !(y.what == "" && m == n) {
				continue
			}
			gi := g.newGroup(schema.ClosingTolerance, x.a.from, y.a.to)
			g.claimIn(gi, rowField(schema.ClosingTolerance, "measure"), x.what, x.a.from, x.a.to, early, y.a.to)
			g.claimIn(gi, rowField(schema.ClosingTolerance, "before"), x.a.decimal, x.a.from, x.a.to, early, y.a.to)
			g.claimIn(gi, rowField(schema.ClosingTolerance, "after"), y.a.decimal, y.a.from, y.a.to, early, y.a.to)
			g.useAmount(x.a)
			g.useAmount(y.a)
			break
		}
	}
	for i := range g.signs {
		if s := &g.signs[i]; s.from <= late+1 && (blockHeads[0][g.toks[s.from].text] || blockHeads[1][g.toks[s.to-1].text]) {
			s.used = true // how the chest was when it was read
		}
	}
}

// blockHead is the token that opens a half of the list, from token k on: the first word of
// what a mark sets off; -1 where there is none.
func (g *segment) blockHead(half, k int) int {
	for ; k < len(g.toks); k++ {
		if blockHeads[half][g.toks[k].text] && (k == 0 || g.toks[k-1].kind != word || blockLeads[g.toks[k-1].text]) {
			return k
		}
	}
	return -1
}

// measures are the numbers of a half that stands between two tokens, each with the name
// before it.
func (g *segment) measures(from, to int) []measured {
	var out []measured
	what := ""
	for i := range g.signs {
		s := &g.signs[i]
		switch {
		case s.from < from || s.to > to || s.used:
		case s.num != nil && s.num.decimal != "":
			a, _ := g.amountAt(i)
			if slices.Contains(a.units, "min") {
				continue // "edges together, three minutes: mean thirty three"
			}
			out = append(out, measured{what, a})
			what = ""
		case g.measureAt(i) != "":
			what = g.measureAt(i)
		case s.is(corrects), s.is(scratches):
			return nil
		case s.content() && !s.has(isUnit) && len(out) > 0:
			return out
		}
		if len(out) > 0 && g.toks[out[len(out)-1].a.to-1].kind == word && s.from > out[len(out)-1].a.to+6 {
			return out
		}
	}
	return out
}
