package musicxml

import "slices"

// title is what the piece is called: what the header says, else what is
// printed as the title on the first page.
func (s *Score) title() string {
	work, movement := s.WorkTitle, s.MovementTitle
	switch {
	case work != "" && movement != "" && work != movement:
		return work + ": " + movement
	case work != "":
		return work
	case movement != "":
		return movement
	}
	return s.creditOfType("title")
}

func (s *Score) subtitle() string { return s.creditOfType("subtitle") }

func (s *Score) creditOfType(kind string) string {
	for _, c := range s.Credits {
		if c.Text != "" && slices.Contains(c.Types, kind) {
			return c.Text
		}
	}
	return ""
}
