package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet/bodymap"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// lead are the attributes that the line of an item words itself, in its own
// order, before the others.
var lead = map[string]bool{"variety": true, "side": true, "exit": true, "count": true, "state": true, "movedTo": true, "depthAt": true}

// plain are the attributes whose value needs no title.
var plain = map[string]bool{"size": true, "gauge": true, "french": true, "diameter": true, "length": true, "material": true,
	"drainage": true, "suction": true, "use": true, "connection": true, "arrangement": true, "cuffed": true, "lumens": true,
	"siteDetail": true, "remark": true, "site": true}

// brief are the attributes that stand in the line of an item however many items
// there are: what the nurse reads off the child to find it and use it.
var brief = map[string]bool{"size": true, "gauge": true, "french": true, "depth": true, "mark": true, "lumens": true, "runs": true,
	"drainage": true, "suction": true, "use": true, "removalPlan": true, "diameter": true, "outBy": true, "filter": true, "working": true,
	"guidewire": true, "placed": true, "trace": true, "tested": true, "zeroed": true, "cuffed": true}

// least are those that stand there even where room is shortest.
var least = map[string]bool{"size": true, "gauge": true, "french": true, "depth": true, "mark": true, "removalPlan": true, "diameter": true}

// later are the attributes that stand in the details, after the line of the
// item: who put it in and how, its papers, and what matters on the day it comes
// out. An attribute not named here stands in the line where there is room.
var later = map[string]bool{"tip": true, "tipProof": true, "fixation": true, "visible": true, "radiopaque": true, "mri": true,
	"placedWhere": true, "placedBy": true, "attempts": true, "vesselsHurt": true, "view": true,
	"device": true, "leak": true, "leakPressure": true, "cuffPressure": true, "flush": true, "agreesWithCuff": true, "removeBy": true,
	"notBefore": true, "removeConditions": true, "name": true, "model": true, "maker": true, "identifier": true, "deviceIdentifier": true,
	"lot": true, "serial": true, "expires": true, "made": true, "donorCode": true, "identifierBy": true, "lumenCount": true, "milked": true,
	"skin": true, "route": true, "nostril": true}

// inLine tells whether an attribute stands in the line of its item. What is as
// it should be is left to the details: a filter fitted, a wire seen out.
func (b *builder) inLine(it schema.Item, at *attribute) bool {
	f := at.Field
	switch f.Name {
	case "site":
		return it.Kind == "implant" || it.Kind == "support-cannula"
	case "guidewire":
		return it.Text(f.Name) != "yes" && it.Stated(f.Name) != schema.StatedNone
	case "working", "tested":
		return it.Text(f.Name) != "yes" && (b.brevity < 2 || it.Text(f.Name) == "no")
	case "filter":
		return it.Text(f.Name) != "fitted"
	case "trace":
		return it.Text(f.Name) != "good" && b.brevity < 2
	case "zeroed":
		yes, _ := it.Bool(f.Name)
		return !yes
	case "placed":
		at, ok := it.Moment(f.Name)
		return ok && b.day != "" && at.Date() != b.day
	}
	return b.brevity <= at.until
}

// drawing is the map of what is in the child, and what could not be put on it.
func (b *builder) drawing() Block {
	bl := Block{ID: "map", Title: "Where each comes out", Form: Drawing, Stays: true, Strip: 2}
	if b.since() {
		bl.Title = "Where each still in comes out"
	}
	view := bodymap.View{Chest: b.chest(), Apex: b.apex()}
	var off []string
	for i := range b.items {
		in := &b.items[i]
		if !in.checked || b.stump(in.ID) { // what lies inside comes out nowhere
			continue
		}
		place, ok := bodymap.At(in.Text("exit"))
		if !ok || in.at("exit").disputed() {
			off = append(off, strconv.Itoa(in.Tag))
			continue
		}
		view.Marks = append(view.Marks, bodymap.Mark{Tag: in.Tag, Words: low(in.name), Family: Family(in.Item), Place: place})
	}
	d := bodymap.Draw(view)
	bl.Map = &d
	for _, tag := range d.Crowd {
		off = append(off, strconv.Itoa(tag))
	}
	bl.Lines = append(bl.Lines, Line{Spans: []Span{{"● artery ○ vein ◎ heart □ drain ◇ wire ⬡ other", Label}}})
	if len(off) > 0 {
		bl.Lines = append(bl.Lines, Line{Frame: true, Spans: []Span{{"Not on the map, where it comes out is not recorded: tags ", Missing}, {strings.Join(off, ", "), Strong}}})
	}
	if b.chest() == bodymap.Unstated {
		bl.Lines = append(bl.Lines, Line{Spans: []Span{{"Chest: ", Label}, {schema.NotRecorded, Missing}}})
	}
	return bl
}

