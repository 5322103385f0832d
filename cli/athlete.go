package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/sheet"
)

func newAthlete(s *session) *cobra.Command {
	return subcommands("athlete", "Add, change, view and list athletes",
		"Add athletes to the roster, change their profiles, and look at them.",
		newAthleteAdd(s), newAthleteEdit(s), newAthleteView(s), newAthleteList(s))
}

func newAthleteList(s *session) *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "List everybody by ID",
		Example: "  glidepath athlete list --data demo.db\n  glidepath athlete list --json",
		Args:    exactly(0, "%s takes no arguments."),
		RunE:    func(cmd *cobra.Command, _ []string) error { return s.runAthleteList(cmd.Context()) },
	}
}

func (s *session) runAthleteList(ctx context.Context) error {
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	s.about()
	people, err := a.Athletes(ctx)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(append([]athlete.Athlete{}, people...))
	}
	on, err := s.asOf()
	if err != nil {
		return err
	}
	p := s.page()
	if len(people) == 0 {
		p.line("There is nobody on the roster yet. Add the first with glidepath athlete add.")
		return p.flush()
	}
	rows := make([][]string, 0, len(people))
	for i := range people {
		q := &people[i]
		next := "no show ahead"
		if sh := q.NextShow(on); sh != nil {
			next = date(sh.Date) + ", " + sh.Name
		}
		rows = append(rows, []string{q.ID, q.Name, string(q.Sex), fmt.Sprint(q.BirthDate.YearsUntil(on)), next})
	}
	p.table([]column{{head: "ID", left: true}, {head: "Name", left: true}, {head: "Sex", left: true}, {head: "Age"}, {head: "Next show", flex: true}}, rows)
	return p.flush()
}

func newAthleteView(s *session) *cobra.Command {
	var asYAML bool
	c := s.athleteArg(&cobra.Command{
		Use: "view ATHLETE", Short: "Show a profile with its limits and cautions",
		Example: `  glidepath athlete view priya --data demo.db
  glidepath athlete view priya --yaml > priya.yaml     # to change and give to athlete edit
  glidepath athlete view saoirse --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runAthleteView(cmd.Context(), args[0], asYAML) },
	})
	c.Flags().BoolVar(&asYAML, "yaml", false, "write the profile as a file that athlete edit reads")
	return c
}

func (s *session) runAthleteView(ctx context.Context, name string, asYAML bool) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if asYAML {
		text, err := sheet.WriteProfile(*at.athlete)
		if err != nil {
			return err
		}
		_, err = s.stdout.Write(text)
		return err
	}
	if s.json {
		return s.emit(at.athlete)
	}
	p := s.page()
	s.showProfile(p, at.athlete, at.on)
	return p.flush()
}

func (s *session) showProfile(p *page, a *athlete.Athlete, on civil.Date) {
	n := s.notation(a.Units)
	p.line("%s (%s), %s, %d years old.", a.Name, a.ID, a.Sex, a.BirthDate.YearsUntil(on))
	if block := a.DeficitBlock(on); block != nil {
		s.cautions(p, []string{plainFault(block)})
	}
	p.gap()
	days := make([]string, len(a.TrainingDays))
	for i, d := range a.TrainingDays {
		days[i] = d.String()
	}
	kinds := make([]string, len(a.Cardio))
	for i, k := range a.Cardio {
		kinds[i] = string(k)
	}
	maintenance := ""
	if a.MaintenanceEnergyKcal != nil {
		maintenance = whole(*a.MaintenanceEnergyKcal) + " kcal a day, as reported"
	}
	p.facts(
		fact{"Height", chart.Number(a.HeightCm, 1) + nbsp + "cm"},
		fact{"Weight", n.Weight(a.WeightKg) + " on " + date(a.WeighedOn)},
		fact{"Training", fmt.Sprintf("%s of it; %s", count(int(a.TrainingYears), "year", "years"), join(days))},
		fact{"Steps", fmt.Sprintf("%s a day, at most %s", whole(a.StepsPerDay), whole(a.StepsMax()))},
		fact{"Cardio", fmt.Sprintf("%s min a week, at most %s; %s", whole(a.CardioMinutesPerWeek), whole(a.CardioMinutesMax), join(kinds))},
		fact{"Maintenance", maintenance},
	)
	showContests(p, a)
	showEvents(p, a)
	showScreening(p, a, on)
	showLimits(p, a, on)
}
