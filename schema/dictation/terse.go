package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// readBareSize reads a size that is a sentence by itself, after the sentence that
// named what has it: "Right Blalock shunt. Three and a half, Gore-Tex." and
// "Extracardiac. Eighteen by seventy five."
func (g *segment) readBareSize() {
	var f, long *schema.Field
	switch g.ctx.topic {
	case "supply":
		if x := fieldAt(schema.SupplyKind); g.inNote(x) {
			f = g.sizeOf(sense{kind: isValue, field: x, value: g.ctx.value(schema.SupplyKind)})
		}
	case "stage3":
		f, long = fieldAt(schema.Stage3ConduitDiameter), fieldAt(schema.Stage3ConduitLength)
	}
	if f == nil || len(g.signs) == 0 {
		return
	}
	i := 0
	s := &g.signs[i]
	if s.num == nil || s.used || s.from > 1 || s.from == 1 && !g.is(0, "a", "size") || s.scope&(unreal|denied) != 0 {
		return
	}
	a, _ := g.amountAt(i)
	v, _, ok := fits(f, a)
	if !ok || !usual(f, g.lex.kind, v) {
		return
	}
	if long != nil && g.is(a.to, "by", "x") && g.numberAt(a.to+1) {
		b, _ := g.amountAt(int(g.at[a.to+1]))
		if w, _, ok := fits(long, b); ok {
			g.claimField(f, v, a.from, a.to, a.from, b.to)
			g.claimField(long, w, b.from, b.to, a.from, b.to)
			g.useAmount(a)
			g.useAmount(b)
		}
		return
	}
	k := a.to
	for g.is(k, ",", "stretch", "mm") {
		k++
	}
	if k < len(g.toks) && g.toks[k].kind != stop {
		material := false
		if n := g.at[k]; n >= 0 {
			for _, x := range g.signs[n].senses {
				material = material || x.kind == isValue && x.field.Section == f.Section && x.field != f
			}
		}
		if !material {
			return
		}
	}
	c := g.claimField(f, v, a.from, a.to, a.from, a.to)
	c.sure, c.note = Check, "a size by itself, after what it may belong to"
	g.useAmount(a)
}

// readLength reads the length said after the width of a conduit: "18 by 80".
func (g *segment) readLength() {
	long := fieldAt(schema.Stage3ConduitLength)
	if !g.inNote(long) {
		return
	}
	for c := range g.claims {
		x := g.claims[c]
		if x.field.Path != schema.Stage3ConduitDiameter || x.gone || !g.is(x.to, "by", "x") || !g.numberAt(x.to+1) || !g.plainTalk(int(g.at[x.to+1])) {
			continue
		}
		b, _ := g.amountAt(int(g.at[x.to+1]))
		if w, _, ok := fits(long, b); ok {
			g.judge(g.claimField(long, w, b.from, b.to, x.why, b.to), b)
			g.useAmount(b)
		}
		return
	}
	for c := range g.claims { // "conduit twenty millimetres, ninety long"
		x := &g.claims[c]
		if x.field.Path != schema.MeasuresLength || x.gone || !g.is(x.to, "long") || g.toks[x.to].kind == stop || !g.mentions("conduit", "tube", "graft") {
			continue
		}
		if w, _, ok := fits(long, amount{decimal: x.value}); ok {
			x.field, x.value = long, w
		}
	}
	if g.answered(long) || g.anyPrefix("jug", "lumen", "femoral", "lip", "nostril", "tall", "height") {
		return
	}
	for c := range g.claims { // "an eighteen Gore-Tex tube, eight centimetres"
		x := &g.claims[c]
		if x.field.Path != schema.Stage3ConduitDiameter || x.gone || x.stated != "" {
			continue
		}
		for i := g.nextSign(x.to); i < len(g.signs) && g.signs[i].from-x.to <= 12; i++ {
			if !g.plainTalk(i) || g.signs[i].num == nil {
				continue
			}
			b, _ := g.amountAt(i)
			if w, _, ok := fits(long, b); ok && slices.Contains(b.units, "cm") {
				g.judge(g.claimField(long, w, b.from, b.to, min(x.from, x.why), b.to), b)
				g.useAmount(b)
			}
			return
		}
		return
	}
}

