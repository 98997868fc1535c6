package dictation

import "strconv"

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
			// "ten to nine"; "ten to twelve" is more often a range, so not sure
			if h, n, ok := hourAt(t, j+1); ok && (at(j+1+n, "oclock") || at(j+1, "midnight") || at(j+1, "noon") || at(j+1, "midday")) {
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
	if m, n, ok := minuteAt(t, k); ok {
		c, to, _ := after(t, v, m, k+n)
		return c, to, to > k+n || v >= 13
	}
	return "", i, false
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
		if h, n, ok := hourAt(t, k+1); ok {
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
