package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readItems finds what is left in the child.
func (g *segment) readItems() {
	things := g.findThings()
	if len(things) == 0 {
		g.readTwoAndTwo()
		g.readOfLast()
		return
	}
	g.resolveThings(things)
	g.headSize(things)
	g.sizesInOrder(things)
	out := g.listsWhatIsOut()
	for n := range things {
		t := &things[n]
		if t.of == nil || t.head < 0 && !t.full && g.is(t.to, "one") && g.goneSoon(t.to) {
			if g.is(t.to, "one") { // "the atrial ones were removed"
				for k := t.to; k < len(g.toks) && k < t.to+5; k++ {
					if g.is(k, "removed", "out", "pulled") {
						for _, o := range t.options {
							g.taken = append(g.taken, withdrawn{sense: o})
						}
						for i := range g.groups {
							x := &g.groups[i]
							x.gone = x.gone || slices.ContainsFunc(t.options, func(o sense) bool { return o.item == x.item && o.value == x.variety })
						}
						break
					}
				}
			}
			continue
		}
		limit := len(g.toks)
		for m := n + 1; m < len(things); m++ {
			if things[m].of != nil {
				limit = things[m].from
				break
			}
		}
		head := g.heading(t)
		things[n].gone = out || head == "out" && t.of != nil
		if head == "not in" && (t.head >= 0 || t.full) || g.is(0, "not") && g.is(1, "in", "placed", "used", "put") && g.is(2, ":") {
			g.signs[t.sign].scope |= denied // "Not in: left pleural drain, ..."
		}
		g.listThing(things, n, limit)
	}
	g.readTwoAndTwo()
}

// resolveThings decides what kind each thing is of: by its own noun, by the noun
// of the list it stands in, or by standing among its like.
func (g *segment) resolveThings(ts []thing) {
	for n := range ts {
		t := &ts[n]
		// its own noun
		i := t.sign + 1
		for i < len(g.signs) && (g.signs[i].is(filler) && !g.signs[i].content2()) {
			i++
		}
		if i < len(g.signs) && g.signs[i].from-t.to <= 1 && !g.crosses(t.to, g.signs[i].from) && g.signs[i].has(isHead) && !g.signs[i].used {
			if k := g.kindOfHead(t, i); k != nil {
				t.of, t.head = k, i
				t.plural = g.pluralAt(g.signs[i].to - 1)
				t.to = g.signs[i].to
				continue
			}
		}
		if t.full {
			t.of = g.pickFull(t)
			if t.of != nil {
				t.plural = g.pluralAt(t.to - 1)
				if h := g.nounOver(t); h >= 0 && t.of.Name == "drain" {
					g.sizeBeforeNoun(ts, n, t.of, h)
				}
			}
		}
	}
	g.ofTheNext(ts)
	for n := range ts { // the noun before the list, or its neighbour's kind
		t := &ts[n]
		if t.of != nil {
			continue
		}
		if k, h := g.headBefore(t); k != nil {
			t.of = k
			if g.signs[h].scope&denied != 0 && (h == 0 || g.signs[h-1].num == nil) && g.placeWords(g.signs[h].to, g.signs[t.sign].from) && (g.anyWithin(g.signs[h].to, g.signs[t.sign].from, "in") || g.is(g.signs[t.sign].from, "in")) {
				g.signs[t.sign].scope |= denied // "no central line in the neck"
			}
			g.sizeBeforeNoun(ts, n, k, h)
			continue
		}
		if g.ctx.head != 0 && g.listTalk(t) && n == 0 {
			for _, h := range g.lex.senses[g.ctx.head] {
				if h.kind == isHead && t.offers(h.item) && !ignored[h.item.Name] && t.of == nil {
					t.of = h.item
				}
			}
			if t.of != nil {
				continue
			}
		}
		if k := g.severalLumens(t); k != nil { // "left radial art line, left femoral triple lumen"
			t.of = k
			continue
		}
		if g.is(t.to, "one") && !g.numberAt(t.to) { // "no atrial wires, ... only two ventricular ones"
			for m := n - 1; m >= 0 && t.of == nil; m-- {
				if ts[m].of != nil && t.offers(ts[m].of) {
					t.of = ts[m].of
				}
			}
			if t.of != nil {
				continue
			}
		}
		if n > 0 && ts[n-1].of != nil && g.joinedLoosely(&ts[n-1], t) && t.offers(ts[n-1].of) {
			t.of = ts[n-1].of
			continue
		}
		t.of = g.standsAlone(t)
	}
	g.ofTheNext(ts)
	g.oneLine(ts)
	g.ofTheCircuit(ts)
	for n := range ts {
		t := &ts[n]
		if t.of == nil {
			continue
		}
		g.amountsBetween(ts, n)
		g.sizeOfAnother(ts, n)
		for _, o := range t.options {
			if o.item == t.of {
				t.varieties = append(t.varieties, strings.Split(o.value, "+")...)
				break
			}
		}
	}
}

