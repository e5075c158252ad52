package resolve

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
)

// What feet can do, in semitones and notes. Two feet take two notes at once
// (a double pedal); how far apart, how far one foot's next key may be and how
// fast it comes are common practice, from memory: double pedals are written up
// to about two octaves apart, the legs of few players reach farther.
const (
	feetAtOnce = 2
	feetReach  = 24
)

// Of a part that was written for a hand, the feet take less: one voice, or two
// within an octave if the player allows it, leaps of an octave at most, and no
// note shorter than this many thousandths of a second (common practice, from
// memory).
const (
	feetLeap       = 12
	feetSwift      = 220
	feetTwoWithin  = 12
	usualPerMinute = 72 // quarter notes, where the score gives no tempo
)

// A hand reaches a ninth, and on one manual below the other it crosses the
// other hand by an octave at most (common practice, from memory).
const (
	handSpan  = 14
	crossSpan = 12
)

// moments goes through the notes that sound together, at each moment at which
// a key goes down. Grace notes are passed over. The notes are in time order.
func moments(notes []passage.Pressed, visit func(at []passage.Pressed)) {
	var sounding []passage.Pressed
	for i := 0; i < len(notes); {
		t := notes[i].Note.Onset
		sounding = slices.DeleteFunc(sounding, func(n passage.Pressed) bool { return !t.Less(n.Note.End()) })
		struck := false
		for ; i < len(notes) && notes[i].Note.Onset == t; i++ {
			if notes[i].Note.Grace {
				continue
			}
			// A key that another voice holds already is one key.
			if !slices.ContainsFunc(sounding, func(n passage.Pressed) bool { return n.Key == notes[i].Key }) {
				sounding = append(sounding, notes[i])
			}
			struck = struck || notes[i].Note == notes[i].Struck
		}
		if struck {
			visit(sounding)
		}
	}
}

// span is how many semitones notes are apart.
func span(notes []passage.Pressed) int {
	low, high := notes[0].Key, notes[0].Key
	for _, n := range notes {
		low, high = min(low, n.Key), max(high, n.Key)
	}
	return int(high - low)
}

// Codes of what feet cannot do.
const (
	ManyPedals = "feet-many-notes" // more than two notes for the feet at once
	WidePedals = "feet-wide"       // a double pedal wider than feet reach
)

// feet reports what the feet cannot play: more than two notes at once, or two
// that are too far apart. Once for each stretch of measures.
func (r *resolver) feet(s *Setting, line *Line) {
	if line.By != passage.Feet || line.Keyboard == nil {
		return
	}
	type run struct {
		code        string
		first, last passage.Pressed
		most        []passage.Pressed
	}
	var runs []*run
	last := map[string]*run{}
	moments(line.Asked.Notes, func(at []passage.Pressed) {
		code := ""
		switch {
		case len(at) > feetAtOnce:
			code = ManyPedals
		case span(at) > feetReach:
			code = WidePedals
		default:
			return
		}
		newest := at[len(at)-1]
		if !newest.StruckIn(s.Passage.Span) {
			return
		}
		now := last[code]
		if now == nil || newest.Note.Measure.Index > now.last.Note.Measure.Index+1 {
			now = &run{code: code, first: newest}
			last[code] = now
			runs = append(runs, now)
		}
		now.last = newest
		if len(now.most) == 0 || len(at) > len(now.most) || len(at) == len(now.most) && span(at) > span(now.most) {
			now.most = slices.Clone(at)
		}
	})
	for _, x := range runs {
		p := Problem{Code: x.code, Line: line.Asked.Line, First: &x.first, From: spanOf(x.first), To: spanOf(x.last)}
		slices.SortFunc(x.most, func(a, b passage.Pressed) int { return int(a.Key - b.Key) })
		upper := x.most[len(x.most)-1]
		names, to := keyNames(x.most), ""
		if last := x.last.Note.Measure; last != x.first.Note.Measure {
			to = ", to measure " + last.Number
		}
		if x.code == ManyPedals {
			p.Text = fmt.Sprintf("The feet have %d notes at once (%s)%s, and two feet play two.", len(x.most), names, to)
		} else {
			p.Text = fmt.Sprintf("%s%s are %d semitones apart, farther than two feet reach (two octaves).", names, to, span(x.most))
		}
		p.Remedies = r.upperByHand(s, line, upper)
		s.Problems = append(s.Problems, p)
	}
}

