package lab

import (
	"math"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/forecast"
	"glidepath/numeric"
	"glidepath/reading"
	"glidepath/scenario"
)

// season of an athlete with a target of 6 %, told whether it is feasible.
func season6(stage, truth float64, told bool) Outcome {
	return Outcome{Target: 6, StagePct: stage, TruePct: truth, Told: Told{Asked: true, NoTime: !told, Doubt: !told}, Weeks: 10}
}

// Seven athletes with what they did, counted by hand.
func TestRowCountsByHand(t *testing.T) {
	trial := &Trial{
		Policies: []PolicyName{Product},
		Ground: []Ground{
			{SlackWeeks: 4, EdgeWeeks: 6, TrueSlackWeeks: 4},       // on target
			{SlackWeeks: 0.3, EdgeWeeks: 2, TrueSlackWeeks: -2},    // too fat; told that there is no time
			{SlackWeeks: 2, EdgeWeeks: 4, TrueSlackWeeks: 3},       // too lean; true body fat is on target
			{SlackWeeks: -0.4, EdgeWeeks: 1.4, TrueSlackWeeks: -1}, // borderline; told that there is time
			{SlackWeeks: -6, EdgeWeeks: -4, TrueSlackWeeks: 1},     // infeasible, told so
			{SlackWeeks: 9, EdgeWeeks: 11, TrueSlackWeeks: 9},      // on target by a hair; told that there is no time
			{SlackWeeks: -3, EdgeWeeks: -1, TrueSlackWeeks: -3},    // infeasible; told that there is time
		},
		Outcomes: map[PolicyName][]Outcome{Product: {
			season6(6.5, 6.5, true), season6(7.4, 8, false), season6(4.9, 5.6, true),
			season6(7.2, 7.2, true), season6(9, 6.2, false), season6(7, 7, false), season6(8, 8, true),
		}},
	}
	all := trial.Outcomes[Product]
	all[0].ClassKg, all[0].StageKg = 80, 80
	all[2].ClassKg, all[2].StageKg = 80, 80.1
	all[4].ClassKg, all[4].StageKg = 80, 90 // infeasible: not counted
	all[0].Changes, all[0].Moved = 2, 120
	all[1].Changes, all[1].Moved = 4, 480
	all[3].TooFast, all[3].TooFast4, all[3].Beyond, all[3].BelowByTruth = 3, 1, 5, 2
	all[5].PlannedOverFloor = -0.3
	all[0].Told.Doubt, all[6].Told.Doubt = true, true // told that there may be no time
	for i := range all {
		all[i].LeanLost, all[i].Lowest = float64(i), 1000+100*float64(i)
	}
	r := trial.Row(Product)
	for _, c := range []struct {
		what     string
		s        Share
		hits, of float64
	}{
		{"on target", r.On, 2, 4},
		{"on target, borderline", r.OnEdge, 0, 1},
		{"on target in truth", r.OnInTruth, 4, 4},
		{"inside the class", r.Class, 1, 2},
		{"too fast", r.TooFast, 3, 70},
		{"four weeks too fast", r.TooFast4, 1, 70},
		{"beyond", r.Beyond, 5, 70},
		{"below by truth", r.TrueBelow, 2, 70},
		{"planned below", r.Planned, 1, 7},
		{"recall", r.Recall, 2, 2},
		{"told outright", r.Outright, 1, 2},
		{"false alarms", r.False, 2, 4},
		{"doubted", r.Doubted, 3, 4},
		{"borderline, told no", r.EdgeToldNo, 0, 1},
	} {
		if c.s.Hits != c.hits || c.s.Of != c.of {
			t.Errorf("%s: %v of %v, want %v of %v", c.what, c.s.Hits, c.s.Of, c.hits, c.of)
		}
	}
	near(t, "lean lost", r.LeanLostKg, (0+1+2+5)/4.0, 1e-12)
	near(t, "lowest", r.LowestKcal, 1200, 1e-9)
	near(t, "changes", r.Changes, 6/4.0, 1e-12)
	near(t, "size of a change", r.ChangeKcal, 100, 1e-12)
	near(t, "median", r.MedianOff, 1.05, 1e-9) // of 0.5, 1.4, 1.1 and 1.0
	near(t, "least over the floor", r.LeastEA, -0.3, 1e-12)
}

