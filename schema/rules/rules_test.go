package rules_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/rules"
)

// triggered gives every problem of every case, with the note it was found in.
func triggered(t *testing.T, do func(n *schema.Note, p schema.Problem)) {
	t.Helper()
	for _, c := range cases {
		n, ctx := bases[c.base](), context()
		c.trigger(n, &ctx)
		for _, p := range rules.Everything(n, inForce(), ctx) {
			do(n, p)
		}
	}
}

// errorProne are abbreviations of ISMP's and the Joint Commission's lists that a
// sentence of ours could hold, and the two letters that stand for more than one
// thing in this trade.
var errorProne = regexp.MustCompile(`\b(IU|U|QD|QOD|BID|TID|QID|OD|OS|OU|AD|AS|AU|SC|SQ|SL|HS|IJ|IN|IT|cc|MS|MSO4|MgSO4|µg|ug|μg|D/C|PRN|q\.?d|tx|Rx|LA|RA|PA|CA|SVC|IVC|RV|LV|ETT|NG|CVL|CVP|ABG|PGE|BTT)\b`)

func TestWordingOfEverySentence(t *testing.T) {
	naked := regexp.MustCompile(`(^|[^0-9])\.[0-9]`)
	trailing := regexp.MustCompile(`[0-9]\.[0-9]*0\b`)
	seen := map[string]bool{}
	triggered(t, func(n *schema.Note, p schema.Problem) {
		key := p.Rule + p.What + p.Do
		if seen[key] {
			return
		}
		seen[key] = true
		for _, s := range []string{p.What, p.Do} {
			switch {
			case !strings.HasSuffix(s, ".") || strings.HasSuffix(s, ".."):
				t.Errorf("%s: %q does not end with one full stop", p.Rule, s)
			case strings.Contains(s, "  ") || strings.Contains(s, "%!") || strings.Contains(s, " .") || strings.Contains(s, "“”"):
				t.Errorf("%s: %q is not well set", p.Rule, s)
			case strings.Contains(strings.ReplaceAll(s, "tamponade? ", ""), ". ") || strings.Contains(s, "? ") && !strings.Contains(s, "tamponade?"):
				t.Errorf("%s: %q is more than one sentence", p.Rule, s)
			case naked.MatchString(s) || trailing.MatchString(s):
				t.Errorf("%s: %q shows a number without a leading zero, or with a trailing one", p.Rule, s)
			case strings.ContainsAny(s, "<>&?!") && !strings.Contains(s, "tamponade?"):
				t.Errorf("%s: %q holds a sign an error-prone list names, or a question mark", p.Rule, s)
			}
			if w := errorProne.FindString(s); w != "" {
				t.Errorf("%s: %q holds the abbreviation %q", p.Rule, s, w)
			}
			outside.Check(t, "ISMP error-prone abbreviations, symbols and dose designations")
		}
		if named(n, p) == "" {
			t.Errorf("%s at %s: %q names neither the field nor the item", p.Rule, p.Path, p.What)
		}
		if p.Section != p.Path.Section() && p.Severity != schema.Missing {
			t.Errorf("%s at %s: its section is %q", p.Rule, p.Path, p.Section)
		}
	})
	if len(seen) < len(cases) {
		t.Errorf("only %d sentences were seen, of %d cases", len(seen), len(cases))
	}
}

var itemNamed = regexp.MustCompile(`[Tt]ag [0-9]+`)

// named is the title by which a problem's sentence names its place, or "".
func named(n *schema.Note, p schema.Problem) string {
	var titles []string
	for _, at := range append([]schema.Path{p.Path}, p.Others...) {
		if f := n.FieldAt(at); f != nil {
			titles = append(titles, f.Title)
		}
		if it, ok := n.Item(at.Item()); ok {
			titles = append(titles, fmt.Sprint("ag ", it.Tag))
		}
	}
	for _, title := range titles {
		if strings.Contains(strings.ToLower(p.What), strings.ToLower(title)) {
			return title
		}
	}
	return itemNamed.FindString(p.What) // an item of an earlier note

}

func TestRulesAreNamedOnceWithTitleAndSource(t *testing.T) {
	id := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, r := range rules.All() {
		if !id.MatchString(r.ID) || r.Title == "" || r.Source == "" || r.Severity == schema.Missing || seen[r.ID] {
			t.Errorf("rule %+v", r)
		}
		seen[r.ID] = true
	}
	if len(seen) < 70 {
		t.Errorf("%d rules", len(seen))
	}
}

// What a rule reads is what it declares, or a keystroke would not run it.
func TestRulesReadOnlyWhatTheyDeclare(t *testing.T) {
	try := func(n *schema.Note, ctx rules.Context) {
		for _, fault := range rules.Undeclared(n, inForce(), ctx) {
			t.Error(fault)
		}
	}
	for _, build := range bases {
		try(build(), context())
	}
	for _, c := range cases {
		n, ctx := bases[c.base](), context()
		c.trigger(n, &ctx)
		try(n, ctx)
	}
}

