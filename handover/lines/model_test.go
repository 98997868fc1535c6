package lines

import (
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"

	"pgregory.net/rapid"
)

// plainItem is what the model says of one item.
type plainItem struct {
	kind, where string
	note, clock string // the one it was listed in, and when
	withdrawn   bool
	counts      string    // as what it counts
	put         time.Time // as its own field has it; zero where it has not
	open        []string  // problems that are open, by event
	faults      []string  // "rule event"
}

// plainRegister works the register out from the events as they are written, in the
// plainest way: for every event it looks at all the others. It shares nothing with
// the fold but the format.
type plainRegister struct {
	events []plainEvent
	items  map[string]*plainItem
	silent []string // cuts that left others in: they say nothing of where the thing is
	stumps []string // what left nothing but what was cut in
}

type plainEvent struct {
	id, kind, clock   string
	happened, entered time.Time
	item, note        string
	body              map[string]any
	facts             map[string]any // of output
}

func (e plainEvent) text(name string) string   { s, _ := e.body[name].(string); return s }
func (e plainEvent) output(name string) string { s, _ := e.facts[name].(string); return s }

func (e plainEvent) names(member, id string) bool {
	list, _ := e.body[member].([]any)
	return slices.Contains(list, any(id))
}

// where the event leaves its item, "" if it says nothing of that.
func (e plainEvent) where() string {
	switch e.kind {
	case "removed", "exchanged":
		if e.text("complete") == "no" {
			return "removed in part"
		}
		if e.text("complete") == "not known" || e.text("tipSeen") == "no" || e.text("tipSeen") == "not known" {
			return "out, perhaps not whole"
		}
		return e.kind
	case "placed", "moved", "confirmed":
		return "in"
	case "cut and left", "lost", "taken back to theatre", "gone home", "transferred":
		return e.kind
	}
	return ""
}

func (e plainEvent) before(o plainEvent) bool {
	if !e.happened.Equal(o.happened) {
		return e.happened.Before(o.happened)
	}
	return cmp.Or(cmp.Compare(e.clock, o.clock), cmp.Compare(e.id, o.id)) < 0
}

func plainOf(t rapid.TB, child ledger.CaseID, events []ledger.Event) *plainRegister {
	m := &plainRegister{items: map[string]*plainItem{}}
	seen := map[ledger.EventID]bool{}
	void := map[string]bool{}
	for _, e := range events {
		if seen[e.ID] || e.Case != child {
			continue
		}
		seen[e.ID] = true
		p := plainEvent{id: string(e.ID), kind: e.Kind, clock: string(e.Clock), note: string(e.Note), happened: e.Happened.Instant(), entered: e.Entered.Instant()}
		if err := json.Unmarshal(e.Body, &p.body); err != nil {
			t.Fatal(err)
		}
		p.item = p.text("item")
		p.facts, _ = p.body["output"].(map[string]any)
		m.events = append(m.events, p)
		if e.Kind == "retracted" {
			for _, x := range p.body["events"].([]any) {
				void[x.(string)] = true
			}
		}
	}
	m.events = slices.DeleteFunc(m.events, func(e plainEvent) bool { return void[e.id] && e.kind != "retracted" })
	for _, e := range m.events {
		if e.kind == "item listed" && m.items[e.item] == nil {
			m.items[e.item] = &plainItem{kind: e.text("kind"), where: "in", note: e.note, clock: e.clock}
		}
	}
	for id, it := range m.items {
		for _, e := range m.events {
			if e.kind == "field set" && e.text("path") == "items."+id+".placed" {
				at, err := schema.ParseMoment(e.text("value"))
				if err != nil {
					t.Fatal(err)
				}
				it.put = at.Instant()
			}
		}
		m.work(id, it)
	}
	return m
}

// lastWhere is the last event before e (or of all, without e) that says where the
// item is.
func (m *plainRegister) lastWhere(item string, e *plainEvent) (last plainEvent, ok bool) {
	for _, o := range m.events {
		if o.item == item && o.where() != "" && !slices.Contains(m.silent, o.id) && (e == nil || o.before(*e)) && (!ok || last.before(o)) {
			last, ok = o, true
		}
	}
	return last, ok
}

