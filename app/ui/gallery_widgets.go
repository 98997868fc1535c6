package ui

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/widgets"
	"fairlead/schema"
)

// A pinned field is one widget in one state, for the people who work on them and
// for the tests. The fields are invented; so is all they hold.
type pinned struct {
	State string
	Field widgets.Field
}

// pinnedFields lists every kind of widget in every state it can be in.
func pinnedFields() []pinned {
	low, high := 0.5, 150.0
	weight := &schema.Field{Path: "gallery.weight", Name: "weight", Title: "Operation weight", Type: "number", Unit: "kg", Min: &low, Max: &high,
		Help: "Measured on the day of the operation."}
	size := &schema.Field{Path: "gallery.size", Name: "size", Title: "Shunt diameter", Type: "number", Unit: "mm", Picks: []json.RawMessage{[]byte("3"), []byte("3.5"), []byte("4")}}
	count := &schema.Field{Path: "gallery.count", Name: "count", Title: "Packs left in", Type: "integer", None: "None left"}
	side := &schema.Field{Path: "gallery.side", Name: "side", Title: "Side", Type: "string", Enum: []string{"right", "left", "midline"},
		Labels: map[string]string{"right": "Right", "left": "Left", "midline": "Midline"}}
	material := &schema.Field{Path: "gallery.material", Name: "material", Title: "Material", Type: "string",
		Enum: []string{"eptfe", "ringed", "homograft", "pericardium", "bovine", "porcine", "polyester", "autologous", "vein", "other"}, None: "No patch",
		Labels: map[string]string{"eptfe": "ePTFE", "ringed": "ePTFE with rings", "homograft": "Pulmonary homograft", "other": "Other"},
		Picks:  []json.RawMessage{[]byte(`"eptfe"`), []byte(`"homograft"`)}}
	proof := &schema.Field{Path: "gallery.proof", Name: "proof", Title: "Flow proved by", Type: "list", Enum: []string{"fall", "saturation", "probe", "echo"},
		Labels: map[string]string{"fall": "Fall in diastolic pressure", "saturation": "Rise in saturation", "probe": "Flow probe", "echo": "Echocardiography"}}
	name := &schema.Field{Path: "gallery.name", Name: "name", Title: "Surgeon", Type: "string", Format: "name", MaxLen: 80}
	findings := &schema.Field{Path: "gallery.findings", Name: "findings", Title: "Findings", Type: "string", Format: "long-text", None: "Nothing unexpected"}
	when := &schema.Field{Path: "gallery.when", Name: "when", Title: "Skin closed", Type: "string", Format: "moment"}
	born := &schema.Field{Path: "gallery.born", Name: "born", Title: "Date of birth", Type: "string", Format: "date"}
	birthTime := &schema.Field{Path: "gallery.birthTime", Name: "birthTime", Title: "Time of birth", Type: "string", Format: "clock"}
	band := &schema.Field{Path: "gallery.band", Name: "band", Title: "Band checked at the bed", Type: "boolean"}
	from := &schema.Field{Path: "gallery.from", Name: "from", Title: "Read from", Type: "string", Format: "item"}
	runs := &schema.Field{Path: "gallery.runs", Name: "runs", Title: "Bypass runs", Type: "rows", None: "Not used"}
	listed := []widgets.Choice{{Value: "a", Words: "Right atrial line", Tag: 1}, {Value: "b", Words: "Arterial line, left, radial artery", Tag: 3}}
	onePick := func(f *schema.Field) []widgets.Choice { return pickList(f) }

	var out []pinned
	put := func(state string, def *schema.Field, change func(*widgets.Field)) {
		f := widgets.Field{Def: def, At: def.Path + schema.Path(".s"+itoa(len(out))), Picks: onePick(def)}
		if def.Format == "item" {
			f.Items = listed
		}
		if change != nil {
			change(&f)
		}
		out = append(out, pinned{state, f})
	}
	question := widgets.Word{Rule: "usual", Severity: schema.Question, What: "Operation weight 8.4 kg is unusual for stage 1 (usually 2 to 4.5 kg).", Do: "Check it against the chart, or say that it is right."}
	wrong := widgets.Word{Rule: "plausible", Severity: schema.Error, What: "Operation weight 310 kg is outside what is possible (0.5 to 150 kg).", Do: "Check the figure and its unit."}

	put("empty, wanted", weight, func(f *widgets.Field) { f.Wanted = true })
	put("filled", weight, func(f *widgets.Field) { f.Text = "3.1" })
	put("being typed", weight, func(f *widgets.Field) { f.Text, f.Typing = "3.", true })
	put("typed, not taken", weight, func(f *widgets.Field) {
		f.Text, f.Typing, f.Wrong = "3,100", true, "“3,100” may mean 3.100 or 3100. Type it with a point for decimals and nothing between thousands."
	})
	put("not known", weight, func(f *widgets.Field) { f.Stated = schema.StatedUnknown })
	put("not measured, other answers open", weight, func(f *widgets.Field) { f.Stated, f.More = schema.StatedNotMeasured, true })
	put("with a sign of comparison", weight, func(f *widgets.Field) { f.Text, f.Bound = "0.3", "<" })
	put("asked about", weight, func(f *widgets.Field) { f.Text, f.Words = "8.4", []widgets.Word{question} })
	put("asked about, the answer being typed", weight, func(f *widgets.Field) {
		q := question
		q.Asking = true
		f.Text, f.Words = "8.4", []widgets.Word{q}
	})
	put("asked about and answered", weight, func(f *widgets.Field) {
		q := question
		q.Answer = "yes, really: late presentation (A. Surgeon, surgeon)"
		f.Text, f.Words = "8.4", []widgets.Word{q}
	})
	put("impossible", weight, func(f *widgets.Field) { f.Text, f.Words = "310", []widgets.Word{wrong} })
	put("two answers", weight, func(f *widgets.Field) {
		f.Text, f.Versions = "3.1", []widgets.Version{{Shown: "3.1 kg", By: "A. Surgeon (surgeon)", When: "14-Jul-2026 09:42"}, {Shown: "3.4 kg", By: "B. Gas (anaesthetist)", When: "14-Jul-2026 09:44"}}
	})
	put("copied forward", weight, func(f *widgets.Field) {
		f.Text, f.Origin = "3.1", "Copied forward from the stage 1 note of 14-Jul-2026."
	})
	put("locked by a signature", weight, func(f *widgets.Field) { f.Text, f.Locked = "3.1", true })
	put("changed after signing", weight, func(f *widgets.Field) { f.Text, f.Changed = "3.2", "by A. Surgeon (surgeon), 15-Jul-2026 10:05." })
	put("with quick picks", size, func(f *widgets.Field) { f.Text = "3.5" })
	put("a count, none", count, func(f *widgets.Field) { f.Stated = schema.StatedNone })
	put("one of a few", side, nil)
	put("one of a few, chosen", side, func(f *widgets.Field) { f.Chosen = []string{"left"} })
	put("one of a few, not known", side, func(f *widgets.Field) { f.Stated = schema.StatedUnknown })
	put("one of many", material, nil)
	put("one of many, chosen", material, func(f *widgets.Field) { f.Chosen = []string{"homograft"} })
	put("several", proof, func(f *widgets.Field) { f.Chosen = []string{"fall", "echo"} })
	put("a line", name, func(f *widgets.Field) { f.Text = "A. Surgeon" })
	put("a box, none", findings, func(f *widgets.Field) { f.Stated = schema.StatedNone })
	put("a box", findings, func(f *widgets.Field) {
		f.Text = "Arch 3 mm at its narrowest. Duct large, ductal tissue to the left carotid."
	})
	put("a moment, empty", when, func(f *widgets.Field) { f.Day = "14-Jul-2026" })
	put("a moment, the next day", when, func(f *widgets.Field) {
		f.Text, f.Day, f.Note = "00:10", "15-Jul-2026", "The next day: 15-Jul-2026."
	})
	put("a moment that came twice", when, func(f *widgets.Field) {
		f.Text, f.Day, f.Typing, f.Wrong = "01:30", "25-Oct-2026", true, "The clocks went back that night: 01:30 came twice. Say which one it was."
		f.Readings = []widgets.Choice{{Value: "x", Words: "01:30 at UTC+1:00"}, {Value: "y", Words: "01:30 at UTC+0:00"}}
	})
	put("a date", born, func(f *widgets.Field) { f.Text = "11-Jul-2026" })
	put("a time of day", birthTime, func(f *widgets.Field) { f.Text = "03:20" })
	put("yes or no", band, func(f *widgets.Field) { f.Chosen = []string{"yes"} })
	put("a listed item", from, func(f *widgets.Field) { f.Chosen = []string{"b"} })
	put("nothing listed", from, func(f *widgets.Field) { f.Items = nil })
	put("a list, empty", runs, func(f *widgets.Field) { f.Wanted = true })
	put("a list, none", runs, func(f *widgets.Field) { f.Stated = schema.StatedNone })
	put("a list with entries", runs, func(f *widgets.Field) {
		on := widgets.Field{Def: &schema.Field{Path: "gallery.runs.*.on", Name: "on", Title: "On bypass", Type: "string", Format: "moment"}, At: f.At + ".2.on", Text: "09:42", Day: "14-Jul-2026"}
		f.Rows = []widgets.Row{
			{ID: "1", Title: "Bypass runs 1", Summary: "14-Jul-2026 08:10 · 14-Jul-2026 09:20", Marks: widgets.Marks{Questions: 1}},
			{ID: "2", Title: "Bypass runs 2", Summary: "14-Jul-2026 09:42", Open: true, Fields: []widgets.Field{on}, Marks: widgets.Marks{Missing: 2}},
		}
	})
	put("does not apply, but holds a value", side, func(f *widgets.Field) {
		f.Chosen, f.Note = []string{"right"}, "This field does not apply as the note stands; what it holds is kept."
	})
	return out
}

