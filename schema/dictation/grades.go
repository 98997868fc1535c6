package dictation

import (
	"slices"

	"fairlead/schema"
)

// leaks are words for the leak of a valve, outlets those before one that is of the
// valve to the aorta and not of the atrioventricular one.
var (
	leaks   = wordSet("leak leaked leaking regurgitation regurg tr mr avvr insufficiency incompetence")
	outlets = wordSet("aortic neoaortic ao aorta pulmonary truncal neoao")
)

// valves are words for the valve itself, whose leak a grade beside it tells: "AVV mild".
var valves = wordSet("avv valve tricuspid mitral")

// leakGrades are the words for how much a valve leaks.
var leakGrades = map[string]string{
	"trivial": "trivial", "trivially": "trivial", "trace": "trivial", "minimal": "trivial", "minimally": "trivial",
	"mild": "mild", "mildly": "mild", "moderate": "moderate", "moderately": "moderate", "mod": "moderate",
	"severe": "severe", "severely": "severe", "torrential": "severe", "whiff": "trivial",
}

// leakGrade is a grade met, at its token.
type leakGrade struct {
	at     int
	outlet bool
	before bool
	valve  bool // the valve is named, and no leak
}

// readLeaks reads how much each valve leaks where a plain name beside a plain value
// would not tell: two grades of one valve, before and now, "mild leak, moderate
// before", and two valves, "AVV leak trivial, neoaortic leak mild".
func (g *segment) readLeaks() {
	before, after, outlet := fieldAt(schema.BeforeAvValveLeak), fieldAt(schema.EchoAvValveLeak), fieldAt(schema.EchoOutletLeak)
	if !g.inNote(before) || !g.inNote(after) {
		return
	}
	var met []leakGrade
	for k := range g.toks {
		if leakGrades[g.toks[k].text] == "" || g.at[k] >= 0 && (g.signs[g.at[k]].used || g.signs[g.at[k]].scope&(denied|intended|calling|aiming|hearsay|weighed) != 0) {
			continue
		}
		noun := g.leakAt(k)
		if noun < 0 || g.is(k+1, "to", "-") && leakGrades[g.wordAt(k+2)] != "" && !g.is(k-1, "from") && !g.mentions("went", "improved", "came", "down") {
			continue // "mild to moderate"
		}
		met = append(met, leakGrade{k, outlets[g.wordAt(noun-1)] || g.is(noun-1, "valve") && outlets[g.wordAt(noun-2)], g.ofBefore(k), valves[g.toks[noun].text]})
	}
	claim := func(f *schema.Field, m leakGrade) {
		g.claimField(f, leakGrades[g.toks[m.at].text], m.at, m.at+1, m.at, m.at+1)
		if n := g.at[m.at]; n >= 0 {
			g.signs[n].used = true
		}
	}
	for k := range g.toks { // "the neo-aortic valve is competent"
		if g.is(k, "competent") && g.inNote(outlet) && (outlets[g.wordAt(k-2)] && g.is(k-1, "valve") || outlets[g.wordAt(k-3)] && g.is(k-2, "valve")) && !g.unrealAt(k) {
			g.claimField(outlet, "none", k, k+1, k-2, k+1)
			if n := g.at[k]; n >= 0 {
				g.signs[n].used = true
			}
		}
	}
	var av []leakGrade
	for _, m := range met {
		if !m.outlet {
			av = append(av, m)
		} else if !m.before && g.inNote(outlet) {
			claim(outlet, m)
		}
	}
	switch {
	case len(av) == 1 && av[0].before:
		claim(before, av[0])
	case len(av) == 1 && (g.at[av[0].at] < 0 || len(met) > 1 || av[0].valve):
		claim(after, av[0])
	case len(av) == 2 && (av[0].before != av[1].before || !av[0].before && g.turnsTo(av[0].at, av[1].at)):
		if av[1].before {
			av[0], av[1] = av[1], av[0]
		}
		claim(before, av[0])
		claim(after, av[1])
	case len(av) == 2 && !av[0].before && g.gradeNow(av[1].at) && !g.gradeNow(av[0].at):
		if n := g.at[av[0].at]; n >= 0 {
			g.signs[n].used = true // "after this it was moderate, so another stitch and it is now mild"
		}
		claim(after, av[1])
	}
}

// gradeNow tells whether the words beside a grade say that it is the one of now.
func (g *segment) gradeNow(at int) bool {
	for k := max(0, at-3); k < at; k++ {
		if g.is(k, "now", "finally", "only") && !g.is(k, ",") {
			return true
		}
	}
	_, when := g.momentAfter(at + 1)
	return when == lastTime
}

