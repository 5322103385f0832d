package numeric

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestLambertW0KnownValues(t *testing.T) {
	for _, c := range []struct {
		x, want float64
		source  string
	}{
		{0, 0, "identity"},
		{1, 0.5671432904097838729999686622, "omega constant, OEIS A030178"},
		{math.E, 1, "identity: 1 exp(1) = e"},
		{-math.Ln2 / 2, -math.Ln2, "identity: -ln 2 exp(-ln 2) = -ln 2 / 2"},
		{-1 / math.E, -1, "branch point"},
		{2 * math.Log(2), math.Ln2, "identity: ln 2 exp(ln 2) = 2 ln 2"},
		{math.Inf(1), math.Inf(1), "limit"},
	} {
		if got := LambertW0(c.x); got != c.want && math.Abs(got-c.want) > 4e-16*math.Abs(c.want) {
			t.Errorf("LambertW0(%v) = %.17g, want %.17g (%s)", c.x, got, c.want, c.source)
		}
	}
	for _, x := range []float64{-0.3679, -1, math.Inf(-1), math.NaN()} {
		if got := LambertW0(x); !math.IsNaN(got) {
			t.Errorf("LambertW0(%v) = %v, want NaN", x, got)
		}
	}
}

// W0 is the inverse of w exp(w) by definition. The tolerance is a few roundings
// of the answer, and of the argument times the condition number 1/(1 + w).
func TestLambertW0Inverts(t *testing.T) {
	check := func(t interface{ Errorf(string, ...any) }, w float64) {
		got := LambertW0(w * math.Exp(w))
		tol := 4e-16 * (1 + math.Abs(w) + 1/(1+w))
		if math.Abs(got-w) > tol {
			t.Errorf("LambertW0(w exp w) = %.17g, want w = %.17g", got, w)
		}
	}
	for w := -0.9999; w < 700; w += 0.0137 {
		check(t, w)
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.Float64Range(-0.99999, 690).Draw(t, "w"))
	})
}

// The two expressions that meet at p = 0.03 and at each change of the starting
// value must agree: W0 is increasing and smooth.
func TestLambertW0Increases(t *testing.T) {
	prev := LambertW0(-1 / math.E)
	for x := -0.36787; x < 5; x += 1e-4 {
		w := LambertW0(x)
		if w <= prev {
			t.Fatalf("LambertW0(%v) = %v is not above %v", x, w, prev)
		}
		prev = w
	}
}

// The series at the branch point against the defining equation:
// ln(-w) + w = ln(-x), expanded about w = -1 to keep digits.
func TestLambertW0NearBranchPoint(t *testing.T) {
	for _, p := range []float64{1e-6, 1e-4, 1e-2, 0.0299, 0.0301, 0.1} {
		x := (p*p/2 - 1) / math.E
		w := LambertW0(x)
		d := 1 + w
		// 1 - (1 - d) exp(d) = p^2/2, from w exp(w) = x.
		got := math.Sqrt(-2 * (math.Expm1(d) - d*math.Exp(d)))
		if math.Abs(got-p) > 1e-10+1e-15/p {
			t.Errorf("p = %v: W = %v gives back p = %v", p, w, got)
		}
	}
}
