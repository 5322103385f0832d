package reading

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/scenario"
)

func TestMainSeries(t *testing.T) {
	now := civil.Of(2026, 6, 1)
	read := func(series string, daysAgo int, sd float64) Composition {
		return Composition{Date: now.AddDays(-daysAgo), Series: series, BodyFatPct: 15, ReadingSD: sd, BiasSD: 3}
	}
	for name, c := range map[string]struct {
		all  []Composition
		want string
	}{
		"none":            {nil, ""},
		"one":             {[]Composition{read("scan", 200, 1)}, "scan"},
		"the future":      {[]Composition{read("eye", 3, 1.5), read("scan", -1, 1)}, "eye"},
		"least error":     {[]Composition{read("eye", 30, 1.5), read("calipers", 29, 1.3), read("eye", 2, 1.5), read("calipers", 28, 1.3)}, "calipers"},
		"a single scan":   {[]Composition{read("calipers", 40, 1.3), read("scan", 12, 1), read("calipers", 12, 1.3)}, "calipers"},
		"each once":       {[]Composition{read("calipers", 12, 1.3), read("scan", 40, 1)}, "scan"},
		"given up":        {[]Composition{read("scan", 71, 1), read("scan", 70, 1), read("eye", 60, 1.5)}, "eye"},
		"all old":         {[]Composition{read("scan", 99, 1), read("eye", 80, 1.5)}, "eye"},
		"equal, by date":  {[]Composition{read("a", 9, 1), read("b", 8, 1)}, "b"},
		"equal, by name":  {[]Composition{read("b", 8, 1), read("a", 8, 1)}, "a"},
		"order of a list": {[]Composition{read("a", 8, 1), read("b", 8, 1)}, "a"},
	} {
		if got := mainSeries(c.all, now); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Without a series, body fat on the scale of the method is body fat, and the bias
// is known to be nought.
func TestNoSeriesNoBias(t *testing.T) {
	r, err := Read(simulate(2, 40).in, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	last := r.Daily[len(r.Daily)-1]
	if last.MethodPct != last.BodyFatPct || r.Now.Series != "" {
		t.Errorf("series %q, %v and %v", r.Now.Series, last.MethodPct, last.BodyFatPct)
	}
	for i := range Learned {
		if r.Now.Cov[i*Learned+Bias] != 0 || r.Now.Cov[Bias*Learned+i] != 0 {
			t.Errorf("bias varies with state %d", i)
		}
	}
	if r.Now.Mean[Bias] != 0 {
		t.Errorf("bias %.2f", r.Now.Mean[Bias])
	}
}

// The last day's estimate on the scale of the method is what the posterior gives.
func TestMethodPctIsThePosteriors(t *testing.T) {
	f := linearSeason(t)
	daily := f.smooth()
	p := f.posterior()
	w := p.Mean[Fat] + p.Mean[FatFree]
	row := [Learned]float64{Fat: 100 * p.Mean[FatFree] / (w * w), FatFree: -100 * p.Mean[Fat] / (w * w), Bias: 1}
	variance := 0.0
	for i, a := range row {
		for j, b := range row {
			variance += a * b * p.Cov[i*Learned+j]
		}
	}
	want := numeric.Normal{Mean: 100*p.Mean[Fat]/w + p.Mean[Bias], SD: math.Sqrt(variance)}.Interval()
	got := daily[len(daily)-1].MethodPct
	if math.Abs(got.Value-want.Value) > 1e-9 || math.Abs(got.Low90-want.Low90) > 1e-9 {
		t.Errorf("the smoother has %v, the posterior %v", got, want)
	}
	if p.Series != "calipers" {
		t.Errorf("main series %q", p.Series)
	}
}

// Body fat on the scale of a hand whose bias is drawn here from what the method's
// error says: the interval must hold it as often as it says, and be much tighter
// than that of true body fat. Truth is package scenario's.
func TestBodyFatOnTheScaleOfTheHand(t *testing.T) {
	const athletes = 300
	inside90, inside50 := 0, 0
	var width, trueWidth float64
	for seed := range uint64(athletes) {
		r := rand.New(rand.NewPCG(seed, 77))
		spec := scenario.Draw(seed+21000, scenario.DrawOptions{Weeks: 12, Protocol: scenario.Losing})
		bias := 2.2 * r.NormFloat64()
		spec.Measurements = []scenario.Appointment{{
			Method: athlete.Calipers7, By: "K", First: spec.From.AddDays(2), EveryDays: 14, BiasPct: &bias,
		}}
		s := scenario.Simulate(spec, seed)
		in := input(t, &s, 84)
		for i := range in.Composition { // as the simulator draws: tester.go there
			in.Composition[i].BiasSD, in.Composition[i].ReadingSD = 2.2, 0.9
		}
		got, err := Read(in, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		last, end := got.Daily[len(got.Daily)-1], s.Truth[len(s.Truth)-1]
		truth := 100*end.FatKg/end.WeightKg + bias
		count(&inside90, truth, last.MethodPct.Low90, last.MethodPct.High90)
		count(&inside50, truth, last.MethodPct.Low50, last.MethodPct.High50)
		width += last.MethodPct.SD() / athletes
		trueWidth += last.BodyFatPct.SD() / athletes
	}
	t.Logf("on the scale of the hand: 90 %% holds %.3f, 50 %% %.3f; SD %.2f points, of true body fat %.2f",
		share(inside90, athletes), share(inside50, athletes), width, trueWidth)
	if c := share(inside90, athletes); c < 0.86 || c > 0.95 {
		t.Errorf("the 90 %% interval holds %.3f", c)
	}
	if width > 0.5*trueWidth {
		t.Errorf("SD %.2f points, of true body fat %.2f", width, trueWidth)
	}
}
