package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// changes are the words between two values of one thing, or beside the second,
// that make the second the one to keep: "eighteen until we flushed it, thirteen
// after".
var changes = wordSet("settled settling now since later put zeroed rezeroed after afterwards once came fell")

// readLaterPressure reads the pressure of the stage's own connection that was said
// twice: "the Glenn read eighteen until the line was flushed, and thirteen after".
func (g *segment) readLaterPressure() {
	for i := range g.signs {
		s := &g.signs[i]
		path := g.connectionPressure(i)
		if path == "" || s.used || s.scope&(calling|aiming|intended|hearsay) != 0 {
			continue
		}
		f := fieldAt(path)
		first, last := -1, -1
		for j := i + 1; j < len(g.signs) && g.signs[j].from-s.to <= 22; j++ {
			p := &g.signs[j]
			if p.is(calls) || p.is(targets) || p.is(corrects) || j > i && g.otherNumber(j, path) && !g.is(p.from, "drained") {
				break
			}
			if p.num == nil || p.used || g.is(p.to, "in") && g.is(p.to+1, "the") {
				continue
			}
			a, _ := g.amountAt(j)
			if _, _, ok := fits(f, a); !ok || a.clock != "" && a.decimal == "" || a.units != nil && !slices.Contains(a.units, "mm[Hg]") {
				break
			}
			if first < 0 {
				if p.from-s.to > 6 {
					break
				}
				first = j
			} else if g.changedBeside(g.signs[first].to, a) {
				last = j
			}
		}
		if last < 0 || g.signs[last].scope&(calling|aiming|denied) != 0 || g.mentions("if", "unless", "should") {
			continue
		}
		a, _ := g.amountAt(last)
		v, _, _ := fits(f, a)
		g.claimField(f, v, a.from, a.to, s.from, a.to)
		g.signs[first].used = true
		g.useAmount(a)
		s.used = true
	}
}

// connectionPressure is the field of stage 2 or 3 that sign i names, where it is the
// pressure in the connection itself.
func (g *segment) connectionPressure(i int) schema.Path {
	for _, x := range g.signs[i].senses {
		if x.kind == namesField && (x.field.Path == schema.Stage2CavalPressure || x.field.Path == schema.Stage3ConduitPressure) {
			return x.field.Path
		}
	}
	if p := stagePressure[g.lex.kind][g.pressureAt(i)]; p == schema.Stage2CavalPressure || p == schema.Stage3ConduitPressure {
		return p
	}
	return ""
}

// otherNumber tells whether sign j names a number of its own, other than that of
// the path.
func (g *segment) otherNumber(j int, path schema.Path) bool {
	s := &g.signs[j]
	if p := g.pressureAt(j); p != "" && stagePressure[g.lex.kind][p] != path {
		return true
	}
	for _, x := range s.senses {
		if x.kind == namesField && x.field.Numeric() && x.field.Path.List() == "" && x.field.Path != path && (x.field.Unit == "mm[Hg]" || x.field.Section == "leaving") && g.connectionPressure(j) == "" {
			return true
		}
	}
	return false
}

// changedBeside tells whether a word of change stands before an amount, after token
// from, or right after it.
func (g *segment) changedBeside(from int, a amount) bool {
	for k := max(from, a.from-5); k < a.from; k++ {
		if changes[g.toks[k].text] {
			return true
		}
	}
	if g.is(a.from-1, "was", "is", "at") && g.is(a.from-2, "it") && g.anyWithin(max(from, a.from-11), a.from, "once", "after", "with") {
		return true // "once the left chest was drained it was twelve"
	}
	return changes[g.wordAt(a.to)]
}

// shuntVessels are the arteries that a systemic shunt leaves.
var shuntVessels = map[string]bool{"innominate-artery": true, "subclavian-artery": true}

