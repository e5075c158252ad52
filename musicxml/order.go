package musicxml

import (
	"regexp"
	"slices"
)

// Order is the order in which the measures are played, as indexes: repeats
// with their endings, da capo, dal segno, coda and fine. Signs that stand in
// one part hold for all. After a da capo or dal segno repeats are not played
// again and the last ending is taken, as is the custom. It never gives more
// than a fixed number of measures, whatever the signs say.
func (s *Score) Order() []int {
	o := newOrder(s)
	for steps := 0; o.at < len(o.signs) && len(o.played) < maxPlayed && steps < 4*maxPlayed; steps++ {
		o.step()
	}
	return o.played
}

// signs are the signs of one measure, of all the parts together.
type signs struct {
	repeatStart, repeatEnd bool
	times                  int
	ending                 []int // numbers of the ending that the measure stands in
	lastEnding             int   // the highest number of the endings beside one another
	segno, coda            bool
	daCapo, dalSegno       bool
	toCoda, fine           bool
}

// order goes through the measures as a player does.
type order struct {
	signs  []signs
	played []int

	at, start, pass int          // the measure, where the repeat starts, the how-manieth time
	jumped          bool         // a da capo or dal segno has been taken
	used            map[int]bool // the measures whose da capo or dal segno has been taken
}

func newOrder(s *Score) *order {
	o := &order{pass: 1, used: map[int]bool{}}
	for _, p := range s.Parts {
		for len(o.signs) < len(p.Measures) {
			o.signs = append(o.signs, signs{times: 2})
		}
		for i, m := range p.Measures {
			n := &o.signs[i]
			n.repeatStart = n.repeatStart || m.RepeatStart || m.ForwardRepeat
			n.repeatEnd = n.repeatEnd || m.RepeatEnd
			n.times = max(n.times, m.Times)
			n.segno, n.coda = n.segno || m.Segno, n.coda || m.Coda
			n.daCapo, n.dalSegno = n.daCapo || m.DaCapo, n.dalSegno || m.DalSegno
			n.toCoda, n.fine = n.toCoda || m.ToCoda, n.fine || m.Fine
		}
		o.endings(p.Measures)
	}
	o.words(s)
	o.codas()
	return o
}

// endings marks which measures stand in which ending. One that does not stop
// lasts to the next repeat end or ending.
func (o *order) endings(measures []*Measure) {
	var current []int
	for i, m := range measures {
		if m.EndingStart != nil {
			current = m.EndingStart
		}
		if current != nil {
			o.signs[i].ending = current
		}
		if m.EndingStop != nil || m.RepeatEnd {
			current = nil
		}
	}
	// Of endings beside one another all must know the last.
	for i := 0; i < len(measures); {
		first, last := i, 0
		for ; i < len(measures) && o.signs[i].ending != nil; i++ {
			last = max(last, slices.Max(o.signs[i].ending))
		}
		for j := first; j < i; j++ {
			o.signs[j].lastEnding = last
		}
		i = max(i, first+1)
	}
}

// Jumps in words, for files that do not say them to the player of the file.
var (
	daCapoWords   = regexp.MustCompile(`(?i)^\W*(d\.\s?c\.|da capo\b)`)
	dalSegnoWords = regexp.MustCompile(`(?i)^\W*(d\.\s?s\.|dal segno\b)`)
	toCodaWords   = regexp.MustCompile(`(?i)^\W*to coda\b`)
	fineWords     = regexp.MustCompile(`(?i)^\W*fine\W*$`)
)

// words adds the jumps that only words tell, kind by kind where the score has
// no other sign of that kind.
func (o *order) words(s *Score) {
	var capo, segno, coda, fine bool
	for _, n := range o.signs {
		capo, segno, coda, fine = capo || n.daCapo, segno || n.dalSegno, coda || n.toCoda, fine || n.fine
	}
	for _, p := range s.Parts {
		for _, d := range p.Directions {
			if d.Text == "" || len(d.Text) > 100 {
				continue
			}
			n := &o.signs[d.Measure.Index]
			n.daCapo = n.daCapo || !capo && daCapoWords.MatchString(d.Text)
			n.dalSegno = n.dalSegno || !segno && dalSegnoWords.MatchString(d.Text)
			n.toCoda = n.toCoda || !coda && toCodaWords.MatchString(d.Text)
			n.fine = n.fine || !fine && fineWords.MatchString(d.Text)
		}
	}
}

// codas tells the coda sign that is left from the one that is gone to, where
// the file does not: of several signs the last is gone to.
func (o *order) codas() {
	last, told := -1, false
	for i, n := range o.signs {
		told = told || n.toCoda
		if n.coda && !n.toCoda {
			last = i
		}
	}
	for i := range o.signs {
		n := &o.signs[i]
		if n.coda && i != last {
			n.coda = false
			n.toCoda = n.toCoda || !told
		}
	}
}

// step plays or skips one measure and finds the next.
func (o *order) step() {
	n := &o.signs[o.at]
	if n.repeatStart && o.at != o.start {
		o.start, o.pass = o.at, 1
	}
	if n.ending != nil && !slices.Contains(n.ending, o.endingTaken(n)) {
		o.at++
		o.leaveEndings()
		return
	}
	o.played = append(o.played, o.at)
	switch {
	case n.repeatEnd && !o.jumped && o.pass < n.passes():
		o.pass++
		o.at = o.start
		return
	case n.fine && o.jumped:
		o.at = len(o.signs)
		return
	case n.toCoda && o.jumped:
		if to := o.find(func(n signs) bool { return n.coda }, o.at+1); to >= 0 {
			o.at, o.start, o.pass = to, to, 1
			return
		}
	case (n.daCapo || n.dalSegno) && !o.used[o.at]:
		to := 0
		if n.dalSegno {
			to = max(0, o.find(func(n signs) bool { return n.segno }, 0))
		}
		o.used[o.at], o.jumped = true, true
		o.at, o.start, o.pass = to, to, 1
		return
	}
	if n.repeatEnd && n.ending == nil {
		o.start, o.pass = o.at+1, 1
	}
	o.at++
	o.leaveEndings()
}

// passes is how often a section is played: twice or as the repeat says, and
// once for each of its endings.
func (n *signs) passes() int { return max(n.times, n.lastEnding) }

// endingTaken is the number of the ending that is played now.
func (o *order) endingTaken(n *signs) int {
	if o.jumped {
		return n.passes()
	}
	return o.pass
}

// leaveEndings begins a new section behind the last of several endings.
func (o *order) leaveEndings() {
	if o.at < len(o.signs) && o.at > 0 && o.signs[o.at-1].ending != nil && o.signs[o.at].ending == nil {
		o.start, o.pass = o.at, 1
	}
}

// find is the first measure from there on that fits, -1 if there is none.
func (o *order) find(fits func(signs) bool, from int) int {
	for i := from; i < len(o.signs); i++ {
		if fits(o.signs[i]) {
			return i
		}
	}
	return -1
}
