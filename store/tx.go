package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"time"

	"glidepath/app"
	"glidepath/fault"
)

// tx is an app.Tx. Statements are prepared once a transaction, so that a roster
// of a thousand athletes costs the parsing of one.
type tx struct {
	ctx        context.Context
	sql        *sql.Tx
	write      bool
	now        time.Time // the same throughout the transaction
	statements map[string]*sql.Stmt
	keys       map[string]int64 // athlete's ID to the key of their rows
	changed    bool             // something was written
	ofDesk     bool             // by the accounts, whose changes are not counted
	removed    bool
}

var _ app.Tx = (*tx)(nil)

// newTx wraps a transaction. Its statements run without the context's
// cancellation, for which the driver would start a goroutine each: the
// transaction itself ends with the context, and each statement is short.
func newTx(ctx context.Context, sqlTx *sql.Tx, write bool) *tx {
	return &tx{
		ctx: context.WithoutCancel(ctx), sql: sqlTx, write: write, now: time.Now(),
		statements: map[string]*sql.Stmt{}, keys: map[string]int64{},
	}
}

// prepare gives the statement for a query, for as long as the transaction
// lasts: database/sql closes it with the transaction.
func (t *tx) prepare(query string) (*sql.Stmt, error) {
	if s, ok := t.statements[query]; ok {
		return s, nil
	}
	s, err := t.sql.PrepareContext(t.ctx, query)
	if err != nil {
		return nil, err
	}
	t.statements[query] = s
	return s, nil
}

func (t *tx) exec(query string, args ...any) error {
	if !t.write {
		return errReadOnly
	}
	t.changed = true
	s, err := t.prepare(query) //nolint:sqlclosecheck // closed with the transaction
	if err != nil {
		return err
	}
	_, err = s.ExecContext(t.ctx, args...)
	return err
}

// one scans the only row of a query; sql.ErrNoRows where there is none.
func (t *tx) one(query string, args, dest []any) error {
	s, err := t.prepare(query) //nolint:sqlclosecheck // closed with the transaction
	if err != nil {
		return err
	}
	return s.QueryRowContext(t.ctx, args...).Scan(dest...)
}

// list scans every row of a query with scan.
func list[T any](t *tx, query string, args []any, scan func(*sql.Rows, *T) error) (all []T, err error) {
	s, err := t.prepare(query) //nolint:sqlclosecheck // closed with the transaction
	if err != nil {
		return nil, err
	}
	rows, err := s.QueryContext(t.ctx, args...)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		var v T
		if err := scan(rows, &v); err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, rows.Err()
}

// key is the athlete's key in every table; NotFound where there is no such
// athlete.
func (t *tx) key(id string) (int64, error) {
	if k, ok := t.keys[id]; ok {
		return k, nil
	}
	var k int64
	err := t.one(`SELECT key FROM athletes WHERE id = ?`, []any{id}, []any{&k})
	if errors.Is(err, sql.ErrNoRows) {
		return 0, fault.New(fault.NotFound, "there is no athlete %q.", id)
	}
	if err != nil {
		return 0, err
	}
	t.keys[id] = k
	return k, nil
}

// encode is the JSON of v as it is stored: compact, and readable where a
// person may look at it.
func encode(v any) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		if u, ok := errors.AsType[*json.UnsupportedValueError](err); ok {
			return "", fault.New(fault.Invalid, "%s is not a number that can be stored.", u.Str)
		}
		return "", err
	}
	return string(bytes.TrimSuffix(b.Bytes(), []byte("\n"))), nil
}

// moment is a time as it is stored: RFC 3339 in UTC, to the nanosecond.
func moment(at time.Time) string { return at.UTC().Format(time.RFC3339Nano) }

func parseMoment(s string, at *time.Time) (err error) {
	*at, err = time.Parse(time.RFC3339Nano, s)
	return err
}

// orNull is NULL for a zero value.
func orNull[T comparable](v T) any {
	var zero T
	if v == zero {
		return nil
	}
	return v
}

// pointed is what p points to, NULL for nil.
func pointed[T any](p *T) any {
	if p == nil {
		return nil
	}
	return *p
}
