// Package pitch is the arithmetic of organ pitches: how long a rank's longest
// pipe is, in feet, and where that sounds against the key that is pressed.
//
// All of it is exact. A rank of F feet sounds the key's note times 8/F, so a
// pitch is a ratio of small whole numbers and never a decimal.
package pitch

import "fmt"

// A Ratio is a positive fraction in lowest terms: the frequency that sounds
// over the frequency of the key's own 8′ pitch. 4′ is 2, 2⅔′ is 3, 16′ is ½.
// The zero Ratio means "no pitch" and is not a frequency.
type Ratio struct{ num, den int64 }

// NewRatio returns num/den in lowest terms. It panics unless both are
// positive: a caller that reads a pitch from a file uses a Parse function.
func NewRatio(num, den int64) Ratio {
	if num <= 0 || den <= 0 {
		panic(fmt.Sprintf("pitch: ratio %d/%d is not positive", num, den))
	}
	g := gcd(num, den)
	return Ratio{num / g, den / g}
}

// Num is the numerator, 0 for the zero Ratio.
func (r Ratio) Num() int64 { return r.num }

// Den is the denominator, 0 for the zero Ratio.
func (r Ratio) Den() int64 { return r.den }

// IsZero reports whether r is "no pitch".
func (r Ratio) IsZero() bool { return r.num == 0 }

// Mul multiplies two ratios.
func (r Ratio) Mul(s Ratio) Ratio {
	if r.IsZero() || s.IsZero() {
		return Ratio{}
	}
	return NewRatio(r.num*s.num, r.den*s.den)
}

// Octaves moves r up by n octaves (down where n is negative).
func (r Ratio) Octaves(n int) Ratio {
	for ; n > 0; n-- {
		r = r.Mul(Ratio{2, 1})
	}
	for ; n < 0; n++ {
		r = r.Mul(Ratio{1, 2})
	}
	return r
}

// Cmp compares two ratios as numbers: -1, 0 or +1.
func (r Ratio) Cmp(s Ratio) int {
	a, b := r.num*max(s.den, 1), s.num*max(r.den, 1)
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Float is the ratio as a floating-point number, for acoustics only.
func (r Ratio) Float() float64 {
	if r.den == 0 {
		return 0
	}
	return float64(r.num) / float64(r.den)
}

// String writes "3" or "3/2"; "" for the zero Ratio.
func (r Ratio) String() string {
	switch {
	case r.IsZero():
		return ""
	case r.den == 1:
		return fmt.Sprint(r.num)
	}
	return fmt.Sprintf("%d/%d", r.num, r.den)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