// readUnnamedShunt reads a shunt that only its ends and its size name: "a three and
// a half Gore-Tex, innominate to right PA".
func (g *segment) readUnnamedShunt() {
	kind, size := fieldAt(schema.SupplyKind), fieldAt(schema.SupplyShuntDiameter)
	from, to := fieldAt(schema.SupplyFrom), fieldAt(schema.SupplyTo)
	if !g.inNote(kind) || g.mentions("cannulated", "cannulation", "cannula", "inflow", "perfusion", "band", "banded") {
		return
	}
	for i := range g.signs {
		a := &g.signs[i]
		if !shuntVessels[g.valueOf(a, from)] || !g.plainTalk(i) || a.item {
			continue
		}
		for j := i + 1; j < len(g.signs) && j <= i+3; j++ {
			b := &g.signs[j]
			v := g.valueOf(b, to)
			if v != "right-pulmonary-artery" && v != "left-pulmonary-artery" || !g.plainTalk(j) || b.from-a.to > 4 || g.crossesStop(a.to, b.from) {
				continue
			}
			for n := range g.signs {
				if g.signs[n].num == nil || !g.plainTalk(n) || g.crossesStop(min(g.signs[n].to, b.to), max(g.signs[n].from, a.from)) {
					continue
				}
				x, _ := g.amountAt(n)
				d, _, ok := fits(size, x)
				if !ok || !usual(size, g.lex.kind, d) || x.units != nil && !slices.Contains(x.units, "mm") || x.from-b.to > 4 || a.from-x.to > 8 || x.from > a.to && x.to < b.from {
					continue
				}
				g.claimField(size, d, x.from, x.to, x.from, x.to)
				g.useAmount(x)
				g.claimField(from, g.valueOf(a, from), a.from, a.to, a.from, b.to)
				g.claimField(to, v, b.from, b.to, a.from, b.to)
				a.used, b.used = true, true
				if g.ctx.supply == "" || g.ctx.supply == "modified-blalock-taussig-thomas" {
					g.claimField(kind, "modified-blalock-taussig-thomas", a.from, b.to, x.from, b.to)
				}
				return
			}
		}
	}
}

// sizeVerbs are the words before the size of the shunt put in.
var sizeVerbs = wordSet("used upsized downsized swapped changed exchanged replaced went")

// readShuntPutIn reads the size of the shunt that was put in where another, or one
// that was only wanted, is told of as well: "three and a half out, four in", "changed
// for a four".
func (g *segment) readShuntPutIn() {
	size, done := fieldAt(schema.SupplyShuntDiameter), fieldAt(schema.BetweenShuntDone)
	if g.lex.kind != schema.ShuntRevision && !(g.inNote(size) && g.mentions("shunt", "btt", "bt")) || g.mentions("band", "patch", "conduit", "sano") {
		return
	}
	old, fresh := -1, -1
	for i := range g.signs {
		p := &g.signs[i]
		if p.num == nil || p.used || p.scope&(denied|intended|calling|aiming|hearsay) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		v, _, ok := fits(size, a)
		if !ok || !usual(size, g.lex.kind, v) || a.units != nil && !slices.Contains(a.units, "mm") {
			continue
		}
		k := a.from - 1
		for g.is(k, "a", "an", "the", "new", "fresh", "bigger", "larger", "smaller") {
			k--
		}
		verb := g.is(k, "for", "to", "with") && (sizeVerbs[g.wordAt(k-1)] || g.is(k-1, "up", "down", "it", "shunt") && sizeVerbs[g.wordAt(k-2)]) || g.is(k, "used")
		switch {
		case g.is(a.to, "out", "removed"), g.is(a.to, "taken", "came") && g.is(a.to+1, "out"), g.oldShuntAt(k, a):
			old = i
		case g.is(a.to, "in") && !g.is(a.to+1, "the", "a"), g.is(a.to, "put", "went") && g.is(a.to+1, "in"), verb, g.newShuntAt(k, a):
			fresh = i
		case g.is(a.from-1, "from"), g.is(k+1, "the") && (sizeVerbs[g.wordAt(k)] && g.is(a.to, "for", "with", "shunt") || g.is(k, "from")):
			old = i // "swapped the three and a half for a four"
		case g.is(k, "for", "with") && old >= 0 && k-g.signs[old].to <= 2:
			fresh = i
		}
	}
	if fresh < 0 {
		return
	}
	a, _ := g.amountAt(fresh)
	v, _, _ := fits(size, a)
	c := g.claimField(size, v, a.from, a.to, a.from, a.to)
	c.leaving = c.leaving || g.lex.kind == schema.ShuntRevision // whatever the shunt was before
	g.useAmount(a)
	if old < 0 {
		return
	}
	b, _ := g.amountAt(old)
	g.useAmount(b)
	w, _, _ := fits(size, b)
	x, err := strconv.ParseFloat(v, 64)
	y, err2 := strconv.ParseFloat(w, 64)
	if err != nil || err2 != nil || !g.inNote(done) || slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == done && c.value != "clot-removed" }) || g.mentions("upsized", "downsized") {
		return
	}
	how := "replaced"
	if x > y {
		how = "upsized"
	} else if x < y {
		how = "downsized"
	}
	g.claimField(done, how, a.from, a.to, min(a.from, b.from), max(a.to, b.to))
}

