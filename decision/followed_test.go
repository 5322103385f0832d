package decision

import (
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/season"
)

// A departure from the plan is talked about twice in four weeks; after that it is
// taken as it is, and what is asked allows for it.
func TestTalksTwiceThenActs(t *testing.T) {
	p := inPrep()
	s := situate(p, standing(p, 60, 30))
	s.Reading.Adherence.MeanRatio = 1.08
	for talks, want := range []Action{Talk, Talk, Change} {
		if o := review1(t, s); o.Action != want {
			t.Errorf("after %d talks: %s: %s", talks, o.Action, o.Sentence)
		}
		s.Past = append(s.Past, Proposal{AsOf: asOf.AddDays(-7 * (talks + 1)), Action: Talk})
	}
	// Longer ago than four weeks it may be said again.
	for i := range s.Past {
		s.Past[i].AsOf = asOf.AddDays(-29)
	}
	if o := review1(t, s); o.Action != Talk {
		t.Errorf("after talks long ago: %s", o.Sentence)
	}
}

// What was given back because loss was too fast is not taken away again while loss
// is near the permitted rate.
func TestTooFastIsNotTakenBack(t *testing.T) {
	p := problem(athlete.Male, 86, 12, 6.5, 15)
	s := situate(p, standing(p, 110, 30))
	if o := review1(t, s); o.Action != Change || o.ChangeKcal <= 0 {
		t.Fatalf("behind: %s", o.Sentence)
	}
	s.Past = []Proposal{{AsOf: asOf.AddDays(-21), Action: Change, Lever: Food, TooFast: true}}
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	s.Reading.Daily[0].RatePct = about(0.9*r.out.PermittedPct, 0.1)
	if o := review1(t, s); o.Action != Hold {
		t.Errorf("three weeks after: %s: %s", o.Action, o.Sentence)
	}
	s.Past[0].AsOf = asOf.AddDays(-50)
	if o := review1(t, s); o.Action != Change {
		t.Errorf("seven weeks after: %s: %s", o.Action, o.Sentence)
	}
}

// The less there is in reserve to catch up with later, the smaller a gap is acted on.
func TestReserveNarrowsWhatIsLetGo(t *testing.T) {
	const off = 45
	for _, c := range []struct {
		weeks int
		want  Action
	}{{13, Change}, {24, Hold}} {
		p := problem(athlete.Male, 86, 12, 6.5, c.weeks)
		s := situate(p, standing(p, off, 30))
		s.Reading.Daily[0].ExpenditureKc = about(s.Reading.Daily[0].ExpenditureKc.Value, 20)
		if o := review1(t, s); o.Action != c.want {
			t.Errorf("%d weeks out, %d kcal behind: %s: %s", c.weeks, off, o.Action, o.Sentence)
		}
	}
}

// Where the plan for a fatter body asks for more, so does the review, and says why.
func TestAsksInCaseBodyFatIsHigher(t *testing.T) {
	p := inPrep()
	s := situate(p, standing(p, 0, 30))
	likeliest := review1(t, s)
	fatter := s.Problem
	fatter.State.FatKg += 2
	fatter.State.LeanKg -= 2
	fatter.BodyFat.Mean += 2.3
	s.Sure = season.Solve(fatter)
	o := review1(t, s)
	if o.GapKcal.Value < likeliest.GapKcal.Value+50 || !strings.Contains(strings.Join(o.Reasons, " "), "may yet turn out higher") {
		t.Errorf("gap %.0f kcal, for the likeliest body %.0f: %q", o.GapKcal.Value, likeliest.GapKcal.Value, o.Reasons)
	}
	// Before the prep the likeliest body decides.
	s.Sure.Map.Weeks[0].Phase = athlete.OffSeason
	if o := review1(t, s); o.GapKcal.Value != likeliest.GapKcal.Value {
		t.Errorf("gap %.0f kcal, wanted %.0f", o.GapKcal.Value, likeliest.GapKcal.Value)
	}
}

// The floor of energy availability is kept by what is eaten where that is less than
// what is asked.
func TestFloorIsOfWhatIsEaten(t *testing.T) {
	p := inPrep()
	s := situate(p, standing(p, 0, 30))
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	least := r.least(r.out.From.CardioMinutes)
	in := r.out.From
	in.EnergyKcal = least
	s = situate(p, prescription(athlete.Prep, in, 30))
	s.Past = []Proposal{{AsOf: asOf.AddDays(-7), Action: Talk}, {AsOf: asOf.AddDays(-14), Action: Talk}}
	if o := review1(t, s); strings.HasPrefix(o.Sentence, "Under the floor") {
		t.Fatalf("eaten as asked: %s", o.Sentence)
	}
	s.Reading.Adherence.MeanRatio = 0.9
	o := review1(t, s)
	if !strings.HasPrefix(o.Sentence, "Under the floor") || o.To.EnergyKcal < least/0.92 {
		t.Errorf("a tenth less eaten: %s", o.Sentence)
	}
}

