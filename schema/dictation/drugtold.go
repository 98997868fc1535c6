package dictation

import "slices"

// What is told of a drug after its name, where it does not run.
const (
	drugStopped = "stopped"
	drugStandby = "standby"
	drugNever   = "never"
)

var (
	// readied are words for a drug that is at hand; neverDone are the verbs of what it
	// never came to.
	readied   = wordSet("drawn made up ready loaded hanging hung syringe standby spare")
	neverDone = wordSet("start started begin begun connect connected need needed use used run running give given hung on want wanted require required going switched opened commenced got had necessary yet in")
	// endsRun are words for the end of an infusion; wereNow stand before one that is told of
	// a drug named further off.
	endsRun = wordSet("off stopped finished discontinued gone disconnected held")
	wereNow = wordSet("is its it been are were was now just both all that thats since already got we i they turned switched taken weaned has")
	// maybeLater are words that put what follows them off; afterwards puts it off from behind.
	maybeLater = wordSet("if until till unless when once will can could should must please may might would going let wean")
	afterwards = wordSet("tonight tomorrow later soon eventually")
)

// drugTold is what is told of the drug at sign i, in its own words or in words of several
// drugs; "" where it runs, or nothing is.
func (g *segment) drugTold(i, end int) string {
	if f := g.drugToldAfter(i, end); f != "" {
		return f
	}
	if f := g.drugsTogether(i); f != "" {
		return f
	}
	return g.drugsHeading(i)
}

// drugToldAfter is what is told of the drug at sign i in the words up to token end: that it was
// stopped, is ready and does not run, or never ran. A number before it needs plainer words:
// "adrenaline was point oh five on the pump but now it is off". It is "" where nothing is.
func (g *segment) drugToldAfter(i, end int) string {
	from := g.signs[i].to
	ready, numbers := false, false
	for g.is(from, "infusion", "drip", "gtt", "syringe", "inf") {
		ready = ready || g.is(from, "syringe")
		from++
	}
	told := ""
	for k := from; k < min(end, from+20) && g.toks[k].kind != stop; k++ {
		if g.numberAt(k) {
			numbers = true
			k = g.signs[g.at[k]].to - 1
			continue
		}
		if g.is(k, "standing") && g.is(k+1, "by") || g.is(k, "s") && g.is(k+1, "/") && g.is(k+2, "by") {
			return drugStandby
		}
		if to := g.neverAt(k); to > 0 && told == "" && (!numbers || wereNow[g.wordAt(k-1)] || ready && g.is(k-1, "but", "and", ",")) {
			told = drugNever
			if ready && !g.hadReadied(from, k) {
				told = drugStandby
			}
			k = to - 1
			continue
		}
		if readied[g.toks[k].text] && !g.is(k, "up") && !(g.is(k, "loaded") && k > from) {
			ready = true // a drug that "we loaded" was given
			continue
		}
		if endsRun[g.toks[k].text] && (told == "" || wereNow[g.wordAt(k-1)]) && g.endsHere(from, k, numbers) {
			return drugStopped
		}
		if numbers && g.is(k, "and") && g.is(k+1, "the", "we", "i", "her", "his") {
			break // "milrinone at a quarter and the prostin is off"
		}
		if g.is(k, "to") && g.is(k+1, "be", "come", "go", "start", "stop", "wean", "run", "begin") {
			break
		}
		if maybeLater[g.toks[k].text] && !(g.is(k, "going") && g.is(k-1, "not")) || g.speaksOther(k) {
			break
		}
	}
	return told
}

// hadReadied tells whether the words from token a to b tell of what was at hand then: "the
// noradrenaline we had drawn up was never started" leaves nothing that stands by.
func (g *segment) hadReadied(a, b int) bool {
	for k := a; k < b; k++ {
		if g.is(k, "had", "was") && (readied[g.wordAt(k+1)] || g.is(k+1, "been") && readied[g.wordAt(k+2)]) {
			return true
		}
	}
	return false
}

// neverAt is where words end that begin at token k and say that a drug never ran, or 0:
// "never needed", "did not begin it", "not connected".
func (g *segment) neverAt(k int) int {
	ends := func(k int) bool { return k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",") }
	switch {
	case g.is(k, "nothing") && ends(k+1):
		return k + 1
	case g.is(k, "crossed") && g.is(k+1, "out", "through", "off"):
		return k + 2
	case !g.is(k, "never", "not", "didnt", "isnt", "wasnt", "hasnt", "havent", "werent", "arent"):
		return 0
	case ends(k + 1):
		if g.is(k, "never") {
			return k + 1
		}
		return 0
	}
	for n := k + 1; n < len(g.toks) && n < k+4; n++ {
		if neverDone[g.toks[n].text] {
			if g.is(n, "on", "in") && !ends(n+1) {
				return 0 // "milrinone's not on it"
			}
			if g.is(n, "got", "had", "been") && n+1 < len(g.toks) && neverDone[g.toks[n+1].text] {
				continue
			}
			return n + 1
		}
		if !g.is(n, "been", "be", "yet", "ever", "got", "re", "actually", "really") {
			return 0
		}
	}
	return 0
}

