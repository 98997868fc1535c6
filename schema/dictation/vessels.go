package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readMisleading reads the limb whose pressure is not to be trusted: "don't trust
// the right arm", "left arm reads low".
func (g *segment) readMisleading() {
	f := fieldAt(schema.PressuresMisleadingLimbs)
	if !g.inNote(f) {
		return
	}
	for k := 0; k+1 < len(g.toks); k++ {
		if !g.is(k, "right", "left") || !g.is(k+1, "arm", "leg", "radial", "femoral") {
			continue
		}
		said := false
		for j := max(0, k-5); j < k; j++ {
			said = said || g.is(j, "trust", "believe") && (g.is(j-1, "dont", "not", "never") || g.is(j-2, "not")) || g.is(j, "ignore", "beware")
		}
		for j := k + 2; j < len(g.toks) && j < k+8 && g.toks[j].kind != stop; j++ {
			said = said || g.is(j, "mislead", "misleading", "unreliable") || g.is(j, "low") && g.is(j-1, "read", "reading", "too")
		}
		if !said {
			continue
		}
		limb := map[string]string{"arm": "arm", "radial": "arm", "leg": "leg", "femoral": "leg"}[g.toks[k+1].text]
		v := g.toks[k].text + "-" + limb
		if !slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f && c.value == v }) {
			g.claimField(f, v, k, k+2, k, k+2)
		}
		if n := g.at[k]; n >= 0 && g.toks[k+1].text != "radial" && g.toks[k+1].text != "femoral" {
			g.signs[n].used = true
		}
	}
}

// readFenestration reads that a fenestration is open where the word for it stands
// apart: "a four millimetre fenestration, a hole in the patch, open", "It is open".
func (g *segment) readFenestration() {
	f := fieldAt(schema.Stage3Fenestration)
	if g.lex.kind != schema.Stage3 {
		return
	}
	if g.mentions("snare", "snared") && g.mentions("fenestration", "fenestrated", "fen", "snare") && g.readSnared(f) || g.mentions("snared") || !g.mentions("open") {
		return
	}
	about := g.mentions("fenestration", "fenestrated", "fen")
	for k := range g.toks {
		if !g.is(k, "open") || g.unrealAt(k) || g.at[k] >= 0 && g.signs[g.at[k]].used {
			continue
		}
		fen := false
		for j := k - 1; j >= 0 && !fen; j-- {
			if g.is(j, "chest", "sternum", "duct", "pleura", "azygo", "snare", "vein", "valve", "septum", "drain") {
				break
			}
			fen = g.is(j, "fenestration", "fenestrated", "fen")
		}
		first := k <= 3 && g.is(0, "it", "its", "that") && g.ctx.topic == "stage3"
		if !fen && !first || fen && !about || g.is(k+1, "the", "chest", "up") {
			continue
		}
		for i := range g.signs {
			if s := &g.signs[i]; s.from > k && (s.is(corrects) || s.is(scratches)) || s.from < k && g.valueOf(s, f) == "snared-open" {
				return
			}
		}
		g.claimField(f, "open", k, k+1, k, k+1).leaving = true
		if n := g.at[k]; n >= 0 {
			g.signs[n].used = true
		}
		return
	}
}

// readSnared reads whether the snare of a fenestration was left open or drawn.
func (g *segment) readSnared(f *schema.Field) bool {
	for k := range g.toks {
		if !g.is(k, "snare", "snared") || g.unrealAt(k) {
			continue
		}
		j := k + 1
		for g.is(j, ",", "is", "was", "left", "and", "the", "snare", "now", "down", "kept") && !g.is(j, "down") {
			j++
		}
		v := ""
		switch {
		case g.is(j, "open"):
			v = "snared-open"
		case g.is(j, "closed", "shut", "tight", "down", "drawn"):
			v = "snared-closed"
		}
		if v == "" || j-k > 5 || g.unrealAt(j) {
			continue
		}
		g.claimField(f, v, j, j+1, k, j+1)
		for i := range g.signs {
			if s := &g.signs[i]; s.from >= k && s.from <= j && g.valueOf(s, f) != "" && !s.content2() && !g.within(s, "fenestration", "fenestrated") {
				s.used = true
			}
		}
		return true
	}
	return false
}

