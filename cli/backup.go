package cli

import (
	"context"

	"github.com/spf13/cobra"
)

func newBackup(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "Write a compact copy of all data to a new file",
		Long: `Write a compact copy of everything to a new file, whole or not at all, while the
program may go on being used. The copy is a data file like any other: look into it
with --data.`,
		Example: `  glidepath backup monday.db
  glidepath backup /media/stick/glidepath-2026-03-02.db
  glidepath roster --data monday.db`,
		Args: exactly(1, "Name the new file, as in %s monday.db."),
		RunE: func(cmd *cobra.Command, args []string) error { return s.runBackup(cmd.Context(), args[0]) },
	}
}

func (s *session) runBackup(ctx context.Context, path string) error {
	if _, err := s.open(ctx); err != nil {
		return err
	}
	if err := s.store.Backup(ctx, path); err != nil {
		return err
	}
	s.about()
	if s.json {
		return s.emit(map[string]string{"file": path})
	}
	p := s.page()
	p.line("A copy of everything is in %s. It is not encrypted: keep it where only you can read it.", path)
	return p.flush()
}
