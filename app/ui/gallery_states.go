package ui

import (
	"strings"
	"time"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// A galleryState is one screen in one state.
type galleryState struct {
	name, screen, words string
	make                func(g *gallery)
}

// galleryStates lists every screen in every state. A new screen or a new state is
// added here; the browser tests go through all of them.
var galleryStates = []galleryState{
	{"children-none", "Children", "None kept yet", func(g *gallery) { g.list = nil }},
	{"children-nobody", "Children", "Nobody has said who is writing", func(g *gallery) { g.list, g.who = nil, ledger.Author{} }},
	{"children-reading", "Children", "Being read", func(g *gallery) { g.list, g.listRead = nil, false }},
	{"children", "Children", "Three, two with like names", func(g *gallery) {}},
	{"children-not-kept", "Children", "Nothing can be kept here", func(g *gallery) { g.storeTrouble = "The browser refuses to store anything for this page." }},
	{"notices", "Children", "Everything there is to say across the top", func(g *gallery) {
		g.shell.UpdateWaiting, g.offlineNews = true, true
		g.say(notice{id: "import", class: "bad", words: "The file ends in the middle of line 14. Save it again on the other device; nothing was taken from it."})
	}},

	{"child-new", "One child", "Begun, nothing recorded", func(g *gallery) { g.begin("", "child", "") }},
	{"child", "One child", "With five notes", func(g *gallery) { g.open(g.full, 0, "child", ""); g.place.Note = "" }},
	{"child-alike", "One child", "Another record that may be of the same child", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.place.Note = ""
		l := lineOf(g.child.rec)
		l.Case, l.Cases, l.Given, l.Last, l.Held = "0190a1b2-0000-7000-8000-00000000a11e", nil, "", "no note yet", ledger.Held{}
		g.list = append(g.list, l)
	}},
	{"child-joined", "One child", "With a joined record, to be parted with a reason half typed", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.place.Note = ""
		other := g.joined()
		g.child.half["part "+string(other)] = "The bands were read again, they"
	}},
	{"child-offered", "One child", "Entries made on another child first are offered", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.place.Note = ""
		g.offered()
	}},
	{"child-offered-note", "One child", "A whole signed note, made on another child first, is offered", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.place.Note = ""
		g.moveNote(g.others[1], g.child.id)
	}},
	{"review-taken-over", "Review", "Of a note that was signed on another child", func(g *gallery) {
		g.open(g.others[0], 0, "review", "")
		g.place.Note = g.moveNote(g.others[1], g.child.id)
		take, _ := g.child.writer.TakeOffer(g.child.rec, g.child.rec.Offers()[0], ledger.Into{})
		g.child.act(take...)
	}},
	{"child-moved", "One child", "A whole signed note was moved to another child", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.place.Note = ""
		g.moveNote(g.child.id, g.others[1])
	}},
	{"child-wrong-note", "One child", "Moving a whole signed note", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.child.act(g.child.writer.SignNote(g.child.rec, g.place.Note, 2))
		g.place.Note = ""
		for _, l := range movable(g.child.rec, g.who) {
			g.child.half[halfWrong] += string(l.Event) + " "
		}
	}},
	{"child-wrong", "One child", "Moving what was entered on the wrong child, half said", func(g *gallery) {
		g.open(g.others[0], 0, "child", "")
		g.set(schema.GasLactate, ledger.Number("2.1"))
		g.place.Note = ""
		g.child.half[halfWrongWhy] = "Two tablets lay on one bed"
	}},
	{"opening", "One child", "Being opened", func(g *gallery) { g.place = Place{Screen: "child", Case: g.full}; g.opening = true }},
	{"lost", "One child", "An address that leads nowhere", func(g *gallery) { g.place = Place{Screen: "nowhere"} }},
	{"leaving-us", "Going home", "With things still in", func(g *gallery) { g.open(g.others[0], 0, "leaving-us", ""); g.place.Note = "" }},
	{"leaving-us-answered", "Going home", "One thing goes along, the rest is out", func(g *gallery) {
		g.open(g.others[0], 0, "leaving-us", "")
		g.list1("gut-and-bladder", "gastric-tube", g.child.rec.NextTag())
		g.place.Note = ""
		open := unanswered(g.child.rec)
		for i, v := range open {
			kind, facts := ledger.KindRemoved, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Bleeding: "no"}
			if i == len(open)-1 {
				kind, facts = ledger.KindGoneHome, ledger.RegisterFacts{Knows: "Community nurse, on 0000", OutBy: "When feeds are established"}
			}
			g.child.act(g.child.writer.Register("", kind, v.ID, facts))
		}
		g.child.half[halfAskedWhy+lines.ChestOpen], g.child.half[halfAskedWho+lines.ChestOpen] = "Closed by the skin alone, to be reviewed", "Dr Example"
	}},
	{"leaving-us-half", "Going home", "To another ward, half said", func(g *gallery) {
		g.open(g.others[0], 0, "leaving-us", "")
		g.place.Note = ""
		id := string(unanswered(g.child.rec)[0].ID)
		for name, text := range map[string]string{halfWard: "yes", halfWhere: "Ward 5", halfForm + id: "goes", halfKnows + id: "Ward sister, on 00"} {
			g.child.half[name] = text
		}
	}},
	{"leaving-us-asked", "Going home", "With things in the heart and in an artery", func(g *gallery) {
		g.open(g.full, 0, "leaving-us", "")
		g.place.Note = ""
		for i, v := range unanswered(g.child.rec) {
			if i > 1 {
				g.child.act(g.child.writer.GoHome(v.ID, "Community nurse, on 0000", "Before school"))
			}
		}
	}},
	{"transfer", "Transfer sheet", "Some go along, some are not answered", func(g *gallery) {
		g.open(g.full, 0, "transfer", "")
		g.place.Note = ""
		for _, v := range unanswered(g.child.rec)[2:] {
			g.child.act(g.child.writer.Transfer(v.ID, "Ward 5", "Ward sister, on 0000", "Before going home"))
		}
	}},
	{"transfer-none", "Transfer sheet", "Nothing in", func(g *gallery) { g.begin("", "transfer", ""); g.place.Note = "" }},
	{"leaving-us-ended", "Going home", "Nothing in, the stay ended", func(g *gallery) {
		g.begin("", "leaving-us", "")
		g.child.act(g.child.writer.Discharge())
	}},

	{"section-empty", "Note", "A section, nothing recorded", func(g *gallery) { g.begin(schema.Stage1, "section", "measures") }},
	{"section-nobody", "Note", "Nobody has said who is writing", func(g *gallery) {
		g.begin(schema.Stage1, "section", "measures")
		g.who = ledger.Author{}
	}},
	{"section-filled", "Note", "A section filled and signed", func(g *gallery) { g.open(g.full, -1, "section", "support") }},
	{"section-on-record", "Note", "What is on record is offered to a new note, older notes folded", func(g *gallery) {
		g.open(g.full, 0, "section", "before")
		g.place.Note = g.child.writer.NewNote()
		g.child.act(g.child.writer.OpenNote(g.place.Note, schema.Stage3))
	}},
	{"section-wrong", "Note", "Typed and not taken, impossible, asked about", func(g *gallery) {
		g.begin(schema.Stage1, "section", "gas")
		o := g.child.open(g.place.Note)
		g.set(schema.GasPotassium, ledger.Number("9.9"))
		g.set(schema.GasPh, ledger.Number("7.01"))
		g.set(schema.GasHaemoglobin, ledger.Number("146")) // in g/L, in a field in g/dL
		o.drafts[schema.GasLactate] = Draft{Text: "2,1x", Wrong: "Write the lactate as a number, such as 2.1."}
		o.renew()
	}},
	{"section-two", "Note", "Two answers, given apart", func(g *gallery) {
		g.begin(schema.Stage1, "section", "measures")
		a := g.child.writer.Set(g.child.rec, g.place.Note, schema.MeasuresWeight, ledger.Number("3.1"))
		b := g.another("B. Gas", "anaesthetist").Set(g.child.rec, g.place.Note, schema.MeasuresWeight, ledger.Number("3.4"))
		g.child.act(a, b)
	}},
	{"section-amended", "Note", "Changed after the signature, reason wanted", func(g *gallery) {
		g.open(g.full, -1, "section", "measures")
		g.set(schema.MeasuresWeight, ledger.Number("14.9"))
	}},
	{"section-newer", "Note", "A kind of note from a newer version", func(g *gallery) { g.begin("stage9", "section", "") }},

	{"items-none", "Items", "Nothing listed", func(g *gallery) { g.begin(schema.Stage1, "items", "") }},
	{"items", "Items", "A full list, some from before", func(g *gallery) { g.open(g.full, -1, "items", "") }},
	{"items-open", "Items", "One open, with all about it", func(g *gallery) {
		g.open(g.full, 0, "items", "")
		for _, it := range g.child.note(g.place.Note).Items() {
			if it.Kind == "drain" {
				g.place.Part = it.ID
				break
			}
		}
	}},
	{"items-twins", "Items", "One tag on two things; one listed by mistake", func(g *gallery) {
		g.begin(schema.Stage1, "items", "")
		c := g.child
		left := g.list1("drain", "left-pleural", 2)
		g.list1("intracardiac-line", "left-atrial", 2)
		g.list1("pacing-wires", "atrial", 3)
		c.act(c.writer.WithdrawItem(c.rec, g.list1("drain", "right-pleural", 4), "Pleura not opened"))
		g.place.Part = string(left)
	}},
	{"items-nobody", "Items", "Nobody has said who is writing", func(g *gallery) {
		g.open(g.others[0], 0, "items", "")
		g.who = ledger.Author{}
	}},

	{"check-none", "Check", "Nothing to look for", func(g *gallery) { g.begin(schema.Stage1, "check", "leaving") }},
	{"check", "Check", "Leaving theatre, not begun", func(g *gallery) { g.beginCheck(ledger.Leaving) }},
	{"check-half", "Check", "Leaving theatre, left half way", func(g *gallery) {
		g.beginCheck(ledger.Leaving)
		for i, e := range g.entries() {
			if i < 4 {
				g.answer(e.Found())
			}
		}
	}},
	{"check-open", "Check", "Arrival, with every answer there is, unsettled", func(g *gallery) {
		g.beginCheck(ledger.Arrival)
		g.everyAnswer()
	}},
	{"check-two", "Check", "Arrival, two people answered differently", func(g *gallery) {
		g.beginCheck(ledger.Arrival)
		e := g.entries()[0]
		a := g.child.writer.Check(g.child.rec, g.place.Note, e.Found())
		b := g.another("N. Urse", "intensive-care nurse").Check(g.child.rec, g.place.Note, e.NotFound())
		g.child.act(a, b)
	}},
	{"check-balanced", "Check", "Arrival, balanced, no name yet", func(g *gallery) {
		g.beginCheck(ledger.Arrival)
		g.everyAnswer()
		g.settleAll()
	}},
	{"check-closed", "Check", "Arrival, two names under it", func(g *gallery) {
		g.beginCheck(ledger.Arrival)
		g.everyAnswer()
		g.settleAll()
		g.close()
	}},
	{"check-changed", "Check", "Arrival, an item listed after the names", func(g *gallery) {
		g.beginCheck(ledger.Arrival)
		g.everyAnswer()
		g.settleAll()
		g.close()
		g.list1("peripheral-cannula", "foot", g.child.rec.NextTag())
	}},

	{"board", "The unit", "Three children", func(g *gallery) { g.unitBoard("") }},
	{"board-filter", "The unit", "Only the drains", func(g *gallery) { g.unitBoard("drain") }},
	{"counts", "Counts", "Three children", func(g *gallery) { g.counting("") }},
	{"counts-kind", "Counts", "Of the drains alone", func(g *gallery) { g.counting("drain") }},
	{"counts-none", "Counts", "No child is kept here", func(g *gallery) {
		g.place, g.counts = Place{Screen: "counts"}, counted{of: lines.NewCounts(g.now())}
	}},
	{"board-none", "The unit", "No child is kept here", func(g *gallery) {
		g.place, g.board.all, g.board.read = Place{Screen: "board"}, nil, true
	}},
	{"dictate-empty", "Dictate", "Nothing said yet", func(g *gallery) { g.open(g.full, 0, "dictate", "") }},
	{"dictate", "Dictate", "Understood, to be checked, said in two ways, denied, and not understood", func(g *gallery) { g.dictated() }},
	{"dictate-refused", "Dictate", "A book was pasted", func(g *gallery) {
		g.open(g.full, 0, "dictate", "")
		g.child.half["dictated-"+string(g.place.Note)] = strings.Repeat("It was a long operation. ", 25_000)
	}},
	{"bedside-none", "At the bedside", "Nothing listed", func(g *gallery) { g.begin(schema.Stage1, "bedside", ""); g.place.Note = "" }},
	{"bedside", "At the bedside", "What is in, by what is due", func(g *gallery) { g.open(g.full, 0, "bedside", ""); g.place.Note = "" }},
	{"bedside-nobody", "At the bedside", "Nobody has said who is writing", func(g *gallery) {
		g.open(g.full, 0, "bedside", "")
		g.place.Note, g.who = "", ledger.Author{}
	}},
	{"bedside-drain", "At the bedside", "A drain that ran and stopped, open, with its chart", func(g *gallery) { g.drained() }},
	{"bedside-met", "At the bedside", "A rule for loss is met, with every setting of the unit in force", func(g *gallery) {
		g.unit, _ = profile.Default().ActivateAll("B. Invented", "2026-07-14")
		g.drained()
	}},
	{"bedside-gap", "At the bedside", "A drain read once after thirty hours, with every setting of the unit in force", func(g *gallery) {
		g.unit, _ = profile.Default().ActivateAll("B. Invented", "2026-07-14")
		_, drain := g.drained()
		g.child.act(g.child.writer.At(g.now().Add(-37*time.Hour)).ReadOutput(drain, ledger.Output{Total: "100", Emptied: "yes"}),
			g.child.writer.At(g.now().Add(-7*time.Hour)).ReadOutput(drain, ledger.Output{Total: "980", Emptied: "yes"}))
	}},
	{"bedside-stuck", "At the bedside", "A drain that will not come out, half filled in", func(g *gallery) {
		_, drain := g.drained()
		g.child.half["bed-problem-"+string(drain)+"-what"] = lines.ProblemStuck
	}},
	{"bedside-out", "At the bedside", "A removal half filled in, the last drain before a line in the heart", func(g *gallery) {
		_, drain := g.drained()
		g.child.half["bed-out-"+string(drain)+"-note"] = "With the surgeon at the"
	}},
	{"bedside-exchange", "At the bedside", "An exchange half filled in, with the date its time is taken for", func(g *gallery) {
		_, drain := g.drained()
		g.child.half["bed-exchange-"+string(drain)+"-note"], g.child.half["bed-exchange-"+string(drain)+"-when"] = "Blocked; a larger one", "23:50"
	}},
	{"bedside-problems", "At the bedside", "Taken out in part, lost, back to theatre, cut and left, a site to look at, out twice", func(g *gallery) {
		heart, drain := g.drained()
		w, tag := g.child.writer, g.child.rec.NextTag()
		wires, cannula, probe := g.list1("pacing-wires", "atrial", tag), g.list1("peripheral-cannula", "foot", tag+1), g.list1("arterial-line", "femoral", tag+2)
		gut := g.list1("gut-and-bladder", "gastric-tube", tag+3)
		soon := g.now().Add(time.Hour)
		g.child.act(w.Remove(heart, ledger.RegisterFacts{Complete: "no", TipSeen: "no"}), w.Happen(ledger.KindLost, cannula, ledger.RegisterFacts{Note: "not under the dressing"}),
			w.Happen(ledger.KindToTheatre, drain, ledger.RegisterFacts{}), w.Happen(ledger.KindCutLeft, wires, ledger.RegisterFacts{Note: "2 cm of one wire"}),
			w.Remove(probe, ledger.RegisterFacts{Complete: "yes", Next: soon}), w.Remove(gut, ledger.RegisterFacts{Complete: "yes"}))
		g.child.act(g.another("N. Urse", "intensive-care nurse").Remove(gut, ledger.RegisterFacts{Complete: "yes"}))
	}},
	{"bedside-cut", "At the bedside", "One of two wires cut and left, the other in; of others one cut and one pulled, one form open", func(g *gallery) {
		g.drained()
		w, tag := g.child.writer, g.child.rec.NextTag()
		atrial, ventricular := g.list1("pacing-wires", "atrial", tag), g.list1("pacing-wires", "ventricular", tag+1)
		for _, id := range []ledger.ItemID{atrial, ventricular} {
			g.set(schema.ItemPath(string(id), "count"), ledger.Number("2"))
			g.child.act(w.Happen(ledger.KindCutLeft, id, ledger.RegisterFacts{Cut: "1", Others: "yes", Note: "2 cm of one wire under the skin, parents told"}))
		}
		g.child.act(w.Remove(ventricular, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Number: "1"}))
		g.child.half["bed-out-"+string(atrial)+"-note"] = "With the surgeon at the bed"
		g.place.Part = string(atrial)
	}},
	{"bedside-round", "At the bedside", "The round, to be closed with things not asked about", func(g *gallery) {
		g.drained()
		round := g.child.writer.OpenRound()
		g.child.act(round)
		g.child.half["round-close"] = "The next bed"
	}},

	{"review-empty", "Review and sign", "A note just begun", func(g *gallery) { g.begin(schema.Stage2, "review", "") }},
	{"review-open", "Review and sign", "With errors, questions, two answers, a like name", func(g *gallery) {
		g.open(g.others[0], 0, "review", "")
		g.set(schema.GasPotassium, ledger.Number("9.9"))
		g.set(schema.MeasuresWeight, ledger.Number("310"))
		a := g.child.writer.Set(g.child.rec, g.place.Note, schema.GasLactate, ledger.Number("2.1"))
		b := g.another("B. Gas", "anaesthetist").Set(g.child.rec, g.place.Note, schema.GasLactate, ledger.Number("2.7"))
		g.child.act(a, b)
	}},
	{"review-signed", "Review and sign", "Signed", func(g *gallery) { g.open(g.full, 0, "review", "") }},
	{"review-signed-open", "Review and sign", "Signed with open items", func(g *gallery) {
		g.begin(schema.Stage2, "review", "")
		g.child.act(g.child.writer.SignNote(g.child.rec, g.place.Note, 41))
	}},
	{"review-amended", "Review and sign", "Amended after signing, one told and one not", func(g *gallery) {
		g.open(g.full, 0, "review", "")
		g.set(schema.GasLactate, ledger.Number("3.4"))
		g.child.act(g.child.writer.Amend(g.place.Note, "Read from the wrong gas"))
		g.child.act(g.child.writer.TellSheet(g.child.rec, g.place.Note, "N. Urse"))
		g.set(schema.GasPotassium, ledger.Number("4.4"))
	}},

	{"sheet-bare", "Sheet", "A note just begun", func(g *gallery) { g.begin(schema.Stage1, "sheet", "") }},
	{"sheet", "Sheet", "Signed and confirmed on arrival", func(g *gallery) { g.open(g.full, 0, "sheet", "") }},
	{"sheet-unsigned", "Sheet", "Unsigned", func(g *gallery) { g.open(g.others[0], 0, "sheet", "") }},
	{"sheet-amended", "Sheet", "Amended after signing", func(g *gallery) {
		g.open(g.full, 0, "sheet", "")
		g.set(schema.GasLactate, ledger.Number("3.4"))
	}},
	{"labels", "Tag labels", "A strip for every line", func(g *gallery) { g.open(g.full, 0, "labels", "") }},
	{"labels-none", "Tag labels", "Nothing listed", func(g *gallery) { g.begin(schema.Stage1, "labels", "") }},
	{"values", "Values", "Worked out from a full note", func(g *gallery) { g.open(g.full, 0, "values", "") }},
	{"values-none", "Values", "Nothing to work from", func(g *gallery) { g.begin(schema.Stage1, "values", "") }},

	{"device", "Device", "Ready to work offline", func(g *gallery) { g.place = Place{Screen: "device"} }},
	{"device-not-ready", "Device", "Not ready, nothing kept", func(g *gallery) {
		g.place = Place{Screen: "device"}
		g.shell, g.storeTrouble = shell{}, "The browser refuses to store anything for this page."
	}},
	{"profile", "Unit profile", "As it ships", func(g *gallery) { g.place = Place{Screen: "profile"} }},
}

