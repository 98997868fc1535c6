package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"fairlead/handover/calc"
	"fairlead/handover/lines"
	"fairlead/schema"
)

const noStyle = "body{}"

// TestEveryItem: every item still in the child is in a list of the page by its
// tag and its name, once, and on the map or named as not on it; and no tag is on
// the page that is not in the record.
func TestEveryItem(t *testing.T) {
	for file, n := range committed(t) {
		for _, paper := range []Paper{A4, Letter} {
			s := Make(Facts{Note: n, At: at}, paper)
			document := s.Document(noStyle)
			listed := map[string]string{}
			for _, list := range elements(t, document, "sheet-list") {
				for tr := range list.Descendants() {
					if tr.Data != "tr" || !slices.ContainsFunc(tr.Attr, func(a html.Attribute) bool { return a.Key == "data-item" }) {
						continue
					}
					text, tag := textOf(tr), textOf(tr.FirstChild)
					if _, twice := listed[tag]; twice {
						t.Errorf("%s: tag %s is listed twice", file, tag)
					}
					listed[tag] = text
				}
			}
			b := newBuilder(Facts{Note: n, At: at})
			if len(listed) != len(b.items) {
				t.Errorf("%s, %s: %d items are listed, the record holds %d", file, paper.Name, len(listed), len(b.items))
			}
			onMap := map[int]bool{}
			drawing := s.Block("map")
			for _, m := range drawing.Map.Marks {
				onMap[m.Tag] = true
			}
			off := Text(blockSpans(*drawing))
			for _, it := range b.items {
				row, ok := listed[strconv.Itoa(it.Tag)]
				if !ok || !strings.Contains(strings.ToLower(row), strings.ToLower(lines.Name(it.Item))) {
					t.Errorf("%s: tag %d %s is not on the page; its row is %q", file, it.Tag, lines.Name(it.Item), row)
				}
				if it.checked && !onMap[it.Tag] && !strings.Contains(off, strconv.Itoa(it.Tag)) {
					t.Errorf("%s: tag %d is neither on the map nor said to be off it", file, it.Tag)
				}
			}
		}
	}
}

// TestStays: who, worries, everything left in, targets and whom to call stand on
// the first page, whatever the paper; the banner stands on every page, and the
// first page names what stands overleaf. No print is smaller for it: the type of
// the page is the same for every note, and is 9 pt or more.
func TestStays(t *testing.T) {
	if min(BodySize, LoudSize, BoxSize, HeadSize) < 9 {
		t.Errorf("what is read at arm's length is set in less than 9 pt: %v, %v, %v, %v", BodySize, LoudSize, BoxSize, HeadSize)
	}
	for file, n := range committed(t) {
		for _, paper := range []Paper{A4, Letter} {
			s := Make(Facts{Note: n, At: at}, paper)
			name := file + " " + paper.Name
			if len(s.Pages[0].Cut) > 0 {
				t.Errorf("%s: cut from the first page: %v", name, s.Pages[0].Cut)
			}
			if more := s.Block("top-more"); more != nil {
				for _, l := range more.Lines {
					if l.Frame {
						t.Errorf("%s: a caution moved overleaf: %s", name, Text(l.Spans))
					}
				}
			}
			{
				first := map[string]bool{}
				for _, b := range s.Pages[0].Bands {
					for _, c := range b.Columns {
						for _, bl := range c.Blocks {
							first[bl.ID] = true
						}
					}
				}
				for _, bl := range s.Blocks {
					if bl.Stays && !first[bl.ID] {
						t.Errorf("%s: %s is not on the first page", name, bl.ID)
					}
				}
				for _, id := range []string{"state", "worries", "call", "items", "map", "now"} {
					if !first[id] {
						t.Errorf("%s: there is no %s on the first page", name, id)
					}
				}
			}
			document := s.Document(noStyle)
			heads := elements(t, document, "sheet-head")
			if len(heads) != len(s.Pages) {
				t.Errorf("%s: %d pages and %d banners", name, len(s.Pages), len(heads))
			}
			for _, h := range heads {
				for _, p := range []schema.Path{schema.ChildHospitalNumber} {
					if v := n.Text(p); v != "" && !strings.Contains(textOf(h), v) {
						t.Errorf("%s: a banner lacks %s", name, v)
					}
				}
			}
			over := strings.Join(s.Pages[0].Overleaf, "; ")
			for _, p := range s.Pages[1:] {
				for _, b := range p.Bands {
					for _, title := range b.titles() {
						if !strings.Contains(over, title) {
							t.Errorf("%s: %q stands overleaf and the first page does not say so: %s", name, title, over)
						}
					}
				}
			}
			for i, p := range s.Pages {
				if p.Height > s.room() && len(p.Bands) > 0 {
					t.Errorf("%s: page %d is %.0f mm high, there is room for %.0f", name, i+1, p.Height, s.room())
				}
			}
		}
	}
}

