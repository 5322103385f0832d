package web

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

// What a row shows, sent again, is what is kept: in either unit and on either scale.
// So the same set sent twice is never a correction.
func TestSetsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := setParts{
			Weight: rapid.StringMatching(`[1-9][0-9]{0,2}([.,](5|25|75|3))?|0`).Draw(t, "weight"),
			Reps:   rapid.StringMatching(`[1-9][0-9]?`).Draw(t, "reps"),
			Effort: rapid.SampledFrom([]string{"", "0", "2", "9.5", "8,5"}).Draw(t, "effort"),
			Side:   rapid.SampledFrom([]string{"", "left", "right"}).Draw(t, "side"),
			Note:   rapid.StringMatching(`([a-zæ×,;] ?){0,9}[a-z]|`).Draw(t, "note"),
		}
		a := athlete.Athlete{
			Units:  rapid.SampledFrom([]athlete.Units{athlete.Metric, athlete.Imperial}).Draw(t, "units"),
			Effort: rapid.SampledFrom([]athlete.EffortScale{"", athlete.InReserve, athlete.Exertion}).Draw(t, "scale"),
		}
		typed := p.text(a.Units, a.Effort)
		var c app.GymChange
		if err := amendSet(&c, &a, "leg press", 3, typed, []string{""}, nil); err != nil || len(c.Sets) != 1 {
			t.Fatalf("%q: %v", typed, err)
		}
		shown := setText(&c.Sets[0], a.Units, a.Effort)
		for _, again := range []string{typed, shown} {
			var second app.GymChange
			if err := amendSet(&second, &a, "leg press", 3, again, []string{shown}, c.Sets); err != nil || second.Sets != nil || second.Drop != nil {
				t.Fatalf("%q is kept as %q, and %q again changes it (%v)", typed, shown, again, err)
			}
		}
		if s := c.Sets[0]; s.Side != p.Side || s.Notes != p.Note || s.Exercise != "leg press" || s.Order != 3 {
			t.Fatalf("%q is kept as %+v", typed, s)
		}
	})
}

// Weights as plates make them. The pound is 0.45359237 kg (International Yard and
// Pound Agreement, 1959): 80 kg are 176.37 lb, and 45 lb are 20.41 kg.
func TestGymWeight(t *testing.T) {
	for _, c := range []struct {
		kg   float64
		u    athlete.Units
		want string
	}{
		{80, athlete.Metric, "80"},
		{80, athlete.Imperial, "176.5"},
		{45 * athlete.KgPerPound, athlete.Imperial, "45"},
		{45 * athlete.KgPerPound, athlete.Metric, "20.5"},
		{1.25, athlete.Metric, "1.25"},
		{62.3, athlete.Metric, "62.3"}, // typed so
		{0, athlete.Imperial, "0"},
	} {
		if got := gymWeight(c.kg, c.u); got != c.want {
			t.Errorf("%v kg is %q in %s, want %q", c.kg, got, c.u, c.want)
		}
	}
}

// RPE 10 is none left, 9.5 half a repetition, 8 two (Zourdos et al. 2016, J Strength
// Cond Res 30:267).
func TestEffortIsKeptInReserve(t *testing.T) {
	for text, want := range map[string]float64{
		"80 kg × 8, RPE 10": 0, "80 kg × 8, RPE 9.5": 0.5, "80 kg × 8, RPE 8": 2, "80 kg × 8, 2 RIR": 2,
	} {
		s, _, err := readSet(text)
		if err != nil || s.RIR == nil || *s.RIR != want {
			t.Errorf("%q is %+v, %v, want %v in reserve", text, s, err, want)
		}
	}
}