// After a change, running only the rules that read what changed finds what running
// all would.
func TestChangedFindsWhatAllFinds(t *testing.T) {
	for i, c := range cases {
		n, ctx := bases[c.base](), context()
		var checker rules.Checker
		checker.All(n, inForce(), ctx)
		before := sections(n)
		c.trigger(n, &ctx)
		if len(ctx.Register) > 0 || len(ctx.OtherChildren) > 0 || len(ctx.Readings) > 0 || len(ctx.Checks) > 0 || len(ctx.Done) > 0 || len(ctx.Out) > 0 || len(ctx.Recorded) != 1 {
			continue // the context changed too: that is All's work
		}
		var changed []string
		for section, content := range sections(n) {
			if before[section] != content {
				changed = append(changed, section)
			}
		}
		got, want := checker.Changed(n, inForce(), ctx, changed...), rules.Check(n, inForce(), ctx)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("case %d (%s): after a change in %v\n got %v\nwant %v", i, c.rule, changed, got, want)
		}
	}
}

func sections(n *schema.Note) map[string]string {
	var tree map[string]json.RawMessage
	if err := json.Unmarshal(n.JSON(), &tree); err != nil {
		panic(err)
	}
	out := map[string]string{}
	for k, v := range tree {
		out[k] = string(v)
	}
	return out
}

// A question that has its answer leaves the open list and stands in the other; an
// answer about other values, or without a name, does not count; an error takes none.
func TestAnswers(t *testing.T) {
	n, ctx := stage1(), context()
	put(n, schema.SupplyShuntDiameter, 4.5)
	find := func() (schema.Problem, bool) {
		for _, p := range rules.Check(n, nil, ctx) {
			if p.Rule == "usual" && p.Path == schema.SupplyShuntDiameter {
				return p, true
			}
		}
		return schema.Problem{}, false
	}
	p, ok := find()
	if !ok {
		t.Fatal("4.5 mm was not asked about")
	}
	answer := schema.Answer{Rule: p.Rule, Path: p.Path, Answer: "yes, really", By: "B. Crane", Why: "large child", Saw: p.Saw(n)}
	nameless := answer
	nameless.By = ""
	n.SetAnswers([]schema.Answer{nameless})
	if _, open := find(); !open {
		t.Error("an answer without a name closed the question")
	}
	n.SetAnswers([]schema.Answer{answer})
	if _, open := find(); open {
		t.Error("the answered question is still open")
	}
	listed := rules.AnsweredQuestions(n, nil, ctx)
	if len(listed) != 1 || listed[0].Answer != answer || listed[0].Problem.What != p.What {
		t.Errorf("answered questions: %+v", listed)
	}
	var checker rules.Checker
	checker.All(n, nil, ctx)
	if got := checker.Answered(n); !reflect.DeepEqual(got, listed) {
		t.Errorf("the checker lists %+v", got)
	}
	back, _, err := schema.ParseNote(n.JSON())
	if err != nil || !slices.Equal(back.Answers(), []schema.Answer{answer}) {
		t.Errorf("through a file the answers became %v, %v", back.Answers(), err)
	}
	put(n, schema.SupplyShuntDiameter, 5)
	if _, open := find(); !open {
		t.Error("the answer about 4.5 mm closed the question about 5 mm")
	}
	put(n, schema.SupplyShuntDiameter, 3.5)
	if got := rules.AnsweredQuestions(n, nil, ctx); len(got) != 0 {
		t.Errorf("a question that is no longer asked is listed as answered: %v", got)
	}
	put(n, "items.art.tag", 2)
	var e schema.Problem
	for _, p := range rules.Check(n, nil, ctx) {
		if p.Rule == "duplicate-tag" {
			e = p
		}
	}
	n.SetAnswers([]schema.Answer{{Rule: e.Rule, Path: e.Path, Answer: "never mind", By: "B. Crane"}})
	if !slices.ContainsFunc(rules.Check(n, nil, ctx), func(p schema.Problem) bool { return p.Rule == "duplicate-tag" }) {
		t.Error("an error was answered away")
	}
}

// Where a rule's error says more about a place, that the place is not recorded is
// not said as well.
func TestEverythingSaysAPlaceOnce(t *testing.T) {
	n := stage1()
	put(n, "items.jug.guidewire", nil)
	var at []string
	for _, p := range rules.Everything(n, nil, context()) {
		if p.Path == "items.jug.guidewire" {
			at = append(at, p.Rule)
		}
	}
	if !slices.Equal(at, []string{"guidewire-not-answered"}) {
		t.Errorf("%v", at)
	}
}

// Unknown is not none, and none is not unknown: a count not known is not nought.
func TestUnknownIsNotNone(t *testing.T) {
	n := stage1()
	n.State(schema.CountsPacksPut, schema.StatedUnknown)
	n.State(schema.Stage3Fenestration, schema.StatedUnknown)
	for _, p := range rules.Check(n, nil, context()) {
		t.Errorf("%s at %s: %s", p.Rule, p.Path, p.What)
	}
}

