package lines

import (
	"strconv"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// LeftOf is how many are in of a thing that is several of one sort, and of how many that
// are listed, after what was counted out of it; of is 0 where no number is listed. words
// says of a thing of which something is in, or may be, after it came out, how much:
// "Part left in", "1 of 2 left in", "Part may be left in". They are "" for any other: for
// what is in whole, and for what was cut on purpose.
func LeftOf(v *ledger.ItemView, it schema.Item) (left, of int, words string) {
	of, _ = strconv.Atoi(it.Decimal("count"))
	left = of
	for i := range v.Events {
		switch f := v.Events[i].Facts; v.Events[i].Kind {
		case ledger.KindRemoved, ledger.KindExchanged:
			switch f.Part() {
			case ledger.RemovedPart:
				words = "Part left in"
			case ledger.PerhapsPart:
				words = "Part may be left in"
			default:
				words = ""
			}
			if n, _ := strconv.Atoi(f.Number); words != "" {
				left = max(left-n, 0)
			}
		case ledger.KindPlaced: // a piece that was seen again is a piece still
			left, words = of, ""
		case ledger.KindCutLeft:
			words = ""
		}
	}
	if words != "" && left > 0 && left < of {
		words = strconv.Itoa(left) + " of " + strconv.Itoa(of) + " left in"
	}
	return left, of, words
}

// NameNow is the full name of a thing with what is left of it in the child first.
func NameNow(v *ledger.ItemView, it schema.Item) string {
	left, of, words := LeftOf(v, it)
	switch {
	case words == "":
		return FullName(it)
	case left < of:
		return words + ": " + lower(Name(it))
	}
	return words + ": " + lower(FullName(it))
}
