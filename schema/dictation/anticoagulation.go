package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

var laterWords = wordSet("then first once when from start starts starting plan plans tonight tomorrow later until if followed midnight after before will begin begins beginning restart tmrw morning d1 hour hours")

// readAnticoagulation reads the plan from the drugs it names: heparin, then aspirin
// or warfarin.
func (g *segment) readAnticoagulation() {
	plan, at := fieldAt(schema.AnticoagulationPlan), fieldAt(schema.AnticoagulationStartAt)
	if !g.inNote(plan) || g.mentions("protamine", "reversed", "given") {
		return
	}
	heparin, after, warfarin := g.planDrug("heparin"), g.planDrug("aspirin", "clopidogrel", "dipyridamole", "asa"), g.planDrug("warfarin", "coumadin")
	if g.mentions("act") && (heparin < 0 || g.lex.kind == schema.SupportOn || !g.planned(heparin)) {
		return
	}
	later := false
	for k := range g.toks {
		later = later || (laterWords[g.toks[k].text] || g.is(k, "d", "day", "pod") && g.numberAt(k+1)) && (heparin >= 0 && k >= heparin-6 || after >= 0 || warfarin >= 0)
	}
	value, from, to := "", heparin, heparin+1
	switch {
	case g.onlyMaybe(heparin) || g.onlyMaybe(after), heparin < 0 && max(after, warfarin) >= 0 && g.decidedLater():
		if !g.mentions("decide", "decided", "decision") {
			return
		}
		k := max(heparin, after, warfarin)
		value, from, to = "decide-later", k, k+1
	case g.staysOff(heparin), heparin >= 0 && g.decidedLater():
		return
	case heparin >= 0 && warfarin >= 0:
		value, from, to = "heparin-then-warfarin", min(heparin, warfarin), max(heparin, warfarin)+1
	case heparin >= 0 && after >= 0:
		value, from, to = "heparin-then-antiplatelet", min(heparin, after), max(heparin, after)+1
	case heparin >= 0 && later && g.planned(heparin):
		value = "heparin"
	case after >= 0 && warfarin < 0 && (later || g.is(after+1, "only", "alone") || g.is(after-1, "only", "just") || g.heparinDenied() >= 0):
		value, from, to = "antiplatelet", after, after+1
	case warfarin >= 0 && after < 0 && (later || g.mentions("end", "follow")) && !g.mentions("argue", "discuss", "if", "whether", "may", "might"):
		value, from, to = "heparin-then-warfarin", warfarin, warfarin+1
	}
	if value == "" {
		return
	}
	c := g.claimField(plan, value, from, to, from, to)
	c.sure, c.note = Check, "taken from the drugs that the plan names"
	if heparin < 0 {
		if i := g.heparinDenied(); i >= 0 {
			g.signs[i].used = true // "aspirin tomorrow, no heparin": none is planned
		}
		return
	}
	for k := from; k < to; k++ {
		if n := g.at[k]; n >= 0 && g.drugAt(int(n)) == "heparin" && !g.is(k+1, "off", "stopped") {
			g.signs[n].used = true
		}
	}
	for n := g.nextSign(heparin); n < len(g.signs) && g.signs[n].from-heparin <= 12 && !g.crossesStop(heparin, g.signs[n].from); n++ {
		s := &g.signs[n]
		hours := g.is(s.from-1, "at") && g.is(s.to, "hour") && s.num != nil && len(s.num.decimal) == 2 && s.num.decimal > "12" // "at twenty two hours"
		if s.num != nil && !s.used && s.num.clock != "" && (g.is(s.from-1, "from", "at", "start", "starting") || s.from == heparin+1) && (s.num.surely || s.num.figures || hours) {
			g.claimField(at, s.num.clock, s.from, s.to, heparin, s.to)
			s.used = true
			break
		}
	}
}

