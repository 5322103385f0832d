package lab

import (
	"context"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/season"
)

// product is Glidepath itself, used as a coach would: logs go in, the review is
// made each week, and what it proposes is accepted.
type product struct {
	app     *app.App
	id      string
	told    Told
	options app.Options
	watch   *watch // of its intervals, nil where they are not checked
	reviews int
}

func newProduct(s *subject) (*product, error) {
	clock := func() time.Time { return firstDay.Time() }
	p := &product{
		app: &app.App{Store: &memory{}, Now: clock, Workers: 1}, id: s.spec.Athlete.ID,
		options: app.Options{Futures: -1},
	}
	return p, p.app.AddAthlete(context.Background(), s.spec.Athlete, firstDay, false)
}

// Intervals are checked at every so many reviews, so that the checks of one
// athlete are not all of the same news, with so many futures.
const (
	checkEvery   = 4
	checkFutures = 600
)

// look takes the week's news in and makes the review, if the options ask for one.
func (p *product) look(on civil.Date, n news, o app.Options) (*app.Dossier, error) {
	ctx := context.Background()
	_, err := p.app.Record(ctx, p.id, app.Batch{
		Days: n.days, Measurements: n.measurements, Sets: n.sets, Sessions: n.sessions,
	}, app.Source{Name: "lab", At: on.Time()})
	if err != nil {
		return nil, err
	}
	d, err := p.app.Review(ctx, p.id, on, o)
	if err == nil && !p.told.Asked && d.Season != nil {
		p.told = told(&d.Season.Appraisal)
	}
	return d, err
}

func (p *product) week(on civil.Date, n news) (order, error) {
	o := p.options
	checked := p.watch != nil && p.reviews%checkEvery == 0
	if checked {
		o.Futures = checkFutures
	}
	p.reviews++
	d, err := p.look(on, n, o)
	if err != nil {
		return order{}, err
	}
	if checked {
		p.watch.ask(d, n.truth)
	}
	// What the use case Decide does when a coach accepts: a test holds the two
	// together.
	if d.Draft != nil && d.Blocked == nil && (d.Proposal.Action == decision.Change || d.Proposal.Action == decision.Begin) {
		d.Draft.Author, d.Draft.Origin = "the lab", athlete.FromProposal
		out, err := p.add(d, d.Draft)
		if err != nil {
			return order{}, err
		}
		return out, p.accepted(on, out.plan.Version)
	}
	return order{}, nil
}

// add makes a prescription stand.
func (p *product) add(d *app.Dossier, next *athlete.Prescription) (order, error) {
	if err := next.Validate(); err != nil {
		return order{}, err
	}
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	out := order{plan: next, weightKg: last.TrendKg.Value, leanKg: last.LeanKg.Value}
	return out, p.app.Store.Write(context.Background(), func(tx app.Tx) error { return tx.AddPrescription(p.id, next) })
}

// accepted writes down that the review of a date was.
func (p *product) accepted(on civil.Date, version int) error {
	return p.app.Store.Write(context.Background(), func(tx app.Tx) error {
		reviews, err := tx.Reviews(p.id, on)
		if err != nil {
			return err
		}
		r := reviews[len(reviews)-1]
		r.Decision, r.Who, r.Version = app.Accepted, "the lab", version
		return tx.PutReview(p.id, &r)
	})
}

// told is what an appraisal says.
func told(a *season.Appraisal) Told {
	return Told{
		Asked: true, NoTime: a.Verdict == season.NoTime, Doubt: a.Doubtful(),
		SlackWeeks: a.SlackWeeks.Value, Chance: a.Chance,
	}
}