// ofTheNext gives a thing without a noun the kind of the next in its list, where the noun
// may stand: "mediastinal and right pleural drains".
func (g *segment) ofTheNext(ts []thing) {
	for n := len(ts) - 2; n >= 0; n-- {
		if ts[n].of == nil && ts[n+1].of != nil && g.joined(ts[n].to, ts[n+1].from) && ts[n].offers(ts[n+1].of) {
			if k, h := g.headBefore(&ts[n]); k == ts[n+1].of {
				g.sizeBeforeNoun(ts, n, k, h) // "a twenty French drain in each pleura, a fifteen in the mediastinum"
			}
			ts[n].of = ts[n+1].of
		}
	}
}

// pluralAt tells whether token k is a plural as it was written.
func (g *segment) pluralAt(k int) bool {
	s := g.toks[k].span
	w := g.text[s.Start:s.End]
	return strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss")
}

func (t *thing) offers(k *schema.ItemKind) bool {
	return slices.ContainsFunc(t.options, func(s sense) bool { return s.item == k })
}

// kindOfHead is the kind that both the thing and the noun at sign i allow.
func (g *segment) kindOfHead(t *thing, i int) *schema.ItemKind {
	for _, h := range g.signs[i].senses {
		if h.kind == isHead && t.offers(h.item) && !ignored[h.item.Name] {
			return h.item
		}
	}
	return nil
}

// ignored are kinds of item that dictation does not list: what the repair says
// of an implant stands in fields of its own.
var ignored = map[string]bool{"implant": true, "drain-chamber": true}

// pickFull chooses among the kinds that a name with its noun may mean.
func (g *segment) pickFull(t *thing) *schema.ItemKind {
	var kinds []*schema.ItemKind
	for _, o := range t.options {
		if o.kind == isItem && !ignored[o.item.Name] && !slices.Contains(kinds, o.item) {
			kinds = append(kinds, o.item)
		}
	}
	if len(kinds) == 0 {
		return nil
	}
	if len(kinds) > 1 {
		for _, a := range t.amounts {
			for _, k := range kinds {
				if g.attributeFor(k, a) != nil && a.units != nil {
					return k
				}
			}
		}
	}
	return kinds[0]
}

// joined tells whether tokens a..b hold nothing but what joins a list.
func (g *segment) joined(a, b int) bool {
	for k := a; k < b; k++ {
		switch g.toks[k].text {
		case "and", ",", "+", "plus", "or", "with", "a", "an", "also", "as", "well", "one", "two", "nor", "the":
		default:
			n := g.at[k]
			if n >= 0 && (g.signs[n].is(filler) || g.signs[n].is(denies) || g.signs[n].has(isUnit) || g.signs[n].num != nil || g.signs[n].is(both) || g.signs[n].is(each)) {
				continue
			}
			return false
		}
	}
	return true
}

