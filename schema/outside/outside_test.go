package outside

import (
	"os"
	"path/filepath"
	"testing"
)

func TestCountsAreAppended(t *testing.T) {
	name := filepath.Join(t.TempDir(), "counts")
	t.Setenv(Env, name)
	Check(t, "a standard")
	Count(t, "a library 1.2", 40)
	Count(t, "nothing compared", 0)
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if want := "a standard\t1\na library 1.2\t40\n"; string(got) != want {
		t.Errorf("the file holds %q, want %q", got, want)
	}
}

func TestNothingIsCountedUnasked(t *testing.T) {
	t.Setenv(Env, "")
	Check(t, "a standard") // must not fail for want of a file
}