// A set whose weight is not touched keeps it to the gram, whatever the unit shown.
func TestAWeightStaysExact(t *testing.T) {
	a := athlete.Athlete{Units: athlete.Imperial}
	now := []athlete.Set{{Exercise: "row", Order: 1, WeightKg: 80, Reps: 8}}
	var c app.GymChange
	if err := amendSet(&c, &a, "row", 1, "176.5 lb × 9", []string{"176.5 lb × 8"}, now); err != nil || len(c.Sets) != 1 || c.Sets[0].WeightKg != 80 || c.Sets[0].Reps != 9 {
		t.Errorf("%+v, %v", c, err)
	}
	c = app.GymChange{}
	if err := amendSet(&c, &a, "row", 1, "180 lb × 9", []string{"80 kg × 8"}, now); err != nil || math.Abs(c.Sets[0].WeightKg-180*0.45359237) > 1e-9 {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestSetsRefuseSlips(t *testing.T) {
	for _, text := range []string{
		"NaN kg × 8", "inf kg × 8", "1e3 kg × 8", "0x10 kg × 8", " kg × 8", "80 kg × ", "80 kg", "× 8", "80 kg × 8.5", "80 kg × eight",
		"80 kg × 99999999999999999999", "80 kg × 8, 2", "80 kg × 8, up", "80 kg × 8, RPE ten", "80 kg × 8, RPE NaN", "80 kg × 8; " + strings.Repeat("x", 501),
	} {
		if s, _, err := readSet(text); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q is read as %+v, %v", text, s, err)
		}
	}
	a := athlete.Athlete{}
	many := make([]athlete.Set, mostSets)
	for _, c := range []struct {
		exercise string
		order    int
		now      []athlete.Set
	}{{"", 1, nil}, {strings.Repeat("x", 81), 1, nil}, {"leg\npress", 1, nil}, {"leg press", -1, nil}, {"leg press", 1000, nil}, {"leg press", 1, many}} {
		var out app.GymChange
		if err := amendSet(&out, &a, c.exercise, c.order, "80 kg × 8", []string{""}, c.now); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q, place %d, of %d: %v", c.exercise, c.order, len(c.now), err)
		}
	}
}

// FuzzReadSet: no text breaks the reading, and what is read reads back.
func FuzzReadSet(f *testing.F) {
	for _, text := range []string{"", "80 kg × 8, 2 RIR, left; a note", "175 lb × 5, RPE 9.5", ", , ; ", "0 kg × 1; ;", "80 kg × 8, NaN RIR"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, u, err := readSet(text)
		if err != nil || s == nil {
			return
		}
		shown := setText(s, u, athlete.InReserve)
		again, _, err := readSet(shown)
		if err != nil || !sameSet(s, again, u) {
			t.Errorf("%q is shown as %q, which is %+v, %v", text, shown, again, err)
		}
	})
}

// A session needs both its minutes and its rating, and is changed, not emptied.
func TestSessionText(t *testing.T) {
	now := &athlete.Session{Minutes: 65, RPE: 7}
	for _, c := range []struct {
		text string
		seen string
		kind fault.Kind
		want *athlete.Session
	}{
		{"65 min, RPE 7", "", "", nil},
		{"70 min, RPE 7", "65 min, RPE 7", "", &athlete.Session{Minutes: 70, RPE: 7}},
		{"70,5 min, RPE 7.5", "65 min, RPE 7", "", &athlete.Session{Minutes: 70.5, RPE: 7.5}},
		{"", "65 min, RPE 7", fault.Invalid, nil},
		{"70 min, RPE ", "65 min, RPE 7", fault.Invalid, nil},
		{"NaN min, RPE 7", "65 min, RPE 7", fault.Invalid, nil},
	} {
		var out app.GymChange
		err := amendSession(&out, c.text, []string{c.seen}, now)
		if fault.KindOf(err) != c.kind || (out.Session == nil) != (c.want == nil) || c.want != nil && *out.Session != *c.want {
			t.Errorf("%q after %q gives %+v, %v", c.text, c.seen, out.Session, err)
		}
	}
	if err := amendSession(&app.GymChange{}, "70 min, RPE 7", []string{"60 min, RPE 7"}, now); err == nil || fault.KindOf(err) != "" {
		t.Errorf("what was never seen is written over: %v", err)
	}
}