// joinedLoosely allows the attributes of the thing before.
func (g *segment) joinedLoosely(p, t *thing) bool {
	for k := p.to; k < t.from; k++ {
		n := g.at[k]
		if n >= 0 && (g.signs[n].is(arrives) || g.signs[n].is(turns) || g.signs[n].has(namesField) && !g.itemAttribute(p.of, int(n)) && !g.signs[n].has(isUnit)) {
			return false
		}
	}
	return t.from-p.to <= 9 || p.of.Name == "support-cannula" && t.from-p.to <= 14
}

func (g *segment) itemAttribute(k *schema.ItemKind, n int) bool {
	for _, s := range g.signs[n].senses {
		if s.field != nil && s.field.Section == k.Name {
			return true
		}
	}
	return false
}

// headBefore is the kind of a noun that a list follows: "drains: mediastinal 12".
func (g *segment) headBefore(t *thing) (*schema.ItemKind, int) {
	k := t.from
	for n := g.prevSign(k); n >= 0 && k-g.signs[n].to <= 5 && !g.crossesStop(g.signs[n].to, k); n = n - 1 {
		s := &g.signs[n]
		if s.has(isHead) {
			for _, h := range s.senses {
				if h.kind == isHead && t.offers(h.item) && !ignored[h.item.Name] {
					return h.item, n
				}
			}
			return nil, -1
		}
		if !(s.num != nil || s.is(filler) || s.is(both) || s.has(isUnit) || g.within(s, "still", "in", "into", "remain", "stay", "left", "none", "nil") || s.is(rightSide) || s.is(leftSide) || s.is(both)) {
			return nil, -1
		}
		k = s.from
	}
	return nil, -1
}

// prevSign is the sign before token k, or -1.
func (g *segment) prevSign(k int) int {
	for k--; k >= 0; k-- {
		if n := g.at[k]; n >= 0 {
			return int(n)
		}
	}
	return -1
}

// nextSign is the sign at or after token k, or len(signs).
func (g *segment) nextSign(k int) int {
	for ; k < len(g.toks); k++ {
		if n := g.at[k]; n >= 0 {
			return int(n)
		}
	}
	return len(g.signs)
}

