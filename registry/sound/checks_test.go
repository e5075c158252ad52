package sound

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// Stops for the checks, as the table of names has them.
var (
	openDiapason    = named("Open Diapason 8")
	geigen          = named("Geigen Diapason 8")
	gamba           = named("Viola da Gamba 8")
	violeOrchestre  = named("Viole d'Orchestre 8")
	salicional      = named("Salicional 8")
	dulciana        = named("Dulciana 8")
	claribel        = named("Claribel Flute 8")
	stoppedDiapason = named("Stopped Diapason 8")
	quintaton       = named("Quintaton 8")
	bourdon         = named("Bourdon 16")
	trumpet         = named("Trumpet 8")
	oboe            = named("Oboe 8")
	clarinet        = named("Clarinet 8")
	tuba            = named("Tuba 8")
	principal4      = named("Principal 4")
	fifteenth       = named("Fifteenth 2")
	flute4          = named("Flute 4")
	piccolo         = named("Piccolo 2")
	nazard          = named("Nazard 2 2/3")
	cornetV         = named("Cornet V")
	mixtureIII      = named("Mixture III")
)

// singleStops are stops of 8′ of every strength.
var singleStops = []stopname.Known{
	openDiapason, geigen, gamba, violeOrchestre, salicional, dulciana, claribel, stoppedDiapason, quintaton, trumpet, oboe, clarinet, tuba,
	named("Large Open Diapason 8"), named("Aeoline 8"), named("Echo Viole 8"), named("Vox Angelica 8"), named("Lieblich Gedackt 8"), named("Gemshorn 8"),
	named("Harmonic Flute 8"), named("Vox Humana 8"), named("Cornopean 8"), named("Posaune 8"), named("Tromba 8"), named("Harmonic Trumpet 8"),
}

// named is what an English stop knob means.
func named(knob string) stopname.Known {
	return stopname.Resolve(knob, stopname.Place{Lang: "en"})
}

func at(k stopname.Known, feet pitch.Feet) stopname.Known {
	k.Pitch = feet
	return k
}

// drawn are stops outside a box.
func drawn(stops ...stopname.Known) []Drawn {
	return placed(division.None, Box{}, stops...)
}

// placed are stops on a division, in a box.
func placed(on division.Role, box Box, stops ...stopname.Known) (d []Drawn) {
	for _, k := range stops {
		d = append(d, Drawn{Stop: Of(k, Options{Division: on}), Box: box})
	}
	return d
}

// fourParts is a chord in the middle of the keyboard.
var fourParts = []Note{{48, 0, 1}, {55, 0, 1}, {64, 0, 1}, {72, 0, 1}}

// A check is one line of the table that the test prints.
type check struct {
	what, got, want, source string
	ok                      bool
}

func near(what string, got, want, within float64, unit, source string) check {
	return check{what, fmt.Sprintf("%.2f%s", got, unit), fmt.Sprintf("%.2f%s ± %v", want, unit, within), source, math.Abs(got-want) <= within}
}

func between(what string, got, low, high float64, unit, source string) check {
	return check{what, fmt.Sprintf("%.2f%s", got, unit), fmt.Sprintf("%v to %v%s", low, high, unit), source, got >= low && got <= high}
}

// TestChecks prints the figures with the source of what they are held against.
func TestChecks(t *testing.T) {
	var checks []check
	for _, group := range []func() []check{rankChecks, modelChecks, pitchChecks, orderChecks, boxChecks, registrationChecks, soloChecks, dynamicChecks, surveyChecks} {
		checks = append(checks, group()...)
	}
	var table strings.Builder
	for _, c := range checks {
		mark := "ok"
		if !c.ok {
			mark = "NOT"
			t.Errorf("%s: %s, want %s (%s)", c.what, c.got, c.want, c.source)
		}
		fmt.Fprintf(&table, "%-3s  %-66s  %-24s  %-22s  %s\n", mark, c.what, c.got, c.want, c.source)
	}
	t.Logf("%d checks\n%s", len(checks), table.String())
}

// rankChecks are the arithmetic of powers.
func rankChecks() []check {
	const source = "general acoustics: powers add"
	sum := func(levels ...float64) float64 {
		var d []Drawn
		for _, l := range levels {
			d = append(d, Drawn{Stop: Of(openDiapason, Options{}), Level: l})
		}
		return Partials(d, 60)[0].Level - Partials(d[:1], 60)[0].Level
	}
	return []check{
		near("two equal ranks are louder by", sum(0, 0), 3.01, 0.005, " dB", source),
		near("ten equal ranks are louder by", sum(make([]float64, 10)...), 10, 0.005, " dB", source),
		near("a second rank 10 dB softer adds", sum(0, -10), 0.41, 0.005, " dB", source),
		near("a second rank 3 dB softer adds", sum(0, -3), 1.76, 0.005, " dB", source),
		near("a second rank 20 dB softer adds", sum(0, -20), 0.04, 0.005, " dB", source),
	}
}