// readSnareLeft lists the snare of a fenestration that is told to be snared: it comes out
// through the chest.
func (g *segment) readSnareLeft() {
	kind, f := schema.ItemKindNamed("left-on-purpose"), fieldAt(schema.Stage3Fenestration)
	if !g.mentions("snare") || !slices.ContainsFunc(g.claims, func(c claim) bool {
		return c.field == f && !c.gone && strings.HasPrefix(c.value, "snared")
	}) || slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && x.variety == "snare" }) {
		return
	}
	at := -1
	for k := range g.toks {
		if g.is(k, "snare") && !g.unrealAt(k) && !g.maybe(k) && !g.is(k-1, "no", "without", "not") {
			at = k
		}
	}
	if at < 0 {
		return
	}
	gi := g.newGroup("items", at, at+1)
	g.groups[gi].item, g.groups[gi].variety = kind, "snare"
	g.claimIn(gi, kind.Field("variety"), "snare", at, at+1, at, at+1)
	if f := kind.Field("lengthOutside"); g.numberAt(at + 1) {
		if a, ok := g.amountAt(int(g.at[at+1])); ok && slices.Contains(a.units, "cm") && g.is(a.to, "out", "long", "outside", "left") {
			if v, _, ok := fits(f, a); ok {
				g.claimIn(gi, f, v, a.from, a.to, at, a.to+1)
				g.useAmount(a)
			}
		}
	}
}

// readPacedAt reads the rate that stands further from the word of pacing: "we pace the
// atrium at one forty", "we pace with the wires the atrium at one hundred and ten".
func (g *segment) readPacedAt() {
	f := fieldAt(schema.LeavingPacingRate)
	for k := range g.toks {
		if !g.is(k, "pace") || g.answered(f) {
			continue
		}
		for j := k + 1; j+1 < len(g.toks) && j < k+9 && g.toks[j].kind == word; j++ {
			if !g.is(j, "at") || !g.numberAt(j+1) || !g.plainTalk(int(g.at[j+1])) {
				continue
			}
			a, _ := g.amountAt(int(g.at[j+1]))
			if v, _, ok := fits(f, a); ok && (a.units == nil || slices.Contains(a.units, "/min")) {
				g.judge(g.claimField(f, v, a.from, a.to, k, a.to), a)
				g.useAmount(a)
			}
			break
		}
	}
}

