package passage

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/registry/division"
)

// A ManualOrder says in which order manuals are numbered.
type ManualOrder string

// From the bottom keyboard up, or the main manual first.
const (
	FromBottom ManualOrder = "bottom-up"
	MainFirst  ManualOrder = "main-first"
)

// Numbering is what a score itself tells of its numbered manuals.
type Numbering struct {
	Used    bool                  // some direction names a manual by its number
	Manuals map[int]division.Role // the numbers whose division a text gives: "II (REC)"
	Order   ManualOrder           // "" where the score does not tell
	Why     string                // what tells, in words; "" where nothing does
}

// numberingOf finds in the texts which manuals the numbers mean.
func numberingOf(texts []*Text) Numbering {
	n := Numbering{Manuals: map[int]division.Role{}}
	var told []string
	great, behind := false, ""
	seen := map[string]bool{}
	for _, t := range texts {
		if seen[t.Text] {
			continue
		}
		seen[t.Text] = true
		for _, st := range t.Reading.Statements {
			n.Used = n.Used || byNumber(st)
			great = great || st.Division == division.Great || st.To == division.Great
		}
		if behind == "" {
			behind = atTheBack(t.Text)
		}
		for _, pair := range numberPairs(t.Text) {
			if _, known := n.Manuals[pair.number]; !known {
				n.Manuals[pair.number] = pair.role
				told = append(told, fmt.Sprintf("%q", pair.text))
			}
		}
	}
	switch {
	case n.Manuals[1] == division.Great:
		n.Order = MainFirst
	case n.Manuals[2] == division.Great, n.Manuals[1] == division.Positive, n.Manuals[1] == division.Choir:
		n.Order = FromBottom
	case len(told) == 0 && n.Used && great && behind != "":
		// The keys of a positive at the player's back are the lowest (common practice).
		n.Order = FromBottom
		n.Why = fmt.Sprintf("the score names a %s, whose keyboard is the lowest, beside the main manual", behind)
	}
	if len(told) > 0 {
		n.Used = true
		n.Why = "the score says so: " + strings.Join(told, ", ")
	}
	return n
}

// A numberPair is a number with the division that it means, as printed.
type numberPair struct {
	number int
	role   division.Role
	text   string
}

// numberPairs finds "II (REC)", "I. Man. (Hauptwerk)", "Swell (III)",
// "I = Great" and "I HW" in a text.
func numberPairs(text string) []numberPair {
	if len(text) > 4000 || !strings.ContainsAny(text, "IV12345") {
		return nil
	}
	var pairs []numberPair
	for line := range strings.Lines(text) {
		words := marked(line)
		for i := 0; i < len(words); i++ {
			a, n := division.Lookup(words[i:min(i+4, len(words))], "")
			if n == 0 || len(pairs) >= 16 {
				continue
			}
			if n == 1 && a.Number() > 0 && i > 0 && !strings.Contains(",;:(/", words[i-1]) {
				continue // "Mixture IV" has ranks
			}
			j := i + n
			sep := ""
			if j < len(words) && len(words[j]) == 1 && strings.Contains("(=:[", words[j]) {
				sep = words[j]
				j++
			}
			b, m := division.Lookup(words[min(j, len(words)):min(j+4, len(words))], "")
			end := j + m
			if m == 0 || (a.Number() > 0) == (b.Number() > 0) || a == division.Pedal || b == division.Pedal || a == division.None || b == division.None {
				continue
			}
			switch sep {
			case "(", "[":
				if end >= len(words) || !strings.Contains(")]", words[end]) {
					continue
				}
				end++
			case ":":
				if a.Number() == 0 || end < len(words) && words[end] != ":" {
					continue
				}
			case "":
				if a.Number() == 0 || i > 0 {
					continue
				}
			}
			if a.Number() == 0 {
				a, b = b, a
			}
			pairs = append(pairs, numberPair{a.Number(), b, strings.NewReplacer("( ", "(", " )", ")", "[ ", "[", " ]", "]", " :", ":").Replace(strings.Join(words[i:end], " "))})
			i = end - 1
		}
	}
	return pairs
}

// marked splits a line into words and the marks that part them.
func marked(line string) []string {
	for _, mark := range []string{"(", ")", "[", "]", "=", ":", ",", ";"} {
		line = strings.ReplaceAll(line, mark, " "+mark+" ")
	}
	return strings.Fields(line)
}

//go:embed behind.tsv
var behindTSV string

var behindWords = sync.OnceValue(func() map[string]bool {
	words := map[string]bool{}
	for line := range strings.Lines(behindTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 3 && f[0][0] != '#' {
			words[f[0]] = true
		}
	}
	return words
})

// atTheBack is the word in a text for a positive at the player's back, "" if none.
func atTheBack(text string) string {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\n:;,()", r) }) {
		if folded := foldedWords(w); len(folded) == 1 && behindWords()[folded[0]] {
			return w
		}
	}
	return ""
}

// String says what the score tells of the numbers: "Manual I is the Great,
// Manual II is the Swell".
func (n Numbering) String() string {
	var numbers []int
	for k := range n.Manuals {
		numbers = append(numbers, k)
	}
	slices.Sort(numbers)
	var parts []string
	for _, k := range numbers {
		parts = append(parts, fmt.Sprintf("%s is the %s", Division{Role: division.Manual(k)}.Name(), Division{Role: n.Manuals[k]}.Name()))
	}
	return strings.Join(parts, ", ")
}

// byNumber reports whether a statement names a manual by its number.
func byNumber(st direction.Statement) bool { return st.Division.Number() > 0 || st.To.Number() > 0 }
