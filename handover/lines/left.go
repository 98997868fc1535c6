package lines

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Left is something that stands on the banner of every page of the child until it
// is reconciled: an open chest, packs, a membrane, a spreader, a throat pack, what came
// out in part; and what was cut and left inside, which is not to come out, but which the
// next surgeon, or who is asked for magnetic resonance imaging, must not miss.
type Left struct {
	Item  ledger.ItemID // "" for the open chest, and for packs that are counted and not listed
	Tag   int
	What  string // the variety, or [ChestOpen]
	Words string // for the banner: "Chest open", "Packs, 3", "Cut and left inside: atrial wires, 2, 14-Jul-2026"
	Cut   bool   // it was cut and left inside
	Said  string // of what was cut: what was said of it then, by whom, and its MRI status as listed

	clock ledger.Clock // of what was cut: when that was entered
}

// InsideBefore is what was cut and left inside before a note was begun: what the one who
// goes in must know of.
func InsideBefore(rec *ledger.Record, note ledger.NoteID) []Left {
	v, _ := rec.NoteView(note)
	return slices.DeleteFunc(LeftIn(rec), func(l Left) bool { return !l.Cut || l.clock > v.Clock })
}

// ChestOpen is the name of an open chest in [Left].
const ChestOpen = "chest-open"

// bannered are the varieties of what is left on purpose that stand on the banner.
var bannered = []string{"packs", "swabs", "membrane", "sternal-spreader", "throat-pack", "negative-pressure-dressing"}

// counted tells whether the item is packs or swabs: they are accounted for by number.
func counted(it schema.Item) bool {
	return it.Kind == "left-on-purpose" && (it.Text("variety") == "packs" || it.Text("variety") == "swabs")
}

// Became says of an item that is in, but not whole or not in its place, what became
// of it, who recorded it and when: "cut and left (2 cm under the skin), A. Surgeon
// (surgeon), 14-Jul-2026 09:42". It is "" for one that is in whole, and for one that
// is out. Going with the child makes no stump whole, nor does seeing it again.
func Became(v ledger.ItemView) string {
	words, cut := "", ""
	for i := range v.Events {
		e := &v.Events[i]
		how := ""
		var said []string
		switch e.Kind {
		case ledger.KindCutLeft:
			cut = became(e, strings.TrimSpace(e.Facts.Cut+" "+string(ledger.CutAndLeft)), nil)
			if e.Facts.Others != "yes" {
				words = ""
			}
		case ledger.KindLost:
			how = string(ledger.Lost)
		case ledger.KindToTheatre:
			how = string(ledger.InTheatre)
		case ledger.KindRemoved, ledger.KindExchanged:
			words = ""
			if e.Facts.RemovedPart() {
				how = string(e.Facts.Part())
			} else if e.Leaves != ledger.CutAndLeft {
				cut = ""
			}
			said = append(said, e.Facts.LeftBehind()...)
		case ledger.KindPlaced:
			words, cut = "", ""
		case ledger.KindMoved, ledger.KindConfirmed:
			words = ""
		}
		if how != "" {
			words = became(e, how, said)
		}
	}
	if words != "" && cut != "" {
		return cut + "; " + words
	}
	return cut + words
}

// became words one event, with what was said, by whom and when.
func became(e *ledger.ItemEvent, how string, said []string) string {
	if e.Facts.Note != "" {
		said = append(said, e.Facts.Note)
	}
	if len(said) > 0 {
		how += " (" + strings.Join(said, ", ") + ")"
	}
	return how + ", " + e.Author.String() + ", " + e.When()
}

// cutSaid is what is known of what was cut and left inside: the words said when it was, by
// whom, and what the list says of the whole thing and magnetic resonance imaging.
func cutSaid(r Rest, it schema.Item) string {
	words := cmp.Or(r.By.Facts.Note, "what is left is "+schema.NotRecorded) + ", " + r.By.Author.Name
	if f := it.Note().FieldAt(it.Path("mri")); f != nil {
		words += ". " + f.Title + " as listed: " + lower(schema.Show(f, it.Note(), it.Path("mri")))
	}
	return words
}

