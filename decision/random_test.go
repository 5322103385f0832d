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
