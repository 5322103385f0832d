package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

func TestDefaultPath(t *testing.T) {
	path := DefaultPath()
	if !filepath.IsAbs(path) || !strings.HasSuffix(filepath.ToSlash(path), "/glidepath/glidepath.db") {
		t.Errorf("the default path is %q", path)
	}
}

func TestOnlyTheOwnerCanRead(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes are a POSIX matter")
	}
	dir := filepath.Join(t.TempDir(), "made", "for it")
	path := filepath.Join(dir, "data.db")
	s := openAt(t, path)
	put(t, s, inventedAthlete("ann"))
	modes := func() {
		t.Helper()
		for _, name := range []string{"data.db", "data.db-wal", "data.db-shm"} {
			info, err := os.Stat(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			if info.Mode().Perm() != 0o600 {
				t.Errorf("%s has mode %o", name, info.Mode().Perm())
			}
		}
	}
	modes()
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("the directory has mode %v (%v)", info.Mode().Perm(), err)
	}
	for _, name := range []string{"data.db", "data.db-wal"} { // as a copy may leave them
		if err := os.Chmod(filepath.Join(dir, name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	openAt(t, path)
	modes()
}

func TestExistingDirectoryIsLeftAsItIs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shared")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	openAt(t, filepath.Join(dir, "data.db"))
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o755 {
		t.Errorf("the directory has mode %v (%v)", info.Mode().Perm(), err)
	}
}

func TestConnectionSettings(t *testing.T) {
	s := openNew(t)
	for _, c := range []struct {
		db           *sql.DB
		pragma, want string
	}{
		{s.writer, "journal_mode", "wal"},
		{s.writer, "synchronous", "1"}, // NORMAL
		{s.writer, "foreign_keys", "1"},
		{s.writer, "secure_delete", "1"},
		{s.writer, "busy_timeout", "5000"},
		{s.writer, "temp_store", "2"}, // MEMORY
		{s.writer, "trusted_schema", "0"},
		{s.reader, "journal_mode", "wal"},
		{s.reader, "query_only", "1"},
		{s.reader, "busy_timeout", "5000"},
	} {
		var got string
		if err := c.db.QueryRowContext(t.Context(), "PRAGMA "+c.pragma).Scan(&got); err != nil {
			t.Fatal(err)
		}
		if got != c.want {
			t.Errorf("%s is %s, want %s", c.pragma, got, c.want)
		}
	}
}

func TestDataOutlivesTheProcess(t *testing.T) {
	for _, name := range []string{"data.db", "odd name, 100 % [of] #1? & Ærø.db"} {
		path := filepath.Join(t.TempDir(), name)
		s, err := Open(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		put(t, s, inventedAthlete("ann"))
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		files, err := os.ReadDir(filepath.Dir(path))
		if err != nil || len(files) != 1 || files[0].Name() != name {
			t.Errorf("after closing there are %v (%v), want only %q", files, err, name)
		}
		wantAthletes(t, openAt(t, path), 1)
	}
}

// put stores athletes.
func put(tb testing.TB, s *Store, all ...*athlete.Athlete) {
	tb.Helper()
	err := s.Write(tb.Context(), func(t app.Tx) error {
		for _, a := range all {
			if err := t.PutAthlete(a); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		tb.Fatal(err)
	}
}

func wantAthletes(t *testing.T, s *Store, n int) {
	t.Helper()
	err := s.Read(t.Context(), func(tx app.Tx) error {
		all, err := tx.Athletes()
		if len(all) != n {
			t.Errorf("%d athletes, want %d", len(all), n)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestRefusedFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	foreign := filepath.Join(dir, "foreign.db")
	rawExec(t, foreign, `CREATE TABLE notes (text TEXT)`)
	marked := filepath.Join(dir, "marked.db")
	rawExec(t, marked, `PRAGMA application_id = 252006673`) // any but ours
	newer := filepath.Join(dir, "newer.db")
	openAndClose(t, newer)
	rawExec(t, newer, `INSERT INTO schema_versions (version_id, is_applied) VALUES (999, 1)`)
	broken := filepath.Join(dir, "broken.db")
	openAndClose(t, broken)
	spoil(t, broken, len(sqliteMagic), 84) // the rest of the header

	for _, c := range []struct{ path, says string }{
		{write("short", "date"), "not a Glidepath data file"},
		{write("log.csv", strings.Repeat("2026-03-02;68,4\n", 100)), "not a Glidepath data file"},
		{foreign, "database of another program"},
		{marked, "database of another program"},
		{newer, "schema version 999, and this program knows versions up to"},
		{broken, "damaged"},
		{dir, "a directory where the data file should be"},
		{filepath.Join(write("plain", "text"), "data.db"), "a file where its directory should be"},
	} {
		before, _ := os.ReadFile(c.path)
		s, err := Open(t.Context(), c.path)
		if err == nil {
			t.Errorf("%s was opened", c.path)
			_ = s.Close()
			continue
		}
		e, ok := errors.AsType[*fault.Error](err)
		if !ok || e.Kind != fault.Invalid || !strings.Contains(e.Message, c.says) || e.Hint == "" || e.File != c.path {
			t.Errorf("%s: %#v, want an invalid that says %q, with the file and a hint", c.path, err, c.says)
		}
		if after, _ := os.ReadFile(c.path); !bytes.Equal(before, after) {
			t.Errorf("%s was changed by being refused", c.path)
		}
	}
}

func openAndClose(t *testing.T, path string) {
	t.Helper()
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// rawExec runs SQL on a file past this package's own connections: foreign keys
// are not enforced.
func rawExec(t *testing.T, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", fileURI(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range statements {
		if _, err := db.ExecContext(t.Context(), s); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

// spoil overwrites bytes of a file.
func spoil(t *testing.T, path string, at, n int) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	copy(b[at:], bytes.Repeat([]byte{0xa5}, n))
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestEmptyFileIsNew(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data.db")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	put(t, openAt(t, path), inventedAthlete("ann"))
}

// Several processes may meet at a file that none has made yet. Each Store has
// connections of its own, as if in a process of its own.
func TestSeveralOpenTheSameNewFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data.db")
	const n = 6
	var wg sync.WaitGroup
	stores := make([]*Store, n)
	for i := range n {
		wg.Go(func() {
			s, err := Open(t.Context(), path)
			if err != nil {
				t.Error(err)
				return
			}
			stores[i] = s
		})
	}
	wg.Wait()
	if t.Failed() {
		t.FailNow()
	}
	put(t, stores[0], inventedAthlete("ann"))
	importDays(t, stores[0], map[string][]athlete.Day{"ann": {{Date: civil.Date(1), Steps: new(0.0)}}})
	for _, s := range stores {
		wg.Go(func() {
			for range 5 {
				if err := addStep(t.Context(), s); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	err := stores[n-1].Read(t.Context(), func(tx app.Tx) error {
		days, err := tx.Days("ann", 1, 1)
		if got := *days[0].Steps; got != n*5 {
			t.Errorf("%v steps after %d additions of one", got, n*5)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range stores {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}

func addStep(ctx context.Context, s *Store) error {
	return s.Write(ctx, func(tx app.Tx) error {
		days, err := tx.Days("ann", 1, 1)
		if err != nil {
			return err
		}
		days[0].Steps = new(*days[0].Steps + 1)
		_, err = tx.PutDays("ann", days, app.Source{})
		return err
	})
}

// A writer in another process makes this one wait; when the wait is given up,
// nothing has happened.
func TestLockedFileIsAConflict(t *testing.T) {
	first := openNew(t)
	second := openAt(t, first.Path())
	if _, err := second.writer.ExecContext(t.Context(), `PRAGMA busy_timeout = 1`); err != nil {
		t.Fatal(err)
	}
	err := first.Write(t.Context(), func(app.Tx) error {
		wantAthletes(t, second, 0) // it can read
		err := second.Write(t.Context(), func(tx app.Tx) error { return tx.PutAthlete(inventedAthlete("ann")) })
		if fault.KindOf(err) != fault.Conflict {
			t.Errorf("a second writer got %v, want a conflict", err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	wantAthletes(t, second, 0)
}

// Waiting for the writer ends with the context.
func TestWaitingEndsWithTheContext(t *testing.T) {
	s := openNew(t)
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer cancel()
	err := s.Write(t.Context(), func(app.Tx) error {
		return s.Write(ctx, func(app.Tx) error { return nil })
	})
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a write that waits for itself gave %v", err)
	}
}

// An older file is brought up to date with what it holds, and a migration that
// fails leaves it as it was.
func TestMigrationsFollowOneAnother(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data.db")
	s := openAt(t, path)
	put(t, s, inventedAthlete("ann"))
	dir := fstest.MapFS{}
	ours, err := migrations.ReadDir("migrations")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range ours {
		text, err := migrations.ReadFile("migrations/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		dir[e.Name()] = &fstest.MapFile{Data: text}
	}
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte("-- +goose Up\n" + text)} }
	dir["90001_colour.sql"] = file(`ALTER TABLE athletes ADD COLUMN colour TEXT;`)
	dir["90002_broken.sql"] = file(`ALTER TABLE athletes DROP COLUMN colour; ALTER TABLE nowhere DROP COLUMN colour;`)
	if err := migrateFrom(t.Context(), s.writer, dir, path); err == nil {
		t.Fatal("a broken migration passed")
	}
	if v, err := schemaVersion(t.Context(), s.writer); err != nil || v != 90001 {
		t.Errorf("schema version %d (%v), want the last that worked", v, err)
	}
	var colour sql.NullString
	if err := s.writer.QueryRowContext(t.Context(), `SELECT colour FROM athletes WHERE id = 'ann'`).Scan(&colour); err != nil {
		t.Errorf("after a broken migration: %v", err)
	}
	if _, err := Open(t.Context(), path); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a file of version 90001 gave %v to a program of an older one", err)
	}
}
