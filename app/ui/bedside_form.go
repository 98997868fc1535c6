package ui

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/app/ui/typed"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

func minutesOf(text string) time.Duration {
	n, err := time.ParseDuration(text + "m")
	if err != nil {
		return 0
	}
	return n
}

// when is the moment that the form names, or now.
func (p *bedsidePane) when(a map[string]string) schema.Moment {
	at, _, wrong := p.S.moment(a["when"])
	if wrong != "" || at.IsZero() {
		return civil.Now(p.S.zone)
	}
	return at
}

// asked are the conditions and questions before the item comes out.
func (p *bedsidePane) asked(it lines.InChild) []string {
	r := lines.RemovalOf(p.S.child.rec, p.S.profile(), it.ID, civil.Now(p.S.zone))
	return append(append(slices.Clone(r.Conditions), r.OwnWords...), r.Questions...)
}

// asksOf are the questions of an action that can be asked of this item, in order.
func (p *bedsidePane) asksOf(a *bedsideAction, it lines.InChild) []bedsideAsk {
	var out []bedsideAsk
	when := bedsideAsk{key: "when", words: whenWords}
	if a.takesOut { // an empty time is now: it must be seen before the thing is recorded as out
		out = append(out, when)
		ifs := p.asked(it)
		if p.S.child.half[a.half(it)+"when"] == ledger.NotKnown { // nobody here took it out
			ifs = nil
		}
		for i, words := range ifs {
			out = append(out, bedsideAsk{key: "if" + itoa(i), words: words, picks: orNotIt})
		}
		if len(ifs) > 0 {
			out = append(out, bedsideAsk{key: "despite", words: "If not all of these are answered yes: who decided to take it out all the same, and why?"})
		}
	}
	k := schema.ItemKindNamed(it.Item.Kind)
	for _, q := range a.asks {
		packs := inPieces(it)
		if q.packs && !packs || q.counted && !packs && it.Item.Kind != "pacing-wires" || packs && (q.key == "tip" || q.key == "length") {
			continue
		}
		rest := lines.LeftOf(&it.View, it.Item)
		if a.name == "cut" && q.counted && (packs || rest.Of == 1) || q.key == "others" && rest.Of > 0 {
			continue
		}
		if q.counted && rest.Of > 0 {
			q.words = strings.TrimSuffix(q.words, "?") + ", of " + itoa(rest.Left) + "?"
		}
		if q.key == "complete" && rest.Cut != "" && it.View.Stand() != ledger.StandsCut {
			q.words = "Beside what was cut and left inside: did all of it come out?"
		}
		switch {
		case q.of != "" && (k == nil || k.Field(q.of) == nil), // not of this kind of thing
			q.figure && lines.Figure(p.S.child.register().Stage, it.Item, q.key) == nil,
			q.lumens && it.OneLumen():
			continue
		case q.of == "state":
			q.picks = lines.Problems(k)
		case q.of != "":
			q.picks = k.Field(q.of).Enum
		case q.lumens: // by name, where all have one; else in words
			for _, l := range it.Lumens {
				q.picks = append(q.picks, l.Name)
			}
			if slices.Contains(q.picks, "") || len(q.picks) < lumensIn(it) {
				q.picks = nil
			}
		}
		out = append(out, q)
	}
	if !a.takesOut {
		out = append(out, when)
	}
	return out
}

// inPieces tells whether the thing is several of one sort, of which each must come out.
func inPieces(it lines.InChild) bool {
	v := it.Item.Text("variety")
	return it.Item.Kind == "left-on-purpose" && (v == "packs" || v == "swabs" || v == "")
}

// staleAfter is how long the answers to the conditions wait in a form that was not
// recorded: they are of the moment before it comes out. Common practice, no source.
const staleAfter = time.Hour

// held is what stands half entered for a question; the answers to the conditions of
// another person, or of long ago, are not the answers of the one who takes it out now.
func (p *bedsidePane) held(a *bedsideAction, it lines.InChild, key string) string {
	if strings.HasPrefix(key, "if") && p.olds(a, it) != "" {
		return ""
	}
	return p.S.child.half[a.half(it)+key]
}

