package annotate_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"stopgap/annotate"
	"stopgap/musicxml"
)

// What odd scores are put together from: three staves, a whole note on each.
const (
	oddStaves = `<attributes><divisions>4</divisions><staves>3</staves><clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef><clef number="3"><sign>F</sign></clef></attributes>`
	oddAsks   = `<direction><direction-type><words>R.H. Ch. Nazard 2 2/3</words></direction-type><staff>1</staff></direction><direction><direction-type><words>Ped. 4 ft. reed solo</words></direction-type><staff>3</staff></direction>`
	oddBack   = `<backup><duration>16</duration></backup>`
	oddList   = `<score-partwise><part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list>`
	oddEnd    = `</score-partwise>`
)

func oddNote(step string, octave, staff int) string {
	return fmt.Sprintf(`<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>16</duration><staff>%d</staff></note>`, step, octave, staff)
}

func oddSays(words, rest string, staff int) string {
	return fmt.Sprintf(`<direction><direction-type><words>%s</words></direction-type>%s<staff>%d</staff></direction>`, words, rest, staff)
}

// TestOddScores marks scores as no program should write them, but which can be
// read: nothing is promised less of them, and each is marked.
func TestOddScores(t *testing.T) {
	all := oddNote("C", 5, 1) + oddBack + oddNote("C", 4, 2) + oddBack + oddNote("C", 3, 3)
	measure := func(content string) string { return `<measure number="1">` + content + `</measure>` }
	first := measure(oddStaves + oddAsks + all)
	part := func(measures ...string) string { return `<part id="P1">` + strings.Join(measures, "") + `</part>` }
	pedal := `<note><pitch><step>C</step><octave>3</octave></pitch><duration>16</duration></note>`
	twoParts := strings.Replace(oddList, `</part-list>`, `<score-part id="P2"><part-name>Pedal</part-name></score-part></part-list>`, 1)
	repeated := func(n int, unit func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(unit(i))
		}
		return b.String()
	}
	organs := someOrgans(t)
	for name, score := range map[string]string{
		"a part without measures":        twoParts + `<part id="P2"/>` + part(first) + oddEnd,
		"a score-part without a part":    twoParts + part(first) + oddEnd,
		"a part without a score-part":    oddList + part(first) + `<part id="P9">` + first + `</part>` + oddEnd,
		"no part-list":                   `<score-partwise>` + part(first) + oddEnd,
		"two parts of one id":            strings.Replace(twoParts, "P2", "P1", 1) + part(first) + part(first) + oddEnd,
		"measures that are empty tags":   oddList + part(first, `<measure number="2"/>`, `<measure number="3"/>`, measure(oddSays("Ped. Trumpet 4", "", 3)+all)) + oddEnd,
		"the pedal ends before":          twoParts + part(first, measure(oddSays("Sw. Oboe 8", "", 1)+all)) + `<part id="P2">` + measure(`<attributes><divisions>4</divisions></attributes>`+pedal) + `</part>` + oddEnd,
		"the manuals end before":         twoParts + part(first) + `<part id="P2">` + measure(`<attributes><divisions>4</divisions></attributes>`+pedal) + measure(oddSays("Ped. Trumpet 4", "", 1)+pedal) + measure(oddSays("Ped. 16", "", 1)+pedal) + `</part>` + oddEnd,
		"one number for all measures":    oddList + part(first, measure(oddSays("Gt. Tierce 1 3/5", "", 1)+all), measure(all)) + oddEnd,
		"numbers that are none":          oddList + part(strings.Replace(first, `"1"`, `"&lt;1&gt; &#34;♯"`, 1), strings.Replace(measure(all), `"1"`, `"  "`, 1)) + oddEnd,
		"no numbers":                     oddList + part(strings.Replace(first, ` number="1"`, ``, 1), `<measure>`+all+`</measure>`) + oddEnd,
		"a chord note first":             oddList + part(first, measure(strings.Replace(all, "<note>", "<note><chord/>", 1))) + oddEnd,
		"cue and grace notes in a chord": oddList + part(measure(oddStaves+oddAsks+`<note><grace/><chord/><pitch><step>D</step><octave>5</octave></pitch><staff>3</staff></note><note><cue/><chord/><pitch><step>E</step><octave>9</octave></pitch><duration>4</duration></note>`+all)) + oddEnd,
		"offsets out of the score":       oddList + part(first, measure(all+oddSays("Sw. Oboe 8", "<offset>-999999</offset>", 1)+oddSays("Ped. 8", "<offset>999999</offset>", 3)+oddSays("add Reeds", "<offset>-0.5</offset>", 1))) + oddEnd,
		"a huge tuplet":                  oddList + part(strings.Replace(first, "<staff>1</staff></note>", "<time-modification><actual-notes>1000000007</actual-notes><normal-notes>999999937</normal-notes></time-modification><staff>1</staff></note>", 1)) + oddEnd,
		"a hundred parts": `<score-partwise><part-list>` + repeated(100, func(i int) string {
			return fmt.Sprintf(`<score-part id="P%d"><part-name>Organ %d</part-name></score-part>`, i, i)
		}) + `</part-list>` + repeated(100, func(i int) string { return fmt.Sprintf(`<part id="P%d">%s</part>`, i, first) }) + oddEnd,
		"99 staves":                 oddList + part(measure(strings.Replace(oddStaves, "<staves>3", "<staves>99", 1)+oddAsks+repeated(99, func(i int) string { return oddNote("C", 4, 1+i) + oddBack }))) + oddEnd,
		"staves that are none":      oddList + part(strings.ReplaceAll(strings.Replace(first, "<staff>1", "<staff>0", 1), "<staff>2", "<staff>-1")) + oddEnd,
		"a note over many barlines": oddList + part(measure(oddStaves+oddAsks+strings.Replace(oddNote("C", 5, 1), "16", "1600", 1)+`<backup><duration>1600</duration></backup>`+oddNote("C", 3, 3)), measure(all), measure(oddSays("Ped. 16", "", 3)+all)) + oddEnd,
		"measures inside measures":  oddList + part(measure(oddStaves+oddAsks+all+measure(all)+part(measure(all)))) + oddEnd,
		"timewise, parts twice":     strings.Replace(oddList, "partwise", "timewise", 1) + `<measure/><measure number="1"><part id="P1">` + oddStaves + oddAsks + all + `</part><part id="P1">` + all + `</part><part/></measure></score-timewise>`,
		"divisions that change": oddList + part(measure(oddStaves+oddAsks+all+repeated(6, func(i int) string {
			return fmt.Sprintf("<attributes><divisions>%d</divisions></attributes>", []int{7, 11, 13, 10080, 1, 480}[i])
		}))) + oddEnd,
		"a million keys":        oddList + part(strings.Replace(first, "<staves>", "<key><fifths>999999999</fifths></key><staves>", 1)) + oddEnd,
		"a transposition":       oddList + part(strings.Replace(first, "</staves>", "</staves><transpose><chromatic>99999</chromatic><octave-change>-2000</octave-change></transpose>", 1)) + oddEnd,
		"comments everywhere":   oddList + part(strings.ReplaceAll(first, "><", "><!-- <note> --><")) + oddEnd,
		"instructions all over": oddList + part(strings.ReplaceAll(first, "><", "><?z a=\"<note>\"?><")) + oddEnd,
		"another doctype":       `<!DOCTYPE html SYSTEM "file:///etc/passwd" [<!ENTITY % p SYSTEM "http://localhost:1/x"> %p; <!ATTLIST note x CDATA "<"> <!-- ] > --> ]>` + oddList + part(first) + oddEnd,
		"a namespace":           strings.Replace(oddList, "<score-partwise", `<score-partwise xmlns="urn:any"`, 1) + part(first) + oddEnd,
	} {
		t.Run(name, func(t *testing.T) {
			on := organs[:3]
			if testing.Short() {
				on = organs[2:3]
			}
			for _, organ := range on {
				for _, opts := range ways {
					doc := read(t, name, []byte(score))
					for _, lost := range faults(doc, []byte(score), organ, opts) {
						t.Errorf("on %s: %s", organ.Name, lost)
					}
				}
			}
			r, err := annotate.Plan(read(t, name, []byte(score)), organs[2], ways[0])
			if err != nil {
				t.Fatal(err)
			}
			if marked, err := r.Write(ways[0], organs[2].Name); err != nil || bytes.Equal(marked, []byte(score)) {
				t.Errorf("nothing is marked (%v)", err)
			}
			if _, err := musicxml.Read(name, []byte(score[:len(score)-1])); err == nil {
				t.Error("cut off, it is read")
			}
		})
	}
}
