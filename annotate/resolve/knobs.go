package resolve

import (
	"cmp"
	"encoding/binary"
	"math/bits"
	"slices"

	"stopgap/registry"
)

// knobs is a set of drawn stops and couplers, by their numbers.
type knobs []uint64

func (k knobs) differ(l knobs) int {
	n := 0
	for i := range k {
		n += bits.OnesCount64(k[i] ^ l[i])
	}
	return n
}

// shares counts what is in both.
func (k knobs) shares(l knobs) int {
	n := 0
	for i := range k {
		n += bits.OnesCount64(k[i] & l[i])
	}
	return n
}

// without counts what is in k and not in l.
func (k knobs) without(l knobs) int {
	n := 0
	for i := range k {
		n += bits.OnesCount64(k[i] &^ l[i])
	}
	return n
}

func (k knobs) has(n int) bool { return k[n/64]&(1<<(n%64)) != 0 }
func (k knobs) draw(n int)     { k[n/64] |= 1 << (n % 64) }
func (k knobs) putIn(n int)    { k[n/64] &^= 1 << (n % 64) }

// key appends the set as bytes.
func (k knobs) key(to []byte) []byte {
	for _, word := range k {
		to = binary.LittleEndian.AppendUint64(to, word)
	}
	return to
}

func (k knobs) add(l knobs) {
	for i := range l {
		k[i] |= l[i]
	}
}

// A board numbers what an organ's console has, and remembers what sounds from
// a keyboard under each set of couplers.
type board struct {
	organ     *registry.Organ
	stops     []*registry.Stop
	couplers  []*registry.Coupler
	stopAt    map[*registry.Stop]int
	couplerAt map[*registry.Coupler]int
	stopWords int // the words of a set of knobs that hold stops; those of the couplers follow
	words     int
	coupled   map[string]*coupled
	outs      map[string]*out
}

// mostCoupled is under how many sets of couplers a board remembers what sounds,
// and of how many sets of all knobs what they come to.
var mostCoupled = 500

// coupled is what sounds from each keyboard under one set of couplers.
type coupled struct {
	board   *board
	knobs   knobs
	reached map[*registry.Keyboard][]reached
}

// An out is what a set of knobs comes to that are out. Registrations come back
// in a score, and share it: nobody may change it.
type out struct {
	board *board
	knobs knobs
	drawn registry.Drawn
	from  map[*registry.Keyboard][]registry.Sound // see sounds
}

// reached is a stop that would sound from a keyboard if it were drawn.
type reached struct {
	stop  int
	at    int // its place among what sounds, as the organ file has it
	sound registry.Sound
}

func newBoard(organ *registry.Organ) *board {
	b := &board{
		organ: organ, couplers: organ.Couplers,
		stopAt: map[*registry.Stop]int{}, couplerAt: map[*registry.Coupler]int{}, coupled: map[string]*coupled{}, outs: map[string]*out{},
	}
	for _, d := range organ.Divisions {
		for _, s := range inOrder(d) {
			b.stopAt[s] = len(b.stops)
			b.stops = append(b.stops, s)
		}
	}
	b.stopWords = (len(b.stops) + 63) / 64
	for i, c := range organ.Couplers {
		b.couplerAt[c] = 64*b.stopWords + i
	}
	b.words = b.stopWords + (len(organ.Couplers)+63)/64
	return b
}

// empty is no knob out.
func (b *board) empty() knobs { return make(knobs, b.words) }

// number notes in a part its stops, and the couplers that it brings.
func (b *board) number(p *Part) {
	k := b.empty()
	for n := range p.Picks {
		for _, c := range p.Picks[n].Stops {
			k.draw(b.stopAt[c.Stop])
		}
		if j := p.Picks[n].Joined; j != nil {
			k.draw(b.couplerAt[j])
		}
		if c := p.Picks[n].Doubled; c != nil {
			k.draw(b.couplerAt[c])
		}
	}
	for _, path := range p.Lending {
		for _, c := range path.Couplers {
			k.draw(b.couplerAt[c])
		}
	}
	p.knobs, p.stops = k, k[:b.stopWords]
}

// drawn is a set of knobs as the organ takes it.
func (b *board) drawn(k knobs) registry.Drawn {
	d := registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
	for i, s := range b.stops {
		if k.has(i) {
			d.Stops[s] = true
		}
	}
	for i, c := range b.couplers {
		if k.has(64*b.stopWords + i) {
			d.Couplers[c] = true
		}
	}
	return d
}

// out is what a set of knobs comes to.
func (b *board) out(k knobs) *out {
	var room [64]byte
	key := k.key(room[:0])
	o := b.outs[string(key)]
	if o == nil {
		if len(b.outs) >= mostCoupled {
			clear(b.outs)
		}
		o = &out{b, slices.Clone(k), b.drawn(k), map[*registry.Keyboard][]registry.Sound{}}
		b.outs[string(key)] = o
	}
	return o
}

// sounds is what sounds from a keyboard, in the order of the organ file.
func (o *out) sounds(kb *registry.Keyboard) []registry.Sound {
	known, ok := o.from[kb]
	if !ok {
		known = o.board.sounds(o.knobs, kb)
		o.from[kb] = known
	}
	return known
}

// sounds is what sounds from a keyboard, in the order of the organ file.
func (b *board) sounds(k knobs, kb *registry.Keyboard) []registry.Sound {
	var sounding []reached
	for _, x := range b.under(k).from(kb) {
		if k.has(x.stop) {
			sounding = append(sounding, x)
		}
	}
	slices.SortFunc(sounding, func(a, b reached) int { return a.at - b.at })
	var out []registry.Sound
	if len(sounding) > 0 {
		out = make([]registry.Sound, len(sounding))
	}
	for i, x := range sounding {
		out[i] = x.sound
	}
	return out
}

// under is what sounds with the couplers that are out.
func (b *board) under(k knobs) *coupled {
	var room [64]byte // for as many couplers as organs have
	key := k[b.stopWords:].key(room[:0])
	c := b.coupled[string(key)]
	if c == nil {
		if len(b.coupled) >= mostCoupled {
			clear(b.coupled)
		}
		c = &coupled{b, slices.Clone(k), map[*registry.Keyboard][]reached{}}
		b.coupled[string(key)] = c
	}
	return c
}

// from is what would sound from a keyboard if every stop were drawn, in the
// order of the stops' numbers.
func (c *coupled) from(kb *registry.Keyboard) []reached {
	known, ok := c.reached[kb]
	if !ok {
		all := c.board.drawn(c.knobs)
		for _, s := range c.board.stops {
			all.Stops[s] = true
		}
		for i, x := range c.board.organ.Sounding(all, kb) {
			known = append(known, reached{c.board.stopAt[x.Stop], i, x})
		}
		slices.SortStableFunc(known, func(a, b reached) int { return cmp.Or(a.stop-b.stop, a.sound.Octave-b.sound.Octave) })
		c.reached[kb] = known
	}
	return known
}
