package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// settling weighs what the segments say against one another: the same said
// twice is one proposal, two that cannot both hold are a conflict.
type settling struct {
	reading *Reading
	plain   []*Proposal
	more    []*Proposal // found while the others are weighed
	groups  []*settled
	sex     *Proposal // of the child, by its pronouns
	mixed   bool      // both he and she were said
	segment int       // how many segments were taken
}

// settled is a row or an item with its values.
type settled struct {
	Group
	item    *schema.ItemKind
	variety string
	whole   bool // see group
	again   bool
	mention bool
	values  []*Proposal
	gone    bool
	seq     int
	segment int  // which of the text's segments it was read in
	ofLast  bool // see group
	one     bool
	many    int
	amends  bool
}

func (s *settling) take(g *segment, base int) {
	s.segment++
	for _, x := range g.taken { // "ignore what I said about the dialysis catheter"
		for _, y := range s.groups {
			if x.item != nil && y.item == x.item && (y.variety == x.value || x.kind == isHead) && (x.side == "" || y.value("side") == "" || y.value("side") == x.side) || x.field != nil && (y.List == x.field.Path || y.List == x.field.Path.List() && x.kind == isValue && y.value(x.field.Name) == x.value) {
				y.gone = true
			}
		}
		s.plain = slices.DeleteFunc(s.plain, func(p *Proposal) bool { return x.field != nil && p.Path == x.field.Path })
	}
	if n := g.remaining(); n != "" { // "Two packs. One came out. So one left."
		for j := len(s.groups) - 1; j >= 0; j-- {
			x := s.groups[j]
			if x.gone || x.List != "items" || x.value("count") == "" {
				continue
			}
			for _, p := range x.values {
				if p.Path.Last() == "count" && p.Value != n {
					p.Value, p.Sure, p.Note = n, Check, "another number was said first"
				}
			}
			break
		}
	}
	for _, old := range g.old { // "Sixty one was before."
		for n := len(s.plain) - 1; n >= 0 && n >= len(s.plain)-4; n-- {
			if s.plain[n].Value == old {
				s.plain = slices.Delete(s.plain, n, n+1)
				break
			}
		}
	}
	s.notePronouns(g, base)
	local := make([]*settled, len(g.groups))
	for i := range g.groups {
		x := &g.groups[i]
		sp := g.span(x.from, x.to)
		local[i] = &settled{Group: Group{List: x.list, Denied: x.denied, Sure: x.sure, Note: x.note,
			Spans: []Span{{sp.Start + base, sp.End + base}}, Why: g.words(x.from, x.to)},
			item: x.item, variety: x.variety, whole: x.whole, again: x.again, mention: x.mention, gone: x.gone, seq: len(s.groups) + i, segment: s.segment, ofLast: x.ofLast, one: x.one, many: x.many, amends: x.amends}
		if x.item != nil {
			local[i].Kind = x.item.Name
		}
	}
	for i := range g.claims {
		c := &g.claims[i]
		if c.gone || c.value == "" && c.stated == "" {
			continue
		}
		p := g.propose(c, base)
		if c.group >= 0 {
			local[c.group].values = append(local[c.group].values, p)
			continue
		}
		s.plain = append(s.plain, p)
	}
	for _, l := range g.links {
		s.link(g, local, l, base)
	}
	s.groups = append(s.groups, local...)
	for _, a := range g.amends {
		s.putRight(a)
	}
}

// propose turns a claim into a proposal.
func (g *segment) propose(c *claim, base int) *Proposal {
	from, to := c.from, c.to
	if n := g.at[from]; n >= 0 && g.signs[n].swap[1] > 0 {
		from, to = g.signs[n].swap[0], g.signs[n].swap[1]
	}
	sp := g.span(from, to)
	lo, hi := min(c.why, from), max(c.whyTo, to)
	p := &Proposal{Path: c.field.Path, Value: c.value, Stated: c.stated, Bound: c.bound,
		Spans: []Span{{sp.Start + base, sp.End + base}}, Why: g.words(lo, hi), Sure: c.sure, Note: c.note, leaving: c.leaving || g.tellsAfter(), amends: g.amendsAt(lo, hi) || g.amendsEarlier(), denied: g.deniedFor(c.field)}
	if c.stated != "" || c.group >= 0 && g.groups[c.group].denied { // the "no" is part of what was understood
		if j := g.denialOf(from, to); j >= 0 && (g.signs[j].to <= from || g.signs[j].from >= to) {
			d := g.span(g.signs[j].from, g.signs[j].to)
			p.Spans = append(p.Spans, Span{d.Start + base, d.End + base})
		}
	}
	if c.field.Numeric() && c.stated == "" && c.field.Unit != "1" {
		p.Unit = c.field.Unit
	}
	if c.field.Format == "moment" && c.stated == "" {
		p.twelve = twelveHours(g.toks, c.from, c.to, c.value)
	}
	return p
}

