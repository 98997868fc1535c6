package rules

import "fairlead/schema"

// The rules whose finding needs the computed values. [Context.Asked] finds them,
// since what computes stands above this package.
const (
	WeightChanged = "weight-z-change"
	RateTenfold   = "infusion-rate-tenfold"
)

var askedRules = []entry{
	{Rule{WeightChanged, "A weight for age further from the child's last than the unit's setting", schema.Question, "the unit's setting, growth.z-change; WHO Child Growth Standards"},
		[]string{"measures", "child", "operation"}, asked},
	{Rule{RateTenfold, "A pump rate that gives an impossible dose, or one ten times too high or too low", schema.Question, ranges},
		[]string{"infusions", "measures"}, asked},
}

func asked(l *look) {
	if l.ctx.Asked == nil {
		return
	}
	for _, q := range l.ctx.Asked(l.Note, l.rule.ID) {
		l.find(q.Path, q.What, q.Do, q.Others...)
	}
}