// The same note gives the same list, whatever the order its members were written
// and its rows and items stood in.
func TestOrderIsDeterministic(t *testing.T) {
	for i, c := range cases {
		n, ctx := bases[c.base](), context()
		c.trigger(n, &ctx)
		want := fmt.Sprint(rules.Everything(n, inForce(), ctx))
		for range 3 {
			back, _, err := schema.ParseNote(n.JSON())
			if err != nil {
				t.Fatal(err)
			}
			if got := fmt.Sprint(rules.Everything(back, inForce(), ctx)); got != want {
				t.Fatalf("case %d: %s\nthen %s", i, want, got)
			}
		}
	}
}

// Rules never stop on a note that is not in form: parts of a full note replaced by
// anything.
func TestRulesBearMalformedNotes(t *testing.T) {
	const seed = 20261125
	rnd := rand.New(rand.NewPCG(seed, 1))
	junk := func() any {
		all := []any{nil, true, json.Number("-1"), json.Number("1e308"), "", "x", "2026-02-30", "9999-12-31T23:59+23:59", []any{}, []any{nil, map[string]any{"id": "a"}, "a"}, map[string]any{}, map[string]any{"id": 1.0}, map[string]any{"id": "a.b.c"}}
		return all[rnd.IntN(len(all))]
	}
	var maul func(v any, depth int) any
	maul = func(v any, depth int) any {
		if rnd.IntN(12) == 0 && depth > 0 {
			return junk()
		}
		switch v := v.(type) {
		case map[string]any:
			for _, k := range slices.Sorted(keys(v)) {
				if depth > 0 || k != "format" && k != "kind" {
					v[k] = maul(v[k], depth+1)
				}
				if rnd.IntN(40) == 0 {
					v[[]string{"stated", "bound", "id", "kind", "tag"}[rnd.IntN(5)]] = junk()
				}
			}
		case []any:
			for i := range v {
				v[i] = maul(v[i], depth+1)
			}
		}
		return v
	}
	rounds := 150
	if testing.Short() {
		rounds = 10
	}
	if os.Getenv("FAIRLEAD_SOAK") != "" {
		rounds = 10_000
	}
	for range rounds {
		for _, name := range []string{"stage1", "stage2", "stage3", "closure", "support-off"} {
			var tree map[string]any
			dec := json.NewDecoder(strings.NewReader(string(bases[name]().JSON())))
			dec.UseNumber()
			if err := dec.Decode(&tree); err != nil {
				t.Fatal(err)
			}
			b, err := json.Marshal(maul(tree, 0))
			if err != nil {
				t.Fatal(err)
			}
			n, _, err := schema.ParseNote(b)
			if err != nil {
				continue
			}
			ctx := context()
			ctx.Register = n.Items()
			for _, p := range rules.Everything(n, inForce(), ctx) {
				if !strings.HasSuffix(p.What, ".") || p.Rule == "" {
					t.Fatalf("seed %d: %+v from %s", seed, p, b)
				}
			}
		}
	}
}

func keys[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

func FuzzRulesBearAnyNote(f *testing.F) {
	for _, build := range bases {
		f.Add(build().JSON())
	}
	f.Add([]byte(`{"format":"fairlead-note/1","kind":"stage1","items":[{"id":"a","kind":"drain","tag":1,"lumens":[{"id":"b"}]}],"support":{"runs":[{"id":"x","on":"2026-07-14T09:00Z","off":"2026-07-14T08:00Z","minutes":1e300}]}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		n, _, err := schema.ParseNote(data)
		if err != nil {
			return
		}
		ctx := context()
		ctx.Register = n.Items()
		rules.Everything(n, nil, ctx)
		n.Clone().JSON()
	})
}

// A value whose question was never answered is not said to apply "no longer".
func TestHiddenValueSaysWhatItHangsOn(t *testing.T) {
	for _, c := range []struct {
		mode any
		want string
	}{
		{nil, "“Bicaval”; Support, which it hangs on, is not recorded."},
		{"off-pump", "“Bicaval”, and does not apply: Support “"},
	} {
		n := schema.NewNote("stage1", "note-1", "case-1")
		put(n, schema.SupportVenousCannulation, []any{"bicaval"})
		if c.mode != nil {
			put(n, schema.SupportMode, c.mode)
		}
		i := slices.IndexFunc(rules.Check(n, nil, context()), func(p schema.Problem) bool { return p.Rule == "hidden-value" })
		if i < 0 {
			t.Fatalf("support %v: nothing is asked", c.mode)
		}
		if p := rules.Check(n, nil, context())[i]; !strings.Contains(p.What, c.want) || c.mode == nil && !strings.Contains(p.Do, "Answer Support") {
			t.Errorf("support %v: %q, want %q", c.mode, p.What+" "+p.Do, c.want)
		}
	}
}
