package dictation

import (
	"slices"

	"fairlead/schema"
)

// sentenceReach is how many bytes after a stop may decide whether a sentence ends there.
const sentenceReach = 300

// cuts cuts a text into what is read one by one. While somebody talks a text only grows:
// what was found out about a sentence is kept for as long as the sentence stands.
type cuts struct {
	lex           *lexicon
	before, after sentencesOf // of the text as it comes, and with its stops
	stops         remembered[[]unwritten]
	statements    remembered[[]int]
	bare          remembered[bareKind]
}

// withStops writes a text with the marks that were not written, byte for byte as long.
func (c *cuts) withStops(text string) string {
	var out []byte
	for _, s := range c.before.cut(text) {
		part := text[s.Start:s.End]
		for _, u := range c.stops.of(part, func() []unwritten { return unwrittenIn(c.lex, part) }) {
			if out == nil {
				out = []byte(text)
			}
			out[s.Start+u.at] = u.by
		}
	}
	if out == nil {
		c.after = c.before
		return text
	}
	return string(out)
}

// parts are the stretches of a text, with its stops, that are read one by one.
func (c *cuts) parts(text string) []Span {
	spans := c.after.cut(text)
	if c.lex.kind == schema.Closure {
		spans = joinBlocks(text, spans)
	}
	var out []Span
	for _, s := range c.joinBare(text, spans) {
		from, part := s.Start, text[s.Start:s.End]
		for _, at := range c.statements.of(part, func() []int { return statementsOf(c.lex, part) }) {
			out = append(out, Span{from, s.Start + at})
			from = s.Start + at
		}
		out = append(out, Span{from, s.End})
	}
	c.stops.forget()
	c.statements.forget()
	c.bare.forget()
	return slices.Clip(out)
}

func (c *cuts) bareOf(text string) bareKind {
	return c.bare.of(text, func() bareKind { return bareOf(c.lex, text) })
}

// sentencesOf is a text with its sentences.
type sentencesOf struct {
	text  string
	spans []Span
}

// cut gives the sentences of a text; those that it shares with the text before, and that
// nothing which has changed could end elsewhere, are taken from there.
func (s *sentencesOf) cut(text string) []Span {
	same := 0
	for same < min(len(text), len(s.text)) && text[same] == s.text[same] {
		same++
	}
	if same < len(text) || same < len(s.text) {
		kept := 0
		for kept < len(s.spans) && s.spans[kept].End+sentenceReach <= same {
			kept++
		}
		s.text, s.spans = text, sentences(text, s.spans[:kept])
	}
	return s.spans
}

// remembered keeps what was found out about sentences of this text and of the one before.
type remembered[V any] struct{ now, before map[string]V }

func (m *remembered[V]) of(sentence string, find func() V) V {
	v, ok := m.now[sentence]
	if ok {
		return v
	}
	if v, ok = m.before[sentence]; !ok {
		v = find()
	}
	if m.now == nil {
		m.now = map[string]V{}
	}
	m.now[sentence] = v
	return v
}

// forget lets go of what the text no longer has.
func (m *remembered[V]) forget() { m.before, m.now = m.now, nil }
