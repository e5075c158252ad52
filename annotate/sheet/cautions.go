package sheet

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate"
	"stopgap/annotate/resolve"
)

// A caution is what has to be looked at, with what can be done about it.
type caution struct {
	text     string
	remedies []string
}

// likewiseAtMost is how many further places a caution names one by one.
const likewiseAtMost = 8

// cautions are the findings as the sheet tells them. Notes off the keyboard
// that follow one another on a staff and have the same way out are told
// together, so that a run up and down does not fill a page.
func cautions(all []annotate.Finding) []caution {
	var out []caution
	for i := 0; i < len(all); {
		n := i + 1
		for n < len(all) && together(all[i], all[n]) {
			n++
		}
		text := findingText(all[i])
		if n > i+1 {
			text = strings.TrimSuffix(text, ".") + likewise(all[i+1:n])
		}
		out = append(out, caution{text, all[i].Remedies})
		i = n
	}
	return out
}

// together reports whether two findings that follow one another are told as one.
func together(a, b annotate.Finding) bool {
	return a.ID == resolve.OffCompass && b.ID == a.ID && a.Staff == b.Staff && len(a.Remedies) > 0 && slices.Equal(a.Remedies, b.Remedies)
}

// likewise names the places of further findings.
func likewise(more []annotate.Finding) string {
	var places []string
	for _, f := range more {
		if at := spot(f.Place.Measure, f.Place.Beat.Printed()); !slices.Contains(places, at) {
			places = append(places, at)
		}
	}
	if len(places) <= likewiseAtMost {
		return "; likewise notes at " + strings.Join(places, ", ") + "."
	}
	rest := places[likewiseAtMost:]
	return fmt.Sprintf("; likewise notes at %s, and %d more to %s.", strings.Join(places[:likewiseAtMost], ", "), len(rest), rest[len(rest)-1])
}
