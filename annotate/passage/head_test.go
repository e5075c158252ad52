package passage

import (
	"fmt"
	"strings"
	"testing"
)

// TestHead: what stands outside the music is a registration or it is none.
func TestHead(t *testing.T) {
	const organ = "part Organ: G F P\n"
	for _, c := range []struct{ name, score, want string }{
		{"a block without a type", organ + `credit left 10: Sw. Oboe 8\nGt. Diapasons`, "heading"},
		{"a line on the left", organ + "credit left 10: Gt. Open Diapason 8, Principal 4", "heading"},
		{"one stop with its feet", organ + "credit left 10: Trompette 8'", "heading"},
		{"couplers alone", organ + "credit left 10: Sw. to Gt., Gt. to Ped.", "heading"},
		{"two stops of a division", organ + "credit left 10: R. Gambe et Voix Céleste", "heading"},
		{"hands", organ + "credit left 10: R.H. Ch., L.H. Sw.", "heading"},
		{"a registration that is centred", organ + `credit center 10: Swell: Oboe 8\nGreat: Stopped Diapason 8`, "heading"},
		{"as a subtitle", organ + "credit center 12 subtitle: Positif: Cromorne 8, Récit: Cornet 8", "subtitle"},
		{"two manuals", organ + "credit center 12: für zwei Manuale und Pedal", "heading"},
		{"two manuals, short", organ + "credit center 12: a 2 Clav. e Ped.", "heading"},
		{"the title", organ + "title Trumpet Tune for Solo Tuba 8\ncredit center 24: Trumpet Tune for Solo Tuba 8", ""},
		{"the title by its type", organ + "credit center 24 title: Swell Oboe 8, Great Trumpet 8", ""},
		{"the largest line", organ + "credit center 30: Cornet Voluntary 8\ncredit right 10: anon.", ""},
		{"a line of verse", organ + "credit left 10: The trumpet shall sound and the great choir sing", ""},
		{"more verse", organ + `credit left 10: Swell the full chorus, let trumpet and flute\nwith the organ unite`, ""},
		{"an arranger", organ + "credit right 10: arranged for Great Organ by A. Principal", ""},
		{"a transcription", organ + "credit center 12: Transcription pour Grand Orgue", ""},
		{"a footer", organ + "credit foot 8: Swell Music 8, Great Road", ""},
		{"a composer", organ + "credit right 10 composer: Gedackt 8, Nazard 2 2/3", ""},
		{"a number", organ + "credit left 10: No. 8", ""},
		{"a tempo", organ + "credit left 10: Andante con moto", ""},
		{"the name of the one part", "part Great Organ: G F P", ""},
		{"parts called after stops", "part Cornet 8: g\npart Bourdon 8, Flûte 4: F\npart Pédale: P", "part name, part name"},
		{"parts called after manuals", "part Récit: g\npart Positif: F\npart Pédale: P", "part name, part name"},
		{"parts called after hands", "part R.H.: g\npart L.H.: F\npart Ped.: P", ""},
		{"parts that are called an organ", "part Organ: g\npart Organ: F\npart Pedal: P", ""},
		{"a pedal part with its stops", "part Organ: G F\npart Pedal 16, 8: P", "part name"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := Read(parseSketch(t, c.score).score(t), Options{})
			if err != nil {
				t.Fatal(err)
			}
			var found []string
			for _, x := range s.Texts {
				found = append(found, string(x.Source))
			}
			if got := strings.Join(found, ", "); got != c.want {
				t.Errorf("%s\n got %q, want %q", c.score, got, c.want)
			}
		})
	}
}