// readDifference reads the gradient where only the two pressures it lies between name
// it: "Glenn fourteen, atrium five, so nine across".
func (g *segment) readDifference() {
	for _, p := range [][3]schema.Path{
		{schema.Stage2CavalPressure, schema.Stage2AtrialPressure, schema.Stage2Gradient},
		{schema.Stage3ConduitPressure, schema.Stage3AtrialPressure, schema.Stage3Gradient},
	} {
		f := fieldAt(p[2])
		if !g.inNote(f) || g.answered(f) {
			continue
		}
		high, low := g.plainNumber(p[0]), g.plainNumber(p[1])
		if high == nil && low == nil || low == nil && g.differs() {
			g.readDifferenceAlone(f)
			continue
		}
		if high == nil || low == nil {
			continue
		}
		x, _ := strconv.Atoi(high.value)
		y, _ := strconv.Atoi(low.value)
		end := max(high.to, low.to)
		for i := g.nextSign(end); i < len(g.signs) && g.signs[i].from-end <= 5; i++ {
			s := &g.signs[i]
			if s.num == nil {
				continue
			}
			if a, _ := g.amountAt(i); g.plainTalk(i) && x > y && y > 0 && a.decimal == strconv.Itoa(x-y) && (a.units == nil || slices.Contains(a.units, "mm[Hg]")) && (g.is(a.to, "across", "between", "apart") || g.is(a.from-1, "so", "difference", "make", "is", "of", "gap", "leaving")) {
				c := g.claimField(f, a.decimal, a.from, a.to, min(high.from, low.from), a.to)
				c.sure, c.note = Check, "it is the difference of the two pressures"
				g.useAmount(a)
			}
			break
		}
	}
}

// readThatsYour reads a pressure whose name comes after it: "reading fourteen, that's your
// Fontan".
func (g *segment) readThatsYour() {
	for k := 2; k+1 < len(g.toks); k++ {
		n := g.at[k-1]
		if g.is(k-1, ",") {
			n = g.at[k-2]
		}
		if !g.is(k, "that", "which") || n < 0 || g.signs[n].num == nil || !g.plainTalk(int(n)) {
			continue
		}
		j := k + 1
		for g.is(j, "is", "your", "the", "my", "our") {
			j++
		}
		if j == k+1 || j >= len(g.toks) || g.at[j] < 0 || g.signs[g.at[j]].from != j {
			continue
		}
		s := &g.signs[g.at[j]]
		if s.to < len(g.toks) && g.toks[s.to].kind != stop && !g.is(s.to, ",") {
			continue
		}
		a, _ := g.amountAt(int(n))
		for _, x := range s.senses {
			if x.kind != namesField || x.field.Unit != "mm[Hg]" || x.field.Path.List() != "" || !g.inNote(x.field) || pastSections[x.field.Section] {
				continue
			}
			if v, _, ok := fits(x.field, a); ok {
				g.judge(g.claimField(x.field, v, a.from, a.to, a.from, s.to), a)
				g.useAmount(a)
				s.used = true
				break
			}
		}
	}
}

// differs tells whether a difference is spoken of.
func (g *segment) differs() bool { return g.mentions("difference") || g.mentions("gap") }

// readDifferenceAlone reads the gradient that follows on the two pressures of the sentence
// before: "Difference of seven.", "So eight across."
func (g *segment) readDifferenceAlone(f *schema.Field) {
	for i, a := range g.plainAmounts() {
		if a.units != nil && !slices.Contains(a.units, "mm[Hg]") || len(a.decimal) > 2 {
			continue
		}
		k := a.from - 1
		for g.is(k, "of", "is", "was", "about", ":") {
			k--
		}
		of := g.is(k, "difference", "gap") && (k == 0 || !g.is(k-1, "no") && g.is(k-1, ",", "the", "a", "with")) && g.onlyPressures(i)
		across := g.is(a.to, "across", "apart") && g.is(a.from-1, "so", "make", "that", "is") && g.onlySign(i)
		if v, _, ok := fits(f, a); ok && (of || across) {
			c := g.claimField(f, v, a.from, a.to, min(k, a.from), a.to)
			c.sure, c.note = Check, "only its words say that it is the gradient"
			g.useAmount(a)
			return
		}
	}
}

// onlyPressures tells whether nothing before sign i in the segment names anything but
// the pressures whose difference is told.
func (g *segment) onlyPressures(i int) bool {
	for j := range i {
		s := &g.signs[j]
		if s.content() && s.num == nil && !strings.Contains(string(g.pressureAt(j)), "atrial") && !slices.ContainsFunc(s.senses, func(x sense) bool {
			return x.kind == namesField && x.field.Unit == "mm[Hg]"
		}) {
			return false
		}
	}
	return true
}

// plainNumber is the claim of a number for a field, where there is one and no more.
func (g *segment) plainNumber(p schema.Path) *claim {
	var out *claim
	for i := range g.claims {
		if c := &g.claims[i]; c.field.Path == p && c.stated == "" && !c.gone {
			if out != nil {
				return nil
			}
			out = c
		}
	}
	return out
}

