package lab

import (
	"context"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/store"
)

// product is Glidepath itself, used as a coach would: logs go in, the review is
// made each week, and what it proposes is accepted.
type product struct {
	app     *app.App
	store   *store.Store
	id      string
	outcome *told
	show    civil.Date
	options app.Options
	seen    func(on civil.Date, d *app.Dossier) // for checks of intervals
}

func newProduct(s *subject) (*product, error) {
	ctx := context.Background()
	st, err := store.OpenMemory(ctx)
	if err != nil {
		return nil, err
	}
	clock := func() time.Time { return firstDay.Time() }
	p := &product{
		app: &app.App{Store: st, Now: clock, Workers: 1}, store: st, id: s.spec.Athlete.ID,
		outcome: &told{}, show: s.show.Date, options: app.Options{Futures: -1},
	}
	return p, p.app.AddAthlete(ctx, s.spec.Athlete, firstDay, false)
}

func (p *product) close() { _ = p.store.Close() }

func (p *product) week(on civil.Date, n news) (*athlete.Prescription, error) {
	ctx := context.Background()
	_, err := p.app.Record(ctx, p.id, app.Batch{
		Days: n.days, Measurements: n.measurements, Sets: n.sets, Sessions: n.sessions,
	}, app.Source{Name: "lab", At: on.Time()})
	if err != nil {
		return nil, err
	}
	d, err := p.app.Review(ctx, p.id, on, p.options)
	if err != nil {
		return nil, err
	}
	if !p.outcome.asked && d.Season != nil {
		*p.outcome = told{asked: true, feasible: d.Season.Appraisal.Feasible, slack: d.Season.Corridor.SlackWeeks.Value}
	}
	if p.seen != nil {
		p.seen(on, d)
	}
	if d.Proposal == nil || d.Draft == nil {
		return nil, nil
	}
	if a := d.Proposal.Action; a != decision.Change && a != decision.Begin {
		return nil, nil
	}
	return p.app.Decide(ctx, p.id, on, app.Accepted, app.Edit{}, "", "the lab")
}
