package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/phrase"
)

type prescriptionOptions struct{ history bool }

func newPrescription(s *session) *cobra.Command {
	var o prescriptionOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "prescription ATHLETE",
		Short: "Show what stands on a date, or every version with its reasons",
		Long: `Show the standing instructions of a date: energy and macros for each type of day,
steps, cardio and hard sets. With --history, list every version: nothing is ever
overwritten.`,
		Example: `  glidepath prescription priya --as-of 2026-03-02
  glidepath prescription priya --as-of 2026-03-02 --history
  glidepath prescription dmitri --as-of 2026-02-01 --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runPrescription(cmd.Context(), args[0], o) },
	})
	c.Flags().BoolVar(&o.history, "history", false, "every version up to the date, and what the reviews decided")
	return c
}

type prescriptionResult struct {
	Athlete  who                    `json:"athlete"`
	On       civil.Date             `json:"on"`
	Stands   *athlete.Prescription  `json:"stands"`
	Versions []athlete.Prescription `json:"versions,omitempty"`
	Reviews  []decidedReview        `json:"reviews,omitempty"`
}

// decidedReview is a review and its outcome, with the proposal as JSON.
type decidedReview struct {
	Date     civil.Date    `json:"date"`
	Proposed *app.Reviewed `json:"proposed"`
	Decision app.Decision  `json:"decision"`
	Reason   string        `json:"reason,omitempty"`
	Who      string        `json:"who,omitempty"`
	Version  int           `json:"version,omitempty"`
}

func (s *session) runPrescription(ctx context.Context, name string, o prescriptionOptions) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	out := prescriptionResult{Athlete: whoOf(at.athlete), On: at.on}
	if out.Stands, err = at.Prescription(ctx, at.athlete.ID, at.on); err != nil {
		return err
	}
	if out.Stands == nil {
		return fault.New(fault.NotFound, "nothing is prescribed for %s on %s.", at.athlete.Name, longDate(at.on)).
			WithHint("Make a review and accept it, or name a later date with --as-of.")
	}
	if o.history {
		if err := s.history(ctx, at, &out); err != nil {
			return err
		}
	}
	if s.json {
		return s.emit(out)
	}
	p := s.page()
	p.line("%s: what stands on %s.", at.athlete.Name, longDate(at.on))
	p.gap()
	s.showPrescription(p, out.Stands)
	section(p, "Why", out.Stands.Reasons)
	if o.history {
		showHistory(p, out)
	}
	return p.flush()
}

func (s *session) history(ctx context.Context, at *opened, out *prescriptionResult) error {
	d, err := at.Dossier(ctx, at.athlete.ID, at.on, app.Options{Futures: -1, NoReview: true})
	if err != nil {
		return err
	}
	out.Versions = d.Prescriptions
	for i := range d.Reviews {
		r := &d.Reviews[i]
		proposed, err := reviewed(r)
		if err != nil {
			return err
		}
		out.Reviews = append(out.Reviews, decidedReview{r.Date, &proposed, r.Decision, r.Reason, r.Who, r.Version})
	}
	return nil
}

func showHistory(p *page, out prescriptionResult) {
	p.heading("Every version")
	p.gap()
	rows := make([][]string, 0, len(out.Versions))
	for i := range out.Versions {
		v := &out.Versions[i]
		why := ""
		if len(v.Reasons) > 0 {
			why = phrase.Sentence(v.Reasons[0])
		}
		rows = append(rows, []string{
			fmt.Sprint(v.Version), date(v.From), whole(v.MeanEnergyKcal()), whole(v.Steps), whole(v.CardioMinutes()),
			why + " (" + origin(v) + ")",
		})
	}
	p.table([]column{{head: "No."}, {head: "From"}, {head: "kcal a day"}, {head: "Steps"}, {head: "Cardio min"}, {head: "Why", flex: true}}, rows)
	if len(out.Reviews) == 0 {
		return
	}
	p.heading("Reviews")
	p.gap()
	rows = rows[:0]
	for _, r := range out.Reviews {
		what := "undecided"
		if r.Decision != app.Undecided {
			what = string(r.Decision) + " by " + r.Who
		}
		if r.Reason != "" {
			what += ": " + r.Reason
		}
		rows = append(rows, []string{date(r.Date), phrase.Sentence(r.Proposed.Proposal.Sentence) + " " + phrase.Sentence(what)})
	}
	p.table([]column{{head: "Date"}, {head: "Proposed, and what became of it", flex: true}}, rows)
}

func origin(v *athlete.Prescription) string {
	if v.Author == "" {
		return string(v.Origin)
	}
	return string(v.Origin) + ", " + v.Author
}

// showPrescription writes the standing instructions as a coach reads them out.
func (s *session) showPrescription(p *page, v *athlete.Prescription) {
	if v.Version > 0 {
		p.line("Version %d, from %s, %s; %s.", v.Version, longDate(v.From), v.Phase, origin(v))
		p.gap()
	}
	rows := make([][]string, 0, len(v.Days)+1)
	for i := range v.Days {
		d := &v.Days[i]
		rows = append(rows, []string{
			string(d.Type), fmt.Sprint(d.PerWeek), whole(d.EnergyKcal), whole(d.ProteinG), whole(d.CarbohydrateG), whole(d.FatG), whole(d.FibreG),
		})
	}
	if len(v.Days) > 1 {
		rows = append(rows, []string{"mean of the week", "7", whole(v.MeanEnergyKcal()), "", "", "", ""})
	}
	p.table([]column{
		{head: "Day", left: true}, {head: "Days a\nweek"}, {head: "Energy\nkcal"}, {head: "Protein\ng"}, {head: "Carbohydrate\ng"}, {head: "Fat\ng"}, {head: "Fibre\ng"},
	}, rows)
	p.gap()
	p.facts(
		fact{"Steps", whole(v.Steps) + " a day"},
		fact{"Cardio", cardioText(v.Cardio, s.notation("").Units)},
		fact{"Hard sets a week", setsText(v.Sets)},
		fact{"Refeeds", refeeds(v.Refeeds)},
		fact{"Rule", phrase.Sentence(v.Rule)},
	)
}

func cardioText(plans []athlete.CardioPlan, u athlete.Units) string {
	if len(plans) == 0 {
		return "none"
	}
	parts := make([]string, len(plans))
	for i, c := range plans {
		parts[i] = fmt.Sprintf("%s, %s min a week in %s", c.Kind, whole(c.MinutesPerWeek), count(c.Sessions, "session", "sessions")) + c.Told(u)
	}
	return strings.Join(parts, "; ")
}

func setsText(sets []athlete.MuscleSets) string {
	var parts []string
	for _, m := range sets {
		if m.Sets > 0 {
			parts = append(parts, string(m.Muscle)+nbsp+whole(m.Sets))
		}
	}
	return strings.Join(parts, ", ")
}

func refeeds(days []athlete.Weekday) string {
	parts := make([]string, len(days))
	for i, d := range days {
		parts[i] = d.String()
	}
	return join(parts)
}
