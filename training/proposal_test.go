package training_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/numeric"
	"glidepath/training"

	"pgregory.net/rapid"
)

func doing(t testing.TB, name string, sets float64) training.Doing {
	t.Helper()
	m, ok := training.Standard().Lookup(name)
	if !ok || !m.Exact {
		t.Fatalf("%s is not in the catalogue", name)
	}
	return training.Doing{Name: m.Exercise.Name, Exercise: m.Exercise, Sets: sets}
}

// state is a state of recovery with so many weeks on end surely short.
func state(short, deep float64, weeks int) *training.RecoveryState {
	r := &training.RecoveryState{Short: short, Deep: deep, Logged: 14, Sentence: "Recovery stands at -2.0."}
	for i := range 8 {
		w := training.RecoveryWeek{Short: 0.1}
		if i >= 8-weeks {
			w.Short = 0.9
		}
		r.Weeks = append(r.Weeks, w)
	}
	r.Markers = []training.MarkerSign{
		{Marker: "sleep", Effect: -0.6, Words: "Sleep is 5.6 h a night against a usual 7.2, which lowers the state by 0.6."},
		{Marker: "hunger", Effect: 0, Words: "Hunger says little."},
	}
	return r
}

func tired() training.Situation {
	return training.Situation{
		Recovery:  state(0.9, 0.1, 1),
		Retention: &training.Retention{Pct: numeric.Interval{Value: 96, Low90: 94, High90: 98}, LossOver2p5: 0.9, LossOver5: 0.2},
		Phase:     athlete.Prep, Deficit: true,
		Now: []athlete.MuscleSets{
			{Muscle: athlete.Chest, Sets: 14},
			{Muscle: athlete.Back, Sets: 20},
			{Muscle: athlete.Quadriceps, Sets: 7},
			{Muscle: athlete.Biceps, Sets: 10},
		},
		OffSeason: []athlete.MuscleSets{
			{Muscle: athlete.Chest, Sets: 16},
			{Muscle: athlete.Back, Sets: 22},
			{Muscle: athlete.Quadriceps, Sets: 14},
			{Muscle: athlete.Biceps, Sets: 12},
		},
	}
}

// trainee is somebody whose every set is known.
func trainee(t testing.TB) training.Situation {
	s := tired()
	s.Doing = []training.Doing{
		doing(t, "back squat", 6), doing(t, "romanian deadlift", 5), doing(t, "barbell row", 5), doing(t, "lat pulldown", 6),
		doing(t, "machine row", 4), doing(t, "bench press", 5), doing(t, "chest press", 4), doing(t, "pec fly", 4),
		doing(t, "leg extension", 5), doing(t, "lying leg curl", 4), doing(t, "overhead press", 4), doing(t, "lateral raise", 6),
		doing(t, "barbell curl", 5), doing(t, "triceps pushdown", 5), doing(t, "standing calf raise", 6), doing(t, "cable crunch", 5),
	}
	s.Now = training.MuscleSetsOf(s.Doing)
	s.OffSeason = s.Now
	return s
}

