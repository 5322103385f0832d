package app

import (
	"context"
	"encoding/json"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/forecast"
	"glidepath/numeric"
	"glidepath/season"
)

// Effect is what an instruction is expected to come to.
type Effect struct {
	Asked       season.Instruction `json:"asked"`
	BalanceKcal numeric.Interval   `json:"balance_kcal"` // as it would be eaten, less expenditure as it would be; a deficit is negative
	RatePct     numeric.Interval   `json:"rate_pct"`     // loss to that day, % of body weight a week
	Available   float64            `json:"energy_availability"`
	// Weight and body fat in four weeks, or on show day where that is sooner.
	On         civil.Date       `json:"on"`
	WeightKg   numeric.Interval `json:"weight_kg"`
	BodyFatPct numeric.Interval `json:"body_fat_pct"`
	// Fan is each morning to the show, or four weeks; not part of an answer to a
	// program, which has the day that counts.
	Fan []forecast.Fan `json:"-"`
	// OnTarget is the chance of the target where the instruction stood unchanged to
	// the show; unknown without a show.
	OnTarget numeric.OrNull `json:"on_target"`
}

// TryOut is an edit of a proposal and its effect, with nothing stored.
type TryOut struct {
	Now, Proposed, Edited Effect
	// Refused is why the edit would not be taken, nil where it would.
	Refused error
	Draft   *athlete.Prescription // what it would prescribe; nil where refused
}

// tryFutures is enough for a chance to a few per cent, at once.
const tryFutures = 300

// TryOut reckons what an edit of a dossier's proposal would come to. The dossier
// must have a proposal; an edit is checked against every limit as Decide does.
func (a *App) TryOut(ctx context.Context, d *Dossier, edit Edit) (*TryOut, error) {
	p := d.Proposal
	if p == nil {
		return nil, fault.New(fault.NotFound, "there is no proposal to edit for %s on %s.", d.Athlete.Name, d.AsOf)
	}
	var f *facts
	err := a.Store.Read(ctx, func(tx Tx) (err error) {
		f, err = load(tx, d.Athlete.ID, d.AsOf)
		return err
	})
	if err != nil {
		return nil, err
	}
	in := edited(p.To, edit)
	out := &TryOut{Now: d.effect(p.From), Proposed: d.effect(p.To), Edited: d.effect(in)}
	if out.Refused = f.within(d, in, p.Phase); out.Refused == nil {
		out.Draft, out.Refused = f.draft(d, in, p.Phase)
	}
	if out.Refused == nil {
		out.Refused = out.Draft.Validate()
	}
	if out.Refused != nil {
		if fault.KindOf(out.Refused) == "" {
			return nil, out.Refused
		}
		out.Draft = nil
	}
	return out, nil
}

// effect flies an instruction from today's reading, as this athlete follows
// instructions.
func (d *Dossier) effect(in season.Instruction) Effect {
	now := &d.Reading.Now
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	e := Effect{Asked: in}
	e.Available = (in.EnergyKcal - d.Levers.ExerciseKcalPerKg(in.CardioMinutes)*last.TrendKg.Value) / last.LeanKg.Value
	moved := (d.Levers.ActivityKcalPerKg(in) - d.Levers.ActivityKcalPerKg(d.Proposal.From)) * last.TrendKg.Value
	x := last.ExpenditureKc
	eaten := in.EnergyKcal
	if d.Current != nil {
		eaten *= d.Reading.Adherence.Expected()
	}
	e.BalanceKcal = numeric.Normal{Mean: eaten - x.Value - moved, SD: x.SD()}.Interval()
	const ahead = 28
	days := ahead
	if d.Show != nil {
		days = max(1, d.Show.Date.DaysSince(d.AsOf))
	}
	plan := make([]forecast.Day, days)
	for i := range plan {
		plan[i] = forecast.Day{
			EnergyKcal: eaten, CarbohydrateKcal: now.CarbohydrateShare * eaten,
			ActivityKcalPerKg: d.Levers.ActivityKcalPerKg(in), MostKcal: x.Value * 1.1,
		}
	}
	q := forecast.Problem{From: *now, AsOf: d.AsOf, Plan: plan, Futures: tryFutures, Seed: seed(d.Athlete.ID, d.AsOf)}
	d.followed(&q)
	if d.Show != nil {
		q.Target = &forecast.Target{BodyFatPct: d.Show.TargetBodyFatPct, Tolerance: d.Show.Tolerance()}
	}
	flown := forecast.Run(q)
	at := flown.Fan[min(ahead, len(flown.Fan)-1)]
	e.On, e.WeightKg, e.BodyFatPct = at.Date, ofQuantiles(at.Weight), ofQuantiles(at.BodyFat)
	weekly := func(kg float64) float64 {
		return 100 * (last.TrendKg.Value - kg) / last.TrendKg.Value / (float64(max(1, at.Date.DaysSince(d.AsOf))) / 7)
	}
	w := e.WeightKg
	e.RatePct = numeric.Interval{Value: weekly(w.Value), Low50: weekly(w.High50), High50: weekly(w.Low50), Low90: weekly(w.High90), High90: weekly(w.Low90)}
	e.Fan, e.OnTarget = flown.Fan, flown.Chances.OnTarget
	return e
}

func ofQuantiles(q forecast.Quantiles) numeric.Interval {
	return numeric.Interval{Value: q.P50, Low50: q.P25, High50: q.P75, Low90: q.P05, High90: q.P95}
}

// Kept reads what a stored review proposed.
func (r *Review) Kept() (Reviewed, error) {
	var out Reviewed
	err := json.Unmarshal(r.Proposal, &out)
	return out, err
}
