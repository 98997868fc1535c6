package schema

import "slices"

// Clone is a deep copy.
func (n *Note) Clone() *Note { return &Note{cloneValue(n.tree).(map[string]any), nil} }

func cloneValue(v any) any {
	switch v := v.(type) {
	case map[string]any:
		m := make(map[string]any, len(v))
		for k, x := range v {
			m[k] = cloneValue(x)
		}
		return m
	case []any:
		l := make([]any, len(v))
		for i, x := range v {
			l[i] = cloneValue(x)
		}
		return l
	}
	return v
}

// CatchUp makes the note what another is, and names the members that differed:
// sections, "items", or what else a note holds. It costs little where little did.
func (n *Note) CatchUp(to *Note) []string {
	var differ []string
	for name := range n.tree {
		if _, ok := to.tree[name]; !ok {
			differ = append(differ, name)
			delete(n.tree, name)
		}
	}
	for name, v := range to.tree {
		if was, ok := n.tree[name]; !ok || !equalTree(was, v) {
			differ = append(differ, name)
			n.tree[name] = cloneValue(v)
		}
	}
	return differ
}

// equalTree tells whether two parts of notes hold the same.
func equalTree(x, y any) bool {
	switch x := x.(type) {
	case map[string]any:
		y, ok := y.(map[string]any)
		if !ok || len(x) != len(y) {
			return false
		}
		for k, v := range x {
			if w, ok := y[k]; !ok || !equalTree(v, w) {
				return false
			}
		}
		return true
	case []any:
		y, ok := y.([]any)
		return ok && slices.EqualFunc(x, y, equalTree)
	}
	switch y.(type) {
	case map[string]any, []any:
		return false
	}
	return x == y
}
