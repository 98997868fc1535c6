package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// reach is how many words a cue may reach where nothing ends its scope.
const reach = 12

// findScopes says of every sign how it is meant.
func (g *segment) findScopes() {
	flags := make([]scope, len(g.toks))
	set := func(from, to int, f scope) {
		for k := max(from, 0); k < to && k < len(flags); k++ {
			flags[k] |= f
		}
	}
	back := g.stepsBack()
	for i := range g.signs {
		s := &g.signs[i]
		switch {
		case back && s.from < 8 && (s.is(passing) || s.is(priorly)) && !s.is(history):
			// "before that, we closed" is no earlier time
		case s.is(passing) && g.is(s.to-1, "attempt") && (s.to >= len(g.toks) || g.is(s.to, ",") || g.toks[s.to].kind == stop):
			// "radial, first attempt, 24 gauge"
		case s.is(retracts):
			n := i + 1
			for n < len(g.signs) && !g.signs[n].content() && g.signs[n].num == nil {
				n++ // "strike the bit about the left drain"
			}
			if n < len(g.signs) && g.signs[n].from-s.to <= 4 {
				set(g.signs[n].from, g.signs[n].to, weighed)
				for _, x := range g.signs[n].senses {
					if x.kind != isCue && x.kind != isUnit {
						g.taken = append(g.taken, withdrawn{sense: x})
					}
				}
			}
		case s.is(misfits) && i > 0 && g.lex.kind != schema.ShuntRevision:
			set(g.stateStart(i, 9), s.from, weighed)
		case s.is(corrects) && s.to-s.from == 2 && g.is(s.from, "should") && g.is(s.to-1, "be") && i+1 < len(g.signs) && g.signs[i+1].num != nil && !g.is(s.from-1, "that", "it", "this", "which", ",") && !g.numberSoon(i):
			set(s.from, g.endIntent(s.to, reach-2), intended) // "sats should be 75 to 80"
		case s.is(scratches), s.is(corrects):
		case s.is(neither):
			set(s.to, g.endOf(s.to, reach), denied)
		case s.is(denies) || s.is(deniesBefore):
			g.deny(i, flags)
		case s.is(former) && g.is(s.from, "old") && g.is(s.from-1, "year", "month", "day", "week", "hour"):
		case s.is(former):
			set(s.from, min(g.endOf(s.to, 7), g.endState(s.to, 7), g.endFormer(s)), formerly)
		case s.is(history) && g.within(s, "ward", "admission", "hospital") && (g.is(s.from-1, "in", "placed", "inserted", "sited", "from") || g.is(s.from-2, "placed", "inserted", "sited", "put")):
			// where a line was put in
		case s.is(history) && g.is(s.from, "from") && g.is(s.to, "was", "were", "is", "has", "came", "had", "got") && i > 0 && g.signs[i-1].to == s.from:
			for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 5 && g.clause[g.signs[j].from] == g.clause[s.from]; j-- {
				if g.signs[j].num != nil { // "the clip from stage one was taken off": the thing is old, the deed is not
					set(g.signs[j].from, g.signs[j].to, formerly)
				}
			}
		case s.is(history) && g.provenance(s):
			// where a thing that is still there came from
		case s.is(history) && g.is(s.to-1, "ago") && g.drugStoppedBefore(s.from):
			// "adrenaline came off an hour ago": it is off now
		case s.is(history) && g.closesClause(s):
			set(g.previousClause(s), s.to, past|came(s)) // "plicated, two weeks ago, not now"
		case s.is(intends) && g.is(s.to-1, "later") && g.is(s.from-1, "was", "were") && g.deedAt(s.to):
			// "the septum was later excised"
		case s.is(passing) && g.is(s.to-1, "then") && g.is(s.to-2, "was", "were") && g.deedAt(s.to):
			// "the tube was then brought down" tells what came next
		case s.is(comes) && g.is(s.from, "brought") && g.anyWithin(s.from-5, s.from, "graft", "tube", "shunt", "conduit", "patch", "vein", "cava", "end"):
			// a graft is brought down to an artery, not a child to the theatre
		case s.is(comes) && g.is(s.from, "came", "coming") && (g.sawAfter(s.to) || shuntNouns[g.wordAt(s.from-1)] || g.is(s.from-1, "vein", "cava", "graft", "line", "catheter", "flow")):
			// "came in with the oscillating saw", "where the shunt came in"
		case s.is(comes) && !s.is(passing) && s.from > 2 && (s.to >= len(g.toks) || g.is(s.to, ",")) && g.toldBefore(s):
			set(g.stateStart(i, reach), s.to, past|coming) // "which was moderate before we started, ..."
		case (s.is(history) || s.is(comes)) && !s.is(passing) && g.inAside(s.from):
			from, to := g.asideAround(s.from)
			set(from, to, past|came(s)) // "the shunt, a four from her first operation, was divided"
		case s.is(history), s.is(comes) && !s.is(passing):
			set(g.stateStart(i, reach), s.from, past|came(s))
			set(s.from, g.endTold(s.to, reach+4), past|came(s))
		case s.is(risesFrom):
			if i+1 < len(g.signs) && g.signs[i+1].num != nil && g.signs[i+1].from-s.to <= 1 {
				set(g.signs[i+1].from, g.signs[i+1].to, past)
			}
		case g.within(s, "way") && g.is(s.to-1, "in") && (earlierThan[g.lex.kind] != nil || g.lex.kind == schema.Takedown):
			// "on the way in the innominate vein tore"
		case s.is(passing) && s.from == 0 && g.is(0, "pre") && g.is(s.to, ":") && g.lex.kind != schema.Closure:
			set(0, len(flags), past|coming) // "Pre: SpO2 74, AVVR mod."
		case s.is(passing) && g.within(s, "pump", "bypass", "cpb") && (g.lastsMinutes(i) || i > 1 && g.signs[i-2].num != nil && g.signs[i-1].to == s.from && g.is(g.signs[i-1].from, "minute", "min")):
			// "on pump ninety four minutes" tells how long, not when
		case s.is(passing) && g.pumpTimeAfter(i):
			// "on pump fifty-one", "the total on pump was a hundred and four"
		case s.is(passing) && g.valueOf(s, rowField(schema.BloodProducts, "phase")) != "" && g.productBefore(i):
			// "a hundred of plasma went in during bypass" tells when it was given
		case s.is(passing):
			end := g.endOfPassing(s.to, 7)
			if s.is(comes) {
				end = g.endComing(s.to, reach)
			}
			if from := g.stateStart(i, 8); s.is(comes) || !g.doneForGood(from, s.from) {
				set(from, s.from, past|came(s))
			}
			if s.is(comes) || !g.doneForGood(s.to, end) {
				set(s.from, end, past|came(s))
			}
		case s.is(calls) && g.is(s.to-1, "me") && g.reports(s.from):
			// "Marcus tells me seventy four minutes"
		case s.is(calls):
			set(s.from, g.endState(s.to, 2*reach), calling)
			g.backLimit(i, flags, calling)
		case s.is(targets) && g.is(s.from, "let") && g.is(s.from-1, "we", "i", "they"):
			// "before we let the fenestration go"
		case s.is(targets) && g.keepsThing(s):
			// "we keep it for the journey"
		case s.is(targets):
			if !g.aimsAtNext(i) {
				set(g.startOf(s.from, 3), s.from, aiming)
			}
			if i > 0 && s.from-g.signs[i-1].to <= 1 && !g.crossesStop(g.signs[i-1].to, s.from) && g.whatAt(i-1) != "" {
				set(g.signs[i-1].from, s.from, aiming) // "Sats, want seventy five plus", "sats I would like over eighty"
			}
			if flags[s.from]&calling != 0 && i > 0 && g.signs[i-1].num != nil {
				for k := s.from; k < len(flags); k++ { // "ring me under sixty five, target seventy to eighty"
					flags[k] &^= calling
				}
			}
			set(s.from, g.endState(s.to, 2*reach), aiming)
		case s.is(depends) && g.untilTime(i):
			// "on bypass until one thirty five"
		case s.is(depends):
			if g.is(s.from, "only") {
				set(g.stateStart(i, 8), s.from, intended) // "nitric only if the saturation falls"
			}
			if i > 0 && g.signs[i-1].to == s.from && g.signs[i-1].content2() && g.is(s.from, "if", "unless") {
				set(g.signs[i-1].from, g.signs[i-1].to, intended) // "RA line if the pressure is not good enough"
			}
			end := g.endState(s.to, reach+2)
			if g.is(end, "then") { // "if above 20 then open it"
				end = g.endState(end+1, reach)
			}
			set(s.from, end, intended)
		case s.is(intends) && g.refusedBefore(i, flags):
			// "the vacuum dressing we discussed I prefer not"
		case s.is(intends) && g.is(s.from, "to") && g.is(s.to-1, "be") && s.to-s.from == 2 && g.is(s.to, "put", "placed", "inserted", "sited", "added", "given", "started"):
			set(g.startOf(s.from, 6), g.endIntent(s.to, reach-2), intended) // "a left drain to be put in if it reaccumulates"
		case s.is(intends) && g.is(s.from-1, "until", "till") && s.from > 4 && (g.anyWithin(s.from-5, s.from-1, "stay") || g.anyWithin(s.from-5, s.from-1, "remain")):
			// "the line stays in until tomorrow"
		case s.is(intends) && g.is(s.from, "to") && g.is(s.to-1, "be") && s.to-s.from == 2 && g.is(s.from-1, "out", "proved", "found", "seemed", "appeared", "thought"):
			// "turned out to be a tamponade"
		case s.is(intends) && g.is(s.from, "well") && s.to-s.from == 1 && !strings.ContainsAny(g.words(s.from, s.to), "'’"):
			// "well" is no "we'll"
		case s.is(intends) && g.is(s.to-1, "would") && g.is(s.to, "not") && g.is(s.to+1, "have", "tolerate", "close", "come", "wean", "separate", "stand", "take"):
			// "he would not have it": tried, and refused
		case s.is(intends) && g.is(s.from, "later") && g.is(s.to, "became", "was", "were", "became", "had", "went", "came", "turned"):
			// "the graft later became the shunt"
		case s.is(intends) && g.is(s.to-1, "than", "of") && g.is(s.from, "rather", "instead"):
			end := s.to // of what was not done, and no more
			for end < len(g.toks) && end < s.to+4 && !(g.at[end] >= 0 && g.signs[g.at[end]].content()) {
				end++
			}
			for end < len(g.toks) && g.at[end] >= 0 && g.signs[g.at[end]].content() && g.clause[end] == g.clause[s.from] {
				end = g.signs[g.at[end]].to
			}
			set(s.from, end, intended)
		case s.is(intends) && g.valueOf(s, rowField(schema.PerfusionAcidBase, "phase")) != "":
			// "pH stat on the way down"
		case s.is(intends) && g.is(s.from, "let") && g.is(s.from-1, "i", "we", "they"):
			// "when I let it go"
		case s.is(intends) && g.is(s.from, "to") && g.is(s.to-1, "start") && g.numberAt(s.from-1) && g.is(s.to, ",") && g.numberAt(s.to+1):
			set(g.signs[g.at[s.from-1]].from, s.from, past) // "point one to start, point oh five by the end"
		case s.is(intends) && g.is(s.from, "to") && g.is(s.from-1, "had"):
			// "a rim had to be left"
		case s.is(intends) && g.is(s.from, "once") && s.to-s.from == 1 && (s.to >= len(g.toks) || g.toks[s.to].kind == stop || g.is(s.to, ",", "with", "only")):
			// "shocked once with ten joules" counts
		case s.is(intends) && g.is(s.from, "once") && g.numberAt(s.to+1) && g.listNamed(&g.signs[i+1]) != "":
			// "del Nido fifty mils once bypass seventy four minutes" counts too
		case s.is(intends) && g.is(s.from, "once") && g.doneAfter(s.to):
			// "off once the shunt was open"
		case s.is(intends):
			if g.within(s, "needed") { // of what stands before it alone
				set(s.from, s.to, intended)
			} else if backIntent[g.toks[s.to-1].text] {
				set(s.from, g.endOfPassing(s.to, 4), intended)
			} else {
				set(s.from, g.endIntent(s.to, reach-2), intended)
			}
			if backIntent[g.toks[s.to-1].text] && !(g.is(s.from, "tonight") && g.is(s.from-1, "open", "ventilated", "intubated", "sedated")) && !g.within(s, "out", "removal", "removed") && !(g.is(s.from, "next") && g.is(s.from-1, "and", ",")) {
				set(g.startOf(s.from, 6), s.from, intended)
			}
		case s.is(weighs) && g.is(s.from, "up") && i > 0 && g.signs[i-1].num != nil && g.cameTo(i-1):
			// "70 up to 84" has come there
		case s.is(weighs) && g.is(s.from, "up") && i+1 < len(g.signs) && g.signs[i+1].num != nil && g.signs[i+1].from == s.to && g.is(g.signs[i+1].to, "from") && g.numberAt(g.signs[i+1].to+1):
			n := g.signs[i+1].to + 1
			set(n, n+1, past|formerly) // "up to thirty two from twenty eight"
		case s.is(weighs) && g.is(s.from, "either") && s.from > 0 && flags[s.from-1]&denied != 0 && i+1 < len(g.signs) && g.signs[i+1].from == s.to:
			set(s.from, s.to+1, denied) // "I did not open either pleura"
		case s.is(weighs) && g.is(s.from, "between") && (g.is(s.from-1, "in") || g.numberAt(s.to) && g.signs[g.at[s.to]].num.clock != "" && g.mentions("clamp", "clamped", "bypass", "arrest", "perfusion")):
			// "in between there was an arrest", "clamped between ten twenty and eleven"
		case s.is(weighs) && g.is(s.from, "between") && flags[s.from]&(aiming|calling) != 0:
			// "keep the CO2 between forty and fifty"
		case s.is(weighs):
			set(s.to, g.endWeigh(s.to, reach), weighed)
		case s.is(others):
			if g.is(s.from, "by", "per", "according", "as") && s.from > 0 && g.toks[s.from-1].kind == word {
				set(g.startOf(s.from, 7), s.from, hearsay) // "three packs in by the last note"
			}
			if g.notOurs(s.to) {
				set(g.startOf(s.from, 7), len(g.toks), hearsay)
			}
			set(s.from, g.endState(s.to, reach), hearsay)
		}
		if (s.is(above) || s.is(below)) && g.whenBefore(s) {
			set(g.startOf(s.from, 7), g.endState(s.to, reach), intended) // "when the lactate is under three"
		}
		if s.num == nil && g.is(s.to, ">", "→") && i+1 < len(g.signs) && g.signs[i+1].from == s.to+1 && g.ofEcho(s) && sameField(s, &g.signs[i+1]) {
			set(s.from, s.to, past) // "function mod down -> good"
		}
		if s.num != nil && g.is(s.from-1, "allowed", "budgeted", "permitted") {
			set(s.from, s.to, weighed) // "allowed ten, used none"
		}
		if s.num != nil && s.scope&aiming == 0 && g.fromTo(i) {
			set(s.from, s.to, past|formerly) // "upsized from a three to a three and a half"
		}
		if s.num == nil && g.is(s.from-1, "from") && g.is(s.to, "to") && i+1 < len(g.signs) && g.signs[i+1].from == s.to+1 && sameField(s, &g.signs[i+1]) && !s.saysOrigin() {
			set(s.from, s.to, past) // "from moderate to mild"
		}
		if s.num != nil && i+1 < len(g.signs) && g.is(s.from-1, "from") && rises[g.toks[max(0, s.from-2)].text] && g.signs[i+1].num != nil && g.is(s.to, "to") && g.signs[i+1].from == s.to+1 {
			set(s.from, s.to, past|formerly) // "came up from 58 to 81"
		}
		if g.is(s.from, "found") && g.lex.kind == schema.ShuntRevision {
			for j := i - 1; j >= 0 && g.signs[j].from >= g.startOf(s.from, 5); j-- {
				if p := &g.signs[j]; !g.meansName(p, fieldAt(schema.BetweenShuntFound)) {
					set(p.from, p.to, formerly) // the size of what was found, not the shunt itself
				}
			}
		}
		if s.num != nil && s.num.decimal != "" && i+1 < len(g.signs) {
			k := s.to
			if g.signs[i+1].has(isUnit) && g.signs[i+1].from == k && g.signs[i+1].num == nil {
				k = g.signs[i+1].to
			}
			for g.is(k, ",", "and", "but") {
				k++
			}
			if k > s.to && g.is(k, "then", "later", "eventually") && g.numberAt(k+1) && !g.mentions("dose") || g.is(k, "then") && !g.mentions("dose") && (g.numberAt(k+1) || g.is(k+1, "to") && g.numberAt(k+2)) {
				set(s.from, s.to, past) // "eighty four, then eighty"
			}
		}
		if s.num != nil && (g.is(s.from-1, "was", "were") || g.is(s.from-2, "was", "were") && g.is(s.from-1, "at", "about", "on")) && g.isNow(s.to) {
			set(s.from, s.to, past) // "was fifteen and is now thirteen", "was twenty, we're at ten"
		}
		if s.num != nil && (g.nowAnother(i) || g.passedBy(i) || g.beforeThis(i)) {
			set(s.from, s.to, past) // "eleven when closed, seven now"
		}
		if s.num != nil && (g.exchanged(i) || g.tookOut(i)) {
			set(s.from, s.to, formerly) // "a fifteen, changed for a sixteen"
		}
		if s.num != nil && g.lex.kind == schema.ShuntRevision && g.wasOnce(i) {
			set(s.from, s.to, formerly) // "the shunt was a four"
		}
		if s.num != nil && g.askedBack(i) {
			set(s.from, s.to, hearsay)
		}
		if s.num != nil && g.wasElse(i) {
			set(s.from, s.to, past) // "on 100 percent for transfer, was on 40"
		}
		if s.num != nil && (g.fellTo(i) || g.onTest(i)) {
			set(s.from, s.to, past) // "the saturation drifted down to fifty five"
		}
		if s.num != nil && g.roseTo(i) {
			set(s.from, s.to, past) // "sats fifty eight to seventy six"
		}
		if s.num != nil && i+1 < len(g.signs) && g.is(s.to, ">", "→") && g.signs[i+1].num != nil && g.signs[i+1].from == s.to+1 {
			set(s.from, s.to, past) // "70 -> 78"
		}
		if s.is(arrives) && g.within(s, "one") && !g.is(s.from-1, "that", "is", "s") { // "four, that's the last one" is of now
			for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 10; j-- {
				if p := &g.signs[j]; p.num != nil {
					set(p.from, p.to, past) // "five, well, the last one was three point eight"
				}
			}
		}
		if s.num != nil && (g.changedLater(i) || g.cameTo(i)) {
			set(s.from, s.to, past) // "at 0.7 but cut it to 0.5"
		}
		if s.is(priorly) && g.is(s.from-1, "as") && g.keptAsBefore(i) {
			continue // "milrinone as before": it is so still
		}
		if s.is(priorly) && i > 0 && g.signs[i-1].num != nil && s.from-g.signs[i-1].to <= 1 && g.onlySign(i-1) {
			g.old = append(g.old, g.signs[i-1].num.decimal) // "Sixty one was before."
		}
		if s.is(priorly) && i > 0 && g.is(s.from, "that", "those", "was") {
			for j := i - 1; j >= 0 && j >= i-2; j-- {
				if g.signs[j].num != nil {
					from := g.signs[j].from // "79, that was before"
					if j > 0 && g.signs[j-1].content() && from-g.signs[j-1].to <= 2 {
						from = g.signs[j-1].from
					}
					set(from, g.signs[j].to, past)
					break
				}
			}
		} else if back && s.from < 2 {
			// "and before: the old sternotomy"
		} else if s.is(priorly) && i > 0 && (s.to >= len(g.toks) || g.toks[s.to].kind == stop || g.is(s.to, ",", "and") || g.numberAt(s.to)) {
			early := past | coming
			if g.mentions("after", "afterward", "post") {
				early = past // before and after what was done here
			}
			set(g.stateStart(i, 7), s.from, early) // "sixty before, eighty after"
		} else if s.is(priorly) && i > 0 && g.is(s.to, "was", "were", "had", ":") && g.signs[i-1].to == s.from && g.signs[i-1].content() {
			set(g.signs[i-1].from, g.endOfPassing(s.to, 6), past|coming) // "function before was mildly reduced"
		}
		if s.num != nil && g.is(s.to, "after", "afterward") && g.leavingLater(i) {
			set(s.from, s.to, past)
		}
		if s.is(approx) {
			set(s.from, min(s.to+3, len(flags)), vague)
		}
	}
	for k := 1; k < len(g.toks); k++ { // "he had a mediastinal drain after stage one"
		if !g.is(k, "had") || !g.is(k-1, "he", "she", "they", "there") {
			continue
		}
		for j := k + 1; j+1 < len(g.toks) && j < k+14 && g.toks[j].kind != stop; j++ {
			if g.is(j, "after", "since", "at", "from") && (g.is(j+1, "stage") || g.is(j+1, "his", "her", "the") && g.is(j+2, "stage", "norwood", "glenn", "first", "last")) {
				set(k, j+1, past)
			}
		}
	}
	for k := 1; k+1 < len(g.toks); k++ { // "homograft planned but we had none"
		if g.is(k, "planned", "intended", "meant", "ordered", "requested", "opened") && (g.toks[k-1].kind == word || g.numberAt(k-1)) && (!g.is(k, "opened") || g.is(k-1, "was", "were")) && (g.is(k+1, "but", "not", "though", "however", "instead") || g.is(k+1, ",") && (g.is(k+2, "but", "not", "instead", "though", "none", "never", "no") || g.numberAt(k-1) && g.numberAt(k+2))) {
			if g.numberAt(k - 1) {
				set(k-1, k, intended) // "4,0 planned, 3,5 implanted"
				continue
			}
			set(g.startOf(k, 5), k, intended)
		}
	}
	for k := 2; k < len(g.toks); k++ { // "function was good then"
		if g.is(k, "then") && (k+1 >= len(g.toks) || g.toks[k+1].kind == stop) && g.toks[k-1].kind == word {
			if from := g.startOf(k-1, 6); slices.ContainsFunc(g.toks[from:k], func(t token) bool { return t.text == "was" || t.text == "were" || t.text == "had" }) {
				set(from, k, past|coming)
			}
		}
	}
	for k := 0; k+1 < len(g.toks); k++ {
		// "before banding the saturation was ninety four and it settled at eighty four"
		if w := g.toks[k+1].text; g.is(k, "before", "until") && len(w) > 5 && strings.HasSuffix(w, "ing") && w != "leaving" && w != "going" {
			if from := g.startOf(k, 7); g.numberIn(from, k) { // what was done stays done: "tied it before testing"
				set(from, k, past)
			}
			set(k, g.endOfPassing(k+2, 8), past)
		}
	}
	for i := range g.signs {
		// "... before we took it off and seventy nine on leaving"
		if s := &g.signs[i]; s.is(arrives) && !s.is(passing) && !(g.within(s, "afterward") && g.leavingLater(i)) {
			from, number := s.from, g.leadsOn(i)
			for k := s.from - 1; k >= 0 && s.from-k <= 5; k-- {
				if g.is(k, "and", ",") || g.toks[k].kind == stop || g.at[k] >= 0 && g.signs[g.at[k]].num != nil && g.cameTo(int(g.at[k])) || g.at[k] >= 0 && g.signs[g.at[k]].is(turns) {
					break
				}
				if g.at[k] >= 0 && (g.signs[g.at[k]].is(passing) || g.signs[g.at[k]].is(history)) {
					from = s.from // "pre 52 post 80"
					break
				}
				if g.numberAt(k) {
					if number {
						break
					}
					number = g.signs[g.at[k]].from == k
				}
				from = k
			}
			for k := from; k < s.from; k++ {
				flags[k] &^= past | weighed
			}
		}
	}
	g.unlikely(set)
	g.gaveWayTo(set)
	g.passedRhythms(set)
	for i := range g.signs {
		g.signs[i].scope = flags[g.signs[i].from] | flags[g.signs[i].to-1]
	}
}

