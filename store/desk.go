package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/fault"
)

// sortable is a moment that compares as text: always nine decimals.
func sortable(at time.Time) string { return at.UTC().Format("2006-01-02T15:04:05.000000000Z") }

// TouchSession notes that a session was used.
func (t *tx) TouchSession(hash []byte, seen time.Time) error {
	return t.exec(`UPDATE account_sessions SET seen_at = ? WHERE hash = ?`, moment(seen), hash)
}

// EndSession removes a session, if it is there.
func (t *tx) EndSession(hash []byte) error {
	return t.exec(`DELETE FROM account_sessions WHERE hash = ?`, hash)
}

// EndSessions removes every session of an account.
func (t *tx) EndSessions(accountID string) error {
	return t.exec(`DELETE FROM account_sessions WHERE account = (SELECT key FROM accounts WHERE id = ?)`, accountID)
}

// DropSessions removes the sessions that expired before a moment.
func (t *tx) DropSessions(before time.Time) error {
	return t.exec(`DELETE FROM account_sessions WHERE expires_at < ?`, sortable(before))
}

const selectTokens = `
	SELECT t.id, a.id, t.name, t.scopes, t.hash, t.made_at, t.expires_at, t.used_at, t.revoked_at
	FROM tokens t JOIN accounts a ON a.key = t.account `

func scanToken(rows *sql.Rows, v *account.Token) error {
	var scopes, made, expires string
	var used, revoked sql.Null[string]
	if err := rows.Scan(&v.ID, &v.AccountID, &v.Name, &scopes, &v.Hash, &made, &expires, &used, &revoked); err != nil {
		return err
	}
	for s := range strings.SplitSeq(scopes, ",") {
		v.Scopes = append(v.Scopes, account.Scope(s))
	}
	return errors.Join(parseMoment(made, &v.MadeAt), parseMoment(expires, &v.ExpiresAt),
		parseOptional(used, &v.UsedAt), parseOptional(revoked, &v.RevokedAt))
}

func parseOptional(s sql.Null[string], at *time.Time) error {
	if !s.Valid {
		return nil
	}
	return parseMoment(s.V, at)
}

func optionalMoment(at time.Time) any {
	if at.IsZero() {
		return nil
	}
	return moment(at)
}

// Tokens lists the tokens of an account, or of all.
func (t *tx) Tokens(accountID string) ([]account.Token, error) {
	return list(t, selectTokens+`WHERE ?1 IN (a.id, '') ORDER BY t.made_at, t.id`, []any{accountID}, scanToken)
}

// Token gives a token by its ID.
func (t *tx) Token(id string) (*account.Token, error) {
	return only(t, "token", selectTokens+`WHERE t.id = ?`, id, scanToken)
}

// PutToken stores a new token, or what became of one.
func (t *tx) PutToken(v *account.Token) error {
	key, err := t.accountKey(v.AccountID)
	if err != nil {
		return err
	}
	return t.exec(`
		INSERT INTO tokens (id, account, name, scopes, hash, made_at, expires_at, used_at, revoked_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET used_at = excluded.used_at, revoked_at = excluded.revoked_at`,
		v.ID, key, v.Name, v.Scopes.String(), v.Hash, moment(v.MadeAt), moment(v.ExpiresAt),
		optionalMoment(v.UsedAt), optionalMoment(v.RevokedAt))
}

const selectInvitations = `
	SELECT i.id, a.id, i.hash, i.made_by, i.made_at, i.expires_at, i.used_at, i.revoked_at
	FROM invitations i JOIN athletes a ON a.key = i.athlete `

func scanInvitation(rows *sql.Rows, v *account.Invitation) error {
	var made, expires string
	var used, revoked sql.Null[string]
	if err := rows.Scan(&v.ID, &v.AthleteID, &v.Hash, &v.By, &made, &expires, &used, &revoked); err != nil {
		return err
	}
	return errors.Join(parseMoment(made, &v.MadeAt), parseMoment(expires, &v.ExpiresAt),
		parseOptional(used, &v.UsedAt), parseOptional(revoked, &v.RevokedAt))
}

// Invitations lists the invitations of an athlete by when they were made.
func (t *tx) Invitations(athleteID string) ([]account.Invitation, error) {
	if _, err := t.key(athleteID); err != nil {
		return nil, err
	}
	return list(t, selectInvitations+`WHERE a.id = ? ORDER BY i.made_at, i.id`, []any{athleteID}, scanInvitation)
}

// InvitationBy gives the invitation with the hash of a secret.
func (t *tx) InvitationBy(hash []byte) (*account.Invitation, error) {
	return only(t, "invitation", selectInvitations+`WHERE i.hash = ?`, hash, scanInvitation)
}

