package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readOpenChest reads that the chest was left open where the word for it stands
// apart: "chest was closed, now left open", "so, open, membrane back on".
func (g *segment) readOpenChest() {
	f := fieldAt(schema.ClosingSternum)
	if !g.inNote(f) || !g.mentions("open") || !g.mentions("membrane", "chest", "sternum", "bone", "breastbone") {
		return
	}
	for k := range g.toks {
		if !g.is(k, "open") || g.unrealAt(k) || g.at[k] >= 0 && g.signs[g.at[k]].used {
			continue
		}
		lead := k == 0 || g.toks[k-1].kind == stop || g.is(k-1, ",", "now", "still", "remain", "stay", "staying", "so", "left", "it")
		if g.is(k-1, "is") || g.is(k-2, "is") && g.is(k-1, "still", "now", "left") || g.is(k-1, "its") {
			lead = true
		}
		if !lead || g.is(k+1, "to", "at", "the", "and", "through") {
			continue
		}
		for i := range g.signs {
			if s := &g.signs[i]; s.from > k && (s.is(corrects) || s.is(scratches)) {
				return // "left open, no wait, we closed it"
			}
		}
		near := false
		for j := k + 1; j < len(g.toks) && j < k+7 && g.toks[j].kind != stop; j++ {
			near = near || g.is(j, "membrane")
		}
		for j := k - 1; j >= 0 && !near; j-- { // the thing spoken of last
			if g.is(j, "shunt", "sano", "conduit", "fenestration", "duct", "septum", "azygo", "pleura", "clip", "stent", "catheter", "line", "drain", "snare", "valve", "flow", "vein", "atrium", "pericardium", "pericardial") || g.toks[j].kind == stop {
				break
			}
			near = g.is(j, "chest", "sternum", "bone", "breastbone") && !g.is(j+1, "drain", "tube", "cannula", "cannule")
		}
		if !near || g.lex.kind == schema.SupportOff && g.mentions("never") {
			continue
		}
		for i := range g.claims {
			if c := &g.claims[i]; c.field == f && c.group < 0 && c.from < k {
				c.gone = true // it was closed first
			}
		}
		g.claimField(f, "open", k, k+1, k, k+1).leaving = true
		if n := g.at[k]; n >= 0 {
			g.signs[n].used = true
		}
		for j := max(0, k-14); j < k; j++ { // "chest was closed, now left open"
			if n := g.at[j]; n >= 0 && !g.signs[n].used && (g.valueOf(&g.signs[n], f) == "closed") {
				g.signs[n].used = true
			}
		}
		return
	}
}

// shuntNouns name the supply where what was found or done is told of it.
var shuntNouns = wordSet("blalock shunt sano conduit bt btt mbtt mbtts")