// The bounds of what must hold, at their edges.
func TestVerdictsAtTheirEdges(t *testing.T) {
	share := func(v float64) Share { return Wilson(1000*v, 1000) }
	verdict := func(r *Report, what string) bool {
		for _, v := range r.Verdicts {
			if v.What == what {
				return v.Holds
			}
		}
		t.Fatalf("no verdict on %q", what)
		return false
	}
	for _, c := range []struct {
		in50, in90 float64
		want50     bool
		want90     bool
	}{{0.47, 0.87, true, true}, {0.53, 0.93, true, true}, {0.469, 0.869, false, false}, {0.531, 0.931, false, false}} {
		r := &Report{}
		r.judgeCoverage(&Coverage{What: Expenditure, In50: share(c.in50), In90: share(c.in90)})
		if r.Verdicts[0].Holds != c.want50 || r.Verdicts[1].Holds != c.want90 {
			t.Errorf("%v and %v: %+v", c.in50, c.in90, r.Verdicts)
		}
	}
	good := Row{
		Policy: Product, On: share(0.95), OnInTruth: share(0.45), Class: share(0.95), Recall: share(0.95), False: share(0.049), TooFast: share(0.019), TooFast4: share(0.019),
		LeanLostKg: 2.2, Changes: 9, ChangeKcal: 90, LowestKcal: 1900, Planned: share(0),
	}
	bad := Row{
		Policy: Product, On: share(0.949), OnInTruth: share(0.449), Class: share(0.949), Recall: share(0.949), False: share(0.05), TooFast: share(0.02), TooFast4: share(0.02),
		LeanLostKg: 2.21, Changes: 10, ChangeKcal: 100, LowestKcal: 1800, Planned: share(0.001),
	}
	others := []Row{
		{Policy: Clairvoyant, On: share(1), LeanLostKg: 2.0},
		{Policy: Informed, OnInTruth: share(0.5)},
		{Policy: Thumb, On: share(0.5), Changes: 10, ChangeKcal: 100, LowestKcal: 1800},
	}
	for _, c := range []struct {
		row  Row
		want bool
	}{{good, true}, {bad, false}} {
		r := &Report{Rows: append([]Row{c.row}, others...)}
		r.judge(&Calipers)
		if len(r.Verdicts) != 12 {
			t.Errorf("%d verdicts", len(r.Verdicts))
		}
		for _, v := range r.Verdicts {
			if v.Holds != c.want {
				t.Errorf("%s, wanted %s, got %s: holds %v", v.What, v.Wanted, v.Got, v.Holds)
			}
		}
		if r.Holds() != c.want {
			t.Errorf("the whole holds: %v", r.Holds())
		}
		scan := &Report{Rows: r.Rows}
		scan.judge(&ScanGrade)
		if len(scan.Verdicts) != 11 || verdict(scan, "on target within 1 point, of the feasible") != c.want {
			t.Errorf("with a scan: %+v", scan.Verdicts)
		}
	}
}

// Weeks are held against the permitted rate, and what stands against the floor.
func TestWeeksAreWeighed(t *testing.T) {
	c := &Cohort{Seed: 2, Measuring: ScanGrade}
	s := c.draw(0)
	s.limits.RateFarPctPerWeek, s.limits.RateLeanPctPerWeek = 1, 1
	morning := func(kg float64) scenario.TruthDay {
		return scenario.TruthDay{Date: firstDay, WeightKg: kg, FatKg: 12, LeanKg: kg - 12}
	}
	was := []scenario.TruthDay{morning(80)}
	var o Outcome
	for _, lost := range []float64{0.7, 0.85, 0.95} {
		now := morning(80 - lost)
		s.weighed(&o, nil, was, &now)
	}
	if o.Weeks != 3 || o.Beyond != 2 || o.TooFast != 1 || o.TooFast4 != 0 {
		t.Errorf("losses of 0.7, 0.85 and 0.95 kg of 80 where 0.8 is permitted: %+v", o)
	}
	// Of four weeks 3.2 kg are permitted, and a tenth more is let pass.
	for kg, want := range map[float64]int{76.6: 0, 76.4: 1} {
		var o Outcome
		now := morning(kg)
		s.weighed(&o, nil, []scenario.TruthDay{morning(80), morning(79), morning(78), morning(77)}, &now)
		if o.TooFast4 != want {
			t.Errorf("%.1f kg lost in four weeks: %+v", 80-kg, o)
		}
	}
	floor := s.limits.EnergyAvailabilityFloor
	for _, over := range []float64{1, -0.05, -0.5} {
		p := athlete.Prescription{Days: []athlete.DayPrescribed{{
			Type: athlete.RestDay, PerWeek: 7, EnergyKcal: (floor+over)*68 + 80*s.liftingKcalPerKg,
		}}}
		now := scenario.TruthDay{Date: firstDay.AddDays(7), WeightKg: 80, FatKg: 12, LeanKg: 68}
		s.weighed(&o, &p, was, &now)
		near(t, "availability over the floor", s.availability(&p, 80, 68)-floor, over, 1e-9)
	}
	if o.BelowByTruth != 1 {
		t.Errorf("%d weeks below the floor, want the one that is more than rounding", o.BelowByTruth)
	}
	near(t, "least over the floor", o.TrueOverFloor, -0.5, 1e-9)
}