// upperByHand offers the highest pedal note to a hand, where a hand's keyboard
// sounds what the feet's does or could, and else to leave it out.
func (r *resolver) upperByHand(s *Setting, line *Line, upper passage.Pressed) []Remedy {
	var out []Remedy
	for _, other := range s.Lines {
		if other.By == passage.Feet || other.Keyboard == nil || !other.Keyboard.Compass.Has(upper.Key) || !sameRatios(givenRatios(line, upper.Key), givenRatios(other, upper.Key)) {
			continue
		}
		out = append(out, Remedy{
			Text:     fmt.Sprintf("A hand takes the highest note on the %s, where it sounds the same.", other.Keyboard.Name),
			Keyboard: other.Keyboard, Octave: other.Octave, Sounds: other.Sounds,
		})
		break
	}
	return append(out, Remedy{Text: "Leave out the highest note, or whichever the hands have as well: this alters the sound.", Keyboard: line.Keyboard, Octave: line.Octave, Sounds: line.Sounds})
}

func spanOf(n passage.Pressed) passage.Span {
	return passage.Span{Start: n.Note.Onset, End: n.Note.End()}
}

// keyNames lists the keys of notes, each once, from the lowest up.
func keyNames(notes []passage.Pressed) string {
	var names []string
	for _, n := range notes {
		if name := n.Key.String(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// notForFeet is why feet cannot take notes that were written for a hand, at
// the first of them that will not do; "" where they can.
func notForFeet(notes []passage.Pressed, two bool) (why string, first passage.Pressed) {
	var before []passage.Pressed
	perMinute := tempoOver(notes)
	moments(notes, func(at []passage.Pressed) {
		if why != "" {
			return
		}
		newest := at[len(at)-1]
		switch {
		case len(at) > feetAtOnce, len(at) == feetAtOnce && !two:
			why = "there is more than one voice"
		case span(at) > feetTwoWithin:
			why = "two notes are farther apart than an octave"
		case before != nil && len(at) == 1 && len(before) == 1 && leap(at[0], before[0]) > feetLeap:
			why = "it leaps by more than an octave"
		case before != nil && newest.Note.Onset.Sub(before[len(before)-1].Note.Onset).Float64()*60000/perMinute < feetSwift:
			why = "it goes too fast"
		}
		first, before = newest, slices.Clone(at)
	})
	return why, first
}

func leap(a, b passage.Pressed) int { return int(max(a.Key-b.Key, b.Key-a.Key)) }

// tempoOver is the fastest tempo during the notes, in quarter notes a minute.
func tempoOver(notes []passage.Pressed) float64 {
	if len(notes) == 0 {
		return usualPerMinute
	}
	start, end := notes[0].Note.Onset, notes[len(notes)-1].Note.Onset
	fastest, before := 0.0, 0.0
	var since musicxml.Time
	for _, p := range notes[0].Staff.Part.Score.Parts {
		i := sort.Search(len(p.Tempos), func(i int) bool { return start.Less(p.Tempos[i].Time) })
		if i > 0 {
			if t := p.Tempos[i-1]; before == 0 || !t.Time.Less(since) {
				before, since = t.Quarter, t.Time
			}
		}
		for ; i < len(p.Tempos) && p.Tempos[i].Time.Less(end); i++ {
			fastest = max(fastest, p.Tempos[i].Quarter)
		}
	}
	if fastest = max(fastest, before); fastest == 0 {
		return usualPerMinute
	}
	return fastest
}

// fitsHand reports whether one hand can hold what the feet had.
func fitsHand(notes []passage.Pressed) bool {
	ok := true
	moments(notes, func(at []passage.Pressed) { ok = ok && span(at) <= handSpan })
	return ok
}

// crosses reports whether a hand that plays some notes so many octaves away
// crosses the other hand by more than it reaches.
func crosses(hand passage.Line, notes []passage.Pressed, octave int, other []passage.Pressed) bool {
	j := 0
	for _, n := range notes {
		for j < len(other) && !n.Note.Onset.Less(other[j].Note.End()) {
			j++
		}
		key := n.Key + registry.Key(12*octave)
		for _, o := range other[j:] {
			if !o.Note.Onset.Less(n.Note.End()) {
				break
			}
			if !n.Note.Onset.Less(o.Note.End()) || o.Note.Grace || n.Note.Grace {
				continue
			}
			if hand == passage.LH && key-o.Key > crossSpan || hand == passage.RH && o.Key-key > crossSpan {
				return true
			}
		}
	}
	return false
}
