package sound

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Figures are what is computed of a stop, for showing.
type Figures struct {
	Kind     string      // the kind of pipe that it is taken for
	Sources  []string    // of the kind's spectrum and of the stop's level
	Keys     []KeyFigure // every C from C2 to C7 at which it speaks
	At       int         // the key that the partials belong to
	Partials []Partial   // down to 60 dB under the strongest
}

// A KeyFigure is how a stop sounds at one key.
type KeyFigure struct {
	Key        int
	Level      float64 // dB
	Phon       float64 // loudness level
	Sones      float64 // loudness
	Brightness float64 // Hz
	Beat       float64 // beats a second with its fellow, 0 but for a celeste
}

// figureKeys are the keys at which a stop is shown: the Cs of a keyboard.
var figureKeys = []int{36, 48, 60, 72, 84, 96}

// Figures computes a stop's figures; the partials are those of middle C or,
// where it does not speak there, of the next key at which it does.
func (s *Stop) Figures() Figures {
	f := Figures{Kind: s.kind.kind, Sources: []string{"spectrum: " + s.kind.source, "level: " + s.row.source}, At: s.shownKey()}
	for _, key := range figureKeys {
		if len(s.pipes(key)) == 0 {
			continue
		}
		h := HearKey([]Drawn{{Stop: s}}, key)
		f.Keys = append(f.Keys, KeyFigure{Key: key, Level: s.Level(key), Phon: h.Phon, Sones: h.Sones, Brightness: h.Brightness, Beat: s.Beat(key)})
	}
	f.Partials = audible(s.Partials(f.At))
	return f
}

// shownKey is middle C or the key nearest to it at which the stop speaks.
func (s *Stop) shownKey() int { return min(keyCount-1, max(s.low, min(middleC, s.high))) }

// audible leaves out partials that are 60 dB under the strongest.
func audible(partials []Partial) []Partial {
	top := math.Inf(-1)
	for _, p := range partials {
		top = max(top, p.Level)
	}
	var out []Partial
	for _, p := range partials {
		if p.Level > top-60 {
			out = append(out, p)
		}
	}
	return out
}

// WriteText writes the figures as a table.
func (f Figures) WriteText(w io.Writer) error {
	var b strings.Builder
	if len(f.Keys) == 0 && len(f.Partials) == 0 {
		_, err := io.WriteString(w, "no pipes: not heard here\n")
		return err
	}
	fmt.Fprintf(&b, "sounds as: %s\n\n", f.Kind)
	line := func(name string, cell func(KeyFigure) string) {
		fmt.Fprintf(&b, "%-26s", name)
		for _, k := range f.Keys {
			fmt.Fprintf(&b, "%8s", cell(k))
		}
		b.WriteByte('\n')
	}
	line("key", func(k KeyFigure) string { return keyName(k.Key) })
	line("level, dB", func(k KeyFigure) string { return fmt.Sprintf("%.1f", k.Level) })
	line("loudness, phon", func(k KeyFigure) string { return fmt.Sprintf("%.1f", k.Phon) })
	line("loudness, sone", func(k KeyFigure) string { return fmt.Sprintf("%.2f", k.Sones) })
	line("brightness, Hz", func(k KeyFigure) string { return fmt.Sprintf("%.0f", k.Brightness) })
	for _, k := range f.Keys {
		if k.Beat > 0 {
			line("beats a second", func(k KeyFigure) string { return fmt.Sprintf("%.1f", k.Beat) })
			break
		}
	}
	fmt.Fprintf(&b, "\npartials of %s\n", keyName(f.At))
	for _, p := range f.Partials {
		off := ""
		if p.Cents != 0 {
			off = fmt.Sprintf("  %+.0f cents", p.Cents)
		}
		fmt.Fprintf(&b, "%8s  %5.1f dB%s\n", p.Ratio, p.Level, off)
	}
	b.WriteByte('\n')
	for _, s := range f.Sources {
		fmt.Fprintf(&b, "%s\n", s)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// floor is the level at which the shown partials begin.
func (f Figures) floor() float64 {
	if len(f.Partials) == 0 {
		return 0
	}
	top := math.Inf(-1)
	for _, p := range f.Partials {
		top = max(top, p.Level)
	}
	return 10*math.Ceil(top/10) - 70
}

// keyName is the scientific name of a key: "C4", "F#4".
func keyName(key int) string {
	names := [...]string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"}
	return fmt.Sprintf("%s%d", names[key%12], key/12-1)
}