// drainedSide is what a pleura, or a bare side with a size, means in a list of
// drains: "drains: mediastinal and both pleurae", "drains R 20F L 20F".
func (g *segment) drainedSide(i int) []sense {
	s := &g.signs[i]
	kind := schema.ItemKindNamed("drain")
	drains := false
	for k := 0; k < s.from; k++ {
		drains = drains || g.is(k, "drain")
	}
	drains = drains || g.drainBefore(s.from)
	if side := g.sideOf(s); g.ctx.last == "drain" && (side == "right" || side == "left") && s.to-s.from == 1 && !s.content2() && len(g.toks) <= 5 && s.scope&unreal == 0 && kind != nil &&
		(g.is(s.from-1, "no") && (s.to >= len(g.toks) || g.toks[s.to].kind == stop || g.is(s.to, "one")) || s.from == 0 && g.is(s.to, "none", "nil")) {
		s.scope |= denied
		return []sense{{kind: isVariety, item: kind, value: side + "-pleural"}} // "Drains ... . No left."
	}
	if side := g.sideOf(s); kind != nil && (side == "right" || side == "left") && s.to-s.from == 1 && !s.content2() && s.scope&(unreal|denied) == 0 && g.is(s.from-1, "the") && g.is(s.from-2, "on") && g.is(s.from-3, "one", "another") || kind != nil && (side == "right" || side == "left") && s.to-s.from == 1 && !s.content2() && s.scope&(unreal|denied) == 0 && g.is(s.from-1, "the") && g.is(s.from-2, "in") && g.is(s.from-3, "one", "another") {
		for k := 0; k < s.from-3; k++ {
			if g.is(k, "pleural", "chest", "pleura") && (drains || g.is(k, "pleural")) {
				return []sense{{kind: isVariety, item: kind, value: side + "-pleural"}} // "no pleural drain on the left, one on the right"
			}
		}
	}
	if kind != nil && s.has(isPair) && g.within(s, "pleura", "pleure") && s.to-s.from == 1 && s.scope&(unreal|denied) == 0 && (g.is(s.to, "drained") || g.is(s.to, "was", "were", "are", "is") && g.is(s.to+1, "drained")) {
		return []sense{{kind: isItem, item: kind, value: "*-pleural"}} // "both pleurae were drained"
	}
	if kind == nil || s.scope&unreal != 0 {
		return nil
	}
	if drains || g.ctx.last == "drain" {
		if out := g.sideInList(i, kind); out != nil {
			return out
		}
	}
	if !drains {
		return nil
	}
	if s.has(isPair) && g.within(s, "pleura") && s.to-s.from == 1 {
		return []sense{{kind: isVariety, item: kind, value: "*-pleural"}}
	}
	side := g.sideOf(s)
	if side != "right" && side != "left" || s.to-s.from != 1 || s.content2() {
		return nil
	}
	edge := func(k int) bool {
		return k < 0 || k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", "and", ":", "no", "nil", "none")
	}
	if (i+1 >= len(g.signs) || g.signs[i+1].num == nil || g.signs[i+1].from != s.to) && !(edge(s.from-1) && edge(s.to) && g.mentions("mediastinal", "pleural", "mediastinum")) {
		return nil
	}
	if g.is(s.from-1, "and") && strings.HasSuffix(g.wordAt(s.from-2), "ed") {
		return nil // "were flushed and left"
	}
	if edge(s.to) && edge(s.from-1) {
		return []sense{{kind: isVariety, item: kind, value: side + "-pleural"}}
	}
	for k := s.from - 1; k >= 0 && !g.is(k, "drain"); k-- { // nothing else since the noun
		if n := g.at[k]; n >= 0 && g.signs[n].content() && !g.signs[n].has(isUnit) && !g.ofKind(&g.signs[n], kind) {
			return nil
		}
	}
	if a, ok := g.amountAt(i + 1); ok && (a.units == nil || g.attributeFor(kind, a) != nil) {
		return []sense{{kind: isVariety, item: kind, value: side + "-pleural"}}
	}
	return nil
}

// readRoomAir reads "SpO2 92 RA": after a saturation the letters are room air.
func (g *segment) readRoomAir() {
	f := fieldAt(schema.LeavingInspiredOxygen)
	for k := 2; k < len(g.toks); k++ {
		if !g.is(k, "ra") || !g.numberAt(k-1) && !(g.is(k-1, "in", "on") && g.numberAt(k-2)) || k+1 < len(g.toks) && g.toks[k+1].kind != stop && !g.is(k+1, ",") || g.unrealAt(k) {
			continue
		}
		n := g.prevSign(k)
		for n >= 0 && (g.signs[n].num != nil || g.signs[n].has(isUnit)) && k-g.signs[n].to <= 3 {
			n--
		}
		if n < 0 || !slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.kind == namesField && x.field.Path == schema.LeavingSaturation }) {
			continue
		}
		g.claimField(f, "0.21", k, k+1, k, k+1)
		if m := g.at[k]; m >= 0 {
			g.signs[m].used = true
		}
	}
}

