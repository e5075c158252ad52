package direction

import (
	"strings"
	"testing"
)

// longTexts are texts of a megabyte, of kinds that a careless reader would
// take long over.
func longTexts() map[string]string {
	fill := func(s string) string { return strings.Repeat(s, 1<<20/len(s)) }
	return map[string]string{
		"directions": fill("Sw. Oboe and Stopped Diap.; Gt. to Fifteenth, Sw. to Gt. Récit: Voix humaine, trémolo. II/I ab. "),
		"one list":   fill("Sw., Gt. & "),
		"pitches":    fill("8, 4, 2 2/3 & "),
		"dots":       fill("Abcd. Efgh. "),
		"prose":      fill("when in the course of human events it becomes necessary "),
		"one word":   fill("x"),
		"open":       fill("("),
		"and":        fill("and "),
		"letters":    fill("G. P. R. "),
		"spaces":     fill("          ."),
		"lines":      fill("Gt.\n"),
		"articles":   fill("the a "),
		"strengths":  fill("all very soft "),
		"slowly":     fill("gradually "),
		"melodies":   fill("melody solo "),
		"octaves":    fill("sub & super "),
		"names":      fill("8' Flute "),
		"commas":     fill("8,,8, "),
		"couplers":   fill("coupled to Sw. and "),
		"unread":     fill("Sw. Xylem 8' "),
		"roman":      fill("I II "),
		"verbs":      fill("add without Sw. off "),
	}
}

func BenchmarkReadMegabyte(b *testing.B) {
	for name, text := range longTexts() {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				Read(text, Context{})
			}
		})
	}
}

func BenchmarkReadDirection(b *testing.B) {
	for b.Loop() {
		Read("Sw. Oboe and Stopped Diap.\nGt. Clarabella\nPed. Bourdon, Sw. to Ped.", Context{})
	}
}