// standsAlone is the kind of a variety without any noun, where its side, size or
// wording leaves no doubt: "right radial 22 gauge", "both pleurals".
func (g *segment) standsAlone(t *thing) *schema.ItemKind {
	var kinds []*schema.ItemKind
	for _, o := range t.options {
		if o.item.Name == "support-cannula" && g.lex.kind != schema.SupportOn && g.lex.kind != schema.SupportOff {
			continue
		}
		if !ignored[o.item.Name] && !slices.Contains(kinds, o.item) {
			kinds = append(kinds, o.item)
		}
	}
	for _, a := range t.amounts {
		if len(kinds) > 0 && kinds[0].Name == "support-cannula" && g.cannulaSize(t, a) {
			return kinds[0] // "8 arterial, 10 venous"
		}
	}
	side, to := g.sideEnd(t.to)
	after := g.amountsAfter(g.linkEnd(to))
	for _, k := range kinds {
		for _, a := range append(slices.Clone(t.amounts), after...) {
			if f := g.attributeFor(k, a); f != nil && a.units != nil && (f.Unit == "[Ch]" || f.Unit == "{gauge}" || f.Name == "size") {
				return k
			}
		}
	}
	for n := g.nextSign(t.to); n < len(g.signs) && g.signs[n].from-t.to <= 2; n++ {
		if g.lumensAt(n) > 0 {
			for _, k := range kinds {
				if k.Field("lumenCount") != nil {
					return k
				}
			}
		}
	}
	if t.lumens > 0 {
		for _, k := range kinds {
			if k.Field("lumenCount") != nil {
				return k
			}
		}
	}
	if len(t.sides) > 0 && t.options[0].value != "pulmonary-artery" && len(kinds) > 0 && kinds[0].Group == "lines" && (t.to >= len(g.toks) || g.toks[t.to].kind == stop || g.is(t.to, ",", "and", "stay", "remain", "unchanged", "kept") || g.is(t.to, "went", "was", "is") && g.is(t.to+1, "in", "placed", "sited", "inserted") || g.is(t.to, "in") && (g.ends(t.to+1) || g.is(t.to+1, "at", "first", "second")) || g.at[t.to] >= 0 && g.signs[g.at[t.to]].used) && (g.listTalk(t) || g.hasBefore(t.from)) {
		return kinds[0]
	}
	if side != "" && g.jugularSized(t, kinds, after) {
		return kinds[0]
	}
	if len(t.sides) == 1 || side != "" { // "left radial twenty two", "radial on the right is a twenty-two"
		for _, k := range kinds {
			for _, a := range after {
				if f := g.attributeFor(k, a); k.Name == "arterial-line" && a.units == nil && f != nil && f.Name == "gauge" && (a.from-t.to <= 1 || a.from-g.linkEnd(to) <= 1 && g.listTalk(t)) {
					return k
				}
			}
		}
	}
	if len(kinds) > 0 && kinds[0].Name == "arterial-line" && g.is(g.signs[t.sign].from, "radial", "brachial", "ulnar") && g.is(t.from-1, "a", "an", "the", "one", "another") && t.to-g.signs[t.sign].from == 1 && (side != "" || g.limbAfter(t.to)) {
		return kinds[0] // "a radial in the right wrist"
	}
	if len(kinds) == 1 && kinds[0].Name == "drain" && g.is(t.to, "was", "is", "had") && g.is(t.to+1, "blocked", "clotted", "swapped", "exchanged", "changed", "kinked", "dry") {
		return kinds[0] // "the mediastinal was blocked"
	}
	if len(kinds) == 1 && kinds[0].Name == "drain" && t.definite && g.is(t.to, "i", "we") && exchangeWords[g.wordAt(t.to+1)] {
		return kinds[0] // "the mediastinal I changed"
	}
	if k := g.pacedAgain(t, kinds); k != nil {
		return k
	}
	if g.signs[t.sign].scope&denied != 0 && len(kinds) > 0 && g.listTalk(t) && (kinds[0].Name == "intracardiac-line" && g.is(t.to, ":", ",") || kinds[0].Name == "arterial-line" && len(t.sides) > 0) {
		return kinds[0] // "Left atrial: not placed."
	}
	if len(kinds) == 1 && kinds[0].Name == "drain" && g.listTalk(t) && !g.mentions("pack", "swab") && g.keptOrListed(t.to) {
		return kinds[0] // "mediastinal stays"
	}
	if g.signs[t.sign].scope&denied != 0 && (t.to >= len(g.toks) || g.toks[t.to].kind == stop || g.is(t.to, ",", "none")) && g.listTalk(t) && (g.ctx.last == "pacing-wires" || g.mentions("wire")) {
		for _, k := range kinds {
			if k.Name == "pacing-wires" {
				return k // "Two ventricular wires; no atrial."
			}
		}
	}
	headed := t.count > 0 && g.is(0, "pacing", "pacer") && g.is(1, ",", ":") // "Pacing: two atrial, two ventricular."
	if headed || g.ctx.last == "pacing-wires" || g.mentions("wire") {        // "ventricular threshold 0.8"
		for _, k := range kinds {
			if n := g.nextSign(t.to); k.Name == "pacing-wires" && (headed || g.pluralAt(t.to-1) || n < len(g.signs) && g.signs[n].from == t.to && g.namesAttribute(k, n) && g.listTalk(t)) {
				return k // or "the atrials came away"
			}
		}
	}
	if len(kinds) == 1 && kinds[0].Name == "drain" && g.signs[t.sign].scope&denied != 0 && (g.listTalk(t) || g.mentions("drain")) {
		return kinds[0] // "Pleurals none."
	}
	if len(kinds) == 1 && kinds[0].Name == "drain" && (g.mentions("drain", "suction") || g.ctx.last == "drain" || t.fresh || g.mentions("tube") && g.mentions("pleural")) {
		for _, a := range after { // "and so is the right pleural, a ten"
			if f := g.attributeFor(kinds[0], a); f != nil && f.Name == "size" {
				return kinds[0]
			}
		}
	}
	for _, k := range kinds { // "right pleural 12": no unit, but in a list
		if k.Name != "drain" && k.Name != "gut-and-bladder" && k.Name != "arterial-line" || len(kinds) > 1 {
			break
		}
		for _, a := range after {
			if f := g.attributeFor(k, a); f != nil && a.units == nil && g.listTalk(t) {
				return k
			}
		}
	}
	if len(kinds) == 1 && (g.is(g.signs[t.sign].from, "broviac", "hickman", "nasogastric", "orogastric", "epidural", "paravertebral") && !g.is(t.to, "feed", "feeding", "aspirate", "space") || kinds[0].Name == "gut-and-bladder" && (g.anyWithin(t.to, t.to+5, "nostril") || g.anyWithin(t.to, t.to+5, "nose")) || g.oneOfLast(t, kinds[0])) {
		return kinds[0]
	}
	if v := t.options[0].value; (v == "gastrostomy" || v == "jejunostomy" || v == "suprapubic-catheter") && len(kinds) == 1 && (g.is(t.from-1, "a", "the", "has", "her", "his") || g.is(t.sign-1, "has") || t.sign+1 < len(g.signs) && g.signs[t.sign+1].from == t.to && g.listTalk(t) && g.givesAttribute(kinds[0], t.sign+1)) {
		return kinds[0] // a tube named by its place
	}
	if len(t.sides) > 0 && t.options[0].value == "pulmonary-artery" {
		return nil // the left pulmonary artery is a vessel
	}
	if t.through && len(kinds) > 0 && g.drugBefore(t) {
		for _, k := range kinds {
			if k.Group == "lines" {
				return k
			}
		}
	}
	if g.pluralAt(t.to-1) && len(kinds) == 1 && kinds[0].Group != "lines" && (len(t.sides) > 0 || t.count > 0) {
		return kinds[0]
	}
	return nil
}

