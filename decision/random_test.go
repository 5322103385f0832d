package decision

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/reading"
	"glidepath/season"

	"pgregory.net/rapid"
)

func randomSituation(t *rapid.T) Situation {
	above := rapid.Float64Range(-1, 14).Draw(t, "above target")
	weeks := rapid.IntRange(0, 40).Draw(t, "weeks")
	p := problem(athlete.Female, rapid.Float64Range(48, 80).Draw(t, "weight"), 13+above, 13, weeks)
	if rapid.Bool().Draw(t, "man") {
		p = problem(athlete.Male, rapid.Float64Range(62, 115).Draw(t, "weight of a man"), 6+above, 6, weeks)
	}
	p.Model.RestKcal += rapid.Float64Range(-350, 400).Draw(t, "offset")
	p.DietWeeks = rapid.IntRange(0, 12).Draw(t, "diet weeks")
	p.Units = rapid.SampledFrom([]athlete.Units{athlete.Metric, athlete.Imperial}).Draw(t, "units")
	p.Levers.StepsMax = rapid.SampledFrom([]float64{9000, 12000, 16000}).Draw(t, "most steps")
	p.Levers.CardioMax = rapid.SampledFrom([]float64{0, 75, 300}).Draw(t, "most cardio")
	p.State.AdaptationKcal = rapid.Float64Range(-150, 0).Draw(t, "adaptation")
	phase := rapid.SampledFrom([]athlete.PhaseKind{athlete.OffSeason, athlete.PrePrep, athlete.Prep, athlete.PeakWeek, athlete.Recovery}).Draw(t, "phase")
	p.Dieting = phase == athlete.Prep
	if phase == athlete.Recovery {
		p.RecoverUntil = asOf.AddDays(rapid.IntRange(0, 69).Draw(t, "recovery"))
	}
	if rapid.Bool().Draw(t, "event") {
		from := asOf.AddDays(rapid.IntRange(-3, 10).Draw(t, "event from"))
		p.Events = []athlete.Event{{From: from, To: from.AddDays(rapid.IntRange(0, 9).Draw(t, "event days")), Maintenance: true}}
	}
	if rapid.IntRange(0, 9).Draw(t, "no show") == 0 {
		p.Show = athlete.Show{}
	}
	var current *athlete.Prescription
	if rapid.IntRange(0, 9).Draw(t, "prescribed") > 0 {
		current = prescription(phase, season.Instruction{
			EnergyKcal:    math.Round(p.Model.IntakeBaselineKcal + rapid.Float64Range(-900, 400).Draw(t, "energy")),
			StepsPerDay:   rapid.Float64Range(5000, p.Levers.StepsMax).Draw(t, "steps"),
			CardioMinutes: math.Round(rapid.Float64Range(0, p.Levers.CardioMax).Draw(t, "cardio")),
		}, rapid.IntRange(0, 60).Draw(t, "age"))
	}
	s := situate(p, current)
	d := &s.Reading.Daily[0]
	d.ExpenditureKc = about(d.ExpenditureKc.Value, rapid.Float64Range(5, 300).Draw(t, "expenditure sd"))
	d.RatePct = about(d.RatePct.Value+rapid.Float64Range(-0.5, 0.5).Draw(t, "rate"), rapid.Float64Range(0.02, 1).Draw(t, "rate sd"))
	n := rapid.IntRange(0, 28).Draw(t, "adherence days")
	s.Reading.Adherence = reading.Adherence{Days: n, MeanRatio: 1, SERatio: 0.02}
	if n > 0 {
		s.Reading.Adherence.MeanRatio = rapid.Float64Range(0.7, 1.3).Draw(t, "ratio")
	}
	s.Reading.Evidence.Days = rapid.IntRange(0, 80).Draw(t, "log")
	s.Reading.Evidence.Weights14 = rapid.IntRange(0, 14).Draw(t, "weights")
	s.Reading.Evidence.Intake14 = rapid.IntRange(0, 14).Draw(t, "intakes")
	if rapid.Bool().Draw(t, "sets") {
		s.Recovery = &Recovery{Change: true, Sentence: "Take 2 of 10 weekly hard sets away.", Sets: []athlete.MuscleSets{{Muscle: athlete.Back, Sets: 8}}, RealLoss: rapid.Float64Range(0, 1).Draw(t, "real loss")}
	}
	return s
}

