package resolve

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

var (
	feet32, feet16, feet8   = pitch.Foot(32), pitch.Foot(16), pitch.Foot(8)
	feet4, feet2, feet2and2 = pitch.Foot(4), pitch.Foot(2), pitch.FeetOf(8, 3)
	feet1and3               = pitch.FeetOf(8, 5)
)

// isGroupWord reports whether a voice asks for several stops at once.
func isGroupWord(v direction.Voice) bool {
	switch v.Group {
	case direction.Foundation, direction.ChorusTo, direction.Plenum, direction.Grandjeu, direction.Full, direction.Tutti:
		return true
	case direction.Any:
		return v.Pitch.IsZero()
	}
	return v.Pitch.IsZero() || pluralFamily(v)
}

// pluralFamily reports whether the name is a family word for all its stops at
// that pitch ("Fonds", "Anches", "Diapasons").
func pluralFamily(v direction.Voice) bool {
	switch strings.ToLower(strings.TrimRight(v.Name, ".")) {
	case "diaps", "diapasons", "diap'ns", "celestes", "strings", "flutes":
		return true
	}
	return v.Group == direction.Celeste
}

// isFamilyWord reports whether a name says no more than the family.
func isFamilyWord(name string) bool {
	switch strings.ToLower(strings.TrimRight(name, ".")) {
	case "flute", "flutes", "fl", "flûte", "flûtes", "flöte", "flöten", "flauto", "fluit", "flauta",
		"reed", "reeds", "rds", "anche", "anches", "zungen", "tongwerken", "ance",
		"string", "strings", "principal", "principals", "diap", "diapason", "diaps",
		"mixture", "mixtures", "mixtur", "mixturen", "celeste", "celestes", "gambe", "gamba", "streicher":
		return true
	}
	return false
}

// chooseGroup draws what a group word means on the host division.
func (r reach) chooseGroup(w wanted) (Pick, int) {
	stops, lacking, note := expand(w, r.host)
	pick := Pick{Voice: w.voice, Note: note, Same: note == "" && r.octave == 0}
	for _, s := range stops {
		pick.Stops = append(pick.Stops, Chosen{Stop: s})
	}
	if len(stops) == 0 {
		pick.Missing = true
		pick.Same = false
		pick.Note = fmt.Sprintf("the %s has nothing for %q", r.host.Name, w.called())
		return pick, missingCost(w) + costFamilyFar
	}
	return pick, lacking
}

// expand lists the stops of a division that a group word draws, in the order
// of the knobs, what their lack costs, and a sentence where something that
// the word stands for is not there.
func expand(w wanted, d *registry.Division) (stops []*registry.Stop, lacking int, note string) {
	v := w.voice
	take := func(test func(*registry.Stop) bool) int {
		n := 0
		for _, s := range d.Stops {
			if s.Use == "never in chorus" || s.Use == "solo" || excepted(v, s) {
				continue
			}
			if test(s) {
				stops, n = append(stops, s), n+1
			}
		}
		return n
	}
	at := func(p pitch.Feet) func(*registry.Stop) bool {
		return func(s *registry.Stop) bool { return s.Pitch == p }
	}
	family := func(p pitch.Feet, families ...stopname.Family) func(*registry.Stop) bool {
		return func(s *registry.Stop) bool {
			for _, f := range families {
				if s.Known.Family == f && (p.IsZero() || s.Pitch == p) {
					return true
				}
			}
			return false
		}
	}
	lack := func(cost int, format string, args ...any) {
		lacking += cost
		if note == "" {
			note = fmt.Sprintf(format, args...)
		}
	}
	ground := feet8
	if w.pedal {
		ground = feet16
	}
	switch v.Group {
	case direction.Foundation:
		pitches := []pitch.Feet{v.Pitch}
		if v.Pitch.IsZero() {
			pitches = []pitch.Feet{feet8, feet4}
			if w.pedal {
				pitches = []pitch.Feet{feet16, feet8}
			}
		}
		for i, p := range pitches {
			soft := v.Strength == "soft"
			n := take(func(s *registry.Stop) bool {
				return family(p, stopname.Principal, stopname.Flute, stopname.String)(s) && (!soft || s.Known.Loudness <= 3)
			})
			if n == 0 && (i == 0 || !v.Pitch.IsZero()) {
				lack(missingCost(wanted{pitch: p, role: w.role, pedal: w.pedal}), "the %s has no flue stop at %s", d.Name, feetText(p))
			}
		}
	case direction.ChorusTo, direction.Plenum:
		top := v.Pitch
		if v.Group == direction.Plenum {
			top = feet2
		}
		for _, p := range []pitch.Feet{feet16, feet8, feet4, feet2and2, feet2} {
			if p.Cmp(top) < 0 || p == feet16 && !w.pedal {
				continue
			}
			if take(family(p, stopname.Principal)) == 0 && take(family(p, stopname.Flute)) == 0 && p != feet2and2 {
				lack(missingCost(wanted{pitch: p, role: w.role, pedal: w.pedal}), "the %s has no chorus stop at %s", d.Name, feetText(p))
			}
		}
		if v.Group == direction.Plenum && take(family(pitch.Feet{}, stopname.Mixture)) == 0 {
			lack(costMissingMutation, "the %s has no mixture", d.Name)
		}
	case direction.Grandjeu:
		if take(func(s *registry.Stop) bool { return chorusReed(s) && s.Pitch.Cmp(feet8) <= 0 }) == 0 {
			lack(costFamilyFar, "the %s has no chorus reeds", d.Name)
		}
		take(family(pitch.Feet{}, stopname.Cornet))
		take(family(feet4, stopname.Principal))
	case direction.Full, direction.Tutti:
		take(func(s *registry.Stop) bool {
			switch s.Known.Family {
			case stopname.Principal, stopname.Mixture:
				return true
			case stopname.Flute:
				return s.Known.Loudness >= 3 && !s.Pitch.IsMutation() || s.Pitch.Cmp(ground) >= 0
			case stopname.Reed:
				return chorusReed(s)
			}
			return false
		})
		if !hasReed(stops) && d.Role != "" && !exceptsReeds(v) && !w.pedal {
			lack(costFamilyFar/2, "the %s has no chorus reeds, so the reed colour is missing", d.Name)
		}
	case direction.Reed:
		p := v.Pitch
		if take(func(s *registry.Stop) bool { return chorusReed(s) && (p.IsZero() || s.Pitch == p) }) == 0 {
			if take(func(s *registry.Stop) bool {
				return s.Known.Family == stopname.Reed && !soloOnly(s) && (p.IsZero() || s.Pitch == p)
			}) == 0 {
				lack(costFamilyFar, "the %s has no chorus reeds", d.Name)
			}
		}
	case direction.Celeste:
		if take(family(v.Pitch, stopname.Celeste)) > 0 {
			stops = append(withPartner(stops[0], d), stops...)
		} else if take(family(feet8, stopname.String)) > 0 {
			stops = stops[:1]
			lack(costFamilyNear, "the %s has no celeste; %s alone does not beat", d.Name, stops[0].Text)
		} else {
			lack(costFamilyFar, "the %s has neither celeste nor string", d.Name)
		}
	case direction.Any:
		take(func(s *registry.Stop) bool {
			switch s.Known.Family {
			case stopname.Principal, stopname.Flute, stopname.String:
				return (s.Pitch == feet8 || s.Pitch == feet4 || s.Pitch == ground) && (v.Strength != "soft" || s.Known.Loudness <= 3)
			}
			return false
		})
	default:
		f, _ := stopname.ParseFamily(string(v.Group))
		p := v.Pitch
		if p.IsZero() && f != stopname.Mixture && f != stopname.Cornet {
			p = ground
		}
		if take(family(p, f)) == 0 {
			lack(missingCost(w), "the %s has no %s", d.Name, v.Group)
			if f == stopname.Principal || f == stopname.String {
				take(at(p))
			}
		}
		if pluralDiapasons(v) {
			take(func(s *registry.Stop) bool {
				return s.Pitch == feet8 && s.Known.Family == stopname.Flute && strings.Contains(s.Known.Subfamily, "stopped")
			})
		}
	}
	return stops, lacking, note
}

