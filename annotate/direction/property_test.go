package direction

import (
	"regexp"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"stopgap/registry/pitch"
)

// A variant prints a text otherwise than it was printed.
type variant struct {
	name string
	make func(string) string
}

// variants are ways to print the same direction.
var variants = []variant{
	{"in capitals", strings.ToUpper},
	{"in small letters", strings.ToLower},
	{"with other primes", func(s string) string { return betweenDigitAndEnd.ReplaceAllString(s, "${1}′${2}") }},
	{"with grave accents for primes", func(s string) string { return betweenDigitAndEnd.ReplaceAllString(s, "$1`$2") }},
	{"with wide spaces", func(s string) string { return strings.ReplaceAll(s, " ", "  ") }},
	{"with no-break spaces", func(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }},
	{"with spaces before points", func(s string) string { return strings.NewReplacer(",", " ,", ":", " :", ".", ". ").Replace(s) }},
	{"without accents", withoutAccents},
	{"with loose accents", norm.NFD.String},
	{"with doubled accents", doubledAccents},
	{"with spaces around", func(s string) string { return "  " + s + " " }},
	{"with fractions of one sign", strings.NewReplacer(" 2/3", "⅔", " 1/3", "⅓", " 3/5", "⅗").Replace},
	{"with joined fractions", strings.NewReplacer(" 2/3", "-2/3", " 1/3", "-1/3", " 3/5", "-3/5").Replace},
	{"in quotation marks", func(s string) string { return "“" + s + "”" }},
}

var betweenDigitAndEnd = regexp.MustCompile(`(\d)['’]($|[\s,;.):u])`)

func withoutAccents(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(s))
}

func doubledAccents(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		b.WriteRune(r)
		if unicode.Is(unicode.Mn, r) {
			b.WriteRune(r)
		}
	}
	return b.String()
}

var names = regexp.MustCompile(` \([^)]*\)`)

// TestVariants prints every row of the tables in other ways, which must not
// change what is read; names are kept as printed and so are left out.
func TestVariants(t *testing.T) {
	for _, r := range conformance(t) {
		want := names.ReplaceAllString(r.want, "")
		for _, v := range variants {
			text := v.make(r.text)
			if got := names.ReplaceAllString(Read(text, Context{}).NormalForm(), ""); got != want {
				t.Errorf("%s, %s: %q\n got %s\nwant %s", r.id, v.name, text, got, want)
			}
		}
	}
}

// TestNormalFormIsReadAgain draws statements, writes them, parses them, and
// reads them as a text: all must give the same again.
func TestNormalFormIsReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		statements := rapid.SliceOfN(drawStatement(), 0, 5).Draw(t, "statements")
		normal := NormalForm(statements)
		parsed, err := ParseNormalForm(normal)
		if err != nil {
			t.Fatal(err)
		}
		if again := NormalForm(parsed); again != normal {
			t.Fatalf("%q parsed is written %q", normal, again)
		}
		if again := Read(normal, Context{}).NormalForm(); again != normal {
			t.Fatalf("%q is read as %q", normal, again)
		}
	})
}

// TestReadingIsReadAgain reads each row, and then the normal form of it.
func TestReadingIsReadAgain(t *testing.T) {
	for _, r := range conformance(t) {
		normal := Read(r.text, Context{}).NormalForm()
		if again := Read(normal, Context{}).NormalForm(); again != normal {
			t.Errorf("%s: %q is read as %q", r.id, normal, again)
		}
	}
}

// TestJoinedRows reads two directions as two lines of one text: that gives
// what each gives, except that a list or a division may go on.
func TestStatementsAreSound(t *testing.T) {
	rows := conformance(t)
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SampledFrom(rows).Draw(t, "first")
		b := rapid.SampledFrom(rows).Draw(t, "second")
		glue := rapid.SampledFrom([]string{"\n", "; ", " ", ", ", ". ", " – ", "\n\n"}).Draw(t, "glue")
		normal := Read(a.text+glue+b.text, Context{}).NormalForm()
		if _, err := ParseNormalForm(normal); err != nil {
			t.Fatalf("%q and %q: %v", a.text, b.text, err)
		}
	})
}

func drawRole(open ...string) *rapid.Generator[string] {
	return rapid.SampledFrom(append([]string{
		"great", "swell", "choir", "positive", "solo", "echo", "brust", "ober", "bombarde", "pedal", "man1", "man2", "man5", "?",
	}, open...))
}

func drawStatement() *rapid.Generator[Statement] {
	return rapid.Custom(func(t *rapid.T) Statement {
		s := Statement{Verb: rapid.SampledFrom([]Verb{Set, Add, Off, Prep, Couple, Uncouple, Box, Level, Play, Trem, Lead}).Draw(t, "verb")}
		s.Division = roles[drawRole().Draw(t, "division")]
		switch s.Verb {
		case Couple, Uncouple:
			s.Division, s.To = roles[drawRole("*").Draw(t, "from")], roles[drawRole("*").Draw(t, "to")]
			s.Octave = rapid.IntRange(-1, 1).Draw(t, "octave")
			if s.Verb == Uncouple && rapid.Bool().Draw(t, "all") {
				s = Statement{Verb: Uncouple, All: true}
			}
		case Box:
			s.State = rapid.SampledFrom(boxStates).Draw(t, "state")
		case Level:
			s.State = rapid.SampledFrom(levels).Draw(t, "state")
		case Trem:
			s.State = rapid.SampledFrom(tremStates).Draw(t, "state")
		case Lead:
			s.State = rapid.SampledFrom(leadStates).Draw(t, "state")
		case Play:
			s.Hand = rapid.SampledFrom(hands).Draw(t, "hand")
			if s.Hand == Feet {
				s.State = rapid.SampledFrom([]string{"none", "pedal"}).Draw(t, "state")
			}
		default:
			if s.Verb == Off && rapid.Bool().Draw(t, "all") {
				s.All = true
				break
			}
			s.Voices = rapid.SliceOfN(drawVoice(2), 1, 4).Draw(t, "voices")
		}
		return s
	})
}

func drawVoice(alternatives int) *rapid.Generator[Voice] {
	return rapid.Custom(func(t *rapid.T) Voice {
		v := Voice{Group: rapid.SampledFrom(groups).Draw(t, "group")}
		if f, err := pitch.ParseFeet(rapid.SampledFrom([]string{"*", "32", "16", "10 2/3", "8", "4", "2 2/3", "1 3/5", "1"}).Draw(t, "pitch")); err == nil {
			v.Pitch = f
		}
		v.Name = rapid.StringMatching(`([A-Z][a-zé']{1,6}\.?( [a-z]{2,5})?)?`).Draw(t, "name")
		v.Strength = rapid.SampledFrom([]string{"", "soft", "loud"}).Draw(t, "strength")
		v.Except = rapid.SliceOfN(rapid.SampledFrom([]Group{Reed, Mixture, Flute}), 0, 2).Draw(t, "except")
		if alternatives > 0 {
			v.Or = rapid.SliceOfN(drawVoice(0), 0, alternatives).Draw(t, "or")
		}
		return v
	})
}
