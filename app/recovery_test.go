package app_test

import (
	"slices"
	"strings"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/training"
)

// programme is an invented one with room for fewer sets.
func programme(t *testing.T, a *app.App, id string) {
	t.Helper()
	planned := func(sets int, names ...string) (out []athlete.PlannedExercise) {
		for _, n := range names {
			out = append(out, athlete.PlannedExercise{Exercise: n, Sets: sets, RepsLow: 6, RepsHigh: 10})
		}
		return out
	}
	_, err := a.AddProgramme(t.Context(), id, athlete.Programme{From: 1, Name: "Four days", Weeks: []athlete.ProgrammeWeek{{
		Sessions: []athlete.PlannedSession{
			{Name: "Lower", Exercises: planned(6, "back squat", "romanian deadlift", "hip thrust", "leg extension")},
			{Name: "Upper", Exercises: planned(6, "bench press", "barbell row", "lat pulldown", "overhead press", "barbell curl")},
		},
	}}}, "the coach")
	if err != nil {
		t.Fatal(err)
	}
}

// Where nothing else changes and recovery is short, the review takes sets away, of
// the exercises of the programme, and what stands says so.
func TestReviewTakesSetsAwayWhereRecoveryIsShort(t *testing.T) {
	a, asOf := demo(t)
	ctx, id := t.Context(), "lucia-ferrandez"
	d, err := a.Dossier(ctx, id, asOf, app.Options{Futures: -1})
	if err != nil {
		t.Fatal(err)
	}
	if d.Recovery.Short < 0.8 || !d.Recovery.Usual.OffSeason || len(d.Recovery.Markers) != 7 || len(d.Loads) != 8 ||
		d.Capacity.Share.Value >= 1 || d.Capacity.Leanness <= 0 || d.Proposal.Action != decision.Hold {
		t.Fatalf("recovery %+v, capacity %+v, proposal %s", d.Recovery.Sentence, d.Capacity, d.Proposal.Sentence)
	}
	programme(t, a, id)
	if d, err = a.Dossier(ctx, id, asOf, app.Options{Futures: -1}); err != nil {
		t.Fatal(err)
	}
	p := d.Proposal
	if d.Sets.Action != training.FewerSets || p.Lever != decision.Sets || !strings.HasPrefix(p.Sentence, "Food and activity hold. Take ") ||
		!strings.Contains(p.Sentence, "barbell row 6 to") || p.To != p.From {
		t.Fatalf("%s: %s", d.Sets.Action, p.Sentence)
	}
	if !slices.Equal(d.Draft.Sets, d.Sets.Sets) || !slices.ContainsFunc(p.Reasons, func(r string) bool { return strings.Contains(r, "Fatigue is") }) {
		t.Errorf("drafted %v because %q", d.Draft.Sets, p.Reasons)
	}
	before, after := accepted(t, a, id, asOf)
	if len(after) != len(before)+1 {
		t.Fatalf("%d programmes became %d", len(before), len(after))
	}
	was, is := before[len(before)-1], after[len(after)-1]
	if is.From != asOf || is.Author != "the coach" || was.Weeks[0].Sessions[1].Exercises[1].Sets != 6 ||
		is.Weeks[0].Sessions[1].Exercises[1].Exercise != "barbell row" || is.Weeks[0].Sessions[1].Exercises[1].Sets >= 6 {
		t.Errorf("the programme became %+v", is)
	}
}

// accepted takes a review's proposal and gives the programmes before and after.
func accepted(t *testing.T, a *app.App, id string, asOf civil.Date) (before, after []athlete.Programme) {
	t.Helper()
	list := func() []athlete.Programme {
		all, err := a.Programmes(t.Context(), id, asOf.AddDays(60))
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	before = list()
	if _, err := a.Review(t.Context(), id, asOf, app.Options{Futures: -1}); err != nil {
		t.Fatal(err)
	}
	if _, err := a.Decide(t.Context(), id, asOf, app.Accepted, app.Edit{}, "", "the coach"); err != nil {
		t.Fatal(err)
	}
	return before, list()
}

// An injury, or pain in the log, waits for a clinician, whatever else the review
// says; what loads the region is named.
func TestPainWaitsForAClinician(t *testing.T) {
	a, asOf := demo(t)
	ctx, id := t.Context(), "priya-raghunath"
	programme(t, a, id)
	day := athlete.Day{Date: asOf, Pain: new(6.0), PainWhere: athlete.Knee}
	if _, err := a.Record(ctx, id, app.Batch{Days: []athlete.Day{day}}, app.Source{Name: "form"}); err != nil {
		t.Fatal(err)
	}
	d, err := a.Dossier(ctx, id, asOf, app.Options{Futures: -1})
	if err != nil {
		t.Fatal(err)
	}
	if d.Sets.Action != training.Defer || !slices.Contains(d.Sets.Waits, "back squat") || slices.Contains(d.Sets.Waits, "bench press") {
		t.Errorf("%s: %v waits", d.Sets.Action, d.Sets.Waits)
	}
	all := strings.Join(d.Proposal.Cautions, " ")
	if d.Proposal.Lever == decision.Sets || !strings.Contains(all, "clinician") || !strings.Contains(all, "knee") {
		t.Errorf("%s, cautions %s", d.Proposal.Sentence, all)
	}
	if err := a.AddInjury(ctx, "saoirse-whitlock-tan", athlete.Injury{From: asOf, Where: athlete.Shoulder}); err != nil {
		t.Fatal(err)
	}
	if d, err = a.Dossier(ctx, "saoirse-whitlock-tan", asOf, app.Options{Futures: -1}); err != nil || d.Sets == nil || d.Sets.Action != training.Defer {
		t.Errorf("blocked and hurt: %+v, %v", d.Sets, err)
	}
}

// A deload and a swap leave the sets that stand.
func TestASwapLeavesTheSetsThatStand(t *testing.T) {
	a, asOf := demo(t)
	id := "lucia-ferrandez"
	programme(t, a, id)
	d, err := a.Dossier(t.Context(), id, asOf, app.Options{Futures: -1, Suppose: func(p *athlete.Athlete) {
		p.SpareRegions = []athlete.Region{athlete.LowerBack}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if d.Sets.Action != training.Swap || d.Proposal.Lever != decision.Sets || len(d.Proposal.Sets) > 0 || !slices.Equal(d.Draft.Sets, d.Current.Sets) {
		t.Errorf("%s: %s; drafted %v", d.Sets.Action, d.Proposal.Sentence, d.Draft.Sets)
	}
}