func propose(t testing.TB, s training.Situation) training.Proposal {
	t.Helper()
	p, err := training.Propose(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Without a log by exercise the muscles are told, and the coach chooses.
func TestProposeFewerSetsByMuscle(t *testing.T) {
	p := propose(t, tired())
	// Short recovery and lost strength: 20 % of 51 sets is 10; most come from the
	// back, none from the quadriceps, which are at half of the off-season.
	got := map[athlete.Muscle]float64{}
	for _, m := range p.Sets {
		got[m.Muscle] = m.Sets
	}
	if p.Action != training.FewerSets || math.Abs(p.CutPct-100*10.0/51) > 1e-9 {
		t.Errorf("%s by %.1f %%, want fewer sets by 19.6 %%", p.Action, p.CutPct)
	}
	if got[athlete.Quadriceps] != 7 || 20-got[athlete.Back] < 14-got[athlete.Chest] {
		t.Errorf("sets = %v", got)
	}
	all := strings.Join(append(p.Reasons, p.Sentence), " ")
	for _, want := range []string{"stands at -2.0", "5.6 h", "96.0 %", "90 %", "10 of 51", "load on the bar", "back 20 to"} {
		if !strings.Contains(all, want) {
			t.Errorf("reasons lack %q: %s", want, all)
		}
	}
	if strings.Contains(all, "Hunger") || len(p.Expects) == 0 || len(p.ChangesMind) == 0 || len(p.Doses) != 4 {
		t.Errorf("proposal %+v", p)
	}
}

// Sets go from what tires most for what it trains, and a main lift keeps its load:
// three sets of it stay.
func TestProposeSaysWhichExercise(t *testing.T) {
	s := trainee(t)
	s.Recovery = state(0.95, 0.9, 1)
	p := propose(t, s)
	if p.Action != training.FewerSets || len(p.Exercises) == 0 {
		t.Fatalf("%s: %v", p.Action, p.Reasons)
	}
	to := map[string]float64{}
	for _, e := range p.Exercises {
		to[e.Exercise] = e.SetsTo
		if e.SetsTo >= e.SetsFrom || e.SetsTo < 1 || !strings.Contains(p.Sentence, e.Exercise) {
			t.Errorf("%+v in %q", e, p.Sentence)
		}
	}
	for _, main := range []string{"back squat", "bench press", "overhead press", "romanian deadlift", "lat pulldown"} {
		if sets, changed := to[main]; changed && sets < 3 {
			t.Errorf("%s falls to %v sets", main, sets)
		}
	}
	// The barbell row is free standing, the pulldown the main lift of the back by its sets.
	if _, ok := to["barbell row"]; !ok {
		t.Errorf("the row keeps its sets: %+v", p.Exercises)
	}
	if _, ok := to["machine row"]; ok {
		t.Errorf("the machine goes before the free row: %+v", p.Exercises)
	}
}

func TestProposeHolds(t *testing.T) {
	tests := []struct {
		name string
		edit func(*training.Situation)
		want training.Action
		says string
	}{
		{"an injury", func(s *training.Situation) { s.Pain.Injuries = []athlete.Region{athlete.Knee} }, training.Defer, "knee"},
		{"probably short", func(s *training.Situation) { s.Recovery.Short, s.Retention = 0.6, nil }, training.Hold, "too little"},
		{"strength alone", func(s *training.Situation) {
			s.Recovery.Short = 0.2
			s.Retention.LossOver5 = 0.95
		}, training.Hold, "food"},
		{"as usual", func(s *training.Situation) { s.Recovery.Short, s.Retention = 0.1, nil }, training.Hold, "too little"},
		{"nothing logged", func(s *training.Situation) { s.Recovery.Logged = 3 }, training.Hold, "too thin"},
		{"no state", func(s *training.Situation) { s.Recovery = nil }, training.Hold, "too thin"},
		{"no deficit", func(s *training.Situation) { s.Deficit = false }, training.Hold, "no energy deficit"},
		{"peak week", func(s *training.Situation) { s.Phase = athlete.PeakWeek }, training.Hold, "peak-week"},
		{"no sets", func(s *training.Situation) { s.Now = nil }, training.Hold, "nothing to change"},
		{"at maintenance", func(s *training.Situation) {
			s.Now = []athlete.MuscleSets{{Muscle: athlete.Chest, Sets: 8}, {Muscle: athlete.Back, Sets: 5}}
		}, training.Hold, "maintenance dose"},
		{"few sets already", func(s *training.Situation) {
			s.Capacity = new(training.ExpectedCapacity(training.Condition{Deficit: 0.1}, training.CapacitySettings{}))
		}, training.Hold, "fewer than"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := tired()
			tt.edit(&s)
			p := propose(t, s)
			if p.Action != tt.want || !strings.Contains(strings.Join(append(p.Reasons, p.Sentence), " "), tt.says) {
				t.Errorf("%s because %q, want %s and %q", p.Action, p.Reasons, tt.want, tt.says)
			}
			if !slices.Equal(p.Sets, s.Now) {
				t.Errorf("sets move from %v to %v", s.Now, p.Sets)
			}
		})
	}
	s := tired()
	s.MaintenanceShare = 0.2
	if _, err := training.Propose(s); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a maintenance share of 0.2: %v, want Invalid", err)
	}
}

// What one may expect to be recovered from bounds a cut, until recovery is deeply
// short; more than that makes it a step larger.
func TestCapacityBoundsACut(t *testing.T) {
	s := trainee(t)
	s.Retention = nil
	s.Capacity = new(training.ExpectedCapacity(training.Condition{}, training.CapacitySettings{}))
	off := func(factor float64) {
		s.OffSeason = slices.Clone(s.Now)
		for i := range s.OffSeason {
			s.OffSeason[i].Sets *= factor
		}
	}
	cut := func() float64 {
		p := propose(t, s)
		if p.Action != training.FewerSets {
			return 0
		}
		return p.CutPct
	}
	off(0.9) // more than in the off-season
	more := cut()
	off(1.15)
	if fewer := cut(); fewer != 0 || more < 12 {
		t.Errorf("cut by %.1f %% above and %.1f %% below what is expected, want over 12 and 0", more, fewer)
	}
	s.Recovery.Deep = 0.9
	if deep := cut(); deep < 10 {
		t.Errorf("deeply short: cut by %.1f %%", deep)
	}
}

