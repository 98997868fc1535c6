// Score holds the reader of dictations against the corpus and prints, for each
// part of it, "part precision recall false-claims".
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"fairlead/schema/dictation/corpus"
)

func main() {
	fields := flag.Bool("fields", false, "print the fields a dictation can fill, and stop")
	write := flag.Bool("write", false, "rewrite scores.tsv and fields.tsv too")
	feed := flag.Bool("feed", false, "print numbers and units as they are read, as JSON, and stop")
	part := flag.String("part", "", "score this `part` alone, tuned or untuned, and leave the written scores of the other")
	misses := flag.String("misses", "", "print what went wrong in this `part`, as it stands alone, and its line; write nothing")
	flag.Parse()
	if *fields {
		corpus.WriteFields(os.Stdout)
		return
	}
	if *feed {
		if err := corpus.WriteFeed(os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, "score:", err)
			os.Exit(1)
		}
		return
	}
	if err := run(*write, *part, *misses); err != nil {
		fmt.Fprintln(os.Stderr, "score:", err)
		os.Exit(1)
	}
}

func run(write bool, part, misses string) error {
	names := corpus.PartNames
	if part != "" {
		names = []string{part}
	}
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return err
	}
	dir := filepath.Join(strings.TrimSpace(string(out)), "testdata", "dictation")
	if misses != "" {
		ds, err := corpus.Load(filepath.Join(dir, misses))
		if err != nil {
			return err
		}
		p := corpus.ScoreAll(misses, ds)
		for _, m := range p.Misses {
			fmt.Println(m)
		}
		fmt.Println(p.Line())
		return nil
	}
	parts, err := corpus.Scores(dir, names...)
	if err != nil {
		return err
	}
	corpus.WriteScores(os.Stdout, parts)
	if !write {
		return nil
	}
	var scores, fields bytes.Buffer
	corpus.WriteScores(&scores, parts)
	corpus.WriteFieldScores(&fields, parts)
	for name, fresh := range map[string]string{"scores.tsv": scores.String(), "fields.tsv": fields.String()} {
		file := filepath.Join(dir, name)
		old, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		for _, n := range names {
			old = []byte(corpus.Renewed(string(old), fresh, n))
		}
		if err := os.WriteFile(file, old, 0o644); err != nil {
			return err
		}
	}
	return nil
}
