package musicxml

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
)

// A Time is a moment or a span in quarter notes, exact: a fraction in lowest
// terms. Moments count from the start of the part. The zero Time is 0. Times
// are comparable with ==.
//
// The arithmetic is checked: a result too large for 64 bits is not a wrong
// number but an invalid Time, and everything computed from that is invalid
// too. [Read] refuses a score whose times are invalid, so those of a Score
// never are.
type Time struct{ num, den1 int64 } // the value is num/(den1+1), so that the zero value is 0

// invalidTime has the denominator 0.
var invalidTime = Time{0, -1}

// Whole returns n quarter notes.
func Whole(n int64) Time { return Time{n, 0} }

// NewTime returns num/den quarter notes. A den of 0 gives an invalid Time.
func NewTime(num, den int64) Time {
	if den == 0 || num == math.MinInt64 || den == math.MinInt64 {
		return invalidTime
	}
	if den < 0 {
		num, den = -num, -den
	}
	if den == 1 {
		return Time{num, 0}
	}
	if g := gcd(num, den); g != 1 {
		num, den = num/g, den/g
	}
	return Time{num, den - 1}
}

// ParseTime reads a whole number or a decimal, as MusicXML writes durations
// and divisions ("4", "0.5"), and the fraction that String writes ("5/2").
func ParseTime(s string) (Time, error) {
	s = strings.TrimSpace(s)
	bad := fmt.Errorf("%q is not a number", shorten(s))
	if num, den, ok := strings.Cut(s, "/"); ok {
		n, err1 := strconv.ParseInt(num, 10, 64)
		d, err2 := strconv.ParseInt(den, 10, 64)
		if t := NewTime(n, d); err1 == nil && err2 == nil && t.Valid() {
			return t, nil
		}
		return Time{}, bad
	}
	whole, decimals, _ := strings.Cut(s, ".")
	decimals = strings.TrimRight(decimals, "0")
	if decimals == "" {
		n, err := strconv.ParseInt(strings.TrimPrefix(whole, "+"), 10, 64)
		if err != nil || n == math.MinInt64 {
			return Time{}, bad
		}
		return Whole(n), nil
	}
	if len(decimals) > 15 || strings.ContainsAny(decimals, "+-_") {
		return Time{}, bad
	}
	n, err := strconv.ParseInt(strings.TrimPrefix(whole, "+")+decimals, 10, 64)
	if err != nil || n == math.MinInt64 {
		return Time{}, bad
	}
	den := int64(1)
	for range decimals {
		den *= 10
	}
	return NewTime(n, den), nil
}

// Valid reports whether t is a number: no step on the way to it overflowed.
func (t Time) Valid() bool { return t.den1 >= 0 }

// Num is the numerator in lowest terms.
func (t Time) Num() int64 { return t.num }

// Den is the denominator in lowest terms: positive, or 0 if t is invalid.
func (t Time) Den() int64 { return t.den1 + 1 }

// Add returns t + u.
func (t Time) Add(u Time) Time {
	if t.den1 == u.den1 && t.Valid() {
		sum, ok := add64(t.num, u.num)
		if !ok {
			return invalidTime
		}
		return NewTime(sum, t.Den())
	}
	if !t.Valid() || !u.Valid() {
		return invalidTime
	}
	g := gcd(t.Den(), u.Den())
	left, ok1 := mul64(t.num, u.Den()/g)
	right, ok2 := mul64(u.num, t.Den()/g)
	den, ok3 := mul64(t.Den()/g, u.Den())
	sum, ok4 := add64(left, right)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return invalidTime
	}
	return NewTime(sum, den)
}

// Neg returns -t.
func (t Time) Neg() Time { return Time{-t.num, t.den1} }

// Sub returns t - u.
func (t Time) Sub(u Time) Time { return t.Add(u.Neg()) }

// Mul returns t * u.
func (t Time) Mul(u Time) Time {
	if !t.Valid() || !u.Valid() {
		return invalidTime
	}
	g, h := gcd(t.num, u.Den()), gcd(u.num, t.Den())
	num, ok1 := mul64(t.num/g, u.num/h)
	den, ok2 := mul64(t.Den()/h, u.Den()/g)
	if !ok1 || !ok2 {
		return invalidTime
	}
	return NewTime(num, den)
}

// Div returns t / u, invalid if u is 0.
func (t Time) Div(u Time) Time {
	if !u.Valid() || u.num == 0 {
		return invalidTime
	}
	return t.Mul(NewTime(u.Den(), u.num))
}