// Whatever the signs: never more sets, never under the maintenance dose, never more
// than a third of a muscle or 30 % in all; one change; a deload and a swap leave what
// stands.
func TestProposeKeepsTheFloors(t *testing.T) {
	all := training.Standard().Exercises()
	seen := map[training.Action]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := tired()
		chance := rapid.Float64Range(0, 1)
		s.Recovery = state(rapid.SampledFrom([]float64{0.1, 0.6, 0.85, 0.95}).Draw(t, "short"), 0, rapid.IntRange(0, 5).Draw(t, "weeks"))
		s.Recovery.Deep = s.Recovery.Short * chance.Draw(t, "deep")
		s.Retention.LossOver2p5 = chance.Draw(t, "loss")
		s.Retention.LossOver5 = s.Retention.LossOver2p5 * chance.Draw(t, "share")
		s.Now, s.OffSeason = nil, nil
		for range rapid.IntRange(0, 14).Draw(t, "exercises") {
			e := rapid.SampledFrom(all).Draw(t, "exercise")
			s.Doing = append(s.Doing, training.Doing{Name: e.Name, Exercise: e, Sets: float64(rapid.IntRange(0, 24).Draw(t, "sets")) / 2})
		}
		s.Now = training.MuscleSetsOf(s.Doing)
		if len(s.Doing) == 0 || rapid.Bool().Draw(t, "muscles only") {
			s.Doing = nil
			for i := range s.Now {
				s.Now[i].Sets = float64(rapid.IntRange(0, 60).Draw(t, "now")) / 2
			}
		}
		for _, m := range s.Now {
			s.OffSeason = append(s.OffSeason, athlete.MuscleSets{Muscle: m.Muscle, Sets: float64(rapid.IntRange(0, 50).Draw(t, "off-season")) / 2})
		}
		if rapid.Bool().Draw(t, "spare") {
			s.Spare = []athlete.Region{rapid.SampledFrom(athlete.Regions()).Draw(t, "region")}
		}
		if rapid.Bool().Draw(t, "capacity") {
			s.Capacity = new(training.ExpectedCapacity(training.Condition{Deficit: chance.Draw(t, "deficit"), Leanness: chance.Draw(t, "lean")}, training.CapacitySettings{}))
		}
		if rapid.IntRange(0, 3).Draw(t, "hurt") == 0 {
			s.Pain.Injuries = s.Spare
		}
		p, err := training.Propose(s)
		if err != nil {
			t.Fatal(err)
		}
		seen[p.Action]++
		checkFloors(t, &s, &p)
	})
	t.Logf("%v", seen)
	for _, a := range []training.Action{training.Hold, training.FewerSets, training.Deload, training.Defer} {
		if seen[a] == 0 {
			t.Errorf("no draw led to %s", a)
		}
	}
}

func checkFloors(t *rapid.T, s *training.Situation, p *training.Proposal) {
	var total, after float64
	for i, m := range p.Sets {
		now, off := s.Now[i].Sets, s.OffSeason[i].Sets
		total += now
		after += m.Sets
		switch {
		case m.Sets > now:
			t.Fatalf("%s rises from %v to %v", m.Muscle, now, m.Sets)
		case m.Sets < now && (m.Sets < off/2 || m.Sets < 4 || m.Sets < now*2/3-1e-9):
			t.Fatalf("%s falls from %v to %v; off-season %v", m.Muscle, now, m.Sets, off)
		}
	}
	if p.Sentence == "" || len(p.Reasons) == 0 {
		t.Fatalf("nothing is said: %+v", p)
	}
	if total-after > 0.3*total+1 || p.Action != training.FewerSets && after != total {
		t.Fatalf("%s: %v of %v sets are taken away", p.Action, total-after, total)
	}
	for _, e := range p.Exercises {
		switch {
		case e.SetsTo > e.SetsFrom:
			t.Fatalf("%s: more sets of %+v", p.Action, e)
		case (p.Action == training.Swap) != (e.SwapTo != "" && e.SetsTo == e.SetsFrom && len(p.Exercises) == 1):
			t.Fatalf("%s changes %+v", p.Action, p.Exercises)
		}
	}
	if p.Action == training.FewerSets && (p.CutPct <= 0 || len(s.Doing) > 0 && len(p.Exercises) == 0) {
		t.Fatalf("fewer sets, but %+v", p)
	}
}

func TestGather(t *testing.T) {
	asOf := civil.MustParse("2025-03-14")
	var days []athlete.Day
	for i := range 20 {
		d := athlete.Day{Date: asOf.AddDays(2 - i), SleepH: new(6.0), Mood: new(5.0)} // two days lie after the date
		if i < 2 || i > 15 {
			d.SleepH = new(1.0) // outside the two weeks
		}
		if i%5 == 2 {
			d.Fatigue = new(8.0) // on 3 days only
		}
		days = append(days, d)
	}
	m := training.Gather(days, asOf)
	if m.SleepH == nil || *m.SleepH != 6 || m.Mood == nil || *m.Mood != 5 {
		t.Errorf("sleep = %v, want 6 from the 14 days to the date", m.SleepH)
	}
	if m.Fatigue != nil || m.Hunger != nil || m.RestingPulse != nil {
		t.Errorf("fatigue %v and hunger %v, want nil: too few days", m.Fatigue, m.Hunger)
	}
}
