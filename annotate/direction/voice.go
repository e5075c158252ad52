package direction

import (
	"strings"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

const (
	pitchItem  itemKind = iota // "8 & 4"
	stopItem                   // "Oboe 8"
	familyItem                 // "Fl. 8, 4"
	groupItem                  // "Tutti", "Plein jeu"
	fullItem                   // "Full"
	rangeItem                  // "to Fifteenth": the last lexeme says how far
	allItem                    // "tous les jeux"
)

// voices are what an item asks for on a division of the kind.
func (r *reader) voices(it item, pedal bool) []Voice {
	switch it.kind {
	case fullItem, allItem:
		return []Voice{{Group: Full, Strength: it.strength, Except: it.except}}
	case groupItem:
		return []Voice{{Group: it.group, Strength: it.strength, Except: it.except}}
	case rangeItem:
		v := Voice{Group: it.group, Except: it.except}
		if it.group == ChorusTo {
			v.Pitch = it.feet[0]
			if it.lexeme >= 0 {
				v.Name = r.rangeName(it.lexeme)
			}
		}
		return []Voice{v}
	case pitchItem:
		var voices []Voice
		for _, f := range it.feet {
			voices = append(voices, Voice{Group: Any, Pitch: pitch.Rounded(f, false), Strength: it.strength})
		}
		if len(voices) == 0 {
			voices = []Voice{{Group: Any, Strength: it.strength}}
		}
		return voices
	}
	v := Voice{Strength: it.strength, Except: it.except, Name: r.printed(it.lexeme)}
	if it.kind == familyItem {
		usual := r.value(it.lexeme, classFamily)
		family, usual, _ := strings.Cut(usual, " ")
		usual, _, _ = strings.Cut(usual, " single")
		v.Group = Group(family)
		if f, err := pitch.ParseFeet(usual); err == nil {
			v.Pitch = f
		}
		if usual == "?" {
			v.Pitch = r.known(it, pedal, pitch.Feet{}).Pitch
		}
		if len(it.feet) > 1 {
			v.Name = ""
		}
		if v.Group == Mixture {
			it.feet = nil
		}
		return spread(v, it.feet)
	}
	var voices []Voice
	for _, f := range append([]pitch.Feet{}, it.feet...) {
		k := r.known(it, pedal, f)
		voices = append(voices, Voice{Group: Group(k.Family.String()), Pitch: k.Pitch, Name: v.Name, Strength: v.Strength})
	}
	if len(voices) == 0 {
		k := r.known(it, pedal, pitch.Feet{})
		voices = []Voice{{Group: Group(k.Family.String()), Pitch: k.Pitch, Name: v.Name, Strength: v.Strength}}
	}
	for i := range voices {
		if voices[i].Group == Mixture {
			voices[i].Pitch = pitch.Feet{}
		}
		voices[i].Except = it.except
	}
	if voices[0].Group == Mixture {
		voices = voices[:1]
	}
	return voices
}

// spread gives a voice each of the pitches.
func spread(v Voice, feet []pitch.Feet) []Voice {
	if len(feet) == 0 {
		return []Voice{v}
	}
	voices := make([]Voice, len(feet))
	for i, f := range feet {
		voices[i] = v
		voices[i].Pitch = f
	}
	return voices
}

// known is what is known of a stop's name where it stands.
func (r *reader) known(it item, pedal bool, f pitch.Feet) stopname.Known {
	stop := r.at(it.lexeme).stop
	if stop == nil {
		return stopname.Known{}
	}
	place := stopname.Place{Pedal: pedal, Lang: r.lang, Pitch: f}
	if !r.told && stop.sense.langs&langOf("en") != 0 && r.alone(it.lexeme) {
		place.Lang = "" // nothing tells of what country the stop is
	}
	k, _ := stopname.Lookup(stop.words, place)
	if stop.parts {
		if k = stopname.Resolve(stop.words[0], place); k.Family == stopname.NoFamily {
			place.Lang = "" // its parts may be of another language than the rest
			k = stopname.Resolve(stop.words[0], place)
		}
	}
	if k.Family == stopname.Principal && isTierce(k.Pitch) {
		k.Family = stopname.Flute // the normal form has every tierce a flute
	}
	return k
}

// alone reports whether the text has no other word than the lexeme at i.
func (r *reader) alone(i int) bool {
	for j := max(0, i-2); j < min(len(r.lexemes), i+3); j++ {
		if j != i && r.mark(j) == "" && !r.is(j, classRole) {
			return false
		}
	}
	return true
}

// isTierce reports whether a rank sounds a third.
func isTierce(f pitch.Feet) bool { return !f.IsZero() && f.Ratio().Num()%5 == 0 }

// printed is the name at a lexeme as the text has it: on one line, with the
// dot of an abbreviation.
func (r *reader) printed(i int) string {
	lx := r.at(i)
	fields := strings.Fields(r.text[lx.start:lx.end])
	if n := len(fields); n > 1 && isNumber(fields[n-1]) {
		// "Flautado de 13": the length in palms is no part of the name.
		for fields = fields[:n-1]; len(fields) > 1 && len(strings.TrimSuffix(fields[len(fields)-1], ".")) == 2; {
			fields = fields[:len(fields)-1]
		}
	}
	name := strings.Join(fields, " ")
	if lx.dot && (lx.stop == nil || lx.stop.short) {
		name += "."
	}
	return withoutBrackets.Replace(name)
}

var withoutBrackets = strings.NewReplacer("(", "", ")", "")

// isNumber reports whether a word is written in digits.
func isNumber(word string) bool {
	return strings.Trim(word, "0123456789") == ""
}

// isPedal reports whether any of the divisions is the pedal.
func isPedal(roles []division.Role) bool {
	for _, d := range roles {
		if d == division.Pedal {
			return true
		}
	}
	return false
}