// toldBefore tells whether the clause that a cue ends has its verb before the cue.
func (g *segment) toldBefore(s *sign) bool {
	for k := s.from - 1; k >= 0 && k >= s.from-5 && g.clause[k] == g.clause[s.from]; k-- {
		if g.is(k, "was", "were", "had", "leaked") {
			return true
		}
	}
	return g.is(s.from-2, "which") || s.from > 2 && g.is(s.from-2, "was") && g.is(s.from-3, "which")
}

// sawAfter tells whether the way into the chest is told of after token k.
func (g *segment) sawAfter(k int) bool {
	for j := k; j < len(g.toks) && j < k+5 && g.toks[j].kind == word; j++ {
		if g.is(j, "saw", "injury", "incident", "trouble", "event") {
			return true
		}
	}
	return false
}

// endFormer is where what "converted from" speaks of ends: at what it became.
func (g *segment) endFormer(s *sign) int {
	if g.is(s.to-1, "from") {
		for k := s.to; k < len(g.toks) && k < s.to+7; k++ {
			if g.is(k, "to", "into") {
				return k
			}
		}
	}
	for k := s.to; k < len(g.toks); k++ {
		if g.toks[k].kind == stop {
			return k // "that's the old gas. Three point one."
		}
	}
	return len(g.toks)
}