// pluralDiapasons: the old English "Diapasons" are the Open and the Stopped
// Diapason together (Grove, "Organ stop", Diapason).
func pluralDiapasons(v direction.Voice) bool {
	name := strings.ToLower(v.Name)
	return strings.HasPrefix(name, "diap") && (strings.HasSuffix(strings.TrimRight(name, "."), "s"))
}

// withPartner is the unison string that a celeste beats against.
func withPartner(celeste *registry.Stop, d *registry.Division) []*registry.Stop {
	for _, s := range d.Stops {
		if s.Known.Family == stopname.String && s.Pitch == celeste.Pitch {
			return []*registry.Stop{s}
		}
	}
	for _, s := range d.Stops {
		if s.Known.Family == stopname.Flute && s.Pitch == celeste.Pitch {
			return []*registry.Stop{s}
		}
	}
	return nil
}

func excepted(v direction.Voice, s *registry.Stop) bool {
	for _, g := range v.Except {
		if string(g) == s.Known.Family.String() {
			return true
		}
	}
	return false
}

func exceptsReeds(v direction.Voice) bool {
	for _, g := range v.Except {
		if g == direction.Reed {
			return true
		}
	}
	return false
}

func hasReed(stops []*registry.Stop) bool {
	for _, s := range stops {
		if s.Known.Family == stopname.Reed {
			return true
		}
	}
	return false
}

// soloOnly reports whether a reed is one of the solo colours that the word
// "Reeds" never draws: Clarinet, Vox humana, Tuba and their like.
func soloOnly(s *registry.Stop) bool { return s.Known.Solo && !s.Known.Chorus || s.Use == "solo" }

// compound makes up a Cornet or a Sesquialtera from single ranks.
func (r reach) compound(w wanted) (Pick, int, bool) {
	var parts []pitch.Feet
	switch {
	case w.family == stopname.Cornet && w.pitch == feet8:
		parts = []pitch.Feet{feet8, feet4, feet2and2, feet2, feet1and3}
	case w.family == stopname.Cornet && w.pitch == feet2and2:
		parts = []pitch.Feet{feet2and2, feet1and3}
	default:
		return Pick{}, 0, false
	}
	pick := Pick{Voice: w.voice, Note: fmt.Sprintf("the %s is made up from single ranks", w.called())}
	cost := 0
	for _, p := range parts {
		one, c := r.chooseOne(wanted{voice: direction.Voice{Group: direction.Flute, Pitch: p}, family: stopname.Flute, pitch: p, role: w.role}, nil)
		if one.Missing {
			return Pick{}, 0, false
		}
		pick.Stops = append(pick.Stops, one.Stops...)
		cost += c + costReinforced/2
	}
	return pick, cost, true
}
