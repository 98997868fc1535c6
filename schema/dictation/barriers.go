package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// openUnsutured takes away the sutures of a sternum that is open in the end: they were put
// in, and out again when the trial of closing failed.
func (s *settling) openUnsutured() {
	sternum := ""
	for _, p := range s.plain {
		if p.Path == schema.ClosingSternum {
			if sternum != "" && sternum != p.Value {
				return
			}
			sternum = p.Value
		}
	}
	if sternum == "open" {
		s.plain = slices.DeleteFunc(s.plain, func(p *Proposal) bool {
			return p.Path == schema.ClosingSternalSutures || p.Path == schema.ClosingSternalMaterial
		})
	}
}

// barriers takes a membrane that is said to lie behind the sternum, or to be there for
// the next operation, for a barrier that stays: "Gore-Tex membrane behind sternum for next
// time". Under an open chest it is the membrane that comes off again.
func (s *settling) barriers() {
	for _, p := range s.plain {
		if p.Path == schema.ClosingSternum && p.Value == "open" {
			return
		}
	}
	kind := schema.ItemKindNamed("implant")
	for _, x := range s.groups {
		if x.item == nil || x.item.Name != "left-on-purpose" || x.variety != "membrane" || x.gone || x.Denied || kind == nil {
			continue
		}
		end := x.Spans[0].End
		for _, p := range x.values {
			end = max(end, p.Spans[0].End)
		}
		rest := strings.ToLower(s.reading.Text[end:min(len(s.reading.Text), end+36)])
		if i := strings.IndexAny(rest, ".;,\n"); i >= 0 {
			rest = rest[:i]
		}
		if !anyWord(rest, "behind the sternum", "behind sternum", "behind the bone", "behind bone", "under the sternum", "for next time", "for the next") {
			continue
		}
		var kept []*Proposal
		for _, p := range x.values {
			name := p.Path.Last()
			if name == "variety" {
				p.Value = "barrier"
			} else if name != "material" {
				continue
			}
			p.Path = schema.ItemPath(kind.Name, name)
			kept = append(kept, p)
		}
		x.values, x.item, x.Kind, x.variety = kept, kind, kind.Name, "barrier"
	}
}