// limbAfter tells whether a limb with its side stands right after token k: "in the
// right wrist".
func (g *segment) limbAfter(k int) bool {
	for g.is(k, "in", "at", "on", "the", "her", "his") {
		k++
	}
	return k < len(g.toks) && g.at[k] >= 0 && g.limbSide(&g.signs[g.at[k]]) != ""
}

// pacedAgain is the kind of pacing wires where a chamber is counted in a sentence that
// goes on with the wires before: "Atrial wires two; ventricular two."
func (g *segment) pacedAgain(t *thing, kinds []*schema.ItemKind) *schema.ItemKind {
	if g.ctx.last != "pacing-wires" && !g.mentions("wire") || !g.listTalk(t) && !g.is(t.from-1, "added", "placed", "put") && !(g.is(t.from-1, "in") && g.is(t.from-2, "put")) || g.mentions("line", "pressure", "sternal", "paced", "rate", "output") {
		return nil
	}
	counted := t.count > 0
	if !counted && g.numberAt(t.to) {
		a, ok := g.amountAt(int(g.at[t.to]))
		counted = ok && a.units == nil && smallCount(a.decimal) > 0
	}
	for _, k := range kinds {
		if k.Name == "pacing-wires" && counted {
			return k
		}
	}
	return nil
}

// drugBefore tells whether an infusion is named before the thing.
func (g *segment) drugBefore(t *thing) bool {
	for i := 0; i < t.sign; i++ {
		if g.drugAt(i) != "" {
			return true
		}
	}
	return false
}