// list1 lists an item under a flag.
func (g *gallery) list1(kind, variety string, tag int) ledger.ItemID {
	w := g.child.writer.Together()
	id := w.NewItem()
	g.child.act(w.ListItem(g.place.Note, id, kind, tag))
	g.child.act(w.Set(g.child.rec, g.place.Note, schema.ItemPath(string(id), "variety"), ledger.Entry{Value: variety}))
	return id
}

// drained begins a child with a line in the heart and one drain, which ran, met the
// eye and stopped, open at the bedside.
func (g *gallery) drained() (heart, drain ledger.ItemID) {
	g.begin(schema.Stage1, "bedside", "")
	g.set(schema.MeasuresWeight, ledger.Number("3.2"))
	g.set(schema.OperationClosed, ledger.Entry{Value: g.now().Add(-7 * time.Hour).String()})
	heart, drain = g.list1("intracardiac-line", "left-atrial", 1), g.list1("drain", "mediastinal", 2)
	for i, total := range []string{"0", "18", "52", "60", "61", "61", "61"} {
		at := g.now().Add(time.Duration(i-6) * time.Hour)
		g.child.act(g.child.writer.At(at).ReadOutput(drain, ledger.Output{Total: total, Colour: "blood", Swing: "yes"}))
	}
	g.place.Note, g.place.Part = "", string(drain)
	return heart, drain
}

