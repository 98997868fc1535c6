//go:build !(js && wasm)

package main

import (
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

// TestSourcesAreKept holds what people agreed about the sources: no file grows
// past 700 lines, no test is skipped, nothing is left as a note to oneself, and
// nothing that is committed names where a package came from.
func TestSourcesAreKept(t *testing.T) {
	out, err := exec.Command("git", "-C", "..", "ls-files", "-z", "--cached", "--others", "--exclude-standard").Output()
	if err != nil {
		t.Fatalf("the files cannot be listed: %v", err)
	}
	skipped := regexp.MustCompile(`\b[tb]\.Skip(f|Now)?\(|\b(test|it|describe)\.(skip|todo)\b|\{ (skip|todo):`)
	note := regexp.MustCompile(`\b(TO` + `DO|FIX` + `ME|XX` + `X)\b`)
	registry := regexp.MustCompile(`registry\.npm` + `js\.org|proxy\.golang` + `\.org|deb\.debian` + `\.org|/ro` + `ot/go/`)
	source := regexp.MustCompile(`\.(go|mjs|js|css|html|sh)$|^Makefile$|^\.ci/run$`)
	looked := 0
	for _, name := range strings.Split(string(out), "\x00") {
		if name == "" {
			continue
		}
		data, err := os.ReadFile("../" + name)
		if os.IsNotExist(err) {
			continue // removed and not yet committed
		}
		if err != nil {
			t.Error(err)
			continue
		}
		text := string(data)
		if found := registry.FindString(text); found != "" {
			t.Errorf("%s names %s", name, found)
		}
		if !source.MatchString(name) {
			continue
		}
		looked++
		if lines := strings.Count(text, "\n"); lines > 700 && !strings.Contains(text, "Code generated") {
			t.Errorf("%s has %d lines: split it where it has two subjects", name, lines)
		}
		for i, line := range strings.Split(text, "\n") {
			if skipped.MatchString(line) && name != "wasm/housekeeping_test.go" {
				t.Errorf("%s:%d skips a test: %s", name, i+1, strings.TrimSpace(line))
			}
			if note.MatchString(line) {
				t.Errorf("%s:%d leaves a note to oneself: %s", name, i+1, strings.TrimSpace(line))
			}
		}
	}
	if looked < 30 {
		t.Errorf("only %d sources were looked at", looked)
	}
}
