package schema

import "strings"

// Path names one place in a note. In a note it is concrete:
// "section.field", "section.rows.<row id>.field", "items.<item id>.field" or
// "items.<item id>.rows.<row id>.field". In a definition it is general, with "*"
// for the row and the item's kind for its id: "section.rows.*.field" and
// "items.<item kind>.field".
type Path string

// In makes a general path concrete: the ids of the item and of the row stand in
// place of its kind and of "*", in this order. SupportRunsOn.In(row) is the start
// of that run; ItemDrainSize.In(item) the size of that drain.
func (p Path) In(ids ...string) Path {
	if len(ids) == 0 {
		return p
	}
	s := string(p)
	if rest, ok := strings.CutPrefix(s, itemsName+"."); ok {
		if _, rest, ok := strings.Cut(rest, "."); ok {
			s = itemsName + "." + ids[0] + "." + rest
			ids = ids[1:]
		}
	}
	if before, after, ok := strings.Cut(s, ".*."); ok && len(ids) > 0 {
		s = before + "." + ids[0] + "." + after
	}
	return Path(s)
}

// Section is the first part: the section's name, or "items".
func (p Path) Section() string {
	s, _, _ := strings.Cut(string(p), ".")
	return s
}

// Item is the id (in a definition the kind) of the item the path lies in, or "".
func (p Path) Item() string {
	section, rest, _ := strings.Cut(string(p), ".")
	if section != itemsName {
		return ""
	}
	id, _, _ := strings.Cut(rest, ".")
	return id
}

// Last is the name of the field itself.
func (p Path) Last() string {
	return string(p[strings.LastIndexByte(string(p), '.')+1:])
}

// Row is the id of the row the path lies in, else of the item, or "".
func (p Path) Row() string {
	if list := p.List(); list != "" && list != itemsName {
		id, _, _ := strings.Cut(string(p[len(list)+1:]), ".")
		return id
	}
	return p.Item()
}

// List is the path of the list a row's path lies in, "items" for an item's, or "".
func (p Path) List() Path {
	inItem := p.Section() == itemsName
	parts := strings.Count(string(p), ".") + 1
	switch {
	case inItem && parts == 5 || !inItem && parts == 4:
		row := p[:strings.LastIndexByte(string(p), '.')]
		return row[:strings.LastIndexByte(string(row), '.')]
	case inItem:
		return itemsName
	}
	return ""
}

// ItemPath is the path of one attribute of one item.
func ItemPath(item, field string) Path { return Path(itemsName + "." + item + "." + field) }

// RowPath is the path of one field of one row.
func RowPath(list Path, row, field string) Path {
	return Path(string(list) + "." + row + "." + field)
}

// ids are the ids of the item and the row a concrete path lies in.
func (p Path) ids() []string {
	var ids []string
	if item := p.Item(); item != "" {
		ids = append(ids, item)
	}
	if list := p.List(); list != "" && list != itemsName {
		ids = append(ids, p.Row())
	}
	return ids
}
