package resolve

import (
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/sound"
)

// standsOut is by how many decibels a solo has to be above what masks it.
const standsOut = 6

// A hearing is what has been heard of the lines of a passage. Each stop is
// computed once for each line, octave and box, and each registration of a line
// once.
type hearing struct {
	stops map[heardStop]sound.Sound
	lines map[string]sound.Sound

	maskings map[string]*sound.Masking // by what sounds beside a solo
}

type heardStop struct {
	line   int
	stop   *registry.Stop
	octave int
	box    sound.Box
}

// drowned adds what it costs that a solo does not stand out from the rest.
// Where everything is given as it is printed, the balance is the composer's.
func (d *desk) drowned(t *trial) {
	if d.asPrinted(t) {
		return
	}
	var keys []string
	solo, sounding := false, 0
	for i := range d.lines {
		key := d.soundKey(t, i)
		keys = append(keys, key)
		if key != "" {
			sounding++
			solo = solo || d.lines[i].played.Role == passage.Solo
		}
	}
	if !solo || sounding < 2 {
		return
	}
	if d.drownings == nil {
		d.drownings = map[string]int{}
		d.r.drownings = kept(d.r.drownings, d, drowningsKept, func(old *desk) { old.drownings, old.audible = nil, nil })
	}
	for i, key := range keys {
		if key == "" || d.lines[i].played.Role != passage.Solo {
			continue
		}
		rest := ""
		for q, other := range keys {
			if q != i {
				rest += "|" + other
			}
		}
		cost, ok := d.drownings[key+rest]
		if !ok {
			cost = costOfDrowning(d.masking(t, keys, i, rest).StandsOut(d.sum(t, i, key)))
			d.drownings[key+rest] = cost
		}
		t.cost += cost
	}
}

// masking is what all lines but a solo hide of it; rest is what their keys are
// together.
func (d *desk) masking(t *trial, keys []string, solo int, rest string) *sound.Masking {
	h := d.hear()
	known, ok := h.maskings[rest]
	if !ok {
		sum := d.audible.Line(-1)
		for q, key := range keys {
			if q != solo && key != "" {
				sum.Add(d.sum(t, q, key))
			}
		}
		known = sound.NewMasking(sum)
		if len(h.maskings) >= mostMaskings {
			clear(h.maskings)
		}
		h.maskings[rest] = known
	}
	return known
}

// asPrinted reports whether all parts are given just as they are asked for.
func (d *desk) asPrinted(t *trial) bool {
	for i, p := range t.parts {
		if !t.drawn[i] || p.Changes() || d.r.moved(p) {
			return false
		}
	}
	return true
}

func costOfDrowning(p sound.Prominence) int {
	short := standsOut*10 - sound.Tenths(p.DB)
	return max(0, min(costDrowned*short/10, costDrowned*20))
}

func (d *desk) hear() *hearing {
	if d.audible == nil {
		var notes [][]sound.Note
		for _, line := range d.lines {
			notes = append(notes, soundNotes(line.played.Notes, 0))
		}
		d.audible = sound.NewPassage(notes...)
	}
	if d.hearing == nil {
		d.hearing = &hearing{
			stops: map[heardStop]sound.Sound{}, lines: map[string]sound.Sound{}, maskings: map[string]*sound.Masking{},
		}
		d.r.hearings = kept(d.r.hearings, d, hearingsKept, func(old *desk) { old.hearing = nil })
	}
	return d.hearing
}

// Of how many passages it is kept what has been heard, and of how many it is
// known how far their solos stand out: a score has thousands, and is gone
// through in order. The limits of what is kept are variables for the tests alone.
var (
	hearingsKept  = 16
	drowningsKept = 1000
	mostMaskings  = 500 // of one passage
)

// kept is a list of those of which something is kept with one more; of the one
// that came longest ago it is let go where that is too many.
func kept[T any](list []T, one T, most int, letGo func(T)) []T {
	list = append(list, one)
	if len(list) > most {
		letGo(list[0])
		list = list[1:]
	}
	return list
}

// soundKey is the same for registrations of a line that sound the same, and
// empty where it is silent.
func (d *desk) soundKey(t *trial, line int) string {
	l := &d.lines[line]
	if l.part < 0 || t.parts[l.part].Host == nil || len(l.played.Notes) == 0 {
		return ""
	}
	part := t.parts[l.part]
	var key []byte
	for _, x := range t.under.from(part.Host.Keyboard) {
		if t.knobs.has(x.stop) {
			key = append(key, byte(x.stop), byte(x.stop>>8), byte(x.sound.Octave+part.Octave+8))
			key = append(key, d.boxOf(t, x.sound.Stop.Division)...)
		}
	}
	if key == nil {
		return ""
	}
	return string(append(key, byte(line)))
}

// boxOf is where the box of a division stands, "" where nothing is said of it.
func (d *desk) boxOf(t *trial, on *registry.Division) string {
	box := ""
	for i, p := range t.parts {
		if t.drawn[i] && p.Host == on && p.Asked.Box != "" && on.Enclosed {
			box = p.Asked.Box
		}
	}
	return box
}

// sum is what a line sounds like in a trial.
func (d *desk) sum(t *trial, line int, key string) sound.Sound {
	h := d.hear()
	if known, ok := h.lines[key]; ok {
		return known
	}
	part := t.parts[d.lines[line].part]
	out := d.audible.Line(line)
	for _, x := range t.under.from(part.Host.Keyboard) {
		if !t.knobs.has(x.stop) {
			continue
		}
		drawn := d.r.inBox(x.sound, d.boxOf(t, x.sound.Stop.Division))
		drawn.Octave += part.Octave
		k := heardStop{line, x.sound.Stop, drawn.Octave, drawn.Box}
		one, ok := h.stops[k]
		if !ok {
			one = d.audible.Sound(line, drawn)
			h.stops[k] = one
		}
		out.Add(one)
	}
	h.lines[key] = out
	return out
}
