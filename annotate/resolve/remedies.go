package resolve

import (
	"fmt"
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry"
)

// mostRemedies is how many remedies of one kind are told.
const mostRemedies = 2

// compassRemedies are the ways out for notes that are not on the keyboard:
// those that keep the sounding pitch first (another octave with stops of
// another length, another keyboard, another player), then those that alter
// it, which say so. Each has been tried on the organ.
func (r *resolver) compassRemedies(s *Setting, line *Line, ph *phrase, run []passage.Pressed) []Remedy {
	out := r.sameByOtherStops(s, line, ph)
	out = append(out, r.sameByOtherStopsUnnamed(line, ph)...)
	out = append(out, r.sameByOtherPlayer(s, line, run)...)
	return append(out, otherwise(line, ph, run)...)
}

// sameByOtherStops are the keyboards and octaves in which the phrase sounds at
// the pitches that are asked for, with what the organ has.
func (r *resolver) sameByOtherStops(s *Setting, line *Line, ph *phrase) []Remedy {
	if len(line.Part.Asked.Voices) == 0 || line.By != line.Asked.Line {
		return nil
	}
	asked, known := askedRatios(s.Passage, line.Asked.Division)
	if !known {
		return nil
	}
	keys := ph.keys(s.Passage.Span)
	var out []Remedy
	said := map[string]bool{}
	for _, o := range r.elsewhere(s, line) {
		if len(out) == mostRemedies {
			break
		}
		if !allOn(o.Host.Keyboard, keys, o.Octave) {
			continue
		}
		set, l := r.instead(s, line, o)
		if set == nil {
			continue
		}
		same := true
		for _, k := range keys {
			same = same && sameRatios(asked, givenRatios(l, k.key))
		}
		text := r.wayText(o)
		if !same || said[text] {
			continue
		}
		said[text] = true
		out = append(out, Remedy{
			Text:     fmt.Sprintf("With %s the phrase from measure %s sounds as asked.", text, ph.notes[0].Note.Measure.Number),
			Keyboard: o.Host.Keyboard, Octave: o.Octave, Sounds: l.Sounds,
		})
	}
	return out
}

// elsewhere are the ways of giving what a line is asked for in another octave
// or from another keyboard, cheapest first, whatever the line is for.
func (r *resolver) elsewhere(s *Setting, line *Line) []*Part {
	key := fixedKey{s.Passage, line.Asked.Division}
	if known, ok := r.others[key]; ok {
		return known
	}
	k := *r.askOf(s.Passage, line.Part.Asked)
	k.struck = nil
	k.anyOctave = true
	parts, _ := r.options(&k, slackWide, nil)
	var out []*Part
	for _, o := range parts {
		if o.Host.Keyboard == line.Keyboard && o.Octave == line.Octave ||
			slices.ContainsFunc(o.Picks, func(x Pick) bool { return x.lost() || x.Joined != nil || isGroupWord(x.Voice) }) {
			continue
		}
		out = append(out, o)
	}
	r.others[key] = out
	return out
}

func allOn(kb *registry.Keyboard, keys []struck, octave int) bool {
	return !slices.ContainsFunc(keys, func(k struck) bool { return !kb.Compass.Has(k.key + registry.Key(12*octave)) })
}

// instead is the setting with another part for a line, nil where the other
// lines are in the way.
func (r *resolver) instead(s *Setting, line *Line, o *Part) (*Setting, *Line) {
	if slices.ContainsFunc(s.Parts, func(q *Part) bool { return q.By != "" }) {
		return nil, nil
	}
	var parts []*Part
	for _, q := range s.Parts {
		if q == line.Part {
			parts = append(parts, o)
			continue
		}
		if q.Host == o.Host && q.played {
			return nil, nil
		}
		parts = append(parts, q)
	}
	for i, q := range parts {
		if _, ok := beside(s.Passage, parts[:i], q); !ok {
			return nil, nil
		}
	}
	if _, ok := r.shared(parts, nil); !ok || !joinedRightly(parts) {
		return nil, nil
	}
	set := r.console(s.Passage, parts)
	for _, l := range set.Lines {
		if l.Asked == line.Asked {
			return set, l
		}
	}
	return nil, nil
}

// sameByOtherStopsUnnamed is for a line whose stops the score does not name:
// an octave away, with stops an octave the other way.
func (r *resolver) sameByOtherStopsUnnamed(line *Line, ph *phrase) []Remedy {
	if len(line.Part.Asked.Voices) > 0 {
		return nil
	}
	keys := ph.keys(ph.span())
	for _, octave := range []int{-1, 1} {
		if !allOn(line.Keyboard, keys, line.Octave+octave) {
			continue
		}
		lengths := "half as long (8′ for 16′, 4′ for 8′)"
		if octave > 0 {
			lengths = "twice as long (16′ for 8′, 8′ for 4′)"
		}
		return []Remedy{{
			Text:     fmt.Sprintf("Play the phrase from measure %s %s %s with stops %s; it sounds as printed.", ph.notes[0].Note.Measure.Number, octaves(octave), upOrDown(octave), lengths),
			Keyboard: line.Keyboard, Octave: line.Octave + octave,
		}}
	}
	return nil
}

