package resolve

import "stopgap/annotate/passage"

// A long crescendo is a sequence that never grows softer: where the score takes
// nothing away from what the hands have, whatever sounded for them goes on
// sounding.

// growsInto reports whether all that the hands are to sound in one passage is
// asked for in the next as well.
func growsInto(a, b *passage.Passage) bool {
	before, after := heardByHands(a), heardByHands(b)
	for voice := range before {
		if !after[voice] {
			return false
		}
	}
	return len(before) > 0
}

// askedVoice is a voice of a division of the score, in its normal form.
type askedVoice struct {
	division passage.Division
	voice    string
}

// heardByHands is what the score wants to sound from where the hands play.
func heardByHands(p *passage.Passage) map[askedVoice]bool {
	out := map[askedVoice]bool{}
	for _, line := range p.Lines {
		if line.Line == passage.Feet {
			continue
		}
		for d := range coupledTo(p, line.Division) {
			if a := p.Asked(d); a != nil {
				for _, v := range a.Voices {
					out[askedVoice{d, v.String()}] = true
				}
			}
		}
	}
	return out
}

// heard are the stops that sound for the hands in a trial.
func (t *trial) heard() knobs {
	if t.sounding == nil {
		t.sounding = t.desk.r.board.empty()
		if t.under == nil {
			t.under = t.desk.r.board.under(t.knobs)
		}
		for _, l := range t.desk.lines {
			if l.played.Line == passage.Feet || l.part < 0 || t.parts[l.part].Host == nil {
				continue
			}
			for _, x := range t.under.from(t.parts[l.part].Host.Keyboard) {
				if t.knobs.has(x.stop) {
					t.sounding.draw(x.stop)
				}
			}
		}
	}
	return t.sounding
}