// inside is one item still in the child, with what is asked of it often.
type inside struct {
	schema.Item
	kind    *schema.ItemKind // nil if this version does not know it
	name    string
	checked bool         // looked for at the bed
	has     []*attribute // those that belong on this sheet
	answers []*answer    // to them
}

func (b *builder) look(it schema.Item) inside {
	in := inside{Item: it, kind: schema.ItemKindNamed(it.Kind), name: lines.Name(it), checked: lines.Checked(it)}
	if in.kind == nil {
		return in
	}
	in.has, in.answers = make([]*attribute, 0, 16), make([]*answer, 0, 16)
	silent := len(b.f.Opinions) == 0 && len(b.f.Unread) == 0 // where there is no answer there is nothing
	held := &holder{Entry: it.Entry, at: it.Path("")[:len(it.Path(""))-1], item: true}
	if b.making != nil {
		held.section = b.bitOf("items")
	}
	for _, at := range ordered(in.kind) {
		value, stated := it.Answer(at.Name)
		if silent && value == nil && stated == "" && !at.Sheet.Required.By(b.kind) {
			continue // most of them
		}
		a := b.room()
		*a = answer{field: at.Field, in: held, value: value, stated: stated, section: held.section}
		b.doubt(a)
		if b.due(a) {
			in.has, in.answers = append(in.has, at), append(in.answers, a)
		}
	}
	return in
}

// at is the answer to an attribute, nil if it does not belong on this sheet.
func (in *inside) at(name string) *answer {
	for _, a := range in.answers {
		if a.field.Name == name {
			return a
		}
	}
	return nil
}

// stump tells whether no more of an item is in than what was cut and left inside: it is
// not looked for at the bed.
func (b *builder) stump(id string) bool { return b.f.Fates[id].Stand == ledger.StandsCut }

// left is everything left in the child: the list by tag, and what stays for good.
func (b *builder) left() (list, implants Block) {
	list = Block{ID: "items", Title: "Everything left in, by tag", Form: Items, Stays: true, Strip: 2, Right: true, Heads: checkHeads}
	implants = Block{ID: "implants", Title: "Stays inside", Form: Items, Stays: true, Strip: 2}
	list.Lines = make([]Line, 0, len(b.items)+2)
	since := b.since()
	if since {
		list.Title = "Still in now, by tag"
	}
	for i := range b.items {
		in := &b.items[i]
		line := b.itemLine(in)
		if !in.checked {
			implants.Lines = append(implants.Lines, line)
			continue
		}
		list.Lines = append(list.Lines, line)
	}
	if len(list.Lines) == 0 {
		none := "No item is listed. That is not the same as nothing left in: look at the child."
		if since {
			none = "All that was left in is recorded as out since, or as gone with the child. Look at the child."
		}
		list.Lines = append(list.Lines, Line{Spans: []Span{{none, Caution}}, Frame: true})
	}
	list.Lines = append(list.Lines, b.extras()...)
	for i, c := range b.f.Checks {
		if c.Tally != "" {
			list.Lines = append(list.Lines, Line{Spans: words{{occasions[i] + ": ", Label}, {c.Tally, Value}}})
		}
	}
	switch b.kind {
	case schema.Stage1, schema.Stage2, schema.Stage3:
		if len(b.f.Gone) > 0 {
			list.Lines = append(list.Lines, b.out(false)...)
		}
	}
	list.Lines = append(list.Lines, b.going()...)
	if len(b.f.Added) > 0 {
		w := words{{"IN SINCE, NOT ON THIS NOTE: ", Label}}
		for i, g := range b.f.Added {
			if i > 0 {
				w.fixed("; ")
			}
			w.strong("tag " + strconv.Itoa(g.Tag))
			w.fixed(" ")
			w.value(low(g.Words))
			w.fixed(", listed ")
			w.value(b.when(g.At))
		}
		list.Lines = append(list.Lines, Line{Spans: w})
	}
	if b.cavopulmonary() {
		for _, in := range b.items {
			if neckLine(in.Item) {
				list.Lines = append(list.Lines, Line{Frame: true, Spans: []Span{{"Tag ", Caution}, {strconv.Itoa(in.Tag), Caution}, {": ", Caution}, {b.wording(profile.WordsNeckLine, cautionNeck), Caution}}})
			}
		}
	}
	for _, f := range b.at["items"] {
		a := b.of(f)
		if (!b.isTold(a) || b.inList[f.Path]) && (f.Sheet.Top || f.Sheet.Required.By(b.kind)) && b.due(a) {
			b.inList[f.Path] = true
			list.Lines = append(list.Lines, b.labelled(a))
		}
	}
	return list, implants
}

