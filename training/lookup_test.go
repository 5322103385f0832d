package training_test

import (
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/training"

	"pgregory.net/rapid"
)

func TestLookup(t *testing.T) {
	tests := []struct {
		typed string
		want  string // empty: unknown
		exact bool
	}{
		{"Back Squat", "back squat", true},
		{"squats", "back squat", true},
		{"DB bench press", "dumbbell bench press", true},
		{"Bench-Press (Barbell)", "bench press", true},
		{"press, bench", "bench press", true},
		{"RDLs", "romanian deadlift", true},
		{"dumbell curl", "dumbbell curl", false}, // a slip of the pen
		{"romainan deadlift", "romanian deadlift", false},
		{"Pull-ups", "pull up", true},
		{"cable flyes", "cable fly", true},
		{"paused squat", "back squat", false}, // a variant
		{"close grip pulldown", "lat pulldown", false},
		{"press", "", false}, // could be chest or shoulders
		{"wrist curl", "", false},
		{"farmer's walk", "", false},
		{"", "", false},
		{"  -- ", "", false},
	}
	for _, tt := range tests {
		t.Run(tt.typed, func(t *testing.T) {
			m, ok := training.Standard().Lookup(tt.typed)
			if ok != (tt.want != "") || m.Exercise.Name != tt.want || m.Exact != tt.exact {
				t.Errorf("Lookup = %q exact %v, %v; want %q exact %v", m.Exercise.Name, m.Exact, ok, tt.want, tt.exact)
			}
		})
	}
}

func TestCatalogueIsSound(t *testing.T) {
	owner := map[string]string{}
	for _, e := range training.Standard().Exercises() {
		if e.Pattern == "" || len(e.Muscles) == 0 {
			t.Errorf("%s: no pattern or muscle", e.Name)
		}
		direct := 0
		for _, s := range e.Muscles {
			if !slices.Contains(athlete.Muscles(), s.Muscle) {
				t.Errorf("%s: muscle %q is not in the domain", e.Name, s.Muscle)
			}
			if s.Share == training.Direct {
				direct++
			} else if s.Share != training.Indirect {
				t.Errorf("%s: share %v is neither direct nor indirect", e.Name, s.Share)
			}
		}
		if direct == 0 {
			t.Errorf("%s: trains no muscle directly", e.Name)
		}
		for _, name := range append([]string{e.Name}, e.Aliases...) {
			m, ok := training.Standard().Lookup(name)
			if !ok || !m.Exact || m.Exercise.Name != e.Name {
				t.Errorf("%q of %s is found as %s", name, e.Name, m.Exercise.Name)
			}
			if other, taken := owner[name]; taken {
				t.Errorf("%q belongs to %s and %s", name, other, e.Name)
			}
			owner[name] = e.Name
		}
	}
	if len(owner) < 150 {
		t.Errorf("only %d names in the catalogue", len(owner))
	}
}

func TestEveryMuscleHasADirectExercise(t *testing.T) {
	covered := map[athlete.Muscle]bool{}
	for _, e := range training.Standard().Exercises() {
		for _, s := range e.Muscles {
			covered[s.Muscle] = covered[s.Muscle] || s.Share == training.Direct
		}
	}
	for _, m := range athlete.Muscles() {
		if !covered[m] {
			t.Errorf("nothing trains %s directly", m)
		}
	}
}

// The order and case of words never change what is found.
func TestLookupIgnoresOrderAndCase(t *testing.T) {
	all := training.Standard().Exercises()
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom(all).Draw(t, "exercise")
		words := rapid.Permutation(strings.Fields(e.Name)).Draw(t, "words")
		typed := strings.ToUpper(strings.Join(words, "  "))
		if m, ok := training.Standard().Lookup(typed); !ok || m.Exercise.Name != e.Name {
			t.Fatalf("%q is found as %q", typed, m.Exercise.Name)
		}
	})
}

func FuzzLookup(f *testing.F) {
	for _, s := range []string{"bench", "ÉLÉVATION latérale", "45° leg press", "\x00\xff", "s"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, ok := training.Standard().Lookup(s)
		if ok != (m.Exercise.Name != "") {
			t.Errorf("Lookup(%q) = %q, %v", s, m.Exercise.Name, ok)
		}
	})
}
