package sound

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

//go:embed spectra.tsv
var spectraTSV string

//go:embed kinds.tsv
var kindsTSV string

//go:embed levels.tsv
var levelsTSV string

//go:embed families.tsv
var familiesTSV string

//go:embed divisions.tsv
var divisionsTSV string

//go:embed box.tsv
var boxTSV string

//go:embed shutters.tsv
var shuttersTSV string

//go:embed keyboard.tsv
var keyboardTSV string

//go:embed compounds.tsv
var compoundsTSV string

//go:embed celestes.tsv
var celestesTSV string

// tables is all that the embedded files say.
type tables struct {
	spectra   map[string]*spectrum
	order     []string // kinds in the order of the file
	kinds     []kindRow
	levels    map[int]float64         // phon by loudness class
	families  map[stopname.Family]int // loudness class where the name says none
	divisions map[string]float64      // dB by role
	box       curve                   // dB off by log2 of Hz, shut
	shutters  curve                   // part left by opening
	keyboard  curve                   // dB by octaves from the middle
	compounds []compoundRow
	celeste   celesteRow
}

// A kindRow says what kind of pipe stops of some names and families have.
type kindRow struct {
	family         stopname.Family // NoFamily for any
	name, stopKind words
	kind           *spectrum
	level, upper   float64 // dB; dB per octave above 8′
	source         string
}

// A compoundRow is one line of a compound stop's composition.
type compoundRow struct {
	of     string // compound, any, a family or a kind of stop
	name   words
	usual  int
	from   int // key
	ranks  []pitch.Feet
	source string
}

// A celesteRow is how far a celeste is out of tune.
type celesteRow struct{ cents, narrowing float64 }

// known holds the embedded tables, read when they are first needed. A mistake
// in them is a mistake in the program, which the tests find.
var known = sync.OnceValue(func() *tables {
	t, err := readTables()
	if err != nil {
		panic("sound: " + err.Error())
	}
	return t
})

