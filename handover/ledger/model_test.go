package ledger

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/schema"

	"pgregory.net/rapid"
)

// fingerprint is everything a record says, as text: two records are the same if
// and only if theirs are.
func fingerprint(r *Record) string {
	var b strings.Builder
	put := func(what string, v any) {
		j, err := json.Marshal(v)
		if err != nil {
			j = []byte(err.Error())
		}
		fmt.Fprintf(&b, "%s %s\n", what, j)
	}
	put("cases", r.Cases())
	put("child", json.RawMessage(r.Child().JSON()))
	notes := r.Notes()
	put("notes", notes)
	for id := range r.notes {
		if !slices.ContainsFunc(notes, func(v NoteView) bool { return v.ID == id }) {
			notes = append(notes, NoteView{ID: id})
		}
	}
	slices.SortFunc(notes, func(a, b NoteView) int { return strings.Compare(string(a.ID), string(b.ID)) })
	for _, v := range notes {
		put("note", json.RawMessage(r.Note(v.ID).JSON()))
		put("whole", json.RawMessage(r.Whole(v.ID).JSON()))
		put("problems", r.Problems(v.ID))
		put("signatures", r.Signatures(v.ID))
		put("standing", r.Standing(v.ID))
		for _, o := range []Occasion{Leaving, Arrival} {
			put("checks", r.Checks(v.ID, o))
			put("tally", r.Tally(v.ID, o))
			put("closings", r.Closings(v.ID, o))
		}
	}
	put("disagreements", r.Disagreements())
	put("items", r.Items())
	put("register", r.RegisterTally())
	put("rounds", r.Rounds())
	put("twins", r.Twins())
	put("next tag", r.NextTag())
	for _, e := range r.everything() {
		w := &Writer{id: e.Writer, author: e.Author}
		if put := fmt.Sprintln("undo", e.Writer, e.Author, w.CanUndo(r), w.CanRedo(r)); !strings.Contains(b.String(), put) {
			b.WriteString(put)
		}
	}
	put("offers", r.Offers())
	put("faults", r.Faults())
	put("length", r.Len())
	return b.String()
}

// naive works out what is in force at every path from the events as they are
// written, in the plainest way: it looks at every pair.
type naive struct{ events []naiveEvent }

type naiveEvent struct {
	ID   string         `json:"id"`
	Case string         `json:"case"`
	Note string         `json:"note"`
	Kind string         `json:"kind"`
	V    int            `json:"v"`
	Body map[string]any `json:"body"`
}

func newNaive(t rapid.TB, events []Event) *naive {
	n := &naive{}
	for _, e := range events {
		j, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		var ne naiveEvent
		if err := json.Unmarshal(j, &ne); err != nil {
			t.Fatal(err)
		}
		if ne.V == 1 { // the model knows no other
			n.events = append(n.events, ne)
		}
	}
	return n
}

func names(body map[string]any, member, id string) bool {
	list, _ := body[member].([]any)
	return slices.Contains(list, any(id))
}

func (n *naive) counts(e naiveEvent) bool {
	for _, r := range n.events {
		if r.Kind == "retracted" && names(r.Body, "events", e.ID) && r.Case == e.Case {
			back := false
			for _, w := range n.events {
				back = back || w.Kind == "retraction withdrawn" && names(w.Body, "events", r.ID)
			}
			if !back {
				return false
			}
		}
	}
	return true
}

// inForce lists the events of a kind, about the same thing, that count and that no
// other of them replaces.
func (n *naive) inForce(same func(naiveEvent) bool) []string {
	var out []string
	for _, e := range n.events {
		if !same(e) || !n.counts(e) {
			continue
		}
		replaced := false
		for _, o := range n.events {
			replaced = replaced || same(o) && n.counts(o) && o.ID != e.ID && names(o.Body, "replaces", e.ID)
		}
		if !replaced {
			out = append(out, e.ID)
		}
	}
	slices.Sort(out)
	return out
}

// childWide are the sections of the paths used here that hold for the child.
var childWide = []string{"child", "items", "anatomy"}

