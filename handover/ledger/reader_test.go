package ledger

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

const written = `{"id":"0190f4a0-0000-7000-8000-000100000001","case":"0190f4a0-0000-7000-8000-00000000000a","note":"0190f4a0-0000-7000-8000-00000000000b",` +
	`"writer":"0190f4a0-0000-7000-8000-00000000aaaa","clock":"0190f4a00000.0000","author":{"name":"A. Invented","role":"surgeon"},` +
	`"happened":"2026-07-14T09:42+01:00[Europe/London]","entered":"2026-07-14T09:43+01:00","action":"0190f4a0-0000-7000-8000-000100000001",` +
	`"undoes":"0190f4a0-0000-7000-8000-000100000002","kind":"field set","v":1,"body":{"path":"child.surname","value":"}\\\"{","deep":{"a":[{}]}}}`

func change(t testing.TB, from, to string) string {
	t.Helper()
	if strings.Count(written, from) != 1 {
		t.Fatalf("%q does not stand once in the event", from)
	}
	return strings.Replace(written, from, to, 1)
}

// Read gives what UnmarshalJSON gives, which is held elsewhere, on whatever it is
// shown; quick tells which way it must have gone.
func TestReader(t *testing.T) {
	for _, c := range []struct {
		name, text string
		quick      bool
	}{
		{"every member", written, true},
		{"no note", change(t, `"note":"0190f4a0-0000-7000-8000-00000000000b",`, ""), true},
		{"no role", change(t, `,"role":"surgeon"`, ""), true},
		{"no action", change(t, `"action":"0190f4a0-0000-7000-8000-000100000001",`, ""), true},
		{"no undoes", change(t, `"undoes":"0190f4a0-0000-7000-8000-000100000002",`, ""), true},
		{"letters beyond ASCII", change(t, "A. Invented", "Á. 发明 👶🏽"), true},
		{"version 12", change(t, `"v":1`, `"v":12`), true},
		{"empty body", change(t, `{"path":"child.surname","value":"}\\\"{","deep":{"a":[{}]}}`, `{}`), true},
		{"an escape in a name", change(t, "A. Invented", `A. \"I\" \u0026 B`), false},
		{"a member not known here", change(t, `"v":1`, `"v":1,"later":[1,{}]`), false},
		{"a member after the body", change(t, `[{}]}}}`, `[{}]}},"later":{"x":1}}`), false},
		{"another order", change(t, `"v":1,`, ``)[:len(written)-7] + `,"v":1}`, false},
		{"a space", change(t, `"v":1`, `"v": 1`), false},
		{"a version that is too large", change(t, `"v":1`, `"v":99999999999999999999`), false},
		{"a moment that is none", change(t, `2026-07-14T09:43+01:00`, `soon`), false},
		{"cut short", written[:len(written)-9], false},
		{"nothing", "", false},
		{"something after it", written + "{}", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := &Reader{}
			for range 2 { // the second time from what it remembers
				same(t, r, c.text)
			}
			if _, ok := r.quick([]byte(c.text)); ok != c.quick {
				t.Errorf("quick: %v, want %v", ok, c.quick)
			}
		})
	}
}

func same(t *testing.T, r *Reader, text string) {
	t.Helper()
	got, gotErr := r.Read([]byte(text))
	var want Event
	wantErr := json.Unmarshal([]byte(text), &want)
	if (gotErr == nil) != (wantErr == nil) {
		t.Fatalf("Read: %v, UnmarshalJSON: %v", gotErr, wantErr)
	}
	if gotErr == nil && !reflect.DeepEqual(got, want) {
		t.Fatalf("Read:\n%+v\nUnmarshalJSON:\n%+v", got, want)
	}
}

// Whatever MarshalJSON writes comes back the same.
func FuzzReader(f *testing.F) {
	f.Add("A. Invented", "surgeon", "child.surname", "x", true)
	f.Add("\"\\", "", "}", "\u2028<&>", false)
	f.Fuzz(func(t *testing.T, name, role, path, value string, noted bool) {
		var e Event
		if err := json.Unmarshal([]byte(written), &e); err != nil {
			t.Fatal(err)
		}
		e.Author = Author{Name: name, Role: role}
		if !noted {
			e.Note, e.Action, e.Undoes = "", "", ""
		}
		body, err := json.Marshal(map[string]any{"path": path, "value": []string{value}})
		if err != nil {
			t.Fatal(err)
		}
		e.Body = body
		b, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		same(t, &Reader{}, string(b))
	})
}

func BenchmarkReader(b *testing.B) {
	r := &Reader{}
	for b.Loop() {
		if _, err := r.Read([]byte(written)); err != nil {
			b.Fatal(err)
		}
	}
}
