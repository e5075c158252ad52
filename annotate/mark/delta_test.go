package mark

import (
	"testing"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/division"
)

// TestDelta tells at a printed "add" only what comes in, and the whole where
// stops go as others come or where the print draws anew.
func TestDelta(t *testing.T) {
	great := &registry.Division{Name: "Great", Role: division.Great}
	stop := func(text string) resolve.Pick {
		return resolve.Pick{Stops: []resolve.Chosen{{Stop: &registry.Stop{Text: text, Division: great}}}}
	}
	asked := &passage.Asked{Division: passage.Division{Role: division.Great}}
	part := func(picks ...resolve.Pick) *resolve.Part {
		return &resolve.Part{Asked: asked, Host: great, Picks: picks}
	}
	lost := resolve.Pick{Voice: direction.Voice{Group: direction.Reed, Name: "Clairon"}, Missing: true}
	setting := func(verb direction.Verb) *resolve.Setting {
		return &resolve.Setting{Passage: &passage.Passage{Texts: []*passage.Text{{
			Reading: direction.Reading{Statements: []direction.Statement{{Verb: verb, Division: division.Great}}},
		}}}}
	}
	open, flute, trumpet := stop("Open Diapason 8"), stop("Claribel Flute 8"), stop("Trumpet 8")
	for _, test := range []struct {
		name        string
		verb        direction.Verb
		before, now *resolve.Part
		want        string
	}{
		{"a stop comes in", direction.Add, part(open), part(open, trumpet), "+ Gt. Trumpet 8"},
		{"one comes in, one is not there", direction.Add, part(open), part(open, trumpet, lost), "+ Gt. Trumpet 8, sans Clairon"},
		{"a stop goes", direction.Off, part(open, trumpet), part(open), "− Gt. Trumpet 8"},
		{"nothing moves", direction.Add, part(open), part(open), ""},
		{"one comes as another goes", direction.Add, part(open), part(flute, trumpet), ""},
		{"the print draws anew", direction.Set, part(open), part(open, trumpet), ""},
		{"nothing stood before", direction.Add, nil, part(open), ""},
	} {
		m := &marker{lang: "fr"}
		if got := m.delta(setting(test.verb), test.before, test.now); got != test.want {
			t.Errorf("%s: %q, not %q", test.name, got, test.want)
		}
	}
}