// whenBefore tells whether a comparison is a condition that has yet to be met: "when
// the lactate is under three", "once it falls below four".
func (g *segment) whenBefore(s *sign) bool {
	now := g.is(s.from, "is", "are", "fall", "drop", "go", "get", "come") || g.is(s.from-1, "is", "are", "fall", "drop", "go", "get", "come", "stay")
	for k := s.from - 1; now && k >= 0 && k >= s.from-6 && g.toks[k].kind != stop && !g.numberAt(k); k-- {
		if g.is(k, "when", "once", "whenever") || g.is(k, "before", "until") && g.is(k-1, "not") {
			return true
		}
	}
	return false
}

// refuses tells whether "would not" at sign s tells of what was tried and refused, and is
// no intention: "the wire would not thread", "he would not have it".
func (g *segment) refuses(s *sign) bool {
	k := s.to
	if s.to-s.from > 1 {
		k = s.from + 1
	}
	if !g.is(k-1, "would") || !g.is(k, "not") {
		return false
	}
	if g.is(s.from-1, "i", "we", "you") {
		return g.is(k+1, "have", "tolerate", "stand")
	}
	return g.is(k+1, "have", "tolerate", "close", "come", "wean", "separate", "stand", "take", "thread", "go", "fit", "pass", "sit", "advance", "hold", "reach", "lie", "seal", "flush", "capture", "pace", "work", "deploy")
}

