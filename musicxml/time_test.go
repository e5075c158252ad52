package musicxml

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func drawTime(t *rapid.T, name string) Time {
	bound := rapid.SampledFrom([]int64{20, 100000, math.MaxInt64}).Draw(t, name+" bound")
	return NewTime(rapid.Int64Range(-bound, bound).Draw(t, name), rapid.Int64Range(1, bound).Draw(t, name+" den"))
}

func rat(t Time) *big.Rat { return big.NewRat(t.Num(), t.Den()) }

// fits reports whether a fraction is one that a Time can hold.
func fits(r *big.Rat) bool {
	return r.Num().IsInt64() && r.Denom().IsInt64() && r.Num().Int64() != math.MinInt64
}

// TestTimeArithmetic holds Time against arithmetic without bounds: a result is
// right or invalid, and invalid only if it may not fit.
func TestTimeArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawTime(t, "a"), drawTime(t, "b")
		check := func(name string, got Time, want *big.Rat) {
			if got.Valid() && rat(got).Cmp(want) != 0 {
				t.Fatalf("%v %s %v is %v, not %v", a, name, b, got, want)
			}
			if small := a.Den() < 1e9 && b.Den() < 1e9 && abs64(a.Num()) < 1e9 && abs64(b.Num()) < 1e9; small && !got.Valid() && fits(want) {
				t.Fatalf("%v %s %v is invalid, not %v", a, name, b, want)
			}
		}
		check("+", a.Add(b), new(big.Rat).Add(rat(a), rat(b)))
		check("-", a.Sub(b), new(big.Rat).Sub(rat(a), rat(b)))
		check("*", a.Mul(b), new(big.Rat).Mul(rat(a), rat(b)))
		if b.Sign() != 0 {
			check("/", a.Div(b), new(big.Rat).Quo(rat(a), rat(b)))
		}
		if got, want := a.Cmp(b), rat(a).Cmp(rat(b)); got != want {
			t.Fatalf("%v against %v is %d, not %d", a, b, got, want)
		}
		if again, err := ParseTime(a.String()); err != nil || again != a {
			t.Fatalf("%v read again is %v (%v)", a, again, err)
		}
		if d := a.Decimal(); d != a.String() {
			if again, err := ParseTime(d); len(d) < 16 && (err != nil || again != a) {
				t.Fatalf("%v as %s read again is %v (%v)", a, d, again, err)
			}
		}
	})
}

func TestInvalidTime(t *testing.T) {
	bad := Whole(math.MaxInt64).Add(Whole(1))
	for name, got := range map[string]Time{
		"sum": bad.Add(Whole(1)), "difference": Whole(1).Sub(bad), "product": bad.Mul(Time{}), "quotient": Time{}.Div(bad),
		"by 0": Whole(1).Div(Time{}), "over 0": NewTime(1, 0), "least": NewTime(math.MinInt64, 1), "itself": bad,
	} {
		if got.Valid() {
			t.Errorf("%s is %v", name, got)
		}
	}
	if bad.Cmp(Whole(5)) != 1 || Whole(5).Cmp(bad) != -1 || bad.Cmp(bad) != 0 || !math.IsNaN(bad.Float64()) || bad.String() != "invalid" {
		t.Error("an invalid Time does not come last")
	}
}

func TestTimeInWords(t *testing.T) {
	for _, c := range []struct {
		time                            Time
		plain, mixed, printed, decimals string
	}{
		{Time{}, "0", "0", "0", "0"},
		{Whole(3), "3", "3", "3", "3"},
		{NewTime(5, 2), "5/2", "2 1/2", "2½", "2.5"},
		{NewTime(10, 3), "10/3", "3 1/3", "3⅓", "10/3"},
		{NewTime(1, 4), "1/4", "1/4", "¼", "0.25"},
		{NewTime(19, 16), "19/16", "1 3/16", "1 3/16", "1.1875"},
		{NewTime(-1, 2), "-1/2", "-1/2", "-1/2", "-0.5"},
		{NewTime(-12, 10), "-6/5", "-6/5", "-6/5", "-1.2"},
	} {
		if c.time.String() != c.plain || c.time.Mixed() != c.mixed || c.time.Printed() != c.printed || c.time.Decimal() != c.decimals {
			t.Errorf("%v: %s, %s, %s, %s", c, c.time, c.time.Mixed(), c.time.Printed(), c.time.Decimal())
		}
	}
}

func TestParseTime(t *testing.T) {
	for text, want := range map[string]Time{"4": Whole(4), " 4 ": Whole(4), "+4": Whole(4), "-4": Whole(-4), "0.50": NewTime(1, 2), "-0.5": NewTime(-1, 2), ".5": NewTime(1, 2), "4.": Whole(4), "6/4": NewTime(3, 2)} {
		if got, err := ParseTime(text); err != nil || got != want {
			t.Errorf("%q is %v (%v), not %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", ".", "x", "1e5", "0x4", "1_000", "NaN", "Inf", "1/0", "1.-5", "--1", "1 2", "99999999999999999999", "0.1234567890123456"} {
		if got, err := ParseTime(text); err == nil {
			t.Errorf("%q is %v", text, got)
		}
	}
}
