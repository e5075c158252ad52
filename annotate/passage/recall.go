package passage

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/registry/division"
)

// A recall is what a text calls back.
type recall uint8

const (
	noRecall     recall = iota
	recallBefore        // the registration before the present one: "as before"
	recallStart         // that of the beginning: "comme au début"
)

//go:embed recall.tsv
var recallTSV string

var recallWords = sync.OnceValue(func() map[string]string {
	words := map[string]string{}
	for line := range strings.Lines(recallTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 4 && f[0][0] != '#' {
			words[f[0]] = f[1]
		}
	}
	return words
})

// recalls says what registration a text calls back. "Tempo as before" calls
// back the tempo; "Tempo primo registration" the registration.
func (t *Text) recalls() recall {
	if !t.Reading.Recall {
		return noRecall
	}
	found := recallBefore
	tempo, registration := false, false
	for _, w := range foldedWords(t.Text) {
		switch recallWords()[w] {
		case "start":
			found = recallStart
		case "tempo":
			tempo = true
		case "registration":
			registration = true
		}
	}
	if tempo && !registration && len(t.Reading.Statements) == 0 {
		return noRecall
	}
	return found
}

// A memory is what can be called back.
type memory struct {
	start, before *state                    // the registrations of the beginning, and before the present one
	drawn         map[Division]registration // what a division had before the present
	present       *state
	key           string // of the present one
}

// keep remembers a state when another takes its place.
func (m *memory) keep(s *state, key string) {
	if m.present != nil && key == m.key {
		return
	}
	if m.present == nil {
		m.start, m.drawn = s.clone(), map[Division]registration{}
	} else {
		m.before = m.present
		for d, r := range m.present.drawn {
			if !sameVoices(r, s.drawn[d]) {
				m.drawn[d] = r
			}
		}
	}
	m.present, m.key = s.clone(), key
}

func sameVoices(a, b registration) bool { return slices.EqualFunc(a.voices, b.voices, sameVoice) }

// recall brings back what a text calls back: of the pedal where it stands at
// the feet's staff, of the divisions that it names, or else the whole
// registration and the places of the hands.
func (s *state) recall(x *Text, m *memory) {
	from := m.before
	if x.recalls() == recallStart {
		from = m.start
	}
	var named []Division
	for _, st := range x.Reading.Statements {
		if d := s.place(st.Division, Division{}); st.Division != division.None && st.Division != division.Every && !slices.Contains(named, d) &&
			(st.Verb == direction.Play || st.Verb == direction.Lead || st.Verb == direction.Level) {
			named = append(named, d)
		}
	}
	if len(named) == 0 && x.Staff != nil && x.Staff.Line == Feet {
		named = []Division{Pedal}
	}
	if len(named) == 0 {
		if from != nil {
			s.restore(from)
		}
		return
	}
	for _, d := range named {
		was, ok := m.drawn[d]
		if x.recalls() == recallStart && from != nil {
			was, ok = from.drawn[d]
		}
		// Who comes back to a manual finds there what was left on it.
		if ok && (s.rh == d || s.lh == d || d == Pedal || x.recalls() == recallStart) {
			was.drawnAt = s.texts
			s.change(d, was)
		}
		if d == Pedal && from != nil {
			s.couplings = slices.DeleteFunc(slices.Clone(s.couplings), func(c Coupling) bool { return c.To == Pedal })
			for _, c := range from.couplings {
				if c.To == Pedal {
					s.couple(c)
				}
			}
		}
	}
}