// Cmp is -1, 0 or 1 as t is before, at or after u. An invalid Time comes
// after every valid one.
func (t Time) Cmp(u Time) int {
	if t == u {
		return 0
	}
	if !t.Valid() || !u.Valid() {
		if t.Valid() {
			return -1
		}
		return 1
	}
	if t.den1 == u.den1 {
		if t.num < u.num {
			return -1
		}
		return 1
	}
	if s, r := t.Sign(), u.Sign(); s != r {
		if s < r {
			return -1
		}
		return 1
	}
	// Both have the same sign, which is not 0: compare the cross products in 128 bits.
	hi1, lo1 := bits.Mul64(abs64(t.num), uint64(u.Den()))
	hi2, lo2 := bits.Mul64(abs64(u.num), uint64(t.Den()))
	less := hi1 < hi2 || hi1 == hi2 && lo1 < lo2
	if less == (t.num > 0) {
		return -1
	}
	return 1
}

// Less reports whether t is before u.
func (t Time) Less(u Time) bool { return t.Cmp(u) < 0 }

// IsZero reports whether t is 0.
func (t Time) IsZero() bool { return t == Time{} }

// Sign is -1, 0 or 1 as t is negative, 0 or positive.
func (t Time) Sign() int {
	switch {
	case t.num < 0:
		return -1
	case t.num > 0:
		return 1
	}
	return 0
}

// Float64 is the nearest floating-point number, for drawing and for loudness,
// never for comparing moments. An invalid Time gives NaN.
func (t Time) Float64() float64 {
	if !t.Valid() {
		return math.NaN()
	}
	return float64(t.num) / float64(t.Den())
}

// String writes a whole number or a fraction: "3", "5/2".
func (t Time) String() string {
	switch t.Den() {
	case 0:
		return "invalid"
	case 1:
		return strconv.FormatInt(t.num, 10)
	}
	return strconv.FormatInt(t.num, 10) + "/" + strconv.FormatInt(t.Den(), 10)
}

// Mixed writes a whole number and a fraction in plain characters: "2 1/2".
func (t Time) Mixed() string {
	if t.Den() <= 1 || t.num < 0 {
		return t.String()
	}
	whole, rest := t.num/t.Den(), t.num%t.Den()
	if whole == 0 {
		return t.String()
	}
	return fmt.Sprintf("%d %d/%d", whole, rest, t.Den())
}

// vulgarFractions are the fractions that Unicode has a character for.
var vulgarFractions = map[[2]int64]string{
	{1, 2}: "½", {1, 3}: "⅓", {2, 3}: "⅔", {1, 4}: "¼", {3, 4}: "¾",
	{1, 5}: "⅕", {2, 5}: "⅖", {3, 5}: "⅗", {4, 5}: "⅘", {1, 6}: "⅙", {5, 6}: "⅚",
	{1, 7}: "⅐", {1, 8}: "⅛", {3, 8}: "⅜", {5, 8}: "⅝", {7, 8}: "⅞", {1, 9}: "⅑", {1, 10}: "⅒",
}

// Printed writes the number as a musician prints a beat: "2½", "3⅓"; where
// there is no character for the fraction, as Mixed does: "1 3/16".
func (t Time) Printed() string {
	if t.Den() <= 1 || t.num < 0 {
		return t.String()
	}
	whole, rest := t.num/t.Den(), t.num%t.Den()
	fraction, ok := vulgarFractions[[2]int64{rest, t.Den()}]
	if !ok {
		return t.Mixed()
	}
	if whole == 0 {
		return fraction
	}
	return strconv.FormatInt(whole, 10) + fraction
}

// Decimal writes the number with decimals: exactly where that is possible
// ("2.5"), otherwise as String does ("7/3").
func (t Time) Decimal() string {
	scaled, places := t, 0
	for ; scaled.Den() > 1; places++ {
		if places == 18 {
			return t.String()
		}
		scaled = scaled.Mul(Whole(10))
	}
	if places == 0 || !scaled.Valid() {
		return t.String()
	}
	sign := ""
	if scaled.num < 0 {
		sign = "-"
	}
	digits := fmt.Sprintf("%0*d", places+1, abs64(scaled.num))
	point := len(digits) - places
	return sign + digits[:point] + "." + digits[point:]
}

func gcd(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, 1)
}

func abs64(a int64) uint64 {
	if a < 0 {
		return uint64(-a)
	}
	return uint64(a)
}

func add64(a, b int64) (int64, bool) {
	c := a + b
	return c, (c > a) == (b > 0) && c != math.MinInt64
}

func mul64(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(abs64(a), abs64(b))
	if hi != 0 || lo > math.MaxInt64 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}
