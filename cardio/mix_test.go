package cardio_test

import (
	"math"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"
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
		{"only posing", func(c *cardio.Context) { c.Kinds = []athlete.CardioKind{athlete.Posing} }, "posing is practice"},
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
			if !strings.Contains(p.Why, tt.says) || !strings.Contains(p.Why, "12,000") {
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