// In the last weeks a change is given half the time to show itself.
func TestLastWeeksDoNotWait(t *testing.T) {
	for _, c := range []struct {
		weeks int
		want  Action
	}{{12, Hold}, {5, Change}} {
		p := problem(athlete.Male, 82, 8, 6.5, c.weeks)
		if o := review1(t, situate(p, standing(p, -200, 7))); o.Action != c.want {
			t.Errorf("%d weeks out: %s: %s", c.weeks, o.Action, o.Sentence)
		}
	}
}

// Somebody who has logged next to nothing is asked for two weeks of logs, where
// there is time for them.
func TestLogsComeFirst(t *testing.T) {
	for _, c := range []struct {
		weeks, days int
		want        Action
	}{{30, 3, Talk}, {12, 3, Begin}, {30, 20, Begin}} {
		s := situate(problem(athlete.Male, 86, 12, 6.5, c.weeks), nil)
		s.Reading.Evidence.Days = c.days
		if c.days < 14 {
			s.Reading.Evidence.WeightsTotal = 2
		}
		if o := review1(t, s); o.Action != c.want {
			t.Errorf("%d weeks out, %d days logged: %s: %s", c.weeks, c.days, o.Action, o.Sentence)
		}
	}
}

// After a show cardio and then steps come back to the habit, one at a time.
func TestComesBackToTheHabit(t *testing.T) {
	p := problem(athlete.Female, 60, 15, 14, 30)
	p.Show, p.Dieting = athlete.Show{}, false
	p.RecoverUntil = asOf.AddDays(60)
	p.Levers.StepsHabit, p.Levers.CardioHabit = 9000, 0
	in := season.Instruction{StepsPerDay: 14000, CardioMinutes: 150}
	moved := map[Lever]int{}
	for range 12 {
		p.Levers.StepsNow, p.Levers.CardioNow = in.StepsPerDay, in.CardioMinutes
		in.EnergyKcal = season.Solve(p).Map.Weeks[0].Asked.EnergyKcal
		o := review1(t, situate(p, prescription(athlete.Recovery, in, 30)))
		if o.Action != Change {
			break
		}
		if o.Lever == Steps && o.From.CardioMinutes > 10 {
			t.Errorf("steps before cardio: %s", o.Sentence)
		}
		moved[o.Lever]++
		in = o.To
	}
	if in.StepsPerDay > 9500 || in.CardioMinutes > 10 || moved[Cardio] == 0 || moved[Steps] == 0 {
		t.Errorf("came to %+v by %v", in, moved)
	}
}

// At the floor, with no time and much cardio, the cardio goes with the food that it
// pays for: that deepens the deficit and keeps the floor.
func TestTradesCardioAtTheFloor(t *testing.T) {
	p := problem(athlete.Female, 66, 27, 13, 30)
	p.Levers.StepsNow, p.Levers.CardioNow = p.Levers.StepsMax, 240
	in := season.Instruction{StepsPerDay: p.Levers.StepsMax, CardioMinutes: 240}
	s := situate(p, prescription(athlete.Prep, in, 30))
	r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	in.EnergyKcal = r.least(240)
	s = situate(p, prescription(athlete.Prep, in, 30))
	s.Reading.Daily[0].ExpenditureKc = about(s.Reading.Daily[0].ExpenditureKc.Value, 10)
	o := review1(t, s)
	if o.Action != Change || o.Lever != Cardio || o.To.CardioMinutes >= 240 || o.To.CardioMinutes < 120 || o.To.EnergyKcal >= in.EnergyKcal || o.ChangeKcal < leastTradeKcal {
		t.Fatalf("%s: %s (%+v, plan %+v)", o.Action, o.Sentence, o.To, s.Season.Map.Weeks[0].Asked)
	}
	r = &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
	r.gather()
	if r.available(o.To) < r.floor() {
		t.Errorf("%.2f kcal/kg is left, the floor is %.0f", r.available(o.To), r.floor())
	}
	if !strings.Contains(o.Sentence, "the food that paid for it") {
		t.Error(o.Sentence)
	}
}