// listTalk tells whether a thing begins its sentence, or follows another in a
// list: there its side and its name are enough.
func (g *segment) listTalk(t *thing) bool {
	k := t.from
	if k > 0 && g.is(k-1, "no") {
		k--
	}
	return k == 0 || g.toks[k-1].kind == stop || g.is(k-1, ",", "and", "but", ":", "a", "also", "plus", "with")
}

// countedApart tells whether the next thing is one known already, named after a comma
// beside a counted one: "two ventricular wires, the atrial ones are dead and I cut them".
func (g *segment) countedApart(t, next *thing) bool {
	return t.count > 0 && t.of == next.of && next.definite && !g.anyWithin(t.to, next.from, "and", "or")
}

// attributeFor is the attribute of a kind of item that an amount can be: by its
// unit, or, without one, by the only size the kind has.
func (g *segment) attributeFor(k *schema.ItemKind, a amount) *schema.Field {
	var best *schema.Field
	for _, f := range k.Fields {
		if !f.Numeric() || unsaid[f.Name] || f.Unit == "" {
			continue
		}
		if a.units == nil {
			if k.Name == "intracardiac-line" {
				continue // a bare number is as often its mark or its pressure
			}
			if f.Name == "size" || f.Name == "gauge" || f.Name == "french" {
				if v, _, ok := fits(f, a); ok && (f.Name != "french" || usual(f, g.lex.kind, v)) {
					return f
				}
			}
			continue
		}
		if _, exact, ok := fits(f, a); ok && exact && best == nil {
			best = f
		}
	}
	return best
}

// opened tells whether what stands before token k is told to have been opened, or not:
// it is a space, and no drain.
func (g *segment) opened(k int) bool {
	for g.is(k, "was", "is", "were", "wasnt", "not", "never", "been", "also", "left") {
		k++
	}
	return g.is(k, "opened", "entered", "breached", "intact", "unopened") || g.is(k, "open", "closed") && g.is(k-1, "was", "is", "not", "left")
}