// oldShuntAt tells whether the size a, with no article before it from token k back, is called
// that of the shunt before: "the old three and a half", "the old one was a four", "the three
// and a half she had".
func (g *segment) oldShuntAt(k int, a amount) bool {
	for g.is(k, "was", "one", "shunt", ",", "is") {
		k--
	}
	return g.is(k, "old", "previous", "original") || g.is(a.from-1, "old", "previous", "original") || g.is(a.to, "he", "she") && g.is(a.to+1, "had") || g.is(a.to, "was") && g.is(a.to+1, "clotted", "blocked", "occluded", "too")
}

// newShuntAt tells whether the size a, with no article before it from token k back, is called
// that of the shunt put in now: "put in a four", "the new one is a four", "it's now a three
// and a half", "four, up from three and a half".
func (g *segment) newShuntAt(k int, a amount) bool {
	t := a.to
	if g.is(t, ",") {
		t++
	}
	if g.is(t, "up", "down") && g.is(t+1, "from") {
		return true
	}
	if g.is(k, "in") && g.is(k-1, "put", "sewed", "sewn", "went") {
		return true
	}
	for g.is(k, "is", "was", "one", "in", ",", "shunt", "also") {
		k--
	}
	return g.is(k, "new", "fresh") || g.is(k, "now") && (k == 0 || g.is(k-1, "it", "its", "shunt") || g.is(k-1, "is") && g.is(k-2, "it", "shunt", "that", "this")) || g.is(k+1, "new", "fresh") || g.is(a.from-1, "new", "fresh")
}

// readBehindSternum reads what lies nearest behind the sternum and how far: "on the
// CT the aorta was six millimetres off the bone".
func (g *segment) readBehindSternum() {
	nearest, distance := fieldAt(schema.ApproachNearestStructure), fieldAt(schema.ApproachImagingDistance)
	method := fieldAt(schema.ApproachImagingMethod)
	if !g.inNote(nearest) || !g.mentions("sternum", "bone", "sternal", "breastbone", "nearest", "closest") {
		return
	}
	said := g.mentions("nearest", "closest")
	if !said && g.mentions("pack", "swab", "membrane", "gauze", "sheet", "patch") {
		return // of what was left there
	}
	for i := range g.signs {
		if g.signs[i].num == nil || !g.plainTalk(i) {
			continue
		}
		a, _ := g.amountAt(i)
		v, _, ok := fits(distance, a)
		mm := slices.Contains(a.units, "mm")
		if !ok || !mm && (a.units != nil || !said && !g.is(a.to, "behind", "off", "from", "deep", "under")) {
			continue
		}
		best, gap := -1, 9
		for j := range g.signs {
			s := &g.signs[j]
			if g.valueOf(s, nearest) == "" || s.used || s.scope&(denied|intended|hearsay) != 0 || g.valueOf(s, nearest) == "none-near" {
				continue
			}
			d := a.from - s.to
			if s.from >= a.to {
				d = s.from - a.to
			}
			if d >= 0 && d < gap && !g.crossesStop(min(s.to, a.to), max(s.from, a.from)) {
				best, gap = j, d
			}
		}
		if best < 0 {
			continue
		}
		s := &g.signs[best]
		g.claimField(nearest, g.valueOf(s, nearest), s.from, s.to, min(s.from, a.from), max(s.to, a.to))
		g.claimField(distance, v, a.from, a.to, min(s.from, a.from), max(s.to, a.to))
		s.used = true
		g.useAmount(a)
		for j := range g.signs {
			if m := g.valueOf(&g.signs[j], method); (m == "ct" || m == "mr") && g.plainTalk(j) {
				g.claimField(method, m, g.signs[j].from, g.signs[j].to, g.signs[j].from, g.signs[j].to)
				g.signs[j].used = true
				break
			}
		}
		return
	}
}

// patchedBy are fields that say what was patched, and the field that says with what.
var patchedBy = map[schema.Path]schema.Path{
	schema.Stage2EnlargementMaterial: schema.Stage2Enlargement,
	schema.Stage3EnlargementMaterial: schema.Stage3Enlargement,
	schema.Stage1BranchMaterial:      schema.Stage1BranchWork,
	schema.Stage1StumpPatch:          schema.Stage1PulmonaryStump,
}

// widened tells whether a phrase says that something was enlarged or patched, and
// not only where.
func widened(toks []token) bool {
	return slices.ContainsFunc(toks, func(t token) bool { return widens[t.text] })
}

