package pdf

import (
	"strings"
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// face is the one the page is counted with: DejaVu Sans Condensed, whose licence
// lets it travel inside a document. It has Latin with all its marks, Greek,
// Cyrillic, Hebrew and Arabic; it has no Chinese, Japanese or Korean and no
// pictures.
const face = "sheet"

var glyphs = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(dejavusanscondensed.TTF)
	if err != nil {
		panic("pdf: the built-in font: " + err.Error()) // held by tests
	}
	return f
})

// absent stands for a letter that the face does not have.
const absent = '□'

// drawable replaces the letters the face does not have; lost tells whether any
// was.
func drawable(s string) (out string, lost bool) {
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			plain = false
			break
		}
	}
	if plain {
		return s, false
	}
	var buf sfnt.Buffer
	out = strings.Map(func(r rune) rune {
		switch {
		case r == 0x200C || r == 0x200D || r >= 0xFE00 && r <= 0xFE0F:
			return -1 // joiners and variation selectors have no shape
		case r > 0xFFFF:
			lost = true
			return absent
		}
		if g, err := glyphs().GlyphIndex(&buf, r); err != nil || g == 0 {
			lost = true
			return absent
		}
		return r
	}, norm.NFC.String(s))
	return out, lost
}

// visual puts words into the order in which they are drawn from left to right,
// with Arabic letters joined.
func visual(s string) string {
	if !rightToLeft(s) {
		return s
	}
	var p bidi.Paragraph
	if _, err := p.SetString(joined(s)); err != nil {
		return s
	}
	order, err := p.Order()
	if err != nil {
		return s
	}
	var out strings.Builder
	for i := range order.NumRuns() {
		run := order.Run(i)
		if run.Direction() == bidi.RightToLeft {
			out.WriteString(bidi.ReverseString(run.String()))
		} else {
			out.WriteString(run.String())
		}
	}
	return out.String()
}

func rightToLeft(s string) bool {
	for i, r := range s {
		if r < 0x0590 {
			continue
		}
		if p, _ := bidi.LookupString(s[i:]); p.Class() == bidi.R || p.Class() == bidi.AL {
			return true
		}
	}
	return false
}

// shapes are the forms of an Arabic letter: alone, at the end, at the beginning,
// in the middle. Letters that join only to the right have the first two.
var shapes = sync.OnceValue(func() map[rune][4]rune {
	m := map[rune][4]rune{}
	// Unicode's presentation forms stand in this order, letter after letter, and
	// each decomposes to its letter.
	for r := rune(0xFE80); r <= 0xFEF4; r++ {
		base := []rune(norm.NFKC.String(string(r)))
		if len(base) != 1 {
			continue
		}
		f := m[base[0]]
		for i := range f {
			if f[i] == 0 {
				f[i] = r
				break
			}
		}
		m[base[0]] = f
	}
	return m
})

// joined gives each Arabic letter the form it takes between its neighbours.
func joined(s string) string {
	letters := []rune(s)
	forms := shapes()
	// both tells whether a letter joins to what follows it, either to a neighbour.
	both := func(i int) bool { return i >= 0 && i < len(letters) && forms[letters[i]][2] != 0 }
	either := func(i int) bool { return i >= 0 && i < len(letters) && forms[letters[i]][1] != 0 }
	out := make([]rune, len(letters))
	for i, r := range letters {
		f, ok := forms[r]
		if !ok {
			out[i] = r
			continue
		}
		before, after := both(i-1) && f[1] != 0, f[2] != 0 && either(i+1)
		switch {
		case before && after:
			out[i] = f[3]
		case before:
			out[i] = f[1]
		case after:
			out[i] = f[2]
		default:
			out[i] = f[0]
		}
	}
	return string(out)
}

var plainFace, boldFace = dejavusanscondensed.TTF, dejavusanscondensedbold.TTF
