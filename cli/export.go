package cli

import (
	"bytes"
	"context"
	"encoding/json"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/fault"
)

type exportOptions struct {
	out   string
	force bool
}

func newExport(s *session) *cobra.Command {
	var o exportOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "export ATHLETE",
		Short: "Write everything that is known of an athlete as JSON",
		Long: `Write everything that is known of an athlete as one JSON archive, to a file or to
the standard output. glidepath restore takes it in again. The archive is plain
health data: keep it where only you can read it.`,
		Example: `  glidepath export priya --out priya.json
  glidepath export priya | gzip > priya.json.gz
  glidepath export hana --data demo.db --out hana.json --force`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runExport(cmd.Context(), args[0], o) },
	})
	c.Flags().StringVar(&o.out, "out", "", "`file` to write (default the standard output)")
	c.Flags().BoolVar(&o.force, "force", false, "overwrite the file")
	return c
}

func (s *session) runExport(ctx context.Context, name string, o exportOptions) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	archive, err := at.Export(ctx, at.athlete.ID)
	if err != nil {
		return err
	}
	if o.out == "" {
		return s.emit(archive)
	}
	text, err := json.MarshalIndent(archive, "", "  ")
	if err != nil {
		return err
	}
	if err := writeFile(o.out, append(text, '\n'), o.force); err != nil {
		return err
	}
	if s.json {
		return s.emit(map[string]any{"athlete": whoOf(at.athlete), "file": o.out})
	}
	p := s.page()
	p.line("Everything known of %s is in %s: %s of the log, %s, %s, %s and %s.", at.athlete.Name, o.out,
		count(len(archive.Days), "day", "days"), count(len(archive.Measurements), "measurement", "measurements"),
		count(len(archive.Sets), "set", "sets"), count(len(archive.Prescriptions), "prescription", "prescriptions"),
		count(len(archive.Reviews), "review", "reviews"))
	return p.flush()
}

func newRestore(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "restore FILE",
		Short: "Take an exported athlete in again",
		Long: `Take in an archive that glidepath export wrote, as a new athlete, all or nothing. An
athlete with the same ID must not be there. With - for the file, it reads the
standard input.`,
		Example: `  glidepath restore priya.json
  glidepath restore priya.json --data another.db
  gunzip -c priya.json.gz | glidepath restore -`,
		Args: exactly(1, "Name the archive, as in %s priya.json."),
		RunE: func(cmd *cobra.Command, args []string) error { return s.runRestore(cmd.Context(), args[0]) },
	}
}

func (s *session) runRestore(ctx context.Context, path string) error {
	text, err := s.readFile(path)
	if err != nil {
		return err
	}
	var archive app.Archive
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&archive); err != nil {
		return fault.New(fault.Invalid, "%s is not an archive of Glidepath: %v.", path, err).WithHint("Write one with glidepath export.")
	}
	a, err := s.openOrMake(ctx)
	if err != nil {
		return err
	}
	if err := a.Restore(ctx, &archive, s.source(path)); err != nil {
		return err
	}
	s.about(archive.Athlete.ID)
	if s.json {
		return s.emit(map[string]any{"athlete": whoOf(&archive.Athlete), "days": len(archive.Days)})
	}
	p := s.page()
	p.line("%s is back, with %s of the log, %s and %s.", archive.Athlete.Name, count(len(archive.Days), "day", "days"),
		count(len(archive.Prescriptions), "prescription", "prescriptions"), count(len(archive.Reviews), "review", "reviews"))
	return p.flush()
}