// planDrug is the first token that names one of the drugs a plan may hold, or -1: none that is
// denied, was given before, or is not to be started.
func (g *segment) planDrug(words ...string) int {
	for k := range g.toks {
		n := g.at[k]
		if g.toks[k].kind != word || !slices.Contains(words, g.toks[k].text) && !(words[0] == "heparin" && n >= 0 && g.signs[n].from == k && g.drugAt(int(n)) == "heparin") {
			continue
		}
		unwanted := g.notToStart(k)
		if unwanted && n >= 0 && g.anyWithin(max(0, k-3), k, "restart") {
			g.signs[n].scope |= weighed // "do not restart the heparin" is no plan to
		}
		if n >= 0 && (g.signs[n].used || g.signs[n].scope&(denied|past|hearsay|weighed) != 0) || unwanted || g.is(k-1, "more") && g.is(k-2, "no", "any") || g.is(k+1, "is", "was") && g.is(k+2, "stopped") && !g.is(k, "heparin") {
			continue
		}
		return k
	}
	return -1
}

// heparinDenied is the sign of heparin that is said not to be, or -1.
func (g *segment) heparinDenied() int {
	return slices.IndexFunc(g.signs, func(s sign) bool { return s.scope&denied != 0 && g.within(&s, "heparin", "hep") })
}

// staysOff tells whether the drug at token k is off until something, and nothing is said of
// when it starts: "the heparin stays off until tomorrow" plans nothing.
func (g *segment) staysOff(k int) bool {
	if k < 0 || g.mentions("restart", "restarted", "start", "then", "resume", "back", "commence") {
		return false
	}
	for off := false; k < len(g.toks); k++ {
		off = off || g.is(k, "off", "held", "withheld", "stopped")
		if off && g.is(k, "until", "till", "before") {
			return true
		}
	}
	return false
}

// decidedLater tells whether it is said that something is still to be decided: "warfarin we
// decide later", "will be decided on Friday", "not decided today".
func (g *segment) decidedLater() bool {
	for k := range g.toks {
		switch {
		case !g.is(k, "decide", "decided", "decision"):
		case g.is(k+1, "later", "tomorrow", "monday", "tuesday", "wednesday", "thursday", "friday"), g.is(k-1, "not", "yet", "to", "will"), g.is(k-1, "be") && g.is(k-2, "will", "to"):
			return true
		}
	}
	return false
}

// heparinFirst joins heparin, told in a sentence of its own, with what comes after it:
// "Heparin at twenty-two hundred. Aspirin after."
func (s *settling) heparinFirst() {
	if i := slices.IndexFunc(s.plain, func(p *Proposal) bool {
		return p.Path == schema.AnticoagulationPlan && p.Value == "antiplatelet"
	}); i >= 0 {
		s.noHeparinPlanned(s.plain[i])
	}
	for _, p := range s.plain {
		if p.Path != schema.AnticoagulationPlan || p.Value != "antiplatelet" && p.Value != "heparin-then-warfarin" {
			continue
		}
		if p.Value == "heparin-then-warfarin" { // "Heparin tonight if dry. Warfarin later."
			s.plain = slices.DeleteFunc(s.plain, func(q *Proposal) bool {
				return q.Path == p.Path && q.Value == "heparin" && q.Spans[0].Start < p.Spans[0].Start
			})
			return
		}
		rest := s.reading.Text[p.Spans[0].End:]
		if i := strings.IndexAny(rest, ".;\n"); i >= 0 {
			rest = rest[:i]
		}
		if !anyWord(" "+strings.ToLower(rest)+" ", " after ", " afterwards ", " later ", " to follow ", " follows ", " then ", " once ", " when ", " tomorrow ", " from day ") {
			continue
		}
		begun := false
		s.plain = slices.DeleteFunc(s.plain, func(q *Proposal) bool {
			before := q.Spans[0].Start < p.Spans[0].Start
			begun = begun || before && q.Path == schema.AnticoagulationStartAt
			alone := before && q.Path == schema.AnticoagulationPlan && q.Value == "heparin"
			begun = begun || alone
			return alone
		})
		for _, x := range s.groups {
			begun = begun || x.List == schema.InfusionsRunning && !x.gone && !x.Denied && x.value("drug") == "heparin" && x.value("state") == ""
		}
		if begun {
			p.Value, p.Sure, p.Note = "heparin-then-antiplatelet", Check, "taken from the drugs that the plan names"
		}
		return
	}
}