// A forecast is held against the day that it is about, and a chance against the
// target on the method's scale.
func TestForecastsMeetTheirDay(t *testing.T) {
	kg := 79.0
	show := athlete.Show{Date: firstDay.AddDays(35), TargetBodyFatPct: 6, ClassLimit: &athlete.ClassLimit{WeightKg: &kg}}
	w := &watch{show: show, biasPct: -2, biased: true}
	f := &forecast.Forecast{
		Weight: numeric.Normal{Mean: 80, SD: 1}.Interval(), BodyFat: numeric.Normal{Mean: 8, SD: 1}.Interval(),
		MethodPct: numeric.Normal{Mean: 5, SD: 1}.Interval(),
		Chances:   forecast.Chances{OnTarget: 0.7, InsideClass: 0.4},
	}
	for i := range 36 {
		n := numeric.Normal{Mean: 90 - float64(i), SD: 1}
		v := n.Interval()
		f.Fan = append(f.Fan, forecast.Fan{Date: firstDay.AddDays(i), Weight: forecast.Quantiles{
			P05: v.Low90, P10: n.Mean - 1.2815515655, P25: v.Low50, P50: v.Value, P75: v.High50, P90: n.Mean + 1.2815515655, P95: v.High90,
		}})
	}
	f.InFourWeeks = new(numeric.Normal{Mean: 62, SD: 1}.Interval())
	truth := make([]scenario.TruthDay, 7)
	for i := range truth {
		truth[i].ReportedScaleExpenditureKcal = 2600 + 100*float64(i) // mean 2900
	}
	d := &app.Dossier{AsOf: firstDay, Forecast: f, Reading: &reading.Reading{Daily: []reading.Estimate{{
		ExpenditureKc: numeric.Normal{Mean: 2800, SD: 100}.Interval(),
	}}}}
	w.ask(d, truth)
	ranks := map[Quantity]float64{}
	came := map[Quantity]Check{}
	for on := firstDay; on <= show.Date; on++ {
		day := scenario.TruthDay{Date: on, WeightKg: 60, WaterKg: 1, ScaleKg: 78.5, FatKg: 4.5} // 7.5 % in truth
		if on == firstDay.AddDays(28) {
			day.ScaleKg = 63.5 // 1.5 kg over the 62 foretold
		}
		for _, c := range w.morning(&day) {
			if c.Asked != firstDay || c.WeeksLeft != 5 {
				t.Errorf("%+v", c)
			}
			ranks[c.What], came[c.What] = c.Rank, c
		}
	}
	for q, z := range map[Quantity]float64{Expenditure: 1, WeightIn4Weeks: 1.5, ShowWeight: -1.5, ShowBodyFat: -0.5, ShowMethod: 0.5} {
		near(t, string(q), ranks[q], numeric.Normal{SD: 1}.Below(z), 1e-6)
	}
	if c := came[OnTarget]; !c.Came || c.Chance != 0.7 {
		t.Errorf("5.5 %% by the method, 6 wanted: %+v", c)
	}
	if c := came[InsideClass]; !c.Came || c.Chance != 0.4 {
		t.Errorf("78.5 kg where 79 are the limit: %+v", c)
	}
	w.unlogged = true
	if _, ok := w.spent(nil, truth); ok {
		t.Error("nothing logged and nothing asked, and yet there is a scale")
	}
	for i := range truth {
		truth[i].IntakeKcal, truth[i].ReportingFactor = 2200, 1
	}
	plan := &athlete.Prescription{Days: []athlete.DayPrescribed{{Type: athlete.RestDay, PerWeek: 7, EnergyKcal: 2000}}}
	spent, _ := w.spent(plan, truth)
	near(t, "expenditure on the scale of a plan that is overeaten by 200 kcal", spent, 2700, 1e-9)
	w.biasPct = 0
	if w.byMethod(&scenario.TruthDay{WeightKg: 60, FatKg: 4.5}) != 7.5 {
		t.Error("without a bias the method reads the truth")
	}
}

