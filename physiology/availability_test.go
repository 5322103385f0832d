package physiology

import (
	"testing"

	"glidepath/athlete"
)

func TestEnergyAvailability(t *testing.T) {
	for _, c := range []struct {
		name                        string
		intake, exercise, ffm, want float64
	}{
		// Halliday et al. 2016, Nutrients 8:740: before, weeks 1, 10 and 20.
		{"Halliday, before", 2010, 484, 46.6, 32.7},
		{"Halliday, week 1", 1798, 484, 46.6, 28.2},
		{"Halliday, week 10", 1541, 459, 46.6, 23.2},
		{"Halliday, week 20", 1712, 440, 46.6, 27.3},
		// A worked example in circulation.
		{"printed example", 2400, 700, 50, 34},
	} {
		near(t, c.name, must(EnergyAvailability(c.intake, c.exercise, c.ffm))(t), c.want, 0.0501)
	}
}

// Recomputed: fat-free mass of 70 kg at 5, 7 and 12 % fat.
func TestWrestlingMinimum(t *testing.T) {
	for class, want := range map[WrestlingClass]float64{CollegeMen: 73.68, SchoolBoys: 75.27, Women: 79.55} {
		near(t, string(class), must(WrestlingMinimumKg(class, 70))(t), want, 0.0051)
	}
}

func TestRedFlags(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range redFlags {
		if f.ID == "" || seen[f.ID] || f.Sign == "" || f.Grade == "" || f.Is == "" {
			t.Errorf("bad or repeated flag %+v", f)
		}
		seen[f.ID] = true
		if (f.Is == Present) != (f.Quantity == "") {
			t.Errorf("%s compares %q by %q", f.ID, f.Quantity, f.Is)
		}
	}
	for _, sex := range []athlete.Sex{athlete.Female, athlete.Male} {
		flags := RedFlags(sex)
		for _, f := range flags {
			if f.Sex != "" && f.Sex != sex {
				t.Errorf("%s is not for %s", f.ID, sex)
			}
		}
		if flags[0].Grade != SeverePrimary || flags[len(flags)-1].Grade != Watch {
			t.Errorf("flags for %s do not begin with the gravest", sex)
		}
	}
}

// Limits of REDs CAT2 (Stellingwerff et al. 2023) and, for the watch flags, our
// own.
func TestRedFlagCrossed(t *testing.T) {
	flag := map[string]RedFlag{}
	for _, f := range redFlags {
		flag[f.ID] = f
	}
	for _, c := range []struct {
		id           string
		value, weeks float64
		want         bool
	}{
		{"cycles-absent-3", 2, 0, false},
		{"cycles-absent-3", 3, 0, true},
		{"cycles-absent-12", 12, 0, true},
		{"eating-questionnaire-women", 2.30, 0, false},
		{"eating-questionnaire-women", 2.31, 0, true},
		{"eating-questionnaire-men", 1.70, 0, true},
		{"bone-density", -1.1, 0, true},
		{"bone-density", -1, 0, false},
		{"pulse-low", 39, 0, true},
		{"body-fat-men", 4.5, 3, false},
		{"body-fat-men", 4.5, 4, true},
		{"availability-severe", 19, 0, true},
		{"availability-low", 24, 5, true},
		{"loss-fast", 1.2, 2, false},
		{"loss-fast", 1.2, 3, true},
	} {
		if got := flag[c.id].Crossed(c.value, c.weeks); got != c.want {
			t.Errorf("%s at %v for %v weeks is %v", c.id, c.value, c.weeks, got)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("a flag with no quantity was compared")
		}
	}()
	flag["fainting"].Crossed(1, 1)
}