func (m *plainRegister) settled(id string) bool {
	return slices.ContainsFunc(m.events, func(e plainEvent) bool { return e.kind == "difference settled" && e.text("check") == id })
}

// held is what the chamber held after a reading, and whether that is known.
func (m *plainRegister) held(e plainEvent) (float64, bool) {
	if begins, fresh := m.fresh(e); fresh {
		return begins, true
	}
	if total, err := strconv.ParseFloat(e.output("total"), 64); err == nil {
		return total, true
	}
	was, ok := m.heldBefore(e)
	volume, _ := strconv.ParseFloat(cmp.Or(e.output("volume"), "0"), 64)
	return was + volume, ok
}

// fresh is where counting begins after a reading that says so, itself or by the one
// that it corrects.
func (m *plainRegister) fresh(e plainEvent) (float64, bool) {
	if e.output("emptied") == "yes" || e.output("changed") == "yes" {
		begins, _ := strconv.ParseFloat(cmp.Or(e.output("begins"), "0"), 64)
		return begins, true
	}
	if was, ok := m.corrected(e); ok {
		return m.fresh(was)
	}
	return 0, false
}

// corrected is the reading of the same minute that another takes the place of.
func (m *plainRegister) corrected(e plainEvent) (plainEvent, bool) {
	figure := func(x plainEvent) string { return x.output("total") + x.output("volume") }
	own := e.output("emptied") == "yes" || e.output("changed") == "yes"
	last, found := m.readBefore(e, func(o plainEvent) bool {
		return figure(o) != "" || o.output("emptied") == "yes" || o.output("changed") == "yes"
	})
	if !found || figure(e) == "" || figure(last) == "" || !last.happened.Equal(e.happened) {
		return last, false
	}
	if _, fresh := m.fresh(last); fresh && !own && e.output("total") != "" {
		now, _ := strconv.ParseFloat(e.output("total"), 64)
		was, err := strconv.ParseFloat(last.output("total"), 64)
		return last, err == nil && now >= was
	}
	return last, true
}

// readBefore is the last reading of the same item before another that counts.
func (m *plainRegister) readBefore(e plainEvent, counts func(plainEvent) bool) (last plainEvent, found bool) {
	for _, o := range m.events {
		if o.item == e.item && o.kind == "output read" && o.before(e) && counts(o) && (!found || last.before(o)) {
			last, found = o, true
		}
	}
	return last, found
}

func (m *plainRegister) heldBefore(e plainEvent) (float64, bool) {
	if was, ok := m.corrected(e); ok {
		return m.heldBefore(was)
	}
	last, found := m.readBefore(e, func(plainEvent) bool { return true })
	if !found {
		return 0, false
	}
	return m.held(last)
}

// opened is when the note was opened.
func (m *plainRegister) opened() string {
	for _, e := range m.events {
		if e.kind == "note opened" {
			return e.clock
		}
	}
	return ""
}

var plainClass = map[string]string{"removed": "out-twice", "exchanged": "out-twice", "cut and left": "left-after-out", "lost": "left-after-out",
	"taken back to theatre": "left-after-out", "gone home": "left-after-out", "transferred": "left-after-out", "output read": "said-after-out",
	"pressure read": "said-after-out", "threshold tested": "said-after-out", "connected": "said-after-out", "disconnected": "said-after-out",
	"problem": "said-after-out", "need answered": "said-after-out", "moved": "said-after-out"}

var plainRegisterKinds = append([]string{"placed", "confirmed", "checked"}, slices.Sorted(func(yield func(string) bool) {
	for k := range plainClass {
		if !yield(k) {
			return
		}
	}
})...)

