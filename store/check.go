package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"slices"

	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Report is what Check found.
type Report struct {
	Path          string   `json:"path,omitempty"`
	SchemaVersion int64    `json:"schema_version"`
	SizeBytes     int64    `json:"size_bytes,omitempty"` // the file with its log
	Athletes      int      `json:"athletes"`
	Days          int      `json:"days"`
	Problems      []string `json:"problems,omitempty"` // one sentence each; none is good
}

func (r *Report) add(format string, args ...any) {
	r.Problems = append(r.Problems, fmt.Sprintf(format, args...))
}

// Check reads everything that is stored: SQLite's own check of the file, the
// references from row to row, versions without a gap, corrections and reviews
// without what they are about, and every value against the domain's rules.
// What it finds is in the Report; the error is for a check that could not be
// made.
func (s *Store) Check(ctx context.Context) (*Report, error) {
	r := &Report{Path: s.path, SizeBytes: s.size()}
	err := s.Read(ctx, func(open app.Tx) error {
		t := open.(*tx)
		for _, step := range []func(*Report) error{t.checkFile, t.checkReferences, t.checkValues, t.checkAccounts} {
			if err := step(r); err != nil {
				return err
			}
		}
		return nil
	})
	// A damaged page ends the reading: that is a finding, not a failure.
	if e, ok := errors.AsType[*sqlite.Error](err); ok && e.Code()&0xff == sqlite3.SQLITE_CORRUPT {
		r.add("The file is damaged: %v.", e)
		err = nil
	}
	return r, err
}

func (t *tx) checkFile(r *Report) (err error) {
	if r.SchemaVersion, err = schemaVersion(t.ctx, t.sql); err != nil {
		return err
	}
	lines, err := list(t, `PRAGMA integrity_check`, nil, scanText)
	if err != nil || slices.Equal(lines, []string{"ok"}) {
		return err
	}
	for _, line := range lines {
		r.add("SQLite: %s.", line)
	}
	return nil
}

// checkReferences looks for rows without what they are about. Foreign keys are
// enforced, so that the first kind can only come from a write past this program.
func (t *tx) checkReferences(r *Report) error {
	orphans, err := list(t, `
		SELECT "table" || ' refers to a row of ' || parent || ' that is not there (' || count(*) || ' times)'
		FROM pragma_foreign_key_check GROUP BY "table", parent ORDER BY 1`, nil, scanText)
	if err != nil {
		return err
	}
	for _, o := range orphans {
		r.add("A row of %s.", o)
	}
	gaps, err := list(t, `
		SELECT 'prescriptions of ' || a.id FROM prescriptions v JOIN athletes a ON a.key = v.athlete
		GROUP BY a.id HAVING count(*) <> max(version)
		UNION ALL
		SELECT 'programmes of ' || a.id FROM programmes v JOIN athletes a ON a.key = v.athlete
		GROUP BY a.id HAVING count(*) <> max(version)
		UNION ALL
		SELECT 'older profiles of ' || a.id FROM athlete_versions v JOIN athletes a ON a.key = v.athlete
		GROUP BY a.id HAVING count(*) <> max(version)
		ORDER BY 1`, nil, scanText)
	if err != nil {
		return err
	}
	for _, g := range gaps {
		r.add("The versions of the %s have a gap.", g)
	}
	lost, err := list(t, `
		SELECT a.id || ' on ' || date(c.date + 1721424.5) FROM corrections c JOIN athletes a ON a.key = c.athlete
		WHERE NOT EXISTS (SELECT 1 FROM days         d WHERE d.athlete = c.athlete AND d.date = c.date)
		  AND NOT EXISTS (SELECT 1 FROM measurements m WHERE m.athlete = c.athlete AND m.date = c.date)
		  AND NOT EXISTS (SELECT 1 FROM sets         s WHERE s.athlete = c.athlete AND s.date = c.date)
		  AND NOT EXISTS (SELECT 1 FROM sessions     e WHERE e.athlete = c.athlete AND e.date = c.date)
		  AND NOT EXISTS (SELECT 1 FROM check_ins    k WHERE k.athlete = c.athlete AND k.date = c.date)
		  AND c.new <> '' -- dropped
		ORDER BY c.athlete, c.date`, nil, scanText)
	for _, l := range lost {
		r.add("There is a correction for %s, and no record.", l)
	}
	return err
}

// checkValues reads every record and checks it as it was checked when it came.
func (t *tx) checkValues(r *Report) error {
	ids, err := list(t, `SELECT id FROM athletes ORDER BY id`, nil, scanText)
	if err != nil {
		return err
	}
	r.Athletes = len(ids)
	for _, id := range ids {
		if err := t.checkAthlete(r, id); err != nil {
			return err
		}
	}
	return nil
}

