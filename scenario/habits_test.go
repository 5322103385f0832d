package scenario

import (
	"math"
	"slices"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/civil"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The gaps of a log have the share and the length asked for.
func TestGapsComeInRuns(t *testing.T) {
	for _, c := range []struct{ share, gapDays, wantGap float64 }{
		{0.8, 1, 1},
		{0.8, 3, 3},
		{0.5, 5, 5},
		{0.1, 2, 9}, // a tenth kept one at a time leaves nine between
	} {
		chain := newChain(c.share, c.gapDays, newStream(1, "x", "gaps"))
		const n = 200000
		kept, gaps, before := 0.0, 0.0, true
		for range n {
			now := chain.next()
			if now {
				kept++
			} else if before {
				gaps++
			}
			before = now
		}
		near(t, "share kept", kept/n, c.share, 0.01)
		near(t, "mean gap, days", (n-kept)/gaps, c.wantGap, 0.15)
	}
	all, none := newChain(1, 2, newStream(1, "x", "a")), newChain(0, 2, newStream(1, "x", "b"))
	for range 1000 {
		if !all.next() || none.next() {
			t.Fatal("a full log has a gap, or an empty one an entry")
		}
	}
}

// The heavy noise has SD 1 and the tails of Student's t with 5 degrees: beyond 4
// lies P(|T5| > 4 sqrt(5/3)) = 0.0036 of it (from the distribution function; a
// normal has 0.00006).
func TestHeavyTails(t *testing.T) {
	s := newStream(1, "x", "tails")
	const n = 400000
	var squares, far float64
	for range n {
		z := s.heavy()
		squares += z * z
		if math.Abs(z) > 4 {
			far++
		}
	}
	near(t, "variance", squares/n, 1, 0.05)
	near(t, "share beyond 4", far/n, 0.0036, 0.0008)
}

// However a week is divided, its mean is what the coach asked for, up to the
// rounding of grams.
func TestDayTypesKeepTheWeeksMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Draw(rapid.Uint64().Draw(t, "seed"), DrawOptions{}).Athlete
		s := Step{
			From:       start,
			EnergyKcal: rapid.Float64Range(1500, 4500).Draw(t, "kcal"),
			Refeeds:    onDays(time.Saturday, time.Wednesday)[:rapid.IntRange(0, 2).Draw(t, "refeeds")],
			DietBreak:  rapid.Bool().Draw(t, "break"),
			ProteinG:   140,
		}
		p := s.Prescription(&a, 1)
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(p.MeanEnergyKcal() - s.EnergyKcal); d > 5 && leastCarb(&p) > leastCarbG {
			t.Fatalf("asked for %v, prescribed %v", s.EnergyKcal, p.MeanEnergyKcal())
		}
	})
}

func leastCarb(p *athlete.Prescription) float64 {
	least := math.Inf(1)
	for _, d := range p.Days {
		least = math.Min(least, d.CarbohydrateG)
	}
	return least
}

func TestAWeekHoldsItsCardio(t *testing.T) {
	for sessions := 1; sessions <= 10; sessions++ {
		var minutes float64
		n := 0
		for on := start; on < start.AddDays(7); on++ {
			for _, b := range boutsOn(on, athlete.CardioPlan{Kind: athlete.Cycling, MinutesPerWeek: 200, Sessions: sessions}) {
				minutes += b.Minutes
				n++
			}
		}
		if n != sessions || math.Abs(minutes-200) > 1e-9 {
			t.Errorf("%d sessions of 200 min in all became %d of %v", sessions, n, minutes)
		}
	}
}

// A prescription that counts refeeds without naming days gets that many.
func TestUnnamedRefeedsFindDays(t *testing.T) {
	for n := range 8 {
		p := athlete.Prescription{Days: []athlete.DayPrescribed{
			{Type: athlete.TrainingDay, PerWeek: 7 - n}, {Type: athlete.RefeedDay, PerWeek: n},
		}}
		got := 0
		for d := time.Sunday; d <= time.Saturday; d++ {
			if prescribedOn(&p, d, athlete.TrainingDay).Type == athlete.RefeedDay {
				got++
			}
		}
		if got != n {
			t.Errorf("%d refeeds became %d", n, got)
		}
	}
}