// follow says where the thing is and as what it counts: of what is in of it, it keeps
// what reaches out, and what was cut and left inside.
func (m *plainRegister) follow(id string, it *plainItem) {
	var of []plainEvent
	for _, e := range m.events {
		if e.item == id && e.where() != "" {
			of = append(of, e)
		}
	}
	slices.SortFunc(of, func(a, b plainEvent) int {
		if a.before(b) {
			return -1
		}
		return 1
	})
	in, goes := map[string]bool{"out": true}, false
	bed := func() bool {
		return slices.Contains([]string{"in", "removed in part", "out, perhaps not whole", "taken back to theatre", "lost"}, it.where)
	}
	for i := range of {
		e := &of[i]
		to := e.where()
		switch to {
		case "removed", "exchanged":
			if in["out"] && in["cut"] {
				in, to = map[string]bool{"cut": true}, "cut and left"
			} else {
				in = map[string]bool{}
			}
		case "cut and left":
			if e.text("others") == "yes" && in["out"] {
				in["cut"] = true
				m.silent = append(m.silent, e.id)
				continue
			}
			in = map[string]bool{"cut": true}
		case "in", "removed in part", "out, perhaps not whole":
			if e.kind == "placed" || !in["out"] {
				in = map[string]bool{"out": true}
			}
		default:
			if len(in) == 0 {
				in["out"] = true
			}
		}
		goes = (to == "gone home" || to == "transferred") && (goes || bed())
		it.where = to
		if to == "cut and left" {
			m.stumps = append(m.stumps, e.id)
		}
	}
	switch {
	case len(in) == 0:
		it.counts = it.where
	case it.kind == "implant":
		it.counts = "implant"
	case !in["out"]:
		it.counts = "cut and left"
	case goes, bed() && it.where != "lost":
		it.counts = "in"
	default:
		it.counts = it.where
	}
}

func (m *plainRegister) work(id string, it *plainItem) {
	m.follow(id, it)
	for _, e := range m.events {
		if e.kind == "item withdrawn" && e.item == id {
			unseen := slices.ContainsFunc(m.events, func(o plainEvent) bool {
				return o.item == id && slices.Contains(plainRegisterKinds, o.kind) && !e.names("saw", o.id)
			})
			it.withdrawn = it.withdrawn || !unseen
		}
	}
	fault := func(rule string, e plainEvent) {
		if !m.settled(e.id) {
			it.faults = append(it.faults, rule+" "+e.id)
		}
	}
	for _, e := range m.events {
		if e.item != id || !slices.Contains(plainRegisterKinds, e.kind) {
			continue
		}
		was, ok := m.lastWhere(id, &e)
		out := ok && (was.where() == "removed" || was.where() == "exchanged") && !slices.Contains(m.stumps, was.id)
		if rule := plainClass[e.kind]; out && rule != "" && !(e.text("others") == "yes" && was.text("number") != "") {
			fault(rule, e)
		}
		if e.kind == "placed" {
			if !out && slices.ContainsFunc(m.events, func(o plainEvent) bool { return o.item == id && o.kind == "placed" && o.before(e) }) {
				fault("placed-twice", e)
			}
		} else if slices.ContainsFunc(m.events, func(o plainEvent) bool { return o.item == id && o.kind == "placed" }) &&
			!slices.ContainsFunc(m.events, func(o plainEvent) bool {
				return o.item == id && o.kind == "placed" && !o.happened.After(e.happened)
			}) {
			fault("before-placed", e)
		} else if !slices.ContainsFunc(m.events, func(o plainEvent) bool { return o.item == id && o.kind == "placed" }) && it.put.After(e.happened) {
			fault("before-placed", e)
		}
		if e.happened.Sub(e.entered) > 5*time.Minute {
			fault("happened-later-than-entered", e)
		}
		if f := e.text("for"); e.kind == "exchanged" && f != "" && (m.items[f] == nil || f == id) {
			fault("exchanged-for-unknown", e)
		}
		if total, err := strconv.ParseFloat(e.output("total"), 64); err == nil {
			if held, known := m.heldBefore(e); known && total < held {
				fault("total-falls", e)
			}
		}
		if e.kind == "problem" && !m.settled(e.id) {
			it.open = append(it.open, e.id)
		}
	}
	slices.Sort(it.faults)
}

