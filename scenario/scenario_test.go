package scenario

import (
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// anySeason draws a season and its seed.
func anySeason(t *rapid.T) (Spec, uint64) {
	seed := rapid.Uint64().Draw(t, "seed")
	return Draw(seed, DrawOptions{
		Protocol: rapid.SampledFrom([]Protocol{Losing, Holding, Gaining}).Draw(t, "protocol"),
		Weeks:    rapid.IntRange(1, 30).Draw(t, "weeks"),
	}), seed
}

// What comes in and is not spent is stored: the truth model's own first law.
func TestEnergyIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, seed := anySeason(t)
		truth := Simulate(spec, seed).Truth
		leanKcal := New(spec, seed).Body().LeanEnergyKcalPerKg
		for i := range truth[1:] {
			d, next := truth[i], truth[i+1]
			stored := fatKcalPerKg*(next.FatKg-d.FatKg) + leanKcal*(next.LeanKg-d.LeanKg) +
				glycogenKcalPerKg*(next.GlycogenKg-d.GlycogenKg)
			if math.Abs(d.IntakeKcal-d.ExpenditureKcal-stored) > 1e-6 {
				t.Fatalf("%s: in %v, spent %v, stored %v", d.Date, d.IntakeKcal, d.ExpenditureKcal, stored)
			}
		}
	})
}

// Every number stays one that a person could have. The bounds are judgement.
func TestSeasonsArePlausible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, seed := anySeason(t)
		s := Simulate(spec, seed)
		essential := 0.015
		if spec.Athlete.Sex == athlete.Female {
			essential = 0.05
		}
		for _, d := range s.Truth {
			pct := d.FatKg / d.WeightKg
			within(t, "fat share", pct, essential, 0.45)
			within(t, "weight over the first", d.WeightKg/spec.WeightKg, 0.7, 1.2)
			within(t, "scale less tissue", d.ScaleKg-d.WeightKg, -7, 9)
			within(t, "expenditure per kg", d.ExpenditureKcal/d.WeightKg, 20, 75)
			within(t, "intake per kg", d.IntakeKcal/d.WeightKg, 8, 95)
			within(t, "reporting factor", d.ReportingFactor, 0.75, 1.13)
			within(t, "reported-scale expenditure", d.ReportedScaleExpenditureKcal/d.ExpenditureKcal, 0.6, 1.3)
		}
		valid(t, &s)
	})
}

type reporter interface {
	Helper()
	Errorf(string, ...any)
}

func within(t reporter, what string, v, low, high float64) {
	t.Helper()
	if math.IsNaN(v) || v < low || v > high {
		t.Errorf("%s is %v, outside %v to %v", what, v, low, high)
	}
}

// valid checks everything that was logged by the domain's own rules.
func valid(t reporter, s *Season) {
	t.Helper()
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Errorf("%s: %v", s.Athlete.ID, err)
		}
	}
	check(s.Athlete.Validate())
	for i := range s.Days {
		check(s.Days[i].Validate())
		if s.Days[i].Empty() || i > 0 && s.Days[i].Date <= s.Days[i-1].Date {
			t.Errorf("%s: day %d is empty or out of order", s.Athlete.ID, i)
		}
	}
	for i := range s.Measurements {
		check(s.Measurements[i].Validate())
	}
	for i := range s.Sets {
		check(s.Sets[i].Validate())
	}
	for i := range s.Prescriptions {
		check(s.Prescriptions[i].Validate())
		if s.Prescriptions[i].Version != i+1 {
			t.Errorf("%s: prescription %d has version %d", s.Athlete.ID, i, s.Prescriptions[i].Version)
		}
	}
	for i := range s.Programmes {
		check(s.Programmes[i].Validate())
		if s.Programmes[i].Version != i+1 {
			t.Errorf("%s: programme %d has version %d", s.Athlete.ID, i, s.Programmes[i].Version)
		}
	}
}

func TestTheSeedDecides(t *testing.T) {
	spec := Draw(7, DrawOptions{})
	if d := cmp.Diff(Simulate(spec, 7), Simulate(Draw(7, DrawOptions{}), 7)); d != "" {
		t.Errorf("the same seed gave another season:\n%s", d)
	}
	if cmp.Equal(Simulate(spec, 7).Days, Simulate(spec, 8).Days) {
		t.Error("another seed gave the same days")
	}
	other := spec
	other.Athlete.ID = "somebody-else"
	if cmp.Equal(Simulate(spec, 7).Days, Simulate(other, 7).Days) {
		t.Error("another athlete has the same days")
	}
}

// Two people living side by side do not disturb one another.
func TestOrderDoesNotMatter(t *testing.T) {
	a, b := Draw(1, DrawOptions{}), Draw(2, DrawOptions{})
	wantA, wantB := Simulate(a, 9), Simulate(b, 9)
	pa, pb := New(a, 9), New(b, 9)
	for i := range wantA.Truth {
		gotB := pb.Live(pb.Next(), inForce(wantB.Prescriptions, pb.Next()))
		gotA := pa.Live(pa.Next(), inForce(wantA.Prescriptions, pa.Next()))
		if gotA.Truth != wantA.Truth[i] || gotB.Truth != wantB.Truth[i] {
			t.Fatalf("day %d differs when the two live by turns", i)
		}
	}
}

