package resolve

import (
	"cmp"
	"slices"

	"stopgap/registry"
	"stopgap/registry/stopname"
)

// inOrder are the stops of a division in an order of their own: the longest
// first, then the plainest of the kind, then by what stands on the knob. Whatever is taken because it comes
// first is so taken whatever order the organ file has.
func inOrder(d *registry.Division) []*registry.Stop {
	out := slices.Clone(d.Stops)
	slices.SortStableFunc(out, func(a, b *registry.Stop) int {
		return cmp.Or(
			b.Pitch.Cmp(a.Pitch), cmp.Compare(unusual(a), unusual(b)), cmp.Compare(a.Text, b.Text), cmp.Compare(a.Half, b.Half), cmp.Compare(a.Level, b.Level),
			cmp.Compare(a.Compass.Low, b.Compass.Low), cmp.Compare(a.Compass.High, b.Compass.High), cmp.Compare(a.Use, b.Use),
		)
	})
	return out
}

// unusual is how far a stop is from what its family usually means.
func unusual(s *registry.Stop) int {
	f := s.Known.Family
	far, _ := distance(stopname.UsualKind(f), s.Known.Subfamily, f, f)
	return far
}

// nearest is the stop of a division for which far says the least, and how
// much; nil where it takes none.
func nearest(d *registry.Division, far func(*registry.Stop) (int, bool)) (best *registry.Stop, least int) {
	for _, s := range inOrder(d) {
		if n, ok := far(s); ok && (best == nil || n < least) {
			best, least = s, n
		}
	}
	return best, least
}
