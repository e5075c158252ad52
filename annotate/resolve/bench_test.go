package resolve_test

import (
	"fmt"
	"strings"
	"testing"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// largeOrgan has five manuals and 120 stops, most names of the trade among
// them, and the couplers of a large electric console.
func largeOrgan(t testing.TB) *registry.Organ {
	flues := []string{
		"Double Diapason 16", "Bourdon 16", "Open Diapason 8", "Geigen Diapason 8", "Stopped Diapason 8", "Harmonic Flute 8",
		"Viola da Gamba 8", "Dulciana 8", "Principal 4", "Flute 4", "Nazard 2 2/3", "Fifteenth 2", "Piccolo 2", "Tierce 1 3/5",
	}
	own := map[string][]string{
		"Choir":    {"Lieblich Gedackt 8", "Unda Maris 8", "Larigot 1 1/3", "Dulciana Mixture III", "Clarinet 8", "Cor Anglais 16"},
		"Great":    {"Hohl Flute 8", "Octave 4", "Mixture IV", "Sharp Mixture III", "Trumpet 8", "Clarion 4", "Double Trumpet 16"},
		"Swell":    {"Salicional 8", "Voix Celeste 8", "Mixture III", "Contra Fagotto 16", "Cornopean 8", "Oboe 8", "Vox Humana 8", "Clarion 4"},
		"Solo":     {"Viole d'Orchestre 8", "Orchestral Oboe 8", "French Horn 8", "Tuba 8", "Tuba Clarion 4", "Cornet V"},
		"Bombarde": {"Bombarde 16", "Trompette 8", "Clairon 4", "Fourniture V"},
	}
	pedal := []string{
		"Double Open 32", "Open Wood 16", "Open Metal 16", "Violone 16", "Bourdon 16", "Dulciana 16", "Octave 8", "Principal 8", "Bass Flute 8",
		"Violoncello 8", "Fifteenth 4", "Flute 4", "Mixture IV", "Contra Trombone 32", "Trombone 16", "Fagotto 16", "Trumpet 8", "Clarion 4", "Schalmey 4",
	}
	names := []string{"Choir", "Great", "Swell", "Solo", "Bombarde"}
	var list strings.Builder
	var couplers []string
	stops := 0
	for _, name := range names {
		all := append(append([]string(nil), flues...), own[name]...)
		stops += len(all)
		marks := "box, tremulant"
		if name == "Great" || name == "Bombarde" {
			marks = ""
		}
		fmt.Fprintf(&list, "%s [C2-C7, %s]: %s\n", name, marks, strings.Join(all, ", "))
		couplers = append(couplers, name+" to Pedal")
		for _, to := range names {
			if to == name {
				continue
			}
			couplers = append(couplers, name+" to "+to)
			if name == "Swell" || name == "Solo" {
				couplers = append(couplers, name+" to "+to+" 4", name+" to "+to+" 16")
			}
		}
		couplers = append(couplers, name+" Octave", name+" Unison Off", name+" Sub Octave")
	}
	stops += len(pedal)
	if stops != 120 {
		t.Fatalf("%d stops", stops)
	}
	fmt.Fprintf(&list, "Pedal [C2-G4]: %s\ncouplers: %s\norgan: action: electric", strings.Join(pedal, ", "), strings.Join(couplers, ", "))
	return tinyOrgan(t, list.String())
}

// manyPassages is a score of n passages, no two of which ask for the same.
func manyPassages(t testing.TB, n int) *passage.Score {
	solos := []string{
		"Gedackt 8, Nazard 2 2/3", "Oboe 8", "Clarinet 8", "Cornet V", "Flute 8, Flute 4", "Cromorne 8", "Trumpet 8", "Gamba 8", "Flute 4",
		"Flute 8, Tierce 1 3/5", "Vox Humana 8", "Harmonic Flute 8", "Cor Anglais 8", "Flute 8, Larigot 1 1/3", "Open Diapason 8", "Regal 8", "Musette 4",
	}
	grounds := []string{"Salicional 8", "Dulciana 8, Flute 4", "Flutes 8, 4", "Foundations 8", "Diapasons", "Stopped Diapason 8", "Viola 8", "Gemshorn 8, Flute 4", "Celestes", "Lieblich Gedackt 8", "Unda maris 8"}
	basses := []string{"Bourdon 16, Bass Flute 8", "16, 8", "soft 16", "Open Wood 16, Principal 8", "Reed 4", "Violone 16, Cello 8", "Trumpet 8"}
	choruses := []string{"to 15th", "Full", "Foundations", "to Mixtures", "to Principal", "Reeds", "Diapasons"}
	manuals := []string{"Gt.", "Sw.", "Ch.", "Solo"}
	kinds := []string{"solo rh", "trio", "chorus", "hymn", "pedal tune", "solo lh"}
	seen := map[string]bool{}
	var sections []section
	for i := 0; len(sections) < n; i++ {
		s := section{music: textures[kinds[i%len(kinds)]], rest: i%3 == 0}
		feet := "Ped. " + basses[i%len(basses)]
		if i%6 == 2 || i%6 == 3 {
			s.texts = []text{{"rh", fmt.Sprintf("%s %s", manuals[i/2%3], choruses[i/4%len(choruses)])}, {"between", []string{"Sw. to Gt.", "Ch. to Gt.", "Solo to Gt."}[i/3%3]}, {"feet", feet}}
		} else {
			s.texts = []text{
				{"rh", fmt.Sprintf("R.H. %s %s", manuals[i%4], solos[i%len(solos)])},
				{"lh", fmt.Sprintf("L.H. %s %s", manuals[(i+1+i/4%3)%4], grounds[i%len(grounds)])}, {"feet", feet},
			}
		}
		if key := fmt.Sprint(s.texts, s.music); !seen[key] {
			seen[key] = true
			sections = append(sections, s)
		}
	}
	asked := askedOf(t, sections, "en")
	if len(asked.Passages) != n {
		t.Fatalf("%d passages, not %d", len(asked.Passages), n)
	}
	return asked
}

// BenchmarkManyPassages is the time for scores of 50 to 400 passages, all of
// them different, on the large organ.
func BenchmarkManyPassages(b *testing.B) {
	organ := largeOrgan(b)
	for _, n := range []int{50, 100, 200, 400} {
		asked := manyPassages(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var plan *resolve.Plan
			for b.Loop() {
				plan = resolve.Resolve(asked, organ, resolve.Options{})
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/passage")
			b.ReportMetric(float64(plan.Cost-plan.Bound), "unproven")
		})
	}
}