// Whatever the situation, no proposal goes beyond a limit, and each carries its
// reasons.
func TestNeverBeyondALimit(t *testing.T) {
	seen := map[Action]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := randomSituation(t)
		o := Review(s)
		check(t, &s, &o)
		if again := Review(s); !reflect.DeepEqual(o, again) {
			t.Error("two reviews of one situation differ")
		}
		seen[o.Action]++
		r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
		r.gather()
		ea := r.available(o.To)
		switch {
		case ea < r.floor()-floorNear && o.Phase != athlete.PeakWeek && o.Phase != athlete.ShowDay:
			t.Errorf("energy availability %.2f, floor %.0f: %s", ea, r.floor(), o.Sentence)
		case o.Action == Change && o.ChangeKcal > 0:
			if o.ChangeKcal > 200 || r.rate(o.To) > toTheLetter*o.PermittedPct+1e-9 {
				t.Errorf("%.0f kcal more, to %.2f %% a week where %.2f %% is permitted: %s", o.ChangeKcal, r.rate(o.To), o.PermittedPct, o.Sentence)
			}
		case o.Action == Change && o.ChangeKcal < -200 && ea > r.floor()+foodStepKcal/r.last().LeanKg.Value && !r.starved() && !strings.HasPrefix(o.Sentence, "Losing too fast"):
			t.Errorf("%.0f kcal less: %s", -o.ChangeKcal, o.Sentence)
		case o.Action == Begin && r.rate(o.To) > toTheLetter*math.Max(o.PermittedPct, r.rate(o.From)):
			t.Errorf("begins with %.2f %% a week where %.2f %% is permitted: %s", r.rate(o.To), o.PermittedPct, o.Sentence)
		}
		if o.Phase == athlete.Recovery && r.deficit(o.To) > 80 {
			t.Errorf("a deficit of %.0f kcal in recovery: %s", r.deficit(o.To), o.Sentence)
		}
		if o.Sure < 0.5 || o.Sure > 1 {
			t.Errorf("sure %.2f", o.Sure)
		}
	})
	t.Logf("%v", seen)
}

// Whatever the situation, a standing prescription changes in one lever, or in the
// exchange of cardio for the food that paid for it, which says that it is one and
// why (check).
func TestNeverTwoLeversAtOnce(t *testing.T) {
	moved := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for _, s := range []Situation{randomSituation(t), settled(t), afterwards(t)} {
			o := Review(s)
			check(t, &s, &o)
			switch {
			case s.Current == nil:
				moved["first"]++
			case o.Exchange:
				moved["exchange"]++
			case o.To != o.From:
				moved[string(o.Lever)]++
			}
		}
	})
	t.Logf("%v", moved)
	for _, lever := range []string{"first", "exchange", string(Food), string(Steps), string(Cardio)} {
		if moved[lever] == 0 {
			t.Errorf("no change was of the kind %q", lever)
		}
	}
}

// settled is a prep whose prescription has stood for a month and whose expenditure is
// well known, often at the floor of energy availability.
func settled(t *rapid.T) Situation {
	p := problem(athlete.Female, rapid.Float64Range(52, 75).Draw(t, "settled weight"), rapid.Float64Range(15, 28).Draw(t, "settled fat"), 13, rapid.IntRange(8, 32).Draw(t, "settled weeks"))
	p.Dieting = true
	p.Levers.StepsNow = rapid.SampledFrom([]float64{9000, 12000, 15000}).Draw(t, "settled steps")
	p.Levers.CardioNow = float64(30 * rapid.IntRange(0, 10).Draw(t, "settled cardio"))
	in := season.Instruction{EnergyKcal: 1, StepsPerDay: p.Levers.StepsNow, CardioMinutes: p.Levers.CardioNow}
	low := situate(p, prescription(athlete.Prep, in, 30))
	r := &review{Situation: low, set: Settings{}.withDefaults(), p: &low.Problem}
	r.gather()
	in.EnergyKcal = r.least(in.CardioMinutes)
	if rapid.Bool().Draw(t, "above the floor") {
		in.EnergyKcal += 25 * float64(rapid.IntRange(0, 30).Draw(t, "steps above the floor"))
	}
	s := situate(p, prescription(athlete.Prep, in, 30))
	d := &s.Reading.Daily[0]
	d.ExpenditureKc = about(d.ExpenditureKc.Value, rapid.Float64Range(5, 60).Draw(t, "well known"))
	return s
}

// afterwards is the time after a show, with steps and cardio beyond the habit.
func afterwards(t *rapid.T) Situation {
	p := problem(athlete.Female, 60, 15, 14, 30)
	p.Show, p.Dieting = athlete.Show{}, false
	p.RecoverUntil = asOf.AddDays(60)
	p.Levers.StepsHabit, p.Levers.CardioHabit = 9000, 0
	in := season.Instruction{
		StepsPerDay: float64(500 * rapid.IntRange(18, 30).Draw(t, "steps after")), CardioMinutes: float64(30 * rapid.IntRange(0, 6).Draw(t, "cardio after")),
	}
	p.Levers.StepsNow, p.Levers.CardioNow = in.StepsPerDay, in.CardioMinutes
	in.EnergyKcal = season.Solve(p).Map.Weeks[0].Asked.EnergyKcal
	return situate(p, prescription(athlete.Recovery, in, 30))
}
