package store

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// Prescriptions, corrections and older profiles cannot be changed even by SQL
// that goes past the Tx.
func TestAppendOnlyTables(t *testing.T) {
	s := fullStore(t)
	for _, statement := range []string{
		`UPDATE prescriptions SET version = 9`,
		`DELETE FROM prescriptions`,
		`UPDATE corrections SET old = ''`,
		`DELETE FROM corrections`,
		`UPDATE programmes SET version = 9`,
		`DELETE FROM programmes`,
		`UPDATE athlete_versions SET profile = '{}'`,
		`DELETE FROM athlete_versions`,
		`UPDATE record SET what = ''`,
		`UPDATE record SET who = 'Ben'`,
		`UPDATE record SET at = ''`,
		`DELETE FROM record`,
	} {
		if _, err := s.writer.ExecContext(t.Context(), statement); err == nil || !strings.Contains(err.Error(), "append-only") {
			t.Errorf("%s: %v", statement, err)
		}
	}
}

// fullStore has an athlete with a row in every table.
func fullStore(t *testing.T) *Store {
	t.Helper()
	s := openNew(t)
	fillStore(t, s, "ann")
	return s
}

func fillStore(t *testing.T, s *Store, id string) {
	t.Helper()
	on := civil.MustParse("2026-03-02")
	renamed := inventedAthlete(id)
	renamed.Name = "Zebulon Marker"
	p := &athlete.Prescription{
		From: on, Days: []athlete.DayPrescribed{{Type: athlete.RestDay, PerWeek: 7, EnergyKcal: 2000}},
		Author: "Zebulon Marker", Reasons: []string{"Zebulon Marker"},
	}
	from := app.Source{Name: "Zebulon Marker", Who: "Zebulon Marker"}
	put(t, s, inventedAthlete(id), renamed, inventedAthlete(id))
	err := s.Write(t.Context(), func(tx app.Tx) error {
		day := func(notes string) []athlete.Day { return []athlete.Day{{Date: on, Notes: notes}} }
		_, err1 := tx.PutDays(id, day("Zebulon Marker, before"), from)
		_, err2 := tx.PutDays(id, day("Zebulon Marker, after"), from)
		_, err3 := tx.PutMeasurements(id, []athlete.Measurement{
			{Date: on, Method: athlete.Eye, By: "Zebulon Marker", BodyFatPct: new(12.0), Note: "Zebulon Marker"},
		}, from)
		_, err4 := tx.PutSets(id, []athlete.Set{
			{Date: on, Exercise: "squat", WeightKg: 100, Reps: 5, Order: 1, Notes: "Zebulon Marker"},
		}, from)
		_, err5 := tx.PutSessions(id, []athlete.Session{{Date: on, Minutes: 60, RPE: 7}}, from)
		_, err6 := tx.PutCheckIns(id, []athlete.CheckIn{{Date: on, Words: "Zebulon Marker", Who: "Zebulon Marker"}}, from)
		err7 := tx.PutPhoto(id, &athlete.Photo{Date: on, Pose: athlete.FromFront, Width: 3, Height: 4}, []byte("Zebulon Marker"))
		err8 := tx.AddNote(id, &athlete.Note{Date: on, Text: "Zebulon Marker", Who: "Zebulon Marker"})
		return errors.Join(err1, err2, err3, err4, err5, err6, err7, err8, tx.AddPrescription(id, p),
			tx.AddProgramme(id, &athlete.Programme{From: on, Name: "Zebulon Marker", Weeks: []athlete.ProgrammeWeek{{}}}),
			tx.PutExercise(&athlete.Exercise{
				Name: "carry", Pattern: athlete.Hinge, Equipment: athlete.Dumbbell, Stability: athlete.FreeStanding,
				Muscles: []athlete.Share{{Muscle: athlete.Back, Share: 1}},
			}),
			tx.PutExerciseName(athlete.ExerciseName{Typed: "carries", Exercise: "carry"}),
			tx.PutSetting("fatigue", []byte(`{}`)),
			tx.PutReview(id, &app.Review{Date: on, Reason: "Zebulon Marker", Decision: app.Accepted, Version: 1}))
	})
	if err != nil {
		t.Fatal(err)
	}
	fillDesk(t, s, id)
}

