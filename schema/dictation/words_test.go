package dictation

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// Words are compared as normal keeps them: "theatre" never meets the "theater" of
// the text, nor "packs" its "pack", so a condition that names one is dead.
func TestWordsAreComparedAsTheyAreKept(t *testing.T) {
	call := regexp.MustCompile(`g\.(?:is|within|mentions)\((?:[^()]|\([^()]*\))*\)`)
	word := regexp.MustCompile(`"([^"]*)"`)
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range call.FindAllString(string(source), -1) {
			for _, w := range word.FindAllStringSubmatch(c, -1) {
				if n := normal(w[1]); n != w[1] && !regexp.MustCompile(`normal\("`+w[1]).MatchString(c) {
					t.Errorf("%s: %q is kept as %q in %s", file, w[1], n, c)
				}
			}
		}
	}
}
