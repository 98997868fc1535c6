package sheet

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet/bodymap"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// randomNote draws a note of any kind: any of its fields answered in any way,
// rows, items.
func randomNote(t *rapid.T) *schema.Note {
	k := rapid.SampledFrom(schema.Kinds()).Draw(t, "kind").Kind
	n := schema.NewNote(k, "note", "case")
	serial := 0
	var ids []string
	for i := range rapid.IntRange(0, 6).Draw(t, "items") {
		kind := rapid.SampledFrom(schema.ItemKinds()).Draw(t, "item kind")
		id := fmt.Sprintf("item%d", i)
		ids = append(ids, id)
		n.AddItem(kind.Name, id, i+1)
	}
	sections := schema.SectionsOf(k)
	for range 6 {
		s := rapid.SampledFrom(sections).Draw(t, "section")
		for _, f := range s.FieldsIn(k) {
			respond(t, n, f, f.Path, &serial, ids)
		}
	}
	for _, it := range n.Items() {
		for _, f := range schema.ItemKindNamed(it.Kind).Fields {
			respond(t, n, f, it.Path(f.Name), &serial, ids)
		}
	}
	return n
}

// respond answers one field in one of the four ways.
func respond(t *rapid.T, n *schema.Note, f *schema.Field, p schema.Path, serial *int, ids []string) {
	switch rapid.IntRange(0, 9).Draw(t, "state") {
	case 0, 1, 2, 3:
		return
	case 4:
		n.State(p, schema.StatedUnknown)
		return
	case 5:
		if f.None != "" {
			n.State(p, schema.StatedNone)
		}
		return
	}
	*serial++
	word := "w" + letters(*serial)
	switch {
	case f.Type == "rows":
		for i := range rapid.IntRange(1, 3).Draw(t, "rows") {
			id := fmt.Sprintf("r%d", i)
			n.AddRow(p, id)
			for _, sub := range f.Rows {
				respond(t, n, sub, schema.RowPath(p, id, sub.Name), serial, ids)
			}
		}
	case f.Type == "list" && f.Format == "items":
		if len(ids) > 0 {
			n.Set(p, []string{rapid.SampledFrom(ids).Draw(t, "listed")})
		}
	case f.Type == "list":
		n.Set(p, []string{rapid.SampledFrom(f.Enum).Draw(t, "chosen")})
	case len(f.Enum) > 0:
		n.Set(p, rapid.SampledFrom(f.Enum).Draw(t, "word"))
	case f.Type == "boolean":
		n.Set(p, rapid.Bool().Draw(t, "yes"))
	case f.Numeric():
		low, high := 1.0, 900.0
		if f.Min != nil {
			low = *f.Min
		}
		if f.Max != nil {
			high = *f.Max
		}
		v := math.Ceil(rapid.Float64Range(low, high).Draw(t, "number")*4) / 4
		if f.Type == "integer" || v > high {
			v = math.Floor(min(v, high))
		}
		n.Set(p, json.Number(strconv.FormatFloat(v, 'f', -1, 64)))
	case f.Format == "item":
		if len(ids) > 0 {
			n.Set(p, rapid.SampledFrom(ids).Draw(t, "item"))
		}
	case f.Format == "moment":
		n.Set(p, fmt.Sprintf("2026-07-%02dT%02d:%02d+01:00", 1+*serial%28, *serial%24, *serial%60))
	case f.Format == "date":
		n.Set(p, fmt.Sprintf("2026-03-%02d", 1+*serial%28))
	case f.Format == "clock":
		n.Set(p, fmt.Sprintf("%02d:%02d", *serial%24, *serial%60))
	default:
		n.Set(p, word)
	}
}

// letters writes a number in letters, so that each text of a note is a word of
// its own.
func letters(n int) string {
	s := ""
	for ; n > 0; n /= 26 {
		s = string(rune('a'+n%26)) + s
	}
	return s + "q"
}

var token = regexp.MustCompile(`[\p{L}\p{N}]+`)