// An athlete's method keeps its error, and reviews are checked every four weeks
// from the appraisal on.
func TestOutcomeKeepsTheMethodsError(t *testing.T) {
	c := &Cohort{Seed: 3, Measuring: EyeOnly, Athletes: 2, CheckIntervals: true}
	all, err := c.Run(t.Context(), Product, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range all {
		s := c.draw(i)
		near(t, "error of the method", all[i].StagePct-all[i].TruePct, s.biasPct, 1e-9)
		reviews := map[civil.Date]bool{}
		for _, k := range all[i].Checks {
			reviews[k.Asked] = true
			if since := k.Asked.DaysSince(firstDay.AddDays(runInDays)); since%(7*checkEvery) != 0 {
				t.Errorf("checked %d days after the appraisal", since)
			}
		}
		if want := int(math.Ceil(float64(s.show.Date.DaysSince(firstDay.AddDays(runInDays))) / 7 / checkEvery)); len(reviews) != want {
			t.Errorf("athlete %d: %d reviews checked, want %d", i, len(reviews), want)
		}
	}
}

// What is eaten of what is asked is counted over the days of a plan.
func TestEatenOfWhatIsAsked(t *testing.T) {
	c := &Cohort{Seed: 2, Measuring: ScanGrade}
	s := c.draw(0)
	k, err := newKnowing(&s, true)
	if err != nil {
		t.Fatal(err)
	}
	days := make([]scenario.TruthDay, 14)
	for i := range days {
		days[i] = scenario.TruthDay{IntakeKcal: 2500, ReportingFactor: 0.9}
	}
	k.lived(days)
	near(t, "before any plan", k.eaten(), 1, 0)
	k.fastest.plan = &athlete.Prescription{Days: []athlete.DayPrescribed{{Type: athlete.RestDay, PerWeek: 7, EnergyKcal: 2000}}}
	k.lived(days)
	near(t, "under a plan", k.eaten(), 2250.0/2000, 1e-12)
}

// A change is counted with the size of all that changes.
func TestChangesAreCounted(t *testing.T) {
	c := &Cohort{Seed: 2, Measuring: ScanGrade}
	s := c.draw(0)
	kind := s.spec.Athlete.Cardio[0]
	plan := func(kcal, steps, minutes float64) *athlete.Prescription {
		return &athlete.Prescription{
			Days:  []athlete.DayPrescribed{{Type: athlete.RestDay, PerWeek: 7, EnergyKcal: kcal}},
			Steps: steps, Cardio: []athlete.CardioPlan{{Kind: kind, MinutesPerWeek: minutes, Sessions: 3}},
		}
	}
	o := Outcome{Lowest: math.Inf(1), PlannedOverFloor: math.Inf(1)}
	old := plan(2500, 9000, 100)
	s.prescribed(&o, nil, order{old, 80, 68}, firstDay)
	s.prescribed(&o, old, order{plan(2500, 9000, 100), 80, 68}, firstDay)
	if o.Changes != 0 || o.Moved != 0 {
		t.Errorf("the first and the same again are no changes: %+v", o)
	}
	s.prescribed(&o, old, order{plan(2400, 10000, 135), 80, 68}, firstDay)
	want := 100 + 80*(1000*s.stepKcalPerKg+5*cardioKcalPerKgMin(kind, 80))
	if o.Changes != 1 || o.Lowest != 2400 {
		t.Errorf("%+v", o)
	}
	near(t, "size, kcal", o.Moved, want, 1e-9)
	if extra := want - 100; extra < 40 || extra > 150 {
		t.Errorf("a thousand steps and five minutes of cardio a day are %.0f kcal", extra)
	}
}
