package ui

import (
	"slices"
	"strings"

	"fairlead/app/ui/civil"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// bedsideAction is something one records of an item at the bed.
type bedsideAction struct {
	name, words string
	did         string   // the words once it is recorded, where they are others
	kinds       []string // of items; none: any
	asks        []bedsideAsk
	record      func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event
	lacks       func(a map[string]string) string // what is still to be said, or ""
	takesOut    bool                             // its item, or the old one, comes out: the unit's conditions come first
	rest        string                           // the words where no more is in than a piece or a stump; "": it is not done with one; without words it is done with nothing else
}

// bedsideAsk is one question of its form.
type bedsideAsk struct {
	key, words string
	picks      []string // answers to tap
	of         string   // the item's own field whose choices are the answers
	figure     bool     // a number: its key names what it can be (lines.Figure)
	lumens     bool     // which lumen
	packs      bool     // only of packs and the like
	counted    bool     // only of what is counted out: packs and wires
}

func (a *bedsideAction) fits(it lines.InChild) bool {
	switch {
	case a.words == "":
		return false
	case it.View.Stand() == ledger.StandsCut: // what lies inside is not looked for
		return a.name == "out" || a.name == "problem"
	case it.View.Piece && a.rest == "":
		return false
	}
	return len(a.kinds) == 0 || slices.Contains(a.kinds, it.Item.Kind)
}

// action is the action of that name.
func action(name string) *bedsideAction {
	i := slices.IndexFunc(bedsideActions, func(a bedsideAction) bool { return a.name == name })
	return &bedsideActions[i]
}

// on is the action as it is done with the item: of a piece or a stump in other words.
func (a *bedsideAction) on(it lines.InChild) *bedsideAction {
	if a.rest == "" || !it.View.Piece && it.View.Stand() != ledger.StandsCut {
		return a
	}
	b := *a
	b.words, b.did = a.rest, ""
	return &b
}

// half begins the names under which what is half entered is kept.
func (a *bedsideAction) half(it lines.InChild) string {
	return "bed-" + a.name + "-" + string(it.ID) + "-"
}

// firstOf is what is recorded most of an item of its kind, or nil.
func firstOf(it lines.InChild) *bedsideAction {
	for i := range bedsideActions {
		if a := &bedsideActions[i]; len(a.kinds) > 0 && a.fits(it) && a.name != "cut" {
			return a
		}
	}
	return nil
}

var (
	yesNo   = []string{"yes", "no"}
	orNotIt = []string{"yes", "no", ledger.NotKnown} // the one who finds it out already may not know
	// The first three are lines whose tip lies deep.
	withLumen   = []string{"intracardiac-line", "central-venous-line", "arterial-line", "peripheral-cannula", "intraosseous-needle", "support-cannula"}
	neededShown = map[ledger.Needed]string{ledger.StillNeeded: "Yes", ledger.ToComeOut: "No: to come out", ledger.NotAskedNow: "Not asked"}
)

// goneAsks are asked of what comes out: for good, or for another to take its place.
var goneAsks = []bedsideAsk{
	{key: "number", words: "How many came out?", counted: true}, {key: "proved", words: "How was it made sure that none is left?", packs: true, picks: []string{"counted", "X-ray", "counted and X-ray", "not yet"}},
	{key: "complete", words: "Did all of it come out?", picks: orNotIt}, {key: "tip", words: "Was its tip seen? (if it has one)", picks: orNotIt},
	{key: "length", words: "Length that came out", figure: true}, {key: "bleeding", words: "Did it bleed?", picks: []string{"no", "a little", "yes"}},
	{key: "planned", words: "Was it planned?", picks: yesNo}, {key: "site", words: "How does the site look?"},
	{key: "next", words: "Look at the site again in", figure: true}}

// goneFacts is what was said of it.
func (p *bedsidePane) goneFacts(it lines.InChild, a map[string]string) ledger.RegisterFacts {
	f := ledger.RegisterFacts{Complete: a["complete"], TipSeen: a["tip"], Length: a["length"], Bleeding: a["bleeding"], Planned: a["planned"], Site: a["site"], Note: a["note"],
		Why: strings.Join(parts(a["despite"], a["sure"]), "; "), Number: a["number"], Proved: a["proved"]}
	if a["when"] == ledger.NotKnown {
		f.Time = ledger.NotKnown
	}
	if n := minutesOf(a["next"]); n > 0 {
		f.Next = civil.At(p.S.zone, p.when(a).Instant().Add(n))
	}
	for i, words := range p.asked(it) {
		if f.Time != "" { // it was out already
			break
		}
		f.Conditions = append(f.Conditions, ledger.Condition{What: words, Answer: a["if"+itoa(i)]})
	}
	return f
}

// bedsideActions are all of them, the commonest first.
var bedsideActions = []bedsideAction{
	{name: "read", words: "Read the output", kinds: []string{"drain", "drain-chamber", "dialysis-catheter"},
		asks: []bedsideAsk{
			{key: "total", words: "Running total, as the chamber shows it", figure: true},
			{key: "volume", words: "Or the volume that came", figure: true},
			{key: "minutes", words: "In how many minutes did that volume come?", figure: true},
			{key: "colour", words: "Colour", of: "colour"},
			{key: "swing", words: "Swinging?", of: "swing"},
			{key: "bubbling", words: "Bubbling (air leak)?", of: "bubbling"},
			{key: "drainage", words: "On", of: "drainage"},
			{key: "suction", words: "Suction", figure: true},
			{key: "milked", words: "Milked or stripped?", picks: yesNo},
			{key: "fresh", words: "Afterwards", picks: []string{"emptied", "chamber changed"}},
			{key: "begins", words: "Where does counting begin again, if not at 0?", figure: true}},
		lacks: func(a map[string]string) string {
			switch {
			case a["total"] != "" && a["volume"] != "":
				return "Enter the running total or the volume that came, not both."
			case a["volume"] != "" && a["minutes"] == "":
				return "Say in how many minutes that volume came."
			}
			return said1(a, "Enter what was read or seen.")
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			o := ledger.Output{Total: a["total"], Volume: a["volume"], Minutes: a["minutes"], Colour: a["colour"], Swing: a["swing"], Bubbling: a["bubbling"],
				Drainage: a["drainage"], Suction: a["suction"], Milked: a["milked"], Begins: a["begins"]}
			switch a["fresh"] {
			case "emptied":
				o.Emptied = "yes"
			case "chamber changed":
				o.Changed = "yes"
			}
			facts := ledger.RegisterFacts{Output: &o, Why: a["sure"]}
			if it.Drainage == nil || it.Drainage.Of == it.ID || o.Total+o.Volume == "" && !o.Fresh() {
				return []ledger.Event{w.Happen(ledger.KindOutputRead, it.ID, facts)}
			}
			// A drain that goes to a chamber has its volume there; how it looks is its own.
			look := ledger.Output{Colour: o.Colour, Swing: o.Swing, Bubbling: o.Bubbling, Drainage: o.Drainage, Suction: o.Suction, Milked: o.Milked}
			o.Colour, o.Swing, o.Bubbling, o.Drainage, o.Suction, o.Milked = "", "", "", "", "", ""
			events := []ledger.Event{w.Happen(ledger.KindOutputRead, it.Drainage.Of, facts)}
			if look != (ledger.Output{}) {
				events = append(events, w.ReadOutput(it.ID, look))
			}
			return events
		}},
	{name: "pressure", words: "Read the pressure", kinds: []string{"intracardiac-line", "central-venous-line", "arterial-line"},
		asks: []bedsideAsk{
			{key: "mean", words: "Mean", figure: true}, {key: "systolic", words: "Systolic", figure: true}, {key: "diastolic", words: "Diastolic", figure: true},
			{key: "zeroed", words: "Zeroed?", picks: yesNo}, {key: "trace", words: "Trace", picks: []string{"good", "damped", "none"}}},
		lacks: func(a map[string]string) string { return said1(a, "Enter what was read.") },
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			o := ledger.Pressure{Mean: a["mean"], Systolic: a["systolic"], Diastolic: a["diastolic"], Zeroed: a["zeroed"], Trace: a["trace"]}
			return []ledger.Event{w.Happen(ledger.KindPressureRead, it.ID, ledger.RegisterFacts{Pressure: &o, Why: a["sure"]})}
		}},
	{name: "test", words: "Test the wires", kinds: []string{"pacing-wires"},
		asks: []bedsideAsk{
			{key: "threshold", words: "Threshold", figure: true}, {key: "sensing", words: "Sensing", figure: true}, {key: "site", words: "Which wire, if there are several"},
			{key: "rhythm", words: "The child's own rhythm beneath"}, {key: "mode", words: "Box: mode"}, {key: "rate", words: "Box: rate", figure: true},
			{key: "output", words: "Box: output", figure: true}, {key: "sense", words: "Box: sensitivity", figure: true}, {key: "delay", words: "Box: atrioventricular delay", figure: true},
			{key: "connection", words: "At the box", of: "connection"}, {key: "needed", words: "Was pacing needed?", picks: []string{"now", "not now"}}},
		lacks: func(a map[string]string) string { return said1(a, "Enter what was tested or set.") },
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			t := ledger.WireTest{Threshold: a["threshold"], Sensing: a["sensing"], Site: a["site"], Rhythm: a["rhythm"], Mode: a["mode"], Rate: a["rate"],
				Output: a["output"], Sense: a["sense"], Delay: a["delay"], Connection: a["connection"]}
			switch a["needed"] {
			case "now":
				t.LastNeeded = p.when(a)
			case "not now":
				t.Needed = "no"
			}
			return []ledger.Event{w.Happen(ledger.KindWiresTested, it.ID, ledger.RegisterFacts{Test: &t, Why: a["sure"]})}
		}},
	{name: "runs", words: "What runs", kinds: withLumen,
		asks: []bedsideAsk{{key: "lumen", words: "Which lumen?", lumens: true}, {key: "runs", words: "What runs through it now?"}, {key: "off", words: "Or disconnected: capped or clamped?", picks: []string{"capped", "clamped", "heparin lock"}}},
		lacks: func(a map[string]string) string {
			if (a["runs"] == "") == (a["off"] == "") {
				return "Say what runs through it, or how it was closed."
			}
			return ""
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			if a["off"] != "" {
				return []ledger.Event{w.Disconnect(it.ID, a["lumen"], a["off"])}
			}
			return []ledger.Event{w.Connect(it.ID, a["lumen"], a["runs"])}
		}},
	{name: "needed", words: "Still needed: yes",
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.AnswerNeed(p.openRound(), it.ID, ledger.StillNeeded, "")}
		}},
	{name: "need", words: "Still needed? Say why",
		asks: []bedsideAsk{{key: "needed", words: "Is it still needed?", picks: []string{"yes", "no", "not asked now"}}, {key: "why", words: "Why?"}},
		lacks: func(a map[string]string) string {
			if a["needed"] == "" {
				return "Say whether it is still needed."
			}
			return ""
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.AnswerNeed(p.openRound(), it.ID, ledger.Needed(a["needed"]), a["why"])}
		}},
	{name: "problem", words: "Problem", rest: "Problem",
		asks: []bedsideAsk{{key: "what", words: "What is wrong?", of: "state"}, {key: "lumen", words: "Which lumen?", lumens: true}, {key: "to", words: "Moved to (with its unit)"}, {key: "note", words: "In your own words: what was seen, and who was told?"}},
		lacks: func(a map[string]string) string {
			if a["what"]+a["note"] == "" {
				return "Say what is wrong."
			}
			return bare(a["to"])
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			what, note := a["what"], a["note"]
			if what == "" {
				what, note = note, ""
			}
			return []ledger.Event{w.ReportProblem(it.ID, what, a["lumen"], a["to"], strings.Join(parts(note, a["sure"]), "; "))}
		}},
	{name: "moved", words: "Moved",
		asks: []bedsideAsk{{key: "to", words: "To where? (mark at the skin, depth, site; with its unit)"}, {key: "note", words: "Why, and how was it proved?"}},
		lacks: func(a map[string]string) string {
			if a["to"] == "" {
				return "Say where it is now."
			}
			return bare(a["to"])
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.Happen(ledger.KindMoved, it.ID, ledger.RegisterFacts{To: a["to"], Note: a["note"], Why: a["sure"]})}
		}},
	{name: "out", words: "Take it out", did: "Out", takesOut: true, rest: "What was left came out",
		asks: append(slices.Clone(goneAsks), bedsideAsk{key: "note", words: "By whom, and anything else"}),
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.Remove(it.ID, p.goneFacts(it, a))}
		}},
	{name: "none", rest: "Nothing was left in",
		asks: []bedsideAsk{{key: "proved", words: "How was it made sure that none is left?", picks: []string{"X-ray", "ultrasound or echo", "what came out was looked at: whole"}}, {key: "note", words: "Who looked, and what was seen?"}},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.Remove(it.ID, ledger.RegisterFacts{Complete: "yes", Proved: a["proved"], Note: a["note"]})}
		}},
	{name: "exchange", words: "Exchange it", did: "Exchanged", takesOut: true,
		asks: append(append([]bedsideAsk{{key: "same", words: "Is the new one of the same sort, in the same place?", picks: yesNo}}, goneAsks...), bedsideAsk{key: "note", words: "Why, and what took its place?"}),
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			c := p.S.child
			fresh, events := w.Exchange(c.rec, it.ID, "", p.goneFacts(it, a))
			c.rec.Apply(events...)
			for _, name := range []string{"variety", "side", "site", "exit"} { // the new one goes where the old one was
				if a["same"] != "yes" {
					break
				}
				if v := it.Item.Text(name); v != "" {
					events = append(events, w.Set(c.rec, "", schema.ItemPath(string(fresh), name), ledger.Entry{Value: v, Origin: ledger.Origin{How: ledger.HowCopied}}))
				}
			}
			return events
		}},
	{name: "cut", words: "Cut and left", rest: "Cut and left", kinds: []string{"pacing-wires", "drain", "left-on-purpose"},
		asks: []bedsideAsk{{key: "number", words: "How many were cut and left?", counted: true}, {key: "others", words: "Are others of them in that were not cut?", counted: true, picks: yesNo}, {key: "note", words: "What is left, how long, and who was told?"}},
		lacks: func(a map[string]string) string {
			return said1(map[string]string{"": a["note"]}, "Say what is left and who was told.")
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.Happen(ledger.KindCutLeft, it.ID, ledger.RegisterFacts{Note: a["note"], Cut: a["number"], Others: strings.TrimPrefix(a["others"], "no")})}
		}},
	{name: "lost", words: "Cannot be found", rest: "Cannot be found",
		asks: []bedsideAsk{{key: "note", words: "Where was it looked for, and who was told?"}},
		lacks: func(a map[string]string) string {
			return said1(map[string]string{"": a["note"]}, "Say where it was looked for.")
		},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.Happen(ledger.KindLost, it.ID, ledger.RegisterFacts{Note: a["note"]})}
		}},
	{name: "theatre", words: "Back to theatre with it", rest: "Back to theatre for it",
		asks: []bedsideAsk{{key: "note", words: "Why?"}},
		record: func(p *bedsidePane, w *ledger.Writer, it lines.InChild, a map[string]string) []ledger.Event {
			return []ledger.Event{w.Happen(ledger.KindToTheatre, it.ID, ledger.RegisterFacts{Note: a["note"]})}
		}},
}

// bare says what a place lacks that is a figure and nothing else.
func bare(to string) string {
	if to == "" || strings.Trim(to, "0123456789., ") != "" {
		return ""
	}
	return "“" + to + "” has no unit. Enter where it is now with its unit, such as " + strings.Replace(strings.TrimSpace(to), ",", ".", 1) + " cm at the skin."
}

// said1 is lacks where nothing at all was said.
func said1(a map[string]string, lacks string) string {
	for key, v := range a {
		if v != "" && key != "when" {
			return ""
		}
	}
	return lacks
}
