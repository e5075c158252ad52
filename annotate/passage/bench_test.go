package passage

import (
	"fmt"
	"strings"
	"testing"

	"stopgap/musicxml"
)

// BenchmarkRead reads scores of which each is ten times as long as the one
// before; the time for each measure and each direction should stay the same.
func BenchmarkRead(b *testing.B) {
	for _, measures := range []int{200, 2000, 20000} {
		for _, texts := range []int{1, 10} {
			score := longSketch(b, measures, texts)
			b.Run(fmt.Sprintf("measures=%d/texts=%d", measures, texts), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					s, err := Read(score, Options{})
					if err != nil || len(s.Passages) < measures {
						b.Fatal(err, len(s.Passages))
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*measures), "ns/measure")
			})
		}
	}
}

// longSketch has so many measures, and texts in each, all of which change
// something.
func longSketch(tb testing.TB, measures, texts int) *musicxml.Score {
	var b strings.Builder
	fmt.Fprintf(&b, "part Organ: G F P\nmeasures %d\n", measures)
	changes := []string{"Sw. Oboe 8", "Gt. Open Diapason 8", "add Principal 4", "L.H. Ch.", "box shut", "Gt. Full Organ", "Sw.", "open box", "both hands Gt.", "Principal off"}
	for m := 1; m <= measures; m++ {
		for i := range texts {
			fmt.Fprintf(&b, "text 1.1 %d.%g: %s\n", m, 1+0.4*float64(i), changes[(m+i)%len(changes)])
		}
		fmt.Fprintf(&b, "dynamic 1.1 %d: p\nhairpin 1.1 %d: crescendo\n", m, m)
	}
	return parseSketch(tb, b.String()).score(tb)
}
