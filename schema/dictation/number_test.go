package dictation

import "testing"

// The cases that the independent library does not know: how sizes, minutes and
// times are said in theatre (clinical.md 9; common practice, no source).
func TestNumber(t *testing.T) {
	for _, c := range []struct{ text, decimal, clock string }{
		{"three and a half", "3.5", ""},
		{"3 and a half", "3.5", ""},
		{"two and a quarter", "2.25", ""},
		{"one and three quarters", "1.75", ""},
		{"3½", "3.5", ""},
		{"3 1/2", "3.5", ""},
		{"3,5", "3.5", ""},
		{"3 point 5", "3.5", ""},
		{"1,200", "1200", ""},
		{".05", "0.05", ""},
		{"4.0", "4", ""},
		{"point five", "0.5", ""},
		{"point oh five", "0.05", ""},
		{"nought point nought two five", "0.025", ""},
		{"oh point three", "0.3", ""},
		{"zero point zero three", "0.03", ""},
		{"point twenty five", "0.25", ""},
		{"five point five", "5.5", ""},
		{"one eighty six", "186", ""},
		{"one oh five", "105", "01:05"},
		{"two twenty", "220", "02:20"},
		{"a hundred and forty", "140", ""},
		{"one hundred and seventy two", "172", ""},
		{"three thousand two hundred", "3200", ""},
		{"minus five", "-5", ""},
		{"a pair of", "2", ""},
		{"a couple of", "2", ""},
		{"half", "0.5", ""},
		{"oh nine forty two", "", "09:42"},
		{"nine fifty", "950", "09:50"},
		{"nine forty two", "942", "09:42"},
		{"fourteen thirty", "", "14:30"},
		{"twenty one fifteen", "", "21:15"},
		{"twelve oh five", "", "12:05"},
		{"fourteen hundred hours", "", "14:00"},
		{"half past nine", "", "09:30"},
		{"quarter to ten", "", "09:45"},
		{"ten past two", "", "02:10"},
		{"nine o'clock", "", "09:00"},
		{"two pm", "", "14:00"},
		{"noon", "", "12:00"},
		{"midnight", "", "00:00"},
		{"09:42", "", "09:42"},
		{"9.50", "9.5", "09:50"},
		{"0942", "942", "09:42"},
		{"2:15 pm", "", "14:15"},
	} {
		d, clock, ok := Number(c.text)
		if c.clock == "" {
			clock = "" // that it might be a time too is no fault
		}
		if !ok || d != c.decimal && c.decimal != "" || clock != c.clock {
			t.Errorf("%q is read as %q, %q, %v; want %q, %q", c.text, d, clock, ok, c.decimal, c.clock)
		}
	}
	for _, text := range []string{"", "and", "to", "for", "oh", "a", "point", "hundred", "two and two", "one and a right", "half past", "25:10", "wires"} {
		if d, c, ok := Number(text); ok && (d != "" || c != "") {
			t.Errorf("%q is read as the number %q, %q", text, d, c)
		}
	}
}

func TestShift(t *testing.T) {
	for _, c := range []struct {
		d    string
		n    int
		want string
	}{{"3200", -3, "3.2"}, {"50", -3, "0.05"}, {"0.05", 3, "50"}, {"-5", 1, "-50"}, {"0", -3, "0"}, {"1.5", 0, "1.5"}, {"12", 2, "1200"}} {
		if got := shift(c.d, c.n); got != c.want {
			t.Errorf("%s by %d places is %q, want %q", c.d, c.n, got, c.want)
		}
	}
}
