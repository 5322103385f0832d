package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/sheet"
)

func newInjury(s *session) *cobra.Command {
	return subcommands("injury", "Note what is hurt, and when a clinician says that it is over",
		"Note an injury. What loads the place is marked in the programme and waits for a clinician's\n"+
			"word; it is over when a clinician says so. Pain that is new, strong or does not go is for a\n"+
			"physician or a physiotherapist, not for this program.",
		newInjuryAdd(s), newInjuryEnd(s), newInjuryList(s))
}

type injuryOptions struct{ where, what, from, until, clinician string }

func newInjuryAdd(s *session) *cobra.Command {
	var o injuryOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "add ATHLETE",
		Short: "Note an injury",
		Long:  "Note an injury of a region: " + list(athlete.Regions()) + ".\nOne of the same place and date is replaced.",
		Example: `  glidepath injury add priya --where knee --what "sore below the kneecap" --from 2026-02-27
  glidepath injury add marcus --where "lower back"
  glidepath injury add hana --where shoulder --as-of 2026-03-02 --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runInjuryAdd(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.where, "where", "", "the `region`")
	f.StringVar(&o.what, "what", "", "a `word` on it")
	f.StringVar(&o.from, "from", "", "first `date` (default the date reckoned for)")
	return c
}

func (s *session) runInjuryAdd(ctx context.Context, name string, o injuryOptions) error {
	if o.where == "" {
		return usage("Say where with --where, as in --where knee.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	in := athlete.Injury{From: at.on, What: o.what}
	if in.Where, err = sheet.ReadRegion(o.where); err != nil {
		return err
	}
	if o.from != "" {
		if in.From, err = dateFlag("from", o.from); err != nil {
			return err
		}
	}
	if err := at.AddInjury(ctx, at.athlete.ID, in); err != nil {
		return err
	}
	if s.json {
		return s.emit(in)
	}
	p := s.page()
	p.line("Noted for %s: %s.", at.athlete.Name, injuryText(&in))
	p.line("What loads the %s waits for a clinician's word.", in.Where)
	return p.flush()
}

func newInjuryEnd(s *session) *cobra.Command {
	var o injuryOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "end ATHLETE",
		Short: "Record that a clinician said that an injury is over",
		Long: `Record with whose word the open injury of a region is over, and the last day on which it
bounds training.`,
		Example: `  glidepath injury end priya --where knee --clinician "Dr. Example, physiotherapist" --until 2026-03-20
  glidepath injury end marcus --where "lower back" --clinician "Dr. Example"
  glidepath injury end hana --where shoulder --clinician "Dr. Example" --as-of 2026-03-12`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runInjuryEnd(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.where, "where", "", "the `region`")
	f.StringVar(&o.until, "until", "", "the last `date` (default the date reckoned for)")
	f.StringVar(&o.clinician, "clinician", "", "`who` said so")
	return c
}

func (s *session) runInjuryEnd(ctx context.Context, name string, o injuryOptions) error {
	if o.where == "" || o.clinician == "" {
		return usage("Say where with --where, and who said that it is over with --clinician.")
	}
	region, err := sheet.ReadRegion(o.where)
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	until := at.on
	if o.until != "" {
		if until, err = dateFlag("until", o.until); err != nil {
			return err
		}
	}
	if err := at.EndInjury(ctx, at.athlete.ID, region, until, o.clinician); err != nil {
		return err
	}
	if s.json {
		return s.emit(map[string]any{"where": region, "until": until, "clinician": o.clinician})
	}
	p := s.page()
	p.line("The %s of %s bounds training until %s; so said %s.", region, at.athlete.Name, longDate(until), o.clinician)
	return p.flush()
}

func newInjuryList(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use:   "list ATHLETE",
		Short: "List an athlete's injuries",
		Long:  "List an athlete's injuries, and say which of them are open.",
		Example: `  glidepath injury list priya
  glidepath injury list marcus --as-of 2026-03-02
  glidepath injury list hana --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runInjuryList(cmd.Context(), args[0]) },
	})
}

func (s *session) runInjuryList(ctx context.Context, name string) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(append([]athlete.Injury{}, at.athlete.Injuries...))
	}
	p := s.page()
	if len(at.athlete.Injuries) == 0 {
		p.line("No injury is noted for %s.", at.athlete.Name)
		return p.flush()
	}
	p.line("The injuries of %s, on %s:", at.athlete.Name, longDate(at.on))
	items := make([]string, len(at.athlete.Injuries))
	for i := range at.athlete.Injuries {
		items[i] = injuryText(&at.athlete.Injuries[i]) + stateOf(&at.athlete.Injuries[i], at.on)
	}
	p.list(items)
	return p.flush()
}

func stateOf(in *athlete.Injury, on civil.Date) string {
	if in.OpenOn(on) {
		return "; open"
	}
	return ""
}

func injuryText(in *athlete.Injury) string {
	text := fmt.Sprintf("%s, from %s", in.Where, date(in.From))
	if !in.Until.IsZero() {
		text += " to " + date(in.Until) + ", by the word of " + in.Clinician
	}
	if in.What != "" {
		text += " (" + in.What + ")"
	}
	return text
}