// olds says whose the conditions' answers are, and of when, if they do not hold now.
func (p *bedsidePane) olds(a *bedsideAction, it lines.InChild) string {
	who, at, _ := strings.Cut(p.S.child.half[a.half(it)+"by"], " at ")
	m, err := schema.ParseMoment(at)
	if d := civil.Now(p.S.zone).Sub(m); err != nil || who == p.S.who.String() && d < staleAfter && d > -staleAfter {
		return ""
	}
	return "Answered before, and not recorded: by " + who + ", " + m.Shown() + ". Answer these again."
}

// pick keeps a tapped answer; one to a condition with who gave it, and when.
func (p *bedsidePane) pick(a *bedsideAction, it lines.InChild, key, v string) {
	c := p.S.child
	if strings.HasPrefix(key, "if") {
		if p.olds(a, it) != "" {
			for i := range p.asked(it) {
				c.halfTyped(a.half(it)+"if"+itoa(i), "")
			}
		}
		c.halfTyped(a.half(it)+"by", p.S.who.String()+" at "+civil.Now(p.S.zone).String())
	}
	p.typedIn(a, it, key, v)
}

// lumensIn is how many lumens an item has, as far as that is recorded.
func lumensIn(it lines.InChild) int {
	n, _ := strconv.Atoi(it.Item.Note().Decimal(it.Item.Path("lumenCount")))
	return max(n, len(it.Lumens))
}

// begin opens the form of an action and says which element of it takes the focus.
func (p *bedsidePane) begin(a *bedsideAction, it lines.InChild) (focus string) {
	id := a.name + "-" + string(it.ID)
	p.act, p.lacks, p.wrong, p.spent = id, "", nil, ""
	p.dropOld(a, it)
	if q := p.asksOf(a, it)[0]; len(q.picks) == 0 && !a.takesOut {
		return id + "-" + q.key
	}
	return id + "-form"
}

// sureAsks are asked of unusual figures.
var sureAsks = []bedsideAsk{{key: "sure", words: "Is it right?", picks: []string{"read again", "known, and being treated"}}, {key: "because", words: "Why, if it is known?"}}

