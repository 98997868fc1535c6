// Package pattern reads the patterns that our schemas have, and no others: from
// "^" to "$", ASCII characters and classes of them, groups, "|", "?", "+", "*",
// "{n}" and "{m,n}", with the meaning they have in RE2 and in ECMAScript.
// Anything else is refused.
//
// It stands in for package regexp in the browser's build of gojsonschema, where
// the whole language would bring every script of Unicode to every first visit.
// .build/patches.mjs copies this file; the test beside it holds it against regexp.
package pattern

import (
	"errors"
	"strconv"
	"strings"
)

// Pattern is a compiled pattern.
type Pattern struct {
	text string
	of   choice
}

// choice is met by one of several ways, each a run of parts.
type choice [][]part

// part is a class of bytes or a group, so many times.
type part struct {
	set       [4]uint32 // the ASCII bytes it takes, if there is no group
	group     choice
	low, high int // high < 0: without end
}

var errPattern = errors.New("the pattern is not one that is read here")

// Compile reads a pattern, or says that it is not one of those read here.
func Compile(text string) (*Pattern, error) {
	in, from := strings.CutPrefix(text, "^")
	in, to := strings.CutSuffix(in, "$")
	if !from || !to || strings.HasSuffix(in, `\`) {
		return nil, errPattern
	}
	r := reader{rest: in}
	p := &Pattern{text: text, of: r.choice()}
	if r.wrong || r.rest != "" || len(p.of) > 1 { // "^a|b$" is anchored at one end each
		return nil, errPattern
	}
	return p, nil
}

// String is the text of the pattern.
func (p *Pattern) String() string { return p.text }

// MatchString tells whether the whole of s is as the pattern says.
func (p *Pattern) MatchString(s string) bool {
	return p.of.match(s, func(rest string) bool { return rest == "" })
}

func (c choice) match(s string, then func(string) bool) bool {
	for _, way := range c {
		if matchParts(way, 0, s, then) {
			return true
		}
	}
	return false
}

// matchParts meets the first part, done times already, and then the others.
func matchParts(parts []part, done int, s string, then func(string) bool) bool {
	if len(parts) == 0 {
		return then(s)
	}
	p := &parts[0]
	if p.high < 0 || done < p.high {
		again := func(rest string) bool { return len(rest) < len(s) && matchParts(parts, done+1, rest, then) }
		switch {
		case p.group != nil:
			if p.group.match(s, again) {
				return true
			}
		case s != "" && s[0] < 128 && p.set[s[0]/32]>>(s[0]%32)&1 == 1:
			if again(s[1:]) {
				return true
			}
		}
	}
	return done >= p.low && matchParts(parts[1:], 0, s, then)
}

type reader struct {
	rest  string
	wrong bool
}

func (r *reader) next() byte {
	if r.rest == "" {
		r.wrong = true
		return 0
	}
	b := r.rest[0]
	r.rest = r.rest[1:]
	if b >= 128 {
		r.wrong = true
	}
	return b
}

func (r *reader) choice() choice {
	c := choice{nil}
	for !r.wrong && r.rest != "" && r.rest[0] != ')' {
		if r.rest[0] == '|' {
			r.rest = r.rest[1:]
			c = append(c, nil)
			continue
		}
		last := len(c) - 1
		c[last] = append(c[last], r.part())
	}
	return c
}

func (r *reader) part() part {
	p := part{low: 1, high: 1}
	switch b := r.next(); b {
	case '(':
		if strings.HasPrefix(r.rest, "?") {
			r.wrong = true
		}
		p.group = r.choice()
		r.wrong = r.next() != ')' || r.wrong
	case '[':
		r.class(&p.set)
	case '\\':
		p.add(r.escaped())
	case '.', '^', '$', '*', '+', '?', '{', '}', ']':
		r.wrong = true
	default:
		p.add(b)
	}
	r.times(&p)
	return p
}

func (p *part) add(b byte) { p.set[b/32%4] |= 1 << (b % 32) }

// escaped is the mark after a backslash; letters and digits have meanings there
// that are not read.
func (r *reader) escaped() byte {
	b := r.next()
	if b >= '0' && b <= '9' || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' {
		r.wrong = true
	}
	return b
}

func (r *reader) class(set *[4]uint32) {
	if strings.HasPrefix(r.rest, "^") || strings.HasPrefix(r.rest, "]") {
		r.wrong = true
		return
	}
	p := part{}
	for !r.wrong {
		b := r.next()
		switch b {
		case ']':
			*set = p.set
			return
		case '[':
			r.wrong = true
			return
		case '\\':
			b = r.escaped()
		}
		to := b
		if len(r.rest) > 1 && r.rest[0] == '-' && r.rest[1] != ']' {
			r.next()
			if to = r.next(); to == '\\' || to == '[' || to < b {
				r.wrong = true
			}
		}
		for ; b < to && !r.wrong; b++ {
			p.add(b)
		}
		p.add(to)
	}
}

func (r *reader) times(p *part) {
	if r.rest == "" {
		return
	}
	switch r.rest[0] {
	case '?':
		p.low = 0
	case '+':
		p.high = -1
	case '*':
		p.low, p.high = 0, -1
	case '{':
		text, rest, ok := strings.Cut(r.rest[1:], "}")
		low, high, two := strings.Cut(text, ",")
		if !two {
			high = low
		}
		var err1, err2 error
		p.low, err1 = strconv.Atoi(low)
		p.high, err2 = strconv.Atoi(high)
		if !ok || err1 != nil || err2 != nil || p.low < 0 || p.high < p.low || p.high > 1000 || strings.ContainsAny(text, "+- ") {
			r.wrong = true
		}
		r.rest = "}" + rest
	default:
		return
	}
	r.rest = r.rest[1:]
	if r.rest != "" && strings.ContainsRune("?+*{", rune(r.rest[0])) {
		r.wrong = true // lazy, or twice
	}
}
