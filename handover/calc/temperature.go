package calc

import "fairlead/schema/profile"

// HypothermiaClass names the class of a lowest temperature, rounded to 0.1 °C
// first (14.05 would else fall into a gap). steps are the highest temperatures
// of profound, deep, moderate and mild, as the unit profile holds them. Above
// the last it is "none".
func HypothermiaClass(t Temperature, steps []float64) (string, *Refusal) {
	c := roundTo(t.In(Celsius), 1)
	if len(steps) != 4 {
		return "", refuse("hypothermia classes", "The unit profile does not hold the four classes.", "Set them.")
	}
	if !usable(c) || c < 0 || c > 45 {
		return "", refuse("temperature", Shown(c, 1, "Cel")+" is not a body temperature.", "Check the number and its unit.")
	}
	for i, name := range []string{"profound", "deep", "moderate", "mild"} {
		if compare(c, steps[i]) <= 0 {
			return name, nil
		}
	}
	return "none", nil
}

// Change is the rate of a temperature change; cooling is negative.
func Change(from, to Temperature, over Duration) (TemperatureRate, *Refusal) {
	m := over.In(Minute)
	if !usable(m) || m <= 0 {
		return TemperatureRate{}, refuse("duration", "The second reading is not after the first.", "Check the two times.")
	}
	return Of((to.In(Celsius)-from.In(Celsius))/m, CelsiusPerMinute), nil
}

// TemperatureLimits are the limits on bypass that the unit has activated (adult
// evidence); nil means the unit has not activated that one.
type TemperatureLimits struct {
	Outlet       *float64 // arterial outlet stays below, °C
	Gradient     *float64 // outlet to inlet at most, °C
	WarmFrom     *float64 // outlet above which the two below hold, °C
	WarmGradient *float64
	WarmRate     *float64 // °C/min
}

// OnBypass is one pair of readings on bypass.
type OnBypass struct {
	Outlet, Inlet *Temperature
	Rate          *TemperatureRate // of rewarming
}

// Exceeded names the limits a pair of readings is beyond: "outlet", "gradient",
// "warm gradient", "warm rate".
func (l TemperatureLimits) Exceeded(b OnBypass) []string {
	var out []string
	if b.Outlet == nil {
		return nil
	}
	o := b.Outlet.In(Celsius)
	if l.Outlet != nil && compare(o, *l.Outlet) >= 0 {
		out = append(out, "outlet")
	}
	warm := l.WarmFrom != nil && compare(o, *l.WarmFrom) > 0
	if b.Inlet != nil {
		g := o - b.Inlet.In(Celsius)
		if g < 0 {
			g = -g
		}
		if l.Gradient != nil && compare(g, *l.Gradient) > 0 {
			out = append(out, "gradient")
		}
		if warm && o > b.Inlet.In(Celsius) && l.WarmGradient != nil && compare(g, *l.WarmGradient) > 0 {
			out = append(out, "warm gradient")
		}
	}
	if warm && b.Rate != nil && l.WarmRate != nil && compare(b.Rate.In(CelsiusPerMinute), *l.WarmRate) > 0 {
		out = append(out, "warm rate")
	}
	return out
}

// BypassLimits are the temperature limits the unit has activated.
func BypassLimits(p *profile.Profile) TemperatureLimits {
	get := func(id profile.ID) *float64 {
		if v, _, ok := p.Number(id); ok {
			return &v
		}
		return nil
	}
	return TemperatureLimits{get(profile.OutletTemperature), get(profile.OutletGradient), get(profile.WarmFrom), get(profile.WarmGradient), get(profile.WarmRate)}
}