// Halliday et al. 2016, Nutrients 8:740: seven folds of 67 mm at 26 years and of
// 30 mm at 27 years beside 15.1 and 8.6 % by scan; through Jackson, Pollock &
// Ward (1980) and Siri they are 14.92 and 8.35 % (recomputed).
func TestFoldsGiveTheBodyFatTheyCameFrom(t *testing.T) {
	for _, c := range []struct {
		age      int
		pct, sum float64
	}{{26, 14.92, 67}, {27, 8.35, 30}} {
		a := athlete.Athlete{Sex: athlete.Female, BirthDate: civil.Of(2025-c.age, time.January, 1)}
		var sum float64
		for _, mm := range folds(c.pct, &a, start) {
			sum += mm
		}
		near(t, "sum of folds, mm", sum, c.sum, 1.5)
	}
}

// Measurements by the same hands share a bias; other hands have their own.
func TestHandsKeepTheirBias(t *testing.T) {
	var same, other float64
	const n = 200
	for seed := range uint64(n) {
		p := New(Draw(seed, DrawOptions{}), seed)
		a1 := *p.Measure(athlete.Calipers7, "one").BodyFatPct
		a2 := *p.Measure(athlete.Calipers7, "one").BodyFatPct
		b := *p.Measure(athlete.Calipers7, "two").BodyFatPct
		same += (a1 - a2) * (a1 - a2) / n
		other += (a1 - b) * (a1 - b) / n
	}
	// Twice the variance of an occasion; and of the bias with it.
	near(t, "SD between readings of the same hands", math.Sqrt(same), math.Sqrt(2)*0.9, 0.25)
	near(t, "SD between hands", math.Sqrt(other), math.Sqrt(2*(0.9*0.9+2.2*2.2)), 0.5)
}

func TestAGivenBiasIsKept(t *testing.T) {
	spec := Draw(1, DrawOptions{Weeks: 10})
	spec.Measurements = []Appointment{{Method: athlete.Scan, By: "one", First: spec.From, EveryDays: 1, BiasPct: new(3.0)}}
	s := Simulate(spec, 1)
	var over float64
	for i, m := range s.Measurements {
		d := s.Truth[i]
		over += (*m.BodyFatPct - 100*d.FatKg/(d.WeightKg+d.WaterKg)) / float64(len(s.Measurements))
	}
	near(t, "mean reading over the truth, points", over, 3, 0.25)
}

// Lifts stay when the body does and fall with lost lean mass.
func TestStrengthFollowsLeanMass(t *testing.T) {
	last := func(kcal float64) float64 {
		spec := subject(athlete.Male, 28, 180, 90, 14, 8)
		spec.Body = Body{LeanLossFactor: 3, MaintenanceKcal: 3100}
		spec.Logging.SetsShare = 1
		spec.To = start.AddDays(7*16 - 1)
		spec.Plan = []Step{{From: start, EnergyKcal: kcal, ProteinG: 90, Steps: 9000}}
		s := Simulate(spec, 3)
		first, end, n := 0.0, 0.0, 0.0
		for _, x := range s.Sets {
			if x.Order != 1 {
				continue
			}
			e1RM := x.WeightKg * (1 + (float64(x.Reps)+*x.RIR)/30) // Epley
			switch {
			case x.Date < start.AddDays(21):
				first += e1RM
				n++
			case x.Date > spec.To.AddDays(-21):
				end += e1RM
			}
		}
		if n == 0 {
			t.Fatal("no sets")
		}
		return end / first
	}
	held, lost := last(3100), last(1900)
	within(t, "strength kept at maintenance", held, 0.96, 1.05)
	within(t, "strength kept in a hard cut", lost, 0.75, 0.93)
}

// Without lifting the same loss of weight takes more lean.
func TestLiftingKeepsLean(t *testing.T) {
	share := func(kept float64) float64 {
		spec := subject(athlete.Male, 28, 180, 90, 14, 8)
		spec.Body.MaintenanceKcal = 3000
		spec.Behaviour.TrainingKept = kept
		spec.To = start.AddDays(7*12 - 1)
		spec.Plan = []Step{{From: start, EnergyKcal: 2500, Steps: 9000}}
		s := Simulate(spec, 3)
		first, last := s.Truth[0], s.Truth[len(s.Truth)-1]
		return (first.LeanKg - last.LeanKg) / (first.WeightKg - last.WeightKg)
	}
	if with, without := share(1), share(-1); without < with+0.08 {
		t.Errorf("lean is %.3f of the loss with lifting, %.3f without", with, without)
	}
}

