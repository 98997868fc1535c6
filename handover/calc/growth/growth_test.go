package growth

import (
	"bufio"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"fairlead/schema/outside"

	"pgregory.net/rapid"
)

func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../../testdata/growth/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out [][]string
	for s := bufio.NewScanner(f); s.Scan(); {
		if c := strings.Split(s.Text(), "\t"); !strings.HasPrefix(c[0], "#") && c[1] != "sex" && c[0] != "sex" {
			out = append(out, c)
		}
	}
	return out
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every figure of the published daily tables is in the packed ones.
func TestTablesArePublished(t *testing.T) {
	for name, get := range map[string]func(Sex, int) (LMS, bool){"who-weight-for-age.tsv": WeightLMS, "who-length-for-age.tsv": LengthLMS} {
		list := rows(t, name)
		if len(list) != 2*(LastDay+1) {
			t.Fatalf("%s has %d rows", name, len(list))
		}
		for _, r := range list {
			sex, day := Sex(num(t, r[0])), int(num(t, r[1]))
			got, ok := get(sex, day)
			want := LMS{num(t, r[2]), num(t, r[3]), num(t, r[4])}
			if !ok || got != want {
				t.Fatalf("%s sex %d day %d: %v, published %v", name, sex, day, got, want)
			}
			if len(r) > 5 && (r[5] == "H") != (day >= HeightFrom) {
				t.Fatalf("%s day %d: measured as %s", name, day, r[5])
			}
		}
		outside.Check(t, "WHO Child Growth Standards 2006, daily table: "+name)
	}
	if _, ok := WeightLMS(Boy, LastDay+1); ok {
		t.Error("a day beyond the tables answered")
	}
	if _, ok := WeightZ(Boy, -1, 3); ok {
		t.Error("a day before birth answered")
	}
	if _, ok := WeightZ(0, 1, 3); ok {
		t.Error("no sex, and a score")
	}
	if _, ok := WeightZ(Boy, 1, math.NaN()); ok {
		t.Error("not a number, and a score")
	}
}

// The published field tables: kg at −3 to +3 standard deviations by month, both
// sexes, 0 to 60 months, to one decimal.
func TestPublishedStandardDeviations(t *testing.T) {
	list := rows(t, "who-weight-for-age-sd.tsv")
	if len(list) != 122 {
		t.Fatalf("%d rows", len(list))
	}
	for _, r := range list {
		sex, month := Sex(num(t, r[0])), num(t, r[1])
		// A month is 30.4375 days (WHO): between two days, so between their figures.
		age := month * 30.4375
		day := min(int(age), LastDay-1)
		a, ok1 := WeightLMS(sex, day)
		b, ok2 := WeightLMS(sex, day+1)
		for i, cell := range r[2:] {
			z := float64(i - 3)
			got := a.At(z) + (b.At(z)-a.At(z))*(age-float64(day))
			if !ok1 || !ok2 || math.Abs(got-num(t, cell)) > 0.0505 {
				t.Errorf("sex %d, month %v, %+d SD: %.3f kg, published %s", sex, month, i-3, got, cell)
			}
			outside.Check(t, "WHO weight-for-age field tables, kg by month and SD")
		}
	}
}

// The z-scores that the World Health Organization's own programs print for the
// survey they ship: an independent implementation.
func TestPublishedSurvey(t *testing.T) {
	n := 0
	for _, r := range rows(t, "who-survey.tsv") {
		sex, day := Sex(num(t, r[1])), int(num(t, r[2]))
		check := func(what string, got float64, ok bool, cell string) {
			if !ok || math.Abs(got-num(t, cell)) > 0.00501 {
				t.Errorf("child %s: %s z %.4f, published %s", r[0], what, got, cell)
			}
			outside.Check(t, "WHO igrowup programs, z-scores printed for their own survey")
			n++
		}
		z, ok := WeightZ(sex, day, num(t, r[3]))
		check("weight", z, ok, r[4])
		if r[5] != "-" {
			z, ok := LengthZ(sex, day, num(t, r[5]))
			check("length", z, ok, r[6])
		}
	}
	if n < 170 {
		t.Fatalf("only %d scores", n)
	}
}

