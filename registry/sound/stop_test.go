package sound

import (
	"math"
	"testing"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// TestKinds holds what kind of pipe a name is taken for, in six languages.
func TestKinds(t *testing.T) {
	for _, c := range []struct{ lang, knob, kind string }{
		{"en", "Open Diapason 8", "principal"}, {"de", "Prinzipal 8", "principal"}, {"fr", "Montre 8", "principal"}, {"nl", "Prestant 8", "principal"},
		{"it", "Principale 8", "principal"}, {"es", "Flautado de 13", "principal"}, {"en", "Twelfth 2 2/3", "principal"},
		{"en", "Open Wood 16", "open wood"}, {"en", "Large Open Diapason 8", "wide principal"}, {"de", "Geigenprinzipal 8", "geigen"},
		{"en", "Gemshorn 4", "gemshorn"}, {"de", "Gemshorn 8", "gemshorn"}, {"de", "Spitzflöte 4", "spitz flute"},
		{"en", "Dulciana 8", "soft diapason"}, {"en", "Salicional 8", "soft string"}, {"fr", "Viole de gambe 8", "string"}, {"en", "Viole d'Orchestre 8", "keen string"},
		{"en", "Voix Celeste 8", "soft string"}, {"en", "Dulciana Celeste 8", "soft diapason"}, {"de", "Unda maris 8", "stopped flute"}, {"it", "Voce umana 8", "soft diapason"},
		{"en", "Claribel Flute 8", "open flute"}, {"fr", "Flûte harmonique 8", "harmonic flute"}, {"en", "Stopped Diapason 8", "stopped flute"},
		{"de", "Gedackt 8", "stopped flute"}, {"fr", "Bourdon 16", "bourdon"}, {"de", "Subbass 16", "bourdon"}, {"de", "Rohrflöte 8", "chimney flute"},
		{"nl", "Roerfluit 4", "chimney flute"}, {"de", "Quintadena 16", "quintaton"}, {"fr", "Nasard 2 2/3", "mutation flute"},
		{"en", "Trumpet 8", "chorus reed"}, {"fr", "Trompette 8", "chorus reed"}, {"fr", "Clairon 4", "chorus reed"}, {"fr", "Bombarde 16", "bass reed"},
		{"de", "Posaune 16", "bass reed"}, {"en", "Tuba 8", "round reed"}, {"fr", "Trompette en chamade 8", "bright reed"}, {"en", "Oboe 8", "oboe"},
		{"fr", "Hautbois 8", "oboe"}, {"en", "Cor Anglais 8", "cor anglais"}, {"en", "Orchestral Oboe 8", "oboe"}, {"en", "Clarinet 8", "clarinet"},
		{"fr", "Cromorne 8", "cromorne"}, {"de", "Krummhorn 8", "cromorne"}, {"de", "Regal 8", "regal"}, {"fr", "Voix humaine 8", "vox humana"}, {"en", "French Horn 8", "horn"},
		{"fr", "Cornet V", "mutation flute"}, {"en", "Mixture III", "principal"}, {"en", "Dulciana Mixture III", "soft diapason"},
	} {
		k := stopname.Resolve(c.knob, stopname.Place{Lang: c.lang})
		if got := Of(k, Options{}).kind.kind; got != c.kind {
			t.Errorf("%s (%s, %s %q): %s, want %s", c.knob, c.lang, k.Family, k.Subfamily, got, c.kind)
		}
	}
}

// TestEveryKindOfName has a row of its own, not only its family's.
func TestEveryKindOfName(t *testing.T) {
	for family := stopname.Principal; family <= stopname.Cornet; family++ {
		k := stopname.Known{Name: "?", Family: family, Pitch: pitch.Foot(8), Loudness: 3}
		if level := Of(k, Options{}).Level(middleC); math.IsInf(level, 0) || math.IsNaN(level) {
			t.Errorf("%s without a kind: %v dB", family, level)
		}
	}
	if h := HearKey(drawn(stopname.Known{Name: "Glockenspiel", Subfamily: stopname.KindPercussion}), 60); h.Sones != 0 {
		t.Errorf("bells sound as pipes: %v sone", h.Sones)
	}
}

func TestUnknownIsPlain(t *testing.T) {
	unknown := Of(stopname.Known{Name: "Xyz"}, Options{})
	plain := Of(stopname.Known{Name: "Principal", Family: stopname.Principal, Pitch: pitch.Foot(8), Loudness: 3}, Options{})
	if a, b := unknown.Level(60), plain.Level(60); a != b {
		t.Errorf("unknown %v dB, a principal of the third class %v", a, b)
	}
}

func TestLevels(t *testing.T) {
	level := func(k stopname.Known, o Options) float64 { return Of(k, o).Level(66) }
	if d := level(openDiapason, Options{Level: -2.5}) - level(openDiapason, Options{}); math.Abs(d+2.5) > 1e-9 {
		t.Errorf("the organ file's −2.5 dB make %v", d)
	}
	if d := level(openDiapason, Options{Division: division.Choir}) - level(openDiapason, Options{Division: division.Great}); d >= 0 {
		t.Errorf("on the Choir %v dB more than on the Great", d)
	}
	softer := openDiapason
	softer.Loudness = 4
	if d := level(openDiapason, Options{}) - level(softer, Options{}); math.Abs(d-5) > 1e-9 {
		t.Errorf("a class is %v dB", d)
	}
	// The class is what is heard: two kinds of one class are equally loud.
	for _, k := range []stopname.Known{openDiapason, claribel, gamba, oboe, quintaton} {
		k.Loudness = 3
		if got := HearKey([]Drawn{{Stop: Of(k, Options{}), Level: -known().kindOf(k, fold(k.Entry)).level}}, middleOctave).Phon; math.Abs(got-referencePhon) > 0.05 {
			t.Errorf("%s of the third class: %.2f phon, want %v", k.Name, got, referencePhon)
		}
	}
}

func TestCompassIsOfTheChest(t *testing.T) {
	s := Of(openDiapason, Options{Low: 48, High: 96})
	for key, speaks := range map[int]bool{47: false, 48: true, 96: true, 97: false, -1: false, 200: false} {
		if got := len(s.Partials(key)) > 0; got != speaks {
			t.Errorf("key %d speaks: %v", key, got)
		}
		if got := !math.IsInf(s.Level(key), -1); got != speaks {
			t.Errorf("key %d has a level: %v", key, got)
		}
	}
	// A coupler runs out where the chest does.
	if h := HearKey([]Drawn{{Stop: s, Octave: 1}}, 85); h.Sones != 0 {
		t.Errorf("an octave coupler sounds %v sone above the chest", h.Sones)
	}
	if h := HearKey([]Drawn{{Stop: s, Octave: -1}}, 60); h.Sones == 0 {
		t.Error("a sub-octave coupler does not sound at the lowest key of the chest")
	}
}

func TestHighPipesBreakBack(t *testing.T) {
	s := Of(named("Twenty-second 1"), Options{})
	for key := 36; key <= 96; key++ {
		if at := s.pipes(key)[0].pitchAt(key); at > highestPipe {
			t.Errorf("key %d has a pipe at %v", key, at)
		}
	}
	if got := s.Partials(90)[0].Ratio; got != pitch.NewRatio(4, 1) {
		t.Errorf("a 1′ stop at F#6 sounds at %v, want an octave back, 4", got)
	}
}

func TestCelesteBeats(t *testing.T) {
	sharp := Of(named("Voix Celeste 8"), Options{})
	last := 0.0
	for key := 36; key <= 96; key += 12 {
		beat := sharp.Beat(key)
		if beat <= last || beat > 10 {
			t.Errorf("key %d beats %.2f times a second after %.2f", key, beat, last)
		}
		last = beat
	}
	if p := sharp.Partials(60)[0]; p.Cents <= 0 {
		t.Errorf("a sharp celeste is %v cents off", p.Cents)
	}
	if Of(openDiapason, Options{}).Beat(60) != 0 {
		t.Error("a Diapason beats")
	}
	pair := named("Voix Celeste 8")
	pair.Ranks = 2
	two := Of(pair, Options{})
	if d := two.Level(60) - sharp.Level(60); math.Abs(d) > 1e-9 {
		t.Errorf("a celeste of two ranks is %v dB louder than its class", d)
	}
	if p := two.Partials(60); len(p) < 2 || p[0].Cents != 0 || p[1].Cents == 0 {
		t.Errorf("a celeste of two ranks begins %+v", p[:2])
	}
}

func TestTenths(t *testing.T) {
	for x, want := range map[float64]int{0: 0, 0.04: 0, 0.06: 1, -0.04: 0, -0.06: -1, 3.01: 30, 0.25: 3, 0.25 + 1e-12: 3, 0.25 - 1e-12: 3, -0.25: -2, -0.25 - 1e-12: -2} {
		if got := Tenths(x); got != want {
			t.Errorf("%v is %d tenths, want %d", x, got, want)
		}
	}
}
