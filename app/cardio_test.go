package app_test

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/decision"
)

// The roster of the demo, each as of its date.
func dossiers(t *testing.T, o app.Options) (*app.App, []*app.Dossier) {
	t.Helper()
	a, asOf := demo(t)
	all, err := a.Athletes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	out := make([]*app.Dossier, len(all))
	for i := range all {
		if out[i], err = a.Dossier(context.Background(), all[i].ID, asOf, o); err != nil {
			t.Fatal(err)
		}
	}
	return a, out
}

// movedIn lists what a draft changes of what stands.
func movedIn(now, draft *athlete.Prescription) (moved []decision.Lever) {
	if math.Abs(now.MeanEnergyKcal()-draft.MeanEnergyKcal()) > 25 { // whole steps for each type of day
		moved = append(moved, decision.Food)
	}
	if now.Steps != draft.Steps {
		moved = append(moved, decision.Steps)
	}
	if !reflect.DeepEqual(now.Cardio, draft.Cardio) {
		moved = append(moved, decision.Cardio)
	}
	return moved
}

// A lever leaves the others as they stand to the session: food and steps keep the
// very sessions, cardio keeps food and steps.
func TestADraftMovesOneLever(t *testing.T) {
	a, all := dossiers(t, app.Options{Futures: -1})
	proposed, tried := 0, 0
	for _, d := range all {
		if d.Current == nil || d.Proposal == nil || d.Draft == nil {
			continue
		}
		if o := d.Proposal; o.Action == decision.Change && !o.Exchange {
			proposed++
			if moved := movedIn(d.Current, d.Draft); len(moved) > 1 || len(moved) == 1 && moved[0] != o.Lever {
				t.Errorf("%s: %s, and the draft moves %v", d.Athlete.Name, o.Sentence, moved)
			}
		}
		from := d.Proposal.From
		keep := app.Edit{EnergyKcal: &from.EnergyKcal, StepsPerDay: &from.StepsPerDay, CardioMinutes: &from.CardioMinutes}
		for lever, edit := range map[decision.Lever]func(*app.Edit){
			decision.Food:   func(e *app.Edit) { e.EnergyKcal = new(from.EnergyKcal + 100) },
			decision.Steps:  func(e *app.Edit) { e.StepsPerDay = new(from.StepsPerDay + 500) },
			decision.Cardio: func(e *app.Edit) { e.CardioMinutes, e.EnergyKcal = new(from.CardioMinutes+30), new(from.EnergyKcal) },
		} {
			e := keep
			edit(&e)
			got, err := a.TryOut(context.Background(), d, e)
			if err != nil {
				t.Fatal(err)
			}
			if got.Refused != nil || d.Draft.Phase != d.Current.Phase || d.Current.For(athlete.DietBreakDay) != nil {
				continue
			}
			tried++
			if moved := movedIn(d.Current, got.Draft); len(moved) > 1 || len(moved) == 1 && moved[0] != lever {
				t.Errorf("%s: an edit of %s moves %v", d.Athlete.Name, lever, moved)
			}
			if lever == decision.Cardio && math.Abs(got.Draft.CardioMinutes()-from.CardioMinutes-30) > 10 {
				t.Errorf("%s: %.0f minutes asked, %.0f drafted", d.Athlete.Name, from.CardioMinutes+30, got.Draft.CardioMinutes())
			}
		}
	}
	if proposed < 2 || tried < 10 {
		t.Errorf("%d proposals and %d edits were looked at", proposed, tried)
	}
}

