// Package musicxml is the score: its bytes, an index into them, and the music
// that they hold, as far as an annotator needs it. It knows nothing of organs.
package musicxml

// A Time is a moment or a span in quarter notes, exact: a fraction in lowest
// terms. Moments count from the start of the part. The zero Time is 0.
type Time struct{ num, den1 int64 } // the value is num/(den1+1), so that the zero value is 0