// PutInvitation stores a new invitation, or what became of one.
func (t *tx) PutInvitation(v *account.Invitation) error {
	key, err := t.key(v.AthleteID)
	if err != nil {
		return err
	}
	return t.exec(`
		INSERT INTO invitations (id, athlete, hash, made_by, made_at, expires_at, used_at, revoked_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET used_at = excluded.used_at, revoked_at = excluded.revoked_at`,
		v.ID, key, v.Hash, v.By, moment(v.MadeAt), moment(v.ExpiresAt), optionalMoment(v.UsedAt), optionalMoment(v.RevokedAt))
}

// AddEntry adds a line to the record. An athlete or account that is not there
// (any more) is left out of it.
func (t *tx) AddEntry(e *account.Entry) error {
	return t.exec(`
		INSERT INTO record (at, account, who, via, address, action, athlete, what)
		VALUES (?, (SELECT key FROM accounts WHERE id = ?), ?, ?, ?, ?, (SELECT key FROM athletes WHERE id = ?), ?)`,
		sortable(e.At), e.AccountID, e.Who, e.Via, e.Address, string(e.Action), e.AthleteID, e.What)
}

// Entries reads the record in order of time.
func (t *tx) Entries(q account.Query) ([]account.Entry, error) {
	from, to := "", "9999-12-32"
	if !q.From.IsZero() {
		from = sortable(q.From)
	}
	if !q.To.IsZero() {
		to = sortable(q.To)
	}
	order, limit := `DESC`, q.Limit
	if limit <= 0 {
		order, limit = `ASC`, q.First
	}
	if limit <= 0 {
		limit = -1
	}
	return list(t, `
		SELECT at, account, who, via, address, action, athlete, what FROM (
			SELECT r.entry, r.at, coalesce(a.id, '') AS account, r.who, r.via, r.address, r.action,
				coalesce(t.id, '') AS athlete, r.what
			FROM record r LEFT JOIN accounts a ON a.key = r.account LEFT JOIN athletes t ON t.key = r.athlete
			WHERE r.at >= ?1 AND r.at < ?2 AND (?3 = '' OR t.id = ?3) AND (?4 = '' OR a.id = ?4)
			ORDER BY r.at `+order+`, r.entry `+order+` LIMIT ?5
		) ORDER BY at, entry`, []any{from, to, q.AthleteID, q.AccountID, limit},
		func(rows *sql.Rows, e *account.Entry) error {
			var at string
			var action string
			if err := rows.Scan(&at, &e.AccountID, &e.Who, &e.Via, &e.Address, &action, &e.AthleteID, &e.What); err != nil {
				return err
			}
			e.Action = access.Action(action)
			return parseMoment(at, &e.At)
		})
}

// Answer gives the kept answer under a client's key.
func (t *tx) Answer(accountID, key string) (*account.Answer, error) {
	v := account.Answer{AccountID: accountID, Key: key}
	var at string
	var header []byte
	err := t.one(`
		SELECT w.request, coalesce(t.id, ''), w.at, w.status, w.header, w.body
		FROM answers w JOIN accounts a ON a.key = w.account LEFT JOIN athletes t ON t.key = w.athlete
		WHERE a.id = ? AND w.name = ?`, []any{accountID, key},
		[]any{&v.Request, &v.AthleteID, &at, &v.Status, &header, &v.Body})
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fault.New(fault.NotFound, "there is no such answer.")
	}
	if err != nil {
		return nil, err
	}
	return &v, errors.Join(parseMoment(at, &v.At), json.Unmarshal(header, &v.Header))
}

// PutAnswer keeps an answer in the place of the one under the same key.
func (t *tx) PutAnswer(v *account.Answer) error {
	key, err := t.accountKey(v.AccountID)
	if err != nil {
		return err
	}
	header, err := encode(v.Header)
	if err != nil {
		return err
	}
	body := v.Body
	if body == nil {
		body = []byte{}
	}
	return t.exec(`
		REPLACE INTO answers (account, name, request, athlete, at, status, header, body)
		VALUES (?, ?, ?, (SELECT key FROM athletes WHERE id = ?), ?, ?, ?, ?)`,
		key, v.Key, v.Request, v.AthleteID, sortable(v.At), v.Status, header, body)
}

// DropAnswer removes the answer under a client's key, if it is there.
func (t *tx) DropAnswer(accountID, key string) error {
	return t.exec(`DELETE FROM answers WHERE name = ? AND account = (SELECT key FROM accounts WHERE id = ?)`, key, accountID)
}

// DropAnswers removes the answers from before a moment.
func (t *tx) DropAnswers(before time.Time) error {
	return t.exec(`DELETE FROM answers WHERE at < ?`, sortable(before))
}
