package cardio_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

func context() cardio.Context {
	return cardio.Context{
		Body: man, BodyFatPct: 12, StepsBase: 8000, StepsMax: 12000,
		Kinds:      []athlete.CardioKind{athlete.Cycling, athlete.InclineWalk, athlete.Running, athlete.Intervals},
		MinutesMax: 240,
	}
}

func TestStepsComeFirst(t *testing.T) {
	// 1,000 steps are 29.88 kcal for this man, so 100 kcal are 3,347 steps: 3,500.
	p, err := cardio.Mix(100, context())
	if err != nil {
		t.Fatal(err)
	}
	if p.StepsPerDay != 11500 || len(p.Cardio) != 0 || p.ShortKcal != 0 {
		t.Errorf("plan = %+v, want 11,500 steps and no cardio", p)
	}
	if math.Abs(p.DeliveredKcal-3.5*29.88) > 0.01 {
		t.Errorf("delivered %.2f kcal, want %.2f", p.DeliveredKcal, 3.5*29.88)
	}
	if p, err = cardio.Mix(0, context()); err != nil || p.StepsPerDay != 8000 || p.DeliveredKcal != 0 {
		t.Errorf("nothing wanted gives %+v, %v", p, err)
	}
}

func TestIntensityIsCappedWhenLean(t *testing.T) {
	c := context()
	c.BodyFatPct = 6 // stage leanness of men in the default limits
	p, err := cardio.Mix(250, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range p.Cardio {
		if k.Kind == athlete.Running || k.Kind == athlete.Intervals {
			t.Errorf("%s is planned at stage leanness", k.Kind)
		}
	}
	if len(p.LeftOut) != 2 {
		t.Errorf("left out: %q, want running and intervals", p.LeftOut)
	}
	far := cardio.DefaultFatigue()
	if easy, lean := far.PerKcal(athlete.Running, 9, 0), far.PerKcal(athlete.Running, 9, 1); lean <= easy {
		t.Errorf("a kcal costs %v points lean and %v far", lean, easy)
	}
	if rest := far.PerKcal(athlete.Running, 12, 1) / far.PerKcal(athlete.Running, 12, 0.5); rest <= 1 {
		t.Errorf("cost does not rise with leanness at high intensity: ratio %v", rest)
	}
}

func TestMixSaysWhatIsShortAndWhy(t *testing.T) {
	tests := []struct {
		name string
		edit func(*cardio.Context)
		says string
	}{
		{"minutes", func(c *cardio.Context) { c.MinutesMax = 60 }, "60 minutes a week"},
		{"no kinds", func(c *cardio.Context) { c.Kinds = nil }, "No kind of cardio is available"},
		{"only posing", func(c *cardio.Context) { c.Kinds = []athlete.CardioKind{athlete.Posing} }, "can be used"},
		{"ten minutes", func(c *cardio.Context) { c.MinutesMax = 10 }, "less than one session"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := context()
			tt.edit(&c)
			p, err := cardio.Mix(600, c)
			if err != nil {
				t.Fatal(err)
			}
			if p.ShortKcal <= 0 || math.Abs(p.DeliveredKcal+p.ShortKcal-600) > 1e-9 {
				t.Errorf("delivered %.1f and short %.1f of 600", p.DeliveredKcal, p.ShortKcal)
			}
			if !strings.Contains(p.Why, tt.says) || !strings.Contains(p.Why, "12000") {
				t.Errorf("why = %q, want steps and %q", p.Why, tt.says)
			}
		})
	}
}