func (n *naive) values(note, path string) []string {
	section, _, _ := strings.Cut(path, ".")
	wide := slices.Contains(childWide, section)
	return n.inForce(func(e naiveEvent) bool {
		return e.Kind == "field set" && e.Body["path"] == path && (wide || e.Note == note)
	})
}

// rowIsThere says whether a row stands in its list.
func (n *naive) rowIsThere(note, list, row string) bool {
	section, _, _ := strings.Cut(list, ".")
	wide := slices.Contains(childWide, section)
	in := n.inForce(func(e naiveEvent) bool {
		return (e.Kind == "row added" || e.Kind == "row removed") && e.Body["list"] == list && e.Body["row"] == row && (wide || e.Note == note)
	})
	var removers []naiveEvent
	for _, e := range n.events {
		if slices.Contains(in, e.ID) {
			if e.Kind == "row added" {
				return true
			}
			removers = append(removers, e)
		}
	}
	any := false
	for _, e := range n.events {
		path, _ := e.Body["path"].(string)
		if e.Kind != "field set" || !strings.HasPrefix(path, list+"."+row+".") || !(wide || e.Note == note) || !slices.Contains(n.values(note, path), e.ID) {
			continue
		}
		any = true
		seen := len(removers) == 0
		for _, r := range removers {
			seen = seen || names(r.Body, "saw", e.ID)
		}
		_, value := e.Body["value"]
		_, stated := e.Body["stated"]
		if len(removers) > 0 && !seen && (value || stated) {
			return true
		}
	}
	return any && len(removers) == 0
}

// replica is one device.
type replica struct {
	rec    *Record
	w      *Writer
	signed map[EventID]map[EventID]bool // what the record held about the note when each signature was made
}

// world is several devices that write about one child, apart.
type world struct {
	b        *bench
	child    CaseID
	other    CaseID
	notes    []NoteID
	replicas []*replica
	pool     []Event // all events ever written
	rows     []string
	items    []ItemID
	r        *rand.Rand
}

var paths = []schema.Path{"child.surname", "child.bloodGroup", "measures.weight", "support.mode", "plan.feeding", "section-of-next-year.field"}

func newWorld(t *rapid.T) *world {
	seed := rapid.Uint64().Draw(t, "seed")
	w := &world{b: newBench(byte(seed)), r: rand.New(rand.NewPCG(seed, 2))}
	w.child, w.other = CaseID(w.b.ids.New()), CaseID(w.b.ids.New())
	for range 2 {
		w.notes = append(w.notes, NoteID(w.b.ids.New()))
		w.rows = append(w.rows, w.b.ids.New())
		w.items = append(w.items, ItemID(w.b.ids.New()))
	}
	w.items = append(w.items, ItemID(w.b.ids.New()))
	for i := range 3 {
		w.replicas = append(w.replicas, &replica{FoldCase(w.child, nil), w.b.writer(w.child, fmt.Sprintf("P%d. Example", i), "surgeon"), map[EventID]map[EventID]bool{}})
	}
	return w
}

func (w *world) write(p *replica, es ...Event) {
	p.rec.Apply(es...)
	w.pool = append(w.pool, es...)
}