// form is the form of one action. Every answer in it is kept as it is given.
func (p *bedsidePane) form(a *bedsideAction, it lines.InChild) app.UI {
	c := p.S.child
	id := a.name + "-" + string(it.ID)
	half := func(key string) string { return a.half(it) + key }
	asks := p.asksOf(a, it)
	name := it.Name
	if it.View.Piece { // the words of the action say what is left
		name = lines.FullName(it.Item)
	}
	title := app.H2().ID(id + "-form").TabIndex(-1).Text(a.words + ": tag " + itoa(it.Tag) + ", " + lowerFirst(name))
	var first, body []app.UI
	if a.takesOut {
		first = append(first, p.before(it)...)
		if p.Place.Part == string(it.ID) { // and not in a form of another screen
			first = append(first, safe.Button{ID: id + "-stuck", Class: "quiet", Words: "It will not come out…", Off: p.Locked, Press: func(app.Context) { p.stuck(a, it) }}.UI())
		}
		if a.name == "exchange" {
			first = append(first, app.P().Text("What is asked here is of the old one. The new one gets a tag of its own."))
		}
	}
	if old := p.halfOld(a, it); old != "" {
		first = append(first, app.P().ID(id+"-half").Class("wrong").Text(old))
	}
	if old := p.olds(a, it); a.takesOut && old != "" {
		first = append(first, app.P().ID(id+"-old").Class("wrong").Text(old))
	}
	if c.half[half(halfDoubt)] != "" {
		asks = append(asks, sureAsks...)
	}
	for _, q := range asks {
		at, key := id+"-"+q.key, half(q.key)
		told := p.wrong[at]
		if q.key == "sure" { // what is unusual, and then whether it is right
			body = append(body, alert(c.half[half(halfDoubt)]+" Check it; if it is right, say so here and record it again."))
		}
		if len(q.picks) > 0 {
			var def *schema.Field
			if k := schema.ItemKindNamed(it.Item.Kind); k != nil && q.of != "" {
				def = k.Field(q.of)
			}
			var ticks []app.UI
			for _, v := range q.picks {
				words := upperFirst(v)
				if def != nil {
					words = upperFirst(def.Label(v))
				}
				ticks = append(ticks, safe.Button{ID: at + "-" + v, Class: "pick", Words: words, Name: words + ": " + q.words, Toggle: true, On: p.held(a, it, q.key) == v, Press: func(app.Context) {
					if p.held(a, it, q.key) == v {
						v = ""
					}
					p.pick(a, it, q.key, v)
				}}.UI())
			}
			body = append(body, app.Div().Role("group").Aria("label", q.words).Body(app.P().ID(at).TabIndex(-1).Text(q.words), app.Div().Class("ticks").Body(ticks...)))
		} else {
			label, keys := q.words, "text"
			if q.counted {
				keys = "numeric"
			}
			if q.figure {
				keys = "decimal"
				if f := lines.Figure(c.register().Stage, it.Item, q.key); f != nil {
					if unit := schema.UnitShown(f.Unit); strings.HasSuffix(label, "?") {
						label += " (" + unit + ")"
					} else {
						label += ", " + unit
					}
				}
			}
			value := strings.TrimPrefix(c.half[key], ledger.NotKnown) // which is a button's
			body = append(body, app.Label().For(at).Text(label),
				safe.Entry{ID: at, Value: value, Keys: keys, Max: 300, Wrong: told != "", Type: func(_ app.Context, t string) { p.typedIn(a, it, q.key, t) }}.UI())
			if q.key == "when" && a.takesOut {
				body = append(body, unknownTime(at, c.half[key], func(v string) { p.typedIn(a, it, q.key, v) }))
			}
			if q.key == "when" && p.spent != "" {
				body = append(body, app.P().ID(at+"-dropped").Class("wrong").Role("status").Text(p.spent))
			}
			if q.key == "when" {
				body = append(body, app.P().ID(at+"-is").Class("aside").Role("status").Text(p.S.understood(strings.TrimSpace(c.half[key]))))
			}
		}
		if q.key != "sure" {
			body = append(body, alert(told))
		}
	}
	if c.half[half("what")] == lines.ProblemStuck {
		body = append(body, app.P().Class("aside").Text("It stays on the list as in, with this problem open. If a part of it came out, it was cut and left, or it goes back to theatre with the child, record that instead."))
	}
	return app.Div().Class("answer-form").Role("group").Aria("labelledby", id+"-form").Body(
		title, together(first...), together(body...), alert(p.wrong[id+"-"]),
		app.Div().Class("actions").Body(
			safe.Button{ID: id + "-save", Class: "main", Words: "Record", Name: "Record: " + a.words, Press: func(app.Context) {
				answers, at, wrong := p.answers(a, it)
				if wrong != "" {
					safe.FocusSoon(id + "-" + at)
					return
				}
				w := c.writer.Together()
				words := "Recorded. " + cmp.Or(a.did, a.words) + ": tag " + itoa(it.Tag) + ", " + name
				if answers["when"] == ledger.NotKnown {
					words += ", found out: at what time is not known"
				} else if answers["when"] != "" {
					w = w.At(p.when(answers))
					words += ", at " + p.when(answers).Shown()
				}
				events := a.record(p, w, it, answers)
				p.spend(a, it)
				p.record(words+".", events...)
			}}.UI(),
			safe.Button{ID: id + "-no", Class: "quiet", Words: "Do not record", Press: func(app.Context) {
				p.spend(a, it)
				p.act, p.lacks = "-", ""
				safe.FocusSoon("more-" + string(it.ID))
			}}.UI()))
}

// stuck goes from a form that takes a thing out to the problem that it will not come out.
func (p *bedsidePane) stuck(a *bedsideAction, it lines.InChild) {
	p.spend(a, it)
	problem := action("problem")
	p.begin(problem, it)
	p.typedIn(problem, it, "what", lines.ProblemStuck)
	safe.FocusSoon(problem.name + "-" + string(it.ID) + "-form")
}

