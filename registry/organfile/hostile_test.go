package organfile

import (
	"fmt"
	"strings"
	"testing"
)

// TestHostile reads files that are made to take time and memory. Each is
// refused, soon and in few words.
func TestHostile(t *testing.T) {
	repeat := strings.Repeat
	for _, c := range []struct {
		name, text string
		id         string // of one of the findings
	}{
		{"brackets", "name: " + repeat("[", 400_000), "syntax"},
		{"closed brackets", "name: " + repeat("[", 100_000) + repeat("]", 100_000), "syntax"},
		{"braces", "name: " + repeat("{a: ", 100_000), "syntax"},
		{"dashes", repeat("- ", 200_000), "syntax"},
		{"question marks", repeat("? ", 200_000), "syntax"},
		{"anchors", "name: " + repeat("&a ", 200_000), "syntax"},
		{"tags", "name: " + repeat("!a ", 200_000), "syntax"},
		{"colons", repeat("a: ", 300_000), "too-many"},
		{"documents", repeat("---\n", 200_000), "empty"},
		{"aliases that multiply", aliases(), "wrong-kind"},
		{"lists by indentation", indented("-"), "syntax"},
		{"mappings by indentation", indented("a:"), "missing-key"},
		{"a list without end", "name: [" + repeat("a, ", 300_000), "syntax"},
		{"a quotation without end", `name: "` + repeat(`\x41`, 200_000), "syntax"},
		{"mistakes without end", "name: x\ncouplers:\n" + repeat("- Great to Great\n", 50_000), "too-many"},
		{"too large", "name: x # " + repeat("x", MaxSize), "too-large"},
		{"keyboards", "name: x\nkeyboards:\n" + repeat("- {name: Great, compass: C2-G6}\n", maxKeyboards+1), "too-many"},
		{"divisions", "name: x\ndivisions:\n" + repeat("- {name: Great, stops: [Flute 8]}\n", maxDivisions+1), "too-many"},
		{"stops", someKeys + "divisions:\n- name: Great\n  stops:\n" + numberedStops(maxStops+1), "too-many"},
		{"stops of two divisions", someKeys + "divisions:\n- name: Great\n  stops:\n" + numberedStops(maxStops) + "- name: Swell\n  keyboard: Great\n  stops: [Flute 8]\n", "too-many"},
		{"couplers", someKeys + "couplers:\n" + repeat("- Great to Swell\n", maxCouplers+1), "too-many"},
		{"a name without end", "name: " + repeat("x", maxName+1), "too-long"},
		{"a knob without end", someKeys + "divisions: [{name: Great, stops: [" + repeat("Flute ", 100_000) + "]}]", "too-long"},
		{"a coupler without end", someKeys + "couplers: [Great to " + repeat("Great", 100_000) + "]", "too-long"},
		{"keys", repeat("key: x\n", maxKeys+1), "too-many"},
		{"a key without end", "name: x\n" + repeat("k", 500_000) + ": x", "unknown-key"},
		{"a word without end", "name: x\naction: " + repeat("electric", 50_000), "too-long"},
		{"not text", "name: x\x00", "encoding"},
		{"commands of a terminal", "name: x\u009b31m", "encoding"},
	} {
		t.Run(c.name, func(t *testing.T) {
			organ, findings := Read("hostile.yaml", []byte(c.text))
			if organ != nil || len(findings) > maxFindings+1 {
				t.Errorf("read as an organ with %d findings", len(findings))
			}
			for _, f := range findings {
				if len(f.String()) > 2*maxMessage+200 {
					t.Errorf("a finding of %d bytes: %.80s", len(f.String()), f)
				}
				if f.ID == c.id {
					return
				}
			}
			t.Errorf("got %v, want %s", findings[:min(3, len(findings))], c.id)
		})
	}
}

const someKeys = "name: x\nkeyboards: [{name: Great, compass: C2-G6}]\n"

func numberedStops(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  - Flute %d\n", i)
	}
	return b.String()
}

// aliases are lists that hold the one before six times.
func aliases() string {
	var b strings.Builder
	b.WriteString("name: x\ntremulants: &l0 [x, x]\n")
	for i := range 20 {
		fmt.Fprintf(&b, "couplers: &l%d [%s]\n", i+1, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*l%d, ", i), 6), ", "))
	}
	return b.String()
}

// indented are lists or mappings in one another, each a space further in.
func indented(mark string) string {
	var b strings.Builder
	for i := range 1300 {
		b.WriteString(strings.Repeat(" ", i) + mark + "\n")
	}
	return b.String()
}
