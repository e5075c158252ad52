package main

import (
	"fmt"
	"strings"
)

// A longScore describes an organ score of three staves, laid out as notation
// programs export it, with as many measures and directions as a test wants.
type longScore struct {
	measures  int
	every     int  // a direction stands in every so many measures
	different bool // no two directions are alike
}

// asksFor are directions as they follow one another in a score: sets of stops,
// additions, couplers, boxes, dynamics, hands and pedal solos.
var asksFor = []struct {
	staff int
	text  string
}{
	{1, "Gt. Diapasons 8, Principal 4"},
	{3, "Ped. Bourdon 16, Bass Flute 8, Gt. to Ped."},
	{1, "R.H. Sw. Oboe 8"},
	{2, "L.H. Gt. Stopped Diapason 8"},
	{1, "add Flute 4"},
	{2, "Sw. box closed"},
	{1, "Andante con moto"},
	{1, "Ch. Gedackt 8, Nazard 2 2/3"},
	{3, "Ped. 4 ft. reed solo"},
	{2, "Sw. Salicional 8, Voix Celeste 8"},
	{1, "poco rit."},
	{3, "Ped. Open Diapason 16, 8 ft."},
	{1, "Full Swell"},
	{2, "Sw. to Gt."},
	{1, "Gt. to Fifteenth"},
	{1, "add Gt. Reeds"},
	{2, "reduce Sw."},
	{1, "Tuba solo"},
	{2, "Gt. to Ped. off"},
	{1, "Sw. Lieblich Gedackt 8, Flute 4, Trem."},
}

// text writes the score.
func (s longScore) text() []byte {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 3.1 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="3.1">
  <work>
    <work-title>A long study</work-title>
  </work>
  <part-list>
    <score-part id="P1">
      <part-name>Organ</part-name>
    </score-part>
  </part-list>
  <part id="P1">
`)
	for m := range s.measures {
		s.measure(&b, m)
	}
	b.WriteString("  </part>\n</score-partwise>\n")
	return []byte(b.String())
}

func (s longScore) measure(b *strings.Builder, m int) {
	fmt.Fprintf(b, "    <measure number=\"%d\" width=\"312.45\">\n", m+1)
	if m == 0 {
		b.WriteString("      <attributes>\n        <divisions>4</divisions>\n        <key>\n          <fifths>-1</fifths>\n        </key>\n        <time>\n          <beats>4</beats>\n          <beat-type>4</beat-type>\n        </time>\n        <staves>3</staves>\n")
		for staff, clef := range []string{"<sign>G</sign>\n          <line>2</line>", "<sign>F</sign>\n          <line>4</line>", "<sign>F</sign>\n          <line>4</line>"} {
			fmt.Fprintf(b, "        <clef number=\"%d\">\n          %s\n        </clef>\n", staff+1, clef)
		}
		b.WriteString("      </attributes>\n")
	}
	if m%s.every == 0 {
		n := m / s.every
		ask := asksFor[n%len(asksFor)]
		text := ask.text
		if s.different {
			text = fmt.Sprintf("%s (%d)", text, n)
		}
		fmt.Fprintf(b, "      <direction placement=\"above\">\n        <direction-type>\n          <words default-y=\"20.5\" font-style=\"italic\">%s</words>\n        </direction-type>\n        <staff>%d</staff>\n      </direction>\n", text, ask.staff)
	}
	for i := range 8 {
		notations := ""
		if i%2 == 0 {
			notations = "        <beam number=\"1\">begin</beam>\n        <notations>\n          <slur number=\"1\" type=\"start\"/>\n        </notations>\n"
		}
		writeNote(b, 40*i, 4+m%2, m/3+i*i, 2, 1, 1, "eighth", notations)
	}
	b.WriteString("      <backup>\n        <duration>16</duration>\n      </backup>\n")
	for i := range 2 {
		writeNote(b, 160*i, 3, m+2*i, 8, 5, 2, "half", "")
	}
	b.WriteString("      <backup>\n        <duration>16</duration>\n      </backup>\n")
	writeNote(b, 0, 2, m/5, 16, 9, 3, "whole", "")
	b.WriteString("    </measure>\n")
}

// writeNote writes one note with what a program adds for the layout.
func writeNote(b *strings.Builder, x, octave, step, duration, voice, staff int, kind, more string) {
	fmt.Fprintf(b, "      <note default-x=\"%d.%02d\" default-y=\"%d.00\">\n        <pitch>\n          <step>%c</step>\n          <octave>%d</octave>\n        </pitch>\n        <duration>%d</duration>\n        <voice>%d</voice>\n        <type>%s</type>\n        <stem>up</stem>\n        <staff>%d</staff>\n%s      </note>\n",
		x, x%100, -x, "CDEFGAB"[step%7], octave, duration, voice, kind, staff, more)
}