// readShuntState reads what the shunt was found to be, and what was done to it, in
// notes of operations between the stages.
func (g *segment) readShuntState() {
	found, done := fieldAt(schema.BetweenShuntFound), fieldAt(schema.BetweenShuntDone)
	switch g.lex.kind {
	case schema.SupportOn:
		found = fieldAt(schema.MechanicalShunt)
	case schema.SupportOff:
		found = fieldAt(schema.MechanicalShuntAfter)
	case schema.Stage2:
		found = fieldAt(schema.Stage2OldSupply)
	case schema.Reexploration, schema.ShuntRevision:
	default:
		return
	}
	support := found.Section == "mechanical"
	if g.lex.kind == schema.Stage2 {
		g.readOldSupply(found)
		return
	}
	for k := range g.toks {
		t := g.toks[k].text
		switch {
		case (t == "not" || t == "never" || contracted[t]) && g.is(k+1, "touch", "touched") && g.is(k+2, "it") && g.mentions("shunt", "sano", "conduit") && !g.mentions("fenestration", "septum", "duct", "diaphragm", "clip") && g.inNote(done):
			g.claimField(done, "", k, k+3, k, k+3).stated = schema.StatedNone // "the shunt was open, I did not touch it"
		case t == "nothing" && g.inNote(done):
			j := k + 1
			if g.is(j, "done") && g.endsClause(j+1) && shuntNouns[g.wordAt(0)] {
				g.claimField(done, "", k, j+1, k, j+1).stated = schema.StatedNone // "Shunt: no flow seen, nothing done"
				continue
			}
			for g.is(j, "was", "done", "more", "else") {
				j++
			}
			if g.is(j, "to") && (g.is(j+1, "it") && g.mentions("shunt", "sano", "conduit") || g.is(j+1, "the") && shuntNouns[g.wordAt(j+2)] || shuntNouns[g.wordAt(j+1)]) {
				c := g.claimField(done, "", k, j+2, k, min(len(g.toks), j+3))
				c.stated = schema.StatedNone
				for i := g.nextSign(k); i < len(g.signs) && g.signs[i].from < j+3; i++ {
					g.signs[i].used = true
				}
			}
		case shuntNouns[t] && !g.unrealAt(k):
			j := k + 1
			for g.is(j, "was", "is", "itself", "found", "looked", "had", "wide", "widely", ":", "now", "just", "fully", "has", "been", "we") || support && g.is(j, "left") {
				j++
			}
			if j >= len(g.toks) || g.at[j] < 0 || j-k > 4 || g.is(k-1, "new") {
				continue
			}
			s := &g.signs[g.at[j]]
			v := g.valueOf(s, found)
			if g.lex.kind == schema.ShuntRevision && v == "open" {
				v = ""
			}
			if support && v == "" && g.within(s, "open") {
				v = "open"
			}
			if support && v == "open" {
				for n := g.nextSign(s.to); n < len(g.signs) && (g.signs[n].from-s.to <= 3 || g.mentions("clip", "snare", "band")); n++ {
					if w := g.valueOf(&g.signs[n], found); (w == "narrowed" || w == "clipped") && (g.is(g.signs[n].from-1, "but", "and") || g.is(g.signs[n].from-1, "is") && g.signs[n].from-s.to > 3) && g.signs[n].scope&denied == 0 {
						v, s = w, &g.signs[n] // "left open but partially clipped"
					}
				}
			}
			if support && v == "clipped" {
				for n := g.nextSign(s.to); n < len(g.signs) && g.signs[n].from-s.to <= 8; n++ {
					if g.signs[n].is(corrects) || g.signs[n].is(scratches) || g.is(g.signs[n].from-1, "but", "then") || g.is(g.signs[n].from, "open", "opened") || g.is(g.signs[n].from-1, "not") || g.is(g.signs[n].from, "not") {
						v = "" // "clipped at first but then opened again"
					}
				}
			}
			if v == "" || s.used || s.scope&(unreal&^past|denied) != 0 || g.is(s.to, "with", "at", "to") && v == "open" {
				continue
			}
			for i := range g.claims {
				if c := &g.claims[i]; c.field == found && c.group < 0 {
					c.gone = true // "we clipped it, then the clip came off: the shunt is open"
				}
			}
			g.claimField(found, v, s.from, s.to, k, s.to)
			s.used = true
			for n := range g.signs {
				if p := &g.signs[n]; support && p.from < s.from && g.valueOf(p, found) != "" && !p.content2() {
					p.used = true
				}
			}
			if n := g.at[k]; n >= 0 && !g.signs[n].content2() {
				g.signs[n].used = true
			}
		case t == "new" && g.lex.kind == schema.ShuntRevision && !g.unrealAt(k) && (g.mentions("out", "removed", "excized", "down") || g.ctx.shunt):
			for j := k + 1; j < len(g.toks) && j < k+9 && g.toks[j].kind != stop && !g.is(j, ","); j++ {
				if !shuntNouns[g.toks[j].text] {
					continue
				}
				for i := range g.signs { // "it was taken down and a new shunt placed"
					if s := &g.signs[i]; g.valueOf(s, done) == "taken-down" && s.from < k {
						s.used = true
					}
				}
				g.claimField(done, "replaced", k, k+1, k, j+1)
				break
			}
		case t == "replaced" && g.lex.kind == schema.ShuntRevision && !g.unrealAt(k) && !g.is(k-1, "not"):
			if g.is(k-1, ":") || g.is(k+1, "it", "the", "with", "by") || shuntNouns[g.wordAt(k+1)] || (k+1 >= len(g.toks) || g.toks[k+1].kind == stop) && (k == 0 || shuntNouns[g.wordAt(k-1)] || g.is(k-1, "was", "were") && (shuntNouns[g.wordAt(k-2)] || g.is(k-2, "it"))) {
				if n := g.at[k]; n >= 0 && g.signs[n].used {
					continue
				}
				if g.is(k+1, "the") && !shuntNouns[g.wordAt(k+2)] {
					continue
				}
				for i := range g.claims {
					if c := &g.claims[i]; c.field == done && c.from < k && g.mentions("end", "then") {
						c.gone = true // "we put a clip on it, and in the end replaced it"
					}
				}
				g.claimField(done, "replaced", k, k+1, k, k+1)
				if n := g.at[k]; n >= 0 && !g.signs[n].has(isUnit) {
					g.signs[n].used = true
				}
			}
		}
	}
}

