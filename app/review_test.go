package app_test

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/scenario"
)

var quick = app.Options{Futures: 200}

func TestReviewAcceptedBecomesAPrescription(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	d, err := a.Review(ctx, "aroha-jensen", asOf, quick)
	if err != nil {
		t.Fatal(err)
	}
	before := len(d.Prescriptions)
	p, err := a.Decide(ctx, "aroha-jensen", asOf, app.Accepted, app.Edit{}, "", "the coach")
	if err != nil {
		t.Fatal(err)
	}
	if p.Version != before+1 || p.Origin != athlete.FromProposal || p.From != asOf || len(p.Reasons) == 0 {
		t.Errorf("the prescription is %+v", p)
	}
	if got, want := p.MeanEnergyKcal(), d.Proposal.To.EnergyKcal; math.Abs(got-want) > 25 {
		t.Errorf("prescribed %.0f kcal where %.0f was proposed", got, want)
	}
	// Decided is decided, and an older prescription still stands on its own dates.
	if _, err := a.Decide(ctx, "aroha-jensen", asOf, app.Declined, app.Edit{}, "changed my mind", "the coach"); fault.KindOf(err) != fault.Conflict {
		t.Errorf("a second decision gave %v", err)
	}
	old, err := a.Prescription(ctx, "aroha-jensen", asOf.AddDays(-1))
	if err != nil || old.Version != before {
		t.Errorf("yesterday's prescription is %+v, %v", old, err)
	}
	// The next review leaves the change time to settle.
	next, err := a.Dossier(ctx, "aroha-jensen", asOf.AddDays(3), quick)
	if err != nil {
		t.Fatal(err)
	}
	if next.Proposal.Action == "change" && next.Proposal.ChangeKcal > 0 {
		t.Errorf("three days after a change: %s", next.Proposal.Sentence)
	}
}

func TestDecisionsAreChecked(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	if _, err := a.Decide(ctx, "aroha-jensen", asOf, app.Accepted, app.Edit{}, "", "the coach"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("deciding without a review gave %v", err)
	}
	if _, err := a.Review(ctx, "aroha-jensen", asOf, quick); err != nil {
		t.Fatal(err)
	}
	if _, err := a.Decide(ctx, "aroha-jensen", asOf, app.Declined, app.Edit{}, "", "the coach"); fault.KindOf(err) != fault.Invalid {
		t.Errorf("declining without a reason gave %v", err)
	}
	low := 1100.0
	_, err := a.Decide(ctx, "aroha-jensen", asOf, app.Edited, app.Edit{EnergyKcal: &low}, "hurry", "the coach")
	if fault.KindOf(err) != fault.Refused || !strings.Contains(err.Error(), "floor") {
		t.Errorf("an edit under the floor gave %v", err)
	}
	d, err := a.Dossier(ctx, "aroha-jensen", asOf, quick)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(d.Prescriptions); n != 3 {
		t.Errorf("a refused edit left %d prescriptions", n)
	}
	fine := d.Proposal.To.EnergyKcal + 75
	p, err := a.Decide(ctx, "aroha-jensen", asOf, app.Edited, app.Edit{EnergyKcal: &fine}, "a gentler step", "the coach")
	if err != nil {
		t.Fatal(err)
	}
	if p.Origin != athlete.FromEdit || math.Abs(p.MeanEnergyKcal()-fine) > 25 || p.Reasons[0] != "a gentler step" {
		t.Errorf("the edited prescription is %+v", p)
	}
}

func TestNoDeficitIsPlanned(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	// Saoirse's screening has an open caution.
	d, err := a.Dossier(ctx, "saoirse-whitlock-tan", asOf, quick)
	if err != nil {
		t.Fatal(err)
	}
	if d.Blocked == nil || d.Season != nil || d.Proposal != nil || !strings.Contains(d.Blocked.Hint, "doctor") {
		t.Errorf("an open caution gave %+v", d.Blocked)
	}
	err = a.AddClearance(ctx, "saoirse-whitlock-tan", athlete.Clearance{Caution: athlete.Fainting, Clinician: "Dr Example", Date: asOf})
	if err != nil {
		t.Fatal(err)
	}
	if d, err = a.Dossier(ctx, "saoirse-whitlock-tan", asOf, quick); err != nil || d.Blocked != nil || d.Season == nil {
		t.Errorf("with a clearance: blocked %v, %v", d.Blocked, err)
	}

	young, err := a.Athlete(ctx, "priya-raghunath")
	if err != nil {
		t.Fatal(err)
	}
	young.ID, young.BirthDate = "young", civil.Of(2009, 6, 1)
	if err := a.AddAthlete(ctx, *young, asOf, true); err != nil {
		t.Fatal(err)
	}
	if d, err = a.Dossier(ctx, "young", asOf, quick); err != nil {
		t.Fatal(err)
	}
	if d.Blocked == nil || d.Season != nil || !strings.Contains(d.Blocked.Error(), "16") {
		t.Errorf("a minor's dossier is blocked by %v", d.Blocked)
	}
}

func TestShowsAreChecked(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	for _, c := range []struct {
		what string
		show athlete.Show
		want fault.Kind
	}{
		{"in the past", athlete.Show{Name: "Gone", Date: asOf.AddDays(-1), TargetBodyFatPct: 12}, fault.Invalid},
		{"under the floor", athlete.Show{Name: "Bare", Date: asOf.AddDays(200), TargetBodyFatPct: 9}, fault.Refused},
		{"fine", athlete.Show{Name: "Fine", Date: asOf.AddDays(200), TargetBodyFatPct: 13}, ""},
	} {
		err := a.AddShow(ctx, "priya-raghunath", c.show, asOf)
		if got := fault.KindOf(err); got != c.want || (err == nil) != (c.want == "") {
			t.Errorf("a show %s gave %v", c.what, err)
		}
	}
}

