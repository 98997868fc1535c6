package dictation

import (
	"strconv"
	"strings"
)

// clockOf is the time of day of an hour and a minute in figures, or "".
func clockOf(h, m string) string {
	hh, err := strconv.Atoi(h)
	mm, err2 := strconv.Atoi(m)
	if err != nil || err2 != nil || hh > 23 || mm > 59 || len(m) != 2 || len(h) > 2 {
		return ""
	}
	return clockText(hh, mm)
}

func clockText(h, m int) string {
	return string([]byte{byte('0' + h/10), byte('0' + h%10), ':', byte('0' + m/10), byte('0' + m%10)})
}

// readClockWords reads a time of day in words that starts at t[i]: "oh nine
// forty two", "nine forty", "fourteen thirty", "half past nine", "ten to nine",
// "nine o'clock", "fourteen hundred hours", "noon". surely tells that it can be
// nothing else. A time that may as well be a number ("nine fifty") is not sure.
func readClockWords(t []token, i int) (clock string, to int, surely bool) {
	at := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	switch {
	case at(i, "noon"), at(i, "midday"):
		return "12:00", i + 1, true
	case at(i, "midnight"):
		return "00:00", i + 1, true
	case at(i, "half") && at(i+1, "past"):
		if h, n, ok := hourAt(t, i+2); ok {
			return after(t, h, 30, i+2+n)
		}
		return "", i, false
	case at(i, "half"): // "at half eight"
		if h, w, _ := under(t, i+1); w == 1 && h > 0 && h <= 12 && announces(t, i) && endsTime(t, i+2) {
			return after(t, h, 30, i+2)
		}
		return "", i, false
	case at(i, "quarter"):
		return pastOrTo(t, i+1, 15)
	case at(i, "a") && at(i+1, "quarter"):
		return pastOrTo(t, i+2, 15)
	}
	if at(i, "oh") || at(i, "o") || at(i, "zero") {
		h, w, d := under(t, i+1)
		if w != 1 || d != 1 {
			return "", i, false
		}
		if m, n, ok := minuteAt(t, i+2); ok {
			return clockText(h, m), i + 2 + n, true
		}
		if at(i+2, "hundred") {
			return clockText(h, 0), i + 3 + hours(t, i+3), true
		}
		return "", i, false
	}
	v, w, _ := under(t, i)
	if w == 0 {
		return "", i, false
	}
	k := i + w
	if v >= 1 && v < 60 {
		j := k
		if at(j, "minute") {
			j++
		}
		if at(j, "past") || at(j, "to") && j > k {
			if c, to, s := pastOrTo(t, j, v); c != "" {
				return c, to, s
			}
		}
		if at(j, "to") && (v%5 == 0 && v < 30) {
			// "ten to nine"; "ten to twelve" is more often a range
			if h, n, ok := hourAt(t, j+1); ok && (at(j+1+n, "oclock") || at(j+1, "midnight") || at(j+1, "noon") || at(j+1, "midday") || h <= 12 && endsTime(t, j+1+n) && announces(t, i) && !(at(i-1, "from") && v < h)) {
				return after(t, (h+23)%24, 60-v, j+1+n)
			}
		}
	}
	if v > 23 {
		return "", i, false
	}
	if at(k, "oclock") {
		return after(t, v, 0, k+1)
	}
	if n, _ := partOfDay(t, k); n > 0 {
		return after(t, v, 0, k)
	}
	if at(k, "am") || at(k, "pm") || at(k, "a") && at(k+1, "m") || at(k, "p") && at(k+1, "m") {
		return after(t, v, 0, k)
	}
	if at(k, "hundred") && v >= 10 && hours(t, k+1) > 0 {
		return clockText(v, 0), k + 2, true
	}
	if at(k, "hundred") && v >= 13 && i > 0 && (at(i-1, "at") || at(i-1, "until") || at(i-1, "from")) && endsTime(t, k+1) {
		return clockText(v, 0), k + 1, true
	}
	if m, n, ok := minuteAt(t, k); ok {
		c, to, _ := after(t, v, m, k+n)
		return c, to, to > k+n || v >= 13
	}
	return "", i, false
}

// announcers are words that a time of day follows.
var announcers = wordSet("at from on off until till by bypass pump skin theatre room knife incision clamp closed started began finished out in covered left")

// timed are words of what has a time of day: beside one of them "at ten to nine"
// is no range.
var timed = wordSet("theatre room skin knife incision started began bypass pump cpb clamp clamped off ran run closed covered finished left arrived protamine ecmo support stopped opened off-pump theater cross arrest")

// announces tells whether the words before t[i] say that a time of day comes.
func announces(t []token, i int) bool {
	if i == 0 || !announcers[t[i-1].text] {
		return false
	}
	for k := i - 1; k >= 0 && k >= i-9 && t[k].kind != stop; k-- {
		if timed[t[k].text] {
			return true
		}
	}
	return false
}

