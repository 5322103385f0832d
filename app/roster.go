package app

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/fault"
	"glidepath/numeric"
	"glidepath/season"
)

// Need ranks who wants the coach's attention first.
type Need int

// The needs, the most urgent first.
const (
	NeedSafety  Need = iota // a limit is overrun or a caution is open
	NeedSeason              // the season does not work out
	NeedChange              // a change is proposed
	NeedAsk                 // a value or the logging must be asked about
	NeedSilence             // nothing logged for days
	NeedBegin               // a first prescription or a new phase
	NeedNothing             // hold
)

var needTitles = [...]string{
	NeedSafety:  "Safety first",
	NeedSeason:  "The season does not work out as it stands",
	NeedChange:  "A change is proposed",
	NeedAsk:     "Something to ask or to talk about",
	NeedSilence: "Silent",
	NeedBegin:   "To begin",
	NeedNothing: "Going on as they are",
}

// Title heads the part of a roster that has a need.
func (n Need) Title() string { return needTitles[n] }

// RosterRow is one athlete in the roster.
type RosterRow struct {
	ID           string            `json:"id"`
	Name         string            `json:"name"`
	Phase        athlete.PhaseKind `json:"phase"`
	Show         string            `json:"show,omitempty"`
	ShowDate     civil.Date        `json:"show_date,omitzero"`
	Division     string            `json:"division,omitempty"`
	WeeksToShow  numeric.OrNull    `json:"weeks_to_show"`
	Need         Need              `json:"need"`
	Reason       string            `json:"reason"` // one line
	Action       decision.Action   `json:"action,omitempty"`
	SlackWeeks   numeric.OrNull    `json:"slack_weeks"`
	OnTarget     numeric.OrNull    `json:"on_target"`
	RatePct      numeric.Interval  `json:"rate_pct"`
	PermittedPct float64           `json:"permitted_pct"`
	TrendKg      numeric.Interval  `json:"trend_kg"`
	DaysSinceLog int               `json:"days_since_log"` // -1 is never
	StrengthPct  numeric.OrNull    `json:"strength_pct"`
	Units        athlete.Units     `json:"units"`
}

// rosterFutures is enough for a chance to the nearest few per cent.
const rosterFutures = 400

// silentDays is how long without a log wants a word (judgement).
const silentDays = 5

// Roster reads everybody again as of a date, in order of need. progress, where
// given, is called after each athlete, never from two goroutines at once.
func (a *App) Roster(ctx context.Context, asOf civil.Date, progress func(done, total int)) ([]RosterRow, error) {
	return a.RosterOf(ctx, asOf, func(string) bool { return true }, progress)
}