// step does one thing on one device, and returns that device.
func (w *world) step(t *rapid.T) *replica {
	p := rapid.SampledFrom(w.replicas).Draw(t, "device")
	w.b.wall = w.b.wall.Add(time.Duration(rapid.IntRange(0, 90).Draw(t, "seconds")) * time.Second)
	note := rapid.SampledFrom(w.notes).Draw(t, "note")
	item := rapid.SampledFrom(w.items).Draw(t, "item")
	row := rapid.SampledFrom(w.rows).Draw(t, "row")
	list := rapid.SampledFrom([]schema.Path{"child.allergies", "support.runs"}).Draw(t, "list")
	rec, wr := p.rec, p.w
	switch rapid.SampledFrom([]string{"set", "set", "set", "set in row", "set on item", "set on item", "state", "clear", "add row", "remove row", "list", "withdraw",
		"keep item", "retag", "check", "settle", "close", "ask", "sign", "sign section", "amend", "tell", "undo", "redo", "retract", "unretract", "register", "took out", "took supply out",
		"discharge", "join", "part", "move", "open note", "share", "share", "share", "corrupt"}).Draw(t, "what") {
	case "set":
		path := rapid.SampledFrom(paths).Draw(t, "path")
		w.write(p, wr.Set(rec, note, path, w.entry(t, path)))
	case "set in row":
		w.write(p, wr.Set(rec, note, schema.RowPath(list, row, "substance"), Entry{Value: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "value")}))
	case "set on item":
		path := schema.ItemPath(string(item), rapid.SampledFrom([]string{"size", "side"}).Draw(t, "attribute"))
		w.write(p, wr.Set(rec, note, path, w.entry(t, path)))
	case "state":
		w.write(p, wr.Set(rec, note, rapid.SampledFrom(append(slices.Clone(paths), list)).Draw(t, "path"), Stated("none")))
	case "clear":
		w.write(p, wr.Set(rec, note, rapid.SampledFrom(paths).Draw(t, "path"), Entry{}))
	case "add row":
		w.write(p, wr.AddRow(rec, note, list, row)...)
	case "remove row":
		w.write(p, wr.RemoveRow(rec, note, list, row))
	case "list":
		if _, listed := rec.Item(item); !listed {
			tog := wr.Together()
			w.write(p, tog.ListItem(note, item, rapid.SampledFrom([]string{"drain", "implant", "arterial-line"}).Draw(t, "kind"), rec.NextTag()))
			w.write(p, tog.Set(rec, note, schema.ItemPath(string(item), "variety"), Entry{Value: "mediastinal"}))
		}
	case "withdraw":
		w.write(p, wr.WithdrawItem(rec, item, "listed by mistake"))
	case "keep item":
		if e, ok := wr.KeepItem(rec, item); ok {
			w.write(p, e)
		}
	case "retag":
		if _, ok := rec.Item(item); ok {
			w.write(p, wr.RetagItem(rec, item, rapid.IntRange(1, 4).Draw(t, "tag")))
		}
	case "check":
		o := rapid.SampledFrom([]Occasion{Leaving, Arrival}).Draw(t, "occasion")
		w.write(p, wr.Check(rec, note, CheckView{Item: item, Occasion: o, Answer: rapid.SampledFrom([]Answer{Found, Differs, NotFound, Extra, CannotSee, Inside, NoAnswer}).Draw(t, "answer")}))
	case "settle":
		for _, c := range rec.Checks(note, Leaving) {
			w.write(p, wr.Settle(note, c.Event, "looked again", ""))
			break
		}
	case "close":
		w.write(p, wr.CloseCheck(rec, note, Leaving))
	case "ask":
		path := rapid.SampledFrom(paths).Draw(t, "path")
		w.write(p, wr.AnswerQuestion(rec, note, schema.Problem{Rule: "usual", Path: path}, rapid.SampledFrom([]string{"yes, really", ""}).Draw(t, "answer"), "seen"))
	case "sign":
		e := wr.SignNote(rec, note, rapid.IntRange(0, 2).Draw(t, "open"))
		held := map[EventID]bool{}
		for _, x := range rec.Events() {
			held[x.ID] = true
		}
		w.write(p, e)
		for _, q := range w.replicas {
			q.signed[e.ID] = held
		}
	case "sign section":
		w.write(p, wr.SignSection(rec, note, rapid.SampledFrom([]string{"child", "items", "support"}).Draw(t, "section")))
	case "amend":
		w.write(p, wr.Amend(note, "a reason"))
	case "tell":
		w.write(p, wr.TellSheet(rec, note, "N. Example"))
	case "undo":
		if es, ok := wr.Undo(rec); ok {
			w.write(p, es...)
		}
	case "redo":
		if es, ok := wr.Redo(rec); ok {
			w.write(p, es...)
		}
	case "retract":
		if es := rec.Events(); len(es) > 0 {
			w.write(p, wr.Retract(note, []EventID{rapid.SampledFrom(es).Draw(t, "event").ID}, "wrong child", ""))
		}
	case "unretract":
		for _, e := range rec.Events() {
			if e.Kind == KindRetracted && e.Case == w.child {
				w.write(p, wr.WithdrawRetraction(note, e.ID, "right child after all"))
				break
			}
		}
	case "register":
		kind := rapid.SampledFrom(RegisterKinds).Draw(t, "kind")
		w.write(p, wr.Register(note, kind, item, RegisterFacts{Complete: rapid.SampledFrom([]string{"", "yes", "no"}).Draw(t, "complete")}))
	case "took out":
		tog := wr.Together()
		w.write(p, tog.AddRow(rec, note, "removals.out", row)...)
		w.write(p, tog.Set(rec, note, schema.RowPath("removals.out", row, "item"), Entry{Value: string(item)}))
		w.write(p, tog.Set(rec, note, schema.RowPath("removals.out", row, "how"), Entry{Value: rapid.SampledFrom([]string{"removed", "cut-and-left", "lost"}).Draw(t, "how")}))
	case "took supply out":
		w.write(p, wr.Set(rec, note, schema.Stage2OldSupply, Entry{Value: rapid.SampledFrom([]string{"taken-out", "clipped"}).Draw(t, "became")}))
		w.write(p, wr.Set(rec, note, schema.Stage2OldSupplyItems, Entry{Value: []string{string(item)}}))
	case "discharge":
		w.write(p, wr.Discharge())
	case "join":
		w.write(p, wr.Join(rec, w.other, "same number")...)
	case "part":
		w.write(p, wr.Part(rec, w.other, "not the same")...)
	case "move":
		for _, v := range rec.Values(note, "child.surname") {
			w.write(p, wr.MoveToOther(rec, []EventID{v.Event}, w.other, "wrong child")...)
		}
		for _, o := range rec.Offers() {
			w.write(p, wr.AnswerOffer(o, rapid.Bool().Draw(t, "taken"), nil)...)
			break
		}
	case "open note":
		w.write(p, wr.OpenNote(note, rapid.SampledFrom([]schema.Kind{schema.Stage1, schema.Closure}).Draw(t, "kind")))
	case "share":
		if len(w.pool) > 0 { // any events, in any order, with repeats
			n := rapid.IntRange(1, len(w.pool)).Draw(t, "how many")
			batch := make([]Event, n)
			for i := range batch {
				batch[i] = w.pool[w.r.IntN(len(w.pool))]
			}
			p.rec.Apply(batch...)
			wr.Observe(batch...)
		}
	case "corrupt":
		if len(w.pool) > 0 {
			e := w.pool[w.r.IntN(len(w.pool))]
			switch rapid.IntRange(0, 9).Draw(t, "how") {
			case 0: // one id, two bodies
				e.Author.Name += " "
			case 1:
				e.ID, e.Kind = EventID(w.b.ids.New()), "kind of next year"
			case 2:
				e.ID, e.V = EventID(w.b.ids.New()), 2
			case 3:
				e.ID, e.Body = EventID(w.b.ids.New()), json.RawMessage(`{"path":"child.stated","decimal":"x"}`)
			default:
				return p
			}
			w.write(p, e)
		}
	}
	return p
}

