// Package sorting sorts slices with one sort for all types. The library's own
// slices.SortFunc is made anew for every type it sorts, which in the browser's
// program came to a thirtieth of all it fetches.
package sorting

import "sort"

// By sorts s by less-than-zero, zero, more-than-zero of compare; what is equal keeps
// its order.
func By[T any](s []T, compare func(a, b T) int) {
	sort.Stable(&list{len(s), func(i, j int) bool { return compare(s[i], s[j]) < 0 }, func(i, j int) { s[i], s[j] = s[j], s[i] }})
}

type list struct {
	n    int
	less func(i, j int) bool
	swap func(i, j int)
}

func (l *list) Len() int           { return l.n }
func (l *list) Less(i, j int) bool { return l.less(i, j) }
func (l *list) Swap(i, j int)      { l.swap(i, j) }
