package stopname

import (
	"regexp"
	"strings"
	"testing"
)

// TestSourceText holds how short names of works are written out.
func TestSourceText(t *testing.T) {
	for _, c := range []struct{ short, want string }{
		{"WED31; rest from memory", "J. I. Wedgwood, A Comprehensive Dictionary of Organ Stops, 1905, p. 31; rest from memory"},
		{"WB; NG156", "Wikibooks, Organ/Types of Pipes; Grove dictionary, Organ stop"},
		{"from memory", "from memory"},
		{"BRW (Clarion \"in unison with principal\")", "E. C. Brewer, Dictionary of Phrase and Fable, Stops (Clarion \"in unison with principal\")"},
	} {
		if got := SourceText(c.short); got != c.want {
			t.Errorf("SourceText(%q) = %q, want %q", c.short, got, c.want)
		}
	}
}

// TestEverySourceIsKnown holds that every short name at the head of a source
// in the table is written out.
func TestEverySourceIsKnown(t *testing.T) {
	head := regexp.MustCompile(`(?:^|; )([A-Z][A-Z0-9]+(?:-[A-Z0-9]+)?)`)
	for _, e := range vocabulary().entries {
		for _, m := range head.FindAllStringSubmatch(e.source, -1) {
			if strings.Trim(m[1], "IVX") != "" && SourceText(m[1]) == m[1] { // not a number of ranks
				t.Errorf("%s: the source %s is not in sources.tsv", e.name, m[1])
			}
		}
	}
}
