package identifiers

import (
	"fmt"
	"strings"
	"testing"

	"fairlead/schema/outside"

	"pgregory.net/rapid"
)

const year = 2026

const (
	gs1Source  = "GS1 General Specifications, worked check digits"
	fdaSource  = "UDI formats by FDA-accredited issuing agency, GS1 example"
	hibcSource = "ANSI/HIBC 2.6, worked examples"
	isbtSource = "ICCBBA ISBT 128, worked examples"
)

// GS1 General Specifications, check digit calculation: published examples.
func TestCheckDigitGS1(t *testing.T) {
	for body, want := range map[string]byte{
		"5102222223333": '6', "0952123454321": '3', "629104150021": '3', "61414100003": '6',
	} {
		if got, ok := CheckDigitGS1(body); !ok || got != want {
			t.Errorf("%s: %c, published %c", body, got, want)
		}
		outside.Check(t, gs1Source)
	}
	if _, ok := CheckDigitGS1("51O2"); ok {
		t.Error("a letter passed for a digit")
	}
}

// The published example, in brackets, raw with and without marks, with day 00.
func TestGS1(t *testing.T) {
	for _, text := range []string{
		"(01)51022222233336(11)141231(17)150707(10)A213B1(21)1234",
		"0151022222233336111412311715070710A213B1\x1d211234",
		"]d20151022222233336111412311715070710A213B1\x1d211234",
		"]C10151022222233336111412311715070710A213B1\x1d211234",
		"]Q30151022222233336111412311715070710A213B1\x1d211234",
		"\x1d0151022222233336111412311715070710A213B1\x1d211234\x1d",
		"]d2\x1d01510222222333361114123117150707211234\x1d10A213B1",
		" (01) 51022222233336 (11) 141231 (17) 150707 (10) A213B1 (21) 1234 \r\n",
	} {
		id := Parse(text, year)
		got := fmt.Sprint(id.Kind, id.Device, id.Lot, id.Serial, id.Made, id.Expires, len(id.Problems))
		if want := fmt.Sprint(GS1, "51022222233336", "A213B1", "1234", "2014-12-31", "2015-07-07", 0); got != want {
			t.Errorf("%q:\n got %s\nwant %s %v", text, got, want, id.Problems)
		}
		if id.Raw != text {
			t.Errorf("%q was not kept", text)
		}
		outside.Check(t, fdaSource)
	}
	if id := Parse("(01)51022222233336(17)240200", year); id.Expires != "2024-02-29" {
		t.Errorf("day 00 is the end of the month: %s", id.Expires)
	}
	outside.Check(t, "GS1 General Specifications 3.4: day 00 is the last day of the month")
}

// GS1 General Specifications 7.12: the century of a two-digit year.
func TestCentury(t *testing.T) {
	for _, c := range []struct{ now, yy, want int }{
		{2026, 26, 2026}, {2026, 76, 2076}, {2026, 77, 1977}, {2026, 99, 1999}, {2026, 0, 2000},
		{2060, 10, 2110}, {2060, 11, 2011}, {1999, 49, 2049}, {1999, 50, 1950},
	} {
		if got := century(c.yy, c.now); got != c.want {
			t.Errorf("in %d, %02d is %d, want %d", c.now, c.yy, got, c.want)
		}
		outside.Check(t, "GS1 General Specifications 7.12: century window, recomputed")
	}
}

func TestGS1Faults(t *testing.T) {
	for text, want := range map[string]struct {
		refused bool
		says    string
	}{
		"(01)51022222233337(10)A":                    {true, "check digit is 7 and should be 6"},
		"(01)5102222223333(10)A":                     {true, "needs 14"},
		"(01)51022222233336(17)151307":               {true, "not a date"},
		"(01)51022222233336(17)150230":               {true, "not a date"},
		"(01)51022222233336(11)150707(17)141231":     {false, "expires before it was made"},
		"(10)A213B1(21)1234":                         {false, "no device identifier"},
		"(01)51022222233336(10)":                     {true, "empty"},
		"(01)51022222233336(10)A B\u00e9":            {true, "does not allow"},
		"(01)51022222233336(10)A(10)B":               {true, "twice"},
		"]d2015102222223333610A213B1211234ABCDEFGHI": {true, "separator may be missing"},
		"]d20151022222233336XX":                      {true, "no application identifier"},
		"]d201510222":                                {true, "needs 14"},
		"(xx)5102":                                   {true, "not an application identifier"},
		"":                                           {true, "Nothing was read"},
		strings.Repeat("9", 500):                     {true, "at most 400"},
		"LOT 12345":                                  {false, "not a GS1, HIBC or ISBT 128"},
	} {
		id := Parse(text, year)
		if id.Raw != text || id.Refused() != want.refused || !strings.Contains(fmt.Sprint(id.Problems), want.says) {
			t.Errorf("%q: refused %v, %v; want %q", text, id.Refused(), id.Problems, want.says)
		}
	}
	// A bracket may belong to a lot, and a bare trade item number is enough.
	if id := Parse("(01)51022222233336(10)A(1)B(21)7", year); id.Lot != "A(1)B" || id.Serial != "7" {
		t.Errorf("%+v", id)
	}
	if id := Parse("614141000036", year); id.Device != "00614141000036" || id.Refused() {
		t.Errorf("%+v", id)
	}
}

