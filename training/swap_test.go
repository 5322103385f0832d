package training_test

import (
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/training"

	"pgregory.net/rapid"
)

// Every entry is whole, every muscle can be trained directly with the body held or
// the path kept, and every pattern has a machine.
func TestStandardEntriesAreWhole(t *testing.T) {
	steady := map[athlete.Muscle]bool{}
	guided := map[athlete.Pattern]bool{}
	all := training.Standard().Exercises()
	for i := range all {
		e := &all[i]
		if err := e.Validate(); err != nil {
			t.Errorf("%s: %v", e.Name, err)
		}
		if len(e.Loads) == 0 {
			t.Errorf("%s loads no region", e.Name)
		}
		if e.Stability == athlete.Guided {
			guided[e.Pattern] = true
		}
		for _, s := range e.Muscles {
			steady[s.Muscle] = steady[s.Muscle] || s.Share == training.Direct && e.Stability != athlete.FreeStanding
		}
	}
	for _, m := range athlete.Muscles() {
		if !steady[m] {
			t.Errorf("nothing steady trains %s directly", m)
		}
	}
	for _, p := range athlete.Patterns() {
		if !guided[p] {
			t.Errorf("nothing guided for %s", p)
		}
	}
}

// Judgement of ours: big lifts that stand free and bend at the hip or knee tire most,
// a machine for one joint least.
func TestTiringRanks(t *testing.T) {
	order := []string{"deadlift", "back squat", "leg press", "overhead press", "bench press", "chest press", "leg extension"}
	for i := 1; i < len(order); i++ {
		more, less := doing(t, order[i-1], 1), doing(t, order[i], 1)
		if training.Tiring(&more.Exercise) <= training.Tiring(&less.Exercise) {
			t.Errorf("%s does not tire more than %s", more.Name, less.Name)
		}
	}
	own := athlete.Exercise{Pattern: athlete.Squat}
	free := athlete.Exercise{Pattern: athlete.Squat, Stability: athlete.FreeStanding}
	if training.Tiring(&own) != training.Tiring(&free) {
		t.Error("an exercise that does not say how it holds the lifter is not taken as free standing")
	}
}

// Common practice, no source: what stands in for what.
func TestSwapsByExample(t *testing.T) {
	tests := []struct {
		of    string
		have  []athlete.Equipment
		spare []athlete.Region
		first string // empty: there is none
	}{
		{"barbell row", nil, nil, "machine row"},
		{"barbell row", []athlete.Equipment{athlete.Barbell, athlete.Dumbbell}, nil, "chest supported row"},
		{"overhead press", nil, nil, "machine shoulder press"},
		{"bench press", nil, nil, "chest press"},
		{"bench press", nil, []athlete.Region{athlete.Elbow}, "pec fly"},
		{"bench press", nil, []athlete.Region{athlete.Shoulder}, ""},
		{"leg extension", nil, nil, ""}, // as steady as can be
		{"lunge", []athlete.Equipment{athlete.SmithMachine}, nil, "smith split squat"},
		{"lateral raise", nil, nil, "machine lateral raise"},
	}
	for _, tt := range tests {
		got := training.Standard().Swaps(doing(t, tt.of, 1).Exercise, tt.have, tt.spare)
		first := ""
		if len(got) > 0 {
			first = got[0].Name
		}
		if first != tt.first {
			t.Errorf("%s with %v, sparing %v: %q first, want %q", tt.of, tt.have, tt.spare, first, tt.first)
		}
	}
	var none *training.Catalogue
	if len(none.Swaps(doing(t, "back squat", 1).Exercise, nil, nil)) == 0 {
		t.Error("without a catalogue the standard one is not used")
	}
}

// A swap is always steadier, less tiring, there to be used, trains a muscle directly
// that the exercise did, and loads nothing that is to be spared.
func TestSwapsKeepTheirWord(t *testing.T) {
	all := training.Standard().Exercises()
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom(all).Draw(t, "exercise")
		have := rapid.SliceOfDistinct(rapid.SampledFrom(athlete.AllEquipment()), rapid.ID[athlete.Equipment]).Draw(t, "have")
		spare := rapid.SliceOfDistinct(rapid.SampledFrom(athlete.Regions()), rapid.ID[athlete.Region]).Draw(t, "spare")
		samePattern := true
		for _, s := range training.Standard().Swaps(e, have, spare) {
			rank := func(x athlete.Exercise) int { return slices.Index(athlete.Stabilities(), x.Stability) }
			if rank(s) >= rank(e) || training.Tiring(&s) >= training.Tiring(&e) || len(have) > 0 && !slices.Contains(have, s.Equipment) {
				t.Fatalf("%s for %s", s.Name, e.Name)
			}
			for _, r := range spare {
				if slices.Contains(s.Loads, r) {
					t.Fatalf("%s loads the %s", s.Name, r)
				}
			}
			if !slices.ContainsFunc(e.Muscles, func(x athlete.Share) bool { return x.Share == 1 && slices.Contains(s.Muscles, x) }) {
				t.Fatalf("%s trains nothing directly that %s did", s.Name, e.Name)
			}
			if s.Pattern == e.Pattern && !samePattern {
				t.Fatalf("%s comes after another pattern", s.Name)
			}
			samePattern = s.Pattern == e.Pattern
		}
	})
}

func TestSuggest(t *testing.T) {
	for typed, want := range map[string]string{
		"dumbell curl":         "dumbbell curl",
		"incline smith press":  "smith incline press",
		"chest-suported rows":  "chest supported row",
		"machine leg curl":     "lying leg curl",
		"hack squatt":          "hack squat",
		"overhead ext. (rope)": "overhead triceps extension",
	} {
		got := training.Standard().Suggest(typed, 3)
		if len(got) == 0 || len(got) > 3 || got[0].Name != want {
			t.Errorf("%q: %v, want %s first", typed, names(got), want)
		}
	}
	if got := training.Standard().Suggest("zzz", 3); len(got) != 0 {
		t.Errorf("nothing is like zzz: %v", names(got))
	}
}

func names(all []athlete.Exercise) (out []string) {
	for _, e := range all {
		out = append(out, e.Name)
	}
	return out
}
