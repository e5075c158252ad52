package pitch

import (
	"fmt"
	"strconv"
	"strings"
)

// Feet is the speaking length of a rank's longest pipe, in feet: how a pitch
// is written on a knob. The zero Feet means that none is given.
type Feet struct{ r Ratio }

// Foot returns whole feet.
func Foot(n int64) Feet { return Feet{NewRatio(n, 1)} }

// FeetOf returns num/den feet; FeetOf(8, 3) is 2⅔′.
func FeetOf(num, den int64) Feet { return Feet{NewRatio(num, den)} }

// FeetSounding returns the length whose rank sounds at r: FeetSounding(3) is 2⅔′.
func FeetSounding(r Ratio) Feet {
	if r.IsZero() {
		return Feet{}
	}
	return Feet{NewRatio(8*r.den, r.num)}
}

// IsZero reports whether no pitch is given.
func (f Feet) IsZero() bool { return f.r.IsZero() }

// Ratio is where the rank sounds against the key: 8/F.
func (f Feet) Ratio() Ratio {
	if f.IsZero() {
		return Ratio{}
	}
	return NewRatio(8*f.r.den, f.r.num)
}

// Cmp orders by length: the longer (lower) pitch is the greater.
func (f Feet) Cmp(g Feet) int { return f.r.Cmp(g.r) }

// Octaves is the pitch that sounds n octaves higher: 8′ by 1 is 4′.
func (f Feet) Octaves(n int) Feet {
	if f.IsZero() {
		return f
	}
	return Feet{f.r.Octaves(-n)}
}

// IsMutation reports whether the rank sounds something else than an octave
// or unison of the key.
func (f Feet) IsMutation() bool {
	if f.IsZero() {
		return false
	}
	r := f.Ratio()
	return r.num&(r.num-1) != 0 || r.den&(r.den-1) != 0
}

// String writes the mixed number of the trade without a prime: "8", "2 2/3".
func (f Feet) String() string {
	if f.IsZero() {
		return ""
	}
	whole, rest := f.r.num/f.r.den, f.r.num%f.r.den
	switch {
	case rest == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", rest, f.r.den)
	}
	return fmt.Sprintf("%d %d/%d", whole, rest, f.r.den)
}

// ParseFeet reads what String writes.
func ParseFeet(s string) (Feet, error) {
	bad := fmt.Errorf("%q is not a pitch in feet such as 8 or 2 2/3", s)
	var total Ratio
	for i, field := range strings.Fields(s) {
		num, den, isFraction := strings.Cut(field, "/")
		n, err := strconv.ParseInt(num, 10, 16)
		if err != nil || n <= 0 || i > 1 || (i == 1) != (isFraction && !total.IsZero()) {
			return Feet{}, bad
		}
		d := int64(1)
		if isFraction {
			if d, err = strconv.ParseInt(den, 10, 16); err != nil || d <= 0 {
				return Feet{}, bad
			}
		}
		if total.IsZero() {
			total = NewRatio(n, d)
		} else {
			total = NewRatio(total.num*d+n*total.den, total.den*d)
		}
	}
	if total.IsZero() {
		return Feet{}, bad
	}
	return Feet{total}, nil
}