// endsTime tells whether what stands at t[k] may follow a time of day, and is not
// the unit of a number.
func endsTime(t []token, k int) bool {
	if k >= len(t) || t[k].kind == stop || t[k].text == "," || t[k].text == ")" {
		return true
	}
	switch t[k].text {
	case "and", "then", "with", "off", "on", "to", "until", "till", "for", "no", "sorry", "but", "at", "clamp", "in", "this", "back", "when", "am", "pm", "a", "p":
		return true
	}
	return false
}

// twelveHours tells whether a time of day in words, or with one figure before the
// colon, may as well be twelve hours later.
func twelveHours(t []token, from, to int, clock string) bool {
	if clock == "" || clock >= "13:00" || clock < "01:00" {
		return false
	}
	for k := from; k < to; k++ {
		switch w := t[k].text; {
		case t[k].kind == figure:
			return k == from && (len(w) == 4 && w[1] == ':' || len(w) <= 3 && !strings.ContainsAny(w, ":")) && to == from+1
		case k == from && (w == "oh" || w == "o" || w == "zero"), w == "midnight", w == "noon", w == "midday",
			w == "am", w == "pm", w == "morning", w == "afternoon", w == "evening", w == "night", w == "tonight", w == "hour", w == "hr", w == "m":
			return false
		}
	}
	return true
}

// minuteAt reads the minutes of a time: two figures, or "oh five".
func minuteAt(t []token, i int) (m, n int, ok bool) {
	if i >= len(t) || t[i].kind != word {
		return 0, 0, false
	}
	if w := t[i].text; w == "oh" || w == "o" || w == "zero" {
		if u, uw, d := under(t, i+1); uw == 1 && d == 1 && u > 0 {
			return u, 2, true
		}
		return 0, 0, false
	}
	v, w, d := under(t, i)
	if d != 2 || v > 59 {
		return 0, 0, false
	}
	return v, w, true
}

func hourAt(t []token, i int) (h, n int, ok bool) {
	if i < len(t) && t[i].kind == word {
		switch t[i].text {
		case "midnight":
			return 0, 1, true
		case "noon", "midday":
			return 12, 1, true
		}
	}
	if i < len(t) && t[i].kind == figure {
		v, err := strconv.Atoi(t[i].text)
		return v, 1, err == nil && v >= 0 && v <= 23
	}
	v, w, _ := under(t, i)
	return v, w, w > 0 && v > 0 && v <= 23
}

func pastOrTo(t []token, k, minutes int) (string, int, bool) {
	if k >= len(t) {
		return "", k, false
	}
	switch t[k].text {
	case "past", "after":
		if h, n, ok := hourAt(t, k+1); ok {
			return after(t, h, minutes, k+1+n)
		}
	case "to", "before":
		if h, n, ok := hourAt(t, k+1); ok && h <= 12 {
			return after(t, (h+23)%24, 60-minutes, k+1+n)
		}
	}
	return "", k, false
}

// after takes in "o'clock", "am", "pm" and "hours" that follow.
func after(t []token, h, m, k int) (string, int, bool) {
	at := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	if at(k, "oclock") {
		k++
	}
	pm, am := at(k, "pm"), at(k, "am")
	n := 1
	if w, part := partOfDay(t, k); w > 0 {
		n, pm, am = w, part == "afternoon" || part == "evening" || part == "night" && h >= 6, part == "morning" || part == "night" && h < 6
	}
	if at(k+1, "m") && (at(k, "p") || at(k, "a")) {
		pm, am, n = at(k, "p"), at(k, "a"), 2
	}
	if pm || am {
		k += n
		if pm && h < 12 {
			h += 12
		}
		if am && h == 12 {
			h = 0
		}
	}
	k += hours(t, k)
	return clockText(h, m), k, true
}

// partOfDay reads "in the morning" at t[k]: how many words, and which part.
func partOfDay(t []token, k int) (int, string) {
	is := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	switch {
	case is(k, "in") && is(k+1, "the") && (is(k+2, "morning") || is(k+2, "afternoon") || is(k+2, "evening")):
		return 3, t[k+2].text
	case is(k, "this") && (is(k+1, "morning") || is(k+1, "afternoon") || is(k+1, "evening")):
		return 2, t[k+1].text
	case is(k, "at") && is(k+1, "night"):
		return 2, "night"
	case is(k, "tonight"):
		return 1, "night"
	}
	return 0, ""
}

// hours tells whether "hours" follows, as in "fourteen thirty hours".
func hours(t []token, k int) int {
	if k < len(t) && (t[k].text == "hour" || t[k].text == "hr" || t[k].text == "hrs") {
		return 1
	}
	return 0
}

// meridiem applies "am" or "pm" after a time in figures.
func meridiem(t []token, n number) number {
	if n.clock == "" {
		return n
	}
	h, _ := strconv.Atoi(n.clock[:2])
	m, _ := strconv.Atoi(n.clock[3:])
	if c, to, _ := after(t, h, m, n.to); to > n.to && !(n.to < len(t) && hours(t, n.to) == 1) {
		n.clock, n.to, n.surely = c, to, true
	}
	return n
}