// leakAt is the word for a leak that the grade at token k is said of, or -1.
func (g *segment) leakAt(k int) int {
	if g.is(k+1, "reduced", "impaired", "down", "dysfunction", "stenosis", "hypoplasia", "adhesion", "gradient", "coarctation", "reaction", "red") {
		return -1
	}
	best, near := -1, 16
	for j := range g.toks {
		leak := leaks[g.toks[j].text] || g.is(j, "t", "m") && g.is(j+1, "r")
		if !leak && (!valves[g.toks[j].text] || outlets[g.wordAt(j-1)] || !g.gradesValve(j, k)) {
			continue
		}
		gap := j - k
		if gap < 0 {
			gap = -gap
		}
		for m := min(j, k); m < max(j, k); m++ {
			if g.is(m, ",", ";") {
				gap += 3
			}
			if g.is(m, "function", "fn", "squeeze", "septum", "gradient", "adhesion", "hypotension") || g.toks[m].kind == stop {
				gap += 16
			}
		}
		if gap < near {
			best, near = j, gap
		}
	}
	return best
}

// ofEcho tells whether a sign is a value that an echo tells.
func (g *segment) ofEcho(s *sign) bool {
	return slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isValue && x.field.Section == "echo" })
}

// gradesValve tells whether the grade at token k can be the leak of the valve named at
// token j: the valve stands first, and the two are near one another or the grade is one of
// two, of before and of now.
func (g *segment) gradesValve(j, k int) bool {
	if j > k {
		return false
	}
	if k-j <= 3 && !g.is(j+1, "repair", "repaired", "was", "is") && !g.anyWithin(j+1, k, ",", "and", "with", "but") {
		return true
	}
	before, now := false, false
	for m := range g.toks {
		if leakGrades[g.toks[m].text] != "" {
			was := g.ofBefore(m) || g.is(m-1, "was", "were") || g.is(m+1, ">", "→")
			before, now = before || was, now || !was
		}
	}
	return before && now
}

// ofBefore tells whether the words beside a grade put it before the operation.
func (g *segment) ofBefore(at int) bool {
	for k := at + 1; k < len(g.toks) && k < at+5 && !g.is(k, ",", "and", "but", "now") && leakGrades[g.toks[k].text] == ""; k++ {
		if g.is(k, "before", "beforehand", "preop", "pre", "preoperatively", "preoperative", "previously") || g.is(k, "at") && g.is(k+1, "cath", "catheter", "presentation") || g.is(k, "going", "coming") && g.is(k+1, "in", "into") || g.is(k, "on") && g.is(k+1, "arrival", "admission") || g.is(k, "to") && g.is(k+1, "start", "begin") {
			return !g.is(k+1, "we", "i", "the") || g.is(k+2, "started", "began", "operated", "operation", "surgery", "repair", "case")
		}
	}
	if g.is(0, "pre") && g.is(1, ":") {
		return true
	}
	other := false
	if g.is(at-1, "leaking", "leaked") && g.anyWithin(at-4, at, "was", "were") && g.mentions("because", "so", "therefore") && g.mentions("repair", "repaired", "annuloplasty", "ring", "stitch") {
		return true // "because the valve was leaking moderately we put an annuloplasty on it"
	}
	for k := at - 1; k >= 0 && k >= at-4 && !g.is(k, "and", "but", "now", "/") && !other; k-- {
		if leakGrades[g.wordAt(k-1)] != "" && !g.is(k, "been", "had") {
			break // of the grade before it: "moderate before, trace after"
		}
		if g.is(k, "been", "before", "beforehand", "preop", "pre", "preoperatively", "preoperative") || g.is(k, "had") && k >= at-2 {
			return !g.is(k+1, "→", ">")
		}
		other = leakGrades[g.toks[k].text] != ""
	}
	if g.is(at-1, "was", "were") { // "mild, was severe"
		for k := at - 2; k >= 0 && k >= at-5; k-- {
			if leakGrades[g.toks[k].text] != "" {
				return true
			}
		}
	}
	n := g.nextSign(at)
	for i := n - 1; n < len(g.signs) && g.signs[n].scope&coming != 0 && i >= 0 && leakGrades[g.toks[g.signs[i].from].text] == ""; i-- {
		if g.signs[i].is(comes) {
			return true
		}
	}
	return false
}

// turnsTo tells whether one grade became another: "moderate to trivial", "mod → mild".
func (g *segment) turnsTo(a, b int) bool {
	if g.is(a-1, "was", "were") && (g.is(b+1, "now", "after", "afterward") || g.is(b-1, "now")) {
		return true // "was severe, mild now"
	}
	from := g.is(a-1, "from") || g.mentions("went", "improved", "reduced", "came", "down")
	for k := a + 1; k < b; k++ {
		if g.is(k, ">", "→") || g.is(k, "to") && from {
			return true
		}
	}
	return false
}
