package stoplist

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// SideBySide writes two organs beside one another, in lines of about width
// characters (80 where width is 0): division by division, those of one role on
// the same rows, their stops by family and pitch; then couplers, compasses and
// what else is at the console; then what either has that the other lacks.
func SideBySide(w io.Writer, a, b *registry.Organ, width int) error {
	if width <= 0 {
		width = 80
	}
	t := &twoColumns{page: page{width: max(width, 60)}, left: a, right: b}
	t.column = (t.page.width - rowHead - 2) / 2
	t.row("", a.Name, b.Name)
	t.row("", number(len(a.Keyboards), "manual")+", "+number(a.Totals().Stops, "stop"), number(len(b.Keyboards), "manual")+", "+number(b.Totals().Stops, "stop"))
	for _, pair := range pairDivisions(a, b) {
		t.divisions(pair)
	}
	t.console()
	for _, side := range [][2]*registry.Organ{{a, b}, {b, a}} {
		t.only(side[0], side[1])
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// rowHead is the width of the first column: "  principal 2 2/3 ".
const rowHead = 18

type twoColumns struct {
	page
	left, right *registry.Organ
	column      int
}

// row writes a cell of each organ after the head, over several lines where
// they need them.
func (t *twoColumns) row(head, left, right string) {
	l, r := broken(left, t.column), broken(right, t.column)
	for i := range max(len(l), len(r)) {
		line := pad(head, rowHead) + pad(at(l, i), t.column) + "  " + at(r, i)
		t.line("%s", strings.TrimRight(line, " "))
		head = ""
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

// broken breaks a text into lines of a width where words allow; at least one.
func broken(text string, width int) []string {
	lines := []string{""}
	for _, word := range strings.Fields(text) {
		last := &lines[len(lines)-1]
		switch {
		case *last == "":
			*last = word
		case utf8.RuneCountInString(*last)+1+utf8.RuneCountInString(word) <= width:
			*last += " " + word
		default:
			lines = append(lines, word)
		}
	}
	return lines
}

// A pair is two divisions of one role; one of them may be nil.
type pair struct{ a, b *registry.Division }

// pairDivisions puts divisions of the same role beside one another, in the
// order of the first organ; then what only the second has.
func pairDivisions(a, b *registry.Organ) []pair {
	var pairs []pair
	taken := map[*registry.Division]bool{}
	for _, d := range a.Divisions {
		p := pair{a: d}
		for _, e := range b.Divisions {
			if !taken[e] && e.Role == d.Role {
				p.b, taken[e] = e, true
				break
			}
		}
		pairs = append(pairs, p)
	}
	for _, e := range b.Divisions {
		if !taken[e] {
			pairs = append(pairs, pair{b: e})
		}
	}
	return pairs
}

func (t *twoColumns) divisions(p pair) {
	t.line("")
	t.row("", title(t.left, p.a), title(t.right, p.b))
	type kind struct {
		family stopname.Family
		pitch  pitch.Feet
	}
	left, right := map[kind][]string{}, map[kind][]string{}
	var kinds []kind
	gather := func(d *registry.Division, into map[kind][]string) {
		if d == nil {
			return
		}
		for _, s := range d.Stops {
			k := kind{s.Known.Family, s.Pitch}
			if !slices.Contains(kinds, k) {
				kinds = append(kinds, k)
			}
			into[k] = append(into[k], s.Text)
		}
	}
	gather(p.a, left)
	gather(p.b, right)
	slices.SortStableFunc(kinds, func(x, y kind) int {
		return cmp.Or(cmp.Compare(x.family, y.family), y.pitch.Cmp(x.pitch))
	})
	for _, k := range kinds {
		head := "  " + k.family.String() + " " + k.pitch.String()
		if k.family == stopname.NoFamily {
			head = "  other"
		}
		for i := range max(len(left[k]), len(right[k])) {
			t.row(head, dash(at(left[k], i)), dash(at(right[k], i)))
			head = ""
		}
	}
}

func title(o *registry.Organ, d *registry.Division) string {
	if d == nil {
		return "(none)"
	}
	text := strings.ToUpper(d.Name)
	if d.Enclosed {
		text += ", enclosed"
	}
	if o.HasTremulant(d) {
		text += ", tremulant"
	}
	return text
}

func dash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

// console sets couplers, compasses and pistons beside one another. Couplers
// that join divisions of the same roles stand on one row.
func (t *twoColumns) console() {
	t.line("")
	t.row("COUPLERS", "", "")
	used := map[*registry.Coupler]bool{}
	for _, c := range t.left.Couplers {
		right := ""
		for _, e := range t.right.Couplers {
			if !used[e] && c.From.Role == e.From.Role && c.To.Role == e.To.Role && c.Octave == e.Octave && c.UnisonOff == e.UnisonOff {
				right, used[e] = e.Text, true
				break
			}
		}
		t.row("", c.Text, dash(right))
	}
	for _, e := range t.right.Couplers {
		if !used[e] {
			t.row("", dash(""), e.Text)
		}
	}
	t.line("")
	t.row("COMPASS", "", "")
	for i := max(len(t.left.Keyboards), len(t.right.Keyboards)) - 1; i >= 0; i-- {
		t.row("  manual "+pitch.Numeral(i+1), keys(manual(t.left, i)), keys(manual(t.right, i)))
	}
	t.row("  pedalboard", keys(t.left.Pedalboard), keys(t.right.Pedalboard))
	if t.left.Pistons.General+t.right.Pistons.General > 0 {
		t.line("")
		t.row("GENERAL PISTONS", fmt.Sprint(t.left.Pistons.General), fmt.Sprint(t.right.Pistons.General))
	}
}

func manual(o *registry.Organ, i int) *registry.Keyboard {
	if i < len(o.Keyboards) {
		return o.Keyboards[i]
	}
	return nil
}

func keys(kb *registry.Keyboard) string {
	if kb == nil {
		return dash("")
	}
	return kb.Name + " " + kb.Compass.String()
}

// only lists the stops of an organ for which the other has no stop of the
// family at the pitch, on any division.
func (t *twoColumns) only(a, b *registry.Organ) {
	t.line("")
	t.wrapped("", "What "+a.Name+" has and "+b.Name+" lacks in any division:", 0)
	var names []string
	var last *registry.Division
	flush := func() {
		if last != nil {
			t.wrapped("  "+last.Name+": ", strings.Join(names, ", "), 4)
		}
		names = nil
	}
	for _, m := range Compare(a, b).Matches {
		if m.Like != Missing {
			continue
		}
		if m.Division != last {
			flush()
			last = m.Division
		}
		names = append(names, m.Stop.Text)
	}
	flush()
	if last == nil {
		t.line("  nothing")
	}
}