// story makes a random sequence of up to n events about one child, as several
// people at several tablets might write them: out of order, about things not
// listed, at times that cannot be, about another child.
func story(t *rapid.T, n int) (ledger.CaseID, []ledger.Event) {
	seed := rapid.Uint64().Draw(t, "seed")
	r := rand.New(rand.NewPCG(seed, 5))
	wall := time.Date(2026, 7, 14, 14, 0, 0, 0, time.UTC)
	now := func() time.Time { return wall }
	var key [32]byte
	for i := range key {
		key[i] = byte(r.Uint32())
	}
	ids := ledger.NewIDs(rand.NewChaCha8(key), now)
	civil := func() schema.Moment {
		return schema.MomentOf(wall.Year(), int(wall.Month()), wall.Day(), wall.Hour(), wall.Minute(), 0, "")
	}
	child, other := ledger.CaseID(ids.New()), ledger.CaseID(ids.New())
	var ws []*ledger.Writer
	for i := range 3 {
		ws = append(ws, ledger.NewWriterAt(child, ledger.Author{Name: fmt.Sprintf("P%d. Example", i), Role: "nurse"}, now, ids, civil))
	}
	note := ws[0].NewNote()
	out := []ledger.Event{ws[0].OpenCase(), ws[0].OpenNote(note, schema.Stage1)}
	kinds := []string{"drain", "drain-chamber", "intracardiac-line", "pacing-wires", "left-on-purpose", "arterial-line", "implant"}
	var items []ledger.ItemID
	for range 2 + r.IntN(5) {
		items = append(items, ws[0].NewItem())
	}
	unlisted := len(items) - r.IntN(2)
	for i, id := range items[:unlisted] {
		out = append(out, ws[r.IntN(3)].ListItem(note, id, kinds[r.IntN(len(kinds))], i+1))
	}
	var rounds []ledger.EventID
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	figure := func() string { return pick("", "0", "5", "12.5", "40") }
	length := rapid.IntRange(1, n).Draw(t, "events")
	for len(out) < length {
		wall = wall.Add(time.Duration(r.IntN(60)) * time.Minute)
		w := ws[r.IntN(3)]
		if r.IntN(4) == 0 { // told later than it happened, or with a wrong time
			w = w.At(civil().Add(time.Duration(r.IntN(900)-600) * time.Minute))
		}
		id := items[r.IntN(len(items))]
		switch k := r.IntN(26); k {
		case 0:
			out = append(out, w.ReadOutput(id, ledger.Output{Volume: figure(), Emptied: pick("", "yes")}))
		case 1, 2, 3:
			out = append(out, w.ReadOutput(id, ledger.Output{Total: figure(), Changed: pick("", "", "", "yes"), Begins: pick("", "3"), Colour: "serous"}))
		case 4:
			out = append(out, w.ReadPressure(id, ledger.Pressure{Mean: figure()}))
		case 5:
			out = append(out, w.TestWires(id, ledger.WireTest{Threshold: figure(), Rhythm: "sinus"}))
		case 6:
			out = append(out, w.Connect(id, pick("distal", ""), "milrinone"))
		case 7:
			out = append(out, w.Disconnect(id, "distal", ""))
		case 8, 9:
			out = append(out, w.ReportProblem(id, pick("leaking", "dislodged", "clamped"), "", "", ""))
		case 10:
			o := w.OpenRound()
			rounds = append(rounds, o.ID)
			out = append(out, o)
		case 11, 12:
			round := ledger.EventID(ids.New()) // one that nobody has heard of
			if len(rounds) > 0 && r.IntN(10) > 0 {
				round = rounds[r.IntN(len(rounds))]
			}
			out = append(out, w.AnswerNeed(round, id, []ledger.Needed{ledger.StillNeeded, ledger.ToComeOut, ledger.NotAskedNow}[r.IntN(3)], "why"))
		case 13:
			if len(rounds) > 0 {
				out = append(out, w.CloseRound(ledger.FoldCase(child, out), rounds[r.IntN(len(rounds))], "called away"))
			}
		case 14, 15:
			out = append(out, w.Remove(id, ledger.RegisterFacts{Complete: pick("", "yes", "no", "not known"), TipSeen: pick("", "yes", "no", "not known")}))
		case 16:
			if r.IntN(2) == 0 {
				out = append(out, w.Happen(ledger.KindExchanged, id, ledger.RegisterFacts{For: items[r.IntN(len(items))], Complete: pick("", "yes", "no")}))
			} else if len(items) < 12 {
				fresh, es := w.Exchange(ledger.FoldCase(child, out), id, "drain", ledger.RegisterFacts{TipSeen: pick("", "yes", "no")})
				items = append(items, fresh)
				out = append(out, es...)
			}
		case 17:
			out = append(out, w.Transfer(id, "Ward of examples", "N. Example", "day 7"))
		case 18:
			out = append(out, w.GoHome(id, "parents", "clinic"))
		case 19:
			out = append(out, w.Settle("", out[r.IntN(len(out))].ID, "looked again", ""))
		case 20:
			if e := out[r.IntN(len(out))]; slices.Contains(ledger.RegisterKinds, e.Kind) {
				out = append(out, w.Retract("", []ledger.EventID{e.ID}, "by mistake", ""))
			}
		case 21:
			if r.IntN(3) == 0 {
				out = append(out, w.WithdrawItem(ledger.FoldCase(child, out), id, "by mistake"))
			} else if r.IntN(3) == 0 {
				out = append(out, w.For(other).Happen(ledger.KindRemoved, id, ledger.RegisterFacts{}))
			}
		case 22:
			out = append(out, w.Happen(ledger.KindCutLeft, id, ledger.RegisterFacts{Cut: "1", Others: "yes"}))
		case 23:
			out = append(out, w.Remove(id, ledger.RegisterFacts{Complete: "yes", Number: "1"}))
		default:
			out = append(out, w.Happen(pick(ledger.KindPlaced, ledger.KindConfirmed, ledger.KindChecked, ledger.KindMoved, ledger.KindCutLeft, ledger.KindLost, ledger.KindToTheatre), id, ledger.RegisterFacts{}))
		}
	}
	return child, out[:min(len(out), n)]
}