// drawPinned draws the widgets of the gallery.
func drawPinned(do widgets.Actions) app.UI {
	var body []app.UI
	for _, p := range pinnedFields() {
		body = append(body, app.Li().Body(app.H3().Text(p.State), widgets.Slot{Field: p.Field, Do: do}.UI()))
	}
	return app.Ul().Class("pinned").Body(body...)
}

// idle takes what is done in the gallery and does nothing with it.
type idle struct{}

func (idle) Type(app.Context, schema.Path, string)           {}
func (idle) Leave(app.Context, schema.Path)                  {}
func (idle) Pick(app.Context, schema.Path, string)           {}
func (idle) Choose(app.Context, schema.Path, []string, bool) {}
func (idle) Toggle(app.Context, schema.Path, string, bool)   {}
func (idle) State(app.Context, schema.Path, string)          {}
func (idle) SetBound(app.Context, schema.Path, string)       {}
func (idle) Clear(app.Context, schema.Path)                  {}
func (idle) TypeDay(app.Context, schema.Path, string)        {}
func (idle) Now(app.Context, schema.Path)                    {}
func (idle) Read(app.Context, schema.Path, string)           {}
func (idle) Open(app.Context, schema.Path, bool)             {}
func (idle) Settle(app.Context, schema.Path, int)            {}
func (idle) Ask(app.Context, schema.Path, string, bool)      {}
func (idle) Because(schema.Path, string, string)             {}
func (idle) Reason(schema.Path, string) string               { return "" }
func (idle) Answer(app.Context, schema.Path, string, string) {}
func (idle) AddRow(app.Context, schema.Path)                 {}
func (idle) Account(app.Context, schema.Path)                {}
func (idle) RemoveRow(app.Context, schema.Path, string)      {}
func (idle) OpenRow(app.Context, schema.Path, string, bool)  {}
