//go:build !(js && wasm)

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math/rand"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"fairlead": func() {
			os.Exit(Run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
		},
	})
}

// TestScripts types at the command line what a person would. The scripts find
// the committed notes as $NOTES and a record made of one of them as record.
func TestScripts(t *testing.T) {
	notes, err := filepath.Abs("../testdata/notes")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("NOTES", notes)
			record, err := recordOf(filepath.Join(notes, "stage1.json"))
			if err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(env.WorkDir, "record"), record, 0o600); err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(env.WorkDir, "utf16.json"), []byte("\xff\xfe{\x00}\x00"), 0o600); err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(env.WorkDir, "latin.txt"), []byte("weight 3.2 kg\nna\xefve"), 0o600); err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(env.WorkDir, "big"), make([]byte, 50<<20), 0o600)
		},
	})
}

// recordOf enters a note file into a record, as the app would.
func recordOf(file string) ([]byte, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	n, _, err := schema.ParseNote(data)
	if err != nil {
		return nil, err
	}
	now := time.Date(2026, 7, 14, 15, 0, 0, 0, time.UTC)
	wall := func() time.Time { return now }
	ids := ledger.NewIDs(rand.New(rand.NewSource(1)), wall)
	rec := ledger.Fold(nil)
	w := ledger.NewWriterAt(ledger.CaseID(n.Case()), ledger.Author{Name: "A. Tester", Role: "surgeon"}, wall, ids,
		func() schema.Moment { return schema.MomentOf(2026, 7, 14, 16, 0, 60, "Europe/London") })
	return ledger.Export(ledger.Enter(rec, w, n))
}

// TestCheckJSON: what check prints for programs is one JSON document.
func TestCheckJSON(t *testing.T) {
	var out, complained bytes.Buffer
	code := Run(context.Background(), []string{"check", "../testdata/sheets/stage1.json", "--json", "--at", "2026-07-14T16:00+01:00"}, nil, &out, &complained)
	var got struct {
		File  string
		Notes []struct {
			Kind     string
			Missing  int
			Problems []struct{ Rule, Path, Severity, What, Do string }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v in %s", err, out.String())
	}
	if code != exitProblems || len(got.Notes) != 1 || got.Notes[0].Kind != "stage1" || got.Notes[0].Missing != 2 || complained.Len() > 0 {
		t.Errorf("code %d, %+v, said %q", code, got, complained.String())
	}
	for _, p := range got.Notes[0].Problems {
		if p.Rule == "" || p.Path == "" || p.What == "" || p.Severity == "" {
			t.Errorf("a problem lacks a part: %+v", p)
		}
	}
}