func (w *world) entry(t *rapid.T, p schema.Path) Entry {
	if p == "measures.weight" || p.Last() == "size" {
		return Number(rapid.SampledFrom([]string{"3.2", "3.20", "4", "0.5"}).Draw(t, "number"))
	}
	return Entry{Value: rapid.SampledFrom([]string{"one", "two", "three"}).Draw(t, "value")}
}

// check holds one device's record against the fold of its events in another order
// and against the naive model.
func (w *world) check(t *rapid.T, p *replica) {
	events := p.rec.everything()
	shuffled := slices.Clone(events)
	w.r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	shuffled = append(shuffled, shuffled[:len(shuffled)/3]...)
	got, want := fingerprint(p.rec), fingerprint(FoldCase(w.child, shuffled))
	if got != want {
		t.Fatalf("the record as it grew and the fold of its events in another order differ:\n%s", firstDifference(got, want))
	}
	if len(p.rec.bodies) > 0 || len(p.rec.foreign) > 0 || len(p.rec.Joined()) > 0 {
		return // the naive model knows one child and honest writers
	}
	n := newNaive(t, events)
	for _, note := range w.notes {
		tree := p.rec.Note(note)
		for _, path := range append(slices.Clone(paths), schema.ItemPath(string(w.items[0]), "size")) {
			var got []string
			for _, v := range p.rec.Values(note, path) {
				got = append(got, string(v.Event))
			}
			slices.Sort(got)
			if want := n.values(string(note), string(path)); !slices.Equal(got, want) {
				t.Fatalf("in force at %s of %s: %v, the model says %v", path, note, got, want)
			}
		}
		for _, list := range []schema.Path{"child.allergies", "support.runs"} {
			for _, row := range w.rows {
				if tree == nil {
					continue
				}
				got, want := slices.Contains(tree.Rows(list), row), n.rowIsThere(string(note), string(list), row)
				if got != want {
					t.Fatalf("row %s of %s stands %v, the model says %v", row, list, got, want)
				}
			}
		}
		for _, s := range p.rec.Signatures(note) {
			if s.Section != "" || p.signed[s.Event] == nil {
				continue
			}
			for _, c := range s.Changes {
				// (What was said of an item before it was listed shows only from then on.)
				if p.signed[s.Event][c.Event] && c.Item == "" && (c.Kind == KindFieldSet || c.Kind == KindRowAdded || c.Kind == KindRowRemoved) {
					t.Fatalf("event %s stood when the note was signed, and counts as a change after", c.Event)
				}
			}
			for _, c := range p.rec.Covered(note, "") {
				if !p.signed[s.Event][c] && !slices.ContainsFunc(s.Changes, func(x Change) bool { return x.Event == c }) {
					t.Fatalf("event %s came after the signature %s, and no change shows it", c, s.Event)
				}
			}
		}
	}
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return "grew:   " + x[i] + "\nfolded: " + y[i]
		}
	}
	return "one is longer"
}

