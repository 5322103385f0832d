package store

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

func TestCheckFindsNothingInAGoodFile(t *testing.T) {
	s := fullStore(t)
	r, err := s.Check(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Problems) > 0 || r.Athletes != 1 || r.Days != 1 || r.SchemaVersion < 11 || r.SizeBytes == 0 || r.Path != s.Path() {
		t.Errorf("the report is %+v", r)
	}
	for table, n := range rowCounts(t, s) {
		if n == 0 {
			t.Errorf("%s is empty: the check was not tried on it", table)
		}
	}
}

func TestCheckFinds(t *testing.T) {
	for _, c := range []struct {
		name, says string
		statements []string
	}{
		{"orphan", "refers to a row of athletes that is not there", []string{`DELETE FROM athletes`}},
		{
			"gap", "The versions of the prescriptions of ann have a gap",
			[]string{`INSERT INTO prescriptions SELECT athlete, 3, starts, body FROM prescriptions`},
		},
		{
			"lost record", "There is a correction for ann on 0001-01-05, and no record",
			[]string{`DROP TRIGGER corrections_stay`, `UPDATE corrections SET date = 5`},
		},
		{
			"impossible value", "ann, day of 2026-03-02: weight_kg: 5000 is outside",
			[]string{`UPDATE days SET weight_kg = 5000`},
		},
		{
			"unreadable", "ann, day: cannot be read",
			[]string{`UPDATE days SET cardio = '[{"minutes": "many"}]'`},
		},
		{
			"profile", "ann, profile: height_cm: 17 is outside",
			[]string{`UPDATE athletes SET profile = '{"id": "ann", "height_cm": 17}'`},
		},
		{
			"account", "coach-ann, account: name: a name is",
			[]string{`UPDATE accounts SET name = '' WHERE id = 'coach-ann'`},
		},
		{
			"passkey", "ann, passkey ann: name: the name of a passkey is",
			[]string{`UPDATE passkeys SET name = ''`},
		},
		{
			"record", "the desk, record: cannot be read",
			[]string{`DROP TRIGGER record_stays`, `UPDATE record SET at = '1 March'`},
		},
		{
			"index that misses rows", "SQLite: ",
			[]string{
				`PRAGMA writable_schema = ON`,
				`CREATE TABLE empty (a INTEGER, b INTEGER)`, `CREATE INDEX empty_index ON empty (a, b)`,
				`UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'empty_index')
				 WHERE name = 'corrections_by_date'`,
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := fullFile(t)
			rawExec(t, path, c.statements...)
			r, err := openAt(t, path).Check(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if !slices.ContainsFunc(r.Problems, func(p string) bool { return strings.Contains(p, c.says) }) {
				t.Errorf("the problems are %q, want one that says %q", r.Problems, c.says)
			}
		})
	}
}

// fullFile is the path of a closed data file with a row in every table.
func fullFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "data.db")
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	fillStore(t, s, "ann")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// A page in the middle of the file that no longer makes sense is a finding of
// Check, and a fault to whoever reads it.
func TestDamagedPage(t *testing.T) {
	path := fullFile(t)
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	importDays(t, s, map[string][]athlete.Day{"ann": inventedDays(3000, 1)})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	const page = 4096
	spoil(t, path, int(info.Size())/page/2*page, page)
	s = openAt(t, path)
	r, err := s.Check(t.Context())
	if err != nil || len(r.Problems) == 0 {
		t.Errorf("the report is %+v (%v)", r, err)
	}
	err = s.Read(t.Context(), func(tx app.Tx) error {
		_, err := tx.Days("ann", 1, 1<<30)
		return err
	})
	if e, ok := errors.AsType[*fault.Error](err); !ok || e.Kind != fault.Invalid || !strings.Contains(e.Message, "damaged") {
		t.Errorf("reading a damaged page gave %v", err)
	}
}
