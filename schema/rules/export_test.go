package rules

import (
	"fmt"
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// Undeclared runs every rule on a watched note and names each section a rule read
// without declaring it.
func Undeclared(n *schema.Note, prof *profile.Profile, ctx Context) []string {
	var faults []string
	for _, e := range entriesFor(n.Kind()) {
		watched := n.Watched(func(section string) {
			if !slices.Contains(e.reads, section) {
				fault := fmt.Sprintf("the rule %s (%v) reads %s without declaring it", e.ID, e.reads, section)
				if !slices.Contains(faults, fault) {
					faults = append(faults, fault)
				}
			}
		})
		e.on(watched, prof, &ctx)
	}
	return faults
}
