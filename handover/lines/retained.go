package lines

import (
	"strconv"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Rest is what is left in the child of a thing: of one that is several of one sort, how
// many. Each of its words is "" where there is nothing to say.
type Rest struct {
	Left, Of int               // how many are in that are to come out, of how many that are listed; Of is 0 where no number is listed
	Part     string            // after it came out, that something of it is in, or may be: "Part left in", "1 of 2 left in", "Part may be left in"
	Cut      string            // that it was cut, and a part left inside on purpose: "Cut and left inside", "1 of 2 cut and left inside"
	By       *ledger.ItemEvent // the last cut that stands, or nil
	cut      int               // how many were cut, as far as that is known
}

// LeftOf is what is left of a thing. What was counted out of it is not, and what was cut
// and left inside is not to come out; both are in for as long as nothing says how they went.
func LeftOf(v *ledger.ItemView, it schema.Item) (r Rest) {
	r.Of, _ = strconv.Atoi(it.Decimal("count"))
	r.Left = r.Of
	for i := range v.Events {
		e := &v.Events[i]
		switch f := e.Facts; e.Kind {
		case ledger.KindRemoved, ledger.KindExchanged:
			switch f.Part() {
			case ledger.RemovedPart:
				r.Part = "Part left in"
			case ledger.PerhapsPart:
				r.Part = "Part may be left in"
			default:
				if r.Part = ""; e.Leaves == ledger.CutAndLeft {
					r.Left = 0
				} else { // what was cut came out as well
					r.By, r.cut = nil, 0
				}
			}
			if n, _ := strconv.Atoi(f.Number); r.Part != "" {
				r.Left = max(r.Left-n, 0)
			}
		case ledger.KindPlaced: // a piece that was seen again is a piece still
			r = Rest{Left: r.Of, Of: r.Of}
		case ledger.KindCutLeft:
			n, _ := strconv.Atoi(f.Cut)
			if f.Others != "yes" {
				n, r.Part = max(n, r.Left), ""
			}
			r.Left, r.cut, r.By = max(r.Left-n, 0), r.cut+n, e
		}
	}
	if r.Part != "" && r.Left > 0 && r.Left < r.Of {
		r.Part = strconv.Itoa(r.Left) + " of " + strconv.Itoa(r.Of) + " left in"
	}
	switch {
	case r.By == nil:
	case r.cut > 0 && r.cut < r.Of:
		r.Cut = strconv.Itoa(r.cut) + " of " + strconv.Itoa(r.Of) + " cut and left inside"
	case r.cut > 0 && r.Of == 0:
		r.Cut = strconv.Itoa(r.cut) + " cut and left inside"
	default:
		r.Cut = "Cut and left inside"
	}
	return r
}

// inside names what was cut and left inside, with when: "1 of 2 cut and left inside:
// atrial wires, 14-Jul-2026".
func (r Rest) inside(it schema.Item) string {
	return r.named(r.Cut, it) + ", " + r.By.Happened.Date().Shown()
}

func (r Rest) named(words string, it schema.Item) string {
	if strings.ContainsAny(words, "0123456789") { // it says how many
		return words + ": " + lower(Name(it))
	}
	return words + ": " + lower(FullName(it))
}

// NameNow is the full name of a thing with what is left of it in the child first.
func NameNow(v *ledger.ItemView, it schema.Item) string {
	r := LeftOf(v, it)
	switch {
	case r.Part != "" && r.Cut != "":
		return r.named(r.Part+", "+lower(r.Cut), it)
	case r.Cut != "" && r.By.Facts.Others == "yes" && v.Stand() != ledger.StandsCut:
		in := "Others"
		if r.Left > 0 {
			in = strconv.Itoa(r.Left) + " of " + strconv.Itoa(r.Of)
		}
		return r.named(in+" in, "+strconv.Itoa(r.cut)+" cut and left inside", it)
	case r.Part+r.Cut != "":
		return r.named(r.Part+r.Cut, it)
	}
	return FullName(it)
}
