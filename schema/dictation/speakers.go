package dictation

import "strings"

// withSpeakers takes the labels out of a text in which several people speak in turn,
// "Surgeon: ... Registrar: ...", byte for byte: who speaks is no part of what is said. A turn
// that begins with a number only puts right the one that the turn before ended with:
//
//	Surgeon: One mediastinal drain, sixteen.
//	Registrar: Fourteen, it says on it.
func withSpeakers(text string) string {
	if !strings.Contains(text, ":") || !strings.Contains(text, "\n") {
		return text
	}
	labels := map[string]int{}
	eachLine(text, func(start, end int) {
		if l := speakerOf(text[start:end]); l != "" {
			labels[l]++
		}
	})
	speakers := 0
	for _, n := range labels {
		if n > 1 {
			speakers++
		}
	}
	if speakers < 2 {
		return text
	}
	out := []byte(text)
	last := ""
	eachLine(text, func(start, end int) {
		l := speakerOf(text[start:end])
		if labels[l] < 2 {
			return
		}
		body := start + len(l) + 1
		for i := start; i < body; i++ {
			out[i] = ' '
		}
		if last != "" && last != l && putsNumberRight(text[body:end]) {
			at := len(strings.TrimRight(text[:start], " \r\n")) - 1
			if at > 0 && (text[at] == '.' || text[at] == '?') { // what follows "?" is the answer
				copy(out[at+1:start], strings.Repeat(" ", start-at-1))
			}
			if at > 0 && text[at] == '.' {
				copy(out[at:], "...")
			}
		}
		last = l
	})
	return string(out)
}

// eachLine gives where each line of a text begins and ends.
func eachLine(text string, see func(start, end int)) {
	for start := 0; start < len(text); {
		end := start + len(text[start:])
		if n := strings.IndexByte(text[start:], '\n'); n >= 0 {
			end = start + n
		}
		see(start, end)
		start = end + 1
	}
}

// speakerOf is the label a line begins with, "Registrar" or "Dr Amal"; "" where it has none.
func speakerOf(line string) string {
	l, _, ok := strings.Cut(line, ":")
	if !ok || len(l) < 2 || len(l) > 24 || !isCapital(l[0]) || strings.ContainsAny(l, ",;0123456789") || len(strings.Fields(l)) > 3 {
		return ""
	}
	return l
}

// turnLeads may stand before the number that a turn begins with.
var turnLeads = []string{"it's running at ", "it is running at ", "it's at ", "it's on ", "it's ", "it is ", "it says ", "i have ", "i've ", "i make it ", "no, ", "sheet says ", "actually "}

// putsNumberRight tells whether a turn begins with a number that is all its part says.
func putsNumberRight(turn string) bool {
	turn = afterHesitation(strings.TrimLeft(turn, " "))
	for _, lead := range turnLeads {
		if len(turn) > len(lead) && strings.EqualFold(turn[:len(lead)], lead) {
			turn = turn[len(lead):]
			break
		}
	}
	head := turn
	if i := strings.IndexAny(turn, ",;?!"); i >= 0 {
		head = turn[:i]
	}
	head = strings.TrimSuffix(strings.TrimSpace(head), ".")
	words := strings.Fields(head)
	for n := min(len(words), 4); n > 0; n-- {
		if d, _, ok := Number(strings.Join(words[:n], " ")); ok && d != "" {
			return len(words)-n <= 5
		}
	}
	return false
}
