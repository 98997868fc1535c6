package dictation

import (
	"iter"
	"strconv"
	"strings"

	"fairlead/schema"
)

// claim is one value read in a segment, before the whole text is weighed.
type claim struct {
	group    int // in the segment's groups; -1 for a plain field
	field    *schema.Field
	value    string
	stated   string
	bound    string
	from, to int // the tokens of the value
	why      int // the first token of the phrase
	whyTo    int
	sure     Sure
	note     string
	ref      int  // for a reference to an item: the segment's group, or -1
	leaving  bool // said of the state on leaving, or now
	gone     bool
}

// group is a row or an item read in a segment.
type group struct {
	list    schema.Path
	item    *schema.ItemKind
	variety string
	denied  bool
	whole   bool // a denial of all of its kind, in which it is not named
	again   bool // "another": never the one met before
	mention bool // it may be a thing listed elsewhere: "through the left atrial line"
	ofLast  bool // it says more of the things listed in the sentence before
	one     bool // of the last of them alone
	many    int  // of as many as that; -1: of all; 0: not said
	amends  bool // it puts right a thing listed before
	gone    bool // taken back later in the segment
	from    int
	to      int
	sure    Sure
	note    string
}

// claimField adds a plain claim.
func (g *segment) claimField(f *schema.Field, value string, from, to, why, whyTo int) *claim {
	return g.claimIn(-1, f, value, from, to, why, whyTo)
}

func (g *segment) claimIn(grp int, f *schema.Field, value string, from, to, why, whyTo int) *claim {
	why = max(0, min(why, from)) // "forty percent oxygen" may open the text
	whyTo = min(max(whyTo, to), len(g.toks))
	g.claims = append(g.claims, claim{group: grp, field: f, value: value, from: from, to: to, why: why, whyTo: whyTo, sure: Certain, ref: -1})
	c := &g.claims[len(g.claims)-1]
	c.leaving = g.leavingAt(amount{from: from, to: to}) || g.arrivedBefore(from) || g.saidAfter(from, to)
	if n := g.at[from]; n >= 0 && g.signs[n].num != nil && g.signs[n].num.other != "" {
		c.sure, c.note = Check, "the comma may stand for the point or between thousands"
	}
	for k := why; k < whyTo; k++ {
		if n := g.at[k]; n >= 0 && g.signs[n].scope&vague != 0 && g.signs[n].from >= from-3 && g.signs[n].from < to {
			c.sure, c.note = Check, "said as about"
		}
	}
	return c
}

func (g *segment) newGroup(list schema.Path, from, to int) int {
	if to <= from {
		from, to = min(from, to), max(from, to)
		if to == from {
			to++
		}
	}
	g.groups = append(g.groups, group{list: list, from: from, to: to, sure: Certain})
	return len(g.groups) - 1
}

// arrivedBefore tells whether "on leaving" or "afterwards" stands before token k
// in its clause, or opens the segment.
func (g *segment) arrivedBefore(k int) bool {
	for i := range g.signs {
		s := &g.signs[i]
		if s.from >= k {
			break
		}
		if s.is(arrives) && !s.is(passing) && !s.is(chooses) && (g.clause[s.from] == g.clause[k] || s.from <= 1) {
			return true
		}
	}
	return false
}

// amount is a number with the unit said beside it.
type amount struct {
	sign     int // of the number
	unitSign int // or -1
	from, to int // tokens, unit included
	decimal  string
	other    string // what it may be as well, see number
	clock    string
	units    []string // what the unit phrase can mean; none: not said
	said     string
}

// plainAmounts are the numbers that are plainly told, by their sign, as [segment.amountAt]
// reads them.
func (g *segment) plainAmounts() iter.Seq2[int, amount] {
	return func(yield func(int, amount) bool) {
		for i := range g.signs {
			if g.signs[i].num == nil || !g.plainTalk(i) {
				continue
			}
			if a, _ := g.amountAt(i); !yield(i, a) {
				return
			}
		}
	}
}