// modelChecks are the worked values of the loudness model.
func modelChecks() []check {
	const source = "ISO 532-1 (Zwicker), from the standard's definition"
	sones := func(p *Powers) float64 { return hear(filtered(p), frontal).sones }
	together := func(a, b *Powers) *Powers {
		sum := *a
		for i := range sum {
			sum[i] += b[i]
		}
		return &sum
	}
	one := sones(tone(16, 60))
	return []check{
		near("1 kHz at 40 phon is", sones(tone(16, 40)), 1, 0.01, " sone", source),
		near("1 kHz at 50 phon is", sones(tone(16, 50)), 2, 0.02, " sone", source),
		near("1 kHz at 60 phon is", sones(tone(16, 60)), 4, 0.04, " sone", source),
		near("1 kHz at 70 phon is", sones(tone(16, 70)), 8, 0.08, " sone", source),
		between("two tones of 60 dB in one band, against one", sones(tone(16, 63.01))/one, 1.15, 1.3, " times", "loudness summation, ISO 532-1"),
		between("two tones of 60 dB in far bands, against one", sones(together(tone(16, 60), tone(24, 60)))/one, 1.8, 2.6, " times", "loudness summation, ISO 532-1"),
	}
}

// pitchChecks are what sounds where.
func pitchChecks() []check {
	even := 0
	for _, k := range []stopname.Known{stoppedDiapason, bourdon, quintaton} {
		for key := 24; key <= 108; key++ {
			for _, p := range Of(k, Options{}).Partials(key) {
				if p.Ratio.Mul(pitch.NewRatio(k.Pitch.Ratio().Den(), k.Pitch.Ratio().Num())).Num()%2 == 0 {
					even++
				}
			}
		}
	}
	var fundamentals []string
	for _, p := range Of(cornetV, Options{}).pipes(60) {
		fundamentals = append(fundamentals, p.ratio.String())
	}
	gain := func(n int64, with stopname.Known) float64 {
		level := func(d []Drawn) float64 {
			for _, p := range Partials(d, 60) {
				if p.Ratio == pitch.NewRatio(n, 1) {
					return p.Level
				}
			}
			return math.Inf(-1)
		}
		return level(drawn(openDiapason, with)) - level(drawn(openDiapason))
	}
	return []check{
		{"even partials of stopped pipes over seven octaves", fmt.Sprint(even), "0", "exact physics: a stopped pipe has odd partials", even == 0},
		{"fundamental of a 2 2/3′ rank against an 8′", Of(nazard, Options{}).Partials(60)[0].Ratio.String(), "3", "arithmetic: 8 / 2 2/3", Of(nazard, Options{}).Partials(60)[0].Ratio == pitch.NewRatio(3, 1)},
		{"fundamentals of a Cornet V", strings.Join(fundamentals, " "), "3 4 5 2 1", "WED31: 8 4 2 2/3 2 1 3/5", strings.Join(fundamentals, " ") == "3 4 5 2 1"},
		between("a Nazard strengthens the third partial of a Diapason by", gain(3, nazard), 0.5, 30, " dB", "arithmetic: it doubles the third partial"),
		near("a Nazard adds to the second partial of a Diapason", gain(2, nazard), 0, 0, " dB", "arithmetic: 3, 6, 9 only"),
		near("a Nazard adds to the fourth partial of a Diapason", gain(4, nazard), 0, 0, " dB", "arithmetic: 3, 6, 9 only"),
	}
}