func TestMixRefuses(t *testing.T) {
	tests := map[string]func(*cardio.Context) float64{
		"want_kcal":          func(*cardio.Context) float64 { return -1 },
		"body_fat_pct":       func(c *cardio.Context) float64 { c.BodyFatPct = 0; return 100 },
		"steps_per_day":      func(c *cardio.Context) float64 { c.StepsBase = -1; return 100 },
		"cardio_minutes_max": func(c *cardio.Context) float64 { c.MinutesMax = math.NaN(); return 100 },
		"session_max":        func(c *cardio.Context) float64 { c.SessionMax = 12; return 100 },
		"fatigue.rows":       func(c *cardio.Context) float64 { c.Fatigue = &cardio.FatigueTable{}; return 100 },
		"fatigue.most_met_lean": func(c *cardio.Context) float64 {
			t := cardio.DefaultFatigue()
			t.MostMETLean = 15
			c.Fatigue = &t
			return 100
		},
	}
	for field, edit := range tests {
		c := context()
		_, err := cardio.Mix(edit(&c), c)
		if fault.KindOf(err) != fault.Invalid || fault.All(err)[0].Field != field {
			t.Errorf("%s: err = %v", field, err)
		}
	}
}

func drawContext(t *rapid.T) (float64, cardio.Context) {
	c := context()
	c.BodyFatPct = rapid.Float64Range(5, 25).Draw(t, "body fat")
	c.Body.WeightKg = rapid.Float64Range(50, 110).Draw(t, "weight")
	c.StepsBase = float64(rapid.IntRange(40, 120).Draw(t, "steps")) * 100
	c.StepsMax = c.StepsBase + float64(rapid.IntRange(0, 50).Draw(t, "more steps"))*100
	c.MinutesMax = float64(rapid.IntRange(0, 500).Draw(t, "minutes"))
	c.SessionMax = 5 * rapid.IntRange(3, 12).Draw(t, "session")
	c.Kinds = rapid.SliceOfDistinct(rapid.SampledFrom(athlete.CardioKinds()), rapid.ID[athlete.CardioKind]).Draw(t, "kinds")
	return rapid.Float64Range(0, 700).Draw(t, "want"), c
}

// bruteForce tries every pair of weekly doses, itself unaware of how Mix searches.
// It returns the fewest points (a week, of cardio) that deliver need, or, where
// none does, the most kcal.
func bruteForce(c cardio.Context, need float64) (points, most float64, enough bool) {
	table := cardio.DefaultFatigue()
	limits := athlete.DefaultLimits(c.Body.Sex)
	leanness := limits.Leanness(c.BodyFatPct)
	points = math.Inf(1)
	try := func(kcal, cost float64, minutes int) {
		if float64(minutes) > c.MinutesMax {
			return
		}
		most = math.Max(most, kcal)
		if kcal >= need-1e-6 {
			enough, points = true, math.Min(points, cost)
		}
	}
	type rated struct{ kcal, points float64 }
	var kinds []rated
	for _, k := range c.Kinds {
		r, err := cardio.RateOf(athlete.CardioBout{Kind: k}, c.Body.WeightKg)
		peak := r.MET
		if k == athlete.Intervals {
			peak = 11 // Compendium 2024, 02214
		}
		if err == nil && k != athlete.Posing && peak <= table.MostMET(leanness) {
			kinds = append(kinds, rated{r.NetKcalPerMin, table.PerKcal(k, r.MET, leanness)})
		}
	}
	for i, a := range kinds {
		for n := 1; n <= 7; n++ {
			for length := 15; length <= c.SessionMax; length += 5 {
				kcal := a.kcal * float64(n*length)
				try(kcal, kcal*a.points, n*length)
				for _, b := range kinds[i+1:] {
					for n2 := 1; n2 <= 7; n2++ {
						for length2 := 15; length2 <= c.SessionMax; length2 += 5 {
							more := b.kcal * float64(n2*length2)
							try(kcal+more, kcal*a.points+more*b.points+table.SecondKind, n*length+n2*length2)
						}
					}
				}
			}
		}
	}
	return points, most, enough
}

func TestMixIsTheBestOfAll(t *testing.T) {
	short, enough := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		want, c := drawContext(t)
		p, err := cardio.Mix(want, c)
		if err != nil {
			t.Fatal(err)
		}
		need := 7 * (want - p.StepsKcal)
		if need <= 1e-6 {
			if len(p.Cardio) > 0 {
				t.Fatalf("cardio %v though steps suffice", p.Cardio)
			}
			return
		}
		points, most, ok := bruteForce(c, need)
		if !ok {
			short++
			if math.Abs(7*p.CardioKcal-most) > 1e-6 || p.ShortKcal <= 0 {
				t.Fatalf("short: cardio of %v kcal a week, the most is %v", 7*p.CardioKcal, most)
			}
			return
		}
		enough++
		if got := 7 * (p.FatiguePoints - p.StepsKcal); math.Abs(got-points) > 1e-6 || p.ShortKcal != 0 {
			t.Fatalf("cardio costs %v points a week, the least is %v (short %v)", got, points, p.ShortKcal)
		}
	})
	if short == 0 || enough == 0 {
		t.Errorf("%d short and %d sufficient: one case was never tried", short, enough)
	}
}

func TestMixCanBeFollowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want, c := drawContext(t)
		p, err := cardio.Mix(want, c)
		if err != nil {
			t.Fatal(err)
		}
		if p.StepsPerDay != c.StepsBase && (math.Mod(p.StepsPerDay, 500) != 0 || p.StepsPerDay > c.StepsMax) {
			t.Fatalf("%v steps a day, at most %v", p.StepsPerDay, c.StepsMax)
		}
		if len(p.Cardio) > 0 && p.StepsPerDay < c.StepsMax-499 {
			t.Fatalf("cardio before steps: %v of %v steps", p.StepsPerDay, c.StepsMax)
		}
		var minutes float64
		for _, k := range p.Cardio {
			minutes += k.MinutesPerWeek
			each := k.MinutesPerWeek / float64(k.Sessions)
			if math.Mod(each, 5) != 0 || each < 15 || each > float64(c.SessionMax) || k.Sessions > 7 {
				t.Fatalf("%d sessions of %v minutes", k.Sessions, each)
			}
			if !slices.Contains(c.Kinds, k.Kind) || k.Kind == athlete.Posing {
				t.Fatalf("%s is not to be had", k.Kind)
			}
		}
		if minutes > c.MinutesMax || len(p.Cardio) > 2 {
			t.Fatalf("%v minutes of %v, %d kinds", minutes, c.MinutesMax, len(p.Cardio))
		}
	})
}

// Without whole sessions and without a price on a second kind the problem is a
// linear programme; its optimum, by gonum's simplex, bounds the plan from below,
// and the plan is within one session's cost of it.
func TestMixAgainstLinearProgramme(t *testing.T) {
	table := cardio.DefaultFatigue()
	table.SecondKind = 0
	limits := athlete.DefaultLimits(athlete.Male)
	for _, need := range []float64{100, 150, 200, 260} {
		c := context()
		c.StepsMax, c.Fatigue, c.MinutesMax = c.StepsBase, &table, 300
		leanness := limits.Leanness(c.BodyFatPct)
		var costs, kcals, points []float64
		for _, k := range []athlete.CardioKind{athlete.InclineWalk, athlete.Running, athlete.Cycling} {
			r, err := cardio.RateOf(athlete.CardioBout{Kind: k}, c.Body.WeightKg)
			if err != nil {
				t.Fatal(err)
			}
			kcals = append(kcals, r.NetKcalPerMin)
			points = append(points, table.PerKcal(k, r.MET, leanness))
			costs = append(costs, kcals[len(kcals)-1]*points[len(points)-1])
		}
		c.Kinds = []athlete.CardioKind{athlete.InclineWalk, athlete.Running, athlete.Cycling}
		// Minutes of each kind, then a surplus of kcal and a slack of minutes.
		a := mat.NewDense(2, 5, []float64{
			kcals[0], kcals[1], kcals[2], -1, 0,
			1, 1, 1, 0, 1,
		})
		least, _, err := lp.Simplex(append(costs, 0, 0), a, []float64{7 * need, c.MinutesMax}, 1e-9, nil)
		if err != nil {
			t.Fatal(err)
		}
		p, err := cardio.Mix(need, c)
		if err != nil {
			t.Fatal(err)
		}
		got := 7 * p.FatiguePoints
		if session := 15 * slices.Max(costs); p.ShortKcal > 0 || got < least-1e-6 || got > least+session {
			t.Errorf("%v kcal a day: %.1f points a week, the bound is %.1f, one session %.1f", need, got, least, session)
		}
	}
}
