package rules

import (
	"fmt"
	"slices"

	"fairlead/schema"
)

var countRules = []entry{
	{Rule{"left-without-plan", "A pack, throat pack or spreader left in without a removal plan", schema.Error, ranges},
		[]string{"items"}, leftWithoutPlan},
	{Rule{"packs-do-not-tally", "Packs in, put, out and left do not add up", schema.Error, ranges},
		[]string{"counts", "items", "removals"}, packsTally},
	{Rule{"count-correct-with-shortfall", "Counts called correct with something missing", schema.Error, ranges},
		[]string{"counts"}, countShortfall},
	{Rule{"count-unsettled", "A count not correct, with neither an X-ray result nor a name that accepts it", schema.Error, ranges},
		[]string{"counts"}, countUnsettled},
	{Rule{"seen-and-not-listed", "An object seen on the X-ray for the count, and nothing listed as left", schema.Question, ranges},
		[]string{"counts", "items", "removals"}, seenNotListed},
	{Rule{"open-chest-uncovered", "An open chest without what covers it", schema.Error, ranges},
		[]string{"closing", "items", "removals"}, openChest},
	{Rule{"closed-chest-with", "A closed chest with a spreader, a membrane or packs still listed", schema.Error, ranges},
		[]string{"closing", "counts", "items", "removals"}, closedChest},
}

func leftWithoutPlan(l *look) {
	for _, it := range l.of("left-on-purpose", "packs", "swabs", "throat-pack", "sternal-spreader") {
		if it.Text("removalPlan") == "" {
			l.find(it.Path("removalPlan"), fmt.Sprintf("%s %s.", l.title(it.Path("removalPlan")), l.value(it.Path("removalPlan"))),
				"Say when and how it must come out.")
		}
	}
}

// packCount is a number of packs; "none" is 0.
func (l *look) packCount(p schema.Path) (int, bool) {
	if l.none(p) {
		return 0, true
	}
	v, ok := l.Number(p)
	return int(v), ok
}

func packsTally(l *look) {
	in, ok1 := l.packCount(schema.CountsPacksIn)
	put, ok2 := l.packCount(schema.CountsPacksPut)
	out, ok3 := l.packCount(schema.CountsPacksOut)
	left, ok4 := l.packCount(schema.CountsPacksLeft)
	if ok1 && ok2 && ok3 && ok4 && in+put-out != left {
		l.find(schema.CountsPacksLeft, fmt.Sprintf("%s, but %d in, %d put in and %d taken out leave %d.", l.said(schema.CountsPacksLeft), in, put, out, in+put-out),
			"Count again before the child leaves.", schema.CountsPacksIn, schema.CountsPacksPut, schema.CountsPacksOut)
	}
	if ok4 {
		listed, since, known := 0, 0, true
		for _, it := range l.stillIn("left-on-purpose", "packs", "swabs") {
			n, ok := it.Number("count")
			known = known && ok
			listed += int(n)
			if slices.Contains(l.ctx.Out, it.ID) { // at the bed: the note may be about before or after
				since += int(n)
			}
		}
		if known && listed != left && listed-since != left {
			l.find(schema.CountsPacksLeft, fmt.Sprintf("%s, but the items listed make %d.", l.said(schema.CountsPacksLeft), listed), "List every pack left, or correct the count.")
		}
	}
	expected, ok5 := l.packCount(schema.RemovalsPacksExpected)
	retrieved, ok6 := l.packCount(schema.RemovalsPacksRetrieved)
	if ok5 && ok6 && expected != retrieved {
		l.find(schema.RemovalsPacksRetrieved, fmt.Sprintf("%s, but %s.", l.said(schema.RemovalsPacksRetrieved), l.said(schema.RemovalsPacksExpected)),
			"Look again, with an X-ray, before the chest is closed.", schema.RemovalsPacksExpected)
	}
	if ok3 && ok6 && out != retrieved {
		l.find(schema.CountsPacksOut, fmt.Sprintf("%s, but %s.", l.said(schema.CountsPacksOut), l.said(schema.RemovalsPacksRetrieved)), "Correct the one that is wrong.", schema.RemovalsPacksRetrieved)
	}
}

var countFields = []schema.Path{schema.CountsSwabs, schema.CountsNeedles, schema.CountsInstruments}

func countShortfall(l *look) {
	if l.Text(schema.CountsMissing) == "" || slices.ContainsFunc(countFields, func(p schema.Path) bool { return l.is(p, "incorrect") || l.none(p) }) {
		return
	}
	for _, p := range countFields {
		if l.is(p, "correct") {
			l.find(schema.CountsMissing, fmt.Sprintf("%s: %s, but every count is said to be correct.", l.title(schema.CountsMissing), quoted(l.Text(schema.CountsMissing))),
				"Correct the count that is wrong, or take the entry out.", countFields...)
			return
		}
	}
}

func countUnsettled(l *look) {
	if l.is(schema.CountsCountXray, "nothing-seen", "seen") || l.Text(schema.CountsCountAcceptedBy) != "" {
		return
	}
	for _, p := range countFields {
		if l.is(p, "incorrect") {
			l.find(p, fmt.Sprintf("%s, with %s and %s.", l.said(p), l.said(schema.CountsCountXray), l.said(schema.CountsCountAcceptedBy)),
				"Give the result of the X-ray, or the name of the person who accepts the count.", schema.CountsCountXray, schema.CountsCountAcceptedBy)
		}
	}
}

// seenNotListed asks where a thing is that the film showed: known and left in, it
// must stand in the list like everything else, whatever the other counts say.
func seenNotListed(l *look) {
	if at := schema.CountsCountXray; l.is(at, "seen") && len(l.stillIn("left-on-purpose")) == 0 {
		l.find(at, fmt.Sprintf("%s, but nothing is listed as left in on purpose.", l.said(at)),
			"If it is still in the child, list it among the items, with how and when it must come out.", schema.CountsMissing)
	}
}

func openChest(l *look) {
	if !l.is(schema.ClosingSternum, "open") {
		return
	}
	at := schema.ClosingCovering
	if !l.Has(at) {
		l.find(at, fmt.Sprintf("%s %s, but %s.", l.title(at), l.value(at), l.said(schema.ClosingSternum)), "Say what covers the chest.", schema.ClosingSternum)
	}
	for _, c := range []string{"membrane", "negative-pressure-dressing"} {
		if l.is(at, c) && len(l.stillIn("left-on-purpose", c)) == 0 {
			l.find(at, fmt.Sprintf("%s, but none is listed among the items.", l.said(at)), "List it with its tag, or correct what covers the chest.", schema.ClosingSternum)
		}
	}
}

func closedChest(l *look) {
	if !l.is(schema.ClosingSternum, "closed") {
		return
	}
	for _, it := range l.stillIn("left-on-purpose", "membrane", "packs", "swabs", "sternal-spreader") {
		if slices.Contains(l.ctx.Out, it.ID) {
			continue
		}
		l.find(schema.ClosingSternum, fmt.Sprintf("%s, but %s is still listed.", l.said(schema.ClosingSternum), name(it)),
			"Say that it came out, or that the chest is open.", l.at(it, "variety"))
	}
	if left, ok := l.packCount(schema.CountsPacksLeft); ok && left > 0 {
		l.find(schema.CountsPacksLeft, fmt.Sprintf("%s, but %s.", l.said(schema.CountsPacksLeft), l.said(schema.ClosingSternum)), "Correct the one that is wrong.", schema.ClosingSternum)
	}
}
