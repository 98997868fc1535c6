package dictation

import "strings"

// bareMost is how many words a sentence may have that names nothing of its own.
const bareMost = 14

// bareTalk are the words that may stand beside a value in a sentence that only puts
// right the one before: "Fifty five for this one.", "It's the right one."
var bareTalk = wordSet("it its is was are were s that this those these one ones the a an and so i say said mean meant it's yes no not now of for them they he she we us you right left thank thanks please ours mine hers his her our my to at in on be been only just rather sorry wait actually really think believe oh ah um er hmm well or make take put write call go with read reads side both then fact course again more like should have correct amend that's child case patient baby but did do does dont didnt don't keep saying enter record gas way facing what gave given before who why cutting threaded me has")

// bareTellers are who or what may be named there as having told it: "The monitor says
// fifty five."
var bareTellers = wordSet("sheet box perfusionist nurse says head printed tells monitor chart printout screen")

// doubts are words of a sentence that names nothing and puts the one before in question.
var doubts = wordSet("no not hmm wait wrong sorry old other another last check count look think see misread reading again mixed confused lie shaking correct correcting correction earlier yesterday hang hold actually back mistake saying strike scratch scrap delete cancel change ignore forget neither column opposite reverse recount otherwise")

// bareKind is what a sentence that names nothing does to the one before: puts it in
// question, answers with a value, or puts it right; or the sentence names something.
type bareKind int

const (
	namesThings bareKind = iota
	doubting             // "Let me think."
	answering            // "Fifty one."
	amending             // "Fifty one, I should say."
)

// joinBare lays sentences that only put right the one before to it: what they mean is
// told by that alone. "Clamp sixty one. The perfusionist shakes his head. Fifty one."
func (c *cuts) joinBare(text string, spans []Span) []Span {
	var out []Span
	waiting := -1 // the first of the sentences that put in question what stands before them
	for _, s := range spans {
		kind := c.bareOf(text[s.Start:s.End])
		n := len(out)
		switch {
		case n == 0 || kind == namesThings:
			waiting = -1
		case kind == doubting:
			if waiting < 0 {
				waiting = n
			}
		case kind == answering && c.bareOf(lastSentence(text[out[n-1].Start:out[n-1].End])) == doubting:
			out[n-1].End = s.End // "Clamp sixty one. Hmm, no. Fifty one."
			continue
		case kind == amending || waiting > 0 || text[out[n-1].End-1] == '?':
			if waiting <= 0 {
				waiting = n
			}
			out = out[:waiting]
			out[waiting-1].End = s.End
			waiting = -1
			continue
		}
		out = append(out, s)
	}
	return out
}

// lastSentence is the last of the sentences of a text.
func lastSentence(text string) string {
	text = strings.TrimRight(text, " .;!?\n")
	return text[strings.LastIndexAny(text, ".;!?\n")+1:]
}

// bareOf tells what kind of sentence a text is.
func bareOf(lex *lexicon, text string) bareKind {
	if len(text) > 9*bareMost {
		return namesThings
	}
	g := &segment{lex: lex, text: text, toks: tokenize(text, 0)}
	if len(g.toks) > bareMost+4 {
		return namesThings
	}
	for i := range g.toks {
		g.toks[i].id = lex.idOf(&g.toks[i])
	}
	g.hear()
	g.findSigns()
	value, cued, plain := false, false, true
	for k := 0; k < len(g.toks); k++ {
		if i := g.at[k]; i >= 0 && g.signs[i].from == k {
			s := &g.signs[i]
			switch {
			case s.num != nil && !s.content2(), g.bareSide(int(i)):
				value = true
				k = s.to - 1
				continue
			case (s.is(history) || s.is(comes)) && (value || !g.is(0, "that", "those", "it", "its", "this")), g.names(s) || s.is(calls) || s.is(targets) || s.is(depends) || s.is(intends) && !s.is(corrects) && !doubts[g.toks[k].text]:
				return namesThings
			}
			cued = cued || s.is(corrects) || s.is(scratches)
		}
		if t := &g.toks[k]; t.kind == word {
			cued = cued || doubts[t.text]
			plain = plain && (bareTalk[t.text] || bareTellers[t.text] || g.at[k] >= 0)
		}
	}
	switch {
	case value && cued && plain:
		return amending
	case value && plain:
		return answering
	case !value && cued:
		return doubting
	}
	return namesThings
}
