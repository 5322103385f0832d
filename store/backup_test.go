package store

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"glidepath/app"
	"glidepath/fault"
)

func TestBackup(t *testing.T) {
	s := fullStore(t)
	path := filepath.Join(t.TempDir(), "it's a backup?.db")
	// A reader beside it neither waits nor disturbs.
	err := s.Read(t.Context(), func(tx app.Tx) error {
		if _, err := tx.Athletes(); err != nil {
			return err
		}
		return s.Backup(t.Context(), path)
	})
	if err != nil {
		t.Fatal(err)
	}
	put(t, s, inventedAthlete("ben")) // is not in the backup
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the backup has mode %v (%v)", info.Mode().Perm(), err)
	}
	onlyFile(t, path)

	restored := openAt(t, path)
	wantAthletes(t, restored, 1)
	want, got := rowCounts(t, s), rowCounts(t, restored)
	for table := range want {
		if got[table] != want[table] {
			t.Errorf("%s has %d rows in the backup, want %d", table, got[table], want[table])
		}
	}
	if r, err := restored.Check(t.Context()); err != nil || len(r.Problems) > 0 {
		t.Errorf("the backup's check: %+v (%v)", r, err)
	}
	put(t, restored, inventedAthlete("cleo")) // it is a data file like any
}

func onlyFile(t *testing.T, path string) {
	t.Helper()
	files, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(files) != 1 || files[0].Name() != filepath.Base(path) {
		t.Errorf("the directory holds %v (%v), want only %q", files, err, filepath.Base(path))
	}
}

func TestBackupNeverOverwrites(t *testing.T) {
	s := fullStore(t)
	path := filepath.Join(t.TempDir(), "kept.txt")
	if err := os.WriteFile(path, []byte("kept"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, taken := range []string{path, s.Path()} {
		before, err := os.ReadFile(taken)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Backup(t.Context(), taken); fault.KindOf(err) != fault.Conflict {
			t.Errorf("a backup onto %s gave %v, want a conflict", taken, err)
		}
		if after, err := os.ReadFile(taken); err != nil || !bytes.Equal(before, after) {
			t.Errorf("%s was changed (%v)", taken, err)
		}
	}
}

func TestFailedBackupLeavesNothing(t *testing.T) {
	s := fullStore(t)
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := s.Backup(ctx, filepath.Join(dir, "backup.db")); err == nil {
		t.Error("a backup with a context that had ended succeeded")
	}
	if files, err := os.ReadDir(dir); err != nil || len(files) != 0 {
		t.Errorf("it left %v (%v)", files, err)
	}
	if err := s.Backup(t.Context(), filepath.Join(dir, "nowhere", "backup.db")); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a backup into a directory that is not there gave %v", err)
	}
}

func TestBackupOfMemory(t *testing.T) {
	s, err := OpenMemory(t.Context())
	closeAfter(t, s, err)
	put(t, s, inventedAthlete("ann"))
	path := filepath.Join(t.TempDir(), "backup.db")
	if err := s.Backup(t.Context(), path); err != nil {
		t.Fatal(err)
	}
	wantAthletes(t, openAt(t, path), 1)
}