// orderChecks hold over the whole compass, key by key.
func orderChecks() []check {
	brighter := func(what, source string, order ...stopname.Known) check {
		least := math.Inf(1)
		for key := 36; key <= 96; key++ {
			for i := 1; i < len(order); i++ {
				d := Between(HearKey(drawn(order[i]), key), HearKey(drawn(order[i-1]), key))
				least = min(least, d.Brightness)
			}
		}
		return check{what + ", least step C2 to C7", fmt.Sprintf("%.3f octaves", least), "above 0", source, least > 0}
	}
	loudest, softest := "", ""
	high, low := math.Inf(-1), math.Inf(1)
	for _, k := range append(slices.Clone(singleStops), cornetV, mixtureIII) {
		h := Hear(drawn(k), fourParts).Phon
		if h > high {
			high, loudest = h, k.Name
		}
		if h < low {
			low, softest = h, k.Name
		}
	}
	equalDB := func(k stopname.Known) float64 {
		s := Of(k, Options{})
		return HearKey([]Drawn{{Stop: s, Level: 60 - s.Level(66)}}, 66).Phon
	}
	return []check{
		brighter("flute, principal, chorus reed", "WB; Liljencrants 2000: more and stronger partials", claribel, openDiapason, trumpet),
		brighter("flute, principal, oboe", "as above", stoppedDiapason, openDiapason, oboe),
		brighter("wide, middling, narrow: Diapason, Geigen, Gamba, Viole", "Harris: narrow pipes have more overtones", openDiapason, geigen, gamba, violeOrchestre),
		brighter("wide and narrow stopped: Bourdon 8, Stopped Diapason", "Harris: third and fifth come out in narrow", at(bourdon, pitch.Foot(8)), stoppedDiapason),
		{"softest of single stops", fmt.Sprintf("%s %.1f phon", softest, low), "Dulciana", "Wedgwood p. 64: quiet, unobtrusive", softest == "Dulciana"},
		{"loudest of single stops", fmt.Sprintf("%s %.1f phon", loudest, high), "Tuba", "Locher: can stand against the Great", loudest == "Tuba"},
		between("a Claribel Flute of the same dB is heard less loud than a Diapason by", equalDB(openDiapason)-equalDB(claribel), 1, 15, " phon", "Pykett 2003: commonly judged softer though its level can be higher"),
	}
}

// boxChecks are the filter of a swell box.
func boxChecks() []check {
	wrong, fallen := 0, 0
	for band := range BandCount {
		hz := BandCentre(band)
		if !(Shut.Attenuation(hz) > Half.Attenuation(hz) && Half.Attenuation(hz) > Open.Attenuation(hz) && Open.Attenuation(hz) == 0) {
			wrong++
		}
		if band > 0 && Shut.Attenuation(hz) <= Shut.Attenuation(BandCentre(band-1)) {
			fallen++
		}
	}
	steepest := 0.0
	for band := 3; band < BandCount; band++ {
		steepest = max(steepest, Shut.Attenuation(BandCentre(band))-Shut.Attenuation(BandCentre(band-3)))
	}
	return []check{
		{"bands in which open, half and shut are not in that order", fmt.Sprint(wrong), "0", "common practice; St-Sulpice: shut, half, open", wrong == 0},
		{"bands in which a shut box takes off no more than in the band below", fmt.Sprint(fallen), "0", "mass law; Reissmann 1882: softer and more distant", fallen == 0},
		between("a shut box takes off at 63 Hz", Shut.Attenuation(63), 2, 6, " dB", "from memory"),
		between("a shut box takes off at 4 kHz", Shut.Attenuation(4000), 12, 20, " dB", "from memory: good boxes 10 to 20 dB, more in the treble"),
		between("steepest octave of a shut box", steepest, 1, 6, " dB", "mass law: at most 6 dB per octave"),
	}
}

// registrationChecks are what organists know of stops together.
func registrationChecks() []check {
	hear := func(d []Drawn) Heard { return Hear(d, fourParts) }
	add := func(k stopname.Known, to ...stopname.Known) Difference {
		return Between(hear(drawn(append(to, k)...)), hear(drawn(to...)))
	}
	fluteToPrincipal := add(stoppedDiapason, openDiapason)
	openFluteToPrincipal := add(claribel, openDiapason)
	unlike := Between(hear(drawn(fifteenth)), hear(drawn(piccolo)))
	choir := hear(placed(division.Choir, Box{}, claribel, flute4, piccolo))
	swell := func(b Box) Difference {
		return Between(hear(placed(division.Swell, b, stoppedDiapason, principal4, fifteenth)), choir)
	}
	shut, open := swell(Shut), swell(Open)
	return []check{
		between("a Fifteenth is louder than a 2′ flute by", unlike.Loudness, 6, 20, " phon", "common practice"),
		between("a Stopped Diapason added to an Open makes it louder by", fluteToPrincipal.Loudness, 0, 1.5, " phon", "common practice: hardly louder"),
		between("and brighter by", fluteToPrincipal.Brightness, -0.3, -0.001, " octaves", "common practice: less bright"),
		between("a Claribel Flute added to an Open makes it louder by", openFluteToPrincipal.Loudness, 0, 1.5, " phon", "common practice: hardly louder"),
		between("and brighter by", openFluteToPrincipal.Brightness, -0.3, -0.001, " octaves", "common practice: less bright"),
		between("Swell flute 8, principal 4, 2, box shut, against Choir flutes 8, 4, 2", shut.Loudness, -3, 3, " phon", "common practice: near"),
		between("and in colour", shut.Colour, 0, 4, " dB", "common practice: near"),
		between("the same, box open", open.Loudness, 6, 20, " phon", "common practice: far"),
		between("and in colour", open.Colour, 5, 20, " dB", "common practice: far"),
	}
}

