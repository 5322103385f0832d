package training_test

import (
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/training"
)

func TestDeload(t *testing.T) {
	monotonous := []training.WeekLoad{{}, {Monotony: 2.3, Strain: 6000, From: start}}
	weeks := func(sets ...int) (out []training.WeekVolume) {
		for _, n := range sets {
			out = append(out, training.WeekVolume{HardSets: n})
		}
		return out
	}
	tests := []struct {
		name  string
		short int // weeks on end
		loads []training.WeekLoad
		weeks []training.WeekVolume
		want  training.Action
	}{
		{"a week", 1, monotonous, nil, training.FewerSets},
		{"two weeks", 2, nil, nil, training.FewerSets},
		{"two weeks, monotonous", 2, monotonous, nil, training.Deload},
		{"two weeks, much more than usual", 2, []training.WeekLoad{{OfUsual: new(1.3)}, {OfUsual: new(0.9)}}, nil, training.Deload},
		{"two weeks, much more long ago", 2, []training.WeekLoad{{OfUsual: new(1.3)}, {}, {}}, nil, training.FewerSets},
		{"four weeks", 4, nil, weeks(70, 72, 68, 71, 70), training.Deload},
		{"four weeks, one of them easy", 4, nil, weeks(70, 72, 36, 71, 70), training.FewerSets},
		{"four weeks, an easy one long ago", 4, nil, weeks(36, 70, 72, 68, 71, 70), training.Deload},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := trainee(t)
			s.Recovery, s.Loads, s.Weeks = state(0.9, 0.1, tt.short), tt.loads, tt.weeks
			p := propose(t, s)
			if p.Action != tt.want {
				t.Fatalf("%s: %v", p.Action, p.Reasons)
			}
			if p.Action != training.Deload {
				return
			}
			// Half the sets, rounded up, for a week; what stands stays.
			if p.Days != 7 || len(p.Exercises) != len(s.Doing) || !slices.Equal(p.Sets, s.Now) || !strings.Contains(p.Sentence, "load that is on the bar") {
				t.Errorf("%+v", p)
			}
			for i, e := range p.Exercises {
				if e.SetsFrom != s.Doing[i].Sets || e.SetsTo*2 < e.SetsFrom || e.SetsTo*2 > e.SetsFrom+1 {
					t.Errorf("%+v", e)
				}
			}
		})
	}
}

// Of what loads a region to be spared the most tiring goes to what is steadier and
// spares it; no muscle falls under its maintenance dose by it.
func TestSwapWhereARegionIsSpared(t *testing.T) {
	s := trainee(t)
	s.Spare = []athlete.Region{athlete.LowerBack}
	p := propose(t, s)
	if p.Action != training.Swap || len(p.Exercises) != 1 || p.Exercises[0].SwapTo == "" {
		t.Fatalf("%s: %s", p.Action, p.Sentence)
	}
	if e := p.Exercises[0]; !slices.Contains([]string{"romanian deadlift", "back squat"}, e.Exercise) ||
		!strings.Contains(strings.Join(p.Reasons, " "), "lower back, which is to be spared") {
		t.Errorf("%+v because %q", e, p.Reasons)
	}
	// Hamstrings at their dose: a hip thrust, which trains them by half, would take them
	// under it, so the squat goes to a machine instead.
	s.Now = slices.Clone(s.Now)
	for i := range s.Now {
		if s.Now[i].Muscle == athlete.Hamstrings {
			s.Now[i].Sets = 6
		}
	}
	if e := propose(t, s).Exercises; len(e) != 1 || e[0].Exercise != "back squat" || e[0].SwapTo != "belt squat" {
		t.Errorf("%+v", e)
	}
	s.Spare, s.Pain = nil, training.GatherPain([]athlete.Day{hurt(1, 2, athlete.Shoulder)}, nil, nil, start)
	s.Equipment = []athlete.Equipment{athlete.Barbell, athlete.Dumbbell}
	if p := propose(t, s); p.Action != training.FewerSets {
		t.Errorf("nothing steadier spares the shoulder with a bar and dumbbells, yet %s: %s", p.Action, p.Sentence)
	}
	// Without room for fewer sets, what is left is the same sets, steadier: not of a main lift.
	s = trainee(t)
	s.MaintenanceShare = 1
	if p := propose(t, s); p.Action != training.Swap || p.Exercises[0].Exercise != "barbell row" {
		t.Errorf("at maintenance %s: %+v", p.Action, p.Exercises)
	}
}
