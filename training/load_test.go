package training_test

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/training"
)

func sessions(loads ...float64) []athlete.Session {
	var out []athlete.Session
	for i, l := range loads {
		if l > 0 {
			out = append(out, athlete.Session{Date: start.AddDays(i), RPE: 5, Minutes: l / 5})
		}
	}
	return out
}

// The schematic diary of Foster et al. 2001 (J Strength Cond Res 15:109), table 5:
// session RPE and load as printed, Sunday to Saturday. The printed loads of the first
// session and of two on skates are not RPE times the printed minutes (180, 75 and 75),
// so the minutes here are those that give the printed load.
var fosterDiary = []struct {
	day       int
	rpe, load float64
}{{0, 5, 940}, {1, 2, 50}, {2, 7, 840}, {2, 7, 280}, {3, 3, 180}, {4, 8, 390}, {5, 2, 50}, {6, 8, 390}, {6, 7, 280}}

// The printed week load is 3400. The printed monotony, 1.26, and strain, 4284, come out
// with the population standard deviation over the nine sessions; by the definition, over
// the seven days, they are 1.21 and 4119 (worked here), and with the sample's 1.12 and
// 3814.
func TestLoadOfFostersDiary(t *testing.T) {
	var diary []athlete.Session
	var sum, squares float64
	for _, d := range fosterDiary {
		diary = append(diary, athlete.Session{Date: start.AddDays(d.day), RPE: d.rpe, Minutes: d.load / d.rpe})
		sum += d.load
		squares += d.load * d.load
	}
	w := training.Load(diary, start)
	if w.Sessions != 9 || math.Abs(w.Load-3400) > 1e-9 {
		t.Errorf("%d sessions, load %.1f; printed 9 and 3400", w.Sessions, w.Load)
	}
	n := float64(len(fosterDiary))
	bySession := sum / n / math.Sqrt(squares/n-sum*sum/n/n)
	if math.Abs(bySession-1.26) > 0.005 || math.Abs(w.Load*1.26-4284) > 1e-9 {
		t.Errorf("over the sessions monotony is %.4f; printed 1.26, strain 4284", bySession)
	}
	if math.Abs(w.Monotony-1.2116) > 5e-5 || math.Abs(w.Strain-4119.4) > 0.5 {
		t.Errorf("over the days monotony %.4f, strain %.1f; want 1.2116 and 4119.4", w.Monotony, w.Strain)
	}
	if sample := w.Monotony * math.Sqrt(6.0/7); math.Abs(sample-1.1217) > 5e-5 {
		t.Errorf("with the sample's standard deviation %.4f, want 1.1217", sample)
	}
}

// An invented week, worked from the definitions: population standard deviation 203.763,
// mean 258.571; the sample's, 220.089, gives 1.1748 and 2126.5.
func TestLoad(t *testing.T) {
	w := training.Load(append(sessions(420, 225, 0, 525, 160, 480, 0),
		athlete.Session{Date: start.AddDays(7), RPE: 9, Minutes: 90}), start)
	if w.Load != 1810 || math.Abs(w.Monotony-1.2690) > 5e-5 || math.Abs(w.Strain-2296.9) > 0.05 {
		t.Errorf("load %.0f, monotony %.4f, strain %.1f; want 1810, 1.2690, 2296.9", w.Load, w.Monotony, w.Strain)
	}
	if sample := math.Sqrt(6.0/7) * w.Strain; math.Abs(sample-2126.5) > 0.05 {
		t.Errorf("with the sample's standard deviation strain is %.1f, want 2126.5", sample)
	}
}

func TestLoadAtTheEdges(t *testing.T) {
	even := training.Load(sessions(300, 300, 300, 300, 300, 300, 300), start)
	if even.Monotony != training.MonotonyCap || even.Strain != 21000 {
		t.Errorf("days all alike: monotony %v, strain %v; want the cap, 10, and 21000", even.Monotony, even.Strain)
	}
	if none := training.Load(nil, start); none.Load != 0 || none.Monotony != 0 || none.Strain != 0 {
		t.Errorf("no training: %+v", none)
	}
	twice := training.Load(append(sessions(100), sessions(200)...), start)
	if twice.Days[0] != 300 || twice.Sessions != 2 {
		t.Errorf("two sessions on a day: %v, want 300", twice.Days[0])
	}
}

// Loads are those of whole weeks, one by one, and each against the four before.
func TestLoadsByWeek(t *testing.T) {
	var all []athlete.Session
	for week, load := range []float64{400, 500, 600, 500, 750, 0, 300} {
		if load > 0 {
			all = append(all, athlete.Session{Date: start.AddDays(7*week + 2), RPE: 5, Minutes: load / 5})
		}
	}
	monday := start.Monday()
	got := training.Loads(all, monday.AddDays(-3), monday.AddDays(7*7-2))
	if len(got) != 6 || got[0].From != monday || got[5].From != monday.AddDays(35) {
		t.Fatalf("%d weeks from %s; the seventh ends a day later, and the part before the first is no week", len(got), got[0].From)
	}
	for i := range got {
		one := training.Load(all, got[i].From)
		if got[i].Load != one.Load || got[i].Monotony != one.Monotony {
			t.Errorf("week %d: %+v, alone %+v", i, got[i], one)
		}
		if known := got[i].OfUsual != nil; known != (i == 4 || i == 5) {
			t.Errorf("week %d: of usual %v", i, got[i].OfUsual)
		}
	}
	if *got[4].OfUsual != 1.5 { // 750 over the mean of 400, 500, 600 and 500
		t.Errorf("of usual %v, want 1.5", *got[4].OfUsual)
	}
	if *got[5].OfUsual != 0 {
		t.Errorf("a week of rest is %v of usual", *got[5].OfUsual)
	}
	if weeks := training.Loads(all, start, start.AddDays(5)); weeks != nil {
		t.Errorf("no whole week: %v", weeks)
	}
	var none []civil.Date
	for _, w := range training.Loads(nil, monday, monday.AddDays(13)) {
		none = append(none, w.From)
		if w.Load != 0 || w.OfUsual != nil {
			t.Errorf("nothing logged: %+v", w)
		}
	}
	if len(none) != 2 {
		t.Errorf("weeks %v, want both", none)
	}
}