// TestMissing: a fact that must be on the sheet and is taken out of the note says
// "not recorded", with its title, and nothing else on the sheet is lost by it.
func TestMissing(t *testing.T) {
	tried := 0
	for file, n := range committed(t) {
		if strings.Contains(file, "minimal") {
			continue
		}
		before := countKind(Make(Facts{Note: n, At: at}, A4), Missing)
		for _, f := range requiredOn(n.Kind()) {
			if !n.Relevant(f) || !n.Answered(f.Path) {
				continue
			}
			short := n.Clone()
			short.Clear(f.Path)
			if !short.Relevant(f) {
				continue
			}
			s := Make(Facts{Note: short, At: at}, A4)
			text := Text(spansOf(s))
			said := strings.Contains(strings.ToLower(text), strings.ToLower(f.Title)+": not recorded")
			switch f.Path {
			case schema.RemovalsOut: // what is out stands beside what is new
				said = strings.Contains(text, "OUT: not recorded")
			case schema.ChildGivenName: // a baby without a given name has its mother's
				said = said || strings.Contains(text, "baby of "+n.Text(schema.ChildBabyOf)) && n.Has(schema.ChildBabyOf)
			}
			if after := countKind(s, Missing); after <= before && !said {
				t.Errorf("%s without %s: %d places say not recorded, with it %d", file, f.Path, after, before)
			}
			tried++
		}
	}
	if tried < 300 {
		t.Errorf("only %d facts were taken out", tried)
	}
}

// requiredOn are the fields that the sheet of a kind of note must speak of.
func requiredOn(k schema.Kind) []*schema.Field {
	var out []*schema.Field
	for _, s := range schema.SectionsOf(k) {
		for _, f := range s.FieldsIn(k) {
			if f.Sheet.Required.By(k) {
				out = append(out, f)
			}
		}
	}
	return out
}

// TestFourStates: every field with a place on the sheet shows each of its four
// states in its own words: a value, none, not known, and, where the sheet must
// speak of it, not recorded.
func TestFourStates(t *testing.T) {
	for _, k := range schema.Kinds() {
		n := schema.NewNote(k.Kind, "note", "case")
		plain := Make(Facts{Note: n, At: at}, A4)
		for _, s := range schema.SectionsOf(k.Kind) {
			for _, f := range s.FieldsIn(k.Kind) {
				if f.Sheet.Place == "" {
					continue
				}
				for state, words := range map[string]string{schema.StatedNone: low(schema.ShowStated(f, schema.StatedNone)), schema.StatedUnknown: "not known"} {
					if state == schema.StatedNone && f.None == "" {
						continue
					}
					m := n.Clone()
					m.State(f.Path, state)
					s := Make(Facts{Note: m, At: at}, A4)
					if !hasStated(s, words) {
						t.Errorf("%s: %s stated %q: the sheet does not say %q", k.Kind, f.Path, state, words)
					}
				}
				if f.Sheet.Required.By(k.Kind) && n.Relevant(f) && countKind(plain, Missing) == 0 {
					t.Errorf("%s: nothing says not recorded", k.Kind)
				}
			}
		}
	}
}

