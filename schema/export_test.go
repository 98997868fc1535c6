package schema

// MomentPattern is the pattern of a time in the composed schemas.
const MomentPattern = momentPattern

// NoteOf is a note around a tree, for tests that change the tree beneath it.
func NoteOf(tree map[string]any) *Note { return &Note{tree: tree} }

// ForgetVerdicts empties the cache of verdicts, the compiled schemas apart.
func ForgetVerdicts() {
	for _, c := range checkers {
		c.recent = nil
	}
}

// ForgetSchemas empties the cache of compiled schemas too.
func ForgetSchemas() { clear(checkers) }

// ReadOrdered reads JSON as the definitions are read, given back as encoding/json
// would, with the names of the outermost members in their order.
func ReadOrdered(text string) (v any, names []string, err error) {
	o, err := read(text, true)
	for _, m := range o.members {
		names = append(names, m.name)
	}
	if err != nil {
		return nil, nil, err
	}
	return o.plain(), names, nil
}

// PassOver reads JSON without looking into its members.
func PassOver(text string) (string, error) {
	v, err := read(text, false)
	return v.raw, err
}

func (v value) plain() any {
	switch v.raw[0] {
	case '{':
		m := map[string]any{}
		for _, x := range v.members {
			m[x.name] = x.value.plain()
		}
		return m
	case '[':
		l := []any{}
		for _, x := range v.list {
			l = append(l, x.plain())
		}
		return l
	}
	return v.any()
}