// readPaceSettings reads the settings of the box as they are jotted down: "AV 120
// ms, A 8 mA, V 10 mA".
func (g *segment) readPaceSettings() {
	delay, atrial, ventricular := fieldAt(schema.LeavingAvDelay), fieldAt(schema.LeavingAtrialOutput), fieldAt(schema.LeavingVentricularOutput)
	if !g.inNote(delay) || !g.mentions("ddd", "dual", "paced", "pacing", "pace", "box", "aai", "vvi", "generator", "pacemaker") || g.mentions("threshold") {
		return
	}
	g.readOneOutput(atrial, ventricular)
	g.readPacedAt()
	for k := 0; k+3 < len(g.toks); k++ { // "outputs ten and eight"
		if !g.is(k, "output") || !g.pluralAt(k) {
			continue
		}
		j := k + 1
		if g.is(j, "at", "of", "are") {
			j++
		}
		if !g.numberAt(j) || !g.is(g.signs[g.at[j]].to, "and", "/") || !g.numberAt(g.signs[g.at[j]].to+1) {
			continue
		}
		for n, f := range []*schema.Field{atrial, ventricular} {
			i := int(g.at[j])
			if n == 1 {
				i = int(g.at[g.signs[i].to+1])
			}
			a, _ := g.amountAt(i)
			if v, _, ok := fits(f, a); ok && g.plainTalk(i) && (a.units == nil || slices.Contains(a.units, "mA")) {
				g.judge(g.claimField(f, v, a.from, a.to, k, a.to), a)
				g.useAmount(a)
			}
		}
	}
	for k := 0; k+1 < len(g.toks); k++ { // "delay one ten"
		j := k + 1
		for g.is(j, "of", "at", "is", ":") {
			j++
		}
		if !g.is(k, "delay") || !g.numberAt(j) || !g.plainTalk(int(g.at[j])) {
			continue
		}
		if a, _ := g.amountAt(int(g.at[j])); a.units == nil {
			if v, _, ok := fits(delay, a); ok && usual(delay, g.lex.kind, v) {
				g.judge(g.claimField(delay, v, a.from, a.to, k, a.to), a)
				g.useAmount(a)
			}
		}
	}
	for k := 0; k+1 < len(g.toks); k++ {
		j := k + 1
		for g.is(j, "output", "delay", "at") {
			j++
		}
		if !g.numberAt(j) || !g.is(k, "a", "v", "av") {
			continue
		}
		i := int(g.at[j])
		if !g.plainTalk(i) {
			continue
		}
		a, _ := g.amountAt(i)
		var f *schema.Field
		switch {
		case g.is(k, "av") && slices.Contains(a.units, "ms"):
			f = delay
		case g.is(k, "a") && slices.Contains(a.units, "mA") && g.toks[j].kind == figure:
			f = atrial
		case g.is(k, "v") && slices.Contains(a.units, "mA"):
			f = ventricular
		}
		if f == nil {
			continue
		}
		if v, _, ok := fits(f, a); ok {
			g.judge(g.claimField(f, v, a.from, a.to, k, a.to), a)
			g.useAmount(a)
		}
	}
}

// readOtherOutput reads the second of two outputs said in one breath: "atrial output
// five, ventricular eight".
func (g *segment) readOtherOutput() {
	for c := range g.claims {
		x := &g.claims[c]
		other, words := schema.LeavingVentricularOutput, []string{"ventricular", "v"}
		if x.field.Path == schema.LeavingVentricularOutput {
			other, words = schema.LeavingAtrialOutput, []string{"atrial", "a"}
		}
		if x.field.Path != schema.LeavingAtrialOutput && x.field.Path != schema.LeavingVentricularOutput || x.gone {
			continue
		}
		k := x.to
		for g.is(k, ",", "and") {
			k++
		}
		if !g.is(k, words...) {
			continue
		}
		for k++; g.is(k, "output", "at", "of", "is"); k++ {
		}
		if !g.numberAt(k) || !g.plainTalk(int(g.at[k])) {
			continue
		}
		f := fieldAt(other)
		a, _ := g.amountAt(int(g.at[k]))
		if v, _, ok := fits(f, a); ok {
			g.judge(g.claimField(f, v, a.from, a.to, x.why, a.to), a)
			g.useAmount(a)
		}
		return
	}
}

// sidesAfter reads the sides of two readings, said after both, from token k on, and tells
// where they end.
func (g *segment) sidesAfter(k int, w *[2]string) int {
	for g.is(k, ",", "(") {
		k++
	}
	end := k + 1
	for g.is(end, "then", "and", "to", "/", "before", ",") {
		end++
	}
	first, second := g.wordAt(k), g.wordAt(end)
	if end > k+1 && (first == "right" && second == "left" || first == "left" && second == "right" || first == "r" && second == "l" || first == "l" && second == "r") {
		w[0], w[1] = first[:1], second[:1]
		return end + 1
	}
	return k
}