func readTables() (*tables, error) {
	t := &tables{spectra: map[string]*spectrum{}, levels: map[int]float64{}, families: map[stopname.Family]int{}, divisions: map[string]float64{}}
	for _, f := range []struct {
		name, text string
		columns    int
		row        func(c *cells)
	}{
		{"spectra.tsv", spectraTSV, 14, t.spectrumRow},
		{"kinds.tsv", kindsTSV, 7, t.kindRow},
		{"levels.tsv", levelsTSV, 3, func(c *cells) { t.levels[int(c.number(0))] = c.number(1) }},
		{"families.tsv", familiesTSV, 3, func(c *cells) { t.families[c.family(0)] = int(c.number(1)) }},
		{"divisions.tsv", divisionsTSV, 3, func(c *cells) { t.divisions[c.text(0)] = c.number(1) }},
		{"box.tsv", boxTSV, 3, func(c *cells) { t.box.add(c, math.Log2(c.number(0)), c.number(1)) }},
		{"shutters.tsv", shuttersTSV, 3, func(c *cells) { t.shutters.add(c, c.number(0), c.number(1)) }},
		{"keyboard.tsv", keyboardTSV, 3, func(c *cells) { t.keyboard.add(c, c.number(0), c.number(1)) }},
		{"compounds.tsv", compoundsTSV, 6, t.compoundRow},
		{"celestes.tsv", celestesTSV, 3, func(c *cells) { t.celeste = celesteRow{c.number(0), c.number(1)} }},
	} {
		if err := eachRow(f.name, f.text, f.columns, f.row); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func (t *tables) spectrumRow(c *cells) {
	s := &spectrum{
		kind: c.text(0), source: c.text(13), slope: c.number(1), knee: c.number(2), beyond: c.number(3),
		evenTo: int(c.number(5)), bump: c.number(6), bumpDB: c.number(7),
		formant: c.number(8), formantDB: c.number(9), formantWidth: c.number(10), follow: c.number(11), warp: c.number(12),
	}
	if c.text(4) == "none" {
		s.even = math.Inf(-1)
	} else {
		s.even = c.number(4)
	}
	if t.spectra[s.kind] != nil {
		c.fail("the kind %q stands there twice", s.kind)
	}
	t.spectra[s.kind] = s
	t.order = append(t.order, s.kind)
}

func (t *tables) kindRow(c *cells) {
	row := kindRow{family: c.family(0), name: words(c.text(1)), stopKind: words(c.text(2)), kind: t.spectra[c.text(3)], level: c.number(4), upper: c.number(5), source: c.text(6)}
	if row.kind == nil {
		c.fail("the kind %q is not in spectra.tsv", c.text(3))
	}
	t.kinds = append(t.kinds, row)
}

func (t *tables) compoundRow(c *cells) {
	row := compoundRow{of: c.text(0), name: words(c.text(1)), usual: int(c.number(2)), from: c.key(3), source: c.text(5)}
	_, isKind := stopname.FamilyOf(row.of)
	_, isFamily := stopname.ParseFamily(row.of)
	if !isKind && !isFamily && row.of != "compound" && row.of != "any" {
		c.fail("%q is not compound, any, a tone family or a kind of stop", row.of)
	}
	for _, word := range strings.Split(c.text(4), ", ") {
		feet, err := pitch.ParseFeet(word)
		if err != nil {
			c.fail("%v", err)
		}
		row.ranks = append(row.ranks, feet)
	}
	t.compounds = append(t.compounds, row)
}

// cells are the columns of one row; the first mistake is kept.
type cells struct {
	fields []string
	err    error
}

func (c *cells) text(i int) string { return c.fields[i] }

func (c *cells) number(i int) float64 {
	x, err := strconv.ParseFloat(c.fields[i], 64)
	if err != nil {
		c.fail("%q is not a number", c.fields[i])
	}
	return x
}

// key reads the scientific name of a white key: C2, F3.
func (c *cells) key(i int) int {
	name := c.fields[i]
	if len(name) == 2 {
		step := strings.IndexByte("C D EF G A B", name[0])
		if octave := int(name[1] - '0'); name[0] != ' ' && step >= 0 && octave <= 9 {
			return 12*(octave+1) + step
		}
	}
	c.fail("%q is not a white key such as C2", name)
	return 0
}

// family reads a tone family; "*" is NoFamily.
func (c *cells) family(i int) stopname.Family {
	family, ok := stopname.ParseFamily(c.fields[i])
	if !ok && c.fields[i] != "*" {
		c.fail("%q is no tone family", c.fields[i])
	}
	return family
}

func (c *cells) fail(format string, args ...any) {
	if c.err == nil {
		c.err = fmt.Errorf(format, args...)
	}
}

// eachRow hands every row under the header to a function; lines that begin
// with # are remarks.
func eachRow(file, text string, columns int, row func(*cells)) error {
	header := true
	for i, line := range strings.Split(text, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		c := &cells{fields: strings.Split(line, "\t")}
		switch {
		case len(c.fields) != columns:
			c.fail("%d columns instead of %d", len(c.fields), columns)
		case header:
			header = false
			continue
		case c.fields[columns-1] == "":
			c.fail("no source")
		default:
			row(c)
		}
		if c.err != nil {
			return fmt.Errorf("%s, line %d: %w", file, i+1, c.err)
		}
	}
	return nil
}

// A curve is a line through points with ascending x.
type curve struct{ x, y []float64 }

func (k *curve) add(c *cells, x, y float64) {
	if n := len(k.x); n > 0 && x <= k.x[n-1] {
		c.fail("%v does not come after %v", x, k.x[n-1])
	}
	k.x, k.y = append(k.x, x), append(k.y, y)
}

// at is the value at x: in proportion between the points, and outside them
// what it is at the nearer end.
func (k *curve) at(x float64) float64 {
	if x <= k.x[0] {
		return k.y[0]
	}
	for i := 1; i < len(k.x); i++ {
		if x <= k.x[i] {
			part := (x - k.x[i-1]) / (k.x[i] - k.x[i-1])
			return k.y[i-1] + float64(part*(k.y[i]-k.y[i-1]))
		}
	}
	return k.y[len(k.y)-1]
}
