package cli

import (
	"context"
	"math"
	"strconv"

	"github.com/spf13/cobra"

	"glidepath/app"
)

func newCorrections(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use:     "corrections ATHLETE",
		Short:   "List the values that later entries changed",
		Example: "  glidepath corrections priya\n  glidepath corrections saoirse --json",
		RunE:    func(cmd *cobra.Command, args []string) error { return s.runCorrections(cmd.Context(), args[0]) },
	})
}

func (s *session) runCorrections(ctx context.Context, name string) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	all, err := at.Corrections(ctx, at.athlete.ID)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(append([]app.Correction{}, all...))
	}
	p := s.page()
	if len(all) == 0 {
		p.line("No value of %s was ever changed.", at.athlete.Name)
		return p.flush()
	}
	rows := make([][]string, 0, len(all))
	for i := range all {
		c := &all[i]
		from := c.From
		if c.Who != "" {
			from += ", " + c.Who
		}
		rows = append(rows, []string{date(c.Date), c.Field, stored(c.Old), stored(c.New), from})
	}
	p.line("Values of %s that later entries changed.", at.athlete.Name)
	p.gap()
	p.table([]column{{head: "Day"}, {head: "What", flex: true}, {head: "Was"}, {head: "Is"}, {head: "From", left: true}}, rows)
	return p.flush()
}

// stored writes a stored value for people: a number to a thousandth.
func stored(text string) string {
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case text == "":
		return "–"
	case err != nil:
		return text
	}
	return figure(math.Round(v*1000) / 1000)
}
