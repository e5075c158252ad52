package musicxml

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
)

// bigScore is an organ score of three staves as a notation program exports it.
func bigScore(measures int) []byte {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 3.1 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="3.1">
  <work>
    <work-title>Study</work-title>
  </work>
  <part-list>
    <score-part id="P1">
      <part-name>Organ</part-name>
    </score-part>
  </part-list>
  <part id="P1">
`)
	note := func(x, step, octave, duration, voice, staff int, kind, extra string) {
		fmt.Fprintf(&b, "      <note default-x=\"%d.%02d\" default-y=\"%d.00\">\n        <pitch>\n          <step>%c</step>\n          <octave>%d</octave>\n        </pitch>\n        <duration>%d</duration>\n        <voice>%d</voice>\n        <type>%s</type>\n        <stem>up</stem>\n        <staff>%d</staff>\n%s      </note>\n",
			x, x%100, -x, 'A'+step%7, octave, duration, voice, kind, staff, extra)
	}
	for m := 1; m <= measures; m++ {
		fmt.Fprintf(&b, "    <measure number=\"%d\" width=\"312.45\">\n", m)
		if m == 1 {
			b.WriteString("      <attributes>\n        <divisions>4</divisions>\n        <key>\n          <fifths>-1</fifths>\n        </key>\n        <time>\n          <beats>4</beats>\n          <beat-type>4</beat-type>\n        </time>\n        <staves>3</staves>\n        <clef number=\"1\">\n          <sign>G</sign>\n          <line>2</line>\n        </clef>\n        <clef number=\"2\">\n          <sign>F</sign>\n          <line>4</line>\n        </clef>\n        <clef number=\"3\">\n          <sign>F</sign>\n          <line>4</line>\n        </clef>\n      </attributes>\n")
		}
		if m%4 == 1 {
			fmt.Fprintf(&b, "      <direction placement=\"above\">\n        <direction-type>\n          <words default-y=\"20.5\" font-style=\"italic\">Sw. Flute %d &amp; 4</words>\n        </direction-type>\n        <staff>1</staff>\n      </direction>\n", m)
		}
		for i := range 16 {
			extra := ""
			if i%4 == 0 {
				extra = "        <beam number=\"1\">begin</beam>\n        <notations>\n          <slur number=\"1\" type=\"start\"/>\n        </notations>\n"
			}
			note(20*i, m+i, 5, 1, 1, 1, "16th", extra)
		}
		b.WriteString("      <backup>\n        <duration>16</duration>\n      </backup>\n")
		for i := range 8 {
			note(40*i, m+2*i, 3, 2, 5, 2, "eighth", "")
		}
		b.WriteString("      <backup>\n        <duration>16</duration>\n      </backup>\n")
		for i := range 2 {
			note(160*i, m+3*i, 2, 8, 9, 3, "half", "")
		}
		b.WriteString("    </measure>\n")
	}
	b.WriteString("  </part>\n</score-partwise>\n")
	return []byte(b.String())
}

const benchMeasures = 2000

// BenchmarkLibrary is what the XML library alone needs to read and write.
func BenchmarkLibrary(b *testing.B) {
	data := bigScore(benchMeasures)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		doc := etree.NewDocument()
		if err := doc.ReadFromBytes(data); err != nil {
			b.Fatal(err)
		}
		if _, err := doc.WriteToBytes(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for _, measures := range []int{500, 2000, 20000} {
		data := bigScore(measures)
		b.Run(fmt.Sprint(measures), func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Read("big.musicxml", data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkApply puts a direction into every fourth measure.
func BenchmarkApply(b *testing.B) {
	data := bigScore(benchMeasures)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		d, err := Read("big.musicxml", data)
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		markEveryFourth(b, d)
	}
}

// BenchmarkReadApply is the whole way from bytes to bytes.
func BenchmarkReadApply(b *testing.B) {
	data := bigScore(benchMeasures)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		d, err := Read("big.musicxml", data)
		if err != nil {
			b.Fatal(err)
		}
		markEveryFourth(b, d)
	}
}

func markEveryFourth(b *testing.B, d *Document) {
	var edits []Edit
	for _, p := range d.Score().Parts {
		for i := 0; i < len(p.Measures); i += 4 {
			a, err := p.Anchor(2, p.Measures[i].Start)
			if err != nil {
				b.Fatal(err)
			}
			edits = append(edits, a.Edit("<direction><direction-type><words>[Ch. Flute 8]</words></direction-type><staff>2</staff></direction>"))
		}
	}
	if _, err := d.Apply(edits); err != nil {
		b.Fatal(err)
	}
}