// soloChecks are whether a line above chords stands out.
func soloChecks() []check {
	const source = "common practice"
	var solo, chords []Note
	for i, key := range []int{72, 74, 76, 77, 79, 77, 76, 74} {
		solo = append(solo, Note{key, float64(i), float64(i + 1)})
	}
	for i, keys := range [][]int{{48, 55, 60, 64}, {50, 57, 60, 65}} {
		for _, key := range keys {
			chords = append(chords, Note{key, float64(4 * i), float64(4*i + 4)})
		}
	}
	p := NewPassage(solo, chords)
	against := func(line []Drawn, with []Drawn) Prominence {
		a, b := p.Line(0), p.Line(1)
		for _, d := range line {
			a.Add(p.Sound(0, d))
		}
		for _, d := range with {
			b.Add(p.Sound(1, d))
		}
		return StandsOut(a, b)
	}
	soft := drawn(dulciana)
	full := drawn(openDiapason, principal4, fifteenth, mixtureIII, trumpet)
	return []check{
		between("Clarinet above Dulciana chords is over the masked threshold by", against(drawn(clarinet), soft).DB, 15, 60, " dB", source),
		between("Stopped Diapason above Dulciana chords", against(drawn(stoppedDiapason), soft).DB, 10, 60, " dB", source),
		between("Stopped Diapason above Stopped Diapason chords", against(drawn(stoppedDiapason), drawn(stoppedDiapason)).DB, 3, 25, " dB", source),
		between("Dulciana above full Great chords, part of the time made out", against(soft, full).Time, 0, 0, "", source),
		between("Tuba above full Great chords, part of the time made out", against(drawn(tuba), full).Time, 1, 1, "", "Locher: a Tuba can stand alone against the Great"),
	}
}

// dynamicChecks are the dynamic marks by what was drawn for them.
func dynamicChecks() []check {
	hear := func(d []Drawn) float64 { return Hear(d, fourParts).Phon }
	pp := hear(placed(division.Swell, Shut, salicional))
	p := hear(placed(division.Swell, Open, salicional, stoppedDiapason, named("Gemshorn 4")))
	f := hear(placed(division.Great, Box{}, openDiapason, stoppedDiapason, principal4, fifteenth))
	ff := hear(placed(division.Great, Box{}, openDiapason, stoppedDiapason, principal4, fifteenth, mixtureIII, trumpet, named("Double Open Diapason 16"), named("Clarion 4")))
	return []check{
		{"pp, p, f, ff: one soft 8′ shut in, soft 8′ and 4′, chorus to Fifteenth, full", fmt.Sprintf("%.0f %.0f %.0f %.0f phon", pp, p, f, ff), "each louder", "Mendelssohn, preface to op. 65 (from memory)", pp < p && p < f && f < ff},
		between("from pp to ff", ff-pp, 30, 60, " phon", "from memory: about 40 dB"),
	}
}

// surveyChecks hold the fall of loudness along the keyboard against the
// published survey.
func surveyChecks() []check {
	const source = "Harrison & Thompson-Allen 1996: 10 to 40 phon"
	var checks []check
	for _, k := range []stopname.Known{openDiapason, stoppedDiapason, claribel, gamba, dulciana, trumpet, oboe, clarinet} {
		middle := 0.0
		for key := 60; key < 72; key++ {
			middle = max(middle, HearKey(drawn(k), key).Phon)
		}
		bass := middle - HearKey(drawn(k), 36).Phon
		treble := middle - HearKey(drawn(k), 96).Phon
		checks = append(checks,
			between(k.Name+" 8 falls from the middle octave to C2 by", bass, 10, 40, " phon", source),
			between(k.Name+" 8 falls from the middle octave to C7 by", treble, 10, 40, " phon", source))
	}
	return checks
}