// link points a row at the thing it names: "kind/variety/side".
func (s *settling) link(g *segment, local []*settled, l link, base int) {
	sign := &g.signs[l.sign]
	var kind *schema.ItemKind
	variety, side := "", ""
	for _, x := range sign.senses {
		if (x.kind == isItem || x.kind == isVariety) && x.item.Group == "lines" && !ignored[x.item.Name] {
			kind, variety = x.item, x.value
			break
		}
	}
	if kind == nil {
		return
	}
	// the thing the segment read at the same place, if it did
	for i := range g.groups {
		if x := &g.groups[i]; x.item != nil && x.item.Group == "lines" && x.from <= sign.from && sign.to <= x.to {
			kind, variety = x.item, x.variety
			for _, p := range local[i].values {
				if p.Path.Last() == "side" {
					side = p.Value
				}
			}
		}
	}
	value := kind.Name + "/" + variety
	if side != "" {
		value += "/" + side
	}
	sp := g.span(sign.from, sign.to)
	owner := local[l.group]
	owner.values = append(owner.values, &Proposal{Path: l.field.Path, Value: value,
		Spans: []Span{{sp.Start + base, sp.End + base}}, Why: g.words(sign.from, sign.to), Sure: Certain})
}

func (s *settling) settle() {
	s.shareOfLast()
	s.inOrder()
	s.barriers()
	s.mergeItems()
	s.mergeRows()
	s.lineOfLumens()
	s.shareBands()
	s.sexSaid()
	s.saturationTwice()
	s.heparinFirst()
	s.closingTolerated()
	s.mergePlain()
	s.sternumFrom()
	s.openUnsutured()
	s.blockedReason()
	s.openFenestration()
	s.shuntFromInflow()
	r := s.reading
	tag := 0
	rows := map[schema.Path]int{}
	for _, x := range s.groups {
		if x.gone || len(x.values) == 0 {
			continue
		}
		if x.List == "items" && !x.Denied {
			tag++
			x.Tag = tag
		}
		rows[x.List]++
		x.ID = string(x.List) + "#" + strconv.Itoa(rows[x.List])
		for _, p := range x.values {
			p.Group = x.ID
		}
	}
	for _, x := range s.groups {
		if x.gone || len(x.values) == 0 {
			continue
		}
		for _, p := range x.values {
			if p.Path.Last() == "item" {
				s.resolve(x, p)
			}
		}
		r.Groups = append(r.Groups, x.Group)
		for _, p := range x.values {
			r.Proposals = append(r.Proposals, *p)
		}
	}
	for _, p := range s.plain {
		r.Proposals = append(r.Proposals, *p)
	}
	slices.SortStableFunc(r.Proposals, func(a, b Proposal) int { return a.Spans[0].Start - b.Spans[0].Start })
}

// resolve finds the listed item that a reference means.
func (s *settling) resolve(x *settled, p *Proposal) {
	for _, it := range s.groups {
		if it.gone || it.List != "items" || it.Denied || it.item == nil {
			continue
		}
		name := it.Kind + "/" + it.variety
		if p.Value == name || p.Value == name+"/"+it.side() {
			if p.Item != "" {
				return // two fit: a person decides
			}
			p.Item = it.ID
			if it.side() != "" {
				p.Value = name + "/" + it.side()
			}
		}
	}
}

func (x *settled) side() string { return x.value("side") }

func (x *settled) value(name string) string {
	for _, p := range x.values {
		if p.Path.Last() == name {
			return p.Value
		}
	}
	return ""
}

