package app_test

import (
	"context"
	"math"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// A what-if reckons both seasons and keeps nothing; accepting keeps just what was
// supposed, as one change of the profile.
func TestWhatIf(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	const id = "aroha-jensen"
	away := athlete.Event{From: civil.Of(2026, 4, 1), To: civil.Of(2026, 4, 7), Kind: "travel"}
	if err := a.AddEvent(ctx, id, away); err != nil {
		t.Fatal(err)
	}
	before := profileOf(t, a)
	show := before.NextShow(asOf)
	later := show.Date.AddDays(56)
	s := &app.Supposition{
		Shows:            []app.MovedShow{{ID: show.ID, Date: later}},
		TargetBodyFatPct: new(show.TargetBodyFatPct + 1),
		Moved:            []app.MovedEvent{{Kind: "travel", Was: app.Stretch{From: away.From, To: away.To}, To: app.Stretch{From: away.From.AddDays(7), To: away.To.AddDays(9)}}},
		Events:           []athlete.Event{{From: civil.Of(2026, 5, 1), To: civil.Of(2026, 5, 2), Kind: "holiday"}},
	}
	w, err := a.WhatIf(ctx, id, asOf, s, quick)
	if err != nil {
		t.Fatal(err)
	}
	if w.Now.Show.Date != show.Date || w.Then.Show.Date != later || w.Then.Show.TargetBodyFatPct != show.TargetBodyFatPct+1 {
		t.Errorf("the shows are %+v and %+v", w.Now.Show, w.Then.Show)
	}
	// The time that is given is slack, one for one, but for what the plan then does with it.
	if gain := w.Then.Season.Corridor.SlackWeeks.Value - w.Now.Season.Corridor.SlackWeeks.Value; math.Abs(gain-8) > 3 {
		t.Errorf("a show 8 weeks later gives %.1f weeks of slack", gain)
	}
	if e := w.Then.Athlete.Events; len(e) != len(before.Events)+1 || e[len(e)-2].From != away.From.AddDays(7) || e[len(e)-2].To != away.To.AddDays(9) {
		t.Errorf("the events are supposed as %+v", e)
	}
	if kept := profileOf(t, a); kept.NextShow(asOf).Date != show.Date || len(kept.Events) != len(before.Events) || kept.Events[len(kept.Events)-1] != away {
		t.Errorf("asking changed the profile to %+v", kept)
	}
	if err := a.ChangeSeason(ctx, id, "", s, asOf); err != nil {
		t.Fatal(err)
	}
	kept := profileOf(t, a)
	if kept.NextShow(asOf).Date != later || kept.NextShow(asOf).ID != show.ID || len(kept.Events) != len(before.Events)+1 {
		t.Errorf("accepted is %+v", kept)
	}
	// The event is no longer where it was, so that the same cannot be accepted twice.
	if err := a.ChangeSeason(ctx, id, "", s, asOf); fault.KindOf(err) != fault.NotFound {
		t.Errorf("accepting again gave %v", err)
	}
}

// What cannot be is refused, and nothing of it is kept.
func TestWhatIfRefused(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	const id = "aroha-jensen"
	before := profileOf(t, a)
	show := before.NextShow(asOf)
	move := func(id string, on civil.Date) app.Supposition {
		return app.Supposition{Shows: []app.MovedShow{{ID: id, Date: on}}}
	}
	week := app.Stretch{From: asOf, To: asOf.AddDays(6)}
	for name, c := range map[string]struct {
		s    app.Supposition
		want fault.Kind
	}{
		"a show today":           {move(show.ID, asOf), fault.Invalid},
		"a show in ten years":    {move(show.ID, asOf.AddDays(3653)), fault.Invalid},
		"a show that is not":     {move("nowhere", asOf.AddDays(90)), fault.NotFound},
		"a target too lean":      {app.Supposition{TargetBodyFatPct: new(6.0)}, fault.Refused},
		"an event that is not":   {app.Supposition{Moved: []app.MovedEvent{{Kind: "travel", Was: week, To: week}}}, fault.NotFound},
		"an event turned around": {app.Supposition{Events: []athlete.Event{{Kind: "travel", From: asOf.AddDays(9), To: asOf.AddDays(2)}}}, fault.Invalid},
	} {
		if _, err := a.WhatIf(ctx, id, asOf, &c.s, quick); fault.KindOf(err) != c.want {
			t.Errorf("%s: asking gave %v", name, err)
		}
		if err := a.ChangeSeason(ctx, id, "", &c.s, asOf); fault.KindOf(err) != c.want {
			t.Errorf("%s: accepting gave %v", name, err)
		}
	}
	if kept := profileOf(t, a); kept.NextShow(asOf).Date != show.Date || len(kept.Events) != len(before.Events) {
		t.Errorf("the profile became %+v", kept)
	}
}

func profileOf(t *testing.T, a *app.App) *athlete.Athlete {
	t.Helper()
	p, err := a.Athlete(context.Background(), "aroha-jensen")
	if err != nil {
		t.Fatal(err)
	}
	return p
}
