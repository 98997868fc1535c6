package keep

import (
	"errors"
	"strconv"
)

// Room is what the browser says of the place it gives us, in bytes; 0 is not
// known.
type Room struct {
	Asked   bool // the browser has a way to ask for lasting storage
	Lasting bool // and it has promised it
	Used    int64
	Allowed int64
}

// Words says it in sentences.
func (r Room) Words() string {
	words := "This browser does not say whether it will go on keeping what is here. Save each child's record as a file when you have finished."
	switch {
	case r.Asked && r.Lasting:
		words = "Kept on this device. The browser has promised not to clear it by itself."
	case r.Asked:
		words = "Kept on this device. The browser has not promised to go on keeping it: it may clear it when the device runs short of room. Save each child's record as a file when you have finished."
	}
	if r.Allowed > 0 {
		words += " " + size(r.Used) + " used of the " + size(r.Allowed) + " it allows."
	}
	return words
}

// size is a number of bytes with one decimal at most.
func size(n int64) string {
	units := []string{"kB", "MB", "GB", "TB"}
	v := float64(n) / 1000
	for len(units) > 1 && v >= 999.95 {
		v /= 1000
		units = units[1:]
	}
	digits := 1
	if v >= 10 {
		digits = 0
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if len(s) > 2 && s[len(s)-2:] == ".0" {
		s = s[:len(s)-2]
	}
	return s + " " + units[0]
}

// ErrOvertaken says that another tab of this device wrote a setting first.
var ErrOvertaken = errors.New("another tab of this device changed it meanwhile: what it wrote is shown now, do yours again")