// amountAt reads the number at sign i and the unit beside it.
func (g *segment) amountAt(i int) (amount, bool) {
	s := &g.signs[i]
	if s.num == nil || s.used {
		return amount{}, false
	}
	a := amount{sign: i, unitSign: -1, from: s.from, to: s.to, decimal: s.num.decimal, other: s.num.other, clock: s.num.clock}
	take := func(j int) {
		u := &g.signs[j]
		a.unitSign = j
		for _, x := range u.senses {
			if x.kind == isUnit {
				a.units = append(a.units, x.unit)
			}
		}
		a.said = g.words(u.from, u.to)
		a.from, a.to = min(a.from, u.from), max(a.to, u.to)
	}
	if i+1 < len(g.signs) {
		u := &g.signs[i+1]
		if u.from == s.to && u.has(isUnit) && !u.used {
			take(i + 1)
			return a, true
		}
	}
	// "French eight", "gauge 22": the unit said first.
	if i > 0 {
		u := &g.signs[i-1]
		if u.to == s.from && u.has(isUnit) && !u.used && u.num == nil && !u.content() && (i < 2 || g.signs[i-2].num == nil || g.signs[i-2].to != u.from) {
			for _, x := range u.senses {
				if x.kind == isUnit && (x.unit == "[Ch]" || x.unit == "{gauge}") && u.to-u.from == 1 && len(g.toks[u.from].text) > 1 {
					take(i - 1)
					break
				}
			}
		}
	}
	return a, true
}

// fits tells whether an amount can be a value of the field, and gives the value
// in the field's unit.
func fits(f *schema.Field, a amount) (value string, exact, ok bool) {
	switch {
	case f.Format == "moment" || f.Format == "clock":
		return a.clock, true, a.clock != "" && a.units == nil
	case !f.Numeric() || a.decimal == "":
		return "", false, false
	}
	if a.other != "" { // "1,200": the one reading that can be, if only one can
		b := a
		a.other, b.decimal, b.other = "", a.other, ""
		v, exact, ok := fits(f, a)
		w, exact2, ok2 := fits(f, b)
		switch {
		case ok && ok2:
			return "", false, false
		case ok2:
			return w, exact2, true
		}
		return v, exact, ok
	}
	if (f.Name == "suction" || f.Name == "vacuum") && strings.HasPrefix(a.decimal, "-") {
		a.decimal = a.decimal[1:] // said with a minus and kept without
	}
	candidates := []string{a.decimal}
	if a.units != nil {
		candidates = nil
		for _, u := range a.units {
			if v, same := convert(a.decimal, u, f.Unit); v != "" {
				if same {
					candidates = append([]string{v}, candidates...)
					exact = true
				} else {
					candidates = append(candidates, v)
				}
			}
		}
		if f.Name == "inspiredOxygen" || f.Name == "sweepOxygen" {
			for _, u := range a.units {
				if u == "%" {
					candidates = append(candidates, shift(a.decimal, -2))
					exact = true
				}
			}
		}
	} else {
		candidates = append(candidates, unsaidUnit(f, a.decimal)...)
	}
	for _, v := range candidates {
		if f.Type == "integer" && strings.Contains(v, ".") {
			continue
		}
		if plausible(f, v) {
			return v, exact, true
		}
	}
	return "", false, false
}

// unsaidUnit are other readings of a number said without its unit: "in forty"
// for a fraction, "twenty nine fifty" grams for a weight, "seven thirty five" for
// a pH.
func unsaidUnit(f *schema.Field, d string) []string {
	switch {
	case f.Unit == "[pH]" && !strings.Contains(d, ".") && len(d) == 3:
		return []string{shift(d, -2)}
	case (f.Name == "inspiredOxygen" || f.Name == "sweepOxygen") && !strings.Contains(d, "."):
		return []string{shift(d, -2)}
	case f.Unit == "kg" && len(d) == 4 && !strings.Contains(d, "."):
		return []string{shift(d, -3)}
	case f.Unit == "mm[Hg]" && f.Section == "gas": // no gas has a tension that low in mmHg
		if v, _ := convert(d, "kPa", f.Unit); v != "" {
			return []string{v}
		}
	case f.Unit == "g/dL" && len(d) >= 2 && !strings.Contains(d, "."):
		return []string{shift(d, -1)}
	}
	return nil
}

func plausible(f *schema.Field, v string) bool {
	x, err := strconv.ParseFloat(v, 64)
	if err != nil {
		return false
	}
	return (f.Min == nil || x >= *f.Min) && (f.Max == nil || x <= *f.Max)
}

// usual tells whether a value lies where the field's values usually do.
func usual(f *schema.Field, kind schema.Kind, v string) bool {
	r, ok := f.UsualFor(kind)
	if !ok {
		return true
	}
	x, err := strconv.ParseFloat(v, 64)
	return err == nil && r.Holds(x)
}