// flowsWell are the words that tell that blood runs through a shunt, and looksWell those
// that do so only of a shunt that was looked at.
var (
	flowsWell = wordSet("patent pulsatile pulsating pulsing thrilling unobstructed")
	looksWell = wordSet("wide widely soft thrill fine healthy running open")
)

// readShuntOpen reads a shunt that was found open where it is told of by more than one
// word: "RV-PA wide open, no kink", "the Sano was pulsing and wide open throughout", "it
// had a good thrill, so I left it alone".
func (g *segment) readShuntOpen() {
	found := fieldAt(schema.BetweenShuntFound)
	if !g.inNote(found) || g.answered(found) || g.mentions("echo", "tte", "tee", "toe", "afterward", "after", "clamp", "new") && g.lex.kind != schema.Reexploration {
		return
	}
	named := g.ctx.shunt && g.lex.kind == schema.ShuntRevision && g.is(0, "found")
	for k := range g.toks {
		w := g.toks[k].text
		named = named || shuntNouns[w] || g.is(k, "rv") && g.is(k+1, "-", "pa") || g.is(k, "graft")
		if !named || !flowsWell[w] && !looksWell[w] || g.unrealAt(k) || g.maybe(k) || g.is(k+1, "chest", "sternum", "sternotomy") {
			continue
		}
		if g.is(k, "open") && !g.is(k-1, "wide", "widely", "was", "is", "and", "found", ",", "still") || g.is(k, "wide", "widely") && !g.is(k+1, "open", "patent") || g.is(k, "running") && !g.is(k+1, "well") || g.is(k, "fine") && g.is(k+1, "suture", "stitch") {
			continue
		}
		if g.anyWithin(max(0, k-6), k, "not", "no", "never", "lost", "chest", "sternum", "septum", "fenestration", "duct", "pleura", "without", "poor", "weak", "valve", "asd") || g.is(k-1, "left") {
			continue
		}
		if g.lex.kind == schema.SupportOn && g.anyWithin(0, k, "clip", "clipped", "clipping") {
			continue // open once the clip came off again
		}
		if g.lex.kind == schema.ShuntRevision && !g.is(0, "found") && !g.noKink(k) && !g.mentions("found", "big", "large", "generous") {
			continue // of a shunt after its revision, as like as not
		}
		g.claimField(found, "open", k, k+1, k, k+1)
		return
	}
}

// noKink tells whether after token k a kink or a clot is denied: "wide open, no kink".
func (g *segment) noKink(k int) bool {
	for j := k + 1; j < len(g.toks) && j < k+8 && g.toks[j].kind != stop; j++ {
		if (g.is(j, "kink", "kinked", "clot", "clotted", "thrombus")) && g.anyWithin(j-3, j, "no", "not", "without", "nor") || g.is(j, "kinked") && g.is(j+1, "nowhere") {
			return true
		}
	}
	return false
}

// clippedBefore tells whether a clip was put on, before token k, and not only meant.
func (g *segment) clippedBefore(k int) bool {
	for j := range k {
		if g.is(j, "clip", "clipped") && !g.unrealAt(j) && !g.is(j-1, "to") {
			return true
		}
	}
	return false
}

