package pattern

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"fairlead/schema/outside"
)

// ours is every pattern in the schemas that ship.
func ours(t *testing.T) map[string]bool {
	files, err := filepath.Glob("../generated/*.json")
	if err != nil || len(files) < 9 {
		t.Fatalf("only %d generated schemas: %v", len(files), err)
	}
	files = append(files, "../profile/profile.schema.json")
	found := map[string]bool{}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if p, ok := v["pattern"].(string); ok {
				found[p] = true
			}
			if _, ok := v["patternProperties"]; ok {
				t.Error("a schema has patternProperties, which the browser does not read")
			}
			if f, ok := v["format"].(string); ok {
				t.Errorf("a schema has the format %s, which the browser does not read", f)
			}
			for _, in := range v {
				walk(in)
			}
		case []any:
			for _, in := range v {
				walk(in)
			}
		}
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var v any
		if err := json.Unmarshal(data, &v); err != nil {
			t.Fatal(err)
		}
		walk(v)
	}
	if len(found) < 4 {
		t.Fatalf("only %d patterns found", len(found))
	}
	return found
}

// Package regexp of the Go library is the outside judge.
func TestAsRegexp(t *testing.T) {
	patterns := []string{`^$`, `^a?b*c+$`, `^(ab|a)(bc|c)?$`, `^[+/\]-]{2,3}$`, `^(a|b|)*x$`, `^(a*)*b$`, `^((a|b){2}){1,2}$`, `^\[x\]$`, `^x{0}y$`}
	for p := range ours(t) {
		patterns = append(patterns, p)
	}
	seeds := []string{"", "2026-07-14T09:42+01:00[Europe/London]", "2026-07-14T23:59:59Z", "2026-07-14", "09:42", "fairlead-note/12", "a1", "abc", "ab", "aab", "bbx", "+/]", "[x]", "y", "\n", "abab",
		"0190a1b2-0000-7000-8000-00000000ca5e", "é", "0000000000000000000000000000000000000000000000000000000000000000"}
	const letters = "abcxyzT0123459:-+/[]Z_é\n é"
	random := rand.New(rand.NewPCG(7, 7))
	n := 0
	for _, text := range patterns {
		judge := regexp.MustCompile(text)
		p, err := Compile(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if fmt.Sprint(p) != judge.String() {
			t.Errorf("%s is shown as %s", judge, p)
		}
		yes := 0
		for i := range 20_000 {
			s := []byte(seeds[i%len(seeds)])
			for range random.IntN(4) {
				b := letters[random.IntN(len(letters))]
				at := random.IntN(len(s) + 1)
				switch random.IntN(3) {
				case 0:
					s = append(s[:at], append([]byte{b}, s[at:]...)...)
				case 1:
					if at < len(s) {
						s[at] = b
					}
				case 2:
					if at < len(s) {
						s = append(s[:at], s[at+1:]...)
					}
				}
			}
			want := judge.MatchString(string(s))
			if want {
				yes++
			}
			if got := p.MatchString(string(s)); got != want {
				t.Fatalf("%s takes %q: %v, regexp says %v", text, s, got, want)
			}
			n++
		}
		if yes == 0 {
			t.Errorf("%s was met by none of the texts", text)
		}
	}
	outside.Count(t, "Go regexp, the patterns of our schemas", len(patterns))
	t.Logf("%d texts", n)
}

func TestRefused(t *testing.T) {
	for _, text := range []string{``, `a`, `^a`, `a$`, `^a|b$`, `^.$`, `^[^a]$`, `^\d$`, `^(?:a)$`, `^a{2,}$`, `^a{2$`, `^a??$`, `^a**$`, `^[b-a]$`, `^(a$`, `^a)$`, `^[a$`, `^é$`, `^[é]$`, `^[[:alpha:]]$`, `^a\$`, `^]$`, `^a^$`, `^{2}$`} {
		if _, err := Compile(text); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}
