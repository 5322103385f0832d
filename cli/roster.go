package cli

import (
	"context"
	"fmt"
	"math"
	"strings"

	"glidepath/app"
	"glidepath/civil"
	"glidepath/phrase"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
)

func newRoster(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "roster",
		Short: "Say who needs you today, in order of need",
		Long: `Read every athlete again and list them in order of need: safety first, then
seasons that do not work out, changes that are proposed, values to ask about,
athletes who have fallen silent, and last those who go on as they are.`,
		Example: `  glidepath roster --data demo.db --as-of 2026-03-02
  glidepath roster --units imperial
  glidepath roster --json`,
		Args: exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runRoster(cmd.Context()) },
	}
}

type rosterResult struct {
	AsOf   civil.Date      `json:"as_of"`
	Roster []app.RosterRow `json:"roster"`
}

func (s *session) runRoster(ctx context.Context) error {
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	on, err := s.asOf()
	if err != nil {
		return err
	}
	rows, err := a.Roster(ctx, on, s.progress("reading the roster"))
	if err != nil {
		return err
	}
	if len(rows) > 0 {
		s.about(idsOf(rows)...)
	}
	if s.json {
		return s.emit(rosterResult{on, append([]app.RosterRow{}, rows...)})
	}
	p := s.page()
	s.showRoster(p, on, rows)
	return p.flush()
}

func idsOf(rows []app.RosterRow) []string {
	ids := make([]string, len(rows))
	for i := range rows {
		ids[i] = rows[i].ID
	}
	return ids
}

// progress shows how far a long work is, on a terminal only; nil elsewhere.
func (s *session) progress(what string) func(done, total int) {
	if !isTerminal(s.stderr) || s.json {
		return nil
	}
	var bar *progressbar.ProgressBar
	return func(done, total int) {
		if bar == nil {
			bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(s.stderr), progressbar.OptionSetDescription(what),
				progressbar.OptionSetWidth(24), progressbar.OptionClearOnFinish(), progressbar.OptionSetPredictTime(false))
		}
		_ = bar.Set(done) // a bar that cannot be drawn stops nothing
	}
}

func (s *session) showRoster(p *page, on civil.Date, rows []app.RosterRow) {
	if len(rows) == 0 {
		p.line("There is nobody on the roster yet. Add the first with glidepath athlete add.")
		return
	}
	p.line("The roster on %s: %s in order of need.", longDate(on), count(len(rows), "athlete", "athletes"))
	number := 0
	for i := range rows {
		r := &rows[i]
		if i == 0 || rows[i-1].Need != r.Need {
			p.heading("%s", r.Need.Title())
			p.gap()
		}
		number++
		s.showRow(p, number, r)
	}
}

func (s *session) showRow(p *page, number int, r *app.RosterRow) {
	p.hanging(fmt.Sprintf(" %2d  ", number), r.Name+" ("+r.ID+"): "+standing(r))
	const under = "     "
	p.hanging(under, phrase.Sentence(r.Reason))
	n := s.notation(r.Units)
	var parts []string
	if r.TrendKg.Value > 0 {
		parts = append(parts, est(r.TrendKg.Scale(n.FromKg(1)), 1, n.WeightUnit()), rate(r.RatePct))
	}
	if r.SlackWeeks.Known() {
		parts = append(parts, "slack"+nbsp+weeks(float64(r.SlackWeeks)))
	}
	if r.OnTarget.Known() {
		parts = append(parts, "on"+nbsp+"target:"+nbsp+percent(float64(r.OnTarget)))
	}
	if r.StrengthPct.Known() && !math.IsNaN(float64(r.StrengthPct)) {
		parts = append(parts, "strength"+nbsp+whole(float64(r.StrengthPct))+nbsp+"%")
	}
	if r.DaysSinceLog > 1 {
		parts = append(parts, fmt.Sprintf("last log %d days ago", r.DaysSinceLog))
	}
	if len(parts) > 0 {
		p.hanging(under, strings.Join(parts, "; "))
	}
}

// standing says where in the season an athlete is.
func standing(r *app.RosterRow) string {
	parts := []string{string(r.Phase)}
	if r.Phase == "" {
		parts = nil
	}
	if r.Division != "" {
		parts = append(parts, r.Division)
	}
	if r.WeeksToShow.Known() {
		parts = append(parts, weeks(float64(r.WeeksToShow))+" to "+r.Show)
	} else {
		parts = append(parts, "no show ahead")
	}
	return strings.Join(parts, ", ")
}