func (b *builder) chest() bodymap.Chest {
	if len(b.f.Opinions[schema.ClosingSternum]) > 1 {
		return bodymap.Unstated
	}
	switch b.n.Text(schema.ClosingSternum) {
	case "open":
		return bodymap.Open
	case "closed":
		return bodymap.Closed
	case "not-opened":
		return bodymap.Untouched
	}
	return bodymap.Unstated
}

func (b *builder) apex() bodymap.Apex {
	switch b.n.Text(schema.AnatomyCardiacPosition) {
	case "levocardia":
		return bodymap.ApexLeft
	case "dextrocardia":
		return bodymap.ApexRight
	case "mesocardia":
		return bodymap.ApexMiddle
	}
	return bodymap.ApexUnstated
}

// itemLine is one item: what, where it comes out, and what the nurse will read
// off it.
func (b *builder) itemLine(in *inside) Line {
	l := Line{Item: in.ID, Tag: in.Tag, Family: Family(in.Item)}
	w := b.itemTitle(in)
	if len(b.amended) > 0 {
		if at, ok := b.amended[in.Path("")]; ok {
			b.mark(&w, at)
		}
	}
	if in.kind == nil {
		l.Spans = slices.Clone(w)
		return l
	}
	b.fate(&w, b.f.Fates[in.ID], b.brevity)
	b.exit(&w, in)
	b.itemState(&w, in)
	for i, at := range in.has {
		if !at.lead && b.inLine(in.Item, at) {
			b.attribute(&w, in, at, in.answers[i])
		}
	}
	if in.checked {
		l.Checks = make([]Span, 0, len(b.f.Checks))
		for i := range b.f.Checks {
			l.Checks = append(l.Checks, b.check(i, in.Item, &w))
		}
	}
	l.Spans, b.draft = slices.Clone(w), w
	return l
}

// exit adds where the item comes out.
func (b *builder) exit(w *words, in *inside) {
	exit := in.at("exit")
	if exit == nil {
		return
	}
	shown := b.show(exit)
	if shown[0].Kind == Missing {
		w.label(", where it comes out ")
	} else {
		w.fixed(", ")
	}
	w.append(shown)
}

// itemState adds the state of the item, loud unless it is as it should be.
func (b *builder) itemState(w *words, in *inside) {
	state, is := in.at("state"), in.Text("state")
	if !state.has() || is == "working" || is == "inside-accounted" && b.brevity >= 2 {
		return
	}
	w.fixed(", ")
	if is == "inside-accounted" || state.disputed() {
		w.append(b.show(state))
	} else {
		w.add(Caution, strings.ToUpper(Text(b.show(state))))
	}
	if to := in.at("movedTo"); to.has() {
		w.fixed(" now at ")
		w.append(loud(b.show(to)))
	}
}

