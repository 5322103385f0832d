package decision

import (
	"math"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/reading"
	"glidepath/season"
)

func inPrep() season.Problem { return problem(athlete.Male, 86, 12, 6.5, 20) }

func TestHoldsOnThePlan(t *testing.T) {
	p := inPrep()
	for _, off := range []float64{-60, 0, 60} {
		if o := review1(t, situate(p, standing(p, off, 30))); o.Action != Hold || !strings.HasPrefix(o.Sentence, "On the plan") {
			t.Errorf("%.0f kcal off: %s: %s", off, o.Action, o.Sentence)
		}
	}
}

// Behind the plan, one lever moves, by the smallest step that suffices: what is
// left is at most half the deadband, and one step less would leave more.
func TestBehindMovesOneLeverJustEnough(t *testing.T) {
	p := inPrep()
	for _, off := range []float64{110, 150, 220} {
		s := situate(p, standing(p, off, 30))
		o := review1(t, s)
		if o.Action != Change || o.ChangeKcal <= 0 {
			t.Fatalf("%.0f kcal above the plan: %s", off, o.Sentence)
		}
		enough(t, &s, &o, o.GapKcal.Value)
	}
}

// Ahead of the plan, food comes up just enough.
func TestAheadGivesBack(t *testing.T) {
	p := inPrep()
	s := situate(p, standing(p, -150, 30))
	o := review1(t, s)
	if o.Action != Change || o.Lever != Food || o.ChangeKcal >= 0 || !strings.HasPrefix(o.Sentence, "Ahead") {
		t.Fatalf("ahead: %s", o.Sentence)
	}
	enough(t, &s, &o, -o.GapKcal.Value)
	// With much cardio and food not short, cardio is the first to go.
	p.Model.RestKcal += 700 // a body that spends much, so that food is plentiful
	in := planned(p)
	in.CardioMinutes = 140
	if o := review1(t, situate(p, prescription(athlete.Prep, in, 30))); o.Lever != Cardio || o.To.CardioMinutes >= 140 {
		t.Errorf("with 140 minutes of cardio: %s", o.Sentence)
	}
}

