package dictation

// keptOrListed tells whether a place named before token k stands in a list, or is told to
// be as it was: "mediastinal stays", "the right pleural one is as before".
func (g *segment) keptOrListed(k int) bool {
	if g.is(k, "one") {
		k++
	}
	if k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", "and", "only") {
		return true
	}
	if g.is(k, "is", "was", "are", "has", "were") {
		return g.is(k+1, "unchanged", "kept", "the", "as", "untouched", "same", "still", "left")
	}
	return g.is(k, "stay", "remain", "unchanged", "kept", "untouched", "same") || g.is(k, "as", "left") && g.is(k+1, "it", "before", "is", "was", "alone", "in") || g.is(k, "still") && g.is(k+1, "in", "there")
}