func tokens(s string) []string {
	var out []string
	for _, w := range token.FindAllString(s, -1) {
		out = append(out, strings.ToLower(w))
	}
	return out
}

// fixedWords are the words the page may say of its own accord: those of the
// definitions, of the shipped profile and of the committed list.
func fixedWords(t testing.TB) map[string]bool {
	t.Helper()
	words := map[string]bool{}
	add := func(s string) {
		for _, w := range tokens(s) {
			words[w] = true
		}
	}
	var fields func(fs []*schema.Field)
	fields = func(fs []*schema.Field) {
		for _, f := range fs {
			add(f.Title)
			add(f.None)
			for _, l := range f.Labels {
				add(l)
			}
			for _, v := range f.Enum {
				add(f.Label(v))
			}
			add(schema.UnitShown(f.Unit))
			for _, v := range f.By {
				add(schema.UnitShown(v.Unit))
			}
			fields(f.Rows)
		}
	}
	for _, k := range schema.Kinds() {
		add(k.Title)
		for _, s := range schema.SectionsOf(k.Kind) {
			add(s.Title)
			fields(s.Fields)
		}
	}
	for _, k := range schema.ItemKinds() {
		add(k.Title)
		fields(k.Fields)
	}
	for _, e := range profile.Default().Entries() {
		if e.Effect == profile.Words {
			add(string(e.Value))
		}
	}
	for _, p := range bodymap.Places() {
		add(p.Title)
	}
	data, err := os.ReadFile("../../testdata/sheets/vocabulary.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(data), "\n") {
		if !strings.HasPrefix(line, "#") {
			add(line)
		}
	}
	return words
}

// recorded are the words and numbers of a note as a reader would see them.
func recorded(n *schema.Note) map[string]bool {
	out := map[string]bool{}
	add := func(s string) {
		for _, w := range tokens(s) {
			out[w] = true
		}
	}
	for _, p := range n.Paths() {
		if f := n.FieldAt(p); f != nil {
			add(schema.Show(f, n, p))
		}
	}
	for _, it := range n.Items() {
		add(strconv.Itoa(it.Tag))
	}
	return out
}

// stopWords are why the card of emergency doses stops; they are computed, and
// stand out on the page as values do.
var stopWords = []string{"nobody is named for it", "its time is not recorded", "disagrees with the dosing weight",
	"only a bound is recorded, not a weight", "infusion 1 2 3"}

// TestNothingElse: each word and number on the page comes from the record or is
// one of the page's own words; numbers that are counted or computed are known
// one by one.
func TestNothingElse(t *testing.T) {
	fixed := fixedWords(t)
	unknown := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		n := randomNote(t)
		s := Make(Facts{Note: n, At: at}, A4)
		own := recorded(n)
		for _, w := range tokens(at.Shown() + " " + s.Title) {
			own[w] = true
		}
		computed := map[string]bool{}
		b := newBuilder(Facts{Note: n, At: at})
		_, held := b.held()
		for _, v := range []int{held[ledger.StandsIn], held[ledger.StandsImplant], Unrecorded(n), 1, 2, 3, len(n.Items())} {
			computed[strconv.Itoa(v)] = true // counts, and the order of the worries
		}
		derived := Text(b.age()) + " tag tags " + s.Title + " YES NO OPEN CLOSED NOT OPENED EXPECTED PROVISIONAL kg not above zero " +
			strings.Join(stopWords, " ")
		for _, it := range n.Items() {
			derived += " " + lines.Name(it)
		}
		for _, w := range tokens(derived) {
			computed[w] = true
		}
		for _, list := range supportLists {
			if r, _ := calc.Find(b.totals(), list.id); r.OK {
				computed[calc.Number(r.Value, 0)] = true
			} else if len(r.Wanted) > 0 {
				for _, w := range tokens(r.Wanted[0].Name + " " + r.Wanted[0].Why) {
					computed[w] = true
				}
			}
		}
		count := map[int]int{}
		for _, it := range n.Items() {
			count[it.Tag]++
		}
		// What is computed is held against the computation itself.
		if bl := s.Block("computed"); bl != nil {
			all := ""
			for _, r := range calc.New(profile.Default(), calc.About{}).Compute(n) {
				all += "\n" + r.Title + " " + r.Shown + " " + r.Formula.Text + " " + r.Formula.Source + " " + strings.Join(r.Caveats, " ")
				for _, in := range r.Inputs {
					all += " " + in.Name + " " + in.Shown
				}
			}
			known := map[string]bool{}
			for _, w := range tokens(all) {
				known[w] = true
			}
			for _, w := range tokens(Text(blockSpans(*bl))) {
				if !known[w] {
					t.Errorf("%q is computed by nobody: %s", w, Text(blockSpans(*bl)))
				}
			}
			bl.Lines = nil
		}
		for _, span := range spansOf(s) {
			for _, w := range tokens(span.Words) {
				digits := strings.Trim(w, "0123456789") == ""
				switch {
				case own[w] || computed[w]:
				case span.Kind != Value && span.Kind != Strong && !digits && fixed[w]:
				default:
					unknown[w] = true
					t.Errorf("%q in %q (kind %d) is neither in the record nor one of the page's own words", w, span.Words, span.Kind)
				}
			}
		}
	})
	if len(unknown) > 0 {
		var list []string
		for w := range unknown {
			list = append(list, w)
		}
		slices.Sort(list)
		t.Logf("not known: %s", strings.Join(list, " "))
	}
}

