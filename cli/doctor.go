package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"

	"github.com/spf13/cobra"

	"glidepath/chart"
	"glidepath/fault"
	"glidepath/store"
)

func newDoctor(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "doctor",
		Short: "Check the data at rest and who may read it",
		Long: `Check the data file: that it is sound, that everything in it keeps the rules, and
that only you may read it. It changes nothing; what it finds is listed, and then the
exit status is 3.`,
		Example: `  glidepath doctor
  glidepath doctor --data monday.db
  glidepath doctor --json`,
		Args: exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runDoctor(cmd.Context()) },
	}
}

func (s *session) runDoctor(ctx context.Context) error {
	// Opening mends the mode of the file, so look first.
	problems := permissions(s.dataPath())
	if _, err := s.open(ctx); err != nil {
		return err
	}
	r, err := s.store.Check(ctx)
	if err != nil {
		return err
	}
	r.Problems = append(r.Problems, problems...)
	if err := s.tellHealth(r); err != nil {
		return err
	}
	if n := len(r.Problems); n > 0 {
		return fault.New(fault.Invalid, "%s found in %s.", count(n, "problem was", "problems were"), r.Path).
			WithHint("Keep this file, and go back to a backup if it cannot be mended.")
	}
	return nil
}

func (s *session) tellHealth(r *store.Report) error {
	if s.json {
		return s.emit(r)
	}
	p := s.page()
	p.line("%s: %s, %s of logs, %s MB.", r.Path, count(r.Athletes, "athlete", "athletes"), count(r.Days, "day", "days"),
		chart.Number(float64(r.SizeBytes)/(1<<20), 1))
	if len(r.Problems) == 0 {
		p.line("Everything is sound, and only you may read it.")
	}
	p.list(r.Problems)
	return p.flush()
}

// permissions lists what others may read. Windows has no such modes.
func permissions(path string) []string {
	if runtime.GOOS == "windows" {
		return nil
	}
	var out []string
	for _, f := range []string{path, path + "-wal", path + "-shm"} {
		if info, err := os.Stat(f); err == nil && info.Mode().Perm()&0o077 != 0 {
			out = append(out, fmt.Sprintf("others may open %s (mode %04o); chmod 600 closes it", f, info.Mode().Perm()))
		}
	}
	if info, err := os.Stat(filepath.Dir(path)); err == nil && info.Mode().Perm()&0o022 != 0 && info.Mode()&os.ModeSticky == 0 {
		out = append(out, fmt.Sprintf("others may put files into %s (mode %04o)", filepath.Dir(path), info.Mode().Perm()))
	}
	return out
}
