package cardio_test

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"
	"glidepath/physiology"
)

func TestTradeSpendsTheSame(t *testing.T) {
	c := context()
	list, err := cardio.Trade(200, c)
	if err != nil {
		t.Fatal(err)
	}
	kcal, err := physiology.StepsNetKcal(c.Body.Sex, c.Body.HeightCm, c.Body.WeightKg, list[0].Steps)
	if err != nil || math.Abs(kcal-200) > 1e-6 || list[0].Points != 200 {
		t.Errorf("%v steps hold %v kcal (%v) for %v points, want 200", list[0].Steps, kcal, err, list[0].Points)
	}
	seen := map[athlete.CardioKind][]string{}
	for _, e := range list[1:] {
		seen[e.Kind] = append(seen[e.Kind], e.Pace.Name)
		r, err := cardio.PlanRate(athlete.CardioPlan{Kind: e.Kind, SpeedKmh: e.Pace.SpeedKmh, GradePct: e.Pace.GradePct, Watts: e.Pace.Watts}, c.Body.WeightKg)
		if err != nil || math.Abs(e.Minutes*r.NetKcalPerMin-200) > 1e-9 {
			t.Errorf("%s, %s: %v minutes do not spend 200 kcal (%v)", e.Kind, e.Pace.Name, e.Minutes, err)
		}
		if e.Points < 190 || math.Abs(e.Points-e.Fatigue.Points()) > 1e-9 {
			t.Errorf("%s, %s: %v points, %+v", e.Kind, e.Pace.Name, e.Points, e.Fatigue)
		}
		if e.SEKcal < 0.1*200 || e.SEKcal > 0.5*200 {
			t.Errorf("%s, %s: 200 ± %v kcal", e.Kind, e.Pace.Name, e.SEKcal)
		}
		// What is usual is what a bout is taken for that does not say.
		if e.Pace.Name == "usual" && e.Kind != athlete.Cycling {
			u, err := cardio.RateOf(athlete.CardioBout{Kind: e.Kind}, c.Body.WeightKg)
			if err != nil || math.Abs(u.NetKcalPerMin-r.NetKcalPerMin) > 1e-9 {
				t.Errorf("%s: %v kcal a minute by plan, %v by log", e.Kind, r.NetKcalPerMin, u.NetKcalPerMin)
			}
		}
	}
	for _, kind := range athlete.CardioKinds() {
		if !slices.Contains(seen[kind], "usual") {
			t.Errorf("%s has no usual pace: %v", kind, seen[kind])
		}
	}
	if len(seen[athlete.Cycling]) != 3 {
		t.Errorf("cycling at %v", seen[athlete.Cycling])
	}
}

func TestTradeTellsTomorrowsLifting(t *testing.T) {
	c := context()
	c.Week[2] = cardio.DayTraining{Lifts: true, Sets: []athlete.MuscleSets{{Muscle: athlete.Quadriceps, Sets: 10}}}
	for d := range c.Week {
		if d != 2 && d != 5 {
			c.Week[d] = cardio.DayTraining{Lifts: true, Sets: []athlete.MuscleSets{{Muscle: athlete.Quadriceps, Sets: 4}}}
		}
	}
	list, err := cardio.Trade(100, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		if e.Kind != athlete.Cycling || e.Pace.Name != "usual" {
			continue
		}
		// Friday meets half of its own 4 sets and Saturday's none; 0.8 of quadriceps at
		// 0.03 points a kcal: by hand 100 x 0.03 x 0.8 x 2.
		if e.BestDay == nil || time.Weekday(*e.BestDay) != time.Friday || math.Abs(e.Fatigue.Overlap-4.8) > 1e-9 {
			t.Errorf("cycling is best on %v with %v points of overlap", e.BestDay, e.Fatigue.Overlap)
		}
		return
	}
	t.Error("no cycling")
}

func TestJointsForbid(t *testing.T) {
	c := context()
	c.Spare = []athlete.Region{athlete.Knee}
	p, err := cardio.Mix(250, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range p.Cardio {
		if k.Kind == athlete.Running || k.Kind == athlete.Intervals {
			t.Errorf("%s with a knee to spare", k.Kind)
		}
	}
	if left := strings.Join(p.LeftOut, " "); !strings.Contains(left, "running is hard on the knee, which is to be spared.") || p.StepsPerDay == c.StepsBase {
		t.Errorf("left out: %q, steps %v", left, p.StepsPerDay)
	}
	c.Hurt = []athlete.Region{athlete.Foot}
	if p, err = cardio.Mix(250, c); err != nil {
		t.Fatal(err)
	}
	if len(p.Cardio) != 1 || p.Cardio[0].Kind != athlete.Cycling || p.StepsPerDay != c.StepsBase {
		t.Errorf("with a hurt foot: %v and %v steps", p.Cardio, p.StepsPerDay)
	}
	c.Kinds = []athlete.CardioKind{athlete.Walking}
	if p, err = cardio.Mix(250, c); err != nil || len(p.Cardio) != 0 || !strings.Contains(p.Why, "a clinician says") {
		t.Errorf("only walking with a hurt foot: %+v, %v", p, err)
	}
	list, err := cardio.Trade(100, c)
	if err != nil || list[0].Barred == "" {
		t.Errorf("steps with a hurt foot are not barred: %v, %v", list[0], err)
	}
}

func TestIntensityCostsByItsHardness(t *testing.T) {
	table := cardio.DefaultFatigue()
	// From the fields' words: at 12 MET half dearer far from lean, and as dear again on
	// top when lean; at 3 MET neither.
	for _, tt := range []struct{ met, leanness, want float64 }{{3, 1, 0}, {7, 0, 0}, {12, 0, 0.5}, {12, 1, 1.5}, {7.5, 1, 0.55}} {
		f := table.Of(athlete.Running, tt.met, tt.leanness, 0)
		if got := f.Intensity / (f.Base + f.Impact); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%v MET at leanness %v is dearer by %v, want %v", tt.met, tt.leanness, got, tt.want)
		}
	}
	if v := table.PerKcal("juggling", 5, 0); !math.IsInf(v, 1) {
		t.Errorf("juggling costs %v", v)
	}
}

func TestTableSurvivesJSON(t *testing.T) {
	table := cardio.DefaultFatigue()
	if err := table.Validate(); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(table)
	if err != nil {
		t.Fatal(err)
	}
	var back cardio.FatigueTable
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(table, back) {
		t.Errorf("%v: %+v became %+v", err, table, back)
	}
	for name, edit := range map[string][2]string{
		"an unknown field": {`"overlap"`, `"overlaps"`},
		"a free kcal":      {`"base":0.95`, `"base":0`},
		"a wrong type":     {`"same_day":0.5`, `"same_day":"half"`},
		"a joint":          {`"ankle"`, `"tail"`},
		"a muscle":         {`"muscle":"calves"`, `"muscle":"tail"`},
		"a kind":           {`"kind":"rowing"`, `"kind":"running"`},
		"a share":          {`"share":0.2`, `"share":2`},
		"a cap":            {`"most_met_lean":7`, `"most_met_lean":17`},
	} {
		changed := strings.Replace(string(text), edit[0], edit[1], 1)
		if changed == string(text) {
			t.Errorf("%s: %s is not there", name, edit[0])
		}
		kept := back
		if err := json.Unmarshal([]byte(changed), &kept); fault.KindOf(err) != fault.Invalid || !reflect.DeepEqual(kept, back) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
