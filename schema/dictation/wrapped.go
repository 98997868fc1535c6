package dictation

import "strings"

// narrow is the shortest line that may have been broken for its width alone.
const narrow = 50

// ragged is the width from which lines may have been broken by hand.
const ragged = 80

// unwrapped is a text whose lines were broken for their width, with a space for each
// such break: the sentence goes on. A break ends a line for its width when the first
// word of the next would have made it longer than the longest line of the text, and
// no stop stands before it; lines broken by hand are ragged, and go on in small
// letters, as does what breaks after a comma. No byte is moved.
func unwrapped(text string) string {
	lines := strings.Split(text, "\n")
	if len(lines) < 2 {
		return text
	}
	widest := 0
	for _, l := range lines {
		widest = max(widest, len(strings.TrimRight(l, " \r")))
	}
	if widest < narrow {
		return text
	}
	out := []byte(text)
	end := -1
	for i, l := range lines[:len(lines)-1] {
		end += len(l) + 1
		line, next := strings.TrimRight(l, " \r"), firstWord(lines[i+1])
		if len(line) >= narrow && next != "" && (!strings.ContainsRune(".;:!?", rune(line[len(line)-1])) || strings.HasSuffix(line, "...")) && isLetterOrDigit(next[0]) &&
			(len(line)+1+len(next) > widest || line[len(line)-1] == ',' && !isCapital(next[0]) || 4*len(line) >= 3*widest && widest >= ragged && !isCapital(next[0])) {
			out[end] = ' '
		}
	}
	return string(out)
}

func isLetterOrDigit(c byte) bool { return isLetter(c) || isDigit(c) }

func isCapital(c byte) bool { return c >= 'A' && c <= 'Z' }