// spend forgets all that is half entered into a form.
func (p *bedsidePane) spend(a *bedsideAction, it lines.InChild) {
	p.spent = ""
	for key := range p.S.child.half {
		if strings.HasPrefix(key, a.half(it)) {
			p.S.child.halfTyped(key, "")
		}
	}
}

// answers reads the form of an action. If something in it cannot be recorded, wrong
// says what comes first, and at names the question, if it is one; beside each question
// stands what it lacks.
func (p *bedsidePane) answers(a *bedsideAction, it lines.InChild) (answers map[string]string, at, wrong string) {
	c, r := p.S.child, p.S.child.register()
	answers = map[string]string{}
	dated := false
	figures := map[string]float64{}
	asks := p.asksOf(a, it)
	p.wrong = map[string]string{}
	first := len(asks) + 1
	refuse := func(key, words string) {
		id := a.name + "-" + string(it.ID) + "-" + key
		if words == "" || p.wrong[id] != "" {
			return
		}
		p.wrong[id] = words
		place := slices.IndexFunc(asks, func(q bedsideAsk) bool { return q.key == key })
		if place < 0 {
			place = len(asks)
		}
		if place < first {
			first, at, wrong = place, key, words
		}
	}
	for _, q := range asks {
		text := strings.TrimSpace(p.held(a, it, q.key))
		if text != "" && q.figure {
			def := *lines.Figure(r.Stage, it.Item, q.key)
			def.Title = q.words
			n, bad := typed.Number(text, &def)
			switch {
			case bad != "":
				refuse(q.key, q.words+": "+bad)
			case n.Bound != "":
				refuse(q.key, q.words+": “"+text+"” is a limit and not a figure. Enter the figure that was read; if none could be read, leave it empty and say so as a problem.")
			}
			text = string(n.Decimal)
			figures[q.key], _ = strconv.ParseFloat(text, 64)
		}
		if q.key == "when" && text != ledger.NotKnown {
			_, has, bad := p.S.moment(text)
			if dated = has; bad != "" {
				refuse(q.key, bad)
			}
		}
		answers[q.key] = text
	}
	doubts := r.Doubts(it, figures, p.when(answers))
	if ask, bad := movedDoubt(r.Stage, it.Item, answers["to"]); bad != "" {
		refuse("to", bad)
	} else if ask != nil {
		doubts = append(doubts, *ask)
	}
	for _, d := range doubts {
		if !d.Ask {
			refuse(d.Figure, d.Words())
		}
	}
	if n := minutesOf(answers["next"]); n > 0 {
		refuse("next", lines.NextLook(p.when(answers).Add(n), civil.Now(p.S.zone)))
	}
	despite := false
	for _, q := range asks {
		despite = despite || strings.HasPrefix(q.key, "if") && answers[q.key] != "yes" && answers[q.key] != ""
		switch {
		case answers[q.key] != "":
		case strings.HasPrefix(q.key, "if"):
			refuse(q.key, "Answer first: "+q.words)
		case q.key == "despite" && despite:
			refuse(q.key, "Not all of these are answered yes: say who decided to take it out all the same, and why.")
		case q.key == "same":
			refuse(q.key, "Say whether the new one is of the same sort, in the same place.")
		case q.key == "number" && a.name == "cut":
			refuse(q.key, "Enter how many were cut and left.")
		case q.key == "others":
			refuse(q.key, "Say whether others of them are in that were not cut: how many there are is not listed.")
		case q.key == "number" && answers["complete"] != ledger.NotKnown:
			refuse(q.key, "Count what came out, and enter how many.")
		case q.key == "proved":
			refuse(q.key, "Say how it was made sure that none is left.")
		case q.key == "complete":
			refuse(q.key, "Say whether all of it came out.")
		case q.lumens && a.name == "runs":
			words := "Say which lumen: it has " + itoa(lumensIn(it)) + "."
			if lumensIn(it) < 2 {
				words = "Say which lumen: how many it has is not recorded."
			}
			refuse(q.key, words)
		}
	}
	switch {
	case answers["number"] == "":
	case a.name == "cut":
		refuse(cutOf(it, answers))
	default:
		refuse(packsOut(it, answers))
	}
	if a.takesOut && answers["tip"] == "" && slices.Contains(withLumen[:3], it.Item.Kind) {
		refuse("tip", "Say whether its tip was seen.") // a line's tip can stay behind in a vessel or the heart
	}
	if a.lacks != nil {
		refuse("", a.lacks(answers))
	}
	// A clock on the wall is often some minutes before this one; what is a day old is rare.
	ahead := answers["when"] != "" && !dated && civil.Now(p.S.zone).Sub(p.when(answers)) > 20*time.Hour
	if wrong != "" || len(doubts) == 0 && !ahead {
		c.halfTyped(a.half(it)+halfDoubt, "")
		return answers, at, wrong
	}
	var words []string
	if ahead {
		words = append(words, answers["when"]+" is still to come by this device's clock: it would be kept as "+p.when(answers).Shown()+".")
	}
	for _, d := range doubts {
		words = append(words, d.What)
	}
	doubt := strings.Join(words, " ")
	sure := strings.TrimSpace(c.half[a.half(it)+"sure"])
	if c.half[a.half(it)+halfDoubt] == doubt && sure != "" { // it was asked, and is answered
		answers["sure"] = "unusual, and right: " + sure + parenthesis(strings.TrimSpace(c.half[a.half(it)+"because"]))
		return answers, "", ""
	}
	c.halfTyped(a.half(it)+"sure", "") // what was said of other figures does not hold
	c.halfTyped(a.half(it)+halfDoubt, doubt)
	return answers, "sure", doubt
}