// listThing makes the groups and claims of one thing, reading its attributes up
// to token limit.
func (g *segment) listThing(ts []thing, n, limit int) {
	t := &ts[n]
	s := &g.signs[t.sign]
	sc := s.scope
	if g.nounOnly(t) && n+1 < len(ts) && ts[n+1].of == t.of && sc&denied == 0 && (t.plural || g.pluralAt(t.to-1)) && !g.is(t.to, "and", "plus", "+", "with", "as") {
		return // "chest drains: mediastinal and right pleural"
	}
	if strings.HasSuffix(t.of.Name, "-probe") && n < len(ts) {
		// "NIRS 70 and 72" is a reading, not a probe
		i := g.nextSign(t.to)
		if i+1 < len(g.signs) && g.sideOf(&g.signs[i]) != "" && g.signs[i+1].from == g.signs[i].to && g.signs[i].from-t.to <= 1 {
			i++ // "NIRS R 62 L 58"
		}
		if i < len(g.signs) && g.signs[i].num != nil && g.signs[i].from-t.to <= 3 {
			if n := &g.signs[i]; smallCount(n.num.decimal) == 0 || smallCount(n.num.decimal) > 3 || n.to < len(g.toks) && g.toks[n.to].kind != stop && !g.is(n.to, ",", "probe", "pad", "cerebral", "somatic") {
				return
			}
		}
	}
	if t.head >= 0 {
		sc |= g.signs[t.head].scope & unreal
		if g.signs[t.head].scope&denied != 0 && sc&denied == 0 && g.signs[t.head].from == s.to {
			sc |= denied
		}
	}
	if t.of.Name == "support-cannula" && g.lex.kind != schema.SupportOn && g.lex.kind != schema.SupportOff && !g.mentions("ecmo", "support", "vad") {
		return // a bypass cannula is out again by the end
	}
	if sc&denied != 0 && (t.fresh || t.again) {
		s.used = true
		return // "a new drain was not needed" says nothing of the old one
	}
	if t.of.Name == "drain" && t.head < 0 && g.opened(t.to) || g.vesselTold(t) {
		return // "the left pleural was not opened"
	}
	if g.is(t.to, ":") && g.is(t.to+1, "no", "nil") && sc&unreal == 0 && t.to+2 < len(g.toks) && g.at[t.to+2] >= 0 && g.signs[g.at[t.to+2]].has(isHead) {
		sc |= denied // "Femoral veins: no lines"
	}
	became := stays
	a, to := g.exchangedFor(t, limit)
	if a == nil {
		if became = g.fateOf(t, limit); g.onlyOneLost(t) {
			became = stays // "I took one out, the other is still there"
		} else if became == absent && sc&unreal&^(intended|weighed) == 0 {
			sc = sc&^unreal | denied // wanted or not, it never went in
		}
	} else if sc&denied == 0 {
		sc &^= formerly | past
		t.amounts = []amount{*a}
		for i := g.nextSign(t.to); i < len(g.signs) && g.signs[i].from < to; i++ {
			if i != a.sign && i != a.unitSign {
				g.signs[i].used = true
			}
		}
	}
	if sc&(past|formerly) != 0 && sc&unreal&^(past|formerly) == 0 && sc&denied == 0 && became == stays && g.isKept(t) {
		sc &^= past | formerly
		g.keep(t, limit)
	}
	if sc&unreal == intended && sc&denied == 0 && g.willComeOut(t) {
		sc &^= intended
	}
	if sc&unreal != 0 {
		if g.outSince(t, limit) {
			g.withdraw(t)
		}
		for i := t.sign; i < len(g.signs) && g.signs[i].from < t.to; i++ {
			g.signs[i].used = true
		}
		for _, a := range t.amounts {
			g.signs[a.sign].used = true
		}
		return
	}
	if t.gone || !g.onlyOneLost(t) && (sc&denied == 0 && (became == gone || a == nil && g.takenOut(t, limit)) || n+1 < len(ts) && ts[n+1].of != nil && g.joined(t.to, ts[n+1].from) && !g.anyWithin(t.to, ts[n+1].from, "no") && !g.unitBetween(t.to, ts[n+1].from) && !g.countedApart(t, &ts[n+1]) && g.takenOut(&ts[n+1], len(g.toks)) || n > 0 && ts[n-1].gone && (g.joined(ts[n-1].to, t.from) || g.goneWith(ts[n-1].to, t.from))) {
		t.gone, s.used = true, true
		g.withdraw(t)
		if f := fieldAt(schema.RemovalsPacksRetrieved); t.count > 0 && len(t.varieties) > 0 && (t.varieties[0] == "packs" || t.varieties[0] == "swabs") && g.inNote(f) && sc&denied == 0 {
			g.claimField(f, itoa(int64(t.count)), t.from, t.to, t.from, t.to)
			for _, a := range t.amounts {
				g.useAmount(a)
			}
		}
		for i := g.nextSign(t.from); i < len(g.signs) && g.signs[i].from < t.to; i++ {
			g.signs[i].used = true
		}
		return
	}
	kind := t.of
	var variety, side []string
	for _, v := range t.varieties {
		rest, sided := strings.CutPrefix(v, "*-")
		if !sided {
			variety, side = append(variety, v), append(side, "")
			continue
		}
		sides := t.sides
		if len(sides) == 0 {
			sides = g.sideAfter(t.to, limit)
		}
		if len(sides) == 0 && (t.count == 2 || t.count == 0 && (t.plural || sc&denied != 0 && (g.pluralAt(t.to-1) || kind.Name == "drain" && (g.is(t.to-1, "drain", "tube") || t.to >= len(g.toks) || g.toks[t.to].kind == stop) || g.is(t.to, "none", "nil") || g.is(t.to, ":") && g.is(t.to+1, "none", "nil")))) {
			sides = []string{"right", "left"} // "two pleural drains", "no pleural drain"
			if w := g.sideDenied(t.to); w != "" && sc&denied == 0 {
				sides = slices.DeleteFunc(sides, func(x string) bool { return x == w })
				g.newThings(t, kind, []string{w + "-" + rest}, []string{""}, 1, denied)
			}
		}
		for _, w := range sides {
			variety, side = append(variety, w+"-"+rest), append(side, "")
		}
	}
	if len(variety) == 0 {
		return
	}
	if variety[0] == "packs" && t.count == 0 && g.lex.kind == schema.Closure && g.is(t.to, ":") {
		return // a line of the closure's list: they came out
	}
	if f := fieldAt(schema.CountsPacksLeft); sc&denied != 0 && (variety[0] == "packs" || variety[0] == "swabs") && g.inNote(f) {
		c := g.claimField(f, "", g.signs[t.sign].from, g.signs[t.sign].to, t.from, t.to)
		c.stated = schema.StatedNone // no packs is a count too
		for i := range g.groups {    // "two packs, wait, no packs"
			if x := &g.groups[i]; x.item == t.of && x.variety == variety[0] {
				x.gone = true
			}
		}
		gi := g.newGroup("items", t.from, t.to)
		g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, variety[0], true
		g.claimIn(gi, kind.Field("variety"), variety[0], s.from, s.to, t.from, t.to)
		s.used = true
		return
	}
	sidedVariety := strings.HasPrefix(t.varieties[0], "*-")
	if noSides[kind.Name] {
		if len(t.sides) == 2 {
			t.definite = true
			if kind.Name == "pacing-wires" && t.count == 0 && t.plural && (n+1 == len(ts) || len(ts[n+1].sides) == 2 || !g.joined(t.to, ts[n+1].from)) {
				t.count = 2 // "both ventricular wires"
			}
		}
		t.sides = nil
	}
	if !sidedVariety && len(t.sides) == 2 && len(variety) == 1 {
		variety, side = []string{variety[0], variety[0]}, []string{"right", "left"}
		if t.count == 2 {
			t.count = 0
		}
	} else if !sidedVariety && len(t.sides) == 1 {
		for i := range side {
			side[i] = t.sides[0]
		}
	}
	counted := kind.Field("count")
	if counted == nil && t.count == 0 {
		g.countAfter(t, kind)
	}
	copies := 1
	if counted == nil && t.count > 1 && t.count <= 4 && len(variety) == 1 {
		copies = t.count
	}
	// what is said after it
	attrs := g.outputElsewhere(ts, n, copies, g.attributesOf(t, kind, limit))
	lists := g.newThings(t, kind, variety, side, copies, sc)
	if sc&denied == 0 {
		attrs = g.sizesEach(t, lists, attrs, limit, copies)
	}
	for _, gi := range lists {
		for _, c := range attrs {
			c.group = gi
			if t.of != nil && (sc&denied != 0) {
				continue
			}
			g.claims = append(g.claims, c)
		}
		if counted != nil && t.count > 0 && sc&denied == 0 && !(t.count == 1 && variety[0] == "membrane") {
			g.claimIn(gi, counted, itoa(int64(t.count)), t.from, t.to, t.from, t.to)
		}
		if f := kind.Field("lumenCount"); f != nil && t.lumens > 0 && sc&denied == 0 {
			g.claimIn(gi, f, itoa(int64(t.lumens)), t.from, t.to, t.from, t.to)
		}
	}
	for i := g.nextSign(t.from); i < len(g.signs) && g.signs[i].from < t.to; i++ {
		g.signs[i].used, g.signs[i].item = true, true
	}
	g.shareBackward(ts, n, lists, attrs)
}
