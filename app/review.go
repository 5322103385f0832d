package app

import (
	"context"
	"encoding/json"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/fault"
	"glidepath/season"
	"glidepath/training"
)

// Reviewed is what a stored review holds: the proposal and what accepting it
// prescribes.
type Reviewed struct {
	Proposal decision.Proposal     `json:"proposal"`
	Draft    *athlete.Prescription `json:"draft,omitempty"`
	// Training is what changes in the sessions, where that is what is proposed.
	Training *training.Proposal `json:"training,omitempty"`
}

// Reviewed is what a review of the dossier keeps. The dossier must have a proposal.
func (d *Dossier) Reviewed() Reviewed {
	out := Reviewed{Proposal: *d.Proposal, Draft: d.Draft}
	if d.Proposal.Lever == decision.Sets {
		out.Training = d.Sets
	}
	return out
}

// Review reckons an athlete's dossier and keeps its proposal as the review of
// that date, undecided. An earlier decision of the same date stands.
func (a *App) Review(ctx context.Context, id string, asOf civil.Date, o Options) (*Dossier, error) {
	d, err := a.Dossier(ctx, id, asOf, o)
	if err != nil || d.Proposal == nil {
		return d, err
	}
	text, err := json.Marshal(d.Reviewed())
	if err != nil {
		return nil, err
	}
	err = a.Store.Write(ctx, func(tx Tx) error {
		err := tx.PutReview(id, &Review{Date: asOf, Proposal: text})
		if fault.KindOf(err) == fault.Conflict {
			return nil // it was decided already
		}
		return err
	})
	return d, err
}

// Edit is a coach's own version of a proposal; nil fields keep the proposal's.
type Edit struct {
	EnergyKcal    *float64 `json:"energy_kcal,omitempty"`
	StepsPerDay   *float64 `json:"steps_per_day,omitempty"`
	CardioMinutes *float64 `json:"cardio_minutes_per_week,omitempty"`
}

// Decide records what the coach did with the review of a date. Accepting or
// editing adds a prescription, which is returned; declining needs a reason.
// Nothing beyond a limit is taken.
func (a *App) Decide(ctx context.Context, id string, on civil.Date, what Decision, edit Edit, reason, who string) (*athlete.Prescription, error) {
	if who == "" {
		return nil, fault.New(fault.Invalid, "a decision needs the name of who decides.").WithField("who")
	}
	if what == Declined && reason == "" {
		return nil, fault.New(fault.Invalid, "declining needs a reason, so that the next review can learn from it.").WithField("reason")
	}
	var out *athlete.Prescription
	err := a.Store.Write(ctx, func(tx Tx) error {
		r, err := reviewOf(tx, id, on)
		if err != nil {
			return err
		}
		r.Decision, r.Reason, r.Who, r.DecidedAt = what, reason, who, a.Now().UTC()
		if what != Declined {
			if out, err = a.prescribe(tx, id, r, edit); err != nil {
				return err
			}
			r.Version = out.Version
		}
		return tx.PutReview(id, r)
	})
	return out, err
}

func reviewOf(tx Tx, id string, on civil.Date) (*Review, error) {
	reviews, err := tx.Reviews(id, on)
	if err != nil {
		return nil, err
	}
	for i := range reviews {
		r := &reviews[i]
		if r.Date != on {
			continue
		}
		if r.Decision != Undecided {
			return nil, fault.New(fault.Conflict, "the review of %s was %s by %s already.", on, r.Decision, r.Who)
		}
		return r, nil
	}
	return nil, fault.New(fault.NotFound, "there is no review of %s for %q.", on, id).
		WithHint("Make one first, with the same date.")
}

// prescribe adds the prescription that a decision leads to.
func (a *App) prescribe(tx Tx, id string, r *Review, edit Edit) (*athlete.Prescription, error) {
	var kept Reviewed
	if err := json.Unmarshal(r.Proposal, &kept); err != nil {
		return nil, err
	}
	f, err := load(tx, id, r.Date)
	if err != nil {
		return nil, err
	}
	d, err := f.dossier(r.Date, Options{Futures: -1, NoReview: true})
	if err != nil {
		return nil, err
	}
	if d.Blocked != nil {
		return nil, d.Blocked
	}
	draft, origin := kept.Draft, athlete.FromProposal
	if r.Decision == Edited {
		origin = athlete.FromEdit
		in := edited(kept.Proposal.To, edit)
		if err := f.within(d, in, kept.Proposal.Phase); err != nil {
			return nil, err
		}
		if draft, err = f.draft(d, in, kept.Proposal.Phase); err != nil {
			return nil, err
		}
		draft.Reasons = append([]string{r.Reason}, draft.Reasons...)
		draft.Sets = kept.Draft.SetsOr(d.Current)
	}
	if draft == nil {
		return nil, fault.New(fault.Refused, "the proposal could not be written as a prescription.").
			WithHint("Edit it, with more energy.")
	}
	draft.Author, draft.Origin = r.Who, origin
	if err := draft.Validate(); err != nil {
		return nil, err
	}
	if err := tx.AddPrescription(id, draft); err != nil {
		return nil, err
	}
	return draft, f.follow(tx, id, draft, kept.Training)
}

// follow writes what was proposed of the training into the programme in force, if
// there is one.
func (f *facts) follow(tx Tx, id string, p *athlete.Prescription, change *training.Proposal) error {
	if change == nil {
		return nil
	}
	now := athlete.ProgrammeOn(f.programmes, p.From, p.Phase)
	if now == nil {
		return nil
	}
	for _, next := range f.catalogue.Follow(now, p.From, change) {
		next.Author = p.Author
		if err := tx.AddProgramme(id, &next); err != nil {
			return err
		}
	}
	return nil
}

func edited(to season.Instruction, e Edit) season.Instruction {
	if e.EnergyKcal != nil {
		to.EnergyKcal = *e.EnergyKcal
	}
	if e.StepsPerDay != nil {
		to.StepsPerDay = *e.StepsPerDay
	}
	if e.CardioMinutes != nil {
		to.CardioMinutes = *e.CardioMinutes
	}
	return to
}

// Prescribe adds a coach's own prescription, checked against the limits.
func (a *App) Prescribe(ctx context.Context, id string, p athlete.Prescription) (*athlete.Prescription, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	err := a.Store.Write(ctx, func(tx Tx) error {
		f, err := load(tx, id, p.From)
		if err != nil {
			return err
		}
		d, err := f.dossier(p.From, Options{Futures: -1, NoReview: true})
		if err != nil {
			return err
		}
		in := season.Instruction{EnergyKcal: p.MeanEnergyKcal(), StepsPerDay: p.Steps, CardioMinutes: p.CardioMinutes()}
		if err := f.within(d, in, p.Phase); err != nil {
			return err
		}
		if p.Origin == "" {
			p.Origin = athlete.FromCoach
		}
		return tx.AddPrescription(id, &p)
	})
	return &p, err
}

// Prescription is what stands on a date, nil where nothing does.
func (a *App) Prescription(ctx context.Context, id string, on civil.Date) (out *athlete.Prescription, err error) {
	err = a.Store.Read(ctx, func(tx Tx) error {
		ps, err := tx.Prescriptions(id, on)
		if err != nil || len(ps) == 0 {
			return err
		}
		out = &ps[len(ps)-1]
		return nil
	})
	return out, err
}