// references.md J [C]: LMS by month and worked z-scores, with the linear
// extension beyond ±3.
func TestWorkedScores(t *testing.T) {
	for _, c := range []struct {
		sex  Sex
		day  int
		kg   float64
		want float64
	}{
		{Boy, 0, 3.2, -0.30}, {Girl, 0, 2.5, -1.73}, {Boy, 122, 5.5, -2.10}, {Girl, 152, 5.6, -1.70}, {Boy, 1095, 13, -0.81}, {Girl, 1522, 17, 0.24},
		{Boy, 0, 2.0, -3.21}, {Boy, 152, 4.0, -5.06},
	} {
		z, ok := WeightZ(c.sex, c.day, c.kg)
		if !ok || math.Abs(z-c.want) > 0.005001 {
			t.Errorf("%v day %d %v kg: %.4f, published %v", c.sex, c.day, c.kg, z, c.want)
		}
		outside.Check(t, "WHO weight-for-age by day, worked scores")
	}
	for _, c := range []struct {
		day  int
		kg   float64
		want float64
	}{{0, 2.0, -3.23}, {152, 4.0, -5.44}} {
		p, _ := WeightLMS(Boy, c.day)
		if math.Abs(p.Raw(c.kg)-c.want) > 0.005001 {
			t.Errorf("raw %v", p.Raw(c.kg))
		}
		outside.Check(t, "WHO weight-for-age by day, raw score before the extension")
	}
	for month, want := range map[float64][2]LMS{
		0: {{0.3487, 3.3464, 0.14602}, {0.3809, 3.2322, 0.14171}}, 3: {{0.1738, 6.3762, 0.11727}, {0.0402, 5.8458, 0.12619}},
		4: {{0.1552, 7.0023, 0.11316}, {-0.0050, 6.4237, 0.12402}}, 6: {{0.1258, 7.9341, 0.10958}, {-0.0755, 7.2970, 0.12204}},
		24: {{-0.0136, 12.1515, 0.11426}, {-0.2941, 11.4775, 0.12390}}, 36: {{-0.0689, 14.3429, 0.12116}, {-0.3201, 13.8503, 0.12920}},
	} {
		for i, sex := range []Sex{Boy, Girl} {
			// The monthly figures fall between two days: within the nearest day's step.
			p, _ := WeightLMS(sex, int(math.Round(month*30.4375)))
			if math.Abs(p.L-want[i].L) > 0.0021 || math.Abs(p.M-want[i].M) > 0.013 || math.Abs(p.S-want[i].S) > 0.0002 {
				t.Errorf("sex %d month %v: %v, published %v", sex, month, p, want[i])
			}
			outside.Check(t, "WHO weight-for-age LMS by month")
		}
	}
	// The trap: some public tables carry a wrong boys' L for month 1.
	if p, _ := WeightLMS(Boy, 30); math.Abs(p.L-0.2297) > 0.003 {
		t.Errorf("boys' L at one month is %v, right is 0.2297", p.L)
	}
	outside.Check(t, "WHO weight-for-age, boys' L at month 1 is 0.2297")
}

// Scores rise with weight, agree with the inverse, and do not jump at ±3.
func TestScoreProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sex := Sex(rapid.IntRange(1, 2).Draw(t, "sex"))
		day := rapid.IntRange(0, LastDay).Draw(t, "day")
		z := rapid.Float64Range(-2.99, 2.99).Draw(t, "z")
		p, _ := WeightLMS(sex, day)
		if got, _ := WeightZ(sex, day, p.At(z)); math.Abs(got-z) > 1e-6 {
			t.Fatalf("at z %v the score is %v", z, got)
		}
		kg := rapid.Float64Range(0.5, 40).Draw(t, "kg")
		a, _ := WeightZ(sex, day, kg)
		b, _ := WeightZ(sex, day, kg+0.01)
		if b <= a {
			t.Fatalf("a heavier child scores lower: %v %v", a, b)
		}
		for _, k := range []float64{-3, 3} {
			in, _ := WeightZ(sex, day, p.At(k)*(1-1e-9))
			out, _ := WeightZ(sex, day, p.At(k)*(1+1e-9))
			if math.Abs(in-out) > 1e-5 {
				t.Fatalf("the score jumps at %v: %v %v", k, in, out)
			}
		}
	})
}

func TestCorrectedAge(t *testing.T) {
	// Arithmetic: 34 weeks and 2 days is 40 days short of 40 weeks.
	if d := CorrectedDays(100, 34, 2, 40); d != 60 {
		t.Errorf("%d", d)
	}
	if d := CorrectedDays(10, 34, 2, 40); d != -30 {
		t.Errorf("%d", d)
	}
	outside.Check(t, "Corrected age, arithmetic")
}

func BenchmarkWeightZ(b *testing.B) {
	tables()
	for b.Loop() {
		WeightZ(Boy, 122, 5.5)
	}
}
