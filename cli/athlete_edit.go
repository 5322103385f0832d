package cli

import (
	"context"

	"github.com/goccy/go-yaml"
	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/sheet"
)

func newAthleteEdit(s *session) *cobra.Command {
	var o athleteOptions
	return o.flags(s.athleteArg(&cobra.Command{
		Use:   "edit ATHLETE",
		Short: "Change a profile, by flags or by a whole file",
		Long: `Change parts of a profile by flags, or replace it by a whole file. The older version
is kept. Limits are changed with glidepath limit, which asks for a reason.`,
		Example: `  glidepath athlete edit priya --steps-max 14000 --data demo.db
  glidepath athlete edit priya --cardio "incline walking,cycling,rowing"
  glidepath athlete view priya --yaml > priya.yaml
  glidepath athlete edit priya --file priya.yaml`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runAthleteEdit(cmd.Context(), args[0], o) },
	}))
}

func (s *session) runAthleteEdit(ctx context.Context, name string, o athleteOptions) error {
	if (o.file != "") == o.given() {
		return usage("Give what is to change, by flags or by --file.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	changed, err := s.changedProfile(at.athlete, o)
	if err != nil {
		return err
	}
	if err := at.EditAthlete(ctx, changed, at.on); err != nil {
		return err
	}
	if s.json {
		return s.emit(changed)
	}
	p := s.page()
	p.line("The profile of %s is changed; the older one is kept.", changed.Name)
	p.gap()
	s.showProfile(p, &changed, at.on)
	return p.flush()
}

func (s *session) changedProfile(old *athlete.Athlete, o athleteOptions) (athlete.Athlete, error) {
	if o.file == "" {
		text, err := sheet.WriteProfile(*old)
		if err != nil {
			return athlete.Athlete{}, err
		}
		raw := map[string]any{}
		if err := yaml.Unmarshal(text, &raw); err != nil {
			return athlete.Athlete{}, err
		}
		o.overlay(raw)
		return profileOf("the profile", raw)
	}
	text, err := s.readFile(o.file)
	if err != nil {
		return athlete.Athlete{}, err
	}
	changed, err := sheet.ReadProfile(o.file, text)
	if err != nil {
		return athlete.Athlete{}, err
	}
	if changed.ID != old.ID {
		return athlete.Athlete{}, fault.New(fault.Conflict, "the file is the profile of %q, not of %q.", changed.ID, old.ID)
	}
	return changed, nil
}