// sameByOtherPlayer offers the notes to another player who rests while they
// sound, on a keyboard that has them: one that sounds the same, or on which
// the same pitches can be drawn.
func (r *resolver) sameByOtherPlayer(s *Setting, line *Line, run []passage.Pressed) []Remedy {
	var out []Remedy
	keys := struckKeys([]*passage.Played{{Notes: run}}, s.Passage.Span)
	layout := r.layout
	for _, player := range []passage.Line{passage.LH, passage.RH, passage.Feet} {
		if slices.Contains(playersIn(line.By), player) || layout == nil || layout.Of(player) == nil && player != passage.Feet {
			continue
		}
		if player == passage.Feet {
			if why, _ := notForFeet(run, r.twoVoices); why != "" {
				continue
			}
		}
		if plays(layout, player, run) {
			continue
		}
		for _, kb := range r.keyboardsOf(player) {
			if kb == line.Keyboard || !allOn(kb, keys, 0) {
				continue
			}
			if remedy, ok := r.soundsSame(s, line, kb, keys); ok {
				remedy.Text = fmt.Sprintf("The %s, which %s there, can take %s on the %s, where %s.", playerName(player), rests(player), notesOf(run), keyboardWord(kb), remedy.Text)
				out = append(out, remedy)
				break
			}
		}
		if len(out) == mostRemedies {
			break
		}
	}
	return out
}

// soundsSame reports whether a keyboard sounds for some keys what a line
// sounds, as the console is set or with what can be drawn there. Where the
// score names no stops, any keyboard may do.
func (r *resolver) soundsSame(s *Setting, line *Line, kb *registry.Keyboard, keys []struck) (Remedy, bool) {
	asked, known := askedRatios(s.Passage, line.Asked.Division)
	if len(line.Part.Asked.Voices) == 0 {
		return Remedy{Text: "stops at the same pitches are to be drawn", Keyboard: kb}, true
	}
	if !known {
		return Remedy{}, false
	}
	now := &Line{Keyboard: kb, Sounds: r.organ.Sounding(s.Drawn, kb)}
	same := true
	for _, k := range keys {
		same = same && sameRatios(asked, givenRatios(now, k.key))
	}
	if same {
		return Remedy{Text: "they sound the same", Keyboard: kb, Sounds: now.Sounds}, true
	}
	for _, other := range s.Lines {
		if other.Keyboard == kb {
			return Remedy{}, false // it has stops of its own drawn
		}
	}
	return Remedy{}, false
}

// keyboardsOf are the keyboards that a player can play.
func (r *resolver) keyboardsOf(player passage.Line) []*registry.Keyboard {
	if player == passage.Feet {
		if r.organ.Pedalboard == nil {
			return nil
		}
		return []*registry.Keyboard{r.organ.Pedalboard}
	}
	return r.organ.Keyboards
}

// plays reports whether a player has notes while others sound.
func plays(l *passage.Layout, player passage.Line, during []passage.Pressed) bool {
	span := passage.Span{Start: during[0].Note.Onset}
	for _, n := range during {
		if e := n.Note.End(); span.End.Less(e) {
			span.End = e
		}
	}
	return len(l.NotesOf(player, span)) > 0
}

// otherwise are the remedies that alter the sound.
func otherwise(line *Line, ph *phrase, run []passage.Pressed) []Remedy {
	span := ph.span()
	keys := ph.keys(span)
	only := struckKeys([]*passage.Played{{Notes: run}}, span)
	for _, octave := range []int{-1, 1} {
		if allOn(line.Keyboard, keys, line.Octave+octave) {
			return []Remedy{{
				Text:     fmt.Sprintf("Play the phrase from measure %s %s %s with the same stops: this alters the pitch.", ph.notes[0].Note.Measure.Number, octaves(octave), upOrDown(octave)),
				Keyboard: line.Keyboard, Octave: line.Octave + octave, Sounds: line.Sounds,
			}}
		}
	}
	for _, octave := range []int{-1, 1} {
		if allOn(line.Keyboard, only, line.Octave+octave) {
			return []Remedy{{
				Text:     fmt.Sprintf("Play only %s %s %s: this alters the tune.", notesOf(run), octaves(octave), upOrDown(octave)),
				Keyboard: line.Keyboard, Octave: line.Octave + octave, Sounds: line.Sounds,
			}}
		}
	}
	return []Remedy{{
		Text:     fmt.Sprintf("Leave out %s: this alters the music.", notesOf(run)),
		Keyboard: line.Keyboard, Octave: line.Octave, Sounds: line.Sounds,
	}}
}

func playersIn(line passage.Line) []passage.Line {
	if line == passage.Both {
		return []passage.Line{passage.RH, passage.LH}
	}
	return []passage.Line{line}
}

func playerName(line passage.Line) string {
	if line == passage.Feet {
		return "feet"
	}
	return handName(line)
}

func rests(line passage.Line) string {
	if line == passage.Feet {
		return "rest"
	}
	return "rests"
}

func notesOf(run []passage.Pressed) string {
	if len(run) == 1 {
		return "this note"
	}
	return "these notes"
}

func keyboardWord(kb *registry.Keyboard) string {
	if kb.Pedal {
		return "pedalboard"
	}
	return kb.Name
}