// packsOut holds how many came out against how many are listed, and against whether
// that is all.
func packsOut(it lines.InChild, answers map[string]string) (at, wrong string) {
	n, err := strconv.Atoi(answers["number"])
	rest := lines.LeftOf(&it.View, it.Item)
	left, listed := rest.Left, rest.Of
	switch {
	case err != nil || n < 0 || n > 60:
		return "number", "Enter how many came out as a whole number."
	case listed > 0 && n > left:
		return "number", itoa(n) + " came out, and " + itoa(left) + " are in by the list. Count again, and look for more; correct the list first if it is wrong."
	case n < left && answers["complete"] == "yes":
		return "complete", itoa(n) + " came out of " + itoa(left) + " that are listed: that is not all. Answer no, or correct the number."
	case answers["complete"] == "yes" && answers["proved"] == "not yet":
		return "proved", "That all of it came out is not made sure yet. Count or X-ray first, or answer no until then."
	}
	return "", ""
}

// cutOf holds how many were cut against how many are in.
func cutOf(it lines.InChild, answers map[string]string) (at, wrong string) {
	n, err := strconv.Atoi(answers["number"])
	switch rest := lines.LeftOf(&it.View, it.Item); {
	case err != nil || n < 1 || n > 60:
		return "number", "Enter how many were cut and left as a whole number."
	case rest.Of > 0 && n > rest.Left:
		return "number", itoa(n) + " were cut, and " + itoa(rest.Left) + " are in by the list. Count again; correct the list first if it is wrong."
	case n < rest.Left:
		answers["others"] = "yes" // they stay on the list, to be taken out
	}
	return "", ""
}

// before says where the conditions come from, or that the unit has set none.
func (p *bedsidePane) before(it lines.InChild) []app.UI {
	r := lines.RemovalOf(p.S.child.rec, p.S.profile(), it.ID, civil.Now(p.S.zone))
	words := "The unit's conditions (" + lowerFirst(r.Entry.Basis()) + ")."
	if !r.InForce {
		words = "The unit has no conditions in force for this kind (" + r.Entry.Standing() + ")."
	}
	return []app.UI{app.P().Class("aside").Text(words + " Local protocols and licensed clinicians decide.")}
}
