package pitch

import (
	"math/bits"
	"strings"
	"testing"
)

func TestComposition(t *testing.T) {
	tests := []struct{ text, want, rest string }{
		{"15.19.22", "2, 1 1/3, 1", ""},
		{"15-19-22 III", "2, 1 1/3, 1", " III"},
		{"12.15", "2 2/3, 2", ""},
		{"15, 19, 22, 26", "2, 1 1/3, 1, 2/3", ""},
		{"17.19", "1 3/5, 1 1/3", ""},
		{"1.8.12.15.17", "8, 4, 2 2/3, 2, 1 3/5", ""},
		{"19 22", "1 1/3, 1", ""},
		{"2 2/3' + 1 3/5'", "2 2/3, 1 3/5", ""},
		{"4+2", "4, 2", ""},
		{"16.8.4", "", "16.8.4"},
		{"8 4 2", "", "8 4 2"},
		{"15", "", "15"},
		{"III", "", "III"},
		{"2 2/3", "", "2 2/3"},
		{"1 3/5", "", "1 3/5"},
	}
	for _, test := range tests {
		got, rest, _ := Composition(test.text)
		if join(got) != test.want || rest != test.rest {
			t.Errorf("Composition(%q) = %q, %q; want %q, %q", test.text, join(got), rest, test.want, test.rest)
		}
	}
}

func join(all []Feet) string {
	var parts []string
	for _, f := range all {
		parts = append(parts, f.String())
	}
	return strings.Join(parts, ", ")
}

func TestRanks(t *testing.T) {
	tests := []struct {
		text      string
		low, high int
		rest      string
	}{
		{"III", 3, 3, ""},
		{"III ranks", 3, 3, ""},
		{"4 rgs", 4, 4, ""},
		{"5 rangs", 5, 5, ""},
		{"3-4 fach", 3, 4, ""},
		{"3-4fach", 3, 4, ""},
		{"4f.", 4, 4, ""},
		{"IV–VI", 4, 6, ""},
		{"III-V, Trumpet", 3, 5, ", Trumpet"},
		{"3 st.", 3, 3, ""},
		{"II. Manual", 0, 0, "II. Manual"},
		{"8", 0, 0, "8"},
		{"Viola", 0, 0, "Viola"},
		{"2 rks", 2, 2, ""},
	}
	for _, test := range tests {
		low, high, rest, _ := Ranks(test.text)
		if low != test.low || high != test.high || rest != test.rest {
			t.Errorf("Ranks(%q) = %d, %d, %q; want %d, %d, %q", test.text, low, high, rest, test.low, test.high, test.rest)
		}
	}
}

func TestResultant(t *testing.T) {
	for _, test := range [][3]string{{"16", "10 2/3", "32"}, {"10 2/3", "16", "32"}, {"8", "5 1/3", "16"}, {"32", "21 1/3", "64"}, {"8", "4", ""}, {"16", "5 1/3", ""}} {
		a, _ := ParseFeet(test[0])
		b, _ := ParseFeet(test[1])
		if got, _ := Resultant(a, b); got.String() != test[2] {
			t.Errorf("Resultant(%s, %s) = %q, want %q", a, b, got, test[2])
		}
	}
}

// The published table: footage, frequency ratio against 8′, and the interval
// in cents is arithmetic; here the ratios of the handbooks' rows.
func TestLengthsAgreeWithPublishedRatios(t *testing.T) {
	published := map[string]string{
		"64": "1/8", "42 2/3": "3/16", "32": "1/4", "21 1/3": "3/8", "16": "1/2", "12 4/5": "5/8", "10 2/3": "3/4",
		"9 1/7": "7/8", "8": "1", "6 2/5": "5/4", "5 1/3": "3/2", "4 4/7": "7/4", "4": "2", "3 5/9": "9/4", "3 1/5": "5/2",
		"2 10/11": "11/4", "2 2/3": "3", "2 6/13": "13/4", "2 2/7": "7/2", "2": "4", "1 7/9": "9/2", "1 3/5": "5",
		"1 5/11": "11/2", "1 1/3": "6", "1 3/13": "13/2", "1 1/7": "7", "1 1/15": "15/2", "1": "8", "8/9": "9",
		"16/19": "19/2", "4/5": "10", "8/11": "11", "2/3": "12", "8/13": "13", "8/15": "15", "1/2": "16", "1/3": "24", "1/4": "32",
	}
	found := 0
	for _, f := range Lengths() {
		want, ok := published[f.String()]
		if !ok {
			continue
		}
		found++
		if got := f.Ratio().String(); got != want {
			t.Errorf("%s sounds at %s, the table says %s", f, got, want)
		}
		if f.IsMutation() != (bits.OnesCount64(uint64(f.Ratio().Num())) != 1) {
			t.Errorf("%s: IsMutation is %v", f, f.IsMutation())
		}
	}
	if found != len(published) {
		t.Errorf("%d of %d published lengths are in the table", found, len(published))
	}
}

func TestDegreesNameTheirPitch(t *testing.T) {
	for degree, want := range map[int]string{1: "8", 5: "5 1/3", 8: "4", 10: "3 1/5", 12: "2 2/3", 15: "2", 17: "1 3/5", 19: "1 1/3", 21: "1 1/7", 22: "1", 24: "4/5", 26: "2/3", 29: "1/2", 33: "1/3", 36: "1/4"} {
		f, _ := Degree(degree)
		if f.String() != want || DegreeOf(f) != degree {
			t.Errorf("Degree(%d) = %q, want %q", degree, f, want)
		}
	}
}