// blockedReason takes from a shunt found blocked that this is why it was revised,
// where no reason is told.
func (s *settling) blockedReason() {
	if s.reading.Kind != schema.ShuntRevision {
		return
	}
	var found *Proposal
	for _, p := range s.plain {
		switch {
		case p.Path == schema.BetweenReason:
			return
		case p.Path == schema.BetweenShuntFound && p.Value == "blocked" && p.Sure == Certain:
			found = p
		}
	}
	if found == nil {
		return
	}
	p := *found
	p.Path, p.Value, p.Sure, p.Note = schema.BetweenReason, "shunt-blocked", Check, "no other reason is told"
	s.plain = append(s.plain, &p)
}

// readHybridPlans reads what is left to do of a hybrid, which is said of the future
// though it is a state now: "the septum will be ballooned next week", "prostaglandin
// to be weaned".
func (g *segment) readHybridPlans() {
	septum, after := fieldAt(schema.HybridSeptum), fieldAt(schema.HybridProstaglandinAfter)
	if !g.inNote(septum) || g.ctx.form != "hybrid" && g.ctx.form != "bands-prostaglandin" {
		return
	}
	about := g.mentions("prostaglandin", "prostin", "pge", "pge1", "alprostadil")
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.scope&intended == 0 || s.scope&(denied|calling|aiming|weighed|hearsay) != 0 {
			continue
		}
		if v := g.valueOf(s, septum); v == "planned" || v == "balloon" && g.mentions("septum", "septal") && !g.mentions("was", "but") {
			g.claimField(septum, "planned", s.from, s.to, s.from, s.to)
			s.used = true
		} else if v := g.valueOf(s, after); about && (v == "weaning" || v == "continues") {
			g.claimField(after, v, s.from, s.to, s.from, s.to)
			s.used = true
		}
	}
}

// openFenestration takes from the size of a fenestration that there is one.
func (s *settling) openFenestration() {
	var size *Proposal
	for _, p := range s.plain {
		switch p.Path {
		case schema.Stage3Fenestration:
			if p.Value == "open" && s.snared() {
				p.Value, p.Sure, p.Note = "snared-open", Check, "a snare is on it"
			}
			return
		case schema.Stage3FenestrationDiameter:
			size = p
		}
	}
	if size == nil || size.Stated != "" {
		return
	}
	p := *size
	p.Path, p.Value, p.Unit, p.Bound, p.Sure, p.Note = schema.Stage3Fenestration, "open", "", "", Check, "its size was told"
	if s.snared() {
		p.Value = "snared-open"
	}
	s.plain = append(s.plain, &p)
}

// shuntFromInflow takes what a shunt is from the graft that carried the inflow and then
// became the shunt: its size, its material and where it leaves, each where nothing else is
// told of it.
func (s *settling) shuntFromInflow() {
	told := map[schema.Path]*Proposal{}
	for _, p := range s.plain {
		told[p.Path] = p
	}
	size, fate := told[schema.SupportInflowGraft], told[schema.SupportInflowGraftFate]
	if kind := told[schema.SupplyKind]; fate == nil || fate.Value != "became-shunt" || fate.Sure == Conflict || kind != nil && kind.Value != "modified-blalock-taussig-thomas" {
		return
	}
	take := func(path schema.Path, from *Proposal, value, unit string) {
		if told[path] != nil || from == nil || from.Stated != "" || from.Sure == Conflict {
			return
		}
		p := *from
		p.Path, p.Value, p.Unit, p.Bound, p.Sure, p.Note = path, value, unit, "", Check, "told of the inflow graft, which became the shunt"
		s.plain = append(s.plain, &p)
	}
	take(schema.SupplyKind, fate, "modified-blalock-taussig-thomas", "")
	if site := told[schema.SupportArterialCannulation]; site != nil && site.Value == "innominate-graft" {
		take(schema.SupplyFrom, site, "innominate-artery", "")
	}
	if size == nil {
		return
	}
	take(schema.SupplyShuntDiameter, size, size.Value, size.Unit)
	about := strings.ToLower(s.reading.Text[size.Spans[0].Start:min(len(s.reading.Text), size.Spans[0].End+inflowReach)])
	if about, _, _ = strings.Cut(about, ". "); anyWord(about, "gore", "go tex", "gtx", "ptfe") && !strings.Contains(about, "ring") {
		take(schema.SupplyMaterial, size, "eptfe", "")
	}
}

// inflowReach is how far after the size of an inflow graft its material may stand, in bytes.
const inflowReach = 24

// snared tells whether a snare was left in.
func (s *settling) snared() bool {
	return slices.ContainsFunc(s.groups, func(x *settled) bool {
		return x.item != nil && x.variety == "snare" && !x.gone && !x.Denied
	})
}