// readUninterrupted reads that nitric oxide must not be interrupted.
func (g *segment) readUninterrupted() {
	f := fieldAt(schema.VentilationNitricNoInterruption)
	if !g.inNote(f) || !g.mentions("nitric", "ino", "ppm", "no") {
		return
	}
	for k := 1; k < len(g.toks); k++ {
		if g.is(k, "interrupt", "interrupted") && (g.is(k-1, "not", "dont", "never") || g.is(k-2, "not", "dont", "never")) {
			g.claimField(f, "true", k-1, k+1, k-1, k+1)
			return
		}
	}
}

// ofKind tells whether a sign can name things of the kind, or is one of its
// attributes.
func (g *segment) ofKind(s *sign, kind *schema.ItemKind) bool {
	for _, x := range s.senses {
		if (x.kind == isItem || x.kind == isVariety || x.kind == isHead) && x.item == kind || x.field != nil && x.field.Section == kind.Name && x.field.Path.Section() == "items" {
			return true
		}
	}
	return false
}

// readLetters reads the pressures of stage 2 and 3 as they are jotted down: "G 13 /
// A 6 / TPG 7".
func (g *segment) readLetters() {
	caval, atrial := fieldAt(schema.Stage2CavalPressure), fieldAt(schema.Stage2AtrialPressure)
	switch g.lex.kind {
	case schema.Stage2:
	case schema.Stage3:
		caval, atrial = fieldAt(schema.Stage3ConduitPressure), fieldAt(schema.Stage3AtrialPressure)
	default:
		return
	}
	for k := 0; k+3 < len(g.toks); k++ {
		if !g.is(k, "g", "gp", "f", "fp", "svc", "glenn", "fontan", "caval", "pressure") || !g.numberAt(k+1) || !g.plainTalk(int(g.at[k+1])) {
			continue
		}
		a, _ := g.amountAt(int(g.at[k+1]))
		j := a.to
		over := g.is(j, "over")
		for g.is(j, "/", ",", "over") || over && g.is(j, "left", "right", "common", "an") {
			j++
		}
		if g.is(k, "pressure", "caval", "glenn", "fontan") && !over {
			continue
		}
		if a.units != nil || !g.is(j, "a", "la", "ca", "ra", "cap", "lap", "atrium", "atrial") || !g.numberAt(j+1) || !g.plainTalk(int(g.at[j+1])) {
			continue
		}
		b, _ := g.amountAt(int(g.at[j+1]))
		v, _, ok := fits(caval, a)
		w, _, ok2 := fits(atrial, b)
		if !ok || !ok2 || !usual(caval, g.lex.kind, v) {
			continue
		}
		g.claimField(caval, v, a.from, a.to, k, a.to)
		g.claimField(atrial, w, b.from, b.to, j, b.to)
		g.useAmount(a)
		g.useAmount(b)
		for _, t := range []int{k, j} {
			if m := g.at[t]; m >= 0 {
				g.signs[m].used = true
			}
		}
	}
}

// readCultures reads what was sent for culture: "tissue and fluid to microbiology".
func (g *segment) readCultures() {
	f := fieldAt(schema.BetweenCultures)
	if f == nil || !g.inNote(f) || !g.mentions("microbiology", "micro", "culture", "cultured", "sent", "lab") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, f)
		if v == "" || !g.plainTalk(i) || s.item {
			continue
		}
		sent := false
		for k := max(0, s.from-10); k < min(len(g.toks), s.to+7); k++ {
			if g.unrealAt(k) || k < s.from-6 && !g.is(k, "sent") {
				continue
			}
			sent = sent || g.is(k, "microbiology", "micro", "culture", "cultured") || k < s.from && g.is(k, "sent", "send")
		}
		for k := s.to; !sent && k < len(g.toks); k++ { // "swabs and tissue sent"
			if g.is(k, "sent") || g.is(k, "went", "gone") && g.is(k+1, "to", "for", "off") {
				sent = true
			} else if !g.is(k, "and", ",", "was", "were", "also", "both", "plus") && !(g.at[k] >= 0 && g.valueOf(&g.signs[g.at[k]], f) != "") {
				break
			}
		}
		if !sent {
			continue
		}
		g.claimField(f, v, s.from, s.to, s.from, s.to)
		s.used = true
	}
}

// drainBefore tells whether a drain is named before token k.
func (g *segment) drainBefore(k int) bool {
	for i := range g.signs {
		s := &g.signs[i]
		if s.to <= k && slices.ContainsFunc(s.senses, func(x sense) bool {
			return x.item != nil && x.item.Name == "drain" && (x.kind == isItem || x.kind == isVariety)
		}) {
			return true
		}
	}
	return false
}