// mergeItems joins what names one thing twice.
func (s *settling) mergeItems() {
	s.amendItems()
	for i, x := range s.groups {
		if x.gone || x.List != "items" || x.again && !x.mention {
			continue
		}
		for j := 0; j < len(s.groups); j++ {
			y := s.groups[j]
			if j >= i || y.gone || y.List != "items" || y.item != x.item || y.variety != x.variety || y.Denied != x.Denied {
				continue
			}
			if a, b := x.side(), y.side(); a != "" && b != "" && a != b || x.again && y.again && x.Spans[0] == y.Spans[0] {
				continue // or "the two mediastinals", said at once
			}
			y.absorb(x)
			break
		}
	}
	// something denied and listed both
	for _, x := range s.groups {
		if x.gone || !x.Denied || x.List != "items" {
			continue
		}
		for _, y := range s.groups {
			if !y.gone && !y.Denied && y.List == "items" && y.item == x.item && y.variety == x.variety && (x.side() == "" || y.side() == "" || x.side() == y.side()) {
				if x.whole && y.segment > x.segment && y.value("count") != "" {
					x.gone = true // "No wires needed. One ventricular for luck."
					y.Sure, y.Note = Check, "said after there being none"
					break
				}
				for _, p := range append(slices.Clone(x.values), y.values...) {
					if p.Path.Last() == "variety" {
						p.Sure, p.Note = Conflict, "said to be there and not to be there"
					}
				}
				x.Sure, y.Sure = Conflict, Conflict
				x.Note, y.Note = "said to be there and not to be there", "said to be there and not to be there"
			}
		}
	}
}

// absorb takes in another mention of the same thing.
func (x *settled) absorb(y *settled) {
	y.gone = true
	x.Spans = append(x.Spans, y.Spans...)
	if !y.mention {
		x.Sure, x.Note = better(x.Sure, y.Sure), ""
		if x.Sure != Certain {
			x.Note = y.Note
		}
	}
	for _, p := range y.values {
		var q *Proposal
		for _, v := range x.values {
			if v.Path == p.Path {
				q = v
			}
		}
		switch {
		case q == nil:
			x.values = append(x.values, p)
		case q.Value == p.Value && q.Stated == p.Stated:
			q.Spans = append(q.Spans, p.Spans...)
		case p.putsRight(q):
			p.insteadOf(q)
		case q.leaving != p.leaving && q.Sure != Conflict:
			later(q, p)
		default:
			conflict(q, p)
		}
	}
}

// putsRight tells whether a proposal is said to put right an earlier one of its place.
func (p *Proposal) putsRight(q *Proposal) bool {
	return q.Sure != Conflict && (p.amends || q.Value != "" && slices.Contains(p.denied, q.Value))
}

// insteadOf puts a proposal in the place of an earlier one.
func (p *Proposal) insteadOf(q *Proposal) {
	*q = *p
	q.Sure, q.Note = Check, "another value was said first"
}

func better(a, b Sure) Sure {
	if a == Certain || b == Certain {
		return Certain
	}
	return a
}

// conflict makes two proposals of one place into one conflict.
func conflict(q, p *Proposal) {
	say := func(p *Proposal) string {
		if p.Stated != "" {
			return p.Stated
		}
		return p.Bound + p.Value
	}
	if q.Sure != Conflict {
		q.Other = []string{say(q)}
	}
	q.Sure, q.Note = Conflict, "said in two ways that cannot both hold"
	if !slices.Contains(q.Other, say(p)) {
		q.Other = append(q.Other, say(p))
	}
	q.Spans = append(q.Spans, p.Spans...)
	q.Why += " … " + p.Why
}

// later keeps, of two values, the one said of the state on leaving.
func later(q, p *Proposal) {
	if p.leaving {
		*q = *p
	}
	q.Sure, q.Note = Check, "another value was said of a time before"
}