// TestFoldAgainstModel drives three devices that write apart and share in any
// order, and holds every record, after every step, against the fold of the same
// events shuffled and repeated, and against the naive model. At the end all have
// everything, and say the same.
func TestFoldAgainstModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(t)
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			w.check(t, w.step(t))
		}
		for _, p := range w.replicas {
			w.r.Shuffle(len(w.pool), func(i, j int) { w.pool[i], w.pool[j] = w.pool[j], w.pool[i] })
			p.rec.Apply(w.pool...)
			w.check(t, p)
		}
		first := fingerprint(w.replicas[0].rec)
		for _, p := range w.replicas[1:] {
			if other := fingerprint(p.rec); other != first {
				t.Fatalf("two devices with the same events differ:\n%s", firstDifference(first, other))
			}
		}
		if len(w.pool) == 0 {
			return
		}
		file, err := Export(w.replicas[0].rec.everything())
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := Import(file)
		if err != nil {
			t.Fatal(err)
		}
		if other := fingerprint(FoldCase(w.child, back)); other != first {
			t.Fatalf("out of the device and in again differs:\n%s", firstDifference(first, other))
		}
		again, err := Export(back)
		if err != nil || !bytes.Equal(file, again) {
			t.Fatalf("the file written again differs (%v)", err)
		}
	})
}

