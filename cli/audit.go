package cli

import (
	"context"
	"encoding/json"

	"github.com/spf13/cobra"

	"glidepath/access"
	"glidepath/account"
)

type auditOptions struct {
	from, to, athlete, out string
	csv, force             bool
}

func newAudit(s *session) *cobra.Command {
	var o auditOptions
	c := &cobra.Command{
		Use:   "audit",
		Short: "Say who saw or changed what of whom, and when",
		Long: `Say who saw or changed what of whom by the pages, the JSON interface and the command
line, when and from where, and what was done to accounts. It is kept as long as the
data file. What an erased athlete did and who looked at them stays, without the
athlete in it. On the command line nobody is signed in: the record has the name that
was given with --who, which anybody can type, and in brackets the one by which the
operating system knows the user. Whoever may write to the data file itself can do so
past the record.`,
		Example: `  glidepath audit --from 2026-03-01
  glidepath audit --athlete priya --json
  glidepath audit --csv --out audit.csv`,
		Args: exactly(0, "%s takes no arguments, only flags."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runAudit(cmd.Context(), o) },
	}
	f := c.Flags()
	f.StringVar(&o.from, "from", "", "first `date`")
	f.StringVar(&o.to, "to", "", "last `date`")
	f.StringVar(&o.athlete, "athlete", "", "only what concerns this `athlete`")
	f.BoolVar(&o.csv, "csv", false, "write CSV")
	f.StringVar(&o.out, "out", "", "`file` to write (default the standard output)")
	f.BoolVar(&o.force, "force", false, "overwrite the file")
	return c
}

func (s *session) runAudit(ctx context.Context, o auditOptions) error {
	desk, me, err := s.deskAt(ctx, false)
	if err != nil {
		return err
	}
	var q account.Query
	if o.from != "" {
		d, err := dateFlag("from", o.from)
		if err != nil {
			return err
		}
		q.From = d.Time()
	}
	if o.to != "" {
		d, err := dateFlag("to", o.to)
		if err != nil {
			return err
		}
		q.To = d.AddDays(1).Time()
	}
	if o.athlete != "" {
		ids, err := s.athleteIDs(ctx, []string{o.athlete})
		if err != nil {
			return err
		}
		q.AthleteID = ids[0]
	}
	all, err := desk.Entries(ctx, me, q)
	if err != nil {
		return err
	}
	if s.about(); o.out != "" {
		s.deed = &deed{do: access.Manage, words: "exported the record"}
	}
	return s.tellAudit(all, o)
}

func (s *session) tellAudit(all []account.Entry, o auditOptions) error {
	var text []byte
	var err error
	switch {
	case o.csv:
		text, err = account.EntriesCSV(all)
	case s.json || o.out != "":
		text, err = json.MarshalIndent(append([]account.Entry{}, all...), "", "  ")
		text = append(text, '\n')
	default:
		return s.showAudit(all)
	}
	if err != nil {
		return err
	}
	if o.out == "" {
		_, err := s.stdout.Write(text)
		return err
	}
	if err := writeFile(o.out, text, o.force); err != nil {
		return err
	}
	if s.json {
		return s.emit(map[string]any{"lines": len(all), "file": o.out})
	}
	p := s.page()
	p.line("%s of the record are in %s.", count(len(all), "line", "lines"), o.out)
	return p.flush()
}

func (s *session) showAudit(all []account.Entry) error {
	p := s.page()
	if len(all) == 0 {
		p.line("The record has no line of that.")
		return p.flush()
	}
	rows := make([][]string, 0, len(all))
	for i := range all {
		e := &all[i]
		rows = append(rows, []string{e.At.UTC().Format("2006-01-02 15:04"), e.Who, e.AthleteID, e.What, e.Via, e.Address})
	}
	p.line("%s of the record, in UTC.", count(len(all), "line", "lines"))
	p.gap()
	p.table([]column{
		{head: "When", left: true},
		{head: "Who", left: true},
		{head: "Whom", left: true},
		{head: "What", flex: true},
		{head: "By", left: true, wide: true},
		{head: "From", left: true, wide: true},
	}, rows)
	return p.flush()
}