func TestLimitsChangeOpenly(t *testing.T) {
	a, _ := demo(t)
	ctx := context.Background()
	if err := a.ChangeLimit(ctx, "priya-raghunath", "rate_far_pct_per_week", 0.8, "the coach", ""); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a limit without a reason gave %v", err)
	}
	if err := a.ChangeLimit(ctx, "priya-raghunath", "energy_availability_floor", 25, "the coach", "in a hurry"); fault.KindOf(err) != fault.Refused {
		t.Errorf("a lower floor gave %v", err)
	}
	if err := a.ChangeLimit(ctx, "priya-raghunath", "rate_far_pct_per_week", 0.8, "the coach", "she loses lean early"); err != nil {
		t.Fatal(err)
	}
	p, err := a.Athlete(ctx, "priya-raghunath")
	if err != nil {
		t.Fatal(err)
	}
	if c := p.Limits.Changes; len(c) != 1 || c[0].Old != 1 || c[0].New != 0.8 || c[0].Who == "" || c[0].Why == "" || c[0].When.IsZero() {
		t.Errorf("the change is kept as %+v", c)
	}
	la := athlete.LowAvailability{From: civil.Of(2026, 4, 1), Weeks: 5, Why: "last push", Who: "the coach"}
	if err := a.AllowLowAvailability(ctx, "priya-raghunath", la); fault.KindOf(err) != fault.Refused {
		t.Errorf("five weeks of low availability gave %v", err)
	}
}

// Living a season day by day and importing it at the end must read the same
// on any date: nothing from after a date may leak into it.
func TestReplayEqualsLiving(t *testing.T) {
	ctx := context.Background()
	whole, asOf := demo(t)
	lived, _ := demo(t)
	if err := lived.RemoveAthlete(ctx, "aroha-jensen"); err != nil {
		t.Fatal(err)
	}
	var se scenario.Season
	for _, s := range scenario.Demo().Seasons {
		if s.Athlete.ID == "aroha-jensen" {
			se = s
		}
	}
	if err := lived.Restore(ctx, &app.Archive{Athlete: se.Athlete, Prescriptions: se.Prescriptions}, app.Source{Name: "demo"}); err != nil {
		t.Fatal(err)
	}
	checked := 0
	for i := range se.Days {
		on := se.Days[i].Date
		b := app.Batch{Days: se.Days[i : i+1]}
		for _, m := range se.Measurements {
			if m.Date == on {
				b.Measurements = append(b.Measurements, m)
			}
		}
		for _, s := range se.Sets {
			if s.Date == on {
				b.Sets = append(b.Sets, s)
			}
		}
		for _, s := range se.Sessions {
			if s.Date == on {
				b.Sessions = append(b.Sessions, s)
			}
		}
		if _, err := lived.Record(ctx, "aroha-jensen", b, app.Source{Name: "form"}); err != nil {
			t.Fatal(err)
		}
		if asOf.DaysSince(on)%45 != 0 {
			continue
		}
		checked++
		was, err := lived.Dossier(ctx, "aroha-jensen", on, quick)
		if err != nil {
			t.Fatal(err)
		}
		replayed, err := whole.Dossier(ctx, "aroha-jensen", on, quick)
		if err != nil {
			t.Fatal(err)
		}
		x, errX := json.Marshal(was)
		y, errY := json.Marshal(replayed)
		if err := errors.Join(errX, errY); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(x), string(y)); d != "" {
			t.Errorf("as of %s, lived and replayed differ:\n%s", on, d)
		}
	}
	if checked < 3 {
		t.Fatalf("only %d dates were compared", checked)
	}
}

func TestRosterIsTheSameOnAnyNumberOfCores(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	a.Workers = 1
	calls := 0
	one, err := a.Roster(ctx, asOf, func(done, total int) {
		if calls++; done != calls || total != 12 {
			t.Errorf("progress %d of %d at call %d", done, total, calls)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	a.Workers = 5
	five, err := a.Roster(ctx, asOf, nil)
	if err != nil {
		t.Fatal(err)
	}
	x, _ := json.Marshal(one)
	y, _ := json.Marshal(five)
	if string(x) != string(y) || calls != 12 {
		t.Errorf("rosters differ, or progress was called %d times:\n%s\n%s", calls, x, y)
	}
	for i := 1; i < len(one); i++ {
		if one[i].Need < one[i-1].Need {
			t.Errorf("%s comes after %s", one[i].ID, one[i-1].ID)
		}
	}
}

func TestWeightAskedAboutAndAnswered(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	d, err := a.Dossier(ctx, "saoirse-whitlock-tan", asOf, quick)
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Reading.Queries) != 1 || d.Reading.Queries[0].Instead == nil {
		t.Fatalf("queries: %+v", d.Reading.Queries)
	}
	q := d.Reading.Queries[0]
	if err := a.AnswerWeight(ctx, "saoirse-whitlock-tan", q.Date, false, q.Instead, "the coach"); err != nil {
		t.Fatal(err)
	}
	if d, err = a.Dossier(ctx, "saoirse-whitlock-tan", asOf, quick); err != nil || len(d.Reading.Queries) != 0 {
		t.Errorf("after the answer: %+v, %v", d.Reading.Queries, err)
	}
	corrections, err := a.Corrections(ctx, "saoirse-whitlock-tan")
	if err != nil || len(corrections) == 0 {
		t.Errorf("the correction is not kept: %+v, %v", corrections, err)
	}
}
