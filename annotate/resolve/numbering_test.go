package resolve

import (
	"testing"

	"stopgap/annotate/passage"
)

// TestNumbering: the player decides, then the score, then its language.
func TestNumbering(t *testing.T) {
	tells := &passage.Score{Lang: "de", Numbering: passage.Numbering{Order: passage.FromBottom}}
	silent := &passage.Score{Lang: "de"}
	for _, c := range []struct {
		name  string
		said  Numbering
		score *passage.Score
		want  Numbering
	}{
		{"the language", "", silent, MainFirst},
		{"the score", "", tells, FromBottom},
		{"the player", MainFirst, tells, MainFirst},
		{"no language", "", &passage.Score{}, FromBottom},
	} {
		if got := (Options{Numbering: c.said}).NumberingOf(c.score); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
