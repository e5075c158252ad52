package registry

import (
	"fmt"
	"strings"
)

// A Key is a key of a keyboard, or the note that it is written as: 36 is C2,
// the lowest C of manual and pedalboard alike, and 60 is C4, middle C (the
// numbering of MIDI 1.0, where middle C is 60).
type Key int

var keyNames = [...]string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"}

// String is the scientific name: "C2", "F#4".
func (k Key) String() string {
	octave, step := int(k)/12-1, int(k)%12
	if step < 0 {
		octave, step = octave-1, step+12
	}
	return fmt.Sprintf("%s%d", keyNames[step], octave)
}

var steps = map[byte]int{'C': 0, 'D': 2, 'E': 4, 'F': 5, 'G': 7, 'A': 9, 'B': 11}

// ParseKey reads a note name in scientific pitch: "C2", "F#4", "Eb3", "B♭2".
// Keys are those of organs, C0 to C9.
func ParseKey(s string) (Key, error) {
	bad := fmt.Errorf("%q is not a note name such as C2 or F#4", s)
	if s == "" {
		return 0, bad
	}
	step, ok := steps[s[0]&^0x20]
	if !ok || s[0] < 'A' {
		return 0, bad
	}
	rest := s[1:]
	for _, sign := range []struct {
		text string
		by   int
	}{{"#", 1}, {"♯", 1}, {"b", -1}, {"♭", -1}} {
		if after, ok := strings.CutPrefix(rest, sign.text); ok {
			rest, step = after, step+sign.by
			break
		}
	}
	if len(rest) != 1 || rest[0] < '0' || rest[0] > '9' {
		return 0, bad
	}
	return Key(12*(int(rest[0]-'0')+1) + step), nil
}

// A Compass is the set of keys of a keyboard, or those on which a stop
// speaks: all from Low to High but the Missing. High below Low is empty.
type Compass struct {
	Low, High Key
	Missing   []Key // of a short octave, ascending
}

// Has reports whether the key is there.
func (c Compass) Has(k Key) bool {
	if k < c.Low || k > c.High {
		return false
	}
	for _, m := range c.Missing {
		if m == k {
			return false
		}
	}
	return true
}

// Keys counts the keys.
func (c Compass) Keys() int { return max(0, int(c.High-c.Low)+1-len(c.Missing)) }

// Within is the part of c that lies from low to high.
func (c Compass) Within(low, high Key) Compass {
	part := Compass{Low: max(c.Low, low), High: min(c.High, high)}
	for _, m := range c.Missing {
		if m > part.Low && m < part.High {
			part.Missing = append(part.Missing, m)
		} else if m == part.Low {
			part.Low++
		} else if m == part.High {
			part.High--
		}
	}
	return part
}

// Equal reports whether both have the same keys.
func (c Compass) Equal(d Compass) bool {
	if c.Low != d.Low || c.High != d.High || len(c.Missing) != len(d.Missing) {
		return false
	}
	for i, m := range c.Missing {
		if d.Missing[i] != m {
			return false
		}
	}
	return true
}

// shortOctave are the keys, counted from the lowest C, that a short octave
// leaves out: the keys that look like E, F# and G# sound C, D and E. A Key is
// here always the note that it sounds, so the compass lacks the four others.
var (
	shortOctave  = []Key{1, 3, 6, 8}
	brokenOctave = []Key{1, 3} // F# and G# are there as split keys
)

// String is what ParseCompass reads: "C2-G6", "C2-C6 short octave", "C2-D4
// without C#2".
func (c Compass) String() string {
	span := fmt.Sprintf("%v-%v", c.Low, c.High)
	switch {
	case len(c.Missing) == 0:
		return span
	case c.lacks(shortOctave):
		return span + " short octave"
	case c.lacks(brokenOctave):
		return span + " broken octave"
	}
	var names []string
	for _, m := range c.Missing {
		names = append(names, m.String())
	}
	return span + " without " + strings.Join(names, " ")
}

func (c Compass) lacks(octave []Key) bool {
	if len(c.Missing) != len(octave) {
		return false
	}
	for i, m := range c.Missing {
		if m != c.Low+octave[i] {
			return false
		}
	}
	return true
}

// ParseCompass reads a compass: "C2-G6"; "C2-C6 short octave" (C D E F G A …),
// "C2-C6 broken octave" (only C# and D# are missing), "C2-C6 without C#2 D#2".
// Where whole is given, either end may be left out: "C3-" goes up to its
// highest key, and keys that whole lacks are lacking.
func ParseCompass(s string, whole *Compass) (Compass, error) {
	span, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	span = strings.NewReplacer("–", "-", "—", "-", "‑", "-", "..", "-").Replace(span)
	low, high, ok := strings.Cut(span, "-")
	if !ok || (whole == nil && (low == "" || high == "")) || (low == "" && high == "") {
		return Compass{}, fmt.Errorf("%q is not a compass such as C2-G6", s)
	}
	var c Compass
	var err error
	if whole != nil {
		c.Low, c.High = whole.Low, whole.High
	}
	if low != "" {
		if c.Low, err = ParseKey(low); err != nil {
			return Compass{}, err
		}
	}
	if high != "" {
		if c.High, err = ParseKey(high); err != nil {
			return Compass{}, err
		}
	}
	if c.High < c.Low {
		return Compass{}, ReversedError{c.Low, c.High}
	}
	if err := c.leaveOut(rest); err != nil {
		return Compass{}, err
	}
	if whole != nil && rest == "" && c.Low >= whole.Low && c.High <= whole.High {
		return whole.Within(c.Low, c.High), nil
	}
	return c, nil
}

// A ReversedError is a compass the wrong way round.
type ReversedError struct{ Low, High Key }

func (e ReversedError) Error() string {
	return fmt.Sprintf("the compass %v-%v is the wrong way round", e.Low, e.High)
}

func (c *Compass) leaveOut(words string) error {
	fields := strings.Fields(strings.ReplaceAll(words, ",", " "))
	if len(fields) == 0 {
		return nil
	}
	switch fields[0] {
	case "short", "broken":
		octave := shortOctave
		if fields[0] == "broken" {
			octave = brokenOctave
		}
		if len(fields) > 2 || (len(fields) == 2 && fields[1] != "octave") || c.Low+12 > c.High {
			break
		}
		for _, k := range octave {
			c.Missing = append(c.Missing, c.Low+k)
		}
		return nil
	case "without":
		if len(fields) == 1 {
			break
		}
		for _, name := range fields[1:] {
			k, err := ParseKey(name)
			if err != nil {
				return err
			}
			if k <= c.Low || k >= c.High {
				return fmt.Errorf("%v is not between %v and %v, so it can't be missing from the compass", k, c.Low, c.High)
			}
			if !c.Has(k) {
				return fmt.Errorf("%v is named twice", k)
			}
			at := len(c.Missing)
			for at > 0 && c.Missing[at-1] > k {
				at--
			}
			c.Missing = append(c.Missing[:at], append([]Key{k}, c.Missing[at:]...)...)
		}
		return nil
	}
	return fmt.Errorf("%q after a compass is none of: short octave, broken octave, without C#2 …", words)
}
