package ledger

import (
	"encoding/json"
	"testing"
)

// Canonical has a short way; canonical is the long one, which decodes all and
// encodes it again. Both must come to the same text.
func checkCanonical(t *testing.T, e Event) string {
	t.Helper()
	short, err1 := Canonical(e)
	long, err2 := canonical(e)
	if err1 != nil || err2 != nil || short != long {
		t.Fatalf("Canonical: %s, %v\ncanonical: %s, %v", short, err1, long, err2)
	}
	return short
}

func TestCanonical(t *testing.T) {
	var e Event
	if err := json.Unmarshal([]byte(written), &e); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		body  string
		plain bool
	}{
		{`{}`, true},
		{`{"a":1}`, true},
		{`{"a":1,"b":[{"c":null},{},[],"x y",true,-2.50e3]}`, true},
		{`{"path":"child.surname","value":"x"}`, true},
		{`{"b":1,"a":2}`, false},
		{`{"a":1,"a":2}`, false},
		{`{"a":{"c":1,"b":2}}`, false},
		{`{"a": 1}`, false},
		{`{"a":1 }`, false},
		{`{ "a":1}`, false},
		{`{"a":[1, 2]}`, false},
		{"{\"a\":\n1}", false},
		{`{"a":"é"}`, false},
		{`{"a":"\u0041"}`, false},
		{`{"a":"<b>"}`, false},
		{`{"a b":"c, {d} : [e]","f":"]"}`, true},
	} {
		e.Body = json.RawMessage(c.body)
		if got := bareBody(e.Body); got != c.plain {
			t.Errorf("bareBody(%s) = %v", c.body, got)
		}
		checkCanonical(t, e)
	}
	a, b := e, e
	a.Body, b.Body = json.RawMessage(`{"b":[1,{"d":2,"c":"\u0041"}],"a":null}`), json.RawMessage("{\"a\":null,\n \"b\":[1,{\"c\":\"A\",\"d\":2}]}")
	if checkCanonical(t, a) != checkCanonical(t, b) {
		t.Error("the order of members, spaces and escapes change the text")
	}
	b.Body = json.RawMessage(`{"a":null,"b":[1,{"c":"A","d":2.0}]}`)
	if checkCanonical(t, a) == checkCanonical(t, b) {
		t.Error("2 and 2.0 have one text")
	}
}

func FuzzCanonical(f *testing.F) {
	f.Add("A. Invented", "surgeon", `{"a":[{"b":"c"}]}`)
	f.Add("<&>\u2028", "", `{"z":1,"a":{"":{}}}`)
	f.Fuzz(func(t *testing.T, name, role, body string) {
		var e Event
		if err := json.Unmarshal([]byte(written), &e); err != nil {
			t.Fatal(err)
		}
		e.Author, e.Body = Author{name, role}, json.RawMessage(body)
		if e.Valid() != nil {
			return
		}
		checkCanonical(t, e)
	})
}

func BenchmarkCanonical(b *testing.B) {
	var e Event
	if err := json.Unmarshal([]byte(written), &e); err != nil {
		b.Fatal(err)
	}
	e.Body = json.RawMessage(`{"path":"child.surname","value":"words of some length, as they are typed"}`)
	for _, c := range []struct {
		name string
		do   func(Event) (string, error)
	}{{"short", Canonical}, {"long", canonical}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.do(e); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
