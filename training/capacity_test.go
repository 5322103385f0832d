package training_test

import (
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/training"

	"pgregory.net/rapid"
)

// Judgement: all of the off-season's sets without a diet, some 70 % in a full deficit
// at stage leanness, with a wide interval, and said to be judgement.
func TestExpectedCapacity(t *testing.T) {
	free := training.ExpectedCapacity(training.Condition{Deficit: -0.1}, training.CapacitySettings{})
	lean := training.ExpectedCapacity(training.Condition{Deficit: 0.3, Leanness: 1}, training.CapacitySettings{})
	if free.Share.Value != 1 || lean.Share.Value < 0.70 || lean.Share.Value > 0.75 || lean.Share.High90 < 0.9 || lean.Share.Low90 > 0.55 {
		t.Errorf("%+v and %+v", free.Share, lean.Share)
	}
	for _, c := range []training.Capacity{free, lean} {
		if !strings.Contains(c.Sentence, "That is judgement") {
			t.Errorf("it does not say that it is judgement: %s", c.Sentence)
		}
	}
	under := training.ExpectedCapacity(training.Condition{Deficit: 0.05, Available: 24, Floor: 25}, training.CapacitySettings{})
	if under.Share.Value != 0.85 || !strings.Contains(under.Sentence, "under its floor") {
		t.Errorf("under the floor of energy availability: %+v", under)
	}
	own := training.ExpectedCapacity(training.Condition{Deficit: 0.3}, training.CapacitySettings{DeficitCost: 0.4})
	if own.Share.Value != 0.6 {
		t.Errorf("with a setting of its own: %v", own.Share.Value)
	}
}

// A deeper deficit and a leaner body never raise it.
func TestCapacityFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(what string) float64 { return rapid.Float64Range(-0.3, 1.2).Draw(t, what) }
		a := training.Condition{Deficit: draw("deficit"), Leanness: draw("leanness")}
		b := a
		b.Deficit += rapid.Float64Range(0, 0.5).Draw(t, "deeper")
		b.Leanness += rapid.Float64Range(0, 0.5).Draw(t, "leaner")
		x := training.ExpectedCapacity(a, training.CapacitySettings{}).Share
		y := training.ExpectedCapacity(b, training.CapacitySettings{}).Share
		if y.Value > x.Value || y.Low90 > x.Low90 || x.Value > 1 || y.Value < 0.5 {
			t.Fatalf("%+v then %+v", x, y)
		}
	})
}

// Bickel et al. 2011 (Med Sci Sports Exerc 43:1177): a third of the dose kept size for 32
// weeks. Half, and at least 4 or 6, is judgement for a deficit.
func TestMaintenanceDose(t *testing.T) {
	tests := []struct {
		muscle       athlete.Muscle
		off          float64
		sets, lowest float64
	}{
		{athlete.Back, 24, 12, 8},
		{athlete.Back, 9, 6, 3},
		{athlete.Calves, 9, 4.5, 3},
		{athlete.Biceps, 3, 4, 1},
	}
	for _, tt := range tests {
		if got := training.MaintenanceDose(tt.muscle, tt.off); got.Sets != tt.sets || got.Studied != tt.lowest || got.Muscle != tt.muscle {
			t.Errorf("%s from %v sets: %+v, want %v, and %v as studied", tt.muscle, tt.off, got, tt.sets, tt.lowest)
		}
	}
	s := tired()
	s.MaintenanceShare = 1 // as in the old, whom a third did not keep
	if p := propose(t, s); p.Action != training.Hold {
		t.Errorf("all of the off-season's sets are to stay, yet %s", p.Sentence)
	}
}