// ANSI/HIBC 2.6: published check characters.
func TestHIBC(t *testing.T) {
	for body, want := range map[string]byte{"+A123BJC5D6E71": 'G', "+123456789": '0'} {
		if got, ok := CheckHIBC(body); !ok || got != want {
			t.Errorf("%s: %c, published %c", body, got, want)
		}
		outside.Check(t, hibcSource)
	}
	id := Parse("+A123BJC5D6E71G", year)
	if id.Kind != HIBC || id.Model != "BJC5D6E7" || len(id.Problems) != 0 {
		t.Errorf("%+v", id)
	}
	outside.Check(t, hibcSource)

	// A check character may be a space, printed as an underscore.
	for text, problems := range map[string]int{"+EWU51092KX43Z7KJUR16 ": 0, "+EWU51092KX43Z7KJUR16_": 0, "+EWU51092KX43Z7KJUR16": 1, "+A123BJC5D6E71G ": 0} {
		if id := Parse(text, year); len(id.Problems) != problems || id.Raw != text {
			t.Errorf("%q: %v", text, id.Problems)
		}
	}

	// The widely copied example does not check: doubted, read, kept whole.
	const copied = "+H123PARTNO1234567890120/$$420020216LOT123456789012345/SXYZ456789012345678/16D20130202C"
	id = Parse(copied, year)
	if id.Refused() || len(id.Problems) != 1 || !strings.Contains(id.Problems[0].What, "check character") || id.Raw != copied {
		t.Errorf("%v", id.Problems)
	}
	got := fmt.Sprint(id.Model, id.Lot, id.Serial, id.Expires, id.Made)
	if want := fmt.Sprint("PARTNO123456789012", "LOT123456789012345", "XYZ456789012345678", "2020-02-02", "2013-02-02"); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	outside.Check(t, "UDI formats by FDA-accredited issuing agency, HIBCC example (its check does not agree)")
}

// The forms of date and lot of ANSI/HIBC 2.6, table 3, each completed with its
// own check character.
func TestHIBCDates(t *testing.T) {
	for part, want := range map[string]string{
		"$$3200202LOT1": "lot LOT1 expires 2020-02-02", "$$0222LOT1": "lot LOT1 expires 2022-02-28", "$$2020220LOT1": "lot LOT1 expires 2020-02-02",
		"$$420020216LOT1": "lot LOT1 expires 2020-02-02", "$$520033LOT1": "lot LOT1 expires 2020-02-02", "$$62003316LOT1": "lot LOT1 expires 2020-02-02",
		"$$7LOT1": "lot LOT1 expires ", "$LOT1": "lot LOT1 expires ", "20033LOT1": "lot LOT1 expires 2020-02-02",
		"$$8053200202LOT1": "lot LOT1 expires 2020-02-02", "$$9000053200202LOT1": "lot LOT1 expires 2020-02-02",
		"$$+3200202S1": "lot  serial S1 expires 2020-02-02", "$+S1": "lot  serial S1 expires ",
	} {
		body := "+A123BJC5D6E71/" + part
		check, _ := CheckHIBC(body)
		id := Parse(body+string(check), year)
		got := "lot " + id.Lot
		if id.Serial != "" {
			got += " serial " + id.Serial
		}
		if got += " expires " + id.Expires; got != want || len(id.Problems) > 0 {
			t.Errorf("%s: %s, want %s %v", part, got, want, id.Problems)
		}
		link := "+" + part + "G"
		check, _ = CheckHIBC(link)
		if alone := Parse(link+string(check), year); alone.Lot != id.Lot || alone.Expires != id.Expires || alone.Refused() || len(alone.Problems) != 1 {
			t.Errorf("alone %s: %+v", part, alone)
		}
	}
	for _, bad := range []string{"+A123BJC5D6E71/$$3201302LOT1", "+A123BJC5D6E71/$$32002", "+A123BJC5D6E7X", "+a123", "+A", "+A123BJC5D6E71/$$20A"} {
		check, _ := CheckHIBC(bad)
		if id := Parse(bad+string(check), year); !id.Refused() || id.Raw == "" {
			t.Errorf("%q was not refused: %+v", bad, id)
		}
	}
}