// TestTextsInPieces: what stands at one place is one text; dynamics are told
// from it wherever the file has them.
func TestTextsInPieces(t *testing.T) {
	words := func(pieces ...string) string {
		return "<words>" + strings.Join(pieces, "</words><words>") + "</words>"
	}
	for _, c := range []struct {
		name       string
		directions []string
		want       []string // text, and the dynamic in brackets
	}{
		{"fonts within a word", []string{words("G", "t. Dia", "pasons")}, []string{"Gt. Diapasons []"}},
		{"a dynamic in its own font", []string{words("p ", "Sw. Oboe 8")}, []string{"Sw. Oboe 8 [p]"}},
		{"a dynamic on its own", []string{words("mf")}, []string{"mf [mf]"}},
		{"a dynamic sign before words", []string{"<dynamics><f/></dynamics></direction-type><direction-type>" + words("Gt. Diap'ns")}, []string{"Gt. Diap'ns [f]"}},
		{"a dynamic in a direction of its own", []string{words("p"), words("Sw. Oboe 8")}, []string{"Sw. Oboe 8 [p]"}},
		{"words that only begin like one", []string{words("f", "ull Sw.")}, []string{"ull Sw. [f]"}},
		{"above one another", []string{words("Gt. Diapasons"), words("Sw. Oboe 8")}, []string{"Gt. Diapasons\nSw. Oboe 8 []"}},
		{"a box", []string{"<rehearsal>Gt. Diapasons</rehearsal>"}, []string{"Gt. Diapasons []"}},
		{"another direction", []string{"<other-direction>Gt. Diapasons</other-direction>"}, []string{"Gt. Diapasons []"}},
		{"one that is not printed", []string{`<other-direction print-object="no">Gt. Diapasons</other-direction>`}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := parseSketch(t, "part Organ: G F P")
			for _, d := range c.directions {
				s.parts[0].directions[1] = append(s.parts[0].directions[1], directionXML(d, 1, "", "above"))
			}
			read, err := Read(s.score(t), Options{})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, x := range read.Texts {
				got = append(got, fmt.Sprintf("%s [%s]", x.Text, x.Dynamics))
			}
			if strings.Join(got, "; ") != strings.Join(c.want, "; ") {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestLanguage(t *testing.T) {
	for _, c := range []struct{ name, score, want string }{
		{"English", "part Organ: G F\ntext 1.1 1: Sw. Oboe and Stopped Diapason", "en"},
		{"French", "part Organ: G F\ntext 1.1 1: Récit: Voix céleste, boîte fermée", "fr"},
		{"German", "part Organ: G F\ntext 1.1 1: HW: Prinzipal 8', Zungen ab", "de"},
		{"Dutch", "part Organ: G F\ntext 1.1 1: Hoofdwerk: Prestant 8 vt, met tongwerken", "nl"},
		{"Italian", "part Organ: G F\ntext 1.1 1: G.O.: Ripieno, togliere le ance", "it"},
		{"Spanish", "part Organ: G F\ntext 1.1 1: Órgano Mayor: añadir lengüetería", "es"},
		{"tempo in Italian, stops in French", "part Organ: G F\ntext 1.1 1: Allegro\ntext 1.1 2: Ôtez les anches du Positif\ntext 1.1 3: poco ritardando", "fr"},
		{"one direction in another language", "part Organ: G F\ntext 1.1 1: Sw. Oboe and Stopped Diapason\ntext 1.1 2: Swell box closed\ntext 1.1 3: boîte fermée", "en"},
		{"nothing but the title", "part Organ: G F\ntitle Nun bitten wir den heiligen Geist", "de"},
		{"an English title", "part Organ: G F\ntitle Glory to God in the highest", "en"},
		{"a French title", "part Organ: G F\ntitle Élévation pour les fêtes de la Vierge", "fr"},
		{"the part's name", "part Orgue: G F P", "fr"},
		{"what is printed above", "part : G F P\ncredit center 12: für Orgel", "de"},
		{"the file says so", "part Organ: G F\nlang 1.1 1 nl: Rustig", "nl"},
		{"nothing tells", "part Organ: G F\ntext 1.1 1: Ped.", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := languageOf(parseSketch(t, c.score).score(t)); got != c.want {
				t.Errorf("%s\n got %q, want %q", c.score, got, c.want)
			}
		})
	}
}

func TestNumberPairs(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"II (REC) Fonds doux 8', 4'", "man2=swell"},
		{"I (GO)", "man1=great"},
		{"I. Man. (Hauptwerk)", "man1=great"},
		{"Swell (III)", "man3=swell"},
		{"Man. II = Rückpositiv", "man2=positive"},
		{"I: Hauptwerk\nII: Schwellwerk", "man1=great man2=swell"},
		{"I HW Prinzipal 8'", "man1=great"},
		{"Clavier III (Récit)", "man3=swell"},
		{"Mixture IV (Sw.)", ""},
		{"II: Sw. to Gt.", ""},
		{"II/I", ""},
		{"Ped. (I)", ""},
		{"Gt. to Ped.", ""},
		{"I fondi", ""},
		{"", ""},
	} {
		var got []string
		for _, p := range numberPairs(c.text) {
			got = append(got, fmt.Sprintf("man%d=%s", p.number, p.role))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q: %v, want %s", c.text, got, c.want)
		}
	}
}