// A change of plan changes the body, but not the noise on the scale, the gaps of
// the log or the illnesses.
func TestPlansLeaveTheNoiseAlone(t *testing.T) {
	spec := Draw(11, DrawOptions{Protocol: Losing})
	other := spec
	other.Plan = slices.Clone(spec.Plan)
	for i := range other.Plan {
		other.Plan[i].EnergyKcal += 400
	}
	a, b := Simulate(spec, 11), Simulate(other, 11)
	for i := range a.Truth {
		x, y := a.Truth[i], b.Truth[i]
		if x.Ill != y.Ill || math.Abs((x.ScaleKg-x.WeightKg-x.WaterKg)-(y.ScaleKg-y.WeightKg-y.WaterKg)) > 1e-9 {
			t.Fatalf("%s: the plan changed the noise", x.Date)
		}
	}
	if last := len(a.Truth) - 1; b.Truth[last].FatKg-a.Truth[last].FatKg < 1 {
		t.Error("400 kcal a day more for 20 weeks left the fat as it was")
	}
	for i := range a.Days {
		if a.Days[i].Date != b.Days[i].Date || (a.Days[i].WeightKg == nil) != (b.Days[i].WeightKg == nil) {
			t.Fatalf("%s: the plan changed the gaps", a.Days[i].Date)
		}
	}
}

func TestSettingOneParameterLeavesTheOthers(t *testing.T) {
	spec := Draw(5, DrawOptions{})
	drawn := New(spec, 5).Body()
	spec.Body.AdaptationGain = 0.5
	set := New(spec, 5).Body()
	if set.AdaptationGain != 0.5 {
		t.Errorf("the gain set is %v", set.AdaptationGain)
	}
	set.AdaptationGain = drawn.AdaptationGain
	if set != drawn {
		t.Errorf("others changed: %+v, %+v", set, drawn)
	}
	spec.Behaviour.OffPlanPerWeek = -1
	if got := New(spec, 5).Behaviour().OffPlanPerWeek; got != 0 {
		t.Errorf("a negative parameter is %v, want none", got)
	}
}

func TestMaintenanceHoldsTheTissue(t *testing.T) {
	for seed := range uint64(20) {
		spec := Draw(seed, DrawOptions{Weeks: 8})
		spec.Plan, spec.Behaviour = nil, plain
		spec.Athlete.TrainingYears = 60 // lifting adds next to nothing
		truth := Simulate(spec, seed).Truth
		last := truth[len(truth)-1]
		// 8 weeks of habit; missed sessions and steps that vary leave a little.
		within(t, "drift of tissue in 8 weeks, kg", last.WeightKg-spec.WeightKg, -0.7, 0.7)
	}
}

// What the log shows, less the expenditure on its scale, is what tissue gains.
func TestReportedScaleExpenditure(t *testing.T) {
	spec := Draw(3, DrawOptions{Protocol: Losing, Weeks: 26, IntakeShare: 1})
	spec.Behaviour.ReportingFactor = 0.87
	s := Simulate(spec, 3)
	var shown, real float64
	for i, d := range s.Truth {
		if i < 28 {
			continue
		}
		shown += *s.Days[i].EnergyKcal - d.ReportedScaleExpenditureKcal
		real += d.IntakeKcal - d.ExpenditureKcal
	}
	n := float64(len(s.Truth) - 28)
	near(t, "balance by the log, kcal/day", shown/n, real/n, 15)
	if real/n > -100 {
		t.Errorf("the athlete was meant to lose; balance %v", real/n)
	}
}

func TestLiveKeepsToTheCalendar(t *testing.T) {
	p := New(Draw(1, DrawOptions{}), 1)
	defer func() {
		if recover() == nil {
			t.Error("a skipped day went unnoticed")
		}
	}()
	p.Live(p.Next()+1, nil)
}

func TestNewWantsABody(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("an athlete without fat went unnoticed")
		}
	}()
	spec := Draw(1, DrawOptions{})
	spec.FatKg = 0
	New(spec, 1)
}

func TestUntilKnowsNothingOfTheFuture(t *testing.T) {
	s := Simulate(Draw(4, DrawOptions{Weeks: 12, WeightShare: 1}), 4)
	on := s.Athlete.WeighedOn.AddDays(40)
	u := s.Until(on)
	last := u.Days[len(u.Days)-1]
	if last.Date != on || last.WeightKg == nil || last.EnergyKcal != nil || last.Steps != nil {
		t.Errorf("the morning of %s has %+v", on, last)
	}
	if n := len(u.Truth); u.Truth[n-1].Date != on {
		t.Errorf("truth ends on %s", u.Truth[n-1].Date)
	}
	for _, x := range u.Sets {
		if x.Date >= on {
			t.Errorf("a set of %s is known on the morning of %s", x.Date, on)
		}
	}
	if len(u.Sets) == 0 || len(u.Sets) >= len(s.Sets) {
		t.Errorf("%d of %d sets are known", len(u.Sets), len(s.Sets))
	}
}

func BenchmarkSimulate26Weeks(b *testing.B) {
	spec := Draw(3, DrawOptions{Weeks: 26})
	b.ReportAllocs()
	for b.Loop() {
		Simulate(spec, 3)
	}
}

// The truth is only worth testing the engine against while it knows nothing of
// the engine.
func TestNothingOfTheEngineIsImported(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no files: %v", err)
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path := strings.Trim(i.Path.Value, `"`)
			if strings.HasPrefix(path, "glidepath/") && path != "glidepath/athlete" && path != "glidepath/civil" {
				t.Errorf("%s imports %s", name, path)
			}
		}
	}
}