// itemTitle is the count and the name.
func (b *builder) itemTitle(in *inside) words {
	it, name, k := in.Item, in.name, in.kind
	w := b.draft[:0]
	left := b.f.Fates[it.ID].Left
	if left != "" {
		w.add(Caution, strings.ToUpper(left)+": ")
		name = low(name)
	}
	if k == nil {
		w.strong(name)
		w.add(Missing, " (a kind this version does not know)")
		return w
	}
	count, variety, side := in.at("count"), in.at("variety"), in.at("side")
	if count.has() && it.Decimal("count") != "1" {
		if strings.Contains(left, " of ") { // it says how many
			b.tells(count)
		} else {
			w.append(loud(b.show(count)))
			w.fixed(" ")
		}
		name = low(name)
	}
	if variety.disputed() {
		w.append(b.show(variety))
	} else {
		b.tells(variety)
		w.strong(name)
		if variety != nil && !it.Answered("variety") {
			w.fixed(", which ")
			w.missing()
		}
	}
	if count != nil && !count.has() {
		w.fixed(", how many ")
		w.missing()
	}
	if !side.has() {
		return w
	}
	switch s := it.Text("side"); {
	case side.disputed() || s == "both" || it.Stated("side") != "":
		w.fixed(", ")
		if it.Stated("side") != "" {
			w.label("side ")
		}
		w.append(b.show(side))
	case s == "right" || s == "left":
		b.tells(side)
		if !strings.HasPrefix(it.Text("exit"), s) && !strings.Contains(strings.ToLower(name), s) {
			w.fixed(", ")
			w.value(s)
			w.fixed(" side")
		}
	}
	return w
}

// attribute adds one attribute to the line of its item.
func (b *builder) attribute(w *words, in *inside, at *attribute, a *answer) {
	it, f := in.Item, at.Field
	shown := b.show(a)
	w.fixed(", ")
	answered := shown[0].Kind != Missing && shown[0].Kind != Stated
	switch {
	case at.plain && answered:
		w.append(shown)
	case f.Name == "depth" && answered:
		w.fixed("at ")
		if b.f.Fates[it.ID].Moved != nil {
			w.fixed("first ")
		}
		w.append(shown)
		if at := in.at("depthAt"); at.has() {
			w.fixed(" ")
			w.append(b.show(at))
		}
	case f.Name == "nostril" && answered:
		w.append(shown)
		w.fixed(" nostril")
	case f.Name == "lumens" && answered && len(b.f.Fates[it.ID].Runs) > 0:
		w.label("as listed ")
		w.append(shown)
	case f.Name == "mark" && answered:
		w.label("mark ")
		w.append(shown)
	case f.Name == "pressure" && answered:
		w.fixed("reads ")
		w.append(shown)
	case f.Name == "removalPlan" && answered:
		w.fixed("OUT: ")
		w.append(loud(shown))
	case f.Name == "runs" && shown[0].Kind == Stated:
		w.append(shown)
	case f.Name == "placed" && answered:
		w.fixed("since ")
		if at, ok := it.Moment("placed"); ok && shown[0].Kind == Value {
			w.value(at.Date().Shown())
			b.untell(a) // the details tell the clock too
		} else {
			w.append(shown)
		}
	case f.Type == "boolean" && answered:
		if yes, _ := it.Bool(f.Name); yes {
			w.label(low(f.Title))
		} else {
			w.add(Caution, "NOT "+low(f.Title))
		}
	default:
		w.label(low(f.Title) + " ")
		w.append(shown)
	}
}

// details are the attributes that do not stand in the lines of the items.
func (b *builder) details() Block {
	bl := Block{ID: "details", Title: "More about what is left in", Form: Listed, Keep: 2}
	bl.Lines = append(bl.Lines, b.flow("items")...)
	for i := range b.items {
		in := &b.items[i]
		w := b.draft[:0]
		if b.brevity > 0 && in.checked {
			b.fate(&w, b.f.Fates[in.ID], 0)
		}
		for _, a := range in.answers {
			if !b.isTold(a) && a.field.Name != "count" {
				w.sep(", ")
				w.label(low(a.field.Title) + " ")
				b.showTo(&w, a)
			}
		}
		if len(w) > 0 {
			head := words{{"Tag ", Fixed}, {strconv.Itoa(in.Tag), Strong}, {" ", Fixed}, {low(in.name), Value}, {": ", Fixed}}
			bl.Lines = append(bl.Lines, Line{Spans: slices.Concat(head, w)})
		}
		b.draft = w
	}
	return bl
}

// attribute is an attribute of a kind of item, and how it stands in the line of one.
type attribute struct {
	*schema.Field
	lead  bool // the line words it itself
	plain bool // its value needs no title
	until int  // the greatest brevity at which it stands there, -1 for none
}