// says is everything the register says, as text.
func says(rec *ledger.Record, p *profile.Profile, now schema.Moment) string {
	b, err := json.Marshal(struct {
		Register Register
		Rounds   []ledger.Round
		Items    []ledger.ItemView
	}{RegisterOf(rec, p, now), rec.Rounds(), rec.Items()})
	if err != nil {
		return err.Error()
	}
	return string(b)
}

// TestRegisterAgainstModel holds the register against a plain model of it: where
// each item is, its faults, its open problems, the tally; that any order, with
// repeats and delays, says the same; and that every list of the register lists
// exactly what is in. `make soak` draws 100 000 sequences of up to 200 events.
func TestRegisterAgainstModel(t *testing.T) {
	checks := "400"
	if os.Getenv("FAIRLEAD_SOAK") != "" {
		checks = "100000"
	}
	was := flag.Lookup("rapid.checks").Value.String()
	if err := flag.Set("rapid.checks", checks); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := flag.Set("rapid.checks", was); err != nil {
			t.Error(err)
		}
	}()
	p, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	now := schema.MomentOf(2026, 7, 20, 12, 0, 0, "")
	rapid.Check(t, func(t *rapid.T) {
		child, events := story(t, 200)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 6))
		rec := ledger.FoldCase(child, events)
		want := says(rec, p, now)

		late := ledger.FoldCase(child, nil) // events arrive in any order, some twice, some much later
		shuffled := append(slices.Clone(events), events[:len(events)/3]...)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		for len(shuffled) > 0 {
			n := 1 + r.IntN(len(shuffled))
			late.Apply(shuffled[:n]...)
			if r.IntN(3) == 0 { // it is looked at in between
				RegisterOf(late, p, now)
			}
			shuffled = shuffled[n:]
		}
		if got := says(late, p, now); got != want {
			t.Fatalf("in another order the register says\n%s\nand in this\n%s", got, want)
		}

		m := plainOf(t, child, events)
		reg := RegisterOf(rec, p, now)
		var faults []string
		for _, f := range rec.Faults() {
			for _, rule := range []string{ledger.RuleOutTwice, ledger.RuleLeftAfterOut, ledger.RuleSaidAfterOut, ledger.RuleBeforePlaced, ledger.RulePlacedTwice,
				ledger.RuleTotalFalls, ledger.RuleHappenedLater, ledger.RuleExchangeUnknown} {
				if f.Rule == rule {
					faults = append(faults, rule+" "+string(f.Events[len(f.Events)-1]))
				}
			}
		}
		slices.Sort(faults)
		counts := map[string]int{}
		var modelFaults, in, looked []string
		for id, it := range m.items {
			v, ok := rec.Item(ledger.ItemID(id))
			if !ok || string(v.Where) != it.where || v.Withdrawn != it.withdrawn {
				t.Fatalf("item %s is %q, withdrawn %v; the model says %q, %v", id, v.Where, v.Withdrawn, it.where, it.withdrawn)
			}
			if it.withdrawn {
				continue
			}
			counts["listed"]++
			counts[it.counts]++
			modelFaults = append(modelFaults, it.faults...)
			if slices.Contains([]string{"in", "removed in part", "out, perhaps not whole", "taken back to theatre", "lost"}, it.where) && it.kind != "implant" &&
				(it.note != "" || it.clock <= m.opened()) { // listed in the note, or in before it was opened
				looked = append(looked, id)
			}
			if it.where != "removed" && it.where != "exchanged" {
				in = append(in, id)
				e, ok := reg.Item(ledger.ItemID(id))
				if !ok {
					t.Fatalf("item %s is in, and not in the register", id)
				}
				var open []string
				for _, p := range e.Problems {
					if slices.Contains([]string{"leaking", "dislodged", "clamped"}, p.What) {
						open = append(open, string(p.Event))
					}
				}
				slices.Sort(open)
				slices.Sort(it.open)
				if !slices.Equal(open, it.open) {
					t.Fatalf("item %s has the open problems %v, the model says %v", id, open, it.open)
				}
			}
		}
		slices.Sort(modelFaults)
		if !slices.Equal(faults, modelFaults) {
			t.Fatalf("the faults are\n%s\nthe model says\n%s", strings.Join(faults, "\n"), strings.Join(modelFaults, "\n"))
		}
		tally := reg.Tally
		got := map[string]int{"listed": len(tally.Placed), "removed": len(tally.Removed), "exchanged": len(tally.Exchanged), "gone home": len(tally.GoneHome),
			"cut and left": len(tally.CutAndLeft), "transferred": len(tally.Transferred), "lost": len(tally.Lost), "in": len(tally.In), "implant": len(tally.Implants)}
		for where, n := range got {
			if counts[where] != n {
				t.Fatalf("the tally has %d %s, the model %d", n, where, counts[where])
			}
		}
		if !tally.Balances {
			t.Fatalf("the tally does not balance: %s", tally.Words())
		}

		// Every list lists exactly what is in.
		slices.Sort(in)
		same := func(what string, ids []string) {
			slices.Sort(ids)
			if !slices.Equal(ids, in) {
				t.Fatalf("%s lists %v, in are %v", what, ids, in)
			}
		}
		var shown, itemsIn []string
		for _, e := range reg.Items {
			shown = append(shown, string(e.ID))
		}
		for _, v := range rec.ItemsIn() {
			itemsIn = append(itemsIn, string(v.ID))
		}
		same("the register", shown)
		same("the record", itemsIn)
		for _, n := range rec.Notes() {
			var entries []string
			for _, e := range CheckOf(rec, n.ID, ledger.Arrival).Entries {
				entries = append(entries, e.Item.ID)
			}
			slices.Sort(entries)
			slices.Sort(looked)
			if !slices.Equal(entries, looked) {
				t.Fatalf("the check at the bed lists %v, to be looked for are %v", entries, looked)
			}
		}
		for _, d := range reg.Due {
			if d.What != DueSite && !slices.Contains(in, string(d.Item)) {
				t.Fatalf("%s is due of item %d, which is not in", d.What, d.Tag)
			}
		}
	})
}