// readOldSupply reads that the supply of stage 1 was taken out: "the Sano conduit was
// excised", or clipped and cut as well.
func (g *segment) readOldSupply(f *schema.Field) {
	shunt := false
	for k := range g.toks {
		shunt = shunt || shuntNouns[g.toks[k].text]
		if n := g.at[k]; shunt && g.is(k, "divided", "cut", "transected") && g.clippedBefore(k) && (g.is(k+1, "it", "across", "through", "between") || g.is(k+1, "too") && g.is(k-1, "and", ".", ",")) && !g.unrealAt(k) && !(n >= 0 && g.signs[n].scope&denied != 0) {
			g.claimField(f, "clipped-and-divided", k, k+1, k, k+2) // "I clipped it and cut across it"
			if n >= 0 {
				g.signs[n].used = true
			}
		}
		if !shuntNouns[g.toks[k].text] {
			continue
		}
		j := k + 1
		for g.is(j, "conduit", "shunt", "was", "were", "itself", "has", "been", "then") {
			j++
		}
		if !g.is(j, normal("excised"), "resected", "removed") || j-k > 4 {
			continue
		}
		n := g.at[j]
		if n >= 0 && (g.signs[n].used || g.signs[n].scope&(denied|intended|weighed|hearsay) != 0) {
			continue
		}
		g.claimField(f, "taken-out", j, j+1, k, j+1)
		if n >= 0 {
			g.signs[n].used = true
		}
		return
	}
}

// readShuntSide reads the side of a systemic shunt beside its name: "right modified
// BT shunt", "BT shunt on the right".
func (g *segment) readShuntSide() {
	side, kind := fieldAt(schema.SupplySide), fieldAt(schema.SupplyKind)
	if !g.inNote(side) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if g.valueOf(s, kind) != "modified-blalock-taussig-thomas" || s.scope&(unreal|denied) != 0 {
			continue
		}
		w, at := "", -1
		for k := s.from; k < s.to; k++ {
			if g.is(k, "right", "left", "r", "l") {
				w, at = g.toks[k].text, k
			}
		}
		if k := s.from - 1; at < 0 && g.is(k, "right", "left", "r", "l") && g.at[k] >= 0 && g.sideOf(&g.signs[g.at[k]]) != "" {
			w, at = g.toks[k].text, k
		}
		for k := s.to; at < 0 && k < len(g.toks) && k < s.to+4; k++ {
			if g.is(k, "right", "left") && (k == s.to || g.is(k-1, "the", "on", ",")) && (k+1 >= len(g.toks) || g.toks[k+1].kind != word && g.toks[k+1].kind != figure || g.is(k+1, "side", "sided")) {
				w, at = g.toks[k].text, k
			} else if !g.is(k, "shunt", ",", "on", "the") {
				break
			}
		}
		if at < 0 {
			continue
		}
		v := "right"
		if strings.HasPrefix(w, "l") {
			v = "left"
		}
		g.claimField(side, v, at, at+1, min(at, s.from), max(at+1, s.to))
		return
	}
}

// readNextStage reads what is planned next: "plan the same stage again in six months".
func (g *segment) readNextStage() {
	f := fieldAt(schema.BetweenNextStage)
	if g.lex.kind != schema.Takedown || !(g.mentions("plan", "hope", "next", "aim", "think", "possible") || g.mentions("decided", "later", "conceivable", "talk", "future")) || g.mentions("raized", "mooted", "considered") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, f)
		if v != "not-decided" && v != "same-stage-later" && !g.mentions("plan", "hope", "next", "aim", "think", "possible") {
			continue
		}
		if v == "" || s.used || s.scope&(denied|unreal&^intended) != 0 || s.to-s.from < 2 && v != "not-decided" {
			continue
		}
		g.claimField(f, v, s.from, s.to, s.from, s.to)
		s.used = true
		return
	}
}

// readForm reads the arch repair that goes with a Damus-Kaye-Stansel connection.
func (g *segment) readForm() {
	f := fieldAt(schema.Stage1Form)
	if g.lex.kind != schema.Stage1 {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if g.valueOf(s, f) != "damus-kaye-stansel" || !g.plainTalk(i) {
			continue
		}
		for k := s.to; k < len(g.toks) && k < s.to+5 && g.toks[k].kind != stop; k++ {
			if g.is(k, "arch") && g.is(s.to, "with", "and", "plus") && !g.is(k-1, "no") && !g.is(k+1, "was", "fine", "ok") {
				g.claimField(f, "damus-kaye-stansel-arch", s.from, k+1, s.from, k+1)
				s.used = true
				return
			}
		}
	}
}