// ICCBBA: the published example, the published check characters and date.
func TestISBT128(t *testing.T) {
	id := Parse("=/A9999XYZ100T0944=,000025=A99971312345600=>014032=}013032&,1000000000000XYZ123", year)
	got := fmt.Sprint(id.Kind, id.Device, id.Serial, id.Donation, id.Expires, id.Made, id.Lot, len(id.Problems))
	if want := fmt.Sprint(ISBT128, "A9999XYZ100T0944", "000025", "A999713123456", "2014-02-01", "2013-02-01", "000000000000XYZ123", 0); got != want {
		t.Errorf("\n got %s\nwant %s %v", got, want, id.Problems)
	}
	outside.Check(t, isbtSource)
	for body, want := range map[string]byte{"G123498654321": 'H', "A999713123456": 'S'} {
		if got, ok := CheckISO7064(body); !ok || got != want {
			t.Errorf("%s: %c, published %c", body, got, want)
		}
		outside.Check(t, isbtSource)
	}
	for text, refused := range map[string]bool{
		"G1234 98 654321 H": false, "G1234 98 654312 H": true, "A999713123456S": false, "A999713123456T": true,
		"=/A9999XYZ100": true, "=>01403": true, "=>014400": true, "=A9997131234X600": true,
	} {
		if id := Parse(text, year); id.Refused() != refused || id.Raw != text || id.Kind != ISBT128 {
			t.Errorf("%q: refused %v %v", text, id.Refused(), id.Problems)
		}
		if strings.Contains(text, "654321") || strings.Contains(text, "654312") {
			outside.Check(t, isbtSource)
		}
	}
	if id := Parse("=>999365", year); id.Expires != "1999-12-31" {
		t.Errorf("%+v", id)
	}
	if id := Parse("=>026366", year); !id.Refused() {
		t.Error("2026 has no day 366")
	}
	if id := Parse("=%5100=A99971312345600", year); id.Donation == "" || id.Refused() || len(id.Problems) != 1 {
		t.Errorf("a structure this program does not know is kept and the rest read: %+v", id)
	}
}

// What is written by the rules is read back, and one changed digit is caught.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.StringMatching(`[0-9]{13}`).Draw(t, "body")
		check, _ := CheckDigitGS1(body)
		lot := rapid.StringMatching(`[A-Z0-9]{1,20}`).Draw(t, "lot")
		serial := rapid.StringMatching(`[A-Z0-9]{1,20}`).Draw(t, "serial")
		y, m, d := rapid.IntRange(2000, 2070).Draw(t, "y"), rapid.IntRange(1, 12).Draw(t, "m"), rapid.IntRange(1, 28).Draw(t, "d")
		day := fmt.Sprintf("%02d%02d%02d", y%100, m, d)
		for _, text := range []string{
			"(01)" + body + string(check) + "(17)" + day + "(10)" + lot + "(21)" + serial,
			"]d201" + body + string(check) + "17" + day + "10" + lot + separator + "21" + serial,
		} {
			id := Parse(text, year)
			if id.Device != body+string(check) || id.Lot != lot || id.Serial != serial || id.Expires != date(y, m, d) || len(id.Problems) > 0 {
				t.Fatalf("%q: %+v", text, id)
			}
		}
		at := rapid.IntRange(0, 12).Draw(t, "at")
		other := byte('0' + (int(body[at]-'0')+rapid.IntRange(1, 9).Draw(t, "by"))%10)
		wrong := body[:at] + string(other) + body[at+1:]
		if again, _ := CheckDigitGS1(wrong); again == check {
			t.Fatalf("a changed digit went unnoticed: %s %s", body, wrong)
		}
		din := rapid.StringMatching(`[A-N][A-Z0-9]{4}[0-9]{8}`).Draw(t, "din")
		c, _ := CheckISO7064(din)
		i := rapid.IntRange(5, 11).Draw(t, "swap")
		swapped := din[:i] + din[i+1:i+2] + din[i:i+1] + din[i+2:]
		if s, _ := CheckISO7064(swapped); swapped != din && s == c {
			t.Fatalf("exchanged digits went unnoticed: %s %s", din, swapped)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"(01)51022222233336(11)141231", "]d20151022222233336\x1d10A", "+A123BJC5D6E71G", "=/A9999XYZ100T0944=,000025", "G1234 98 654321 H", "+$$3200202LOT1GX", "&,1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if id := Parse(s, year); id.Raw != s || id.Kind == "" {
			t.Fatalf("%q was not kept", s)
		}
	})
}
