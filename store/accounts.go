package store

import (
	"context"
	"database/sql"
	"errors"

	"glidepath/account"
	"glidepath/app"
	"glidepath/fault"
)

// desk is the Store as an account.Store.
type desk struct{ s *Store }

// Accounts gives the accounts in the same data file, and in the same transactions.
func (s *Store) Accounts() account.Store { return desk{s} }

func (d desk) Read(ctx context.Context, fn func(account.Tx) error) error {
	return d.s.Read(ctx, func(t app.Tx) error { return fn(t.(*tx)) })
}

func (d desk) Write(ctx context.Context, fn func(account.Tx) error) error {
	return d.s.Write(ctx, func(t app.Tx) error {
		own := t.(*tx)
		own.ofDesk = true
		return fn(own)
	})
}

var _ account.Tx = (*tx)(nil)

const selectAccounts = `
	SELECT a.key, a.id, a.login, a.name, a.role, coalesce(t.id, ''), a.disabled, a.made_at, a.password
	FROM accounts a LEFT JOIN athletes t ON t.key = a.athlete `

// accountRow is an account with the key of its row.
type accountRow struct {
	key int64
	account.Account
	madeAt string
}

func (r *accountRow) columns() []any {
	return []any{&r.key, &r.ID, &r.Login, &r.Name, &r.Role, &r.AthleteID, &r.Disabled, &r.madeAt, &r.Password}
}

// Accounts lists every account by login.
func (t *tx) Accounts() ([]account.Account, error) {
	rows, err := list(t, selectAccounts+`ORDER BY a.login`, nil,
		func(rows *sql.Rows, r *accountRow) error { return rows.Scan(r.columns()...) })
	if err != nil {
		return nil, err
	}
	out := make([]account.Account, len(rows))
	for i := range rows {
		a, err := t.whole(&rows[i])
		if err != nil {
			return nil, err
		}
		out[i] = *a
	}
	return out, nil
}

// Account gives an account by its ID.
func (t *tx) Account(id string) (*account.Account, error) { return t.accountBy("a.id", id) }

// AccountByLogin gives an account by its login.
func (t *tx) AccountByLogin(login string) (*account.Account, error) {
	return t.accountBy("a.login", login)
}

func (t *tx) accountBy(column, value string) (*account.Account, error) {
	var r accountRow
	err := t.one(selectAccounts+`WHERE `+column+` = ?`, []any{value}, r.columns())
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fault.New(fault.NotFound, "there is no account %q.", value)
	}
	if err != nil {
		return nil, err
	}
	return t.whole(&r)
}

// whole adds what other tables have of an account.
func (t *tx) whole(r *accountRow) (*account.Account, error) {
	if err := parseMoment(r.madeAt, &r.MadeAt); err != nil {
		return nil, err
	}
	var err error
	r.Athletes, err = list(t, `
		SELECT t.id FROM account_athletes a JOIN athletes t ON t.key = a.athlete
		WHERE a.account = ? ORDER BY t.id`, []any{r.key}, scanText)
	return &r.Account, err
}

// accountKey is the key of an account's row.
func (t *tx) accountKey(id string) (key int64, err error) {
	err = t.one(`SELECT key FROM accounts WHERE id = ?`, []any{id}, []any{&key})
	if errors.Is(err, sql.ErrNoRows) {
		return 0, fault.New(fault.NotFound, "there is no account %q.", id)
	}
	return key, err
}

// PutAccount stores a new or changed account.
func (t *tx) PutAccount(a *account.Account) error {
	if err := a.Validate(); err != nil {
		return err
	}
	var athlete any
	if a.AthleteID != "" {
		key, err := t.key(a.AthleteID)
		if err != nil {
			return err
		}
		athlete = key
	}
	if err := t.unique(a, athlete); err != nil {
		return err
	}
	err := t.exec(`
		INSERT INTO accounts (id, login, name, role, athlete, password, disabled, made_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET login = excluded.login, name = excluded.name, role = excluded.role,
			athlete = excluded.athlete, password = excluded.password, disabled = excluded.disabled`,
		a.ID, a.Login, a.Name, string(a.Role), athlete, a.Password, a.Disabled, moment(a.MadeAt))
	if err != nil {
		return err
	}
	key, err := t.accountKey(a.ID)
	if err != nil {
		return err
	}
	if err := t.exec(`DELETE FROM account_athletes WHERE account = ?`, key); err != nil {
		return err
	}
	for _, id := range a.Athletes {
		athlete, err := t.key(id)
		if err != nil {
			return err
		}
		if err := t.exec(`INSERT INTO account_athletes (account, athlete) VALUES (?, ?)`, key, athlete); err != nil {
			return err
		}
	}
	return nil
}

// unique is a Conflict where another account has the login or the athlete.
func (t *tx) unique(a *account.Account, athlete any) error {
	var logins, athletes int
	err := t.one(`
		SELECT count(*) FILTER (WHERE login = ?2), count(*) FILTER (WHERE athlete = ?3)
		FROM accounts WHERE id <> ?1`, []any{a.ID, a.Login, athlete}, []any{&logins, &athletes})
	switch {
	case err != nil:
		return err
	case logins > 0:
		return fault.New(fault.Conflict, "the login %q is taken.", a.Login).WithField("login").WithHint("Choose another.")
	case athletes > 0:
		return fault.New(fault.Conflict, "the athlete %q has an account already.", a.AthleteID).WithField("athlete_id")
	}
	return nil
}

// OpenSession stores a new session.
func (t *tx) OpenSession(s *account.Session) error {
	key, err := t.accountKey(s.AccountID)
	if err != nil {
		return err
	}
	return t.exec(`
		INSERT INTO account_sessions (hash, account, made_at, seen_at, expires_at, address)
		VALUES (?, ?, ?, ?, ?, ?)`,
		s.Hash, key, moment(s.MadeAt), moment(s.SeenAt), sortable(s.ExpiresAt), s.Address)
}

const selectSessions = `
	SELECT s.hash, a.id, s.made_at, s.seen_at, s.expires_at, s.address
	FROM account_sessions s JOIN accounts a ON a.key = s.account `

func scanAccountSession(rows *sql.Rows, s *account.Session) error {
	var made, seen, expires string
	if err := rows.Scan(&s.Hash, &s.AccountID, &made, &seen, &expires, &s.Address); err != nil {
		return err
	}
	return errors.Join(parseMoment(made, &s.MadeAt), parseMoment(seen, &s.SeenAt), parseMoment(expires, &s.ExpiresAt))
}

// SessionBy gives the session with the hash of a secret.
func (t *tx) SessionBy(hash []byte) (*account.Session, error) {
	return only(t, "session", selectSessions+`WHERE s.hash = ?`, hash, scanAccountSession)
}

// AccountSessions lists the sessions of an account, the latest first.
func (t *tx) AccountSessions(accountID string) ([]account.Session, error) {
	return list(t, selectSessions+`WHERE a.id = ? ORDER BY s.expires_at DESC, s.hash`, []any{accountID}, scanAccountSession)
}

// only is the one row of a query; NotFound where there is none.
func only[T any](t *tx, noun, query string, by any, scan func(*sql.Rows, *T) error) (*T, error) {
	all, err := list(t, query, []any{by}, scan)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, fault.New(fault.NotFound, "there is no such %s.", noun)
	}
	return &all[0], nil
}