// provenance tells whether a cue of an earlier time only says since when a thing has
// been there: "has a gastrostomy from before", "dates from last week and is still in".
func (g *segment) provenance(s *sign) bool {
	if g.is(s.from-1, "from", "since") || g.is(s.from, "from", "since") {
		for k := s.from - 1; k >= 0 && k >= s.from-9 && g.toks[k].kind != stop; k-- {
			if g.is(k, "was", "were", "had", "came", "took", "removed", "out") {
				return false
			}
			if g.is(k, "has", "have", "already", "still", "keep", "date", "stay", "unchanged", "remain", "same") {
				return true
			}
		}
		if g.staysAfter(s.to) {
			return true // "drains from the first operation still in, mediastinal 15"
		}
	}
	if g.is(s.from-1, "ago") || g.within(s, "stage", "operation") {
		return false
	}
	if n := g.prevSign(s.from); g.is(s.from, "from") && n >= 0 && (g.signs[n].content2() || g.is(s.from-1, "both", "all")) && g.signs[n].to == s.from && g.is(s.to, ",") {
		return true // "UAC and UVC from the unit, 24G left hand"
	}
	for k := s.to; k+1 < len(g.toks) && k < s.to+5 && g.toks[k].kind != stop; k++ {
		if g.is(k, "still") && g.is(k+1, "in", "working", "there", "running", "usable") && (g.is(k-1, "is", "are", ",", "and")) {
			return true
		}
	}
	return false
}

