package sound

import (
	"math"
	"testing"
)

func TestMoments(t *testing.T) {
	// Two chords, one struck twice and held three times as long in all; a rest
	// and a note without length do not count.
	notes := []Note{{60, 0, 1}, {64, 0, 1}, {62, 1, 2}, {65, 1, 2}, {60, 3, 5}, {64, 3, 5}, {90, 5, 5}}
	p := NewPassage(notes)
	if len(p.moments) != 2 {
		t.Fatalf("%d moments, want 2", len(p.moments))
	}
	if a, b := p.moments[0].time, p.moments[1].time; math.Abs(a-0.75) > 1e-12 || math.Abs(b-0.25) > 1e-12 {
		t.Errorf("their times are %v and %v, want ¾ and ¼", a, b)
	}
	if got := len(p.moments[0].keys[0]); got != 2 {
		t.Errorf("%d keys in the first, want 2", got)
	}
}

func TestManyChordsAreHeardAsFew(t *testing.T) {
	var notes []Note
	for i := range 100 {
		notes = append(notes, Note{40 + i%50, float64(i), float64(i + 1)})
	}
	p := NewPassage(notes)
	if len(p.moments) != MaxMoments {
		t.Fatalf("%d moments, want %d", len(p.moments), MaxMoments)
	}
	held := 0.0
	for _, m := range p.moments {
		if math.Abs(m.time-1.0/MaxMoments) > 0.05 {
			t.Errorf("a moment is %v of the time", m.time)
		}
		for _, k := range m.keys[0] {
			held += m.time * k.part
		}
	}
	if math.Abs(held-1) > 1e-9 {
		t.Errorf("%v keys are held in the mean, want 1", held)
	}
}

// TestRestsDoNotSoften: a line that rests half the time is as loud as it is
// while it plays.
func TestRestsDoNotSoften(t *testing.T) {
	solo := []Note{{72, 0, 1}}
	other := []Note{{48, 0, 2}}
	d := Drawn{Stop: Of(openDiapason, Options{})}
	alone := Hear([]Drawn{d}, solo)
	p := NewPassage(solo, other)
	s := p.Sound(0, d)
	if got := s.Heard(); math.Abs(got.Sones-alone.Sones) > 1e-9 {
		t.Errorf("%v sone, alone %v", got.Sones, alone.Sones)
	}
}

func TestChordIsLouderThanItsNotesInTurn(t *testing.T) {
	d := drawn(openDiapason)
	chord := Hear(d, []Note{{60, 0, 3}, {64, 0, 3}, {67, 0, 3}})
	turn := Hear(d, []Note{{60, 0, 1}, {64, 1, 2}, {67, 2, 3}})
	if chord.Phon < turn.Phon+5 {
		t.Errorf("the chord has %.1f phon, its notes in turn %.1f", chord.Phon, turn.Phon)
	}
}

func TestSilence(t *testing.T) {
	for name, h := range map[string]Heard{
		"no notes":       Hear(drawn(openDiapason), nil),
		"no stops":       Hear(nil, fourParts),
		"out of hearing": Hear(drawn(openDiapason), []Note{{500, 0, 1}, {-3, 0, 1}}),
	} {
		if h.Sones != 0 || h.Brightness != 0 {
			t.Errorf("%s: %+v", name, h)
		}
	}
	p := NewPassage(fourParts, nil)
	if got := StandsOut(p.Sound(1, Drawn{Stop: Of(tuba, Options{})}), p.Line(0)); got.DB != quietestProminence || got.Time != 0 {
		t.Errorf("a line without notes stands out: %+v", got)
	}
	if got := p.Sound(7, Drawn{Stop: Of(tuba, Options{})}); got.Heard().Sones != 0 {
		t.Error("a line that the passage does not have sounds")
	}
}