// readEitherSide reads the two readings of what is measured on both sides: "NIRS R 62
// L 58", "cerebral NIRS fifty five left, fifty eight right".
func (g *segment) readEitherSide() {
	right, left := fieldAt(schema.LeavingCerebralRight), fieldAt(schema.LeavingCerebralLeft)
	if !g.inNote(right) || !g.mentions(normal("nirs"), "infrared", "cerebral", "forehead") {
		return
	}
	for k := range g.toks {
		if !g.is(k, normal("nirs"), "forehead") && !(g.is(k, "infrared") && g.is(k-1, "near")) && !(g.is(k, "cerebral") && (g.numberAt(k+1) || g.is(k+1, "saturation", normal("sats"), "oximetry", "reading", "number", "right", "left", "r", "l"))) || g.unrealAt(k) {
			continue
		}
		var a [2]amount
		var w [2]string
		j, n := k+1, 0
		for ; n < 2; n++ {
			for g.is(j, ",", "and", ":", "on", "the", "of", "is", "was", "were", "are", "at", "cerebral", "saturation", normal("sats"), "/", "leaving", "now", "final", "reading", "with", "oximetry", "read", "pad", "probe", "sensor", "head", "brain", "both", "side") {
				j++
			}
			side := ""
			if g.is(j, "r", "right", "l", "left") {
				side = g.toks[j].text[:1]
				j++
			}
			for g.is(j, ",", ":", "is", "at", "of", "was", "head", "brain") {
				j++
			}
			if !g.numberAt(j) || !g.plainTalk(int(g.at[j])) {
				break
			}
			b, _ := g.amountAt(int(g.at[j]))
			if b.unitSign >= 0 && g.is(b.to-1, "l") && (g.numberAt(b.to) || w[0] == "r") { // "R 62 L 58" has no litres
				b.units, b.unitSign, b.to = nil, -1, b.to-1
			}
			if _, _, ok := fits(right, b); !ok || len(b.decimal) != 2 || b.units != nil && !slices.Contains(b.units, "%") {
				break
			}
			a[n], j = b, b.to
			for side == "" && g.is(j, "on", "the") {
				j++
			}
			if side == "" && g.is(j, "r", "right", "l", "left") {
				side = g.toks[j].text[:1]
				j++
			}
			w[n] = side
			if n == 0 && side == "" && g.both(k, j) { // "NIRS sixty both sides" is two readings
				a[1], w = b, [2]string{"r", "l"}
				n = 2
			}
		}
		if n == 2 && w[0] == "" && w[1] == "" {
			j = g.sidesAfter(j, &w) // "seventy-one and sixty-eight, right then left"
		}
		if n < 2 || w[0] == w[1] || w[0] == "" || w[1] == "" {
			continue
		}
		for m := range a {
			f := right
			if w[m] == "l" {
				f = left
			}
			g.claimField(f, a[m].decimal, a[m].from, a[m].to, k, a[m].to)
			g.useAmount(a[m])
		}
		for i := g.nextSign(k); i < len(g.signs) && g.signs[i].from < j; i++ {
			g.signs[i].used = true
		}
		return
	}
}

// both tells whether a reading that begins at token k and ends at j is of both sides.
func (g *segment) both(k, j int) bool {
	for m := k; m < j+3; m++ {
		if m >= j && g.is(m, ",") {
			return false
		}
		if g.is(m, "both") && (m >= j || g.is(m+1, "side")) || g.is(m, "bilaterally") {
			return true
		}
	}
	return false
}

