package corpus

import (
	"encoding/json"
	"io"

	"fairlead/schema/dictation"
)

// Feed is what the reader makes of numbers and units, for comparison with
// programs that are not ours (testdata/outside/dictation.test.mjs).
type Feed struct {
	Numbers []NumberRead `json:"numbers"`
	Units   []UnitRead   `json:"units"`
}

// NumberRead is a number in words and what it was read as; Got is "" for not a
// number.
type NumberRead struct {
	Words string `json:"words"`
	Got   string `json:"got"`
}

// UnitRead is an amount and what it was changed into.
type UnitRead struct {
	Value string `json:"value"`
	From  string `json:"from"`
	To    string `json:"to"`
	Got   string `json:"got"`
}

// WriteFeed writes the feed as JSON: every cardinal up to 1999 and a spread up to
// 9999, decimals, and every pair of units the reader changes.
func WriteFeed(w io.Writer) error {
	var f Feed
	read := func(words string) {
		d, _, _ := dictation.Number(words)
		f.Numbers = append(f.Numbers, NumberRead{words, d})
	}
	for v := 0; v < 2000; v++ {
		read(cardinal(v))
	}
	for v := 2000; v < 10000; v += 37 {
		read(cardinal(v))
	}
	for whole := 0; whole < 25; whole++ {
		for _, part := range []string{"5", "25", "75", "1", "9"} {
			words := cardinal(whole) + " point"
			for _, d := range part {
				words += " " + cardinal(int(d-'0'))
			}
			read(words)
		}
	}
	for _, pair := range dictation.Conversions() {
		for _, v := range []string{"1", "0.5", "12", "3.75", "280"} {
			got, _ := dictation.Convert(v, pair[0], pair[1])
			f.Units = append(f.Units, UnitRead{v, pair[0], pair[1], got})
		}
	}
	return json.NewEncoder(w).Encode(f)
}