// joined joins another record of the child on screen, begun on another tablet.
func (g *gallery) joined() ledger.CaseID {
	c, id := g.child, ledger.CaseID(g.ids.New())
	w := ledger.NewWriter(id, ledger.WriterID(g.ids.New()), ledger.Author{Name: "N. Urse", Role: "intensive-care nurse"}, g.clock, g.ids, g.now)
	rec := ledger.FoldCase(id, []ledger.Event{w.OpenCase()})
	rec.Apply(w.Set(rec, "", schema.ChildSurname, ledger.Entry{Value: identityIn(c.rec).Surname}))
	note := w.NewNote()
	rec.Apply(w.OpenNote(note, schema.Closure))
	c.loaded[id] = true
	c.take(rec.Events())
	c.act(c.writer.Join(c.rec, id, "One wristband, read by two")...)
	return id
}

// offered offers the child on screen a weight and an allergy that were entered on
// another.
func (g *gallery) offered() {
	c := g.child
	rec := ledger.FoldCase(g.others[1], g.events[g.others[1]])
	w := ledger.NewWriter(g.others[1], ledger.WriterID(g.ids.New()), g.who, g.clock, g.ids, g.now)
	note := rec.Notes()[0].ID
	e := w.Set(rec, note, schema.MeasuresWeight, ledger.Number("3.4"))
	rec.Apply(e)
	for _, e := range w.MoveToOther(rec, []ledger.EventID{e.ID}, c.id, "Two tablets lay on one bed") {
		if e.Case == c.id {
			c.take([]ledger.Event{e})
		}
	}
}