// mergeRows joins rows that speak of one thing: a pressure named twice, a drug
// with its dose here and its line there, a period begun here and ended there.
func (s *settling) mergeRows() {
	for i, x := range s.groups {
		if x.gone || x.List == "items" {
			continue
		}
		for j := 0; j < i; j++ {
			y := s.groups[j]
			if y.gone || y.List != x.List || y.Denied != x.Denied {
				continue
			}
			if key := rowKey[x.List]; key != "" {
				if x.value(key) == y.value(key) && x.value(key) != "" && (x.List != schema.BloodProducts || x.sameAs(y)) && (x.List != schema.PlanCalls || x.sameAs(y)) {
					y.absorb(x)
					break
				}
				continue
			}
			if y.mention && x.mention && y.value("on") != "" && y.value("off") == "" && x.value("off") != "" && x.value("on") == "" {
				y.absorb(x)
				y.mention = false
				break
			}
			if x.sameAs(y) {
				y.absorb(x)
				break
			}
		}
	}
}

// rowKey names, for lists whose rows are known by one value, that field.
var rowKey = map[schema.Path]string{
	schema.InfusionsRunning: "drug", schema.PressuresReadings: "pressure", schema.PlanTargets: "what", schema.PlanCalls: "what",
	schema.HybridBands: "side", schema.BloodProducts: "product", schema.PerfusionUltrafiltration: "kind", schema.PerfusionPrime: "product",
}

// sameAs tells whether two rows hold the same values.
func (x *settled) sameAs(y *settled) bool {
	if len(x.values) != len(y.values) {
		return false
	}
	for _, p := range x.values {
		if y.value(p.Path.Last()) != p.Value {
			return false
		}
	}
	return true
}

// takenBack tells whether the words between two proposals take the first back:
// "28 minutes, no, no bypass at all".
func (s *settling) takenBack(p, q *Proposal) bool {
	from, to := p.Spans[0].End, q.Spans[0].Start
	if from > to || to-from > 60 {
		return false
	}
	between := strings.ToLower(s.reading.Text[from:to])
	for _, w := range []string{" no,", "sorry", "scratch", "correction", "actually", "wait", "strike", "delete"} {
		if strings.Contains(between, w) {
			return true
		}
	}
	return false
}

// deedsTogether are the values of a choice that say two others at once.
var deedsTogether = map[schema.Path]map[string]string{
	schema.Stage2OldSupply: {"clipped divided": "clipped-and-divided"},
	schema.Stage1Duct:      {"ligated divided": "ligated-and-divided"},
}

// moreSpecific is the one of two values of a field that says more, where the other
// is part of it: a conversion to an extracardiac conduit is a conversion.
func moreSpecific(p schema.Path, a, b string) string {
	if w := deedsTogether[p][a+" "+b] + deedsTogether[p][b+" "+a]; w != "" {
		return w
	}
	for _, w := range []string{a, b} {
		o := a
		if w == a {
			o = b
		}
		switch {
		case p == schema.ClosingSternum && w == "not-opened" && o == "closed",
			p == schema.ClosingTolerated && w == "with-support" && o == "yes",
			p == schema.Stage3Connection && w == "conversion",
			p == schema.ApproachIncision && w == "reopened-sternotomy" && o == "median-sternotomy",
			p == schema.Stage2Connection && w == "comprehensive" && strings.HasPrefix(o, "glenn"),
			p == schema.Stage2Connection && w == "kawashima" && strings.HasPrefix(o, "glenn"),
			p == schema.Stage3Fenestration && strings.HasPrefix(w, "snared-") && o == "open",
			p == schema.BetweenWashOut && w == "antibiotic" && o == "saline",
			strings.HasPrefix(w, o+"-"), // heparin, and heparin then aspirin
			p == schema.Stage1Form && w == "hybrid" && o == "ductal-stent-alone",
			w == "partly-excised" && o == "left",
			p == schema.Stage1Duct && w == "ligated-and-divided" && (o == "ligated" || o == "divided"),
			(p == schema.BeforeVentilation || p == schema.VentilationBreathing) && o == "own-breathing" && w != "ventilated",
			p == schema.BetweenThoracicDuct && w == "mass-ligated" && o == "ligated",
			p == schema.Stage3InferiorDivision && w == "with-cuff" && o == "at-atrium",
			p == schema.AnatomyArchForm && w == "hypoplastic-with-coarctation" && (o == "hypoplastic" || o == "coarctation"),
			p == schema.ClosingPericardium && (w == "patched" || w == "partly-closed") && o == "closed",
			p == schema.Stage2OldSupply && w == "taken-out" && o == "oversewn",
			p == schema.Stage2OldSupply && w == "clipped-and-divided" && (o == "clipped" || o == "divided"):
			return w
		}
	}
	return ""
}