// endsHere tells whether the word at token k says that the drug whose name ends at token
// from is off.
func (g *segment) endsHere(from, k int, numbers bool) bool {
	if g.is(k, "off") && g.is(k+1, "bypass", "pump", "the", "cpb", "support", "ecmo") || afterwards[g.wordAt(k+1)] || g.denyingAt(k-1) ||
		g.is(k, "held") && g.is(k+1, "till", "until", "off", "for") || g.is(k, "gone") && g.is(k+1, "from", "to", "up", "down") || g.is(k+1, "the") && !g.is(k, "off") {
		return false
	}
	for n := k + 1; n+1 < len(g.toks) && n < k+5 && g.toks[n].kind != stop; n++ {
		if g.is(n, "not") && g.is(n+1, g.toks[k].text) {
			return false // "off, actually not off"
		}
	}
	came := g.is(k-1, "came", "come", "coming", "went", "gone")
	switch {
	case numbers:
		return !came && wereNow[g.wordAt(k-1)]
	case k == from, came && k-from <= 3, g.is(k-1, ",") && k == from+1:
		return true
	}
	return wereNow[g.wordAt(k-1)]
}

// backOn tells whether the drug at sign i, off for a time, is told to run again: "was off this
// morning, back on at 0.02", "stopped and restarted at 0.05".
func (g *segment) backOn(i, end int) bool {
	for k := g.signs[i].to; k < min(end, g.signs[i].to+16) && g.toks[k].kind != stop; k++ {
		if (g.is(k, "back") && g.is(k+1, "on", "up", "in") || g.is(k, "on") && g.is(k+1, "again") || g.is(k, "restarted", "resumed", "recommenced")) && !g.denyingAt(k-1) && !g.anyWithin(k-3, k, "to", "be", "go", "if", "when", "can", "will", "not", "should", "once", "goes", "start") {
			return true
		}
	}
	return false
}

// speaksOther tells whether something else than infusions, and where they ran, is spoken of
// at token k.
func (g *segment) speaksOther(k int) bool {
	n := g.at[k]
	if n < 0 || g.signs[n].from != k {
		return false
	}
	s := &g.signs[n]
	if s.is(both) {
		return false
	}
	return s.has(isItem) && !g.within(s, "line", "syringe") || !g.rowWord(s, running) && slices.ContainsFunc(s.senses, func(x sense) bool {
		return x.field != nil && !whereRun[x.field.Section] && x.field.Section != "infusions" && x.field.Section != "child"
	})
}

// drugsTogether is the fate of the drug at sign i, where it is told of it with the drugs
// after it: "adrenaline and noradrenaline are both off", "epi and vaso off".
func (g *segment) drugsTogether(i int) string {
	for {
		j := g.nextSign(g.signs[i].to)
		if j >= len(g.signs) || g.drugAt(j) == "" || g.signs[j].from != g.signs[i].to+1 || !g.is(g.signs[i].to, "and") {
			return ""
		}
		i = j
		if f := g.drugToldAfter(i, g.endOfDrug(i)); f != "" {
			return f
		}
	}
}

// drugsHeading is the fate that heads a list of drugs, or stands before the first: "Standby:
// noradrenaline", "Stopped: milrinone, calcium", "Off adrenaline before leaving".
func (g *segment) drugsHeading(i int) string {
	k := 0
	for g.is(k, "on", "now", "all", "and") {
		k++
	}
	fate := ""
	switch {
	case endsRun[g.wordAt(k)] && !g.is(k, "gone"):
		fate = drugStopped
	case g.is(k, "not") && g.is(k+1, "running", "on", "needed", "used", "started"):
		fate = drugNever
		k++
	case g.is(k, "standby", "ready"), g.is(k, "drawn", "made") && g.is(k+1, "up"):
		fate = drugStandby
		if g.is(k+1, "up") {
			k++
		}
	default:
		return ""
	}
	if !g.is(k+1, ":") {
		if fate == drugStopped && g.signs[i].from == k+1 && !g.numberIn(g.signs[i].to, min(len(g.toks), g.signs[i].to+3)) {
			return fate
		}
		return ""
	}
	return fate
}

// drugStoppedBefore tells whether the words right before token k say of a drug that it was
// stopped: "adrenaline came off an hour", "stopped the milrinone ten minutes".
func (g *segment) drugStoppedBefore(k int) bool {
	stopped := false
	for n := k - 1; n >= 0 && n > k-8 && g.toks[n].kind != stop; n-- {
		stopped = stopped || endsRun[g.toks[n].text]
		if i := g.at[n]; i >= 0 && stopped && g.drugAt(int(i)) != "" {
			return true
		}
	}
	return false
}

// useRunning takes the words for infusions after the drug at sign i for that drug's: "heparin
// is not running" says nothing of the others.
func (g *segment) useRunning(i, end int) {
	for j := i + 1; j < len(g.signs) && g.signs[j].from < end; j++ {
		if g.meansName(&g.signs[j], fieldAt(running)) {
			g.signs[j].used = true
		}
	}
}