// RosterOf is Roster for the athletes that own names.
func (a *App) RosterOf(ctx context.Context, asOf civil.Date, own func(id string) bool, progress func(done, total int)) ([]RosterRow, error) {
	people, err := a.Athletes(ctx)
	if err != nil {
		return nil, err
	}
	people = slices.DeleteFunc(people, func(p athlete.Athlete) bool { return !own(p.ID) })
	rows, errs := make([]RosterRow, len(people)), make([]error, len(people))
	next := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for range min(a.workers(), max(1, len(people))) {
		wg.Go(func() {
			for i := range next {
				rows[i], errs[i] = a.rosterRow(ctx, &people[i], asOf)
				mu.Lock()
				if done++; progress != nil {
					progress(done, len(people))
				}
				mu.Unlock()
			}
		})
	}
	for i := range people {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for i, err := range errs {
		if err == nil {
			continue
		}
		if fault.KindOf(err) == "" {
			return nil, fmt.Errorf("athlete %s: %w", people[i].ID, err)
		}
		rows[i] = Unread(&people[i], err)
	}
	slices.SortStableFunc(rows, ByNeed)
	return rows, nil
}

// ByNeed orders rows: the more urgent need first, then the nearer show.
func ByNeed(x, y RosterRow) int {
	if x.Need != y.Need {
		return int(x.Need - y.Need)
	}
	return soon(x) - soon(y)
}

// soon orders within a need: the nearer show first.
func soon(r RosterRow) int {
	if r.ShowDate.IsZero() {
		return math.MaxInt32
	}
	return int(r.ShowDate)
}

func (a *App) rosterRow(ctx context.Context, p *athlete.Athlete, asOf civil.Date) (RosterRow, error) {
	row, _, err := a.RosterRow(ctx, p.ID, asOf)
	return row, err
}

// RosterRow is one athlete's row with the dossier that it is taken from, whose
// forecast has fewer futures than usual.
func (a *App) RosterRow(ctx context.Context, id string, asOf civil.Date) (RosterRow, *Dossier, error) {
	d, err := a.Dossier(ctx, id, asOf, Options{Futures: rosterFutures})
	if err != nil {
		return RosterRow{}, nil, err
	}
	return d.row(), d, nil
}

// Unread is the row of an athlete whose logs cannot be read, with the fault as
// its reason.
func Unread(p *athlete.Athlete, why error) RosterRow {
	unknown := numeric.OrNull(math.NaN())
	return RosterRow{
		ID: p.ID, Name: p.Name, Need: NeedAsk, Reason: why.Error(), DaysSinceLog: -1, Units: p.Units,
		WeeksToShow: unknown, SlackWeeks: unknown, OnTarget: unknown, StrengthPct: unknown,
	}
}

func (d *Dossier) row() RosterRow {
	unknown := numeric.OrNull(math.NaN())
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	limits := d.Athlete.EffectiveLimits()
	r := RosterRow{
		ID: d.Athlete.ID, Name: d.Athlete.Name, Phase: d.Phase, Units: d.Athlete.Units,
		WeeksToShow: unknown, SlackWeeks: unknown, OnTarget: unknown, StrengthPct: unknown,
		RatePct: last.RatePct, PermittedPct: limits.RatePctPerWeek(last.BodyFatPct.Value), TrendKg: last.TrendKg,
		DaysSinceLog: -1,
	}
	if at := d.Reading.Evidence.LastLog; !at.IsZero() {
		r.DaysSinceLog = d.AsOf.DaysSince(at)
	}
	if s := d.Show; s != nil {
		r.Show, r.ShowDate, r.Division = s.Name, s.Date, s.Division
		r.WeeksToShow = numeric.OrNull(float64(s.Date.DaysSince(d.AsOf)) / 7)
	}
	if d.Season != nil && d.Show != nil {
		r.SlackWeeks = numeric.OrNull(d.Season.Corridor.SlackWeeks.Value)
	}
	if d.Forecast != nil {
		r.OnTarget = d.Forecast.Chances.OnTarget
	}
	if o := d.Strength.Overall; o != nil {
		r.StrengthPct = numeric.OrNull(o.Pct.Value)
	}
	r.Need, r.Reason = d.need(&r)
	if d.Proposal != nil {
		r.Action = d.Proposal.Action
	}
	return r
}

// need says how urgently an athlete wants attention and why, in one line.
func (d *Dossier) need(r *RosterRow) (Need, string) {
	if words := d.reported(); words != "" {
		return NeedSafety, words
	}
	if d.Blocked != nil {
		return NeedSafety, d.Blocked.Message
	}
	p := d.Proposal
	tooFast := p != nil && p.Action == decision.Change && p.ChangeKcal < 0 && r.RatePct.Value > r.PermittedPct
	switch {
	case tooFast:
		return NeedSafety, p.Sentence
	case d.Season != nil && d.Show != nil && d.Season.Appraisal.Verdict == season.NoTime:
		return NeedSeason, d.Season.Appraisal.Sentence
	case p == nil:
		return NeedNothing, "Nothing to review."
	case len(p.Questions) > 0:
		return NeedAsk, p.Questions[0]
	case p.Action == decision.Change:
		return NeedChange, p.Sentence
	case r.DaysSinceLog > silentDays || r.DaysSinceLog < 0:
		if r.DaysSinceLog < 0 {
			return NeedSilence, "Nothing is logged yet."
		}
		return NeedSilence, fmt.Sprintf("Nothing logged for %d days.", r.DaysSinceLog)
	case p.Action == decision.Talk:
		return NeedAsk, p.Sentence
	case p.Action == decision.Begin:
		return NeedBegin, p.Sentence
	}
	return NeedNothing, p.Sentence
}