// moveNote signs the first note of a child and moves it whole to another; it says which
// note that is.
func (g *gallery) moveNote(from, to ledger.CaseID) ledger.NoteID {
	rec := g.child.rec
	if from != g.child.id {
		rec = ledger.FoldCase(from, g.events[from])
	}
	w := ledger.NewWriter(from, ledger.WriterID(g.ids.New()), g.who, g.clock, g.ids, g.now)
	note := rec.Notes()[0].ID
	rec.Apply(w.SignNote(rec, note, 2))
	for _, s := range rec.Account() {
		if s.Note != note || s.Kind != ledger.KindNoteOpened {
			continue
		}
		for _, e := range w.MoveToOther(rec, []ledger.EventID{s.Event}, to, "Two tablets lay on one bed") {
			if e.Case == g.child.id {
				g.child.take([]ledger.Event{e})
			}
		}
	}
	return note
}

// beginCheck is a note of one of the other children with ten things listed, at a
// check of them. On arrival the check on leaving theatre was made.
func (g *gallery) beginCheck(o ledger.Occasion) {
	g.open(g.others[0], 0, "check", string(o))
	c := g.child
	if len(c.rec.Tally(g.place.Note, o).Listed) < 8 {
		for _, x := range [][2]string{{"airway", "oral-tube"}, {"intracardiac-line", "right-atrial"}, {"intracardiac-line", "left-atrial"}, {"central-venous-line", "jugular"},
			{"arterial-line", "radial"}, {"pacing-wires", "atrial"}, {"drain", "mediastinal"}, {"drain", "right-pleural"}, {"left-on-purpose", "packs"}} {
			g.list1(x[0], x[1], c.rec.NextTag())
		}
	}
	if o == ledger.Arrival {
		w := g.another("B. Gas", "anaesthetist")
		for _, e := range lines.CheckOf(c.rec, g.place.Note, ledger.Leaving).Entries {
			if !e.Answered {
				c.act(w.Check(c.rec, g.place.Note, e.Found()))
			}
		}
	}
	g.who = ledger.Author{Name: "N. Urse", Role: "intensive-care nurse"}
	c.writer = c.writer.As(g.who)
}

