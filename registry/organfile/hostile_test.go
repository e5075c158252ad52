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
		{"colons", repeat("a: ", 300_000), "syntax"},
		{"documents", repeat("---\n", 200_000), "empty"},
		{"aliases that multiply", aliases(), "wrong-kind"},
		{"lists by indentation", indented("-"), "syntax"},
		{"mappings by indentation", indented("a:"), "missing-key"},
		{"a list without end", "name: [" + repeat("a, ", 300_000), "syntax"},
		{"a quotation without end", `name: "` + repeat(`\x41`, 200_000), "syntax"},
		{"mistakes without end", "name: x\ncouplers:\n" + repeat("- Great to Great\n", 50_000), "too-many"},
		{"too large", "name: x # " + repeat("x", MaxSize), "too-large"},
		{"not text", "name: x\x00", "encoding"},
	} {
		t.Run(c.name, func(t *testing.T) {
			organ, findings := Read("hostile.yaml", []byte(c.text))
			if organ != nil || len(findings) > maxFindings+1 {
				t.Errorf("read as an organ with %d findings", len(findings))
			}
			for _, f := range findings {
				if f.ID == c.id {
					return
				}
			}
			t.Errorf("got %v, want %s", findings[:min(3, len(findings))], c.id)
		})
	}
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
