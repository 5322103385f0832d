package cli

import (
	"bytes"
	"context"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/civil"
	"glidepath/report"
)

type reportOptions struct {
	showOptions
	out   string
	force bool
}

func newReport(s *session) *cobra.Command {
	var o reportOptions
	c := o.flag(s.athleteArg(&cobra.Command{
		Use:   "report ATHLETE",
		Short: "Write the athlete's season as one HTML file",
		Long: `Write one HTML file with the athlete's corridor, review, prescription, appraisal,
season, expenditure, strength and chances. It needs nothing but itself, runs no
script, and prints on A4 or US Letter. It has health data in it: it is written for
you alone to read.`,
		Example: `  glidepath report priya --as-of 2026-03-02
  glidepath report marcus --out marcus.html --force --as-of 2026-03-02
  glidepath report marcus --units metric --as-of 2026-03-02`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runReport(cmd.Context(), args[0], o) },
	}))
	c.Flags().StringVar(&o.out, "out", "", "`file` to write (default ID-DATE.html)")
	c.Flags().BoolVar(&o.force, "force", false, "overwrite the file")
	return c
}

type reportResult struct {
	Athlete who        `json:"athlete"`
	AsOf    civil.Date `json:"as_of"`
	File    string     `json:"file"`
}

func (s *session) runReport(ctx context.Context, name string, o reportOptions) error {
	d, err := s.dossier(ctx, name, func(opt *app.Options) { opt.ShowID = o.show })
	if err != nil {
		return err
	}
	if o.out == "" {
		o.out = reportName(d)
	}
	if err := s.writeReport(d, o.out, o.force, false); err != nil {
		return err
	}
	if s.json {
		return s.emit(reportResult{whoOf(&d.Athlete), d.AsOf, o.out})
	}
	p := s.page()
	p.line("The report of %s on %s is in %s; open it in a browser.", d.Athlete.Name, longDate(d.AsOf), o.out)
	return p.flush()
}

func reportName(d *app.Dossier) string { return d.Athlete.ID + "-" + d.AsOf.String() + ".html" }

// writeReport writes the page; invented marks it as made up.
func (s *session) writeReport(d *app.Dossier, path string, force, invented bool) error {
	var b bytes.Buffer
	if err := report.Write(&b, report.FromDossier(d, report.Settings{Invented: invented})); err != nil {
		return err
	}
	return writeFile(path, b.Bytes(), force)
}