func (g *gallery) entries() []lines.Entry {
	return lines.CheckOf(g.child.rec, g.place.Note, ledger.Occasion(g.place.Part)).Entries
}

func (g *gallery) answer(v ledger.CheckView) {
	g.child.act(g.child.writer.Check(g.child.rec, g.place.Note, v))
}

// everyAnswer gives one of each, and "found as listed" for the rest.
func (g *gallery) everyAnswer() {
	for i, e := range g.entries() {
		switch i {
		case 1:
			g.answer(e.Differs(ledger.Difference{Field: "depthAt", Sheet: "9 cm at the lip", Bedside: "10 cm at the lip"}))
		case 2:
			g.answer(e.NotFound())
		case 3:
			g.answer(e.CannotSee("Under the dressing, which is dry", g.now().Add(2*time.Hour)))
		case 4:
			g.answer(e.InsideNow("by count and X-ray"))
		default:
			g.answer(e.Found())
		}
	}
	g.answer(lines.ExtraFound(ledger.ItemID(g.ids.New()), ledger.Occasion(g.place.Part), "Cannula in the left foot, capped"))
}

// settleAll settles what is open, one of it in another person's name.
func (g *gallery) settleAll() {
	ch := lines.CheckOf(g.child.rec, g.place.Note, ledger.Occasion(g.place.Part))
	by := ""
	for _, id := range ch.Tally.Unsettled {
		if v, ok := g.child.rec.Check(g.place.Note, ch.Occasion, id); ok {
			g.child.act(g.child.writer.Settle(g.place.Note, v.Event, "Surgeon looked; sheet to be amended", by))
			by = "A. Surgeon"
		}
	}
}

// close puts two names under the check.
func (g *gallery) close() {
	c, o := g.child, ledger.Occasion(g.place.Part)
	c.act(c.writer.CloseCheck(c.rec, g.place.Note, o))
	c.act(g.another("B. Gas", "anaesthetist").CloseCheck(c.rec, g.place.Note, o))
}