// On a trip nobody stands on the scale, and more is eaten on a log with holes;
// days before and the truth's own noise are as without it.
func TestTripIsAwayFromTheScale(t *testing.T) {
	spec := subject(athlete.Male, 28, 180, 90, 14, 8)
	spec.To = start.AddDays(7*12 - 1)
	spec.Plan = []Step{{From: start, EnergyKcal: 2600, Steps: 9000}}
	spec.Logging = Logging{WeightShare: 1, IntakeShare: 1}
	home := Simulate(spec, 3)
	trip := Trip{start.AddDays(28), start.AddDays(55)}
	spec.Trips = []Trip{trip}
	away := Simulate(spec, 3)
	logged, more := 0, 0.0
	for i, d := range away.Days {
		on := d.Date >= trip.From && d.Date <= trip.To
		if on != (d.WeightKg == nil) {
			t.Errorf("%s: on a trip %v, weight %v", d.Date, on, d.WeightKg)
		}
		if d.Date < trip.From && *d.WeightKg != *home.Days[i].WeightKg {
			t.Errorf("%s: a trip to come changed the weight", d.Date)
		}
		if on && d.EnergyKcal != nil {
			logged++
			more += *d.EnergyKcal / *home.Days[i].EnergyKcal - 1
		}
	}
	within(t, "days of the trip with intake", float64(logged), 7, 21) // of 28, a half: more than 2.6 SD either way
	near(t, "eaten more", more/float64(logged), awayExcess, 0.02)
}

// Another scale shifts what is logged and nothing of the truth.
func TestAnotherScaleShiftsTheLog(t *testing.T) {
	spec := subject(athlete.Male, 28, 180, 90, 14, 8)
	spec.To = start.AddDays(27)
	spec.Logging.WeightShare = 1
	same := Simulate(spec, 3)
	spec.Scales = []Scale{{start.AddDays(7), 0.8}, {start.AddDays(14), -0.5}}
	other := Simulate(spec, 3)
	for i := range other.Days {
		want := 0.0
		switch {
		case i >= 14:
			want = -0.5
		case i >= 7:
			want = 0.8
		}
		near(t, "shift, kg", *other.Days[i].WeightKg-*same.Days[i].WeightKg, want, 0.051) // each rounded to 0.1
		if other.Truth[i] != same.Truth[i] {
			t.Fatalf("day %d: the truth moved", i)
		}
	}
}

// A hard cut costs motivation and mood; soreness follows lifting. Nothing of it moves
// what else is logged.
func TestFeelingsFollowTheDays(t *testing.T) {
	live := func(kcal, per float64) Season {
		spec := subject(athlete.Male, 28, 180, 90, 14, 8)
		spec.Body.MaintenanceKcal = 3100
		spec.Logging = Logging{WeightShare: 1, IntakeShare: 1, FeelingsPer: per}
		spec.To = start.AddDays(7*20 - 1)
		spec.Plan = []Step{{From: start, EnergyKcal: kcal, Steps: 9000}}
		return Simulate(spec, 3)
	}
	mean := func(s Season, of func(*athlete.Day) *float64, keep func(civil.Date) bool) float64 {
		sum, n := 0.0, 0.0
		for i := range s.Days {
			if v := of(&s.Days[i]); v != nil && keep(s.Days[i].Date) {
				sum += *v
				n++
			}
		}
		return sum / n
	}
	late := func(on civil.Date) bool { return on > start.AddDays(90) }
	held, cut := live(3100, 1), live(2000, 1)
	for name, of := range map[string]func(*athlete.Day) *float64{
		"motivation": func(d *athlete.Day) *float64 { return d.Motivation },
		"mood":       func(d *athlete.Day) *float64 { return d.Mood },
	} {
		if fresh, worn := mean(held, of, late), mean(cut, of, late); worn > fresh-0.8 {
			t.Errorf("%s is %.1f fresh and %.1f late in a hard cut", name, fresh, worn)
		}
	}
	sore := func(d *athlete.Day) *float64 { return d.Soreness }
	after := func(days ...time.Weekday) func(civil.Date) bool {
		return func(on civil.Date) bool { return slices.Contains(days, on.Weekday()) }
	}
	lifted, rested := mean(held, sore, after(time.Wednesday, time.Saturday)), mean(held, sore, after(time.Monday))
	within(t, "soreness the day after two days of lifting, over that after two of rest", lifted-rested, 0.8, 5)
	none := live(3100, -1)
	for i := range none.Days {
		d := held.Days[i]
		d.Soreness, d.Motivation, d.Mood, d.Pain, d.PainWhere = nil, nil, nil, nil, ""
		if diff := cmp.Diff(d, none.Days[i]); diff != "" {
			t.Fatalf("logging feelings changes the day: %s", diff)
		}
	}
}