// LeftIn lists what is to stand on the banner, the open chest first. The latest
// note that says so decides whether the chest is open; an item stands there until
// an event says how it went. Where two people disagree, the worse of it stands there.
func LeftIn(rec *ledger.Record) []Left {
	var out []Left
	notes := rec.Notes()
	for i := len(notes) - 1; i >= 0; i-- {
		said := texts(rec.Values(notes[i].ID, schema.ClosingSternum))
		if len(said) == 0 {
			continue
		}
		if slices.Contains(said, "open") {
			out = append(out, Left{What: ChestOpen, Words: "Chest open" + disputed(said)})
		}
		break
	}
	tree := rec.Child()
	var packs []ledger.ItemView // packs and swabs that are listed, whatever became of them
	for _, v := range rec.Items() {
		it, ok := tree.Item(string(v.ID))
		if !ok || v.Withdrawn {
			continue
		}
		rest := LeftOf(&v, it)
		if v.Where.In() && rest.Cut != "" {
			out = append(out, Left{v.ID, v.Tag, it.Text("variety"), rest.inside(it), true, cutSaid(rest, it), rest.By.Clock})
		}
		if v.Kind != "left-on-purpose" {
			if rest.Part != "" && v.Where.In() {
				out = append(out, Left{Item: v.ID, Tag: v.Tag, Words: rest.named(rest.Part, it)})
			}
			continue
		}
		which := []string{it.Text("variety")}
		if which[0] == "" { // not recorded, or in dispute: it may be one of these
			which = texts(rec.Values("", it.Path("variety")))
		}
		if len(which) > 0 && !slices.ContainsFunc(which, func(w string) bool { return slices.Contains(bannered, w) }) {
			continue
		}
		if slices.Contains(which, "packs") || slices.Contains(which, "swabs") {
			packs = append(packs, v)
		}
		if !v.Where.In() || v.Stand() == ledger.StandsCut {
			continue
		}
		words := FullName(it)
		if rest.Part != "" {
			words = rest.named(rest.Part, it)
		}
		words += disputed(which)
		if len(which) == 0 {
			words += ", which " + schema.NotRecorded
		}
		if v.Where != ledger.InChild && v.Where != ledger.RemovedPart && v.Where != ledger.PerhapsPart {
			words += " (" + string(v.Where) + ")"
		}
		out = append(out, Left{Item: v.ID, Tag: v.Tag, What: it.Text("variety"), Words: words})
	}
	for i := len(notes) - 1; i >= 0; i-- {
		vs := rec.Values(notes[i].ID, schema.CountsPacksLeft)
		vs = slices.DeleteFunc(vs, ledger.Value.Cleared)
		if len(vs) == 0 {
			continue
		}
		most := 0.0
		var said []string
		var last ledger.Clock
		for _, v := range vs {
			text := ""
			if n, ok := v.Value.(json.Number); ok {
				text = string(n)
			}
			k, _ := number(text)
			most, said, last = max(most, k), append(said, text), max(last, v.Clock)
		}
		// What is listed and in is on the banner already. What came out by the same
		// note was counted after; what came out since was counted before.
		for _, v := range packs {
			n := most
			if it, _ := tree.Item(string(v.ID)); it.Decimal("count") != "" {
				n, _ = number(it.Decimal("count"))
			}
			if v.Where.In() || outSince(v, notes[i].ID, last) {
				most -= n
			}
		}
		if most > 0 {
			out = append(out, Left{What: "packs", Words: "Packs, " + strconv.Itoa(int(most)) + ", not listed" + disputed(said)})
		}
		break
	}
	return out
}

// outSince tells whether an item that is out was said to be out after the clock, and
// not by the note.
func outSince(v ledger.ItemView, note ledger.NoteID, after ledger.Clock) bool {
	return slices.ContainsFunc(v.Events, func(e ledger.ItemEvent) bool {
		return (e.Kind == ledger.KindRemoved || e.Kind == ledger.KindExchanged) && e.Note != note && e.Clock > after
	})
}

// texts are the values that are text.
func texts(vs []ledger.Value) []string {
	var out []string
	for _, v := range vs {
		if s, ok := v.Value.(string); ok && !v.Cleared() {
			out = append(out, s)
		}
	}
	return out
}

// disputed says that values differ.
func disputed(said []string) string {
	for _, s := range said {
		if s != said[0] {
			return " (in dispute)"
		}
	}
	return ""
}