// staysAfter tells whether the words at token k say that what was named stays: "still in",
// "stay", "are unchanged".
func (g *segment) staysAfter(k int) bool {
	for g.is(k, "are", "is", "have", "has", "been", "all", "both") {
		k++
	}
	return g.is(k, "stay", "remain", "unchanged", "kept") || g.is(k, "still") && g.is(k+1, "in", "there", "working", "running", "draining", "stay") || g.is(k, "left") && g.is(k+1, "in", "alone")
}

// meansName tells whether a sign is a name of field f and no number.
func (g *segment) meansName(s *sign, f *schema.Field) bool {
	return s.num == nil && slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == namesField && x.field == f })
}

// came is coming for a cue that speaks of the child before this operation.
func came(s *sign) scope {
	if s.is(comes) {
		return coming
	}
	return 0
}

// doneAfter tells whether what follows token k is told as done: "the shunt was open".
func (g *segment) doneAfter(k int) bool {
	for j := k; j < len(g.toks) && j < k+5 && g.toks[j].kind == word; j++ {
		if g.is(j, "was", "were", "had") {
			return true
		}
	}
	return false
}

// endComing is where what is told of the child before this operation ends: it may
// run over commas, but not to what was done here.
func (g *segment) endComing(k, n int) int {
	end := g.endState(k, n)
	for j := k; j < end; j++ {
		if g.is(j, "we", "i") && g.is(j-1, ",", "and", "when", "before") && j > k+1 {
			return j - 1
		}
	}
	return end
}

