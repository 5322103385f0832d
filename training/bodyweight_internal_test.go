package training

import (
	"math"
	"math/rand/v2"
	"testing"

	"glidepath/athlete"
)

// What of the body is lifted: 64 % at a push-up (Ebben et al. 2011, J Strength Cond
// Res 25:2891, second-hand); on a bar all but forearms and hands, by the segments of
// de Leva 1996 (J Biomech 29:1223, second-hand): 1.62 and 0.61 % a side in men, 1.38
// and 0.56 % in women. Help counts against the body and makes a lift of its own.
func TestTheBodyIsPartOfTheLoad(t *testing.T) {
	const men, women = 1 - 2*(0.0162+0.0061), 1 - 2*(0.0138+0.0056)
	const hangs = 80 * (men + women) / 2
	var sets []athlete.Set
	want := map[string]float64{}
	for _, tt := range []struct {
		typed, name string
		added, kg   float64
	}{
		{"weighted pull up", "pull up", 20, hangs + 20},
		{"chin up", "chin up", 0, hangs},
		{"dips", "dip", 35, hangs + 35},
		{"push up", "push up", 0, 80 * 0.64},
		{"machine pull up", "assisted pull up", 25, hangs - 25},
		{"assisted dip", "assisted dip", 15, hangs - 15},
	} {
		sets = append(sets, athlete.Set{Date: start, Exercise: tt.typed, WeightKg: tt.added, Reps: 1, RIR: new(0.0)})
		want[tt.name] = tt.kg
	}
	r := Standard().Strength(LiftLog{Sets: sets, BodyWeights: []DatedWeight{{start, 80}}, BaselineFrom: start, BaselineTo: start, AsOf: start})
	if len(r.Lifts) != len(want) {
		t.Fatalf("%d lifts of %d; %v", len(r.Lifts), len(want), r.Cannot)
	}
	for _, l := range r.Lifts {
		near(t, l.Exercise, l.Series[0].BestKg, want[l.Exercise], 0.1)
	}
}

// A lifter who loses a tenth of body weight after eight weeks, whose strength goes with
// it to a power. What the body does not explain is nothing; an interval for any power
// from 0 to 2/3, all equally likely, must hold that nine times in ten.
func TestBeyondBodyWeightIsCalibrated(t *testing.T) {
	const lifters, weeks = 200, 28
	r := rand.New(rand.NewPCG(3, 33))
	h := ordinary
	h.lifts = sixLifts[:4]
	lost := func(day int) float64 { return math.Log(1 - 0.10*math.Max(0, float64(day-56))/140) }
	var weights []DatedWeight
	for d := range 7 * weeks {
		weights = append(weights, DatedWeight{start.AddDays(d), 90 * math.Exp(lost(d))})
	}
	beyond, all := 0, 0
	for range lifters {
		power := 2. / 3 * r.Float64()
		got := Standard().Strength(LiftLog{
			Sets:        h.career(r, weeks, func(day int) float64 { return power * lost(day) }),
			BodyWeights: weights, BaselineFrom: start, BaselineTo: start.AddDays(55), AsOf: start.AddDays(7*weeks - 1),
		})
		if p := got.Beyond.Pct; p.Low90 <= 100 && 100 <= p.High90 {
			beyond++
		}
		truth := 100 * math.Exp(power*lost(7*weeks-1))
		if p := got.Overall.Pct; p.Low90 <= truth && truth <= p.High90 {
			all++
		}
	}
	t.Logf("of 90 %% intervals %.3f hold what is beyond body weight, %.3f all that is kept", float64(beyond)/lifters, float64(all)/lifters)
	if share := float64(beyond) / lifters; share < 0.86 || share > 0.98 {
		t.Errorf("beyond body weight: held %.3f", share)
	}
	if share := float64(all) / lifters; share < 0.83 || share > 0.97 {
		t.Errorf("all that is kept: held %.3f", share)
	}
}

// Weights dated after AsOf change nothing, nor the order they come in.
func TestBodyWeightIsAsOf(t *testing.T) {
	var sets []athlete.Set
	for session := range 24 {
		sets = append(sets, athlete.Set{Date: start.AddDays(session * 7 / 2), Exercise: "pull up", WeightKg: 10, Reps: 6, RIR: new(2.0)})
	}
	log := LiftLog{Sets: sets, BaselineFrom: start, BaselineTo: start.AddDays(20), AsOf: start.AddDays(60)}
	log.BodyWeights = []DatedWeight{{start, 85}, {start.AddDays(30), 83}, {start.AddDays(60), 80}}
	want := Standard().Strength(log)
	log.BodyWeights = []DatedWeight{{start.AddDays(61), 50}, {start.AddDays(60), 80}, {start, 85}, {start.AddDays(30), 83}}
	if got := Standard().Strength(log); got.Overall.Pct != want.Overall.Pct || *got.Relative != *want.Relative {
		t.Errorf("%+v, was %+v", got.Overall, want.Overall)
	}
}