// TestUndoRetraces does things one after the other on one device, then undoes all
// of them, then redoes all: each step back and forward shows the record as it was.
func TestUndoRetraces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := newBench(3)
		w := b.writer(CaseID(b.ids.New()), "A. Example", "surgeon")
		rec := FoldCase(w.Case(), nil)
		note := w.NewNote()
		rec.Apply(w.OpenCase(), w.OpenNote(note, schema.Stage1))
		rec.Apply(w.SignSection(rec, note, "items")) // nothing is undone behind a signature
		var items []ItemID
		var rows []string
		shown := func() string {
			var its []string
			for _, v := range rec.Items() {
				its = append(its, fmt.Sprint(v.ID, v.Tag, v.Withdrawn, v.Where))
			}
			slices.Sort(its)
			checks := map[ItemID]Answer{}
			for _, c := range rec.Checks(note, Leaving) {
				checks[c.Item] = c.Answer
			}
			// An item undone is withdrawn, and before it was never listed: both are not there.
			its = slices.DeleteFunc(its, func(s string) bool { return strings.Contains(s, "true") })
			return fmt.Sprint(string(rec.Whole(note).JSON()), its, slices.Sorted(maps.Keys(checks)), checks)
		}
		was := []string{shown()}
		steps := rapid.IntRange(1, 12).Draw(t, "steps")
		for range steps {
			b.wall = b.wall.Add(time.Minute)
			var es []Event
			switch rapid.IntRange(0, 9).Draw(t, "what") {
			case 0, 1:
				path := rapid.SampledFrom(paths).Draw(t, "path")
				es = []Event{w.Set(rec, note, path, Entry{Value: rapid.SampledFrom([]string{"one", "two"}).Draw(t, "value")})}
			case 2:
				es = []Event{w.Set(rec, note, rapid.SampledFrom(paths).Draw(t, "path"), Stated("unknown"))}
			case 3:
				rows = append(rows, w.NewRow())
				es = w.AddRow(rec, note, "child.allergies", rows[len(rows)-1])
			case 4:
				if len(rows) > 0 {
					es = []Event{w.Set(rec, note, schema.RowPath("child.allergies", rows[0], "substance"), Entry{Value: "latex"})}
				}
			case 5:
				if len(rows) > 0 && slices.Contains(rec.Note(note).Rows("child.allergies"), rows[0]) {
					es = []Event{w.RemoveRow(rec, note, "child.allergies", rows[0])}
				}
			case 6:
				items = append(items, w.NewItem())
				tog, id := w.Together(), items[len(items)-1]
				e := tog.ListItem(note, id, "drain", rec.NextTag())
				rec.Apply(e)
				es = []Event{tog.Set(rec, note, schema.ItemPath(string(id), "size"), Number("12"))}
			case 7:
				if v, ok := w.first(rec, items); ok && !v.Withdrawn {
					es = []Event{w.WithdrawItem(rec, v.ID, "by mistake")}
				}
			case 8:
				if v, ok := w.first(rec, items); ok {
					es = []Event{w.Check(rec, note, CheckView{Item: v.ID, Occasion: Leaving, Answer: rapid.SampledFrom([]Answer{Found, NotFound}).Draw(t, "answer")})}
				}
			case 9:
				if v, ok := w.first(rec, items); ok && !v.Withdrawn {
					es = []Event{w.Register(note, KindRemoved, v.ID, RegisterFacts{})}
				}
			}
			if es == nil {
				continue
			}
			rec.Apply(es...)
			was = append(was, shown())
		}
		for i := len(was) - 2; i >= 0; i-- {
			b.wall = b.wall.Add(time.Minute)
			es, ok := w.Undo(rec)
			if !ok {
				t.Fatalf("step %d of %d cannot be undone", i+1, len(was)-1)
			}
			rec.Apply(es...)
			if now := shown(); now != was[i] {
				t.Fatalf("step %d undone shows\n%s\nand before it stood\n%s", i+1, now, was[i])
			}
		}
		if _, ok := w.Undo(rec); ok || w.CanUndo(rec) {
			t.Fatal("more can be undone than was done")
		}
		for i := 1; i < len(was); i++ {
			b.wall = b.wall.Add(time.Minute)
			es, ok := w.Redo(rec)
			if !ok {
				t.Fatalf("step %d cannot be done again", i)
			}
			rec.Apply(es...)
			if now := shown(); now != was[i] {
				t.Fatalf("step %d done again shows\n%s\nand then stood\n%s", i, now, was[i])
			}
		}
		if fingerprint(rec) != fingerprint(Fold(rec.Events())) {
			t.Fatal("folded anew it differs")
		}
	})
}

func (w *Writer) first(r *Record, items []ItemID) (ItemView, bool) {
	for _, id := range items {
		if v, ok := r.Item(id); ok && !v.Withdrawn {
			return v, true
		}
	}
	return ItemView{}, false
}
