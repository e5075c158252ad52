package sound

import (
	"strings"
	"testing"
)

func TestTables(t *testing.T) {
	tables, err := readTables()
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, row := range tables.kinds {
		used[row.kind.kind] = true
	}
	for _, kind := range tables.order {
		if !used[kind] {
			t.Errorf("no stop has the spectrum %q", kind)
		}
	}
	last := tables.kinds[len(tables.kinds)-1]
	if last.family != 0 || last.name != "*" || last.stopKind != "*" {
		t.Error("the last row of kinds.tsv does not fit every stop")
	}
	for class := 1; class <= 6; class++ {
		if _, ok := tables.levels[class]; !ok {
			t.Errorf("levels.tsv has no class %d", class)
		}
	}
}

// TestBadRows: a mistake in a table is said with its line.
func TestBadRows(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a\tb\tsource\n1\t2\n", "x.tsv, line 2: 2 columns instead of 3"},
		{"a\tb\tsource\n# remark\none\t2\tfrom memory\n", `x.tsv, line 3: "one" is not a number`},
		{"a\tb\tsource\n1\t2\t\n", "x.tsv, line 2: no source"},
		{"a\tb\tsource\n1\t2\tm\n1\t2\tm\n", "x.tsv, line 3: 1 does not come after 1"},
	} {
		var k curve
		err := eachRow("x.tsv", c.text, 3, func(c *cells) { k.add(c, c.number(0), c.number(1)) })
		if err == nil || err.Error() != c.want {
			t.Errorf("%q: %v, want %s", c.text, err, c.want)
		}
	}
	fresh, err := readTables()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		row  func(*cells)
		line string
		want string
	}{
		{fresh.kindRow, "tuba\t*\t*\tprincipal\t0\t0\tm", "no tone family"},
		{fresh.kindRow, "reed\t*\t*\tkazoo\t0\t0\tm", "not in spectra.tsv"},
		{fresh.compoundRow, "reeds\t*\t3\tC2\t2\tm", "not compound"},
		{fresh.compoundRow, "mixture\t*\t3\tC#2\t2\tm", "not a white key"},
		{fresh.compoundRow, "mixture\t*\t3\tC2\t2; 1\tm", "not a pitch in feet"},
		{fresh.spectrumRow, "principal" + strings.Repeat("\t0", 12) + "\tm", "twice"},
	} {
		cells := &cells{fields: strings.Split(c.line, "\t")}
		if c.row(cells); cells.err == nil || !strings.Contains(cells.err.Error(), c.want) {
			t.Errorf("%q: %v, want %s", c.line, cells.err, c.want)
		}
	}
}

func TestCurve(t *testing.T) {
	k := curve{x: []float64{0, 1, 3}, y: []float64{0, 2, 0}}
	for x, want := range map[float64]float64{-1: 0, 0: 0, 0.5: 1, 1: 2, 2: 1, 3: 0, 9: 0} {
		if got := k.at(x); got != want {
			t.Errorf("at %v: %v, want %v", x, got, want)
		}
	}
}
