package cli

import (
	"context"
	"encoding/json"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
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
		rows = append(rows, []string{date(c.Date), c.Field, s.stored(at, c.Old), s.stored(at, c.New), from})
	}
	p.line("Values of %s that later entries changed.", at.athlete.Name)
	p.gap()
	p.table([]column{{head: "Day"}, {head: "What", flex: true}, {head: "Was"}, {head: "Is"}, {head: "From", left: true}}, rows)
	return p.flush()
}

// stored writes a stored value for people: a number to a thousandth, a set that was
// taken out as a line.
func (s *session) stored(at *opened, text string) string {
	v, err := strconv.ParseFloat(text, 64)
	var set athlete.Set
	switch {
	case strings.HasPrefix(text, "{") && json.Unmarshal([]byte(text), &set) == nil && set.Exercise != "":
		return setsLine(s.notation(at.athlete.Units), []athlete.Set{set})
	case text == "":
		return "–"
	case err != nil:
		return text
	}
	return figure(math.Round(v*1000) / 1000)
}