// leadsOn tells whether the cue at sign i is said of the number right after it:
// "yesterday was four, today one point nine".
func (g *segment) leadsOn(i int) bool {
	s := &g.signs[i]
	if s.to-s.from > 1 && g.is(s.to-1, "to") && g.numberAt(s.to) {
		return true // "came up to seventy six"
	}
	return s.to-s.from == 1 && g.is(s.from, "now", "today", "post", "currently") && (g.numberAt(s.to) || g.is(s.to, "is", "at") && g.numberAt(s.to+1)) || g.within(s, "one")
}

var rises = wordSet("up came went rose down fell dropped increased improved climbed brought come")

// fromTo tells whether sign i is the first number of "from a three to a three
// and a half": what it changed from.
func (g *segment) fromTo(i int) bool {
	s := &g.signs[i]
	k := s.from - 1
	for k > 0 && g.is(k, "a", "an", "about") {
		k--
	}
	if !g.is(k, "from") || s.num.clock != "" && s.num.surely {
		return false
	}
	for j := k - 1; j >= 0 && j >= k-3; j-- {
		if n := g.at[j]; n >= 0 && (g.listNamed(&g.signs[n]) != "" || g.signs[n].is(targets) || g.signs[n].is(calls)) {
			return false
		}
	}
	n := s.to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].from == n {
		n = g.signs[i+1].to
	}
	if g.is(n, "down", "up", "back") {
		n++
	}
	if !g.is(n, "to") {
		return false
	}
	for n++; g.is(n, "a", "an", "about"); n++ {
	}
	return g.numberAt(n) && (s.num.clock == "" || g.signs[g.at[n]].num.clock == "" || !s.num.surely)
}