func hasStated(s *Sheet, words string) bool {
	for _, span := range spansOf(s) {
		if strings.EqualFold(span.Words, words) {
			return true
		}
	}
	return false
}

// TestUnrecorded holds the count on the page against the validator's.
func TestUnrecorded(t *testing.T) {
	for file, n := range committed(t) {
		want := 0
		for _, p := range schema.Validate(n) {
			if p.Severity == schema.Missing && p.Path.Section() != "signing" {
				want++
			}
		}
		if got := Unrecorded(n); got != want {
			t.Errorf("%s: %d are counted, the validator misses %d", file, got, want)
		}
		thin := schema.NewNote(n.Kind(), n.ID(), n.Case())
		for i, p := range n.Paths() {
			if v, ok := n.Value(p); ok && i%3 != 0 && len(strings.Split(string(p), ".")) == 2 {
				thin.Set(p, v)
			}
		}
		want = 0
		for _, p := range schema.Validate(thin) {
			if p.Severity == schema.Missing && p.Path.Section() != "signing" {
				want++
			}
		}
		if got := Unrecorded(thin); got != want {
			t.Errorf("%s, thinned: %d are counted, the validator misses %d", file, got, want)
		}
	}
}

// TestPure: the same note gives the same page, and so does the same note read
// back from its file.
func TestPure(t *testing.T) {
	for file, n := range committed(t) {
		one := Make(Facts{Note: n, At: at}, A4).Document(noStyle)
		again, _, err := schema.ParseNote(n.JSON())
		if err != nil {
			t.Fatal(err)
		}
		if two := Make(Facts{Note: again, At: at}, A4).Document(noStyle); one != two {
			t.Errorf("%s: two sheets of one note differ", file)
		}
	}
}

// TestBlocksHTML: the app's blocks are the page's blocks, each an element with
// its id.
func TestBlocksHTML(t *testing.T) {
	for file, n := range committed(t) {
		s := Make(Facts{Note: n, At: at}, A4)
		seen := map[string]bool{}
		for _, b := range s.BlocksHTML() {
			if seen[b.ID] {
				t.Errorf("%s: %s comes twice", file, b.ID)
			}
			seen[b.ID] = true
			if !strings.Contains(b.HTML, `id="`+b.ID+`"`) {
				t.Errorf("%s: the element of %s does not carry its id", file, b.ID)
			}
			if strings.Contains(b.HTML, " style=") || strings.Contains(b.HTML, "<style") || strings.Contains(b.HTML, " on") && strings.Contains(b.HTML, " onclick") {
				t.Errorf("%s: %s holds what the page's policy forbids", file, b.ID)
			}
		}
		if len(seen) != len(s.Blocks)+2 {
			t.Errorf("%s: %d blocks for %d", file, len(seen), len(s.Blocks))
		}
	}
}

// TestManyItems: sixty items are more than a page; every one is still there, in
// order, under the banner.
func TestManyItems(t *testing.T) {
	n := committed(t)["notes/stage1.json"].Clone()
	for i := range 60 {
		id := fmt.Sprintf("0190a1b2-0000-7000-8000-0000000f%04d", i)
		n.AddItem("peripheral-cannula", id, 100+i)
		n.Set(schema.ItemPath(id, "variety"), "hand")
		n.Set(schema.ItemPath(id, "exit"), "left-hand")
	}
	s := Make(Facts{Note: n, At: at}, A4)
	document := s.Document(noStyle)
	rows := map[string]bool{}
	for _, e := range elements(t, document, "sheet-tag") {
		rows[textOf(e)] = true
	}
	for i := range 60 {
		if !rows[strconv.Itoa(100+i)] {
			t.Errorf("tag %d is lost", 100+i)
		}
	}
	if len(s.Pages[0].Cut) == 0 || !strings.Contains(strings.Join(s.Pages[0].Overleaf, "; "), "Everything left in") {
		t.Errorf("the first page does not say that the list goes on: %v", s.Pages[0].Overleaf)
	}
}

