package training_test

import (
	"math"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/numeric"
	"glidepath/training"

	"pgregory.net/rapid"
)

func tired() training.Situation {
	return training.Situation{
		Markers:   training.Markers{SleepH: new(5.6), Fatigue: new(7.8)},
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

func TestProposeFewerSets(t *testing.T) {
	p, err := training.Propose(tired())
	if err != nil {
		t.Fatal(err)
	}
	// Three signs: 20 % of 51 sets is 10; most come from the back, none from the
	// quadriceps, which are at half of the off-season.
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
	reasons := strings.Join(p.Reasons, " ")
	for _, want := range []string{"5.6 h", "7.8 of 10", "96.0 %", "90 %", "10 of 51.0", "load on the bar"} {
		if !strings.Contains(reasons, want) {
			t.Errorf("reasons lack %q: %s", want, reasons)
		}
	}
}

func TestProposeHolds(t *testing.T) {
	tests := []struct {
		name string
		edit func(*training.Situation)
		want training.Action
		says string
	}{
		{"pain", func(s *training.Situation) { s.Pain = true }, training.Defer, "clinician"},
		{"one sign", func(s *training.Situation) { s.Markers.Fatigue = new(4.0); s.Retention = nil }, training.Hold, "too little"},
		{"strength alone", func(s *training.Situation) {
			s.Markers = training.Markers{SleepH: new(7.5), Fatigue: new(4.0)}
			s.Retention.LossOver5 = 0.95
		}, training.Hold, "food"},
		{"hunger alone", func(s *training.Situation) {
			s.Markers = training.Markers{SleepH: new(7.5), Fatigue: new(4.0), Hunger: new(9.5)}
			s.Retention = nil
		}, training.Hold, "too little"},
		{"nothing logged", func(s *training.Situation) { s.Markers = training.Markers{} }, training.Hold, "too thin"},
		{"no deficit", func(s *training.Situation) { s.Deficit = false }, training.Hold, "no energy deficit"},
		{"peak week", func(s *training.Situation) { s.Phase = athlete.PeakWeek }, training.Hold, "peak-week"},
		{"no sets", func(s *training.Situation) { s.Now = nil }, training.Hold, "nothing to change"},
		{"at maintenance", func(s *training.Situation) {
			s.Now = []athlete.MuscleSets{{Muscle: athlete.Chest, Sets: 8}, {Muscle: athlete.Back, Sets: 5}}
		}, training.Hold, "already at the maintenance dose"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := tired()
			tt.edit(&s)
			p, err := training.Propose(s)
			if err != nil {
				t.Fatal(err)
			}
			if p.Action != tt.want || !strings.Contains(strings.Join(p.Reasons, " "), tt.says) {
				t.Errorf("%s because %q, want %s and %q", p.Action, p.Reasons, tt.want, tt.says)
			}
			for i, m := range p.Sets {
				if m != s.Now[i] {
					t.Errorf("%s moves from %v to %v", m.Muscle, s.Now[i].Sets, m.Sets)
				}
			}
		})
	}
	s := tired()
	s.MaintenanceShare = 0.2
	if _, err := training.Propose(s); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a maintenance share of 0.2: %v, want Invalid", err)
	}
}

// Whatever the signs: never more sets, never under half of the off-season, never
// under 4 sets, never more than 30 % in all.
func TestProposeKeepsTheFloors(t *testing.T) {
	cuts := 0
	rapid.Check(t, func(t *rapid.T) {
		s := tired()
		s.Markers = training.Markers{
			SleepH:  new(rapid.Float64Range(3, 9).Draw(t, "sleep")),
			Fatigue: new(rapid.Float64Range(1, 10).Draw(t, "fatigue")),
			Hunger:  new(rapid.Float64Range(1, 10).Draw(t, "hunger")),
		}
		s.Retention.LossOver2p5 = rapid.Float64Range(0, 1).Draw(t, "loss")
		s.Retention.LossOver5 = s.Retention.LossOver2p5 * rapid.Float64Range(0, 1).Draw(t, "share")
		s.Now, s.OffSeason = nil, nil
		var total, after float64
		for _, m := range athlete.Muscles() {
			off := float64(rapid.IntRange(0, 50).Draw(t, "off-season")) / 2
			now := float64(rapid.IntRange(0, 60).Draw(t, "now")) / 2
			s.OffSeason = append(s.OffSeason, athlete.MuscleSets{Muscle: m, Sets: off})
			s.Now = append(s.Now, athlete.MuscleSets{Muscle: m, Sets: now})
			total += now
		}
		p, err := training.Propose(s)
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range p.Sets {
			after += m.Sets
			switch now, off := s.Now[i].Sets, s.OffSeason[i].Sets; {
			case m.Sets > now:
				t.Fatalf("%s rises from %v to %v", m.Muscle, now, m.Sets)
			case m.Sets < now && (m.Sets < off/2 || m.Sets < 4 || m.Sets < now*2/3-1e-9):
				t.Fatalf("%s falls from %v to %v; off-season %v", m.Muscle, now, m.Sets, off)
			}
		}
		if total-after > 0.3*total+0.5 {
			t.Fatalf("%v of %v sets are taken away", total-after, total)
		}
		if p.Action == training.FewerSets {
			cuts++
		}
		if (p.Action == training.FewerSets) != (after < total) {
			t.Fatalf("action %s, but sets go from %v to %v", p.Action, total, after)
		}
	})
	if cuts == 0 {
		t.Error("no draw led to fewer sets")
	}
}

func TestGather(t *testing.T) {
	asOf := civil.MustParse("2025-03-14")
	var days []athlete.Day
	for i := range 20 {
		d := athlete.Day{Date: asOf.AddDays(2 - i), SleepH: new(6.0)} // two days lie after the date
		if i < 2 || i > 15 {
			d.SleepH = new(1.0) // outside the two weeks
		}
		if i%5 == 2 {
			d.Fatigue = new(8.0) // on 3 days only
		}
		days = append(days, d)
	}
	m := training.Gather(days, asOf)
	if m.SleepH == nil || *m.SleepH != 6 {
		t.Errorf("sleep = %v, want 6 from the 14 days to the date", m.SleepH)
	}
	if m.Fatigue != nil || m.Hunger != nil {
		t.Errorf("fatigue %v and hunger %v, want nil: too few days", m.Fatigue, m.Hunger)
	}
}