// noHeparinPlanned takes the denial of heparin that follows a plan of aspirin for a part of that
// plan: "Aspirin from tomorrow. No heparin." tells nothing of what was given before bypass.
func (s *settling) noHeparinPlanned(p *Proposal) {
	from := p.Spans[0].End
	s.plain = slices.DeleteFunc(s.plain, func(q *Proposal) bool {
		if q.Path != schema.ClottingHeparin && q.Path != schema.ClottingHeparinOther || q.Stated != schema.StatedNone || q.Spans[0].Start < from {
			return false
		}
		between := s.reading.Text[from:q.Spans[0].Start]
		return strings.Count(between, ".")+strings.Count(between, ";")+strings.Count(between, "\n") <= 1
	})
}

// planned tells whether the drug at token k is to be started later.
func (g *segment) planned(k int) bool {
	if n := g.at[k]; n >= 0 && g.signs[n].scope&intended != 0 {
		return true
	}
	if g.numberAt(k+1) && g.signs[g.at[k+1]].num.surely {
		return true // "heparin 18:00"
	}
	for j := max(0, k-6); j < k; j++ {
		if g.is(j, "once", "when") || g.is(j, "soon") && g.is(j+1, "as") {
			return true // "as soon as she is dry heparin ten units"
		}
	}
	for j := k + 1; j < len(g.toks) && j < k+12; j++ {
		switch g.toks[j].text {
		case "when", "once", "from", "tonight", "tomorrow", "tmrw", "start", "begin", "restart", "until", "later", "will":
			return true
		case "at", "in", "after", "@":
			if g.is(j+1, "midnight", "noon") || g.numberAt(j+1) && g.signs[g.at[j+1]].num.surely {
				return true
			}
			n := g.nextSign(j + 1)
			if g.numberAt(j+1) && (g.is(g.signs[n].to, "hour", "h", "hr") || n+1 < len(g.signs) && g.is(g.signs[n+1].from, "hour", "h", "hr")) && !g.mentions("bypass", "pump", "clamp", "cannulation") {
				return true // "heparin at six hours if dry"
			}
		case ",":
			if !(g.is(j+1, "not") && g.is(j+2, "until", "till", "before", "yet")) && !g.is(j+1, "start", "restart", "when", "once") {
				return false
			}
		case ".", ";":
			return false
		}
	}
	return false
}

// notToStart tells whether the drug at token k is said not to be started: "heparin is not
// to be started before I have seen him", "do not let anybody start heparin".
func (g *segment) notToStart(k int) bool {
	for j := k + 1; j+3 < len(g.toks) && j < k+4; j++ {
		if g.is(j, "not") && g.is(j+1, "to") && (g.is(j+2, "be") && g.is(j+3, "started", "given", "begun", "commenced") || g.is(j+2, "start", "begin")) {
			return true
		}
	}
	if g.is(k-1, "want") && g.is(k-2, "dont", "not") {
		return true // "I don't want heparin until we have talked"
	}
	for g.is(k-1, "the", "any", "her", "his") {
		k--
	}
	if !g.is(k-1, "start", "begin", "give", "starting", "giving", "restart", "restarting") {
		return false
	}
	for j := k - 2; j >= 0 && j >= k-6 && g.toks[j].kind != stop; j-- {
		if g.is(j, "not", "dont", "never", "nobody") {
			return true
		}
	}
	return false
}

// onlyMaybe tells whether the drug at token k is no more than a thought: "maybe heparin",
// "aspirin later maybe".
func (g *segment) onlyMaybe(k int) bool {
	return k >= 0 && (g.is(k-1, "maybe", "perhap", "possibly", "probably") || g.is(k+1, "maybe", "perhap") || g.is(k+2, "maybe", "perhap"))
}
