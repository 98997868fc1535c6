package ui

import (
	"encoding/json"
	"slices"
	"strings"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// box is one box of the form that changes an entry: the parts of a value that are
// typed or chosen by themselves.
type box struct {
	name, label string
	ucum        string
	number      bool
	whole       bool // a whole number
	may         bool // it may be left blank
	between     []float64
	lines       int
	options     []safe.Option
	none        string // the words for choosing nothing
}

func (b box) read(text string) (decimal, wrong string) {
	in := calc.Box{UCUM: b.ucum}
	if len(b.between) == 2 {
		in.Min, in.Max = &b.between[0], &b.between[1]
	}
	t := in.Read(text)
	switch {
	case t.Problem != nil:
		return "", t.Problem.Error()
	case t.Bound != "":
		return "", "A setting is one figure, not a limit. Type it without “" + t.Bound + "”."
	case b.whole && strings.Contains(t.Decimal, "."):
		return "", "Type a whole number."
	}
	return t.Decimal, ""
}

// boxesOf are the boxes of an entry's form. Lists have as many lines as hold
// something, and a spare one or two.
func boxesOf(e profile.Entry, texts map[string]string) []box {
	number := func(name, label string) box {
		return box{name: name, label: label, ucum: e.UCUM, number: true, between: e.Between}
	}
	rows := func(part string, spare int) int {
		n := 0
		for texts[part+itoa(n)] != "" || texts["value"+itoa(n)] != "" {
			n++
		}
		return n + spare
	}
	var out []box
	switch e.Shape {
	case profile.ShapeNumber:
		return []box{number("value", "Value")}
	case profile.ShapeRange:
		return []box{number("low", "Lowest"), number("high", "Highest")}
	case profile.ShapeChoice:
		b := box{name: "value", label: "Choice", none: "Choose"}
		for _, c := range e.Choices {
			b.options = append(b.options, safe.Option{Value: c, Words: c})
		}
		return []box{b}
	case profile.ShapeWords:
		return []box{{name: "value", label: "Wording", lines: 4}}
	case profile.ShapeList:
		return []box{{name: "value", label: "One on each line", lines: 6}}
	case profile.ShapeWeights:
		for i := range rows("name", 2) {
			out = append(out, box{name: "name" + itoa(i), label: "Name " + itoa(i+1), may: true}, box{name: "value" + itoa(i), label: "Multiplier " + itoa(i+1), number: true, may: true})
		}
	case profile.ShapeSteps:
		for i, name := range []string{"profound", "deep", "moderate", "mild"} {
			out = append(out, number("value"+itoa(i), "Highest of "+name))
		}
	case profile.ShapeTable:
		for i := range rows("under", 2) {
			value := number("value"+itoa(i), "Value "+itoa(i+1))
			value.may = true
			out = append(out, box{name: "under" + itoa(i), label: "Under this weight " + itoa(i+1) + " (blank in the last line)", ucum: "kg", number: true, may: true}, value)
		}
	case profile.ShapeByStage:
		for _, stage := range profile.Stages {
			title := stage
			if k := schema.KindNamed(schema.Kind(stage)); k != nil {
				title = k.Title
			}
			for _, end := range []string{"lowest", "highest"} {
				b := number(stage+"-"+end, title+", "+end)
				b.may = true
				out = append(out, b)
			}
		}
	case profile.ShapeDrain:
		return []box{
			{name: "perKg", label: "Loss in each window", ucum: "mL/kg", number: true},
			{name: "hours", label: "Length of a window", ucum: "h", number: true},
			{name: "times", label: "How many windows in a row", number: true, whole: true},
			{name: "within", label: "Within the first (blank: at any time)", ucum: "h", number: true, may: true},
		}
	case profile.ShapeDose:
		return doseBoxes(texts)
	}
	return out
}

func doseBoxes(texts map[string]string) []box {
	var units []safe.Option
	for _, u := range profile.DoseUnits {
		units = append(units, safe.Option{Value: u, Words: calc.UnitShown(u)})
	}
	out := []box{
		{name: "unit", label: "Unit of the dose, per kilogram", options: units, none: "Choose"},
		{name: "shown", label: "Unit the amount is shown in", options: units, none: "The same", may: true},
		{name: "heading", label: "Words above it, such as ARREST ONLY", may: true},
		{name: "routes", label: "Routes, with a comma between"},
	}
	for i := 0; i < 3 && (i < 2 || texts["perKg1"] != ""); i++ {
		step := [3]string{"First step", "Second step", "Third step"}[i]
		out = append(out,
			box{name: "label" + itoa(i), label: step + ", name (first, then …)", may: true},
			box{name: "perKg" + itoa(i), label: step + ", amount for each kilogram", number: true, may: i > 0},
			box{name: "to" + itoa(i), label: step + ", up to (for a range)", number: true, may: true},
			box{name: "max" + itoa(i), label: step + ", never more than", number: true, may: true},
			box{name: "min" + itoa(i), label: step + ", never less than", number: true, may: true})
	}
	return append(out,
		box{name: "amount", label: "Concentration, amount in each mL", number: true, may: true},
		box{name: "named", label: "Concentration as it is named, such as 0.1 mg/mL", may: true})
}

func boxNames(e profile.Entry, texts map[string]string) []string {
	var out []string
	for _, b := range boxesOf(e, texts) {
		out = append(out, b.name)
	}
	return out
}

// textsOf are the texts of the boxes for the entry's present value.
func textsOf(e profile.Entry) map[string]string {
	t := map[string]string{}
	if !e.HasValue() {
		return t
	}
	plain := func(raw json.RawMessage) string {
		var s string
		if json.Unmarshal(raw, &s) == nil {
			return s
		}
		return string(raw)
	}
	var list []json.RawMessage
	var object map[string]json.RawMessage
	switch e.Shape {
	case profile.ShapeNumber, profile.ShapeChoice, profile.ShapeWords:
		t["value"] = plain(e.Value)
	case profile.ShapeRange:
		if json.Unmarshal(e.Value, &list) == nil && len(list) == 2 {
			t["low"], t["high"] = plain(list[0]), plain(list[1])
		}
	case profile.ShapeList:
		var lines []string
		_ = json.Unmarshal(e.Value, &lines) // the profile was checked when it was read
		t["value"] = strings.Join(lines, "\n")
	case profile.ShapeSteps:
		_ = json.Unmarshal(e.Value, &list)
		for i, v := range list {
			t["value"+itoa(i)] = plain(v)
		}
	case profile.ShapeWeights:
		ws, _, _ := profile.Of(e).Weights(e.ID)
		for i, w := range ws {
			t["name"+itoa(i)], t["value"+itoa(i)] = w.Name, safe.Number(w.Factor)
		}
	case profile.ShapeTable:
		var rows []profile.TableRow
		_ = json.Unmarshal(e.Value, &rows)
		for i, r := range rows {
			t["value"+itoa(i)] = safe.Number(r.Value)
			if r.Under != nil {
				t["under"+itoa(i)] = safe.Number(*r.Under)
			}
		}
	case profile.ShapeByStage:
		var by map[string][]float64
		_ = json.Unmarshal(e.Value, &by)
		for stage, r := range by {
			if len(r) == 2 {
				t[stage+"-lowest"], t[stage+"-highest"] = safe.Number(r[0]), safe.Number(r[1])
			}
		}
	case profile.ShapeDrain:
		_ = json.Unmarshal(e.Value, &object)
		for name, v := range object {
			t[name] = plain(v)
		}
	case profile.ShapeDose:
		var d profile.Dose
		_ = json.Unmarshal(e.Value, &d)
		t["unit"], t["shown"], t["heading"], t["routes"] = d.Unit, d.Shown, d.Heading, strings.Join(d.Routes, ", ")
		for i, s := range d.Steps {
			n := itoa(i)
			t["label"+n], t["perKg"+n] = s.Label, safe.Number(s.PerKg)
			for name, v := range map[string]*float64{"to": s.To, "max": s.Max, "min": s.Min} {
				if v != nil {
					t[name+n] = safe.Number(*v)
				}
			}
		}
		if d.Concentration != nil {
			t["amount"], t["named"] = safe.Number(d.Concentration.Amount), d.Concentration.Named
		}
	}
	return t
}

// valueOf makes the value of what was typed. What is wrong with a box is put into
// wrong; the value is then of no use.
func valueOf(e profile.Entry, texts, wrong map[string]string) []byte {
	got := map[string]any{}
	for _, b := range boxesOf(e, texts) {
		text := strings.TrimSpace(texts[b.name])
		switch {
		case text == "" && b.may:
		case text == "" && b.options != nil:
			wrong[b.name] = "Choose one."
		case text == "" && !b.number:
			wrong[b.name] = "Fill it in, or leave the whole entry empty on purpose."
		case b.number:
			decimal, what := b.read(text)
			if what != "" {
				wrong[b.name] = what
				continue
			}
			got[b.name] = json.Number(decimal)
		default:
			got[b.name] = text
		}
	}
	together := func(a, b string) { // one without the other says nothing
		for _, pair := range [][2]string{{a, b}, {b, a}} {
			if got[pair[0]] != nil && got[pair[1]] == nil && wrong[pair[1]] == "" {
				wrong[pair[1]] = "Fill this in too, or clear the other."
			}
		}
	}
	var value any = got["value"]
	switch e.Shape {
	case profile.ShapeRange:
		value = []any{got["low"], got["high"]}
	case profile.ShapeList:
		value = trimmed(strings.Split(texts["value"], "\n"))
	case profile.ShapeWeights:
		m := map[string]any{}
		for i := range 2*len(got) + 2 {
			together("name"+itoa(i), "value"+itoa(i))
			if name, ok := got["name"+itoa(i)].(string); ok {
				m[name] = got["value"+itoa(i)]
			}
		}
		value = m
	case profile.ShapeSteps:
		value = []any{got["value0"], got["value1"], got["value2"], got["value3"]}
	case profile.ShapeTable:
		rows := []map[string]any{}
		for i := range 2*len(got) + 2 {
			if v := got["value"+itoa(i)]; v != nil {
				row := map[string]any{"value": v}
				if under := got["under"+itoa(i)]; under != nil {
					row["under"] = under
				}
				rows = append(rows, row)
			}
		}
		value = rows
	case profile.ShapeByStage:
		m := map[string]any{}
		for _, stage := range profile.Stages {
			together(stage+"-lowest", stage+"-highest")
			if lo, hi := got[stage+"-lowest"], got[stage+"-highest"]; lo != nil && hi != nil {
				m[stage] = []any{lo, hi}
			}
		}
		value = m
	case profile.ShapeDrain:
		value = got
	case profile.ShapeDose:
		together("amount", "named")
		value = doseValue(got)
	}
	raw, err := json.Marshal(value)
	if err != nil {
		panic("profile: " + err.Error()) // numbers were read as numbers
	}
	return raw
}

func doseValue(got map[string]any) map[string]any {
	d := map[string]any{"unit": got["unit"]}
	for _, name := range []string{"shown", "heading"} {
		if got[name] != nil {
			d[name] = got[name]
		}
	}
	if routes, ok := got["routes"].(string); ok {
		d["routes"] = trimmed(strings.Split(routes, ","))
	}
	var steps []map[string]any
	for i := range 3 {
		step := map[string]any{}
		for _, name := range []string{"label", "perKg", "to", "max", "min"} {
			if v := got[name+itoa(i)]; v != nil {
				step[name] = v
			}
		}
		if len(step) > 0 {
			steps = append(steps, step)
		}
	}
	d["steps"] = steps
	if got["amount"] != nil {
		d["concentration"] = map[string]any{"amount": got["amount"], "named": got["named"]}
	}
	return d
}

func trimmed(list []string) []string {
	for i := range list {
		list[i] = strings.TrimSpace(list[i])
	}
	return slices.DeleteFunc(list, func(s string) bool { return s == "" })
}