// readReason reads why a child was taken back, from the sentences that open the
// note: "re-exploration, bleeding, six hours after the Norwood", "for bleeding and
// tamponade".
func (g *segment) readReason() {
	f := fieldAt(schema.BetweenReason)
	if g.lex.kind == schema.SupportOn {
		f = fieldAt(schema.MechanicalReasonOn)
	}
	if !g.inNote(f) || g.ctx.opening >= openingOf {
		return
	}
	edge := func(k int) bool {
		return k < 0 || k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", "+", "and", "/", "for", "with", ":", "-", "(", ")", "because", "too", "again", "at", "since", "plus", "&", "despite", "after")
	}
	listed := false // a reason goes on: "bleeding + tamponade"
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, f)
		if v == "" || s.used || s.scope&(unreal&^past|denied) != 0 || v == "shunt-blocked" || !edge(s.from-1) && !g.is(s.from-2, "for") || !edge(s.to) && !(v == "arrest" && (g.clockSoon(s.to) || g.is(s.to, "in", "on"))) && !(g.ctx.opening == 0 && numberedReason[v] && g.numberAt(s.to)) {
			listed = false
			continue
		}
		if f.Type != "list" && slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f }) {
			return
		}
		if lead := s.from == 0 || g.is(s.from-1, "for", "because", ":") || g.is(s.from-2, "for") || g.ctx.opening == 0 || listed || s.from == 1 && g.toks[0].kind != word; !lead {
			continue
		}
		if g.lex.kind == schema.SupportOn && g.mentions("attempt", "wean", "weaned", "weaning", "separate") {
			return
		}
		if g.is(s.from, "arrest") && g.mentions("circulatory", "clamp", "bypass") || s.scope&past != 0 && g.ctx.opening > 0 {
			continue
		}
		g.claimField(f, v, s.from, s.to, s.from, s.to)
		s.used, listed = g.valueOf(s, fieldAt(schema.MechanicalMode)) == "" || s.used, true
	}
}

// numberedReason are the reasons that a number may follow: "Desat 48%", "bleeding 18 ml/kg/h".
var numberedReason = map[string]bool{"bleeding": true, "low-saturation": true, "tamponade": true, "effusion": true}

// clockSoon tells whether a clock time stands at token k or after the word there:
// "Arrest 03:12", "Arrest PICU 02:38".
func (g *segment) clockSoon(k int) bool {
	for j := k; j < k+2; j++ {
		if g.numberAt(j) && g.signs[g.at[j]].num.clock != "" && g.signs[g.at[j]].num.surely {
			return true
		}
	}
	return false
}

// readClosing takes from the first words of a closure that it was planned.
func (g *segment) readClosing() {
	f := fieldAt(schema.BetweenReason)
	if g.lex.kind != schema.Closure || g.ctx.opening > 0 {
		return
	}
	for k := range g.toks {
		if k > 12 {
			return
		}
		if g.is(k, "closure", "closing", "close") && !g.unrealAt(k) {
			c := g.claimField(f, "planned-closure", k, k+1, k, k+1)
			c.sure, c.note = Check, "what the note is called"
			return
		}
	}
}

// reasonsFound are the reasons that what was found, or what support was put on for,
// tells of itself.
var reasonsFound = map[schema.Kind]map[schema.Path]map[string]string{
	schema.ShuntRevision: {schema.BetweenShuntFound: {"blocked": "shunt-blocked", "too-large": "high-lung-flow"}},
	schema.SupportOn:     {schema.MechanicalReasonOn: {"arrest": "arrest", "low-output": "low-output"}},
}

// reasonFrom takes the reason for an operation from what was found at it.
func (s *settling) reasonFrom() {
	reason := fieldAt(schema.BetweenReason)
	var found *Proposal
	value := ""
	for _, p := range s.plain {
		v := reasonsFound[s.reading.Kind][p.Path][p.Value]
		if p.Path == schema.BetweenSource && s.reading.Kind == schema.Reexploration && p.Value != "" {
			v = "bleeding"
		}
		if v != "" && p.Stated == "" && p.Sure != Conflict {
			found, value = p, v
		}
	}
	if found == nil || slices.ContainsFunc(s.plain, func(p *Proposal) bool { return p.Path == reason.Path && p.Value == value }) {
		return
	}
	if value == "bleeding" && slices.ContainsFunc(s.plain, func(p *Proposal) bool { return p.Path == reason.Path }) {
		return // a source of bleeding is no second reason
	}
	s.plain = append(s.plain, &Proposal{Path: reason.Path, Value: value, Spans: found.Spans[:1:1], Why: found.Why, Sure: Check, Note: "taken from what was found"})
}