// mergePlain joins what is said twice of one field, and finds conflicts.
func (s *settling) mergePlain() {
	var out []*Proposal
	for _, p := range s.plain {
		f := fieldAt(p.Path)
		merged := false
		for _, q := range out {
			if q.Path != p.Path {
				continue
			}
			same := q.Value == p.Value && q.Stated == p.Stated && q.Bound == p.Bound
			if same && (q.Sure != Conflict || len(q.Other) == 0) {
				q.Spans = append(q.Spans, p.Spans...)
				q.Sure = better(q.Sure, p.Sure)
				merged = true
				break
			}
			if f.Path == schema.SupportMode && (q.Value == "off-pump" && p.Value == "caval-shunt" || q.Value == "caval-shunt" && p.Value == "off-pump") {
				q.Value = "caval-shunt" // which is without bypass
				q.Spans = append(q.Spans, p.Spans...)
				merged = true
				break
			}
			if f.Type == "list" && q.Stated == "" && p.Stated == "" {
				continue // several values may hold
			}
			if p.Path == schema.LeavingRhythm && strings.HasSuffix(p.Value, "-paced") != strings.HasSuffix(q.Value, "-paced") && q.Sure != Conflict {
				// paced, and what it would be otherwise
				if strings.HasSuffix(p.Value, "-paced") {
					*p, *q = *q, *p
				}
				if b := fieldAt(schema.LeavingRhythmBeneath); slices.Contains(b.Enum, p.Value) {
					p.Path, p.Sure, p.Note = b.Path, Check, "the rhythm is paced: this may be what lies beneath"
					break
				}
				merged = true
				break
			}
			if f.Type == "list" && (q.Stated == schema.StatedNone || p.Stated == schema.StatedNone) {
				if q.Stated != "" { // "no bleeding point, but clot": the clot stands
					*q = *p
				}
				merged = true
				break
			}
			if p.Path == schema.VentilationNitricOxide && p.Stated == schema.StatedNone && q.Value != "" && q.Sure != Conflict && p.saysOff() {
				p.insteadOf(q) // it was given till then
				merged = true
				break
			}
			if slices.Contains(p.denied, q.Value) && q.Sure != Conflict {
				p.insteadOf(q) // "the rate was one sixty, not one forty"
				merged = true
				break
			}
			if q.leaving != p.leaving && q.Sure != Conflict && !(q.leaving && s.saidOfThen(q)) {
				if s.beforeWork(q, p) {
					break
				}
				later(q, p)
				merged = true
				break
			}
			if w := moreSpecific(p.Path, q.Value, p.Value); w != "" && q.Sure != Conflict {
				if w == p.Value {
					*q = *p
				}
				q.Value = w
				merged = true
				break
			}
			if p.Path == schema.VentilationBreathing && (q.Value == "own-breathing" || p.Value == "own-breathing") && p.Value != "ventilated" && q.Value != "ventilated" && q.Sure != Conflict {
				if q.Value == "own-breathing" {
					*q = *p // extubated, and to high flow
				}
				merged = true
				break
			}
			if p.Path == schema.BetweenShuntFound && (q.Value == "open" || p.Value == "open") && q.Sure != Conflict {
				if q.Value == "open" {
					*q = *p // "patent, but too small"
				}
				merged = true
				break
			}
			if s.beforeWork(q, p) {
				break // each has a field of its own
			}
			if p.putsRight(q) {
				p.insteadOf(q)
				merged = true
				break
			}
			if s.dispute(q, p) || s.weigh(q, p) {
				merged = true
				break
			}
			conflict(q, p)
			merged = true
			break
		}
		if !merged {
			out = append(out, p)
		}
	}
	for list, total := range totalOf { // "28 minutes. No, no bypass at all"
		var none, sum *Proposal
		for _, p := range out {
			switch {
			case p.Path == list && p.Stated == schema.StatedNone, list == schema.SupportRuns && p.Path == schema.SupportMode && (p.Value == "off-pump" || p.Value == "caval-shunt"):
				none = p
			case p.Path == total && p.Stated == "":
				sum = p
			}
		}
		switch {
		case none != nil && sum != nil && none.Path == schema.SupportMode && none.Value == "off-pump" && strings.HasPrefix(strings.ToLower(none.Why), "off ") && none.Sure != Conflict:
			out = slices.DeleteFunc(out, func(p *Proposal) bool { return p == none })
			continue // "off bypass at the first go", with a time on it
		case none != nil && sum != nil && none.Path == schema.SupportMode && none.Value == "off-pump" && !s.takenBack(sum, none), none != nil && sum != nil && none.Path == list && s.saidInstead(none, sum):
			out = slices.DeleteFunc(out, func(p *Proposal) bool { return p == none })
			for _, p := range out {
				if p.Path == total && slices.Contains(p.Other, schema.StatedNone) {
					p.Sure, p.Note, p.Other = Check, "said to be none first", nil
				}
			}
			continue
		}
		if none != nil && sum != nil && s.takenBack(sum, none) {
			out = slices.DeleteFunc(out, func(p *Proposal) bool { return p == sum })
		} else if none != nil && sum != nil && sum.Sure != Conflict {
			none.Sure, sum.Sure = Conflict, Conflict
			none.Note, sum.Note = "a duration was said too", "said not to have been used too"
			sum.Other, none.Other = []string{sum.Value, schema.StatedNone}, []string{none.Value + none.Stated, sum.Value}
		}
	}
	s.plain = append(out, s.more...)
	s.undone()
	s.heparinAlone()
	s.bypassUsed()
	s.fallProves()
	s.reasonFrom()
}

