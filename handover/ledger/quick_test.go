package ledger

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What is read quickly is what encoding/json reads, whatever the text: as written,
// with a letter changed, taken out or put in, with another order or a repeat.
func TestQuickReadsTheSame(t *testing.T) {
	quickly := 0
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.SampledFrom([]string{"", "5", "12.5", "yes", "a \"b\"", "crème", "<b>", "x\ny", "0190f4a0-0000-7000-8000-0000000000f1"})
		w := func(name string) string { return word.Draw(t, name) }
		var body any
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			body = registered{ItemID(w("item")), RegisterFacts{Output: &Output{Total: w("total"), Emptied: w("emptied"), Colour: w("colour")}, Note: w("note")}}
		case 1:
			body = registered{ItemID(w("item")), RegisterFacts{Pressure: &Pressure{Mean: w("mean")}, Why: w("why")}}
		case 2:
			body = registered{ItemID(w("item")), RegisterFacts{Test: &WireTest{Threshold: w("threshold"), Mode: w("mode")}, Conditions: []Condition{{w("what"), w("answer")}}}}
		case 3:
			body = registered{ItemID(w("item")), RegisterFacts{Complete: w("complete"), Needed: Needed(w("needed")), Round: EventID(w("round")), To: w("to")}}
		default:
			value, err := json.Marshal(w("value"))
			if err != nil {
				t.Fatal(err)
			}
			body = fieldSet{Path: "child.surname", Value: value, Decimal: w("decimal"), Typed: w("typed"), Origin: &Origin{How: w("how")}, Replaces: []EventID{EventID(w("a")), EventID(w("b"))}}
		}
		b, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		text := string(b)
		if rapid.Bool().Draw(t, "changed") {
			i := rapid.IntRange(0, len(text)-1).Draw(t, "at")
			with := rapid.SampledFrom([]string{"", ",", "}", "{", `"`, ":", " ", "[", "]", `,"item":"y"`, `"note":"z",`, "null", "\\u0041", "\x00", "\xff"}).Draw(t, "with")
			text = text[:i] + with + text[i+rapid.IntRange(0, 1).Draw(t, "out"):]
		}
		raw := json.RawMessage(text)
		if _, isField := body.(fieldSet); isField {
			got, ok := quickFieldSet(raw)
			if !ok {
				return
			}
			quickly++
			var want fieldSet
			if err := json.Unmarshal(raw, &want); err != nil || !reflect.DeepEqual(got, want) {
				t.Fatalf("%s is read as %+v, and by encoding/json as %+v (%v)", text, got, want, err)
			}
			return
		}
		got, err1 := readRegistered(raw)
		want := new(registered)
		err2 := json.Unmarshal(raw, want)
		if (err1 == nil) != (err2 == nil) || err1 == nil && !reflect.DeepEqual(got, want) {
			t.Fatalf("%s is read as %+v (%v), and by encoding/json as %+v (%v)", text, got, err1, want, err2)
		}
		if !strings.ContainsAny(text, "\\<>") {
			quickly++
		}
	})
	if quickly == 0 {
		t.Error("nothing was read quickly")
	}
}
