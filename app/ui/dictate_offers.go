package ui

import (
	"slices"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// offered is one thing a dictation offers to the note: a value, a row or an item. It
// is taken or left as a whole.
type offered struct {
	key     string // names it on the screen
	section string // "items" for an item
	title   string
	parts   []offeredPart
	group   *grouped // of a row or an item
	in      string   // the row or item of the note it is about; "" for a new one
	state   string   // one of the below
	now     string   // what the note has instead, in words
	old     string   // of an item that is in from before: which it is and who listed it
	sure    string   // sure, check or conflict
	note    string   // why it wants a look
}

const (
	offerNew     = "new"     // the note has nothing there
	offerMore    = "more"    // the note has it, with less said of it
	offerSame    = "same"    // the note has it
	offerDiffers = "differs" // the note has something else
	offerDenied  = "denied"  // said not to be there
)

// offeredPart is one value of it.
type offeredPart struct {
	def   *schema.Field
	entry ledger.Entry
	clock string // a time of day, whose date is worked out when it is taken
	refer string // the item it names, as kind/variety/side
	item  string // the group of that item, when the text lists it
	words string // the value in words
	why   string
	other []string
}

// offersOf makes the offers of a reading and holds each against the note.
func (o *openNote) offersOf(r *said) []*offered {
	var out []*offered
	byKey := map[string]*offered{}
	groups := map[string]*grouped{}
	for i := range r.Groups {
		g := &r.Groups[i]
		groups[g.ID] = g
		title, section := "", g.List.Section()
		if g.List == "items" {
			if k := schema.ItemKindNamed(g.Kind); k != nil {
				title = k.Title
			}
			section = "items"
		} else if def := schema.FieldAt(g.List); def != nil {
			title = def.Title
		}
		of := &offered{key: strings.NewReplacer("#", "-", ".", "-").Replace(g.ID), section: section, title: title, group: g, sure: g.Sure, note: g.Note}
		byKey[g.ID] = of
		out = append(out, of)
	}
	for _, p := range r.Proposals {
		def := schema.FieldAt(p.Path)
		if def == nil {
			continue
		}
		key := p.Group
		if key == "" {
			key = string(p.Path)
		}
		of := byKey[key]
		if of == nil {
			of = &offered{key: strings.ReplaceAll(key, ".", "-"), section: p.Path.Section(), title: def.Title, sure: "sure"}
			byKey[key] = of
			out = append(out, of)
		}
		if p.Sure == "conflict" || p.Sure == "check" && of.sure == "sure" {
			of.sure = p.Sure
		}
		if p.Note != "" && !strings.Contains(of.note, p.Note) {
			of.note = strings.TrimSpace(of.note + " " + p.Note)
		}
		part := o.partOf(def, p)
		if def.Type == "list" && len(of.parts) > 0 && of.group == nil && p.Stated == "" { // one choice more
			last := &of.parts[0]
			if had, ok := last.entry.Value.([]string); ok {
				last.entry.Value = append(had, p.Value)
				last.words += ", " + lowerFirst(part.words)
				last.why += " … " + p.Why
			}
			continue
		}
		of.parts = append(of.parts, part)
	}
	used := map[string]bool{}
	for _, last := range [...]bool{false, true} {
		for _, of := range out {
			if w := o.goesWith(of, last); w != nil && byKey[string(w.parts[0].def.Path)] == nil {
				byKey[string(w.parts[0].def.Path)] = w
				out = append([]*offered{w}, out...)
			}
		}
	}
	for _, of := range out {
		o.unitsOf(of)
		o.hold(of, used)
	}
	return slices.DeleteFunc(out, func(of *offered) bool {
		return len(of.parts) == 0 && of.state != offerDenied && of.group != nil && of.section != "items"
	})
}

// goesWith offers the one answer that what was said cannot be without, such as bypass
// for a run of it, where nobody said that. Of the same item or row, such as suction
// for a drain on minus ten, it is part of the offer. What a temporary shunt goes with
// is told last: alone, or before bypass.
func (o *openNote) goesWith(of *offered, last bool) *offered {
	parts := of.parts
	if of.group != nil && of.group.List != "items" && !of.group.Denied { // a row goes with what its list does
		parts = append(slices.Clip(parts), offeredPart{def: schema.FieldAt(of.group.List), why: of.group.Why})
	}
	for _, p := range parts {
		shunt := last && p.def.Path == schema.SupportCavalShuntMinutes && o.working.Text(schema.SupportMode) != "bypass"
		if p.def == nil || p.entry.Stated != "" || len(p.def.When) != 1 || len(p.def.When[0].In) != 1 && !shunt {
			continue
		}
		at := p.def.When[0].Field
		beside := at[0] == '.'
		if beside {
			at = p.def.Path[:strings.LastIndexByte(string(p.def.Path), '.')] + at
		}
		def := schema.FieldAt(at)
		only, is := p.def.When[0].In[0].(string)
		if def == nil || !is {
			continue
		}
		part := o.partOf(def, proposed{Value: only, Why: p.why})
		switch {
		case !beside:
			return &offered{key: strings.ReplaceAll(string(at), ".", "-"), section: at.Section(), title: def.Title, parts: []offeredPart{part}, sure: "check", note: "taken from " + lowerFirst(of.title)}
		case beside && !slices.ContainsFunc(of.parts, func(q offeredPart) bool { return q.def == def }):
			of.parts = append(of.parts, part)
		}
	}
	return nil
}

// partOf turns one proposal into what would be entered.
func (o *openNote) partOf(def *schema.Field, p proposed) offeredPart {
	part := offeredPart{def: def, why: p.Why, other: p.Other}
	origin := ledger.Origin{How: ledger.HowDictation, Words: p.Why}
	e := ledger.Entry{Stated: p.Stated, Bound: p.Bound, Origin: origin}
	switch {
	case p.Stated != "":
	case def.Numeric():
		e = ledger.Number(p.Value)
		e.Bound, e.Origin, e.Unit = p.Bound, origin, def.Unit
	case def.Type == "boolean":
		e.Value = p.Value == "true"
	case def.Type == "list" && def.Format != "items":
		e.Value = []string{p.Value}
	case def.Format == "item", def.Format == "items":
		part.refer, part.item, part.words = p.Value, p.Item, referWords(p.Value)
	case def.Format == "moment" && len(p.Value) == 5:
		part.clock, part.words = p.Value, p.Value
	default:
		e.Value = p.Value
	}
	part.entry = e
	if part.words == "" {
		part.words = e.Shown(def, o.working)
	}
	return part
}

// unitsOf words the values of a row whose unit the row itself decides, such as a dose
// or the limit of a target.
func (o *openNote) unitsOf(of *offered) {
	if of.group == nil || of.section == "items" {
		return
	}
	row := schema.NewNote(o.working.Kind(), "", "")
	row.AddRow(of.group.List, "said")
	for _, p := range of.parts {
		row.Set(schema.RowPath(of.group.List, "said", p.def.Name), p.entry.Value)
	}
	for i := range of.parts {
		if p := &of.parts[i]; p.def.Numeric() && len(p.def.By) > 0 {
			p.words = p.entry.Shown(row.VariantAt(p.def, "said"), row)
		}
	}
}

// referWords words a line that something runs through or is read from.
func referWords(refer string) string {
	name, rest, _ := strings.Cut(refer, "/")
	variety, side, _ := strings.Cut(rest, "/")
	k := schema.ItemKindNamed(name)
	if k == nil {
		return refer
	}
	words := k.Title
	if f := k.Field("variety"); f != nil && variety != "" {
		words += ", " + lowerFirst(f.Label(variety))
	}
	if side != "" {
		words += ", " + side
	}
	return words
}

// hold says how an offer stands to the note. An item of the note answers to one
// offer only.
func (o *openNote) hold(of *offered, used map[string]bool) {
	n := o.working
	of.state = offerNew
	switch {
	case of.group == nil:
		at := of.parts[0].def.Path
		if n.Answered(at) || of.parts[0].def.Type == "rows" && len(n.Rows(at)) > 0 {
			o.compare(of, func(def *schema.Field) schema.Path { return at })
		}
	case of.section == "items":
		o.holdItem(of, used)
	default:
		list := of.group.List
		if of.group.Denied { // "no noradrenaline": no row is made of what is said not to be
			of.state = offerDenied
		}
		for _, row := range n.Rows(list) {
			if used[row] || !o.sameThing(of, func(def *schema.Field) schema.Path { return schema.RowPath(list, row, def.Name) }) {
				continue
			}
			of.in = row
			used[row] = true
			if of.group.Denied {
				of.now = of.parts[0].words
				return
			}
			o.compare(of, func(def *schema.Field) schema.Path { return schema.RowPath(list, row, def.Name) })
			return
		}
	}
}

func (o *openNote) holdItem(of *offered, used map[string]bool) {
	// What was listed for this operation is meant before what is in from an earlier one.
	items := o.working.Items()
	sorting.By(items, func(a, b schema.Item) int { return rankOld(o.oldNote(a.ID)) - rankOld(o.oldNote(b.ID)) })
	for _, it := range items {
		if it.Kind != of.group.Kind || used[it.ID] {
			continue
		}
		same := true
		for _, p := range of.parts {
			if name := p.def.Name; (name == "variety" || name == "side") && o.working.Answered(it.Path(name)) && it.Text(name) != p.entry.Value {
				same = false
			}
		}
		if !same {
			continue
		}
		of.in = it.ID
		if v, old := o.oldNote(it.ID); old {
			of.old = "tag " + itoa(it.Tag) + ", in from before: listed by " + v.Author.String() + ", " + v.Happened.Shown()
			if from, ok := o.c.rec.NoteView(v.Note); ok {
				of.old = "tag " + itoa(it.Tag) + ", in from before (" + noteName(o.c.rec, from) + "), listed by " + v.Author.String()
			}
		}
		if of.group.Denied {
			of.state, of.now = offerDenied, itemName(it)+", tag "+itoa(it.Tag)
			return
		}
		used[it.ID] = true
		o.compare(of, func(def *schema.Field) schema.Path { return it.Path(def.Name) })
		return
	}
	if of.group.Denied {
		of.state = offerDenied
	}
}

// oldNote is the item as it was listed, and whether that was not in this note.
func (o *openNote) oldNote(id string) (v ledger.ItemView, old bool) {
	v, ok := o.c.rec.Item(ledger.ItemID(id))
	return v, ok && v.Note != o.id
}

func rankOld(_ ledger.ItemView, old bool) int {
	if old {
		return 1
	}
	return 0
}

// sameThing tells whether a row of the note is the one that is spoken of: nothing
// said of it differs, or what names it is the same.
func (o *openNote) sameThing(of *offered, at func(*schema.Field) schema.Path) bool {
	n := o.working
	equal := 0
	for _, p := range of.parts {
		path := at(p.def)
		if !n.Answered(path) {
			continue
		}
		if o.equal(p, path) {
			equal++
			if len(p.def.Enum) > 0 || p.def.Format == "item" {
				return true
			}
		} else if len(p.def.Enum) > 0 || p.def.Format == "item" {
			return false
		}
	}
	return equal > 0 && equal == len(of.parts)
}

// twoWays tells whether a value was said in two ways that cannot both hold.
func twoWays(p offeredPart) bool { return len(p.other) > 1 }

// proposedAs is one of the ways in which a value was said.
func proposedAs(text, why string) proposed {
	p := proposed{Value: text, Why: why}
	switch {
	case slices.Contains(schema.StatedAnswers(), text):
		p.Value, p.Stated = "", text
	case strings.HasPrefix(text, "<"), strings.HasPrefix(text, ">"):
		p.Bound, p.Value = text[:1], text[1:]
	}
	return p
}

// ways is each of the ways in which an offer was said; its note is the value that
// makes it that one.
func (o *openNote) ways(of *offered) []*offered {
	var out []*offered
	i := slices.IndexFunc(of.parts, twoWays)
	for _, v := range of.parts[i].other {
		one := *of
		one.parts = slices.Clone(of.parts)
		one.parts[i] = o.partOf(of.parts[i].def, proposedAs(v, of.parts[i].why))
		o.unitsOf(&one)
		one.key, one.note = of.key+"-"+v, one.parts[i].words
		if one.state == offerSame {
			one.state = offerDiffers // the other one stands
		}
		out = append(out, &one)
	}
	return out
}

// equal tells whether the note says at a path what was dictated; of what was said in
// two ways, one of them.
func (o *openNote) equal(p offeredPart, at schema.Path) bool {
	if twoWays(p) {
		return slices.ContainsFunc(p.other, func(v string) bool { return o.equal(o.partOf(p.def, proposedAs(v, "")), at) })
	}
	n := o.working
	switch {
	case p.clock != "":
		m, ok := n.Moment(at)
		return ok && m.Clock() == p.clock
	case p.refer != "":
		it, ok := n.Item(n.Text(at))
		return ok && meant(it, p.refer)
	case p.def.Type == "list":
		want, _ := p.entry.Value.([]string)
		have := n.List(at)
		for _, v := range want {
			if !slices.Contains(have, v) {
				return false
			}
		}
		return p.entry.Stated == n.Stated(at)
	}
	if p.def.Type == "rows" {
		return p.entry.Stated == n.Stated(at) && len(n.Rows(at)) == 0
	}
	if p.def.Numeric() { // its unit may be the row's
		value, stated := n.Answer(at)
		return ledger.Entry{Value: value, Stated: stated, Bound: n.Bound(at)}.Same(p.entry)
	}
	return schema.Show(p.def, n, at) == p.entry.Shown(p.def, n)
}

// meant tells whether an item is the one that a reference names.
func meant(it schema.Item, refer string) bool {
	parts := strings.Split(refer, "/")
	return it.Kind == parts[0] && (len(parts) < 2 || parts[1] == "" || it.Text("variety") == parts[1]) && (len(parts) < 3 || parts[2] == "" || it.Text("side") == parts[2])
}

// compare says whether the note has all of it, some, or something else.
func (o *openNote) compare(of *offered, at func(*schema.Field) schema.Path) {
	of.state = offerSame
	var differ []string
	for _, p := range of.parts {
		path := at(p.def)
		switch {
		case p.def.Type == "rows" && len(o.working.Rows(path)) > 0:
			differ = append(differ, itoa(len(o.working.Rows(path)))+" recorded")
		case !o.working.Answered(path):
			of.state = offerMore
		case o.equal(p, path):
		case p.def.Type == "list" && p.entry.Stated == "" && o.working.Stated(path) == "":
			of.state = offerMore // choices to add to those that stand
		default:
			words := schema.Show(p.def, o.working, path)
			if of.group != nil {
				words = p.def.Title + ": " + words
			}
			if vs := o.c.rec.Values(o.id, path); of.old != "" && len(vs) > 0 { // whose word it is, and of when
				last := vs[len(vs)-1]
				words += " (" + last.Author.String() + ", " + last.Happened.Shown() + ")"
			}
			differ = append(differ, words)
		}
	}
	if len(differ) > 0 {
		of.state, of.now = offerDiffers, strings.Join(differ, ", ")
	}
}

// takeOffers records offers as one action, in order: items before what refers to
// them. It returns those that could not be taken, with the reason.
func (o *openNote) takeOffers(offers []*offered, again bool) (left []string) {
	c := o.c
	w := c.writer.Together()
	var events []ledger.Event
	made := map[string]string{} // group → item
	put := func(es ...ledger.Event) {
		c.rec.Apply(es...)
		events = append(events, es...)
	}
	set := func(p offeredPart, at schema.Path) {
		e := p.entry
		switch {
		case p.clock != "":
			o.renew()
			r := o.form().readMoment(p.def, at, p.clock, "")
			if r.Wrong != "" {
				left = append(left, p.def.Title+": "+r.Wrong)
				return
			}
			e.Value = r.Value
		case p.refer != "":
			id := made[p.item]
			if id == "" {
				for _, v := range c.rec.Whole(o.id).Items() {
					if meant(v, p.refer) {
						id = v.ID
					}
				}
			}
			if id == "" {
				left = append(left, p.def.Title+": no "+lowerFirst(p.words)+" is listed. List it first, then choose it in the field.")
				return
			}
			if e.Value = id; p.def.Format == "items" {
				e.Value = append(slices.Clone(o.working.List(at)), id)
			}
		case p.def.Type == "list" && e.Stated == "":
			all := slices.Clone(o.working.List(at))
			for _, v := range e.Value.([]string) {
				if !slices.Contains(all, v) {
					all = append(all, v)
				}
			}
			e.Value = all
		}
		o.dropDraft(at) // what could not be read there is answered by what is taken
		if now := c.rec.Values(o.id, at); len(now) == 1 && now[0].Same(e) {
			return
		}
		put(w.Set(c.rec, o.id, at, e))
	}
	sorting.By(offers, func(a, b *offered) int { return offerRank(a) - offerRank(b) })
	for _, of := range offers {
		switch {
		case of.state == offerDenied, of.state == offerSame && !again:
			if of.group != nil {
				made[of.group.ID] = of.in
			}
		case of.group == nil:
			set(of.parts[0], of.parts[0].def.Path)
		case of.section == "items":
			id := of.in
			if id == "" || again {
				fresh := w.NewItem()
				id = string(fresh)
				put(w.ListItem(o.id, fresh, of.group.Kind, c.rec.NextTag()))
			}
			made[of.group.ID] = id
			n := len(events)
			for _, p := range of.parts {
				set(p, schema.ItemPath(id, p.def.Name))
			}
			// A signed note that listed it is amended by that, and told why.
			if v, old := o.oldNote(id); old && len(events) > n && v.Note != "" && c.rec.Standing(v.Note).First != nil {
				this, _ := c.rec.NoteView(o.id)
				put(w.Amend(v.Note, "Tag "+itoa(v.Tag)+", as dictated for "+noteName(c.rec, this)+": “"+of.group.Why+"”"))
			}
		default:
			row := of.in
			if row == "" || again {
				row = c.s.ids.New()
				put(w.AddRow(c.rec, o.id, of.group.List, row)...)
			}
			for _, p := range of.parts {
				set(p, schema.RowPath(of.group.List, row, p.def.Name))
			}
		}
	}
	c.act(events...)
	return left
}

func offerRank(of *offered) int {
	if of.section == "items" {
		return 0
	}
	return 1
}