// fallProves takes a fall of the diastolic pressure for the proof that it is.
func (s *settling) fallProves() {
	var fall *Proposal
	for _, p := range s.plain {
		switch {
		case p.Path == schema.SupplyDiastolicFall && p.Stated == "" && p.Sure != Conflict:
			fall = p
		case p.Path == schema.SupplyProof && (p.Value == "diastolic-fall" || p.Stated != ""):
			return
		}
	}
	if fall != nil {
		s.plain = append(s.plain, &Proposal{Path: schema.SupplyProof, Value: "diastolic-fall", Spans: fall.Spans[:1:1], Why: fall.Why, Sure: Check, Note: "taken from the fall that was told"})
	}
}

// bypassUsed takes from a time on bypass that bypass was used.
func (s *settling) bypassUsed() {
	var total *Proposal
	for _, p := range s.plain {
		switch {
		case p.Path == schema.SupportMode:
			return
		case p.Path == schema.SupportBypassTotal && p.Stated == "" && p.Sure != Conflict:
			total = p
		}
	}
	if total == nil || !hasSection(s.reading.Kind, "support") {
		return
	}
	s.plain = append(s.plain, &Proposal{Path: schema.SupportMode, Value: "bypass", Spans: total.Spans[:1:1], Why: total.Why, Sure: Check, Note: "taken from the time on bypass"})
}

// heparinAlone takes heparin given where there was no bypass for what it is.
func (s *settling) heparinAlone() {
	alone := false
	pump := slices.ContainsFunc(s.groups, func(x *settled) bool { return x.List == schema.SupportRuns && !x.gone && !x.Denied })
	for _, p := range s.plain {
		pump = pump || p.Path == schema.SupportMode || p.Path == schema.SupportBypassTotal
		switch {
		case p.Path == schema.SupportMode && p.Sure != Conflict:
			alone = p.Value == "off-pump" || p.Value == "caval-shunt"
		case p.Path == schema.Stage1Form && (p.Value == "hybrid" || p.Value == "ductal-stent-alone" || p.Value == "bands-prostaglandin" || p.Value == "main-pulmonary-band"):
			alone = true
		}
	}
	less := s.reading.Kind == schema.SupportOn || !pump // less than bypass asks for, and no bypass told
	if !alone && !less {
		return
	}
	for _, p := range s.plain {
		if v, err := strconv.ParseFloat(p.Value, 64); p.Path == schema.ClottingHeparin && (alone || err == nil && v <= 150) {
			p.Path = schema.ClottingHeparinOther
		}
	}
}
