package keep

import "testing"

func TestWords(t *testing.T) {
	for _, c := range []struct {
		room Room
		want string
	}{
		{Room{}, "This browser does not say whether it will go on keeping what is here. Save each child's record as a file when you have finished."},
		{Room{Asked: true, Lasting: true}, "Kept on this device. The browser has promised not to clear it by itself."},
		{Room{Asked: true, Lasting: true, Used: 1_240_000, Allowed: 2_147_000_000}, "Kept on this device. The browser has promised not to clear it by itself. 1.2 MB used of the 2.1 GB it allows."},
		{Room{Asked: true, Used: 400, Allowed: 999_960}, "Kept on this device. The browser has not promised to go on keeping it: it may clear it when the device runs short of room. Save each child's record as a file when you have finished. 0.4 kB used of the 1 MB it allows."},
	} {
		if got := c.room.Words(); got != c.want {
			t.Errorf("%+v:\n%s\nwant\n%s", c.room, got, c.want)
		}
	}
	for n, want := range map[int64]string{0: "0 kB", 51_000: "51 kB", 4_000_000: "4 MB", 10_000_000_000: "10 GB", 12_345_000_000_000: "12 TB"} {
		if got := size(n); got != want {
			t.Errorf("size(%d) = %q, want %q", n, got, want)
		}
	}
}
