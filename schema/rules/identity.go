package rules

import (
	"fmt"

	"fairlead/schema"
)

var identityRules = []entry{
	{Rule{"like-named-child", "Another child here with a like name", schema.Question, "references.md, hazards: another child's note; two children with like names are asked about before signing"},
		[]string{"child"}, likeNamed},
}

// alike tells whether two names may be taken for one another: the same in sound
// of letters or a letter apart.
func alike(a, b string) bool {
	a, b = fold(a), fold(b)
	if a == "" || b == "" {
		return false
	}
	allowed := 1
	if len([]rune(a)) < 4 || len([]rune(b)) < 4 {
		allowed = 0
	}
	return distance(a, b) <= allowed
}

// LikeNamed tells whether two children may be mixed up by name: like surnames, and
// like given names, or one of them without a given name, or the same birth date;
// or the same hospital number.
func LikeNamed(a, b Like) bool {
	if a.HospitalNumber != "" && fold(a.HospitalNumber) == fold(b.HospitalNumber) {
		return true
	}
	if !alike(a.Surname, b.Surname) && !alike(a.BabyOf, b.BabyOf) {
		// A given name and a surname the other way round.
		return alike(a.Surname, b.GivenName) && alike(a.GivenName, b.Surname)
	}
	return a.GivenName == "" || b.GivenName == "" || alike(a.GivenName, b.GivenName) || a.BirthDate != "" && a.BirthDate == b.BirthDate
}

func likeNamed(l *look) {
	me := Like{Surname: l.Text(schema.ChildSurname), GivenName: l.Text(schema.ChildGivenName), BabyOf: l.Text(schema.ChildBabyOf),
		BirthDate: l.Text(schema.ChildBirthDate), HospitalNumber: l.Text(schema.ChildHospitalNumber)}
	for _, other := range l.ctx.OtherChildren {
		if other.Case == l.Case() && other.Case != "" || !LikeNamed(me, other) {
			continue
		}
		l.find(schema.ChildSurname, fmt.Sprintf("Surname: another child here has a like name: %s, number %s, born %s.", fullName(other), orWords(other.HospitalNumber), birthShown(other.BirthDate)),
			"Read the wristband, and say that this is the right child.", schema.ChildGivenName, schema.ChildHospitalNumber, schema.ChildBirthDate)
	}
}

func fullName(c Like) string {
	name := orWords(c.Surname)
	if c.GivenName != "" {
		name += ", " + c.GivenName
	} else if c.BabyOf != "" {
		name += ", baby of " + c.BabyOf
	}
	return name
}

func birthShown(date string) string {
	if date == "" {
		return schema.NotRecorded
	}
	return schema.Date(date).Shown()
}