// readOneOutput reads the output of a box that paces one chamber, and its rate: "A paced
// at one sixty, output ten", "pacing the ventricle at 130 with an output of ten".
func (g *segment) readOneOutput(atrial, ventricular *schema.Field) {
	a := g.mentions("aai", "atrial", "atrium", "atrially") || g.pacesLetter("a")
	v := g.mentions("vvi", "ventricular", "ventricle", "ventricularly") || g.pacesLetter("v")
	f := atrial
	if v {
		f = ventricular
	}
	if a == v || g.mentions("dual", "ddd", "sequential", "wire", "delay") {
		f = nil
	}
	rate := fieldAt(schema.LeavingPacingRate)
	for i := range g.signs {
		if g.signs[i].num == nil || !g.plainTalk(i) {
			continue
		}
		x, _ := g.amountAt(i)
		output := slices.Contains(x.units, "mA") || x.units == nil && (g.is(x.from-1, "output") || g.is(x.from-2, "output") && g.is(x.from-1, "of", "at", "is", ":"))
		if w, _, ok := fits(atrial, x); ok && f != nil && output {
			g.judge(g.claimField(f, w, x.from, x.to, x.from, x.to), x)
			g.useAmount(x)
			continue
		}
		if w, _, ok := fits(rate, x); ok && x.units == nil && len(w) > 1 && w > "1" && (usual(rate, g.lex.kind, w) || len(w) == 2 && w >= "60") && g.paceRateAt(x) && !g.answered(rate) {
			g.judge(g.claimField(rate, w, x.from, x.to, x.from, x.to), x)
			g.useAmount(x)
		}
	}
}

// pacesLetter tells whether a letter names the chamber paced: "A paced", "V pacing".
func (g *segment) pacesLetter(w string) bool {
	for k := range g.toks {
		if g.is(k, w) && g.is(k+1, "paced", "pacing", "pace") {
			return true
		}
	}
	return false
}

// paceRateAt tells whether the words before an amount make it the rate of the box:
// "pacing the ventricle at", "paced dual chamber, the rate is".
func (g *segment) paceRateAt(a amount) bool {
	k := a.from - 1
	if g.is(a.to, "?") {
		return false
	}
	if g.is(k, "is", "of", "was", ":") && g.is(k-1, "rate") {
		k--
	}
	if g.is(k, ",") {
		k-- // "paced dual, one forty"
	}
	if !g.is(k, "at", "rate", "@") && !g.is(k, "dual", "sequential", "ddd", "aai", "vvi", "aoo", "voo", "doo") {
		return false
	}
	for j := k; j >= 0 && j > k-9 && g.toks[j].kind != stop && (!g.numberEnds(j) || g.is(j, "atrial", "ventricular")); j-- {
		if g.is(j, "pacing", "paced", "pace", "ddd", "aai", "vvi", "box") || g.is(j, "running", "set") && g.mentions("generator", "pacemaker") {
			return true
		}
		if g.is(j, "vent", "ventilator", "breath", "threshold", "output", "sinus", "under", "underneath", "beneath", "junctional", "own") {
			return false
		}
	}
	return false
}

// triedVessels is the end of a list of vessels after a word at token k that they were tried
// for a line in vain: "failed L rad, L fem art", "failed right IJ x2"; 0 where there is none.
// A vessel with a size of its own is no longer of the list.
func (g *segment) triedVessels(k int) int {
	if !g.is(k, "failed", "unsuccessful", "attempted", "abandoned") || k > 0 && g.toks[k-1].kind != stop && !g.is(k-1, ",", "(") {
		return 0
	}
	end := 0
	for k++; g.is(k, "attempt", "at", "for", "in", "on", ":"); k++ {
	}
	for k < len(g.toks) {
		for g.is(k, ",", "and", "at", "+", "/", "the", "a") {
			k++
		}
		if g.sideAt(k) != "" {
			k++
		}
		n, to := g.lex.match(g.toks, min(k, len(g.toks)))
		if to <= k || !slices.ContainsFunc(g.lex.senses[n], func(x sense) bool {
			return (x.kind == isVariety || x.kind == isItem) && x.item.Group == "lines"
		}) {
			return end
		}
		for k = to; g.is(k, "line", "art", "artery", "vein", "v", "x", "time", "twice") || g.is(k-1, "x") && g.numberAt(k); k++ {
		}
		if len(g.amountsAfter(k)) > 0 {
			return end
		}
		end = k
	}
	return end
}