func TestAHurtJointComesBeforeTheLever(t *testing.T) {
	a, asOf := demo(t)
	ask := func(where athlete.Region) *app.Dossier {
		d, err := a.Dossier(context.Background(), "lucia-ferrandez", asOf, app.Options{Futures: -1, Suppose: func(p *athlete.Athlete) {
			p.Cardio = []athlete.CardioKind{athlete.InclineWalk, athlete.Cycling}
			p.Injuries = []athlete.Injury{{From: asOf.AddDays(-3), Where: where}}
		}})
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	d := ask(athlete.Foot)
	if d.Proposal.To.CardioMinutes < 10 || d.Current.Cardio[0].Kind != athlete.InclineWalk {
		t.Fatalf("the demo has changed: %+v", d.Current.Cardio)
	}
	for _, c := range d.Draft.Cardio {
		if c.Kind != athlete.Cycling {
			t.Errorf("%s is drafted with a hurt foot", c.Kind)
		}
	}
	if why := strings.Join(d.Draft.Reasons, " "); len(d.Draft.Cardio) == 0 || !strings.Contains(why, "incline walking loads the foot, which is hurt; a clinician says") {
		t.Errorf("drafted %v because %s", d.Draft.Cardio, why)
	}
	if d.Levers.StepsMax != d.Levers.StepsNow {
		t.Errorf("steps up to %v from %v with a hurt foot", d.Levers.StepsMax, d.Levers.StepsNow)
	}
	d = ask(athlete.Knee) // which all of it loads
	if why := strings.Join(d.Draft.Reasons, " "); len(d.Draft.Cardio) != 0 || !strings.Contains(why, "No cardio is asked for") {
		t.Errorf("drafted %v because %s", d.Draft.Cardio, why)
	}
}

// Sessions that stand are not changed for the cap on intensity, but it is said.
func TestTooHardIsSaid(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	strict := cardio.DefaultFatigue()
	strict.MostMETFar, strict.MostMETLean = 5, 5
	if err := a.PutFatigueTable(ctx, strict); err != nil {
		t.Fatal(err)
	}
	d, err := a.Dossier(ctx, "lucia-ferrandez", asOf, app.Options{Futures: -1})
	if err != nil {
		t.Fatal(err)
	}
	if why := strings.Join(d.Draft.Reasons, " "); !reflect.DeepEqual(d.Draft.Cardio, d.Current.Cardio) || !strings.Contains(why, "above the 5.0 that are taken") {
		t.Errorf("drafted %v because %s", d.Draft.Cardio, why)
	}
}

func TestTradeSaysWhatItAdds(t *testing.T) {
	_, all := dossiers(t, app.Options{Futures: -1, NoReview: true})
	for _, d := range all {
		trade, err := d.Trade(300)
		if err != nil {
			t.Fatal(err)
		}
		y := trade.Yield
		if y.Share.Value < 0.4 || y.Share.Value > 1.2 || math.Abs(trade.AddsKcal.Value-300*y.Share.Value) > 1e-9 || y.Prior.Value != 0.75 {
			t.Errorf("%s: %+v", d.Athlete.Name, y)
		}
		if says := strings.Contains(y.Sentence, "this athlete's log says"); says != y.Learned {
			t.Errorf("%s: learned %v: %s", d.Athlete.Name, y.Learned, y.Sentence)
		}
		stands := d.Levers.CardioNow / 7 * d.Levers.CardioKcalPerKgMin * d.Cardio.Body.WeightKg
		if m := trade.Mix; math.Abs(m.WantedKcal-300-stands) > 1e-6 || m.DeliveredKcal+m.ShortKcal < m.WantedKcal-1e-6 || m.StepsPerDay < d.Levers.StepsNow {
			t.Errorf("%s: the mix is %+v", d.Athlete.Name, m)
		}
		open := trade.Open()
		for i, w := range open {
			if !w.Available || !w.WithinCap || i > 0 && w.Points < open[i-1].Points {
				t.Errorf("%s: %s is not open, or out of order", d.Athlete.Name, w.Name(athlete.Metric))
			}
		}
		if len(open) == 0 || open[0].Kind != "" {
			t.Errorf("%s: steps do not come first", d.Athlete.Name)
		}
	}
}

// What is used and what is left are what there is, and the plan never asks for more.
func TestReserveIsWhatThePlanLeaves(t *testing.T) {
	_, all := dossiers(t, app.Options{Futures: -1, NoReview: true})
	weeks := 0
	for _, d := range all {
		l := d.Levers
		for i, r := range d.Reserve() {
			weeks++
			asked := d.Season.Map.Weeks[i].Asked
			if r.StepsLeft != math.Max(0, l.StepsMax-asked.StepsPerDay) || r.CardioMinutesLeft != math.Max(0, l.CardioMax-asked.CardioMinutes) {
				t.Errorf("%s, week %d: %+v where %+v is asked of %+v", d.Athlete.Name, r.Week, r, asked, l)
			}
			kg := d.Season.Map.Weeks[i].WeightKg
			all := (math.Max(0, l.StepsMax-l.StepsHabit)*l.StepKcalPerKg + math.Max(0, l.CardioMax-l.CardioHabit)/7*l.CardioKcalPerKgMin) * kg
			if asked.StepsPerDay >= l.StepsHabit && asked.CardioMinutes >= l.CardioHabit && math.Abs(r.ThereKcal-all) > 1e-6 {
				t.Errorf("%s, week %d: there are %.1f kcal, want %.1f", d.Athlete.Name, r.Week, r.ThereKcal, all)
			}
			if r.LeftAddsKcal > r.LeftKcal*1.2 || r.UsedKcal < 0 || r.FoodKcalLeft < 0 || !strings.Contains(r.Sentence, "of steps and cardio that there are") {
				t.Errorf("%s, week %d: %+v", d.Athlete.Name, r.Week, r)
			}
		}
		if d.Blocked != nil && d.Reserve() != nil {
			t.Errorf("%s: a plan in reserve where none may be made", d.Athlete.Name)
		}
	}
	if weeks < 50 {
		t.Errorf("%d weeks were looked at", weeks)
	}
}