// sameField tells whether two signs can be values of one plain field.
func sameField(a, b *sign) bool {
	for _, x := range a.senses {
		if x.kind == isValue && x.field.Path.List() == "" && slices.ContainsFunc(b.senses, func(y sense) bool { return y.kind == isValue && y.field == x.field }) {
			return true
		}
	}
	return false
}

// saysOrigin tells whether a sign can say where a shunt comes from: "from the ascending
// aorta to the main PA" tells of no change.
func (s *sign) saysOrigin() bool {
	return slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isValue && x.field.Path == schema.SupplyFrom })
}

// roseTo tells whether sign i is the first of "sats fifty eight to seventy six":
// of a measured state, so far from the second that it is a change and no range.
func (g *segment) roseTo(i int) bool {
	a := &g.signs[i]
	k := a.to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].from == k {
		k = g.signs[i+1].to
	}
	if !g.is(k, "to") || !g.numberAt(k+1) {
		return false
	}
	b := &g.signs[g.at[k+1]]
	x, err := strconv.ParseFloat(a.num.decimal, 64)
	y, err2 := strconv.ParseFloat(b.num.decimal, 64)
	if err != nil || err2 != nil || a.scope&(aiming|calling) != 0 || y-x < 8 && x-y < 8 {
		return false
	}
	for j := i - 1; j >= 0 && j >= i-3 && a.from-g.signs[j].to <= 5; j-- {
		p := &g.signs[j]
		if p.is(targets) || p.is(calls) || p.is(between) {
			return false
		}
		if p.num != nil {
			return false
		}
		if g.pressureAt(j) != "" || g.partNamed(p) != "" {
			return true
		}
		for _, y := range p.senses {
			if y.kind == namesField && (y.field.Path == schema.LeavingSaturation || y.field.Path == schema.BetweenSaturationBeforeWork) {
				return true
			}
		}
	}
	return false
}

// onlySign tells whether nothing but sign i in the segment speaks of a note.
func (g *segment) onlySign(i int) bool {
	for j := range g.signs {
		if j != i && g.signs[j].content() {
			return false
		}
	}
	return true
}

// numberAt tells whether a number starts at token k.
func (g *segment) numberAt(k int) bool {
	return k >= 0 && k < len(g.toks) && g.at[k] >= 0 && g.signs[g.at[k]].num != nil
}

// numberIn tells whether a number stands among tokens a..b.
func (g *segment) numberIn(a, b int) bool {
	for k := a; k < b; k++ {
		if g.numberAt(k) {
			return true
		}
	}
	return false
}

// leavingLater tells whether "on leaving" comes after sign i, with a number.
func (g *segment) leavingLater(i int) bool {
	for j := i + 1; j < len(g.signs) && j < i+6; j++ {
		if g.signs[j].is(arrives) && g.within(&g.signs[j], "leaving", "now", "theater", "final", "end") {
			return true
		}
	}
	return false
}

// aloneDenies are the last words of denials that speak of the one thing before
// them, not of all that is joined to it: "membrane, packs nil".
var aloneDenies = wordSet("nil none no absent zero in")
