// Feed prints, as JSON, what the program says of units, check characters and
// growth, so that numbers.test.mjs and growth.test.mjs can hold it against
// independent libraries. Run it from
// the module: go run ./testdata/outside/feed.
package main

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"os"
	"strings"

	"fairlead/handover/calc"
	"fairlead/handover/calc/growth"
	"fairlead/schema/identifiers"
)

type conversion struct {
	From  string  `json:"from"`
	To    string  `json:"to"`
	Value float64 `json:"value"`
	Got   float64 `json:"got"`
}

type checked struct {
	Body  string `json:"body"`
	Check string `json:"check"`
}

type judged struct {
	Text    string `json:"text"`
	Refused bool   `json:"refused"`
	Doubted bool   `json:"doubted"`
}

// scored is a weight at an age between two days, with the scores of both; on a
// week's day the two are one.
type scored struct {
	Sex    string  `json:"sex"`
	Months float64 `json:"months"`
	Kg     float64 `json:"kg"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
}

// growths are random children at the ages that the other implementation's tables
// hold and it takes: the weeks from the 5th to the 12th and the months from the 4th
// to the 59th. Weights go from far below to far above three deviations.
func growths(rng *rand.Rand) (out []scored) {
	for range 1000 {
		sex, letter := growth.Boy, "M"
		if rng.Intn(2) == 0 {
			sex, letter = growth.Girl, "F"
		}
		months := float64(4 + rng.Intn(56))
		age := months * 30.4375 // days in a month, as the standard has it
		if rng.Intn(4) == 0 {
			age = float64(7 * (5 + rng.Intn(8)))
			months = (age + 0.5) / 30.4374 // a point inside that week
		}
		day := min(int(age), growth.LastDay)
		next := min(int(math.Ceil(age)), growth.LastDay)
		p, _ := growth.WeightLMS(sex, day)
		kg := math.Round(p.M*math.Exp(p.S*(rng.Float64()*10-5))*1000) / 1000
		a, _ := growth.WeightZ(sex, day, kg)
		b, _ := growth.WeightZ(sex, next, kg)
		out = append(out, scored{letter, months, kg, a, b})
	}
	return out
}

func main() {
	rng := rand.New(rand.NewSource(4))
	var out struct {
		Units []conversion `json:"units"`
		GTIN  []checked    `json:"gtin"`
		Mod37 []checked    `json:"mod37"`
		GS1   []judged     `json:"gs1"`
		HIBC  []judged     `json:"hibc"`
		Grown []scored     `json:"grown"`
	}
	for _, pair := range calc.UCUMUnits() {
		for _, v := range []float64{1, 0.05, 37, 250, float64(rng.Intn(100000)) / 1000} {
			for _, p := range [][2]string{pair, {pair[1], pair[0]}} {
				got, ok := calc.Convert(v, p[0], p[1])
				if !ok {
					fmt.Fprintf(os.Stderr, "feed: %s does not convert to %s\n", p[0], p[1])
					os.Exit(1)
				}
				out.Units = append(out.Units, conversion{p[0], p[1], v, got})
			}
		}
	}
	text := func(alphabet string, n int) string {
		var b strings.Builder
		for range n {
			b.WriteByte(alphabet[rng.Intn(len(alphabet))])
		}
		return b.String()
	}
	const figures, letters = "0123456789", "ABCDEFGHJKLMNPQRSTUVWXYZ"
	for range 500 {
		body := text(figures, []int{7, 11, 12, 13}[rng.Intn(4)])
		c, _ := identifiers.CheckDigitGS1(body)
		out.GTIN = append(out.GTIN, checked{body, string(c)})
		din := text(letters, 1) + text(letters+figures, 4) + text(figures, 8)
		c, _ = identifiers.CheckISO7064(din)
		out.Mod37 = append(out.Mod37, checked{din, string(c)})
	}
	for i := range 300 {
		body := text(figures, 13)
		c, _ := identifiers.CheckDigitGS1(body)
		if i%3 == 1 {
			c = '0' + (c-'0'+1)%10
		}
		day := fmt.Sprintf("%02d%02d%02d", rng.Intn(100), 1+rng.Intn(12), rng.Intn(29))
		if i%3 == 2 {
			day = fmt.Sprintf("%02d%02d%02d", rng.Intn(100), 13+rng.Intn(80), 1+rng.Intn(28))
		}
		s := "(01)" + body + string(c) + "(17)" + day + "(10)" + text(letters+figures, 1+rng.Intn(20)) + "(21)" + text(letters+figures, 1+rng.Intn(20))
		id := identifiers.Parse(s, 2026)
		out.GS1 = append(out.GS1, judged{s, id.Refused(), len(id.Problems) > 0})
	}
	for i := range 200 {
		body := "+" + text(letters, 1) + text(letters+figures, 3) + text(letters+figures, 1+rng.Intn(18)) + text(figures, 1)
		c, _ := identifiers.CheckHIBC(body)
		s := body + string(c)
		if i%2 == 1 {
			s = body + text("ABCDEFGHIJ", 1)
		}
		id := identifiers.Parse(s, 2026)
		out.HIBC = append(out.HIBC, judged{s, id.Refused(), len(id.Problems) > 0})
	}
	out.Grown = growths(rand.New(rand.NewSource(60)))
	if err := json.NewEncoder(os.Stdout).Encode(out); err != nil {
		fmt.Fprintln(os.Stderr, "feed:", err)
		os.Exit(1)
	}
}
