package training_test

import (
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/training"
)

func hurt(ago int, pain float64, where athlete.Region) athlete.Day {
	return athlete.Day{Date: start.AddDays(-ago), Pain: &pain, PainWhere: where}
}

// Pain defers from 4 of 10, or on three days of two weeks (judgement); an open injury
// and a bone that hurts always do. What loads the region waits, the rest goes on.
func TestPainDefers(t *testing.T) {
	bone := athlete.CheckIn{Date: start.AddDays(-3), Signs: []athlete.Sign{athlete.BonePain}}
	tests := []struct {
		name     string
		days     []athlete.Day
		checkIns []athlete.CheckIn
		injuries []athlete.Region
		defers   bool
		says     string
	}{
		{"nothing", nil, nil, nil, false, ""},
		{"none felt", []athlete.Day{hurt(1, 0, "")}, nil, nil, false, ""},
		{"once a little", []athlete.Day{hurt(2, 3, athlete.Knee)}, nil, nil, false, "Pain at the knee on 1 of the last 14 days, at worst 3 of 10: keep an eye on it"},
		{"bad", []athlete.Day{hurt(2, 4, athlete.Knee)}, nil, nil, true, "knee"},
		{"again and again", []athlete.Day{hurt(9, 2, athlete.Knee), hurt(5, 1, athlete.Knee), hurt(2, 2, athlete.Knee)}, nil, nil, true, "on 3 of"},
		{"here and there", []athlete.Day{hurt(9, 2, athlete.Knee), hurt(5, 1, athlete.Elbow), hurt(2, 2, "")}, nil, nil, false, "not said where"},
		{"long ago", []athlete.Day{hurt(14, 8, athlete.Knee)}, nil, nil, false, ""},
		{"to come", []athlete.Day{hurt(-1, 8, athlete.Knee)}, nil, nil, false, ""},
		{"an injury", nil, nil, []athlete.Region{athlete.Shoulder}, true, "injury of the shoulder"},
		{"a bone", nil, []athlete.CheckIn{bone}, nil, true, "stress fracture"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := trainee(t)
			s.Pain = training.GatherPain(tt.days, tt.checkIns, tt.injuries, start)
			p := propose(t, s)
			if (p.Action == training.Defer) != tt.defers {
				t.Errorf("%s: %v", p.Action, p.Reasons)
			}
			all := strings.Join(slices.Concat(p.Reasons, p.Cautions), " ")
			if !strings.Contains(all, tt.says) || tt.says == "" && strings.Contains(all, "Pain") {
				t.Errorf("it says %q, want %q", all, tt.says)
			}
			if tt.defers && (!strings.Contains(p.Sentence, "clinician") || !slices.Equal(p.Sets, s.Now) || len(p.Exercises) > 0) {
				t.Errorf("%s: %+v", p.Sentence, p)
			}
		})
	}
	s := trainee(t)
	s.Phase, s.Deficit = athlete.OffSeason, false
	s.Pain.Injuries = []athlete.Region{athlete.Knee}
	p := propose(t, s)
	want := []string{"back squat", "leg extension", "lying leg curl"}
	if p.Action != training.Defer || !slices.Equal(p.Waits, want) {
		t.Errorf("out of season %s, and %v waits, want %v", p.Action, p.Waits, want)
	}
}