// ordered are the attributes of a kind that belong on the sheet, in its order.
func ordered(k *schema.ItemKind) []*attribute {
	placesMu.Lock()
	defer placesMu.Unlock()
	if all, ok := attributesBy[k.Name]; ok {
		return all
	}
	var fs []*schema.Field
	for _, f := range k.Fields {
		if f.Sheet.Place != "" {
			fs = append(fs, f)
		}
	}
	sortByOrder(fs)
	all := make([]*attribute, len(fs))
	for i, f := range fs {
		all[i] = &attribute{Field: f, lead: lead[f.Name], plain: plain[f.Name]}
		switch {
		case later[f.Name]:
			all[i].until = -1
		case least[f.Name]:
			all[i].until = most
		case brief[f.Name]:
			all[i].until = 1
		}
	}
	attributesBy[k.Name] = all
	return all
}

var attributesBy = map[string][]*attribute{}

// checkHeads are the headings over the answers of the bedside checks.
var checkHeads = []string{"leave", "arrive"}

// check is the answer of one bedside check about one item; what differs is added
// to the item's own line.
func (b *builder) check(occasion int, it schema.Item, w *words) Span {
	c := b.f.Checks[occasion]
	if !c.Begun && !c.Closed && !b.stump(it.ID) {
		return Span{tick, Fixed} // to be ticked on paper
	}
	a, ok := c.Answers[it.ID]
	if !ok && b.stump(it.ID) {
		return Span{"inside", Fixed}
	}
	if !ok {
		return Span{"not yet", Stated}
	}
	b.checked(occasion, a, w)
	switch a.Word {
	case "found":
		return Span{"found", Value}
	case "differs":
		return Span{"differs", Caution}
	case "not found":
		return Span{"not found", Caution}
	case "cannot see now":
		return Span{"later", Caution}
	case "inside":
		return Span{"inside", Value}
	}
	return Span{a.Word, Value}
}

// checked adds what a check found otherwise than listed, and who settled it.
func (b *builder) checked(occasion int, a Answer, w *words) {
	if (a.Word == "found" || a.Word == "inside" && a.Note == "") && len(a.Others) == 0 {
		return
	}
	w.add(Caution, ". "+occasions[occasion]+": "+a.Word)
	for i, d := range a.Differences {
		own := d.Field == lines.FieldOther // the finder's own words stand against nothing on the sheet
		switch {
		case i > 0:
			w.fixed("; ")
		case own:
			w.fixed(": ")
		default:
			w.fixed(" in ")
		}
		if !own {
			w.label(lines.AttributeName(d.Field))
			w.fixed(": sheet ")
			w.value(orNot(d.Sheet))
			w.fixed(", bedside ")
		}
		w.strong(orNot(d.Bedside))
	}
	if a.Note != "" {
		w.fixed(", ")
		w.value(a.Note)
	}
	if !a.LookAgain.IsZero() {
		w.fixed(", look again by ")
		w.strong(b.when(a.LookAgain))
	}
	for _, o := range a.Others {
		w.add(Conflict, "; ANSWERED OTHERWISE: "+o)
	}
	w.fixed(" (")
	w.value(name(a.By))
	w.fixed(", ")
	w.value(b.when(a.At))
	w.fixed(")")
	switch {
	case a.SettledBy != "":
		w.fixed(", signed for by ")
		w.value(a.SettledBy)
		w.fixed(": ")
		w.value(orNot(a.Settled))
	case a.Word == "differs" || a.Word == "not found":
		w.add(Caution, ", NOT YET SETTLED")
	}
}

func orNot(s string) string {
	if s == "" {
		return schema.NotRecorded
	}
	return s
}

// extras are things found at a bedside check and not listed.
func (b *builder) extras() []Line {
	var out []Line
	for i, c := range b.f.Checks {
		for _, a := range c.Extra {
			w := words{{"Found and NOT LISTED", Caution}}
			if a.Flag > 0 { // it is in the list above, and no second thing
				w = words{{fmt.Sprintf("Found and not listed then, tag %d now", a.Flag), Caution}}
			}
			b.checked(i, a, &w)
			out = append(out, Line{Spans: w, Frame: true})
		}
	}
	return out
}
