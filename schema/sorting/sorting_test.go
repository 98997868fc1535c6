package sorting

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
)

// The library's slices.SortStableFunc is the judge.
func TestAsTheLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	type pair struct{ key, place int }
	byKey := func(a, b pair) int { return cmp.Compare(a.key, b.key) }
	for n := range 200 {
		s := make([]pair, n)
		for i := range s {
			s[i] = pair{random.IntN(n/3 + 1), i}
		}
		want := slices.Clone(s)
		slices.SortStableFunc(want, byKey)
		By(s, byKey)
		if !slices.Equal(s, want) {
			t.Fatalf("%v, want %v", s, want)
		}
	}
}
