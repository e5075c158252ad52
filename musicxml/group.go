package musicxml

import (
	"cmp"
	"slices"
	"strings"
	"sync"
)

// A DirectionGroup is what stands at one place: the directions of one part,
// staff, time and placement.
type DirectionGroup struct {
	Part      *Part
	Measure   *Measure // of the first direction
	Time      Time
	Staff     int
	Placement string // above, below or empty

	Directions []*Direction // in file order
	Texts      []*Direction // those that have text, in printed order, from the top
	Text       string       // their texts, those above one another on lines of their own
	Dynamics   string       // of the first direction that has any
}

// directionGroups are a part's, made when they are first asked for.
type directionGroups struct {
	once   sync.Once
	groups []*DirectionGroup
}

// DirectionGroups are the part's directions by place, sorted by time, then by
// the file. A direction that holds nothing but a <sound> is in no group. They
// must not be changed.
func (p *Part) DirectionGroups() []*DirectionGroup {
	p.places.once.Do(func() { p.places.groups = p.groupDirections() })
	return p.places.groups
}

func (p *Part) groupDirections() []*DirectionGroup {
	type place struct {
		time      Time
		staff     int
		placement string
	}
	var groups []*DirectionGroup
	at := map[place]*DirectionGroup{}
	for _, d := range p.Directions {
		if d.Kind == 0 || d.Kind == KindSound {
			continue
		}
		key := place{d.Time, d.Staff, d.Placement}
		g := at[key]
		if g == nil {
			g = &DirectionGroup{Part: p, Measure: d.Measure, Time: d.Time, Staff: d.Staff, Placement: d.Placement}
			at[key] = g
			groups = append(groups, g)
		}
		g.Directions = append(g.Directions, d)
		if d.Text != "" {
			g.Texts = append(g.Texts, d)
		}
		if g.Dynamics == "" {
			g.Dynamics = d.Dynamics
		}
	}
	for _, g := range groups {
		g.join()
	}
	return groups
}

// join puts the texts in printed order and joins them: those at the same
// height side by side from left to right, others on lines of their own.
// Directions whose height is not given keep the order of the file.
func (g *DirectionGroup) join() {
	heights := true
	for _, d := range g.Texts {
		heights = heights && d.height() != nil
	}
	if heights {
		slices.SortStableFunc(g.Texts, func(a, b *Direction) int {
			return cmp.Or(-cmp.Compare(*a.height(), *b.height()), cmp.Compare(a.left(), b.left()))
		})
	}
	var b strings.Builder
	for i, d := range g.Texts {
		switch {
		case i == 0:
		case heights && *d.height() == *g.Texts[i-1].height() && d.left() != g.Texts[i-1].left():
			b.WriteByte(' ')
		default:
			b.WriteByte('\n')
		}
		b.WriteString(d.Text)
	}
	g.Text = b.String()
}

// height is where the direction's text stands above the top line of the
// staff, in tenths; nil where the file does not say.
func (d *Direction) height() *float64 {
	p := d.Pieces[0]
	if p.Y == nil || p.RelY == nil {
		return p.Y
	}
	y := *p.Y + *p.RelY
	return &y
}

// left is how far right of its place the direction's text begins, in tenths.
func (d *Direction) left() float64 {
	x := 0.0
	for _, f := range []*float64{d.Pieces[0].X, d.Pieces[0].RelX} {
		if f != nil {
			x += *f
		}
	}
	return x
}