// checkAccounts reads the accounts and what belongs to them.
func (t *tx) checkAccounts(r *Report) error {
	accounts, err := t.Accounts()
	var passkeys error
	for i := range accounts {
		a := &accounts[i]
		note(r, a.Login, "account", a.Validate())
		keys, err := t.Passkeys(a.ID)
		for k := range keys {
			note(r, a.Login, "passkey "+keys[k].ID, keys[k].Validate())
		}
		passkeys = errors.Join(passkeys, err)
	}
	_, tokens := t.Tokens("")
	_, entries := t.Entries(account.Query{})
	return errors.Join(
		unreadable(r, "the desk", "account", err),
		unreadable(r, "the desk", "passkey", passkeys),
		unreadable(r, "the desk", "token", tokens),
		unreadable(r, "the desk", "record", entries))
}

func (t *tx) checkAthlete(r *Report, id string) error {
	const from, to = civil.Date(math.MinInt32), civil.Date(math.MaxInt32)
	a, err := t.Athlete(id)
	if err != nil {
		return unreadable(r, id, "profile", err)
	}
	note(r, id, "profile", a.Validate())
	days, err := t.Days(id, from, to)
	r.Days += len(days)
	err = checkEach(r, id, "day", days, err, func(d *athlete.Day) (civil.Date, error) {
		return d.Date, d.Validate()
	})
	if err != nil {
		return err
	}
	ms, err := t.Measurements(id, to)
	err = checkEach(r, id, "measurement", ms, err, func(m *athlete.Measurement) (civil.Date, error) {
		return m.Date, m.Validate()
	})
	if err != nil {
		return err
	}
	sets, err := t.Sets(id, from, to)
	err = checkEach(r, id, "set", sets, err, func(s *athlete.Set) (civil.Date, error) {
		return s.Date, s.Validate()
	})
	if err != nil {
		return err
	}
	ps, err := t.Prescriptions(id, to)
	err = checkEach(r, id, "prescription", ps, err, func(p *athlete.Prescription) (civil.Date, error) {
		return p.From, p.Validate()
	})
	if err != nil {
		return err
	}
	gs, err := t.Programmes(id, to)
	err = checkEach(r, id, "programme", gs, err, func(p *athlete.Programme) (civil.Date, error) {
		return p.From, p.Validate()
	})
	if err != nil {
		return err
	}
	cs, err := t.CheckIns(id, to)
	err = checkEach(r, id, "check-in", cs, err, func(c *athlete.CheckIn) (civil.Date, error) {
		return c.Date, c.Validate()
	})
	if err != nil {
		return err
	}
	notes, err := t.Notes(id, to)
	err = checkEach(r, id, "note", notes, err, func(n *athlete.Note) (civil.Date, error) {
		return n.Date, n.Validate()
	})
	if err != nil {
		return err
	}
	photos, err := t.Photos(id, to)
	err = checkEach(r, id, "photo", photos, err, func(p *athlete.Photo) (civil.Date, error) {
		return p.Date, p.Validate()
	})
	if err != nil {
		return err
	}
	return t.checkDecodes(r, id)
}

// checkDecodes reads the records that have no rules beyond the table's own.
func (t *tx) checkDecodes(r *Report, id string) error {
	const from, to = civil.Date(math.MinInt32), civil.Date(math.MaxInt32)
	_, sessions := t.Sessions(id, from, to)
	_, reviews := t.Reviews(id, to)
	_, versions := t.AthleteVersions(id)
	_, corrections := t.Corrections(id)
	return errors.Join(
		unreadable(r, id, "session", sessions),
		unreadable(r, id, "review", reviews),
		unreadable(r, id, "older profile", versions),
		unreadable(r, id, "correction", corrections))
}

func checkEach[V any](r *Report, id, what string, records []V, err error, check func(*V) (civil.Date, error)) error {
	for i := range records {
		date, fault := check(&records[i])
		note(r, id, what+" of "+date.String(), fault)
	}
	return unreadable(r, id, what, err)
}

// note adds each fault of a record.
func note(r *Report, id, what string, err error) {
	for _, f := range fault.All(err) {
		r.add("%s, %s: %v", id, what, f)
	}
}

// unreadable notes records that do not decode, which is a finding; what the
// database itself says is an error.
func unreadable(r *Report, id, what string, err error) error {
	if _, ok := errors.AsType[*sqlite.Error](err); ok || err == nil || errors.Is(err, sql.ErrTxDone) {
		return err
	}
	r.add("%s, %s: cannot be read: %v.", id, what, err)
	return nil
}

func scanText(rows *sql.Rows, s *string) error { return rows.Scan(s) }
