package pitch

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	tests := []struct{ text, feet, rest string }{
		{"8", "8", ""},
		{"8'", "8", ""},
		{"8′ Gedackt", "8", " Gedackt"},
		{"8’, 4’", "8", ", 4’"},
		{" 16 ft.", "16", ""},
		{"8ft", "8", ""},
		{"8 feet", "8", ""},
		{"8-foot", "8", ""},
		{"2 2/3", "2 2/3", ""},
		{"2⅔′", "2 2/3", ""},
		{"2 ⅔", "2 2/3", ""},
		{"2.2/3", "2 2/3", ""},
		{"2-2/3", "2 2/3", ""},
		{"2'2/3", "2 2/3", ""},
		{"22/3", "2 2/3", ""},
		{"2 ²⁄₃ ′", "2 2/3", ""},
		{"102/3'", "10 2/3", ""},
		{"10 2/3", "10 2/3", ""},
		{"51/3", "5 1/3", ""},
		{"13/5", "1 3/5", ""},
		{"1 3/5'", "1 3/5", ""},
		{"11/3", "1 1/3", ""},
		{"1 1/7", "1 1/7", ""},
		{"16/19", "16/19", ""},
		{"8/9", "8/9", ""},
		{"½", "1/2", ""},
		{"1/2'", "1/2", ""},
		{"6 2/5", "6 2/5", ""},
		{"4 4/7", "4 4/7", ""},
		{"8 Fuß", "8", ""},
		{"8 Fuss.", "8", ""},
		{"8 F", "8", ""},
		{"8f.", "8", ""},
		{"8 f", "8", " f"}, // forte
		{"8 p.", "8", ""},
		{"8 p", "8", " p"}, // piano
		{"8 pieds", "8", ""},
		{"8 voet", "8", ""},
		{"8 vt", "8", ""},
		{"8 piedi", "8", ""},
		{"8 pies", "8", ""},
		{"8 piano", "8", " piano"},
		{"16.8.4", "16", ".8.4"},
		{"8.4", "8", ".4"},
		{"8, 4", "8", ", 4"},
		{"8 & 4", "8", " & 4"},
		{"64", "64", ""},
		{"3'", "3", ""},
	}
	for _, test := range tests {
		f, rest, ok := Parse(test.text)
		if !ok || f.String() != test.feet || rest != test.rest {
			t.Errorf("Parse(%q) = %q, %q, %v; want %q, %q", test.text, f, rest, ok, test.feet, test.rest)
		}
	}
	for _, text := range []string{"", "7", "15", "128", "x8", "0", "2 5/9x/", "2/7/", "9 1/2", "1000000000000", "8.5", "III"} {
		f, rest, ok := Parse(text)
		if ok && (text == "2 5/9x/") {
			continue // 2 and the rest
		}
		if ok {
			t.Errorf("Parse(%q) = %q, want nothing", text, f)
		}
		if !ok && rest != text {
			t.Errorf("Parse(%q) took %q although it read nothing", text, strings.TrimSuffix(text, rest))
		}
	}
}

func TestParseMarkedNeedsAMark(t *testing.T) {
	for text, want := range map[string]string{"8": "", "8'": "8", "2 2/3": "2 2/3", "4 ft": "4", "4 more": ""} {
		if f, _, _ := ParseMarked(text); f.String() != want {
			t.Errorf("ParseMarked(%q) = %q, want %q", text, f, want)
		}
	}
}

// Every length of the table is read back from each way of writing it.
func TestParseReadsEveryWayOfWriting(t *testing.T) {
	all := Lengths()
	marks := []string{"", "'", "′", "’", " ft.", " ft", " feet", " Fuß", " Fuss", " pieds", " voet", " piedi", " pies"}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(all).Draw(t, "length")
		text := f.String()
		if whole, fraction, ok := strings.Cut(text, " "); ok {
			text = whole + rapid.SampledFrom([]string{" ", "-", ".", "", "  "}).Draw(t, "joint") + fraction
		}
		text += rapid.SampledFrom(marks).Draw(t, "mark")
		got, rest, ok := Parse(text)
		if !ok || got != f || rest != "" {
			t.Fatalf("Parse(%q) = %q, %q, %v; want %q", text, got, rest, ok, f)
		}
	})
}

// Whatever the text, what is read is a length that organs have, and the rest
// is the end of the text.
func FuzzParse(f *testing.F) {
	for _, text := range []string{"2 2/3'", "22/3", "8 Fuß", "⅔", "16.8.4", "15.19.22", "III-V fach", "2 ²⁄₃ ′", "1000000/3"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		length, rest, ok := Parse(text)
		if !strings.HasSuffix(text, rest) || ok == length.IsZero() || (ok && !isLength(length)) || (!ok && rest != text) {
			t.Errorf("Parse(%q) = %v, %q, %v", text, length, rest, ok)
		}
		if _, rest, ok := Composition(text); !strings.HasSuffix(text, rest) || (ok && rest == text) {
			t.Errorf("Composition(%q) left %q", text, rest)
		}
		if low, high, rest, ok := Ranks(text); !strings.HasSuffix(text, rest) || (ok && (low < 1 || high < low || high > 20)) {
			t.Errorf("Ranks(%q) = %d, %d, %q", text, low, high, rest)
		}
	})
}