// TestNothingLost: every text a person typed and every number they entered into
// a field with a place on the sheet is on it.
func TestNothingLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := randomNote(t)
		s := Make(Facts{Note: n, At: at}, A4)
		on := map[string]bool{}
		for _, span := range spansOf(s) {
			for _, w := range tokens(span.Words) {
				on[w] = true
			}
		}
		still := map[string]bool{}
		for _, it := range newBuilder(Facts{Note: n, At: at}).still() {
			still[it.ID] = true
		}
		for _, p := range n.Paths() {
			f := n.FieldAt(p)
			if f == nil || f.Type == "rows" && n.Stated(p) == "" || placeOf(n, p) == "" {
				continue
			}
			if item := p.Item(); item != "" && !still[item] {
				continue
			}
			shown := schema.Show(f, n, p)
			if f.Format == "moment" && n.Stated(p) == "" {
				m, _ := n.Moment(p)
				shown = m.Clock()
			}
			if f.Name == "state" && strings.Contains(string(p), ".lumens.") && n.Text(p) == "running" && n.Has(p[:len(p)-len("state")]+"runs") {
				continue // what runs, runs
			}
			if p == schema.InfusionsRunningDrug.In(p.Row()) && n.Text(p) == "other" || f.Name == "method" && n.Text(p) == "line" {
				continue // the name of the drug, the tag of the line, say it
			}
			if f.Name == "what" && f.Section == "plan" { // the values carry the unit
				shown, _ = cutUnit(shown)
			}
			if long, ok := n.Number(p); ok && long == 0 && f.Name == "howLong" && n.Bound(p) == "" {
				shown = "at once"
			}
			if f.Type == "boolean" && n.Stated(p) == "" { // said in words: zeroed, NOT zeroed
				words := tokens(f.Title)
				shown = slices.MaxFunc(words, func(a, b string) int { return len(a) - len(b) })
			}
			for _, w := range tokens(shown) {
				if !on[w] {
					t.Fatalf("%s is %q in the note; %q is not on the sheet", p, shown, w)
				}
			}
		}
	})
}

// placeOf is the place on the sheet of a field, or of the list its row is in.
func placeOf(n *schema.Note, p schema.Path) string {
	if f := n.FieldAt(p); f != nil && f.Sheet.Place != "" {
		return f.Sheet.Place
	}
	if list := p.List(); list != "" && list != "items" {
		if f := n.FieldAt(list); f != nil {
			return f.Sheet.Place
		}
	}
	return ""
}
