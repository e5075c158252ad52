package sheet

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/annotate"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
)

// TestCautions tells notes off the keyboard together where they have the same
// way out, and only there.
func TestCautions(t *testing.T) {
	off := func(measure, staff, remedy string) annotate.Finding {
		return annotate.Finding{
			ID: resolve.OffCompass, Staff: staff, Place: musicxml.Place{Measure: measure, Beat: musicxml.Whole(1)},
			Text: "G6 is not on the Great manual.", Remedies: []string{remedy},
		}
	}
	var got []string
	for _, c := range cautions([]annotate.Finding{
		off("7", "P1.1", "lower"), off("8", "P1.1", "lower"), off("9", "P1.1", "lower"),
		off("9", "P1.3", "lower"), off("12", "P1.3", "higher"),
		{ID: resolve.VoiceMissing, Place: musicxml.Place{Measure: "12", Beat: musicxml.Whole(1)}, Text: "Great: Nazard 2 2/3 has to be left out."},
	}) {
		got = append(got, c.text)
	}
	want := []string{
		"7.1: G6 is not on the Great manual; likewise notes at 8.1, 9.1.",
		"9.1: G6 is not on the Great manual.",
		"12.1: G6 is not on the Great manual.",
		"12.1: Great: Nazard 2 2/3 has to be left out.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