// fillDesk adds an account of the athlete, one of a coach, and what belongs to
// them.
func fillDesk(t *testing.T, s *Store, id string) {
	t.Helper()
	at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	err := s.Accounts().Write(t.Context(), func(tx account.Tx) error {
		own := account.Account{ID: "own-" + id, Login: id, Name: "Zebulon Marker", Role: access.Athlete, AthleteID: id, MadeAt: at}
		coach := account.Account{ID: "coach-" + id, Login: "coach-" + id, Name: "Wren", Role: access.Coach, Athletes: []string{id}, MadeAt: at}
		return errors.Join(tx.PutAccount(&own), tx.PutAccount(&coach),
			tx.OpenSession(&account.Session{Hash: []byte(id), AccountID: own.ID, Address: "Zebulon Marker"}),
			tx.PutPasskey(&account.Passkey{ID: id, AccountID: own.ID, Name: "Zebulon Marker", Host: "localhost", Credential: []byte(id), PublicKey: []byte("Zebulon Marker")}),
			tx.PutToken(&account.Token{ID: id, AccountID: own.ID, Name: "Zebulon Marker", Hash: []byte(id)}),
			tx.PutInvitation(&account.Invitation{ID: id, AthleteID: id, Hash: []byte(id), By: "Wren"}),
			tx.AddEntry(&account.Entry{At: at, AccountID: own.ID, Who: "Zebulon Marker", Address: "Zebulon Marker", AthleteID: id, What: "read the log"}),
			tx.PutAnswer(&account.Answer{AccountID: coach.ID, Key: id, Request: []byte(id), AthleteID: id, At: at, Body: []byte("Zebulon Marker")}))
	})
	if err != nil {
		t.Fatal(err)
	}
}

// After a removal no byte of the athlete is left in the file or its log.
func TestRemovalLeavesNoTrace(t *testing.T) {
	s := fullStore(t)
	fillStore(t, s, "ben") // first rows of pages that stay
	traces := func() (n int) {
		for _, suffix := range companions {
			b, err := os.ReadFile(s.Path() + suffix)
			if err != nil {
				t.Fatal(err)
			}
			n += bytes.Count(b, []byte("Zebulon Marker"))
		}
		return n
	}
	if n := traces(); n < 10 {
		t.Fatalf("only %d traces before the removal: the test proves nothing", n)
	}
	remove := func(id string) {
		if err := s.Write(t.Context(), func(tx app.Tx) error { return tx.RemoveAthlete(id) }); err != nil {
			t.Fatal(err)
		}
	}
	remove("ann")
	remove("ben")
	if n := traces(); n != 0 {
		t.Errorf("%d traces are left", n)
	}
	for table, n := range rowCounts(t, s) {
		switch table {
		case "accounts": // the two coaches'
			if n != 2 {
				t.Errorf("%d accounts are left, not the coaches' two", n)
			}
		case "record":
		default:
			if n != 0 {
				t.Errorf("%s has %d rows left", table, n)
			}
		}
	}
	err := s.Accounts().Read(t.Context(), func(tx account.Tx) error {
		entries, err := tx.Entries(account.Query{})
		for _, e := range entries {
			if e.Who != "erased" || e.AthleteID+e.AccountID+e.Address != "" || e.What != "read the log" {
				t.Errorf("the record still has %+v", e)
			}
		}
		if len(entries) != 2 {
			t.Errorf("the record has %d lines, not 2", len(entries))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A reader that still looks at the athlete puts the scrubbing off to the next
// write.
func TestRemovalBesideAReader(t *testing.T) {
	s := fullStore(t)
	if _, err := s.writer.ExecContext(t.Context(), `PRAGMA busy_timeout = 1`); err != nil {
		t.Fatal(err)
	}
	err := s.Read(t.Context(), func(tx app.Tx) error {
		if _, err := tx.Athlete("ann"); err != nil {
			return err
		}
		if err := s.Write(t.Context(), func(tx app.Tx) error { return tx.RemoveAthlete("ann") }); err != nil {
			return err
		}
		_, err := tx.Athlete("ann") // its snapshot is from before
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	put(t, s, inventedAthlete("ben"))
	log, err := os.ReadFile(s.Path() + "-wal")
	if err != nil || len(log) != 0 {
		t.Errorf("the log has %d bytes (%v) after the next write, want none", len(log), err)
	}
}

// rowCounts is the number of rows in every table with an athlete's or an account's
// key, told by the schema itself, so that a table added later is counted too.
func rowCounts(t *testing.T, s *Store) map[string]int {
	t.Helper()
	counts := map[string]int{}
	rows, err := s.reader.QueryContext(t.Context(), `
		SELECT DISTINCT m.name FROM sqlite_schema m JOIN pragma_table_info(m.name) c ON c.name IN ('athlete', 'account')
		WHERE m.type = 'table'`)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var table string
		if err := rows.Scan(&table); err != nil {
			t.Fatal(err)
		}
		counts[table] = -1
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	for table := range counts {
		var n int
		if err := s.reader.QueryRowContext(t.Context(), `SELECT count(*) FROM `+table).Scan(&n); err != nil {
			t.Fatal(err)
		}
		counts[table] = n
	}
	if len(counts) < 8 {
		t.Fatalf("found only the tables %v", counts)
	}
	return counts
}
