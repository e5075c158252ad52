package passage

import (
	"fmt"
	"sort"
	"strings"

	"stopgap/musicxml"
)

// Choice names staves by hand; empty fields leave the choice to the evidence.
// A staff is named by part and number, "P1.3"; a part alone is its first
// staff. Both hands may have one staff, a hand and the feet may not.
type Choice struct{ Pedal, RH, LH string }

// flags are the fields with what the command line calls them.
func (c Choice) flags() []struct {
	flag, id string
	line     Line
} {
	return []struct {
		flag, id string
		line     Line
	}{{"--pedal-staff", c.Pedal, Feet}, {"--rh", c.RH, RH}, {"--lh", c.LH, LH}}
}

// check reports the first staff that is named and not there, or named twice.
func (c Choice) check(score *musicxml.Score) error {
	type place struct {
		part   *musicxml.Part
		number int
	}
	taken := map[place]string{}
	for _, f := range c.flags() {
		if f.id == "" {
			continue
		}
		part, number, ok := splitStaffID(score, f.id)
		if !ok {
			return unknownStaff(score, f.flag, f.id)
		}
		at := place{part, number}
		if before := taken[at]; before == "--pedal-staff" {
			return fmt.Errorf("%s %s: %s names the same staff; the feet and a hand cannot share one so (where they do in print, \"Ped.\" and \"Man.\" say who plays)", f.flag, f.id, before)
		}
		taken[at] = f.flag
	}
	return nil
}

// lineOf is the line that a staff is given by hand, and the flag that says so.
func (c Choice) lineOf(score *musicxml.Score, s *Staff) (Line, string) {
	line, flag := Line(""), ""
	for _, f := range c.flags() {
		part, number, ok := splitStaffID(score, f.id)
		if !ok || part != s.Part || number != s.Number {
			continue
		}
		if line == RH && f.line == LH {
			return Both, "--rh and --lh"
		}
		line, flag = f.line, f.flag
	}
	return line, flag
}

// names reports whether a staff of the part is named by hand.
func (c Choice) names(score *musicxml.Score, p *musicxml.Part) bool {
	for _, f := range c.flags() {
		if part, _, ok := splitStaffID(score, f.id); ok && part == p {
			return true
		}
	}
	return false
}

func unknownStaff(score *musicxml.Score, flag, id string) error {
	const most = 40
	var ids []string
	for _, p := range score.Parts {
		for n := 1; n <= max(1, p.Staves) && len(p.Measures) > 0; n++ {
			ids = append(ids, fmt.Sprintf("%s.%d", p.ID, n))
		}
	}
	sort.Strings(ids)
	if len(ids) > most {
		ids = append(ids[:most], "…")
	}
	return fmt.Errorf("%s %s: the score has no such staff; it has %s", flag, id, strings.Join(ids, ", "))
}

// splitStaffID reads "P1.3"; a part's ID alone means its first staff.
func splitStaffID(score *musicxml.Score, id string) (*musicxml.Part, int, bool) {
	if id == "" {
		return nil, 0, false
	}
	for _, p := range score.Parts {
		if len(p.Measures) == 0 {
			continue // in which no staff is printed
		}
		if p.ID == id {
			return p, 1, true
		}
		for n := 1; n <= max(1, p.Staves); n++ {
			if id == fmt.Sprintf("%s.%d", p.ID, n) {
				return p, n, true
			}
		}
	}
	return nil, 0, false
}
