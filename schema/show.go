package schema

import (
	"encoding/json"
	"strconv"
	"strings"
)

// NotRecorded is the words for a field without value or answer. "None" and "not
// known" are other things and other words.
const NotRecorded = "not recorded"

// ShowNumber writes a decimal as it may be shown: a leading zero always, a
// trailing zero never, a true minus sign as a hyphen. ISMP's list of error-prone
// dose designations asks for both zeros.
func ShowNumber(decimal string) string {
	if plainNumber(decimal) {
		return decimal
	}
	s := strings.TrimSpace(decimal)
	if strings.Trim(s, "+-.0123456789eE") != "" || !strings.ContainsAny(s, "0123456789") {
		return s // not a number: shown as it stands
	}
	if strings.ContainsAny(s, "eE") {
		f, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return s
		}
		s = strconv.FormatFloat(f, 'f', -1, 64)
	}
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	whole, part, _ := strings.Cut(strings.TrimPrefix(s, "+"), ".")
	whole = strings.TrimLeft(whole, "0")
	part = strings.TrimRight(part, "0")
	if whole == "" {
		whole = "0"
	}
	if part == "" {
		if whole == "0" {
			sign = ""
		}
		return sign + whole
	}
	return sign + whole + "." + part
}

// plainNumber tells of most numbers that they may be shown as they stand: digits
// that do not begin with a zero, or one zero, and no decimals that end in one.
func plainNumber(s string) bool {
	point := len(s)
	for i := range len(s) {
		switch c := s[i]; {
		case c == '.' && point == len(s):
			point = i
		case c < '0' || c > '9':
			return false
		}
	}
	return point > 0 && (s[0] != '0' || point == 1) && (point == len(s) || point < len(s)-1 && s[len(s)-1] != '0')
}

// ShowQuantity is a decimal with its unit.
func ShowQuantity(decimal, unit string) string {
	s := ShowNumber(decimal)
	if u := UnitShown(unit); u != "" {
		return s + " " + u
	}
	return s
}

// ShowStated words an answer that is not a value.
func ShowStated(f *Field, answer string) string {
	switch answer {
	case StatedNone:
		if f != nil && f.None != "" {
			return f.None
		}
		return "None"
	case StatedUnknown:
		return "Not known"
	case StatedNotMeasured:
		return "Not measured"
	case StatedUnrecordable:
		return "Unrecordable"
	case StatedClotted:
		return "Sample clotted"
	}
	return answer
}

// Show is what a reader sees of the field at p: the value with its unit, the
// words of a stated answer, or "not recorded".
func Show(f *Field, n *Note, p Path) string {
	if s := n.Stated(p); s != "" {
		return ShowStated(f, s)
	}
	v, ok := n.Value(p)
	if !ok || f == nil {
		return NotRecorded
	}
	if len(f.By) > 0 {
		f = n.VariantAt(f, p.ids()...)
	}
	return ShowBound(n.Bound(p)) + ShowValue(f, v, n)
}

// ShowBound words a comparator before its value. In words, because ISMP's list of
// error-prone abbreviations has both signs: each is read as its opposite.
func ShowBound(bound string) string {
	switch bound {
	case "<":
		return "less than "
	case ">":
		return "more than "
	}
	return ""
}

// ShowValue words one value of a field. The note resolves items by tag; it may
// be nil.
func ShowValue(f *Field, v any, n *Note) string {
	switch v := v.(type) {
	case json.Number:
		return ShowQuantity(string(v), f.Unit)
	case bool:
		if v {
			return "Yes"
		}
		return "No"
	case string:
		switch f.Format {
		case "moment":
			if m, err := ParseMoment(v); err == nil {
				return m.Shown()
			}
		case "date":
			return Date(v).Shown()
		case "item":
			return showItem(v, n)
		}
		return f.Label(v)
	case []string: // chosen, and not yet through JSON
		all := make([]any, len(v))
		for i, x := range v {
			all[i] = x
		}
		return ShowValue(f, all, n)
	case []any:
		var words []string
		for _, x := range v {
			s, ok := x.(string)
			switch {
			case ok && f.Format == "items":
				words = append(words, showItem(s, n))
			case ok:
				words = append(words, f.Label(s))
			}
		}
		if f.Type == "rows" {
			if len(v) == 1 {
				return "1 entry"
			}
			return strconv.Itoa(len(v)) + " entries"
		}
		if len(words) == 0 {
			return NotRecorded
		}
		return strings.Join(words, ", ")
	}
	return NotRecorded
}

func showItem(id string, n *Note) string {
	if n != nil {
		if it, ok := n.Item(id); ok {
			return "tag " + strconv.Itoa(it.Tag)
		}
	}
	return "an item that is not listed"
}
