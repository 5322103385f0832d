package cli

import (
	"context"

	"github.com/spf13/cobra"

	"glidepath/athlete"
)

type eventOptions struct {
	from, to, kind, note string
	maintenance          bool
}

func newEvent(s *session) *cobra.Command {
	return subcommands("event", "Note travel, holidays and illness", "Note stretches of days on which the plan must bend.", newEventAdd(s))
}

func newEventAdd(s *session) *cobra.Command {
	var o eventOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "add ATHLETE",
		Short: "Add a stretch of days on which the plan must bend",
		Long: `Add a stretch of days, both ends included, such as travel, a holiday or an illness.
With --maintenance no deficit is planned on them.`,
		Example: `  glidepath event add priya --from 2026-04-03 --to 2026-04-06 --kind holiday --maintenance
  glidepath event add lucia --from 2026-03-20 --to 2026-03-22 --kind travel --note "sister's wedding"
  glidepath event add callum --from 2026-03-01 --to 2026-03-05 --kind illness --maintenance`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runEventAdd(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.from, "from", "", "first `date`")
	f.StringVar(&o.to, "to", "", "last `date` (default the first)")
	f.StringVar(&o.kind, "kind", "other", "`kind` of event: travel, holiday, illness or other")
	f.StringVar(&o.note, "note", "", "a `word` on it")
	f.BoolVar(&o.maintenance, "maintenance", false, "plan no deficit on these days")
	return c
}

func (s *session) runEventAdd(ctx context.Context, name string, o eventOptions) error {
	if o.from == "" {
		return usage("An event needs --from.")
	}
	if o.to == "" {
		o.to = o.from
	}
	e := athlete.Event{Kind: o.kind, Note: o.note, Maintenance: o.maintenance}
	var err error
	if e.From, err = dateFlag("from", o.from); err != nil {
		return err
	}
	if e.To, err = dateFlag("to", o.to); err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if err := at.AddEvent(ctx, at.athlete.ID, e); err != nil {
		return err
	}
	if s.json {
		return s.emit(e)
	}
	p := s.page()
	p.line("Noted for %s: %s.", at.athlete.Name, eventText(&e))
	return p.flush()
}

func eventText(e *athlete.Event) string {
	text := e.Kind + " from " + date(e.From) + " to " + date(e.To)
	if e.From == e.To {
		text = e.Kind + " on " + date(e.From)
	}
	if e.Note != "" {
		text += " (" + e.Note + ")"
	}
	if e.Maintenance {
		text += ", no deficit planned"
	}
	return text
}

func showEvents(p *page, a *athlete.Athlete) {
	items := make([]string, len(a.Events))
	for i := range a.Events {
		items[i] = eventText(&a.Events[i])
	}
	section(p, "Events", items)
}