// TestFlow: the blocks the app shows are those of the page, but for what only
// the page needs.
func TestFlow(t *testing.T) {
	for file, n := range committed(t) {
		f := Facts{Note: n, At: at, Computed: calc.New(nil, calc.About{}).Compute(n)}
		page, flow := Make(f, A4), Flow(f)
		if len(flow.Pages) != 0 {
			t.Errorf("%s: the flow has pages", file)
		}
		on := map[string]bool{}
		for _, w := range tokens(Text(spansOf(flow))) {
			on[w] = true
		}
		for _, b := range page.Blocks {
			if b.ID == "computed" {
				continue
			}
			for _, span := range blockSpans(b) {
				if span.Kind == Label || span.Kind == Fixed { // a value in the line of its item may stand without its title
					continue
				}
				for _, w := range tokens(span.Words) {
					if !on[w] {
						t.Errorf("%s: %q of %s is on the page and not in the flow", file, w, b.ID)
					}
				}
			}
		}
	}
}

// A gradient that is computed overleaf is not said to be unrecorded in the table of
// the first page; one that was recorded stands as it was.
func TestGradientInTheTable(t *testing.T) {
	n := schema.NewNote(schema.Stage2, "note", "case")
	table := func() string { return Text(blockSpans(*Make(Facts{Note: n, At: at}, A4).Block("now"))) }
	for _, step := range []struct {
		at    schema.Path
		value float64
		says  string
	}{{schema.Stage2CavalPressure, 14, "gradientnot recorded"}, {schema.Stage2AtrialPressure, 6, "gradient8 mmHg computed"}, {schema.Stage2Gradient, 9, "gradient9 mmHg"}} {
		n.Set(step.at, step.value)
		if text := strings.ReplaceAll(table(), " gradient ", "gradient"); !strings.Contains(text, step.says) {
			t.Errorf("with %s: %q lacks %q", step.at, text, step.says)
		}
	}
}

// What intensive care must know of an item and nobody wrote is said beside it.
func TestItemSaysWhatIsLacking(t *testing.T) {
	for kind, words := range map[string]string{"drain": "drainage not recorded", "pacing-wires": "how many not recorded",
		"central-venous-line": "guidewire seen out not recorded", "left-on-purpose": "when and how it must come out not recorded"} {
		n := schema.NewNote(schema.Stage2, "note", "case")
		n.AddItem(kind, "i", 1)
		if text := Text(blockSpans(*Make(Facts{Note: n, At: at}, A4).Block("items"))); !strings.Contains(text, words) {
			t.Errorf("%s: %q lacks %q", kind, text, words)
		}
	}
}

// TestAge: the age is the age at the operation, with today's beside it where it
// reads otherwise.
func TestAge(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	n.Set(schema.ChildBirthDate, "2026-07-09")
	for _, c := range []struct{ operation, today, want string }{
		{"2026-07-14", "2026-07-14", " (5 days at operation)"},
		{"2026-07-14", "2026-07-16", " (5 days at operation, 7 days today)"},
		{"", "2026-07-16", " (7 days today)"},
	} {
		m := n.Clone()
		if c.operation != "" {
			m.Set(schema.OperationDate, c.operation)
		}
		when, err := schema.ParseMoment(c.today + "T10:00+01:00")
		if err != nil {
			t.Fatal(err)
		}
		if got := Text(newBuilder(Facts{Note: m, At: when}).age()); got != c.want {
			t.Errorf("operation %q, today %q: %q, want %q", c.operation, c.today, got, c.want)
		}
	}
}
