package direction

import (
	"testing"
	"unicode/utf8"
)

// FuzzRead reads any bytes: it must not fail, what it returns must be in the
// normal form, and the words not read must be where it says.
func FuzzRead(f *testing.F) {
	for _, r := range conformance(f) {
		f.Add(r.text, r.lang)
	}
	f.Fuzz(func(t *testing.T, text, lang string) {
		reading := Read(text, Context{Lang: lang})
		normal := reading.NormalForm()
		if utf8.ValidString(text) {
			statements, err := ParseNormalForm(normal)
			if err != nil {
				t.Fatalf("Read(%q) is %q: %v", text, normal, err)
			}
			if again := NormalForm(statements); again != normal {
				t.Fatalf("%q read again is %q", normal, again)
			}
		}
		for _, u := range reading.Unread {
			if u.Start < 0 || u.End > len(text) || u.Start >= u.End || text[u.Start:u.End] != u.Text {
				t.Fatalf("Read(%q): %q is not at %d to %d", text, u.Text, u.Start, u.End)
			}
		}
		if other := Read(text, Context{Lang: lang}).NormalForm(); other != normal {
			t.Fatalf("Read(%q) is once %q and once %q", text, normal, other)
		}
	})
}

// FuzzParseNormalForm parses any bytes.
func FuzzParseNormalForm(f *testing.F) {
	for _, r := range conformance(f) {
		f.Add(r.want)
	}
	f.Fuzz(func(t *testing.T, s string) {
		statements, err := ParseNormalForm(s)
		if err != nil {
			return
		}
		if again := NormalForm(statements); again != s {
			t.Fatalf("%q is written %q", s, again)
		}
	})
}