func enough(t *testing.T, s *Situation, o *Proposal, gap float64) {
	t.Helper()
	half := 0.5 * Settings{}.withDefaults().DeadbandKcal
	if left := gap - math.Abs(o.ChangeKcal); left > half {
		t.Errorf("%.0f kcal of %.0f are left: %s", left, gap, o.Sentence)
	}
	r := &review{Situation: *s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	less := o.To
	back := func(to, from, step float64) float64 {
		return math.Copysign(math.Max(0, math.Abs(to-from)-step), to-from)
	}
	switch o.Lever {
	case Food:
		less.EnergyKcal = o.From.EnergyKcal + back(o.To.EnergyKcal, o.From.EnergyKcal, foodStepKcal)
	case Steps:
		less.StepsPerDay = o.From.StepsPerDay + back(o.To.StepsPerDay, o.From.StepsPerDay, stepsStep)
	case Cardio:
		less.CardioMinutes = o.From.CardioMinutes + back(o.To.CardioMinutes, o.From.CardioMinutes, cardioStepMin)
	}
	if left := gap - math.Abs(r.deficit(less)-r.deficit(o.From)); left <= half {
		t.Errorf("one step less would do, with %.0f kcal left: %s", left, o.Sentence)
	}
}

// Food is not cut while steps do: near the floor of energy availability steps
// come first, and where they suffice food stays.
func TestStepsBeforeScarceFood(t *testing.T) {
	p := problem(athlete.Male, 86, 9, 6, 12)
	in := planned(p)
	in.EnergyKcal += 120
	in.StepsPerDay, in.CardioMinutes = 9000, 0
	s := situate(p, prescription(athlete.Prep, in, 30))
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	r.set.LargestKcal = 250
	for _, want := range []float64{20, 50} {
		r.out.From.EnergyKcal = r.least(0) + 200 // food is short, with room for a cut
		if !r.deepen(want) || r.out.Lever != Steps {
			t.Errorf("%.0f kcal wanted: %s", want, changeWords(&r.out))
		}
	}
	// Steps cannot bring 150 kcal, food can.
	if !r.deepen(150) || r.out.Lever != Food || r.available(r.out.To) < r.floor() {
		t.Errorf("150 kcal wanted: %s", changeWords(&r.out))
	}
}

func TestTooFastRaisesFood(t *testing.T) {
	p := inPrep()
	s := situate(p, standing(p, -250, 30))
	s.Reading.Daily[0].RatePct = about(1.3, 0.05)
	o := review1(t, s)
	if o.Action != Change || o.Lever != Food || o.To.EnergyKcal <= o.From.EnergyKcal || !strings.HasPrefix(o.Sentence, "Losing too fast") {
		t.Fatalf("losing 1.3 %% a week: %s", o.Sentence)
	}
	// The rate looks two weeks back: food that came up a week ago is not raised
	// again for what was lost before.
	s = situate(p, standing(p, 0, 7))
	s.Reading.Daily[0].RatePct = about(1.3*o.PermittedPct, 0.05)
	if o := review1(t, s); o.Action != Hold {
		t.Errorf("raised a week ago: %s", o.Sentence)
	}
	// Much cardio is no way out when loss is too fast: food comes up.
	in := planned(p)
	in.EnergyKcal, in.CardioMinutes = in.EnergyKcal-500, 200
	if o := review1(t, situate(p, prescription(athlete.Prep, in, 30))); o.Lever != Food || o.ChangeKcal > -100 {
		t.Errorf("too fast with cardio: %s", o.Sentence)
	}
	// What is not eaten is not cured by writing more on paper.
	s = situate(p, standing(p, 0, 30))
	s.Reading.Daily[0].RatePct = about(1.4*o.PermittedPct, 0.05)
	s.Reading.Adherence.MeanRatio = 0.84
	if o := review1(t, s); o.Action != Talk || !strings.Contains(o.Sentence, "eat what stands") {
		t.Errorf("under-eating: %s", o.Sentence)
	}
	// Unless what is written lies under the floor: that is raised first.
	p.Model.RestKcal -= 500
	s = situate(p, standing(p, -500, 30))
	s.Reading.Daily[0].RatePct = about(1.4*o.PermittedPct, 0.05)
	s.Reading.Adherence.MeanRatio = 0.84
	if o := review1(t, s); o.Action != Change || o.Lever != Food || o.To.EnergyKcal <= o.From.EnergyKcal {
		t.Errorf("under-eating under the floor: %s", o.Sentence)
	}
}

// However far behind, nothing is asked beyond the permitted rate as it is eaten,
// nor much beyond it where it is eaten to the letter.
func TestNeverFasterThanPermitted(t *testing.T) {
	p := problem(athlete.Male, 100, 24, 8, 16) // fat enough that fat supplies more than the rate permits
	p.Model.RestKcal += 600
	s := situate(p, standing(p, 40, 30))
	s.Reading.Adherence.MeanRatio = 1.055
	s.Reading.Daily[0].ExpenditureKc = about(3400, 5)
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	if gap := r.planned - r.expected; gap < 120 {
		t.Fatalf("behind by %.0f kcal", gap)
	}
	o := review1(t, s)
	if o.Action != Change || o.ChangeKcal <= 0 || r.ahead(o.To) > o.PermittedPct || r.rate(o.To) > toTheLetter*o.PermittedPct {
		t.Errorf("%.3f %% a week, to the letter %.3f %%, %.3f %% is permitted: %s", r.ahead(o.To), r.rate(o.To), o.PermittedPct, o.Sentence)
	}
	more := o.To
	more.EnergyKcal -= 2 * foodStepKcal
	if r.slow(more, 0) {
		t.Errorf("the rate did not hold this back: %s", o.Sentence)
	}
}

// A diet break to come is no reason to eat more today.
func TestBreakAheadChangesNothing(t *testing.T) {
	p := problem(athlete.Male, 88, 11, 7, 24)
	p.DietWeeks = 6
	s := situate(p, standing(p, 0, 30))
	if !s.Season.Map.Weeks[2].DietBreak {
		t.Fatal("the plan has no break in its third week")
	}
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	if o := review1(t, s); o.Action != Hold || r.plan.EnergyKcal > s.Season.Map.Weeks[1].Asked.EnergyKcal+60 {
		t.Errorf("the plan asks %.0f kcal: %s", r.plan.EnergyKcal, o.Sentence)
	}
}

// Thin evidence, adherence and a fresh change hold what stands, however far
// behind the athlete seems.
func TestHoldsBeforeCuts(t *testing.T) {
	p := inPrep()
	for _, c := range []struct {
		name   string
		change func(*Situation)
		action Action
		word   string
	}{
		{"young log", func(s *Situation) { s.Reading.Evidence.Days = 9 }, Hold, "9 days old"},
		{"log of a day", func(s *Situation) { s.Reading.Evidence.Days = 1 }, Hold, "1 day old"},
		{"few weights", func(s *Situation) { s.Reading.Evidence.Weights14 = 3 }, Talk, "ask for weights"},
		{"no intake", func(s *Situation) { s.Reading.Evidence.Intake14 = 2 }, Talk, "full logging"},
		{"overeating", func(s *Situation) { s.Reading.Adherence.MeanRatio = 1.12 }, Talk, "above the prescription"},
		{"under-eating", func(s *Situation) { s.Reading.Adherence.MeanRatio = 0.88 }, Talk, "under the prescription"},
		{"fresh change", func(s *Situation) { s.Current.From = asOf.AddDays(-5) }, Hold, "5 days old"},
		{"change of yesterday", func(s *Situation) { s.Current.From = asOf.AddDays(-1) }, Hold, "1 day old"},
		{"unsure", func(s *Situation) {
			s.Reading.Daily[0].ExpenditureKc = about(s.Reading.Daily[0].ExpenditureKc.Value, 400)
		}, Hold, "On the plan"},
		{"noise in adherence", func(s *Situation) {
			s.Reading.Adherence = reading.Adherence{Days: 8, MeanRatio: 1.07, SDRatio: 0.2, SERatio: 0.07}
		}, Change, "Behind"},
	} {
		s := situate(p, standing(p, 150, 30))
		c.change(&s)
		if o := review1(t, s); o.Action != c.action || !strings.Contains(o.Sentence, c.word) {
			t.Errorf("%s: %s: %s", c.name, o.Action, o.Sentence)
		}
	}
}

// A weight that does not fit is asked about whatever else the review says.
func TestQuestionsAreAlwaysAsked(t *testing.T) {
	p := inPrep()
	for _, off := range []float64{-350, 0, 150} {
		s := situate(p, standing(p, off, 30))
		s.Reading.Queries = []reading.Query{{Date: asOf.AddDays(-3), Reason: "Is it right?"}, {Date: asOf.AddDays(-20), Reason: "Too old."}}
		if o := review1(t, s); !slices.Equal(o.Questions, []string{"Is it right?"}) {
			t.Errorf("%.0f kcal off: questions %q", off, o.Questions)
		}
	}
}

// When every lever stands at its limit nothing more is asked, and the proposal
// keeps what stands.
func TestEveryLeverAtItsLimit(t *testing.T) {
	p := problem(athlete.Female, 60, 24, 12, 12)
	p.Levers.StepsNow, p.Levers.CardioMax = p.Levers.StepsMax, 0
	s := situate(p, prescription(athlete.Prep, season.Instruction{EnergyKcal: 2000, StepsPerDay: p.Levers.StepsMax}, 30))
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	s.Current = prescription(athlete.Prep, season.Instruction{EnergyKcal: r.least(0), StepsPerDay: p.Levers.StepsMax}, 30)
	s.Reading.Daily[0].RatePct = about(0.2, 0.1)
	// A plan from which this athlete is far behind.
	for i := range s.Season.Map.Weeks {
		s.Season.Map.Weeks[i].Asked.EnergyKcal -= 300
	}
	o := review1(t, s)
	if o.Action != Hold || !strings.Contains(o.Sentence, "every lever") || o.To.EnergyKcal != r.least(0) {
		t.Errorf("%s: %+v: %s", o.Action, o.To, o.Sentence)
	}
}

func TestInfeasibleSaysSo(t *testing.T) {
	p := problem(athlete.Male, 100, 22, 6, 12)
	s := situate(p, standing(p, 200, 30))
	o := review1(t, s)
	if !strings.Contains(strings.Join(o.Reasons, " "), "does not arrive") || !strings.Contains(strings.Join(o.Reasons, " "), "missing") {
		t.Errorf("reasons %q", o.Reasons)
	}
	if o.Action != Change || o.ChangeKcal <= 0 {
		t.Errorf("%s", o.Sentence)
	}
}

func TestPeakWeek(t *testing.T) {
	p := problem(athlete.Male, 80, 6, 6, 1)
	deficit := season.Instruction{EnergyKcal: 2000, StepsPerDay: 11000, CardioMinutes: 120}
	s := situate(p, prescription(athlete.Prep, deficit, 20))
	o := review1(t, s)
	r := &review{Situation: s, p: &s.Problem}
	if o.Action != Begin || o.Phase != athlete.PeakWeek || math.Abs(r.deficit(o.To)) > 40 {
		t.Errorf("deficit of %.0f kcal in the peak week: %s", r.deficit(o.To), o.Sentence)
	}
	if !strings.Contains(o.Expects[0], "by the show") {
		t.Errorf("%q", o.Expects)
	}
	s = situate(p, prescription(athlete.PeakWeek, o.To, 3))
	if o := review1(t, s); o.Action != Hold || !strings.Contains(o.Sentence, "rehearsed") {
		t.Errorf("%s", o.Sentence)
	}
}

// Recovery never has a deficit: it begins at maintenance or above, and a deficit
// that stands is ended at once.
func TestRecoveryHasNoDeficit(t *testing.T) {
	p := problem(athlete.Female, 56, 14, 13, 60)
	p.Dieting, p.RecoverUntil = false, asOf.AddDays(66)
	p.State.AdaptationKcal = -100
	deficit := season.Instruction{EnergyKcal: 1500, StepsPerDay: 12000, CardioMinutes: 150}
	for _, current := range []*athlete.Prescription{
		prescription(athlete.PeakWeek, deficit, 8), prescription(athlete.Recovery, deficit, 3), prescription(athlete.Recovery, deficit, 40), nil,
	} {
		s := situate(p, current)
		s.Reading.Evidence.Weights14 = 1
		o := review1(t, s)
		r := &review{Situation: s, p: &s.Problem}
		if o.Phase != athlete.Recovery || r.deficit(o.To) > 0 {
			t.Errorf("a deficit of %.0f kcal in %s: %s", r.deficit(o.To), o.Phase, o.Sentence)
		}
	}
}

func TestOffSeason(t *testing.T) {
	p := problem(athlete.Male, 84, 11, 6, 45)
	p.Dieting = false
	s := situate(p, prescription(athlete.OffSeason, season.Instruction{EnergyKcal: p.Model.IntakeBaselineKcal - 200, StepsPerDay: 9000}, 40))
	o := review1(t, s)
	if o.Phase != athlete.OffSeason || o.Action != Change || o.ChangeKcal >= 0 || !strings.Contains(o.Sentence, "surplus") {
		t.Errorf("%s: %s", o.Action, o.Sentence)
	}
	p.Show = athlete.Show{}
	if o := review1(t, situate(p, nil)); o.Action != Begin || o.Phase != athlete.OffSeason {
		t.Errorf("without a show: %s", o.Sentence)
	}
}

// A phase begins with the plan's own food in one step, within every limit; steps
// and cardio follow later.
func TestPhaseBegins(t *testing.T) {
	p := inPrep()
	s := situate(p, prescription(athlete.OffSeason, season.Instruction{EnergyKcal: 3300, StepsPerDay: 9000}, 90))
	o := review1(t, s)
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	if o.Action != Begin || o.Phase != athlete.Prep || o.To.EnergyKcal < r.plan.EnergyKcal || o.To.EnergyKcal > r.plan.EnergyKcal+foodStepKcal {
		t.Errorf("plan %+v: %s", r.plan, o.Sentence)
	}
	if got := r.rate(o.To); got > o.PermittedPct {
		t.Errorf("the first week loses %.2f %%, %.2f %% is permitted", got, o.PermittedPct)
	}
	// The first prescription of all is the whole plan.
	s = situate(p, nil)
	o = review1(t, s)
	if o.Action != Begin || math.Abs(o.To.StepsPerDay-s.Season.Map.Weeks[0].Asked.StepsPerDay) > 1500 {
		t.Errorf("the first: %s", o.Sentence)
	}
}

// A diet break begins at maintenance, holds, and ends with the diet where it was.
func TestDietBreak(t *testing.T) {
	p := problem(athlete.Male, 88, 11, 7, 24)
	p.DietWeeks = 8
	current := standing(p, 0, 30)
	s := situate(p, current)
	if !s.Season.Map.Weeks[0].DietBreak {
		t.Fatal("the plan has no break here")
	}
	o := review1(t, s)
	r := &review{Situation: s, p: &s.Problem}
	if o.Action != Begin || !strings.Contains(o.Sentence, "diet break") || math.Abs(r.deficit(o.To)) > 60 {
		t.Errorf("deficit of %.0f kcal: %s", r.deficit(o.To), o.Sentence)
	}
	during := prescription(athlete.Prep, o.To, 3)
	during.Days[0].Type = athlete.DietBreakDay
	if o := review1(t, situate(p, during)); o.Action != Hold || !strings.Contains(o.Sentence, "goes on") {
		t.Errorf("%s", o.Sentence)
	}
	p.DietWeeks = 9
	o = review1(t, situate(p, during))
	if o.Action != Begin || math.Abs(o.To.EnergyKcal-current.MeanEnergyKcal()) > 75 {
		t.Errorf("before the break %.0f kcal: %s", current.MeanEnergyKcal(), o.Sentence)
	}
}

// A week away at maintenance is planned as such.
func TestMaintenanceEvent(t *testing.T) {
	p := inPrep()
	current := standing(p, 0, 30)
	p.Events = []athlete.Event{{From: asOf, To: asOf.AddDays(6), Kind: "holiday", Maintenance: true}}
	s := situate(p, current)
	o := review1(t, s)
	r := &review{Situation: s, p: &s.Problem}
	if o.Action != Begin || math.Abs(r.deficit(o.To)) > 60 || !strings.Contains(o.Sentence, "week at maintenance") {
		t.Errorf("deficit of %.0f kcal: %s", r.deficit(o.To), o.Sentence)
	}
}

// A prescription that has come to lie under the floor, as when a leave ends, is
// raised to it at once.
func TestUnderTheFloor(t *testing.T) {
	p := problem(athlete.Female, 60, 20, 14, 20)
	lean := p.Model.ReferenceFatFreeKg(&p.State)
	low := season.Instruction{EnergyKcal: 26*lean + 2.2*60, StepsPerDay: 9000}
	s := situate(p, prescription(athlete.Prep, low, 3))
	s.Reading.Daily[0].RatePct = about(0.4, 0.1)
	o := review1(t, s)
	if o.Action != Change || o.Lever != Food || !strings.Contains(strings.Join(append(o.Reasons, o.Sentence), " "), "floor") {
		t.Errorf("%s", o.Sentence)
	}
	if ea := (o.To.EnergyKcal - 2.2*60) / lean; ea < 30 || ea > 31 {
		t.Errorf("energy availability %.1f", ea)
	}
	// Within a leave it may stand.
	p.Limits.LowAvailability = &athlete.LowAvailability{From: asOf.AddDays(-3), Weeks: 3, Why: "agreed", Who: "the coach"}
	if o := review1(t, situate(p, prescription(athlete.Prep, low, 3))); o.Lever == Food && strings.Contains(o.Sentence, "floor") {
		t.Errorf("within a leave: %s", o.Sentence)
	}
}

// Fewer sets are proposed only when nothing else changes.
func TestSetsOnlyWhenNothingElseChanges(t *testing.T) {
	p := inPrep()
	fewer := &Recovery{
		Change: true, Sets: []athlete.MuscleSets{{Muscle: athlete.Chest, Sets: 9}},
		Sentence: "Take 3 of 12 weekly hard sets away; keep the load on the bar.", Expects: []string{"Fatigue should ease."},
		Reasons: []string{"Recovery is short."}, ChangesMind: []string{"A good week."}, RealLoss: 0.9,
	}
	s := situate(p, standing(p, 0, 30))
	s.Recovery = fewer
	o := review1(t, s)
	if o.Action != Change || o.Lever != Sets || !slices.Equal(o.Sets, fewer.Sets) || !slices.Contains(o.Reasons, fewer.Reasons[0]) {
		t.Errorf("%s: %s", o.Action, o.Sentence)
	}
	if !strings.HasPrefix(o.Sentence, "Food and activity hold. Take 3") || !slices.Contains(o.Expects, fewer.Expects[0]) ||
		o.ChangesMind[0] != fewer.ChangesMind[0] || len(o.ChangesMind) < 2 || o.To != o.From {
		t.Errorf("%+v", o)
	}
	if len(o.Cautions) == 0 || !strings.Contains(o.Cautions[0], "90 %") {
		t.Errorf("cautions %q", o.Cautions)
	}
	for _, off := range []float64{-350, -150, 150} {
		s := situate(p, standing(p, off, 30))
		s.Recovery = fewer
		if o := review1(t, s); o.Lever == Sets || len(o.Sets) > 0 {
			t.Errorf("%.0f kcal off: %s", off, o.Sentence)
		}
	}
}

// A deload or another exercise is a change of training that leaves the sets that
// stand.
func TestTrainingMayChangeWithoutSets(t *testing.T) {
	p := inPrep()
	s := situate(p, standing(p, 0, 30))
	s.Recovery = &Recovery{Change: true, Sentence: "Deload: for 7 days do half the sets.", Reasons: []string{"Two weeks short."}}
	o := review1(t, s)
	if o.Action != Change || o.Lever != Sets || len(o.Sets) > 0 || o.Sentence != "Food and activity hold. Deload: for 7 days do half the sets." {
		t.Errorf("%s, %s: %s", o.Action, o.Lever, o.Sentence)
	}
	s.Recovery.Change = false
	if o := review1(t, s); o.Action != Hold {
		t.Errorf("nothing is proposed, yet %s: %s", o.Action, o.Sentence)
	}
}
